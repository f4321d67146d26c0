/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/side-view.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/piece-surface.h"
#include "trial/zone-shape-edits.h"

/* Air around the side, logical px. */
#define AIR_PX 24

/* Where degrees and mm stand beside a vessel's side, logical px. */
#define SCALE_PX 28

#define TICK_DEG 30
#define TICK_MM 20

#define RADIANS_PER_DEG (G_PI / 180.0)

struct _SherdSideView
{
  GtkWidget parent_instance;

  SherdPiece *piece;
  SherdSide *side;
  SherdPieceSurface *surface; /* (nullable): when the piece has none */
  GPtrArray *buttons;         /* of GtkToggleButton, in the order of the side's zones */
  gboolean selecting;
};

G_DEFINE_FINAL_TYPE (SherdSideView, sherd_side_view, GTK_TYPE_WIDGET)

static guint zone_selected_signal;

/* Where the side lies in the widget, and how many px a unit of each of its coordinates has. */
typedef struct
{
  graphene_rect_t bounds;
  double x0; /* on side, at the left edge; at the right edge of an inside */
  double px_per_x;
  double px_per_y;
  gboolean leftwards;
} Frame;

static const SherdSurface *
surface_of (SherdSideView *self)
{
  return self->surface != NULL ? sherd_piece_surface_get (self->surface) : NULL;
}

static gboolean
is_vessel (SherdSideView *self)
{
  return surface_of (self)->kind != SHERD_SURFACE_FLAT;
}

/* Zones over the zero mark run on beyond 360° or begin before 0°, and are shown in one. */
static void
azimuths_shown (SherdSideView *self, double *first_deg, double *last_deg)
{
  GListModel *zones = sherd_side_get_zones (self->side);

  *first_deg = 0.0;
  *last_deg = 360.0;
  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      const SherdZoneBox box = sherd_zone_get_box (zone);

      *first_deg = MIN (*first_deg, box.azimuth0_deg);
      *last_deg = MAX (*last_deg, box.azimuth1_deg);
    }
}

static Frame
frame_of (SherdSideView *self)
{
  const int width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (GTK_WIDGET (self));
  const double scale_px = is_vessel (self) ? SCALE_PX : 0.0;
  double last = sherd_piece_get_width_mm (self->piece), height_mm = sherd_piece_get_height_mm (self->piece);
  double mm_per_x = 1.0, px_per_mm;
  Frame frame = { .leftwards = surface_of (self)->kind == SHERD_SURFACE_INSIDE };

  if (is_vessel (self))
    {
      azimuths_shown (self, &frame.x0, &last);
      mm_per_x = sherd_piece_get_width_mm (self->piece) / 2.0 * RADIANS_PER_DEG;
      height_mm = sherd_profile_length_mm (surface_of (self)->profile);
    }
  px_per_mm = MAX (0.05, MIN ((width - 2.0 * AIR_PX - scale_px) / ((last - frame.x0) * mm_per_x),
                              (height - 2.0 * AIR_PX - scale_px) / height_mm));
  frame.px_per_x = px_per_mm * mm_per_x;
  frame.px_per_y = px_per_mm;
  graphene_rect_init (&frame.bounds, 0.0f, 0.0f, (float)((last - frame.x0) * frame.px_per_x),
                      (float)(height_mm * px_per_mm));
  graphene_rect_offset (&frame.bounds, (float)((width + scale_px - frame.bounds.size.width) / 2.0),
                        (float)((height + scale_px - frame.bounds.size.height) / 2.0));
  return frame;
}

static graphene_point_t
to_widget (const Frame *frame, double x, double y)
{
  const double along = (x - frame->x0) * frame->px_per_x;
  const double left = frame->bounds.origin.x, right = left + frame->bounds.size.width;

  return GRAPHENE_POINT_INIT ((float)(frame->leftwards ? right - along : left + along),
                              (float)(frame->bounds.origin.y + y * frame->px_per_y));
}

static SherdZone *
zone_of (GtkWidget *button)
{
  return g_object_get_data (G_OBJECT (button), "zone");
}

static void
sherd_side_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  SherdSideView *self = SHERD_SIDE_VIEW (widget);
  Frame frame;

  if (self->surface == NULL)
    return;
  frame = frame_of (self);
  for (guint i = 0; i < self->buttons->len; i++)
    {
      GtkWidget *button = g_ptr_array_index (self->buttons, i);
      const SherdZoneBox box = sherd_zone_get_box (zone_of (button));
      const graphene_point_t first = to_widget (&frame, box.azimuth0_deg, box.arc0_mm);
      const graphene_point_t last = to_widget (&frame, box.azimuth1_deg, box.arc1_mm);
      const GtkAllocation allocation = { .x = (int)MIN (first.x, last.x),
                                         .y = (int)first.y,
                                         .width = MAX (1, (int)ABS (last.x - first.x)),
                                         .height = MAX (1, (int)(last.y - first.y)) };

      /* A zone smaller than its words is still drawn to scale: the words are clipped. */
      gtk_widget_measure (button, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
      gtk_widget_size_allocate (button, &allocation, -1);
    }
}

static void
trace (cairo_t *cr, const Frame *frame, const SherdOutline *outline)
{
  for (gsize i = 0; i < outline->n_points; i++)
    {
      const graphene_point_t at = to_widget (frame, outline->points[i].x, outline->points[i].y);

      cairo_line_to (cr, at.x, at.y);
    }
  cairo_close_path (cr);
}

/* The clay, without its holes. */
static void
draw_flat (SherdSideView *self, cairo_t *cr, const Frame *frame)
{
  const SherdSurface *surface = surface_of (self);

  trace (cr, frame, surface->edge);
  for (gsize i = 0; i < surface->n_holes; i++)
    trace (cr, frame, surface->holes[i]);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  cairo_fill (cr);
}

static void
draw_text (SherdSideView *self, cairo_t *cr, double x, double y, gboolean centred, const char *text)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, centred ? x - width / 2.0 : x - width, y - height / 2.0);
  pango_cairo_show_layout (cr, layout);
}

/* Degrees along the lip, the zero mark longest, and mm down the wall. */
static void
draw_scales (SherdSideView *self, cairo_t *cr, const Frame *frame)
{
  const double length_mm = sherd_profile_length_mm (surface_of (self)->profile);
  const double last = frame->x0 + frame->bounds.size.width / frame->px_per_x;

  for (int degrees = (int)ceil (frame->x0 / TICK_DEG) * TICK_DEG; degrees <= last; degrees += TICK_DEG)
    {
      const graphene_point_t at = to_widget (frame, degrees, 0.0);
      g_autofree char *text = g_strdup_printf ("%d°", (degrees % 360 + 360) % 360);

      cairo_move_to (cr, at.x, at.y);
      cairo_rel_line_to (cr, 0.0, degrees % 360 == 0 ? frame->bounds.size.height : -5.0);
      cairo_stroke (cr);
      if (degrees % 90 == 0 || frame->px_per_x * TICK_DEG > 40.0)
        draw_text (self, cr, at.x, at.y - 14.0, TRUE, text);
    }
  for (int mm = 0; mm <= length_mm; mm += TICK_MM)
    {
      g_autofree char *text = g_strdup_printf ("%d", mm);
      const double y = frame->bounds.origin.y + mm * frame->px_per_y;

      cairo_move_to (cr, frame->bounds.origin.x - 5.0, y);
      cairo_rel_line_to (cr, 5.0, 0.0);
      cairo_stroke (cr);
      draw_text (self, cr, frame->bounds.origin.x - 8.0, y, FALSE, text);
    }
}

static void
draw_vessel (SherdSideView *self, cairo_t *cr, const Frame *frame)
{
  GdkRGBA ink;

  cairo_rectangle (cr, frame->bounds.origin.x, frame->bounds.origin.y, frame->bounds.size.width,
                   frame->bounds.size.height);
  cairo_fill (cr);
  gtk_style_context_get_color (gtk_widget_get_style_context (GTK_WIDGET (self)), &ink);
  gdk_cairo_set_source_rgba (cr, &ink);
  cairo_set_line_width (cr, 1.0);
  draw_scales (self, cr, frame);
}

static void
sherd_side_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdSideView *self = SHERD_SIDE_VIEW (widget);
  const graphene_rect_t whole =
    GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)gtk_widget_get_width (widget), (float)gtk_widget_get_height (widget));

  if (self->surface != NULL)
    {
      const Frame frame = frame_of (self);
      cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &whole);

      cairo_set_source_rgb (cr, 0.80, 0.75, 0.68);
      if (is_vessel (self))
        draw_vessel (self, cr, &frame);
      else
        draw_flat (self, cr, &frame);
      cairo_destroy (cr);
    }
  GTK_WIDGET_CLASS (sherd_side_view_parent_class)->snapshot (widget, snapshot);
}

static void
toggled_cb (GtkToggleButton *button, SherdSideView *self)
{
  if (self->selecting)
    return;
  sherd_side_view_select (self, zone_of (GTK_WIDGET (button)));
  g_signal_emit (self, zone_selected_signal, 0, zone_of (GTK_WIDGET (button)));
}

static void
label_button (GtkWidget *button, SherdZone *zone)
{
  SherdPaint *paint = sherd_zone_get_paint (zone);
  const char *paint_code = paint != NULL ? sherd_paint_get_code (paint) : _ ("bare");
  g_autofree char *text = g_strdup_printf ("%s\n%s", sherd_zone_get_code (zone), paint_code);
  const char *paint_name = paint != NULL ? sherd_paint_get_name (paint) : "";
  g_autofree char *spoken =
    *paint_name != '\0' ? g_strdup_printf (_ ("Zone %s, %s, %s"), sherd_zone_get_code (zone), paint_code, paint_name)
                        : g_strdup_printf (_ ("Zone %s, %s"), sherd_zone_get_code (zone), paint_code);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_CENTER);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_button_set_child (GTK_BUTTON (button), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  gtk_widget_set_tooltip_text (button, spoken);
  gtk_widget_add_css_class (button, "zone");
  if (paint == NULL)
    gtk_widget_add_css_class (button, "bare");
}

static void
add_button (SherdSideView *self, SherdZone *zone)
{
  GtkWidget *button = gtk_toggle_button_new ();

  label_button (button, zone);
  g_object_set_data_full (G_OBJECT (button), "zone", g_object_ref (zone), g_object_unref);
  gtk_widget_set_overflow (button, GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_parent (button, GTK_WIDGET (self));
  g_signal_connect (button, "toggled", G_CALLBACK (toggled_cb), self);
  g_ptr_array_add (self->buttons, button);
}

static void
remove_buttons (SherdSideView *self)
{
  for (guint i = 0; i < self->buttons->len; i++)
    gtk_widget_unparent (g_ptr_array_index (self->buttons, i));
  g_ptr_array_set_size (self->buttons, 0);
}

/**
 * sherd_side_view_show:
 * @self: the view
 * @piece: (nullable): a piece
 * @side: (nullable): its side
 *
 * Shows a side of a piece as it is now; call it again after an edit.
 */
void
sherd_side_view_show (SherdSideView *self, SherdPiece *piece, SherdSide *side)
{
  GListModel *zones = side != NULL ? sherd_side_get_zones (side) : NULL;

  g_set_object (&self->piece, piece);
  g_set_object (&self->side, side);
  g_clear_pointer (&self->surface, sherd_piece_surface_free);
  if (side != NULL)
    self->surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), NULL);
  remove_buttons (self);
  for (guint i = 0; zones != NULL && i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      add_button (self, zone);
    }
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/**
 * sherd_side_view_select:
 * @self: the view
 * @zone: (nullable): the zone to be shown as selected
 */
void
sherd_side_view_select (SherdSideView *self, SherdZone *zone)
{
  self->selecting = TRUE;
  for (guint i = 0; i < self->buttons->len; i++)
    {
      GtkWidget *button = g_ptr_array_index (self->buttons, i);

      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (button), zone_of (button) == zone);
    }
  self->selecting = FALSE;
}

static void
sherd_side_view_dispose (GObject *object)
{
  SherdSideView *self = SHERD_SIDE_VIEW (object);

  remove_buttons (self);
  g_clear_object (&self->piece);
  g_clear_object (&self->side);
  g_clear_pointer (&self->surface, sherd_piece_surface_free);
  G_OBJECT_CLASS (sherd_side_view_parent_class)->dispose (object);
}

static void
sherd_side_view_finalize (GObject *object)
{
  g_ptr_array_unref (SHERD_SIDE_VIEW (object)->buttons);
  G_OBJECT_CLASS (sherd_side_view_parent_class)->finalize (object);
}

static void
sherd_side_view_class_init (SherdSideViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_side_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sherd_side_view_finalize;
  widget_class->size_allocate = sherd_side_view_size_allocate;
  widget_class->snapshot = sherd_side_view_snapshot;
  gtk_widget_class_set_css_name (widget_class, "side-view");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);

  /**
   * SherdSideView::zone-selected:
   * @zone: the zone that was clicked or chosen with the keyboard
   */
  zone_selected_signal = g_signal_new ("zone-selected", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                       NULL, G_TYPE_NONE, 1, SHERD_TYPE_ZONE);
}

static void
sherd_side_view_init (SherdSideView *self)
{
  self->buttons = g_ptr_array_new ();
}
