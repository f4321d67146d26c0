/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sizes chosen here; what must hold is said in data/org.sherdboard.Sherdboard.gschema.xml. */
#include "config.h"

#include "desk/window-size.h"

#include "window-support.h"

#define WIDTH_PX 700
#define HEIGHT_PX 500

static void
test_opens_as_large_as_the_last_was_left (void)
{
  g_autoptr (GSettings) settings = g_settings_new (SHERD_APP_ID);
  GtkWindow *first = GTK_WINDOW (gtk_window_new ());
  GtkWindow *second = GTK_WINDOW (gtk_window_new ());
  int width_px, height_px;

  sherd_window_size_keep (first);
  gtk_window_set_default_size (first, WIDTH_PX, HEIGHT_PX);
  g_assert_cmpint (g_settings_get_int (settings, "window-width"), ==, WIDTH_PX);
  gtk_window_destroy (first);

  sherd_window_size_keep (second);
  gtk_window_get_default_size (second, &width_px, &height_px);
  g_assert_cmpint (width_px, ==, WIDTH_PX);
  g_assert_cmpint (height_px, ==, HEIGHT_PX);
  gtk_window_destroy (second);
}

static void
test_remembers_that_it_fills_the_screen (void)
{
  g_autoptr (GSettings) settings = g_settings_new (SHERD_APP_ID);
  GtkWindow *window = GTK_WINDOW (gtk_window_new ());

  g_settings_set_boolean (settings, "window-maximized", TRUE);
  sherd_window_size_keep (window);
  g_assert_true (gtk_window_is_maximized (window));
  g_settings_reset (settings, "window-maximized");
  gtk_window_destroy (window);
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  g_test_add_func ("/desk/window-size/opens-as-large-as-the-last-was-left", test_opens_as_large_as_the_last_was_left);
  g_test_add_func ("/desk/window-size/remembers-that-it-fills-the-screen", test_remembers_that_it_fills_the_screen);
  return g_test_run ();
}
