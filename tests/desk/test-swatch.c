/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Colours by definition: white and mid-grey of sRGB in CIELAB D50; the vivid one lies far outside any screen. */
#include "config.h"

#include "desk/swatch.h"

#include "window-support.h"

static void
test_shows_the_colour (void)
{
  static const SherdLab grey = { 50.03, 0.0, 0.0 }; /* code 119 in sRGB, see test-photo-marks.c */
  GtkWidget *swatch = sherd_swatch_new (), *window = sherd_test_window (swatch, 60, 30);
  g_autoptr (GdkTexture) drawn = NULL;
  guint8 rgb[3];

  sherd_swatch_set_colour (SHERD_SWATCH (swatch), &grey);
  g_assert_true (sherd_swatch_is_exact (SHERD_SWATCH (swatch)));
  drawn = sherd_test_render (swatch);
  sherd_test_get_code (drawn, 30, 15, rgb);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpuint (rgb[i], ==, 119);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_tells_a_colour_that_does_not_fit_the_screen (void)
{
  static const SherdLab vivid = { 50.0, 120.0, -100.0 };
  g_autoptr (GtkWidget) swatch = g_object_ref_sink (sherd_swatch_new ());

  sherd_swatch_set_colour (SHERD_SWATCH (swatch), &vivid);
  g_assert_false (sherd_swatch_is_exact (SHERD_SWATCH (swatch)));
  sherd_test_assert_property (GTK_ACCESSIBLE (swatch), GTK_ACCESSIBLE_PROPERTY_LABEL,
                              "L* 50.0, a* 120.0, b* -100.0; more vivid than the screen can show");
}

static void
test_is_read_aloud (void)
{
  static const SherdLab lab = { 45.21, 12.04, 20.09 };
  g_autoptr (GtkWidget) swatch = g_object_ref_sink (sherd_swatch_new ());

  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (swatch), GTK_ACCESSIBLE_ROLE_IMG);
  sherd_test_assert_property (GTK_ACCESSIBLE (swatch), GTK_ACCESSIBLE_PROPERTY_LABEL, "not measured");
  sherd_swatch_set_colour (SHERD_SWATCH (swatch), &lab);
  sherd_test_assert_property (GTK_ACCESSIBLE (swatch), GTK_ACCESSIBLE_PROPERTY_LABEL, "L* 45.2, a* 12.0, b* 20.1");
}

static void
test_no_colour_looks_like_none (void)
{
  GtkWidget *swatch = sherd_swatch_new (), *window = sherd_test_window (swatch, 60, 30);
  g_autoptr (GdkTexture) drawn = sherd_test_render (window); /* with the window's ground */
  guint8 on_the_stroke[3], beside_it[3];

  g_assert_false (sherd_swatch_get_colour (SHERD_SWATCH (swatch), NULL));
  sherd_test_get_code (drawn, 30, 15, on_the_stroke); /* the stroke runs through the middle */
  sherd_test_get_code (drawn, 15, 8, beside_it);
  g_assert_cmpint (ABS (on_the_stroke[0] - beside_it[0]), >, 20);
  gtk_window_destroy (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  g_test_add_func ("/desk/swatch/shows-the-colour", test_shows_the_colour);
  g_test_add_func ("/desk/swatch/tells-a-colour-that-does-not-fit-the-screen",
                   test_tells_a_colour_that_does_not_fit_the_screen);
  g_test_add_func ("/desk/swatch/is-read-aloud", test_is_read_aloud);
  g_test_add_func ("/desk/swatch/no-colour-looks-like-none", test_no_colour_looks_like_none);
  return g_test_run ();
}
