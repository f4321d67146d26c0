/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window-support.h"

/* Our choice: a machine under load may take this long for what takes milliseconds; a test that waits longer fails. */
#define LONGEST_WAIT_US (20 * G_USEC_PER_SEC)

/* Without a display a test of the window proves nothing: on a build server that is a failure, elsewhere a skip. */
gboolean
sherd_test_init (int *argc, char ***argv)
{
  g_test_init (argc, argv, NULL);
  if (gtk_init_check ())
    {
      g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
      return TRUE;
    }
  if (g_strcmp0 (g_getenv ("CI"), "true") == 0)
    g_error ("There is no display, and tests of the window must not be skipped here.");
  g_print ("1..0 # SKIP no display\n");
  return FALSE;
}

static gboolean
time_over_cb (gpointer data)
{
  *(gboolean *)data = TRUE;
  return G_SOURCE_REMOVE;
}

void
sherd_test_spin (guint ms)
{
  gboolean over = FALSE;

  g_timeout_add (ms, time_over_cb, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
}

gboolean
sherd_test_wait (gboolean (*done) (gpointer), gpointer data)
{
  const gint64 end_us = g_get_monotonic_time () + LONGEST_WAIT_US;

  while (!done (data) && g_get_monotonic_time () < end_us)
    sherd_test_spin (5);
  return done (data);
}

/* A window of exactly this size with nothing else in it, on the screen. */
GtkWidget *
sherd_test_window (GtkWidget *child, int width_px, int height_px)
{
  GtkWidget *window = gtk_window_new ();

  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), width_px, height_px);
  gtk_widget_set_size_request (child, width_px, height_px);
  gtk_window_set_child (GTK_WINDOW (window), child);
  gtk_window_present (GTK_WINDOW (window));
  gtk_test_widget_wait_for_draw (child);
  return window;
}

static GskRenderNode *
draw (GtkWidget *widget)
{
  g_autoptr (GdkPaintable) paintable = NULL;
  GtkSnapshot *snapshot = gtk_snapshot_new ();

  gtk_widget_queue_draw (widget);
  gtk_test_widget_wait_for_draw (widget);
  paintable = gtk_widget_paintable_new (widget);
  gdk_paintable_snapshot (paintable, snapshot, gtk_widget_get_width (widget), gtk_widget_get_height (widget));
  return gtk_snapshot_free_to_node (snapshot);
}

/* What the widget looks like, a texture pixel a logical pixel. */
GdkTexture *
sherd_test_render (GtkWidget *widget)
{
  const gint64 end_us = g_get_monotonic_time () + LONGEST_WAIT_US;
  const graphene_rect_t all =
    GRAPHENE_RECT_INIT (0.0f, 0.0f, (float)gtk_widget_get_width (widget), (float)gtk_widget_get_height (widget));
  g_autoptr (GskRenderNode) node = draw (widget);

  while (!node && g_get_monotonic_time () < end_us) /* it was asked to draw again meanwhile */
    node = draw (widget);
  g_assert_nonnull (node);
  return gsk_renderer_render_texture (gtk_native_get_renderer (gtk_widget_get_native (widget)), node, &all);
}

/* gtk_test_accessible_assert_property() itself does not compile without warnings in 4.8. */
void
sherd_test_assert_property (gpointer accessible, GtkAccessibleProperty property, const char *expected)
{
  g_autofree char *found = gtk_test_accessible_check_property (GTK_ACCESSIBLE (accessible), property, expected);

  if (found)
    g_error ("expected “%s”, found “%s”", expected, found);
}

void
sherd_test_get_code (GdkTexture *texture, int x_px, int y_px, guint8 rgb[3])
{
  const gsize stride = 4 * (gsize)gdk_texture_get_width (texture);
  g_autofree guint8 *data = g_malloc (stride * (gsize)gdk_texture_get_height (texture));
  guint32 pixel;

  g_assert_cmpint (x_px, <, gdk_texture_get_width (texture));
  g_assert_cmpint (y_px, <, gdk_texture_get_height (texture));
  gdk_texture_download (texture, data, stride);
  pixel = ((guint32 *)(gpointer)(data + (gsize)y_px * stride))[x_px]; /* cairo's ARGB32, in the machine's order */
  rgb[0] = pixel >> 16 & 0xff;
  rgb[1] = pixel >> 8 & 0xff;
  rgb[2] = pixel & 0xff;
}

SherdPicture *
sherd_test_picture (guint width_px, guint height_px, SherdTestPaintFunc paint)
{
  SherdPicture *picture = g_new0 (SherdPicture, 1);
  const gsize size = 3 * (gsize)width_px * height_px;
  guint8 *pixels = g_malloc (size);

  for (guint y = 0; y < height_px; y++)
    for (guint x = 0; x < width_px; x++)
      paint (x, y, pixels + 3 * ((gsize)y * width_px + x));
  *picture = (SherdPicture){ width_px, height_px, 3 * (gsize)width_px, g_bytes_new_take (pixels, size) };
  return picture;
}
