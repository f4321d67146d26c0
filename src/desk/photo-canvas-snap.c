/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <glib/gi18n-lib.h>

#include "photo/corner.h"

/* Our choice: as far as a hand that aims at a corner misses it, and no farther, in widget px; at least some photo px.
 */
#define REACH_WIDGET_PX 10.0
#define LEAST_REACH_PX 4.0

/* Where the picture has a corner near a mark; FALSE when there is none, or the photograph has not been read. */
static gboolean
find_corner (SherdPhotoCanvas *self, SherdPoint near_px, SherdPoint *corner_px)
{
  const double reach_px = MAX (REACH_WIDGET_PX / self->view.zoom, LEAST_REACH_PX);

  return self->pyramid != NULL && sherd_photo_pyramid_has_level (self->pyramid, 0) &&
         sherd_corner_find (sherd_photo_pyramid_get_level (self->pyramid, 0), near_px.x, near_px.y, reach_px,
                            &corner_px->x, &corner_px->y);
}

/* Puts a mark on the corner next to it; the caller tells the owner. */
gboolean
sherd_photo_canvas_snap_mark (SherdPhotoCanvas *self, guint index)
{
  SherdPhotoMark *mark = g_ptr_array_index (self->marks, index);
  SherdPoint photo_px, corner_px;

  if (!sherd_photo_mark_get_place (mark, &photo_px) || !find_corner (self, photo_px, &corner_px))
    return FALSE;
  sherd_photo_mark_place (mark, corner_px);
  return TRUE;
}

/* After a mark was let go: when its kind snaps, and the hand did not ask for freedom. */
void
sherd_photo_canvas_snap_if_wanted (SherdPhotoCanvas *self, guint index)
{
  SherdPhotoMark *mark = g_ptr_array_index (self->marks, index);

  if (!self->free_hand && self->snaps[sherd_photo_mark_get_kind (mark)])
    sherd_photo_canvas_snap_mark (self, index);
}

/* The key: snaps the mark in hand once, whatever the switch says. */
gboolean
sherd_photo_canvas_press_snap (SherdPhotoCanvas *self)
{
  const int focused = sherd_photo_canvas_get_focused_mark (self);
  SherdPoint photo_px;

  if (focused < 0)
    return FALSE;
  if (sherd_photo_canvas_snap_mark (self, (guint)focused) &&
      sherd_photo_canvas_get_mark (self, (guint)focused, &photo_px))
    sherd_photo_canvas_move_mark (self, (guint)focused, photo_px, TRUE);
  else
    {
      gtk_label_set_text (GTK_LABEL (self->hint), _ ("There is no clear corner near this mark."));
      gtk_widget_set_visible (self->hint, TRUE);
    }
  return TRUE;
}

/**
 * sherd_photo_canvas_set_snap:
 * @self: the canvas
 * @kind: marks of the piece, or of the reference
 * @snaps: whether a mark that is let go moves on to the corner next to it
 *
 * With Alt held a mark stays where it is let go.
 */
void
sherd_photo_canvas_set_snap (SherdPhotoCanvas *self, SherdPhotoMarkKind kind, gboolean snaps)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  self->snaps[kind] = snaps;
}
