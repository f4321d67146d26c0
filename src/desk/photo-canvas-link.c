/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include "desk/legible.h"

/* The place in the twin's photograph that shows the same of the piece, and how many px of ours one px there spans. */
static SherdPoint
map_to_twin (SherdPhotoCanvas *self, SherdPoint photo_px, double *scale)
{
  const SherdPhotoCanvas *twin = self->twin;

  if (self->alignment && twin->alignment)
    {
      const SherdPoint piece_mm = sherd_homography_to_piece (self->alignment, photo_px);

      *scale =
        sherd_homography_px_per_mm (self->alignment, piece_mm) / sherd_homography_px_per_mm (twin->alignment, piece_mm);
      return sherd_homography_to_photo (twin->alignment, piece_mm);
    }
  *scale = self->view.photo_width_px / twin->view.photo_width_px;
  return (SherdPoint){ photo_px.x / *scale, photo_px.y * twin->view.photo_height_px / self->view.photo_height_px };
}

static gboolean
can_lead (SherdPhotoCanvas *self)
{
  return self->twin && sherd_photo_canvas_has_photo (self) && sherd_photo_canvas_has_photo (self->twin) &&
         self->view.width_px > 0.0 && self->twin->view.width_px > 0.0;
}

/* Makes the twin show what this canvas shows. */
void
sherd_photo_canvas_lead_twin (SherdPhotoCanvas *self)
{
  SherdPhotoCanvas *twin = self->twin;
  SherdPoint centre_px;
  double scale;

  if (self->following || !can_lead (self))
    return;
  centre_px = map_to_twin (self, self->view.centre_photo_px, &scale);
  twin->following = TRUE;
  sherd_photo_canvas_set_view (twin, self->view.zoom * scale, centre_px);
  twin->following = FALSE;
}

/* Shows in the twin where the pointer is. */
void
sherd_photo_canvas_point_in_twin (SherdPhotoCanvas *self)
{
  double scale;

  if (!can_lead (self))
    return;
  self->twin->twin_pointed = self->pointer_inside;
  if (self->pointer_inside)
    self->twin->twin_photo_px =
      map_to_twin (self, sherd_photo_view_to_photo (&self->view, self->pointer_widget_px), &scale);
  gtk_widget_queue_draw (GTK_WIDGET (self->twin));
}

void
sherd_photo_canvas_draw_twin_pointer (SherdPhotoCanvas *self, GtkSnapshot *snapshot)
{
  const SherdPoint at = sherd_photo_view_to_widget (&self->view, self->twin_photo_px);
  cairo_t *cr;

  if (!self->twin_pointed)
    return;
  cr =
    gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT ((float)at.x - 16.0f, (float)at.y - 16.0f, 32.0f, 32.0f));
  cairo_translate (cr, at.x, at.y);
  for (int quarter = 0; quarter < 4; quarter++)
    {
      cairo_move_to (cr, 3.0, 0.0);
      cairo_line_to (cr, 13.0, 0.0);
      cairo_rotate (cr, G_PI / 2.0);
    }
  sherd_legible_stroke (cr, 1.2);
  cairo_destroy (cr);
}

/**
 * sherd_photo_canvas_set_alignment:
 * @self: the canvas
 * @piece_to_photo: (nullable): where the piece lies in the photograph; copied
 *
 * With this on both of two linked canvases the same place of the piece is in the middle of both, at the same size.
 * Without it they show the same fraction of their photographs.
 */
void
sherd_photo_canvas_set_alignment (SherdPhotoCanvas *self, const SherdHomography *piece_to_photo)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  g_clear_pointer (&self->alignment, g_free);
  if (piece_to_photo)
    self->alignment = g_memdup2 (piece_to_photo, sizeof *piece_to_photo);
  if (self->twin)
    sherd_photo_canvas_lead_twin (self->twin);
}

/**
 * sherd_photo_canvas_link:
 * @self: a canvas
 * @other: another one
 *
 * From now on the two show the same place: @other is brought to where @self is, then each follows the other, and a
 * small cross shows in one where the pointer is in the other. Former links of either end.
 */
void
sherd_photo_canvas_link (SherdPhotoCanvas *self, SherdPhotoCanvas *other)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && SHERD_IS_PHOTO_CANVAS (other) && self != other);
  sherd_photo_canvas_unlink (self);
  sherd_photo_canvas_unlink (other);
  self->twin = other;
  other->twin = self;
  sherd_photo_canvas_lead_twin (self);
}

/**
 * sherd_photo_canvas_unlink:
 * @self: a canvas
 *
 * Ends the link of this canvas, if there is one. A canvas that goes away is unlinked by itself.
 */
void
sherd_photo_canvas_unlink (SherdPhotoCanvas *self)
{
  SherdPhotoCanvas *twin;

  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  twin = g_steal_pointer (&self->twin);
  self->twin_pointed = FALSE;
  if (!twin)
    return;
  twin->twin = NULL;
  twin->twin_pointed = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (twin));
}
