/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The canvas driven from outside by real pointer and key events of the X server, sent with xdotool: shows that gestures
 * and keys reach what the other tests call directly. One widget px is one photo px and the widget's middle is photo
 * (1000, 700). */
#include "config.h"

#include <string.h>

#include <gdk/x11/gdkx.h>

#include "desk/photo-canvas.h"

#include "window-support.h"

#define WIDTH_PX 640
#define HEIGHT_PX 480
#define ROUNDING_PX 1e-9
#define OUTLINE_CODE "A"

typedef struct
{
  GtkWidget *window;
  SherdPhotoCanvas *canvas;
} Fixture;

static void
paint_grey (guint x_px, guint y_px, guint8 rgb[3])
{
  memset (rgb, 119, 3);
}

static gboolean
has_ended (gpointer ended)
{
  return *(gboolean *)ended;
}

static void
ended_cb (GPid pid, int status, gpointer ended)
{
  *(gboolean *)ended = TRUE;
  g_spawn_close_pid (pid);
}

/* Runs xdotool with these words; WINDOW stands for the window. The main loop goes on meanwhile. */
static void
drive (Fixture *fixture, const char *words)
{
  GdkSurface *surface = gtk_native_get_surface (GTK_NATIVE (fixture->window));
  g_autofree char *window = g_strdup_printf ("%lu", gdk_x11_surface_get_xid (surface));
  g_auto (GStrv) parts = g_strsplit (words, "WINDOW", -1);
  g_autofree char *filled = g_strjoinv (window, parts);
  g_autofree char *command = g_strconcat ("xdotool ", filled, NULL);
  g_auto (GStrv) arguments = g_strsplit (command, " ", -1);
  g_autoptr (GError) error = NULL;
  gboolean ended = FALSE;
  GPid pid;

  g_spawn_async (NULL, arguments, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_DO_NOT_REAP_CHILD, NULL, NULL, &pid, &error);
  g_assert_no_error (error);
  g_child_watch_add (pid, ended_cb, &ended);
  g_assert_true (sherd_test_wait (has_ended, &ended));
  /* Pointer motion is handed out once a frame: let two go by, however long they take. */
  for (int frame = 0; frame < 2; frame++)
    {
      gdk_display_sync (gdk_display_get_default ());
      sherd_test_spin (20);
      gtk_widget_queue_draw (fixture->window);
      gtk_test_widget_wait_for_draw (fixture->window);
    }
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (2000, 1400, paint_grey);
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (1100.0, 750.0, 60.0, 60.0);

  fixture->canvas = SHERD_PHOTO_CANVAS (sherd_photo_canvas_new ());
  sherd_photo_canvas_set_picture (fixture->canvas, picture);
  sherd_photo_canvas_add_outline (fixture->canvas, outline, OUTLINE_CODE);
  sherd_photo_canvas_add_mark (fixture->canvas, SHERD_PHOTO_MARK_PIECE, "first corner");
  sherd_photo_canvas_add_mark (fixture->canvas, SHERD_PHOTO_MARK_PIECE, "second corner");
  fixture->window = sherd_test_window (GTK_WIDGET (fixture->canvas), WIDTH_PX, HEIGHT_PX);
  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 1000.0, 700.0 });
  drive (fixture, "windowfocus WINDOW mousemove --window WINDOW 5 5");
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  sherd_test_spin (50);
}

static void
assert_mark (SherdPhotoCanvas *canvas, guint index, double x, double y)
{
  SherdPoint photo_px;

  g_assert_true (sherd_photo_canvas_get_mark (canvas, index, &photo_px));
  g_assert_cmpfloat_with_epsilon (photo_px.x, x, ROUNDING_PX);
  g_assert_cmpfloat_with_epsilon (photo_px.y, y, ROUNDING_PX);
}

static void
assert_centre (SherdPhotoCanvas *canvas, double x, double y)
{
  const SherdPoint centre_px = sherd_photo_canvas_get_centre (canvas);

  g_assert_cmpfloat_with_epsilon (centre_px.x, x, ROUNDING_PX);
  g_assert_cmpfloat_with_epsilon (centre_px.y, y, ROUNDING_PX);
}

static void
test_clicks_place_marks (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_begin_marking (fixture->canvas);
  drive (fixture, "mousemove --window WINDOW 200 100 sleep 0.05 click 1");
  assert_mark (fixture->canvas, 0, 880.0, 560.0);
  drive (fixture, "mousemove --window WINDOW 400 300 sleep 0.05 click 1");
  assert_mark (fixture->canvas, 1, 1080.0, 760.0);
  g_assert_false (sherd_photo_canvas_get_marking (fixture->canvas));
}

static void
test_a_mark_can_be_dragged_and_nudged (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_mark (fixture->canvas, 0, (SherdPoint){ 900.0, 600.0 }); /* widget 220, 140 */
  drive (fixture,
         "mousemove --window WINDOW 220 140 sleep 0.05 mousedown 1 mousemove --window WINDOW 230 140 sleep 0.05 "
         "mousemove --window WINDOW 250 165 sleep 0.05 mouseup 1");
  assert_mark (fixture->canvas, 0, 930.0, 625.0);
  drive (fixture, "key Right key Right key shift+Down key ctrl+Left");
  assert_mark (fixture->canvas, 0, 931.9, 635.0);
  drive (fixture, "key Delete");
  g_assert_false (sherd_photo_canvas_get_mark (fixture->canvas, 0, NULL));
}

static void
test_a_drag_pans (Fixture *fixture, gconstpointer data)
{
  drive (fixture,
         "mousemove --window WINDOW 220 140 sleep 0.05 mousedown 1 mousemove --window WINDOW 230 150 sleep 0.05 "
         "mousemove --window WINDOW 260 120 sleep 0.05 mouseup 1");
  assert_centre (fixture->canvas, 960.0, 720.0);
}

static void
test_the_middle_button_pans_while_marking (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_begin_marking (fixture->canvas);
  drive (fixture,
         "mousemove --window WINDOW 220 140 sleep 0.05 mousedown 2 mousemove --window WINDOW 230 150 sleep 0.05 "
         "mousemove --window WINDOW 260 120 sleep 0.05 mouseup 2");
  assert_centre (fixture->canvas, 960.0, 720.0);
  g_assert_false (sherd_photo_canvas_get_mark (fixture->canvas, 0, NULL));
}

static void
test_space_and_a_drag_pan_while_marking (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_begin_marking (fixture->canvas);
  drive (fixture, "mousemove --window WINDOW 220 140 keydown space sleep 0.05 mousedown 1 "
                  "mousemove --window WINDOW 260 120 sleep 0.05 mouseup 1 keyup space");
  assert_centre (fixture->canvas, 960.0, 720.0);
  g_assert_false (sherd_photo_canvas_get_mark (fixture->canvas, 0, NULL));
}

static void
test_the_wheel_zooms (Fixture *fixture, gconstpointer data)
{
  drive (fixture, "mousemove --window WINDOW 320 240 sleep 0.05 click 4 click 4 click 4");
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 2.0, 1e-9);
  drive (fixture, "click 5 click 5 click 5");
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 1.0, 1e-9);
}

static void
test_keys_zoom_and_pan (Fixture *fixture, gconstpointer data)
{
  gtk_widget_grab_focus (GTK_WIDGET (fixture->canvas));
  drive (fixture, "key Right");
  assert_centre (fixture->canvas, 1064.0, 700.0);
  drive (fixture, "key plus key plus");
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 2.0, 1e-9);
  drive (fixture, "key 1");
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 1.0, 1e-9);
}

static void
note_index_cb (SherdPhotoCanvas *canvas, guint index, int *noted)
{
  *noted = (int)index;
}

static void
test_outline_by_click_and_by_keys (Fixture *fixture, gconstpointer data)
{
  int activated = -1;

  g_signal_connect (fixture->canvas, "outline-activated", G_CALLBACK (note_index_cb), &activated);
  drive (fixture, "mousemove --window WINDOW 450 320 sleep 0.05 click 1"); /* photo 1130, 780 */
  g_assert_cmpint (activated, ==, 0);
  activated = -1;
  gtk_widget_grab_focus (GTK_WIDGET (fixture->canvas));
  drive (fixture, "key Tab key Return"); /* no mark is placed: the outline is next */
  g_assert_cmpint (activated, ==, 0);
}

static void
note_pointer_cb (SherdPhotoCanvas *canvas, double x, double y, gboolean inside, double *noted)
{
  noted[0] = x;
  noted[1] = y;
  noted[2] = inside;
}

static void
test_the_pointer_is_followed (Fixture *fixture, gconstpointer data)
{
  double noted[3] = { 0 };

  g_signal_connect (fixture->canvas, "pointer-moved", G_CALLBACK (note_pointer_cb), noted);
  drive (fixture, "mousemove --window WINDOW 330 250");
  g_assert_cmpfloat_with_epsilon (noted[0], 1010.0, ROUNDING_PX);
  g_assert_cmpfloat_with_epsilon (noted[1], 710.0, ROUNDING_PX);
  g_assert_true (noted[2] != 0.0);
}

static gboolean
may_run (void)
{
  g_autofree char *path = g_find_program_in_path ("xdotool");

  if (path && GDK_IS_X11_DISPLAY (gdk_display_get_default ()))
    return TRUE;
  if (g_strcmp0 (g_getenv ("CI"), "true") == 0)
    g_error ("xdotool or an X display is missing, and this test must not be skipped here.");
  g_print ("1..0 # SKIP xdotool or an X display is missing\n");
  return FALSE;
}

static void
add (const char *name, void (*test) (Fixture *, gconstpointer))
{
  g_autofree char *path = g_strconcat ("/desk/photo-pointer/", name, NULL);

  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv) || !may_run ())
    return 0;
  add ("clicks-place-marks", test_clicks_place_marks);
  add ("a-mark-can-be-dragged-and-nudged", test_a_mark_can_be_dragged_and_nudged);
  add ("a-drag-pans", test_a_drag_pans);
  add ("the-middle-button-pans-while-marking", test_the_middle_button_pans_while_marking);
  add ("space-and-a-drag-pan-while-marking", test_space_and_a_drag_pan_while_marking);
  add ("the-wheel-zooms", test_the_wheel_zooms);
  add ("keys-zoom-and-pan", test_keys_zoom_and_pan);
  add ("outline-by-click-and-by-keys", test_outline_by_click_and_by_keys);
  add ("the-pointer-is-followed", test_the_pointer_is_followed);
  return g_test_run ();
}
