/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <math.h>

#include "desk/legible.h"

/* Our choice: outlines grow with the picture, but only from the width of a fine pen to that of a broad one. */
#define THINNEST_PX 1.1
#define THICKEST_PX 2.2
/* Our choice: free room a code must have on each side in its outline to be shown. */
#define LABEL_ROOM_PX 4.0f

typedef void (*StrokeFunc) (cairo_t *cr, double width_px);

static SherdPhotoOutline *
get_outline (SherdPhotoCanvas *self, guint index)
{
  return g_ptr_array_index (self->outlines, index);
}

/* On the widget. */
static graphene_rect_t
bounds_on_widget (SherdPhotoCanvas *self, SherdPhotoOutline *outline)
{
  const graphene_rect_t *bounds = sherd_photo_outline_get_bounds (outline);
  const SherdPoint first = sherd_photo_view_to_widget (&self->view, (SherdPoint){ bounds->origin.x, bounds->origin.y });

  return GRAPHENE_RECT_INIT ((float)first.x, (float)first.y, (float)(bounds->size.width * self->view.zoom),
                             (float)(bounds->size.height * self->view.zoom));
}

static gboolean
is_seen (SherdPhotoCanvas *self, const graphene_rect_t *bounds)
{
  const graphene_rect_t all = GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)self->view.width_px, (float)self->view.height_px);

  return graphene_rect_intersection (&all, bounds, NULL);
}

static void
trace (SherdPhotoCanvas *self, cairo_t *cr, SherdPhotoOutline *outline)
{
  const SherdOutline *shape = sherd_photo_outline_get_shape (outline);

  for (gsize i = 0; i < shape->n_points; i++)
    {
      const SherdPoint at = sherd_photo_view_to_widget (&self->view, shape->points[i]);

      cairo_line_to (cr, at.x, at.y);
    }
  cairo_close_path (cr);
  cairo_new_sub_path (cr);
}

/* All outlines of one look are one path: a thousand cost two strokes. */
static void
stroke_state (SherdPhotoCanvas *self,
              cairo_t *cr,
              SherdPhotoOutlineState state,
              gboolean selected,
              StrokeFunc stroke,
              double width_px)
{
  cairo_new_path (cr);
  for (guint i = 0; i < self->outlines->len; i++)
    {
      SherdPhotoOutline *outline = get_outline (self, i);
      const graphene_rect_t bounds = bounds_on_widget (self, outline);

      if (sherd_photo_outline_get_state (outline) == state && sherd_photo_outline_get_selected (outline) == selected &&
          is_seen (self, &bounds))
        trace (self, cr, outline);
    }
  stroke (cr, width_px);
}

static double
pen_px (SherdPhotoCanvas *self)
{
  return CLAMP (THINNEST_PX * sqrt (self->view.zoom / sherd_photo_view_fit_zoom (&self->view)), THINNEST_PX,
                THICKEST_PX);
}

static void
stroke_all (SherdPhotoCanvas *self, cairo_t *cr)
{
  static const StrokeFunc stroke[] = {
    [SHERD_PHOTO_OUTLINE_NORMAL] = sherd_legible_stroke,
    [SHERD_PHOTO_OUTLINE_NOT_MEASURED] = sherd_legible_stroke_dashed,
    [SHERD_PHOTO_OUTLINE_FLAGGED] = sherd_legible_stroke_hollow,
  };
  const double width_px = pen_px (self);

  for (guint state = 0; state < G_N_ELEMENTS (stroke); state++)
    stroke_state (self, cr, state, FALSE, stroke[state], width_px);
  for (guint state = 0; state < G_N_ELEMENTS (stroke); state++)
    stroke_state (self, cr, state, TRUE, stroke[state], 2.5 * width_px);
}

/* A dashed frame around the outline that has the keyboard focus. */
static void
stroke_focus (SherdPhotoCanvas *self, cairo_t *cr)
{
  const int index = sherd_photo_canvas_get_focused_outline (self);
  graphene_rect_t bounds;

  if (index < 0 || !gtk_window_get_focus_visible (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)))))
    return;
  bounds = bounds_on_widget (self, get_outline (self, index));
  graphene_rect_inset (&bounds, -7.0f, -7.0f);
  cairo_rectangle (cr, bounds.origin.x, bounds.origin.y, bounds.size.width, bounds.size.height);
  sherd_legible_stroke_dashed (cr, 1.5);
}

/* The code stands in the middle of the upper edge, where it hides least of the colour. */
static void
draw_label (SherdPhotoCanvas *self, GtkSnapshot *snapshot, SherdPhotoOutline *outline)
{
  const graphene_rect_t bounds = bounds_on_widget (self, outline);
  PangoLayout *label = sherd_photo_outline_get_label (outline);
  float width_px, height_px;

  sherd_legible_plate_size (label, &width_px, &height_px);
  if (!is_seen (self, &bounds))
    return;
  if (!sherd_photo_outline_get_selected (outline) &&
      (bounds.size.width < width_px + 2.0f * LABEL_ROOM_PX || bounds.size.height < 2.0f * height_px))
    return;
  sherd_legible_plate (snapshot, label, roundf (bounds.origin.x + (bounds.size.width - width_px) / 2.0f),
                       roundf (bounds.origin.y - height_px / 2.0f));
}

void
sherd_photo_canvas_draw_outlines (SherdPhotoCanvas *self, GtkSnapshot *snapshot)
{
  const graphene_rect_t all = GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)self->view.width_px, (float)self->view.height_px);
  cairo_t *cr;

  if (self->outlines->len == 0)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &all);
  stroke_all (self, cr);
  stroke_focus (self, cr);
  cairo_destroy (cr);
  for (guint i = 0; i < self->outlines->len; i++)
    draw_label (self, snapshot, get_outline (self, i));
}

/* The children lie where their outlines are, for assistive technology. */
void
sherd_photo_canvas_allocate_outlines (SherdPhotoCanvas *self)
{
  for (guint i = 0; i < self->outlines->len; i++)
    {
      GtkWidget *child = g_ptr_array_index (self->outlines, i);
      const graphene_rect_t bounds = bounds_on_widget (self, SHERD_PHOTO_OUTLINE (child));
      const GtkAllocation allocation = { (int)bounds.origin.x, (int)bounds.origin.y, (int)ceilf (bounds.size.width),
                                         (int)ceilf (bounds.size.height) };

      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
      gtk_widget_size_allocate (child, &allocation, -1);
    }
}

/* The topmost outline around a place, or −1. */
int
sherd_photo_canvas_find_outline (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  for (guint i = self->outlines->len; i > 0; i--)
    {
      SherdPhotoOutline *outline = get_outline (self, i - 1);
      const graphene_point_t point = GRAPHENE_POINT_INIT ((float)photo_px.x, (float)photo_px.y);

      if (graphene_rect_contains_point (sherd_photo_outline_get_bounds (outline), &point) &&
          sherd_outline_contains (sherd_photo_outline_get_shape (outline), photo_px))
        return (int)i - 1;
    }
  return -1;
}

int
sherd_photo_canvas_get_focused_outline (SherdPhotoCanvas *self)
{
  GtkWidget *focus = gtk_widget_get_focus_child (GTK_WIDGET (self));
  guint index;

  return focus && g_ptr_array_find (self->outlines, focus, &index) ? (int)index : -1;
}

void
sherd_photo_canvas_activate_outline (SherdPhotoCanvas *self, guint index)
{
  sherd_photo_canvas_select_outline (self, (int)index);
  gtk_widget_grab_focus (g_ptr_array_index (self->outlines, index));
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_OUTLINE_ACTIVATED], 0, index);
}

static SherdPoint
middle_of (SherdPhotoOutline *outline)
{
  graphene_point_t middle;

  graphene_rect_get_center (sherd_photo_outline_get_bounds (outline), &middle);
  return (SherdPoint){ middle.x, middle.y };
}

/* Gives the focus to the nearest outline in a direction: near counts along it, being off to the side counts double. */
gboolean
sherd_photo_canvas_focus_neighbour (SherdPhotoCanvas *self, int dx, int dy)
{
  const int from_index = sherd_photo_canvas_get_focused_outline (self);
  const SherdPoint from = middle_of (get_outline (self, (guint)from_index));
  double least = G_MAXDOUBLE;
  int nearest = -1;

  for (guint i = 0; i < self->outlines->len; i++)
    {
      const SherdPoint to = middle_of (get_outline (self, i));
      const double along = (to.x - from.x) * dx + (to.y - from.y) * dy;
      const double aside = fabs ((to.x - from.x) * dy) + fabs ((to.y - from.y) * dx);

      if ((int)i != from_index && along > aside / 2.0 && along + 2.0 * aside < least)
        {
          least = along + 2.0 * aside;
          nearest = (int)i;
        }
    }
  return nearest >= 0 && gtk_widget_grab_focus (g_ptr_array_index (self->outlines, nearest));
}

static void
activate_cb (GtkWidget *outline, SherdPhotoCanvas *self)
{
  guint index;

  if (g_ptr_array_find (self->outlines, outline, &index))
    sherd_photo_canvas_activate_outline (self, index);
}

static void
focus_cb (GtkWidget *outline, GParamSpec *pspec, SherdPhotoCanvas *self)
{
  guint index;

  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (!gtk_widget_has_focus (outline) || !g_ptr_array_find (self->outlines, outline, &index))
    return;
  self->focused_outline = (int)index;
  if (self->press == SHERD_PHOTO_PRESS_NONE)
    sherd_photo_canvas_reveal (self, middle_of (SHERD_PHOTO_OUTLINE (outline)));
}

void
sherd_photo_canvas_init_outlines (SherdPhotoCanvas *self)
{
  self->outlines = g_ptr_array_new ();
  self->selected_outline = self->focused_outline = -1;
}

/**
 * sherd_photo_canvas_add_outline:
 * @self: the canvas
 * @outline_photo_px: px of the upright photograph; copied
 * @code: short code shown in it
 *
 * Returns: its index, in the order of adding
 */
guint
sherd_photo_canvas_add_outline (SherdPhotoCanvas *self, const SherdOutline *outline_photo_px, const char *code)
{
  GtkWidget *outline;

  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), 0);
  outline = sherd_photo_outline_new (outline_photo_px, code);
  g_signal_connect (outline, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect (outline, "notify::has-focus", G_CALLBACK (focus_cb), self);
  gtk_widget_insert_before (outline, GTK_WIDGET (self),
                            self->marks->len > 0 ? g_ptr_array_index (self->marks, 0) : self->hint);
  g_ptr_array_add (self->outlines, outline);
  return self->outlines->len - 1;
}

/**
 * sherd_photo_canvas_clear_outlines:
 * @self: the canvas
 */
void
sherd_photo_canvas_clear_outlines (SherdPhotoCanvas *self)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  for (guint i = self->outlines->len; i > 0; i--)
    gtk_widget_unparent (g_ptr_array_steal_index (self->outlines, i - 1));
  self->selected_outline = self->focused_outline = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

guint
sherd_photo_canvas_get_n_outlines (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), 0);
  return self->outlines->len;
}

/**
 * sherd_photo_canvas_set_outline_shape:
 * @self: the canvas
 * @index: of the outline
 * @outline_photo_px: its new shape; copied
 */
void
sherd_photo_canvas_set_outline_shape (SherdPhotoCanvas *self, guint index, const SherdOutline *outline_photo_px)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < self->outlines->len);
  sherd_photo_outline_set_shape (get_outline (self, index), outline_photo_px);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_photo_canvas_set_outline_state:
 * @self: the canvas
 * @index: of the outline
 * @state: how it is drawn
 * @note: (nullable): why, translated; shown when pointed at and read aloud
 */
void
sherd_photo_canvas_set_outline_state (SherdPhotoCanvas *self,
                                      guint index,
                                      SherdPhotoOutlineState state,
                                      const char *note)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < self->outlines->len);
  sherd_photo_outline_set_state (get_outline (self, index), state, note);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_photo_canvas_select_outline:
 * @self: the canvas
 * @index: of the outline, −1 for none
 *
 * Draws one outline as selected. Emits nothing.
 */
void
sherd_photo_canvas_select_outline (SherdPhotoCanvas *self, int index)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self) && index < (int)self->outlines->len);
  if (self->selected_outline >= 0)
    sherd_photo_outline_set_selected (get_outline (self, (guint)self->selected_outline), FALSE);
  self->selected_outline = MAX (index, -1);
  if (index >= 0)
    sherd_photo_outline_set_selected (get_outline (self, (guint)index), TRUE);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

int
sherd_photo_canvas_get_selected_outline (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), -1);
  return self->selected_outline;
}
