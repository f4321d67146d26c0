/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/swatch.h"

#include <math.h>

#include <glib/gi18n-lib.h>

#include "colour/srgb.h"
#include "desk/lab-text.h"
#include "desk/legible.h"

#define WIDTH_PX 40
#define HEIGHT_PX 20
/* Half a code of an 8-bit screen: less cannot be seen on it. */
#define CODE_ROUNDING (0.5 / 255.0)

/* A small patch of one colour. Where there is no colour it is crossed out; a colour that the screen cannot show has a
 * cut corner. */
struct _SherdSwatch
{
  GtkWidget parent_instance;

  gboolean has_colour;
  SherdLab lab;
  GdkRGBA shown;
  gboolean exact; /* whether @shown is the colour, not the nearest in sRGB */
};

G_DEFINE_FINAL_TYPE (SherdSwatch, sherd_swatch, GTK_TYPE_WIDGET)

static void
draw_cut_corner (GtkSnapshot *snapshot, float width_px, float height_px)
{
  const double side_px = height_px / 2.5;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0.0f, 0.0f, width_px, height_px));

  cairo_move_to (cr, width_px - side_px, 0.0);
  cairo_line_to (cr, width_px, side_px);
  sherd_legible_stroke (cr, 1.0);
  cairo_destroy (cr);
}

static void
draw_no_colour (GtkWidget *widget, GtkSnapshot *snapshot, float width_px, float height_px)
{
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0.0f, 0.0f, width_px, height_px));
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  ink.alpha *= 0.5f;
  gdk_cairo_set_source_rgba (cr, &ink);
  cairo_set_line_width (cr, 1.0);
  cairo_rectangle (cr, 0.5, 0.5, width_px - 1.0f, height_px - 1.0f);
  cairo_move_to (cr, 0.5, height_px - 0.5);
  cairo_line_to (cr, width_px - 0.5, 0.5);
  cairo_stroke (cr);
  cairo_destroy (cr);
}

static void
sherd_swatch_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  SherdSwatch *self = SHERD_SWATCH (widget);
  const float width_px = (float)gtk_widget_get_width (widget), height_px = (float)gtk_widget_get_height (widget);

  if (!self->has_colour)
    {
      draw_no_colour (widget, snapshot, width_px, height_px);
      return;
    }
  gtk_snapshot_append_color (snapshot, &self->shown, &GRAPHENE_RECT_INIT (0.0f, 0.0f, width_px, height_px));
  if (!self->exact)
    draw_cut_corner (snapshot, width_px, height_px);
}

static void
sherd_swatch_measure (GtkWidget *widget,
                      GtkOrientation orientation,
                      int for_size,
                      int *minimum,
                      int *natural,
                      int *minimum_baseline,
                      int *natural_baseline)
{
  *minimum = *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? WIDTH_PX : HEIGHT_PX;
}

static void
sherd_swatch_class_init (SherdSwatchClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->snapshot = sherd_swatch_snapshot;
  widget_class->measure = sherd_swatch_measure;
  gtk_widget_class_set_css_name (widget_class, "swatch");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

static void
sherd_swatch_init (SherdSwatch *self)
{
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  sherd_swatch_set_colour (self, NULL);
}

/**
 * sherd_swatch_new:
 *
 * Returns: (transfer floating): a swatch without a colour
 */
GtkWidget *
sherd_swatch_new (void)
{
  return g_object_new (SHERD_TYPE_SWATCH, NULL);
}

static double
encode_clipped (double linear, gboolean *exact)
{
  const double encoded = sherd_srgb_encode (CLAMP (linear, 0.0, 1.0));

  if (fabs (encoded - sherd_srgb_encode (linear)) > CODE_ROUNDING)
    *exact = FALSE;
  return encoded;
}

static void
find_shown (SherdSwatch *self)
{
  const SherdXyz xyz = sherd_lab_to_xyz (&self->lab);
  const SherdRgb linear = sherd_srgb_from_xyz_d50 (&xyz);

  self->exact = TRUE;
  self->shown.red = (float)encode_clipped (linear.r, &self->exact);
  self->shown.green = (float)encode_clipped (linear.g, &self->exact);
  self->shown.blue = (float)encode_clipped (linear.b, &self->exact);
  self->shown.alpha = 1.0f;
}

static char *
describe (SherdSwatch *self)
{
  g_autofree char *text = NULL;

  if (!self->has_colour)
    return g_strdup (_ ("not measured"));
  text = sherd_lab_text (&self->lab);
  if (self->exact)
    return g_steal_pointer (&text);
  /* Translators: %s is a colour in CIELAB. */
  return g_strdup_printf (_ ("%s; more vivid than the screen can show"), text);
}

/**
 * sherd_swatch_set_colour:
 * @self: the swatch
 * @lab: (nullable): CIELAB, D50, 2°; NULL where nothing was measured
 *
 * Shows a colour, or the nearest that fits in sRGB.
 */
void
sherd_swatch_set_colour (SherdSwatch *self, const SherdLab *lab)
{
  g_autofree char *label = NULL;

  g_return_if_fail (SHERD_IS_SWATCH (self));
  self->has_colour = lab != NULL;
  if (lab)
    {
      self->lab = *lab;
      find_shown (self);
    }
  label = describe (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self), label);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/**
 * sherd_swatch_get_colour:
 * @self: the swatch
 * @lab: (out) (optional): the colour it was given
 *
 * Returns: whether it has one
 */
gboolean
sherd_swatch_get_colour (SherdSwatch *self, SherdLab *lab)
{
  g_return_val_if_fail (SHERD_IS_SWATCH (self), FALSE);
  if (self->has_colour && lab)
    *lab = self->lab;
  return self->has_colour;
}

/**
 * sherd_swatch_is_exact:
 * @self: the swatch
 *
 * Returns: whether sRGB holds the colour, so that it is shown as it is
 */
gboolean
sherd_swatch_is_exact (SherdSwatch *self)
{
  g_return_val_if_fail (SHERD_IS_SWATCH (self), FALSE);
  return self->has_colour && self->exact;
}
