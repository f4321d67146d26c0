/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the dot of a paint is drawn: found as what differs from the plot without a peak. */
#include "config.h"

#include <math.h>

#include "desk/outlook-plot.h"
#include "window-support.h"

#define WIDTH_PX 400
#define HEIGHT_PX 300

/* An invented system with one low place in the middle. */
static const SherdOutlookPoint liquidus[] = { { 0.0, 1600.0 }, { 0.5, 700.0 }, { 1.0, 900.0 } };

static SherdOutlookPlot *
show_plot (void)
{
  SherdOutlookPlot *plot = SHERD_OUTLOOK_PLOT (sherd_outlook_plot_new ());

  sherd_outlook_plot_set_system (plot, "SiO2", "PbO", liquidus, G_N_ELEMENTS (liquidus));
  sherd_test_window (GTK_WIDGET (plot), WIDTH_PX, HEIGHT_PX);
  return plot;
}

static void
close_plot (SherdOutlookPlot *plot)
{
  gtk_window_destroy (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (plot))));
}

static guint32 *
dup_pixels (SherdOutlookPlot *plot)
{
  g_autoptr (GdkTexture) texture = sherd_test_render (GTK_WIDGET (plot));
  guint32 *pixels = g_new0 (guint32, WIDTH_PX * HEIGHT_PX);

  gdk_texture_download (texture, (guint8 *)pixels, 4 * WIDTH_PX);
  return pixels;
}

/* Centre of what the peak adds to the picture. */
static void
find_dot (SherdOutlookPlot *plot, double share_frac, double peak_c, double *x_px, double *y_px)
{
  g_autofree guint32 *without = NULL;
  g_autofree guint32 *with = NULL;
  guint n = 0;

  sherd_outlook_plot_set_paint (plot, share_frac, share_frac, share_frac, NAN);
  without = dup_pixels (plot);
  sherd_outlook_plot_set_paint (plot, share_frac, share_frac, share_frac, peak_c);
  with = dup_pixels (plot);
  *x_px = *y_px = 0.0;
  for (guint i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    if (with[i] != without[i])
      {
        *x_px += i % WIDTH_PX;
        *y_px += i / WIDTH_PX;
        n++;
      }
  g_assert_cmpuint (n, >, 20); /* a disc of 4.5 px has 64 pixels */
  *x_px /= n;
  *y_px /= n;
}

static void
test_the_paint_stands_at_its_share_and_peak (void)
{
  SherdOutlookPlot *plot = show_plot ();
  double x_quarter, x_half, x_three, y_quarter, y_half, y_three;

  find_dot (plot, 0.25, 800.0, &x_quarter, &y_quarter);
  find_dot (plot, 0.5, 1000.0, &x_half, &y_half);
  find_dot (plot, 0.75, 1200.0, &x_three, &y_three);
  g_assert_cmpfloat_with_epsilon (x_half, 0.5 * (x_quarter + x_three), 1.0);
  g_assert_cmpfloat (x_three, >, x_quarter + 100.0);
  g_assert_cmpfloat_with_epsilon (y_half, 0.5 * (y_quarter + y_three), 1.0);
  g_assert_cmpfloat (y_three, <, y_quarter - 40.0);
  close_plot (plot);
}

static void
test_a_screen_reader_hears_where_the_paint_stands (void)
{
  SherdOutlookPlot *plot = show_plot ();

  sherd_outlook_plot_set_paint (plot, 0.4, 0.35, 0.45, 850.0);
  sherd_test_assert_property (plot, GTK_ACCESSIBLE_PROPERTY_LABEL,
                              "Melting of SiO2 and PbO: the paint has 40 mole % PbO and is fired to 850 °C");
  close_plot (plot);
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  g_test_add_func ("/desk/outlook-plot/the paint stands at its share and peak",
                   test_the_paint_stands_at_its_share_and_peak);
  g_test_add_func ("/desk/outlook-plot/a screen reader hears where the paint stands",
                   test_a_screen_reader_hears_where_the_paint_stands);
  return g_test_run ();
}
