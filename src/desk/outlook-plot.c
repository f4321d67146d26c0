/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/outlook-plot.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/format.h"

/* Room for the axes, in widths of a digit, so that it grows with the text. */
#define LEFT_DIGITS 7.0
#define BOTTOM_LINES 2.4
#define TOP_LINES 0.8
#define RIGHT_DIGITS 2.0

#define TEMPERATURE_STEP_C 200.0
#define N_SHARES 4
#define TICK_PX 4.0
#define MARKER_PX 4.5

struct _SherdOutlookPlot
{
  GtkWidget parent_instance;

  char *left;
  char *right;
  GArray *points; /* SherdOutlookPoint */
  double share_frac;
  double least_frac;
  double most_frac;
  double peak_c;
};

/* Where the plot lies in the widget and what its edges mean. */
typedef struct
{
  double x0_px, y0_px; /* bottom left */
  double width_px, height_px;
  double low_c, high_c;
} Frame;

G_DEFINE_FINAL_TYPE (SherdOutlookPlot, sherd_outlook_plot, GTK_TYPE_WIDGET)

static double
x_px (const Frame *frame, double share_frac)
{
  return frame->x0_px + share_frac * frame->width_px;
}

static double
y_px (const Frame *frame, double temperature_c)
{
  return frame->y0_px - (temperature_c - frame->low_c) / (frame->high_c - frame->low_c) * frame->height_px;
}

/* Whole steps around the curve and the peak. */
static void
find_temperatures (SherdOutlookPlot *self, Frame *frame)
{
  double low_c = isfinite (self->peak_c) ? self->peak_c : INFINITY, high_c = -INFINITY;

  for (guint i = 0; i < self->points->len; i++)
    {
      const double temperature_c = g_array_index (self->points, SherdOutlookPoint, i).temperature_c;

      low_c = MIN (low_c, temperature_c);
      high_c = MAX (high_c, temperature_c);
    }
  if (isfinite (self->peak_c))
    high_c = MAX (high_c, self->peak_c);
  frame->low_c = TEMPERATURE_STEP_C * floor (low_c / TEMPERATURE_STEP_C - 0.25);
  frame->high_c = TEMPERATURE_STEP_C * ceil (high_c / TEMPERATURE_STEP_C);
}

static Frame
find_frame (SherdOutlookPlot *self, PangoLayout *layout)
{
  const double width = gtk_widget_get_width (GTK_WIDGET (self)), height = gtk_widget_get_height (GTK_WIDGET (self));
  int digit, line;
  Frame frame;

  pango_layout_set_text (layout, "0", -1);
  pango_layout_get_pixel_size (layout, &digit, &line);
  frame.x0_px = LEFT_DIGITS * digit;
  frame.y0_px = height - BOTTOM_LINES * line;
  frame.width_px = width - frame.x0_px - RIGHT_DIGITS * digit;
  frame.height_px = frame.y0_px - TOP_LINES * line;
  find_temperatures (self, &frame);
  return frame;
}

/* @x_share, @y_share: which part of the text lies left of and above the place: 0.5, 0 is centred below it. */
static void
draw_text (cairo_t *cr, PangoLayout *layout, const char *text, double x, double y, double x_share, double y_share)
{
  int width, height;

  pango_layout_set_text (layout, text, -1);
  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_move_to (cr, round (x - x_share * width), round (y - y_share * height));
  pango_cairo_show_layout (cr, layout);
}

static void
draw_temperatures (cairo_t *cr, PangoLayout *layout, const Frame *frame)
{
  const int n_steps = (int)round ((frame->high_c - frame->low_c) / TEMPERATURE_STEP_C);

  for (int i = 0; i <= n_steps; i++)
    {
      const double at_c = frame->low_c + i * TEMPERATURE_STEP_C;
      g_autofree char *text = g_strdup_printf (_ ("%.0f °C"), at_c);
      const double y = round (y_px (frame, at_c)) + 0.5;

      cairo_move_to (cr, frame->x0_px - TICK_PX, y);
      cairo_line_to (cr, frame->x0_px, y);
      cairo_stroke (cr);
      draw_text (cr, layout, text, frame->x0_px - 1.5 * TICK_PX, y, 1.0, 0.5);
    }
}

static void
draw_shares (cairo_t *cr, PangoLayout *layout, const Frame *frame)
{
  for (int i = 0; i <= N_SHARES; i++)
    {
      const double share = (double)i / N_SHARES;
      g_autofree char *text = g_strdup_printf ("%.0f", 100.0 * share);
      const double x = round (x_px (frame, share)) + 0.5;

      cairo_move_to (cr, x, frame->y0_px);
      cairo_line_to (cr, x, frame->y0_px + TICK_PX);
      cairo_stroke (cr);
      draw_text (cr, layout, text, x, frame->y0_px + TICK_PX, 0.5, 0.0);
    }
}

static void
draw_axes (SherdOutlookPlot *self, cairo_t *cr, PangoLayout *layout, const Frame *frame)
{
  g_autofree char *title = g_strdup_printf (_ ("%s in %s + %s, mole %%"), self->right, self->left, self->right);

  cairo_set_line_width (cr, 1.0);
  cairo_rectangle (cr, frame->x0_px + 0.5, frame->y0_px - frame->height_px + 0.5, frame->width_px, frame->height_px);
  cairo_stroke (cr);
  draw_temperatures (cr, layout, frame);
  draw_shares (cr, layout, frame);
  draw_text (cr, layout, title, frame->x0_px + 0.5 * frame->width_px, gtk_widget_get_height (GTK_WIDGET (self)), 0.5,
             1.0);
}

static void
draw_liquidus (SherdOutlookPlot *self, cairo_t *cr, const Frame *frame)
{
  cairo_new_path (cr);
  for (guint i = 0; i < self->points->len; i++)
    {
      const SherdOutlookPoint *point = &g_array_index (self->points, SherdOutlookPoint, i);

      cairo_line_to (cr, x_px (frame, point->share_frac), y_px (frame, point->temperature_c));
    }
  cairo_set_line_width (cr, 2.0);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
}

/* A band as wide as the doubt, and a dot at the peak where that is known. */
static void
draw_paint (SherdOutlookPlot *self, cairo_t *cr, const Frame *frame)
{
  const double left_px = x_px (frame, CLAMP (self->least_frac, 0.0, self->share_frac));
  const double right_px = x_px (frame, CLAMP (self->most_frac, self->share_frac, 1.0));
  const double middle_px = x_px (frame, self->share_frac);

  cairo_save (cr);
  cairo_rectangle (cr, left_px, frame->y0_px - frame->height_px, right_px - left_px, frame->height_px);
  cairo_clip (cr);
  cairo_paint_with_alpha (cr, 0.15);
  cairo_restore (cr);
  cairo_set_line_width (cr, 1.0);
  cairo_set_dash (cr, (const double[]){ 4.0, 3.0 }, 2, 0.0);
  cairo_move_to (cr, middle_px, frame->y0_px);
  cairo_line_to (cr, middle_px, frame->y0_px - frame->height_px);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0.0);
  if (!isfinite (self->peak_c))
    return;
  cairo_new_path (cr);
  cairo_arc (cr, middle_px, y_px (frame, self->peak_c), MARKER_PX, 0.0, 2.0 * G_PI);
  cairo_fill (cr);
}

static void
sherd_outlook_plot_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdOutlookPlot *self = SHERD_OUTLOOK_PLOT (widget);
  const graphene_rect_t all =
    GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)gtk_widget_get_width (widget), (float)gtk_widget_get_height (widget));
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, NULL);
  cairo_t *cr;
  GdkRGBA ink;
  Frame frame;

  if (self->points->len < 2)
    return;
  frame = find_frame (self, layout);
  cr = gtk_snapshot_append_cairo (snapshot, &all);
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  gdk_cairo_set_source_rgba (cr, &ink);
  draw_axes (self, cr, layout, &frame);
  draw_liquidus (self, cr, &frame);
  if (isfinite (self->share_frac))
    draw_paint (self, cr, &frame);
  cairo_destroy (cr);
}

static void
sherd_outlook_plot_measure (GtkWidget *widget,
                            GtkOrientation orientation,
                            int for_size,
                            int *minimum,
                            int *natural,
                            int *minimum_baseline,
                            int *natural_baseline)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (widget, "0");
  int digit, line;

  pango_layout_get_pixel_size (layout, &digit, &line);
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 30 * digit : 12 * line;
  *natural = *minimum;
}

static void
describe (SherdOutlookPlot *self)
{
  g_autofree char *share = sherd_format_number (100.0 * self->share_frac, 0);
  g_autofree char *peak = sherd_format_number (self->peak_c, 0);
  g_autofree char *words = NULL;

  if (self->left == NULL || !isfinite (self->share_frac))
    words = g_strdup (_ ("Melting of the system"));
  else if (isfinite (self->peak_c))
    words = g_strdup_printf (_ ("Melting of %s and %s: the paint has %s mole %% %s and is fired to %s °C"), self->left,
                             self->right, share, self->right, peak);
  else
    words = g_strdup_printf (_ ("Melting of %s and %s: the paint has %s mole %% %s"), self->left, self->right, share,
                             self->right);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
}

/**
 * sherd_outlook_plot_set_system:
 * @self: a plot
 * @left: oxide at the left end, as a formula
 * @right: oxide at the right end
 * @points: the liquidus from left to right
 * @n_points: how many
 *
 * Shows another system.
 */
void
sherd_outlook_plot_set_system (SherdOutlookPlot *self,
                               const char *left,
                               const char *right,
                               const SherdOutlookPoint *points,
                               gsize n_points)
{
  g_free (self->left);
  g_free (self->right);
  self->left = g_strdup (left);
  self->right = g_strdup (right);
  g_array_set_size (self->points, 0);
  g_array_append_vals (self->points, points, (guint)n_points);
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_outlook_plot_set_paint:
 * @self: a plot
 * @share_frac: mole share of the right-hand oxide, of the two; NAN: no paint is shown
 * @least_frac: the least it may be
 * @most_frac: the most
 * @peak_c: temperature the paint is fired to; NAN when not known
 *
 * Shows where a paint stands.
 */
void
sherd_outlook_plot_set_paint (SherdOutlookPlot *self,
                              double share_frac,
                              double least_frac,
                              double most_frac,
                              double peak_c)
{
  self->share_frac = share_frac;
  self->least_frac = least_frac;
  self->most_frac = most_frac;
  self->peak_c = peak_c;
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_outlook_plot_new:
 *
 * Returns: (transfer floating): an empty plot
 */
GtkWidget *
sherd_outlook_plot_new (void)
{
  return g_object_new (SHERD_TYPE_OUTLOOK_PLOT, NULL);
}

static void
sherd_outlook_plot_finalize (GObject *object)
{
  SherdOutlookPlot *self = SHERD_OUTLOOK_PLOT (object);

  g_free (self->left);
  g_free (self->right);
  g_array_unref (self->points);
  G_OBJECT_CLASS (sherd_outlook_plot_parent_class)->finalize (object);
}

static void
sherd_outlook_plot_class_init (SherdOutlookPlotClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_outlook_plot_finalize;
  widget_class->snapshot = sherd_outlook_plot_snapshot;
  widget_class->measure = sherd_outlook_plot_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sherd_outlook_plot_init (SherdOutlookPlot *self)
{
  self->points = g_array_new (FALSE, FALSE, sizeof (SherdOutlookPoint));
  self->share_frac = self->peak_c = NAN;
}
