/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <math.h>

#include <glib/gi18n-lib.h>

/* Our choice: when the view has been still for this long, it is drawn again at full sharpness. */
#define SETTLE_MS 120
/* Our choice: time constant of a smooth zoom; it has arrived to the eye after three of them. */
#define ZOOM_TIME_S 0.06
/* A zoom this near its goal jumps there: under a pixel on a screen 2,000 px wide. */
#define ZOOM_NEAR 0.0005
/* Our choice: from here on single pixels are drawn as sharp-edged squares. */
#define PIXELS_FROM_ZOOM 3.0
/* Our choice: how far from the edge a place is brought into view. */
#define REVEAL_MARGIN_PX 48.0

/* ISO 3664 asks for a neutral surround of middle reflectance. Ours is L* 50, which is Y = 18.4 % and code 119 in sRGB.
 */
static const GdkRGBA surround = { 119.0f / 255.0f, 119.0f / 255.0f, 119.0f / 255.0f, 1.0f };

guint sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdPhotoCanvas, sherd_photo_canvas, GTK_TYPE_WIDGET)

gboolean
sherd_photo_canvas_has_photo (SherdPhotoCanvas *self)
{
  return self->view.photo_width_px > 0.0;
}

SherdPoint
sherd_photo_canvas_get_middle (SherdPhotoCanvas *self)
{
  return (SherdPoint){ self->view.width_px / 2.0, self->view.height_px / 2.0 };
}

static gboolean
settled_cb (gpointer data)
{
  SherdPhotoCanvas *self = data;

  self->settle_id = 0;
  self->moving = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

/* While it moves it is drawn from the level nearest the screen's resolution, then once more from the sharper one. */
static void
note_movement (SherdPhotoCanvas *self)
{
  g_clear_handle_id (&self->settle_id, g_source_remove);
  self->moving = TRUE;
  self->settle_id = g_timeout_add (SETTLE_MS, settled_cb, self);
}

void
sherd_photo_canvas_view_changed (SherdPhotoCanvas *self)
{
  note_movement (self);
  /* While it is given its place it must not ask for another, nor make its twin ask: GTK would leave one without. */
  if (!self->allocating)
    {
      gtk_widget_queue_allocate (GTK_WIDGET (self));
      sherd_photo_canvas_lead_twin (self);
    }
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sherd_photo_canvas_update_loupe (self);
  g_signal_emit (self, sherd_photo_canvas_signals[SHERD_PHOTO_CANVAS_VIEW_CHANGED], 0);
}

/* Zooming */

static void
stop_zoom (SherdPhotoCanvas *self)
{
  if (self->zoom_tick_id)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->zoom_tick_id);
  self->zoom_tick_id = 0;
}

static void
show_zoom (SherdPhotoCanvas *self, double zoom)
{
  sherd_photo_view_hold (&self->view, zoom, self->zoom_photo_px, self->zoom_widget_px);
  sherd_photo_canvas_view_changed (self);
}

static gboolean
zoom_tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  const gint64 now_us = gdk_frame_clock_get_frame_time (clock);
  const double passed_s = (double)(now_us - self->zoom_us) / G_USEC_PER_SEC;
  const double left = log (self->zoom_goal / self->view.zoom) * exp (-passed_s / ZOOM_TIME_S);

  self->zoom_us = now_us;
  if (fabs (left) < ZOOM_NEAR)
    {
      sherd_photo_canvas_finish_zoom (self);
      return G_SOURCE_REMOVE;
    }
  show_zoom (self, self->zoom_goal * exp (-left));
  return G_SOURCE_CONTINUE;
}

/* Jumps to where a smooth zoom was going. */
void
sherd_photo_canvas_finish_zoom (SherdPhotoCanvas *self)
{
  if (!self->zoom_tick_id)
    return;
  stop_zoom (self);
  show_zoom (self, self->zoom_goal);
}

static gboolean
wants_animation (SherdPhotoCanvas *self)
{
  gboolean enabled;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-enable-animations", &enabled, NULL);
  return enabled && gtk_widget_get_mapped (GTK_WIDGET (self));
}

/* Zooms smoothly about a place of the widget. */
void
sherd_photo_canvas_zoom_to (SherdPhotoCanvas *self, double zoom, SherdPoint about_widget_px)
{
  self->zoom_goal =
    CLAMP (zoom, sherd_photo_view_smallest_zoom (&self->view), sherd_photo_view_largest_zoom (&self->view));
  if (!self->zoom_tick_id || about_widget_px.x != self->zoom_widget_px.x || about_widget_px.y != self->zoom_widget_px.y)
    self->zoom_photo_px = sherd_photo_view_to_photo (&self->view, about_widget_px);
  self->zoom_widget_px = about_widget_px;
  self->fitted = FALSE;

  if (!wants_animation (self))
    {
      show_zoom (self, self->zoom_goal);
      return;
    }
  if (self->zoom_tick_id)
    return;
  self->zoom_us = g_get_monotonic_time ();
  self->zoom_tick_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), zoom_tick_cb, NULL, NULL);
}

static void
zoom_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  const double zoom = self->zoom_tick_id ? self->zoom_goal : self->view.zoom;
  const SherdPoint middle = sherd_photo_canvas_get_middle (self);

  if (g_str_equal (action_name, "view.zoom-in"))
    sherd_photo_canvas_zoom_to (self, zoom * G_SQRT2, middle);
  else if (g_str_equal (action_name, "view.zoom-out"))
    sherd_photo_canvas_zoom_to (self, zoom / G_SQRT2, middle);
  else if (g_str_equal (action_name, "view.one-to-one"))
    sherd_photo_canvas_zoom_to (self, 1.0 / gtk_widget_get_scale_factor (widget), middle);
  else
    sherd_photo_canvas_fit (self);
}

static void
place_action (GtkWidget *widget, const char *action_name, GVariant *parameter)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  SherdPoint photo_px = sherd_photo_view_to_photo (&self->view, sherd_photo_canvas_get_middle (self));

  if (parameter)
    g_variant_get (parameter, "(dd)", &photo_px.x, &photo_px.y);
  sherd_photo_canvas_place_next (self, photo_px);
}

/* Drawing */

/* To the nearest device pixel, so that neighbouring tiles meet without a seam. */
static float
snap (double position_px, int scale_factor)
{
  return (float)(floor (position_px * scale_factor + 0.5) / scale_factor);
}

/* Where a rectangle of the photograph lies on the widget. */
static graphene_rect_t
photo_rect_to_widget (SherdPhotoCanvas *self,
                      double x_photo_px,
                      double y_photo_px,
                      double width_photo_px,
                      double height_photo_px)
{
  const int scale_factor = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  const SherdPoint first = sherd_photo_view_to_widget (&self->view, (SherdPoint){ x_photo_px, y_photo_px });
  const SherdPoint last =
    sherd_photo_view_to_widget (&self->view, (SherdPoint){ x_photo_px + width_photo_px, y_photo_px + height_photo_px });
  const float left = snap (first.x, scale_factor), top = snap (first.y, scale_factor);

  return GRAPHENE_RECT_INIT (left, top, snap (last.x, scale_factor) - left, snap (last.y, scale_factor) - top);
}

/* The part of the photograph that is seen, in whole photo px. */
static void
find_visible (SherdPhotoCanvas *self, guint *x_px, guint *y_px, guint *right_px, guint *bottom_px)
{
  const SherdPoint first = sherd_photo_view_to_photo (&self->view, (SherdPoint){ 0.0, 0.0 });
  const SherdPoint last =
    sherd_photo_view_to_photo (&self->view, (SherdPoint){ self->view.width_px, self->view.height_px });

  *x_px = (guint)CLAMP (floor (first.x), 0.0, self->view.photo_width_px - 1.0);
  *y_px = (guint)CLAMP (floor (first.y), 0.0, self->view.photo_height_px - 1.0);
  *right_px = (guint)CLAMP (ceil (last.x), *x_px + 1.0, self->view.photo_width_px);
  *bottom_px = (guint)CLAMP (ceil (last.y), *y_px + 1.0, self->view.photo_height_px);
}

static void
draw_tile (SherdPhotoCanvas *self, GtkSnapshot *snapshot, guint level, guint column, guint row)
{
  GdkTexture *tile = sherd_photo_pyramid_get_tile (self->pyramid, level, column, row);
  const double photo_px = 1u << level;
  const double side_photo_px = SHERD_PHOTO_TILE_PX * photo_px;
  const graphene_rect_t bounds =
    photo_rect_to_widget (self, column * side_photo_px, row * side_photo_px, gdk_texture_get_width (tile) * photo_px,
                          gdk_texture_get_height (tile) * photo_px);

  gtk_snapshot_append_texture (snapshot, tile, &bounds);
}

static void
draw_level (SherdPhotoCanvas *self, GtkSnapshot *snapshot, guint level)
{
  const guint side_photo_px = SHERD_PHOTO_TILE_PX << level;
  guint x_px, y_px, right_px, bottom_px;

  find_visible (self, &x_px, &y_px, &right_px, &bottom_px);
  for (guint row = y_px / side_photo_px; row <= (bottom_px - 1) / side_photo_px; row++)
    for (guint column = x_px / side_photo_px; column <= (right_px - 1) / side_photo_px; column++)
      draw_tile (self, snapshot, level, column, row);
}

static void
draw_pixels (SherdPhotoCanvas *self, GtkSnapshot *snapshot)
{
  const guint factor = (guint)ceil (self->view.zoom * gtk_widget_get_scale_factor (GTK_WIDGET (self)));
  g_autoptr (GdkTexture) texture = NULL;
  graphene_rect_t bounds;
  guint x_px, y_px, right_px, bottom_px;

  find_visible (self, &x_px, &y_px, &right_px, &bottom_px);
  texture =
    sherd_photo_pyramid_magnify (self->pyramid, (int)x_px, (int)y_px, right_px - x_px, bottom_px - y_px, factor);
  bounds = photo_rect_to_widget (self, x_px, y_px, right_px - x_px, bottom_px - y_px);
  gtk_snapshot_append_texture (snapshot, texture, &bounds);
}

static guint
choose_level (SherdPhotoCanvas *self)
{
  const int scale_factor = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  const guint last = sherd_photo_pyramid_get_n_levels (self->pyramid) - 1;
  const guint level = self->moving ? sherd_photo_view_quick_level (&self->view, scale_factor)
                                   : sherd_photo_view_sharp_level (&self->view, scale_factor);

  return MIN (level, last);
}

static void
draw_photo (SherdPhotoCanvas *self, GtkSnapshot *snapshot)
{
  const graphene_rect_t bounds =
    photo_rect_to_widget (self, 0.0, 0.0, self->view.photo_width_px, self->view.photo_height_px);
  const guint level = choose_level (self);
  GdkTexture *preview = sherd_photo_pyramid_get_preview (self->pyramid);

  gtk_snapshot_push_clip (snapshot, &bounds);
  if (self->view.zoom >= PIXELS_FROM_ZOOM && sherd_photo_pyramid_has_level (self->pyramid, 0))
    draw_pixels (self, snapshot);
  else if (sherd_photo_pyramid_has_level (self->pyramid, level))
    draw_level (self, snapshot, level);
  else if (preview)
    gtk_snapshot_append_texture (snapshot, preview, &bounds);
  gtk_snapshot_pop (snapshot);
}

static void
sherd_photo_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  const graphene_rect_t all = GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)self->view.width_px, (float)self->view.height_px);

  gtk_snapshot_append_color (snapshot, &surround, &all);
  if (self->pyramid)
    sherd_photo_pyramid_start (self->pyramid); /* somebody looks */
  if (sherd_photo_canvas_has_photo (self))
    {
      draw_photo (self, snapshot);
      sherd_photo_canvas_draw_outlines (self, snapshot);
      sherd_photo_canvas_draw_twin_pointer (self, snapshot);
      sherd_photo_canvas_draw_aim (self, snapshot);
    }
  for (guint i = 0; i < self->marks->len; i++)
    gtk_widget_snapshot_child (widget, g_ptr_array_index (self->marks, i), snapshot);
  gtk_widget_snapshot_child (widget, self->hint, snapshot);
  gtk_widget_snapshot_child (widget, self->loupe, snapshot);
}

/* Layout */

static void
sherd_photo_canvas_measure (GtkWidget *widget,
                            GtkOrientation orientation,
                            int for_size,
                            int *minimum,
                            int *natural,
                            int *minimum_baseline,
                            int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 240 : 180;
  *natural = 2 * *minimum;
}

static void
sherd_photo_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  const gboolean resized = width != (int)self->view.width_px || height != (int)self->view.height_px;

  self->view.width_px = width;
  self->view.height_px = height;
  self->allocating = TRUE;
  if (resized && self->fitted)
    sherd_photo_canvas_fit (self);
  self->allocating = FALSE;
  sherd_photo_canvas_allocate_outlines (self);
  sherd_photo_canvas_allocate_marks (self);
}

static gboolean
sherd_photo_canvas_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (widget);
  const SherdPoint photo_px = sherd_photo_view_to_photo (&self->view, (SherdPoint){ x, y });
  const int index = keyboard ? self->selected_outline : sherd_photo_canvas_find_outline (self, photo_px);
  const char *note = index >= 0 ? sherd_photo_outline_get_note (g_ptr_array_index (self->outlines, index)) : NULL;

  if (!note || self->marking)
    return FALSE;
  gtk_tooltip_set_text (tooltip, note);
  return TRUE;
}

/* Life */

static void
drop_children (SherdPhotoCanvas *self)
{
  GtkWidget *child;

  self->press = SHERD_PHOTO_PRESS_NONE;
  g_ptr_array_set_size (self->outlines, 0);
  g_ptr_array_set_size (self->marks, 0);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))))
    {
      g_signal_handlers_disconnect_by_data (child, self);
      gtk_widget_unparent (child);
    }
}

static void
sherd_photo_canvas_dispose (GObject *object)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (object);

  stop_zoom (self);
  g_clear_handle_id (&self->settle_id, g_source_remove);
  sherd_photo_canvas_unlink (self);
  sherd_photo_canvas_set_colour_func (self, NULL, NULL, NULL);
  if (self->pyramid)
    g_clear_signal_handler (&self->pyramid_changed_id, self->pyramid);
  g_clear_object (&self->pyramid);
  drop_children (self);
  G_OBJECT_CLASS (sherd_photo_canvas_parent_class)->dispose (object);
}

static void
sherd_photo_canvas_finalize (GObject *object)
{
  SherdPhotoCanvas *self = SHERD_PHOTO_CANVAS (object);

  g_free (self->alignment);
  g_ptr_array_unref (self->outlines);
  g_ptr_array_unref (self->marks);
  G_OBJECT_CLASS (sherd_photo_canvas_parent_class)->finalize (object);
}

static void
install_signals (GType type)
{
  guint *signals = sherd_photo_canvas_signals;

  /**
   * SherdPhotoCanvas::mark-placed:
   * @index: of the mark
   * @x_photo_px: where, px of the upright photograph
   * @y_photo_px: where
   *
   * The user gave a place to a mark that had none.
   */
  signals[SHERD_PHOTO_CANVAS_MARK_PLACED] = g_signal_new ("mark-placed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                                          G_TYPE_NONE, 3, G_TYPE_UINT, G_TYPE_DOUBLE, G_TYPE_DOUBLE);
  /**
   * SherdPhotoCanvas::mark-moved:
   * @index: of the mark
   * @x_photo_px: where to
   * @y_photo_px: where to
   * @finished: FALSE while button or key is still down; TRUE when this is to become one step of undo
   *
   * The user moved a mark.
   */
  signals[SHERD_PHOTO_CANVAS_MARK_MOVED] =
    g_signal_new ("mark-moved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 4, G_TYPE_UINT,
                  G_TYPE_DOUBLE, G_TYPE_DOUBLE, G_TYPE_BOOLEAN);
  /**
   * SherdPhotoCanvas::mark-removed:
   * @index: of the mark; it stays in the list without a place
   */
  signals[SHERD_PHOTO_CANVAS_MARK_REMOVED] =
    g_signal_new ("mark-removed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  /**
   * SherdPhotoCanvas::marking-ended:
   * @complete: whether all marks are placed
   */
  signals[SHERD_PHOTO_CANVAS_MARKING_ENDED] =
    g_signal_new ("marking-ended", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
  /**
   * SherdPhotoCanvas::outline-activated:
   * @index: of the outline that was clicked or chosen with the keyboard; it is selected
   */
  signals[SHERD_PHOTO_CANVAS_OUTLINE_ACTIVATED] =
    g_signal_new ("outline-activated", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  /**
   * SherdPhotoCanvas::pointer-moved:
   * @x_photo_px: where the pointer is, px of the upright photograph
   * @y_photo_px: where
   * @inside: whether it is over the photograph
   */
  signals[SHERD_PHOTO_CANVAS_POINTER_MOVED] =
    g_signal_new ("pointer-moved", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3, G_TYPE_DOUBLE,
                  G_TYPE_DOUBLE, G_TYPE_BOOLEAN);
  /**
   * SherdPhotoCanvas::view-changed:
   *
   * Zoom or centre changed.
   */
  signals[SHERD_PHOTO_CANVAS_VIEW_CHANGED] =
    g_signal_new ("view-changed", type, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
sherd_photo_canvas_class_init (SherdPhotoCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = sherd_photo_canvas_dispose;
  object_class->finalize = sherd_photo_canvas_finalize;
  widget_class->snapshot = sherd_photo_canvas_snapshot;
  widget_class->measure = sherd_photo_canvas_measure;
  widget_class->size_allocate = sherd_photo_canvas_size_allocate;
  widget_class->query_tooltip = sherd_photo_canvas_query_tooltip;
  widget_class->focus = sherd_photo_canvas_move_focus;
  gtk_widget_class_set_css_name (widget_class, "photo-canvas");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);

  gtk_widget_class_install_action (widget_class, "view.zoom-in", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "view.zoom-out", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "view.fit", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "view.one-to-one", NULL, zoom_action);
  /* The next mark, without a pointer: in the middle, or at x, y in px of the photograph. */
  gtk_widget_class_install_action (widget_class, "mark.place", NULL, place_action);
  gtk_widget_class_install_action (widget_class, "mark.place-at", "(dd)", place_action);
  install_signals (G_TYPE_FROM_CLASS (klass));
}

static void
sherd_photo_canvas_init (SherdPhotoCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->view.zoom = 1.0;
  self->fitted = TRUE;
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_has_tooltip (widget, TRUE);
  sherd_photo_canvas_init_outlines (self);
  sherd_photo_canvas_init_marks (self);
  sherd_photo_canvas_init_input (self);
  sherd_photo_canvas_set_title (self, _ ("Photograph"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  _ ("Plus and minus zoom, 0 shows all of it, 1 its own size, arrow keys move it. Tab "
                                     "goes to the marks and outlines."),
                                  -1);
}

/**
 * sherd_photo_canvas_new:
 *
 * A canvas that shows a photograph on neutral grey, with outlines over it and marks to be picked in it.
 *
 * Returns: (transfer floating): the canvas, empty
 */
GtkWidget *
sherd_photo_canvas_new (void)
{
  return g_object_new (SHERD_TYPE_PHOTO_CANVAS, NULL);
}

/**
 * sherd_photo_canvas_set_title:
 * @self: the canvas
 * @title: what assistive technology calls it, translated: “Tile K3 before firing”
 */
void
sherd_photo_canvas_set_title (SherdPhotoCanvas *self, const char *title)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
}

static void
pyramid_changed_cb (SherdPhotoPyramid *pyramid, SherdPhotoCanvas *self)
{
  const gboolean known = sherd_photo_canvas_has_photo (self);

  self->view.photo_width_px = sherd_photo_pyramid_get_width_px (pyramid);
  self->view.photo_height_px = sherd_photo_pyramid_get_height_px (pyramid);
  if (!known && sherd_photo_canvas_has_photo (self) && self->fitted)
    sherd_photo_canvas_fit (self);
  sherd_photo_canvas_update_hint (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_photo_canvas_set_pyramid:
 * @self: the canvas
 * @pyramid: (nullable): the photograph; several canvases may share one
 *
 * Shows another photograph, all of it. Outlines and marks stay: they are the owner's to clear.
 */
void
sherd_photo_canvas_set_pyramid (SherdPhotoCanvas *self, SherdPhotoPyramid *pyramid)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  if (self->pyramid == pyramid)
    return;
  stop_zoom (self);
  sherd_photo_canvas_let_go (self);
  if (self->pyramid)
    g_clear_signal_handler (&self->pyramid_changed_id, self->pyramid);
  g_set_object (&self->pyramid, pyramid);
  self->view.photo_width_px = self->view.photo_height_px = 0.0;
  self->fitted = TRUE;
  if (pyramid)
    {
      self->pyramid_changed_id = g_signal_connect (pyramid, "changed", G_CALLBACK (pyramid_changed_cb), self);
      pyramid_changed_cb (pyramid, self);
    }
  sherd_photo_canvas_update_hint (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

SherdPhotoPyramid *
sherd_photo_canvas_get_pyramid (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), NULL);
  return self->pyramid;
}

/**
 * sherd_photo_canvas_set_picture:
 * @self: the canvas
 * @picture: (nullable): a picture; its pixels are shared
 *
 * Shows a picture that is in memory already.
 */
void
sherd_photo_canvas_set_picture (SherdPhotoCanvas *self, const SherdPicture *picture)
{
  g_autoptr (SherdPhotoPyramid) pyramid = picture ? sherd_photo_pyramid_new_for_picture (picture) : NULL;

  sherd_photo_canvas_set_pyramid (self, pyramid);
}

/**
 * sherd_photo_canvas_photo_to_widget:
 * @self: the canvas
 * @photo_px: a position in the upright photograph, px, (0, 0) the outer corner of the first pixel
 *
 * Returns: where it is shown, logical px from the canvas's top left corner
 */
SherdPoint
sherd_photo_canvas_photo_to_widget (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), photo_px);
  return sherd_photo_view_to_widget (&self->view, photo_px);
}

/**
 * sherd_photo_canvas_widget_to_photo:
 * @self: the canvas
 * @widget_px: logical px from the canvas's top left corner
 *
 * Returns: the position in the upright photograph, px; it may lie outside of it
 */
SherdPoint
sherd_photo_canvas_widget_to_photo (SherdPhotoCanvas *self, SherdPoint widget_px)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), widget_px);
  return sherd_photo_view_to_photo (&self->view, widget_px);
}

/**
 * sherd_photo_canvas_get_zoom:
 * @self: the canvas
 *
 * Returns: logical px per photo px
 */
double
sherd_photo_canvas_get_zoom (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), 1.0);
  return self->view.zoom;
}

/**
 * sherd_photo_canvas_get_centre:
 * @self: the canvas
 *
 * Returns: what lies in the canvas's middle, px of the upright photograph
 */
SherdPoint
sherd_photo_canvas_get_centre (SherdPhotoCanvas *self)
{
  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), (SherdPoint){ 0 });
  return self->view.centre_photo_px;
}

/**
 * sherd_photo_canvas_set_view:
 * @self: the canvas
 * @zoom: logical px per photo px
 * @centre_photo_px: what comes to the middle
 *
 * Shows a place at once, without a smooth zoom.
 */
void
sherd_photo_canvas_set_view (SherdPhotoCanvas *self, double zoom, SherdPoint centre_photo_px)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  stop_zoom (self);
  self->fitted = FALSE;
  sherd_photo_view_set (&self->view, zoom, centre_photo_px);
  sherd_photo_canvas_view_changed (self);
}

/**
 * sherd_photo_canvas_fit:
 * @self: the canvas
 *
 * Shows all of the photograph, and keeps showing all of it when the canvas changes its size.
 */
void
sherd_photo_canvas_fit (SherdPhotoCanvas *self)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  stop_zoom (self);
  sherd_photo_view_fit (&self->view);
  self->fitted = TRUE;
  sherd_photo_canvas_view_changed (self);
}

/**
 * sherd_photo_canvas_reveal:
 * @self: the canvas
 * @photo_px: a place
 *
 * Moves the picture as little as needed for the place to be seen.
 */
void
sherd_photo_canvas_reveal (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  const SherdPhotoView before = self->view;

  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  sherd_photo_view_reveal (&self->view, photo_px, REVEAL_MARGIN_PX);
  if (self->view.centre_photo_px.x == before.centre_photo_px.x &&
      self->view.centre_photo_px.y == before.centre_photo_px.y)
    return;
  self->fitted = FALSE;
  sherd_photo_canvas_view_changed (self);
}
