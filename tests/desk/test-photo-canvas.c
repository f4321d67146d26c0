/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The picture is made so that every pixel's colour tells its place: what is drawn can be held against it. The
 * homographies of the linked views are exact, made by hand. */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include <math.h>
#include <string.h>

#include "desk/legible.h"

#include "window-support.h"

#define WIDTH_PX 640
#define HEIGHT_PX 480
/* Half a code for rounding, half for the texture's. */
#define CODE_TOLERANCE 1
/* The origin is a whole number of widget pixels. */
#define HALF_A_WIDGET_PX 0.5

typedef struct
{
  GtkWidget *window;
  SherdPhotoCanvas *canvas;
} Fixture;

static void
paint_place (guint x_px, guint y_px, guint8 rgb[3])
{
  rgb[0] = (guint8)(x_px / 8);
  rgb[1] = (guint8)(y_px / 8);
  rgb[2] = (guint8)(x_px * 31 + y_px * 17);
}

static gboolean
is_ready (gpointer pyramid)
{
  return sherd_photo_pyramid_is_ready (pyramid);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (2000, 1400, paint_place);

  fixture->canvas = SHERD_PHOTO_CANVAS (sherd_photo_canvas_new ());
  sherd_photo_canvas_set_picture (fixture->canvas, picture);
  fixture->window = sherd_test_window (GTK_WIDGET (fixture->canvas), WIDTH_PX, HEIGHT_PX);
  g_assert_true (sherd_test_wait (is_ready, sherd_photo_canvas_get_pyramid (fixture->canvas)));
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
}

/* Waits until the view has settled and is drawn sharply. */
static GdkTexture *
render_settled (SherdPhotoCanvas *canvas)
{
  sherd_test_spin (250);
  return sherd_test_render (GTK_WIDGET (canvas));
}

static void
assert_near (SherdPoint point, double x, double y, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (point.x, x, tolerance);
  g_assert_cmpfloat_with_epsilon (point.y, y, tolerance);
}

/* Drawing */

static void
test_one_to_one_is_drawn_pixel_by_pixel (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GdkTexture) drawn = NULL;

  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 1024.0, 512.0 }); /* astride four tiles */
  drawn = render_settled (fixture->canvas);
  for (int y = 3; y < HEIGHT_PX; y += 29)
    for (int x = 3; x < WIDTH_PX; x += 31)
      {
        const SherdPoint photo_px = sherd_photo_canvas_widget_to_photo (fixture->canvas, (SherdPoint){ x, y });
        guint8 rgb[3], expected[3];

        sherd_test_get_code (drawn, x, y, rgb);
        paint_place ((guint)photo_px.x, (guint)photo_px.y, expected);
        g_assert_cmpmem (rgb, 3, expected, 3);
      }
}

static void
test_halved_is_drawn_from_the_halved_level (Fixture *fixture, gconstpointer data)
{
  const SherdPicture *level = sherd_photo_pyramid_get_level (sherd_photo_canvas_get_pyramid (fixture->canvas), 1);
  const guint8 *pixels = g_bytes_get_data (level->pixels, NULL);
  g_autoptr (GdkTexture) drawn = NULL;

  sherd_photo_canvas_set_view (fixture->canvas, 0.5, (SherdPoint){ 1000.0, 700.0 });
  drawn = render_settled (fixture->canvas);
  for (int y = 3; y < HEIGHT_PX; y += 29)
    for (int x = 3; x < WIDTH_PX; x += 31)
      {
        const SherdPoint photo_px = sherd_photo_canvas_widget_to_photo (fixture->canvas, (SherdPoint){ x, y });
        guint8 rgb[3];

        sherd_test_get_code (drawn, x, y, rgb);
        g_assert_cmpmem (rgb, 3, pixels + (gsize)(photo_px.y / 2.0) * level->stride + 3 * (gsize)(photo_px.x / 2.0), 3);
      }
}

static void
test_enlarged_shows_sharp_pixels (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GdkTexture) drawn = NULL;

  sherd_photo_canvas_set_view (fixture->canvas, 8.0, (SherdPoint){ 700.0, 300.0 });
  drawn = render_settled (fixture->canvas);
  for (int y = 0; y < HEIGHT_PX; y += 13)
    for (int x = 0; x < WIDTH_PX; x += 11)
      {
        const SherdPoint photo_px = sherd_photo_canvas_widget_to_photo (fixture->canvas, (SherdPoint){ x, y });
        guint8 rgb[3], expected[3];

        sherd_test_get_code (drawn, x, y, rgb);
        paint_place ((guint)photo_px.x, (guint)photo_px.y, expected);
        g_assert_cmpmem (rgb, 3, expected, 3);
      }
}

/* While the view moves a level is used that may be enlarged by half: the broad colours must be right all the same. */
static void
test_moving_shows_the_right_place (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GdkTexture) drawn = NULL;

  sherd_photo_canvas_set_view (fixture->canvas, 0.37, (SherdPoint){ 1000.0, 700.0 });
  g_assert_true (fixture->canvas->moving);
  drawn = sherd_test_render (GTK_WIDGET (fixture->canvas));
  for (int y = 20; y < HEIGHT_PX - 20; y += 29)
    for (int x = 20; x < WIDTH_PX - 20; x += 31)
      {
        const SherdPoint photo_px =
          sherd_photo_canvas_widget_to_photo (fixture->canvas, (SherdPoint){ x + 0.5, y + 0.5 });
        guint8 rgb[3];

        sherd_test_get_code (drawn, x, y, rgb);
        /* A code stands for 8 px: three pixels of the level, 4 px each, blur by 12 px. */
        g_assert_cmpfloat (fabs (rgb[0] - photo_px.x / 8.0), <, 2.0);
        g_assert_cmpfloat (fabs (rgb[1] - photo_px.y / 8.0), <, 2.0);
      }
}

static void
test_surround_is_grey_of_l_50 (Fixture *fixture, gconstpointer data)
{
  static const guint8 grey[3] = { 119, 119, 119 }; /* L* 50: Y = (66/116)³ = 0.1842, in sRGB 118.9 */
  g_autoptr (GdkTexture) drawn = render_settled (fixture->canvas);
  guint8 rgb[3];

  sherd_test_get_code (drawn, 2, 2, rgb);
  g_assert_cmpmem (rgb, 3, grey, 3);
  sherd_test_get_code (drawn, WIDTH_PX - 3, HEIGHT_PX - 3, rgb);
  g_assert_cmpmem (rgb, 3, grey, 3);
}

static void
test_preview_is_shown_until_the_levels_are_there (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (4000, 3000, paint_place);
  GtkWidget *canvas = sherd_photo_canvas_new (), *window = sherd_test_window (canvas, WIDTH_PX, HEIGHT_PX);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);
  GtkSnapshot *snapshot = gtk_snapshot_new ();
  g_autoptr (GskRenderNode) node = NULL;
  g_autoptr (GdkTexture) drawn = NULL;
  guint8 rgb[3];

  sherd_photo_canvas_set_pyramid (SHERD_PHOTO_CANVAS (canvas), pyramid);
  g_assert_false (sherd_photo_pyramid_has_level (pyramid, 1)); /* the main loop has not run since */
  GTK_WIDGET_GET_CLASS (canvas)->snapshot (canvas, snapshot);
  node = gtk_snapshot_free_to_node (snapshot);
  drawn = gsk_renderer_render_texture (gtk_native_get_renderer (gtk_widget_get_native (canvas)), node,
                                       &GRAPHENE_RECT_INIT (0, 0, WIDTH_PX, HEIGHT_PX));
  sherd_test_get_code (drawn, WIDTH_PX / 2, HEIGHT_PX / 2, rgb);
  g_assert_cmpint (ABS (rgb[0] - 2000 / 8), <=, CODE_TOLERANCE);
  g_assert_cmpint (ABS (rgb[1] - 1500 / 8), <=, CODE_TOLERANCE);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* View */

static void
test_fits_at_first (Fixture *fixture, gconstpointer data)
{
  const SherdPoint first = sherd_photo_canvas_photo_to_widget (fixture->canvas, (SherdPoint){ 0.0, 0.0 });
  const SherdPoint last = sherd_photo_canvas_photo_to_widget (fixture->canvas, (SherdPoint){ 2000.0, 1400.0 });

  g_assert_cmpfloat (first.x, >=, 0.0);
  g_assert_cmpfloat (first.y, >=, 0.0);
  g_assert_cmpfloat (last.x, <=, WIDTH_PX);
  g_assert_cmpfloat (last.y, <=, HEIGHT_PX);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), (WIDTH_PX - 24.0) / 2000.0, 1e-9);
}

static void
test_keys_zoom (Fixture *fixture, gconstpointer data)
{
  const double fit_zoom = sherd_photo_canvas_get_zoom (fixture->canvas);

  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_plus, 0));
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), fit_zoom * G_SQRT2, 1e-9);
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_minus, 0));
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), fit_zoom, 1e-9);
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_1, 0));
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 1.0, 1e-9);
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_0, 0));
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), fit_zoom, 1e-9);
}

static void
test_wheel_zooms_about_the_pointer (Fixture *fixture, gconstpointer data)
{
  const SherdPoint pointer_px = { 100.0, 333.0 };
  const SherdPoint photo_px = sherd_photo_canvas_widget_to_photo (fixture->canvas, pointer_px);
  const double zoom = sherd_photo_canvas_get_zoom (fixture->canvas);

  sherd_photo_canvas_point (fixture->canvas, pointer_px, TRUE);
  for (int notch = 0; notch < 3; notch++)
    sherd_photo_canvas_scroll (fixture->canvas, 0.0, -1.0, GDK_SCROLL_UNIT_WHEEL, 0);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 2.0 * zoom, 1e-9);
  assert_near (sherd_photo_canvas_photo_to_widget (fixture->canvas, photo_px), pointer_px.x, pointer_px.y,
               3 * HALF_A_WIDGET_PX * 2.0); /* three steps, and the first two are enlarged by those after them */
}

static void
test_two_fingers_pan_and_zoom_with_control (Fixture *fixture, gconstpointer data)
{
  SherdPoint before, after;

  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 1000.0, 700.0 });
  before = sherd_photo_canvas_get_centre (fixture->canvas);
  sherd_photo_canvas_scroll (fixture->canvas, 12.0, -7.0, GDK_SCROLL_UNIT_SURFACE, 0);
  after = sherd_photo_canvas_get_centre (fixture->canvas);
  assert_near (after, before.x + 12.0, before.y - 7.0, 1e-9);
  sherd_photo_canvas_scroll (fixture->canvas, 0.0, -120.0, GDK_SCROLL_UNIT_SURFACE, GDK_CONTROL_MASK);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 2.0, 1e-9);
}

static gboolean
zoom_has_ended (gpointer canvas)
{
  return SHERD_PHOTO_CANVAS (canvas)->zoom_tick_id == 0;
}

static void
count_cb (SherdPhotoCanvas *canvas, guint *n)
{
  (*n)++;
}

static void
test_smooth_zoom_goes_through_frames_and_arrives (Fixture *fixture, gconstpointer data)
{
  const SherdPoint about_px = { 200.0, 150.0 };
  const SherdPoint photo_px = sherd_photo_canvas_widget_to_photo (fixture->canvas, about_px);
  guint n_steps = 0;

  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", TRUE, NULL);
  g_signal_connect (fixture->canvas, "view-changed", G_CALLBACK (count_cb), &n_steps);
  sherd_photo_canvas_zoom_to (fixture->canvas, 1.7, about_px);
  g_assert_cmpfloat (sherd_photo_canvas_get_zoom (fixture->canvas), <, 1.0);
  g_assert_true (sherd_test_wait (zoom_has_ended, fixture->canvas));
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 1.7, 1e-9);
  assert_near (sherd_photo_canvas_photo_to_widget (fixture->canvas, photo_px), about_px.x, about_px.y,
               HALF_A_WIDGET_PX + 1e-9);
  g_assert_cmpuint (n_steps, >=, 2);
}

static void
test_arrow_keys_pan_when_nothing_is_chosen (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_view (fixture->canvas, 2.0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Right, 0);
  assert_near (sherd_photo_canvas_get_centre (fixture->canvas), 1032.0, 700.0, 1e-9); /* 64 widget px = 32 photo px */
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Up, GDK_SHIFT_MASK);
  assert_near (sherd_photo_canvas_get_centre (fixture->canvas), 1032.0, 540.0, 1e-9);
}

static void
drag_by (SherdPhotoCanvas *canvas, guint button, double dx, double dy)
{
  sherd_photo_canvas_press (canvas, (SherdPoint){ 300.0, 200.0 }, button);
  sherd_photo_canvas_drag (canvas, (SherdPoint){ 300.0 + dx / 2.0, 200.0 + dy / 2.0 }, 0);
  sherd_photo_canvas_drag (canvas, (SherdPoint){ 300.0 + dx, 200.0 + dy }, 0);
  sherd_photo_canvas_release (canvas);
}

static void
test_dragging_pans (Fixture *fixture, gconstpointer data)
{
  static const guint buttons[] = { GDK_BUTTON_PRIMARY, GDK_BUTTON_MIDDLE };

  for (gsize i = 0; i < G_N_ELEMENTS (buttons); i++)
    {
      sherd_photo_canvas_set_view (fixture->canvas, 2.0, (SherdPoint){ 1000.0, 700.0 });
      drag_by (fixture->canvas, buttons[i], 60.0, -40.0);
      assert_near (sherd_photo_canvas_get_centre (fixture->canvas), 970.0, 720.0, 1e-9);
    }
}

static void
test_space_and_drag_pans_even_while_marking (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_add_mark (fixture->canvas, SHERD_PHOTO_MARK_PIECE, "corner");
  sherd_photo_canvas_set_view (fixture->canvas, 2.0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_begin_marking (fixture->canvas);
  sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_space, 0);
  drag_by (fixture->canvas, GDK_BUTTON_PRIMARY, 60.0, -40.0);
  sherd_photo_canvas_key_up (fixture->canvas, GDK_KEY_space);
  assert_near (sherd_photo_canvas_get_centre (fixture->canvas), 970.0, 720.0, 1e-9);
  g_assert_false (sherd_photo_canvas_get_mark (fixture->canvas, 0, NULL));
}

static void
note_pointer_cb (SherdPhotoCanvas *canvas, double x, double y, gboolean inside, double *noted)
{
  noted[0] = x;
  noted[1] = y;
  noted[2] = inside;
}

static void
test_pointer_is_told_in_photo_px (Fixture *fixture, gconstpointer data)
{
  double noted[3] = { 0 };

  g_signal_connect (fixture->canvas, "pointer-moved", G_CALLBACK (note_pointer_cb), noted);
  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 1000.0, 700.0 });
  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 330.0, 245.0 }, TRUE); /* 10 right, 5 below the middle */
  g_assert_cmpfloat (noted[0], ==, 1010.0);
  g_assert_cmpfloat (noted[1], ==, 705.0);
  g_assert_true (noted[2] != 0.0);
  sherd_photo_canvas_fit (fixture->canvas);
  sherd_photo_canvas_point (fixture->canvas, (SherdPoint){ 2.0, 2.0 }, TRUE); /* on the grey */
  g_assert_true (noted[2] == 0.0);
}

/* Outlines */

static guint
add_square (SherdPhotoCanvas *canvas, double x, double y, const char *code)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (x, y, 200.0, 200.0);

  return sherd_photo_canvas_add_outline (canvas, outline, code);
}

/* A B
 * C D */
static void
add_four_squares (SherdPhotoCanvas *canvas)
{
  add_square (canvas, 400.0, 400.0, "A");
  add_square (canvas, 700.0, 400.0, "B");
  add_square (canvas, 400.0, 700.0, "C");
  add_square (canvas, 700.0, 700.0, "D");
}

static void
note_index_cb (SherdPhotoCanvas *canvas, guint index, int *noted)
{
  *noted = (int)index;
}

static void
test_click_chooses_the_outline_under_it (Fixture *fixture, gconstpointer data)
{
  SherdPoint at;
  int activated = -1;

  add_four_squares (fixture->canvas);
  g_signal_connect (fixture->canvas, "outline-activated", G_CALLBACK (note_index_cb), &activated);
  at = sherd_photo_canvas_photo_to_widget (fixture->canvas, (SherdPoint){ 750.0, 850.0 });
  sherd_photo_canvas_press (fixture->canvas, at, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_release (fixture->canvas);
  g_assert_cmpint (activated, ==, 3);
  g_assert_cmpint (sherd_photo_canvas_get_selected_outline (fixture->canvas), ==, 3);
}

static void
test_drag_from_an_outline_does_not_choose_it (Fixture *fixture, gconstpointer data)
{
  int activated = -1;

  add_four_squares (fixture->canvas);
  g_signal_connect (fixture->canvas, "outline-activated", G_CALLBACK (note_index_cb), &activated);
  sherd_photo_canvas_set_view (fixture->canvas, 2.0, (SherdPoint){ 500.0, 500.0 });
  drag_by (fixture->canvas, GDK_BUTTON_PRIMARY, 60.0, -40.0);
  g_assert_cmpint (activated, ==, -1);
}

static void
test_arrow_keys_go_from_outline_to_outline (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    guint keyval;
    int expected;
  } steps[] = {
    { GDK_KEY_Right, 1 }, { GDK_KEY_Right, 1 }, { GDK_KEY_Down, 3 }, { GDK_KEY_Left, 2 }, { GDK_KEY_Up, 0 }
  };

  add_four_squares (fixture->canvas);
  gtk_widget_grab_focus (g_ptr_array_index (fixture->canvas->outlines, 0));
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      sherd_photo_canvas_key_down (fixture->canvas, steps[i].keyval, 0);
      g_assert_cmpint (sherd_photo_canvas_get_focused_outline (fixture->canvas), ==, steps[i].expected);
    }
}

static void
test_enter_chooses_the_outline_in_focus (Fixture *fixture, gconstpointer data)
{
  int activated = -1;

  add_four_squares (fixture->canvas);
  g_signal_connect (fixture->canvas, "outline-activated", G_CALLBACK (note_index_cb), &activated);
  gtk_widget_grab_focus (g_ptr_array_index (fixture->canvas->outlines, 2));
  g_assert_true (sherd_photo_canvas_key_down (fixture->canvas, GDK_KEY_Return, 0));
  g_assert_cmpint (activated, ==, 2);
}

static void
test_assistive_technology_can_choose_an_outline (Fixture *fixture, gconstpointer data)
{
  int activated = -1;

  add_four_squares (fixture->canvas);
  g_signal_connect (fixture->canvas, "outline-activated", G_CALLBACK (note_index_cb), &activated);
  gtk_widget_activate_action (g_ptr_array_index (fixture->canvas->outlines, 1), "outline.activate", NULL);
  g_assert_cmpint (activated, ==, 1);
}

static void
test_outline_is_seen_on_black_and_on_white (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (40.0, 40.0, 100.0, 100.0);

  for (guint8 ground = 0;; ground = 255)
    {
      SherdPicture picture = { 200, 200, 600, g_bytes_new_take (memset (g_malloc (120000), ground, 120000), 120000) };
      GtkWidget *canvas = sherd_photo_canvas_new (), *window;
      g_autoptr (GdkTexture) drawn = NULL;
      int darkest = 255, lightest = 0, left;

      sherd_photo_canvas_set_picture (SHERD_PHOTO_CANVAS (canvas), &picture);
      sherd_photo_canvas_add_outline (SHERD_PHOTO_CANVAS (canvas), outline, "A");
      window = sherd_test_window (canvas, 240, 200);
      sherd_photo_canvas_set_view (SHERD_PHOTO_CANVAS (canvas), 1.0, (SherdPoint){ 100.0, 100.0 });
      left = (int)sherd_photo_canvas_photo_to_widget (SHERD_PHOTO_CANVAS (canvas), outline->points[0]).x;
      drawn = render_settled (SHERD_PHOTO_CANVAS (canvas));
      for (int x = left - 8; x < left + 8; x++) /* across the left side */
        {
          guint8 rgb[3];

          sherd_test_get_code (drawn, x, 100, rgb);
          darkest = MIN (darkest, rgb[0]);
          lightest = MAX (lightest, rgb[0]);
        }
      g_assert_cmpint (lightest - darkest, >, 120);
      gtk_window_destroy (GTK_WINDOW (window));
      g_bytes_unref (picture.pixels);
      if (ground == 255)
        break;
    }
}

/* What a reader hears. */
static void
test_outlines_are_named_for_readers (Fixture *fixture, gconstpointer data)
{
  GtkAccessible *outline;

  add_four_squares (fixture->canvas);
  sherd_photo_canvas_set_outline_state (fixture->canvas, 1, SHERD_PHOTO_OUTLINE_FLAGGED, "glare on 62 % of it");
  sherd_photo_canvas_set_outline_state (fixture->canvas, 2, SHERD_PHOTO_OUTLINE_NOT_MEASURED, NULL);
  sherd_test_assert_property (g_ptr_array_index (fixture->canvas->outlines, 2), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                              "not measured");
  outline = g_ptr_array_index (fixture->canvas->outlines, 1);
  gtk_test_accessible_assert_role (outline, GTK_ACCESSIBLE_ROLE_BUTTON);
  sherd_test_assert_property (outline, GTK_ACCESSIBLE_PROPERTY_LABEL, "B");
  sherd_test_assert_property (outline, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "glare on 62 % of it");
}

static void
test_canvas_is_named_for_readers (Fixture *fixture, gconstpointer data)
{
  sherd_photo_canvas_set_title (fixture->canvas, "Tile K3 before firing");
  gtk_test_accessible_assert_role (GTK_ACCESSIBLE (fixture->canvas), GTK_ACCESSIBLE_ROLE_GROUP);
  sherd_test_assert_property (GTK_ACCESSIBLE (fixture->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL, "Tile K3 before firing");
  g_assert_true (
    gtk_test_accessible_has_property (GTK_ACCESSIBLE (fixture->canvas), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION));
}

static void
test_large_text_makes_large_codes (Fixture *fixture, gconstpointer data)
{
  SherdPhotoOutline *outline;
  float width_px, height_px, large_width_px, large_height_px;
  int dpi;

  add_four_squares (fixture->canvas);
  outline = g_ptr_array_index (fixture->canvas->outlines, 0);
  sherd_legible_plate_size (sherd_photo_outline_get_label (outline), &width_px, &height_px);
  g_object_get (gtk_settings_get_default (), "gtk-xft-dpi", &dpi, NULL);
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", 2 * dpi, NULL);
  sherd_test_spin (100);
  sherd_legible_plate_size (sherd_photo_outline_get_label (outline), &large_width_px, &large_height_px);
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", dpi, NULL);
  g_assert_cmpfloat (large_height_px, >, 1.6f * height_px);
}

/* Colour */

static void
test_colour_of_a_flat_place_by_outside_values (void)
{
  /* The first is by definition; the second from memory of what colour pickers print for sRGB red in CIELAB D50. */
  static const struct
  {
    guint8 rgb[3];
    SherdLab lab;
  } cases[] = { { { 255, 255, 255 }, { 100.0, 0.0, 0.0 } }, { { 255, 0, 0 }, { 54.29, 80.8, 69.9 } } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint8 *pixels = g_malloc (30 * 30 * 3);
      SherdPicture picture = { 30, 30, 90, NULL };
      g_autoptr (SherdPhotoCanvas) canvas = SHERD_PHOTO_CANVAS (g_object_ref_sink (sherd_photo_canvas_new ()));
      SherdLab lab;

      for (guint p = 0; p < 30 * 30; p++)
        memcpy (pixels + 3 * p, cases[i].rgb, 3);
      picture.pixels = g_bytes_new_take (pixels, 30 * 30 * 3);
      sherd_photo_canvas_set_picture (canvas, &picture);
      g_assert_true (sherd_photo_canvas_get_colour (canvas, (SherdPoint){ 15.0, 15.0 }, &lab));
      g_assert_cmpfloat_with_epsilon (lab.l, cases[i].lab.l, 0.05); /* printed to one decimal */
      g_assert_cmpfloat_with_epsilon (lab.a, cases[i].lab.a, 0.05);
      g_assert_cmpfloat_with_epsilon (lab.b, cases[i].lab.b, 0.05);
      g_bytes_unref (picture.pixels);
    }
}

static SherdXyz
make_white (const SherdRgb *linear, SherdPoint photo_px, gpointer data)
{
  *(SherdPoint *)data = photo_px;
  return sherd_white_d50;
}

static void
test_colour_goes_through_the_owners_correction (Fixture *fixture, gconstpointer data)
{
  SherdPoint asked = { 0 };
  g_autofree char *text = NULL;

  sherd_photo_canvas_set_colour_func (fixture->canvas, make_white, &asked, NULL);
  text = sherd_photo_canvas_dup_colour_text (fixture->canvas, (SherdPoint){ 123.0, 45.0 });
  assert_near (asked, 123.0, 45.0, 1e-9);
  g_assert_true (g_str_has_prefix (text, "L* 100.0"));
  sherd_photo_canvas_set_colour_func (fixture->canvas, NULL, NULL, NULL);
}

static void
test_no_colour_outside (Fixture *fixture, gconstpointer data)
{
  SherdLab lab;

  g_assert_false (sherd_photo_canvas_get_colour (fixture->canvas, (SherdPoint){ -1.0, 5.0 }, &lab));
}

/* Links */

static SherdPhotoCanvas *
add_second_canvas (GtkWidget **window)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (1000, 700, paint_place);
  GtkWidget *canvas = sherd_photo_canvas_new ();

  sherd_photo_canvas_set_picture (SHERD_PHOTO_CANVAS (canvas), picture);
  *window = sherd_test_window (canvas, WIDTH_PX, HEIGHT_PX);
  return SHERD_PHOTO_CANVAS (canvas);
}

static void
test_linked_canvases_show_the_same_fraction (Fixture *fixture, gconstpointer data)
{
  GtkWidget *window;
  SherdPhotoCanvas *other = add_second_canvas (&window);

  sherd_photo_canvas_link (fixture->canvas, other);
  sherd_photo_canvas_set_view (fixture->canvas, 0.8, (SherdPoint){ 600.0, 350.0 });
  /* Half as many pixels a side: half the position, twice the zoom. */
  assert_near (sherd_photo_canvas_get_centre (other), 300.0, 175.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (other), 1.6, 1e-9);
  sherd_photo_canvas_set_view (other, 2.0, (SherdPoint){ 500.0, 350.0 });
  assert_near (sherd_photo_canvas_get_centre (fixture->canvas), 1000.0, 700.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 1.0, 1e-9);
  gtk_window_destroy (GTK_WINDOW (window));
}

/* Piece mm → photo px: 10 px a mm from (100, 200); and 4 px a mm, turned by a quarter, from (900, 50). */
static void
align (SherdPhotoCanvas *canvas, const SherdPoint photo_px[4])
{
  static const SherdPoint piece_mm[] = { { 0.0, 0.0 }, { 100.0, 0.0 }, { 100.0, 60.0 }, { 0.0, 60.0 } };
  g_autoptr (GError) error = NULL;
  SherdHomography homography;
  SherdMark marks[4];

  for (guint i = 0; i < 4; i++)
    marks[i] = (SherdMark){ piece_mm[i], photo_px[i] };
  g_assert_true (sherd_homography_fit (&homography, marks, 4, 0.5, &error));
  g_assert_no_error (error);
  sherd_photo_canvas_set_alignment (canvas, &homography);
}

static void
test_aligned_canvases_show_the_same_place_of_the_piece (Fixture *fixture, gconstpointer data)
{
  static const SherdPoint first_px[] = { { 100.0, 200.0 }, { 1100.0, 200.0 }, { 1100.0, 800.0 }, { 100.0, 800.0 } };
  static const SherdPoint second_px[] = { { 900.0, 50.0 }, { 900.0, 450.0 }, { 660.0, 450.0 }, { 660.0, 50.0 } };
  GtkWidget *window;
  SherdPhotoCanvas *other = add_second_canvas (&window);

  align (fixture->canvas, first_px);
  align (other, second_px);
  sherd_photo_canvas_link (fixture->canvas, other);
  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 400.0, 500.0 }); /* 30, 30 mm */
  assert_near (sherd_photo_canvas_get_centre (other), 780.0, 170.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (other), 2.5, 1e-6); /* 10 / 4 */
  sherd_photo_canvas_point (fixture->canvas,
                            sherd_photo_canvas_photo_to_widget (fixture->canvas, (SherdPoint){ 500.0, 500.0 }),
                            TRUE); /* 40, 30 mm */
  g_assert_true (other->twin_pointed);
  assert_near (other->twin_photo_px, 780.0, 210.0, 1e-6);
  gtk_window_destroy (GTK_WINDOW (window));
}

static void
test_a_link_ends_with_either_canvas (Fixture *fixture, gconstpointer data)
{
  GtkWidget *window;
  SherdPhotoCanvas *other = add_second_canvas (&window);

  sherd_photo_canvas_link (fixture->canvas, other);
  gtk_window_destroy (GTK_WINDOW (window));
  sherd_test_spin (50);
  g_assert_null (fixture->canvas->twin);
  sherd_photo_canvas_set_view (fixture->canvas, 1.0, (SherdPoint){ 5.0, 5.0 });
}

/* Life */

static void
test_nothing_is_left_over (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (600, 400, paint_place);
  GtkWidget *canvas = sherd_photo_canvas_new (), *window;
  gpointer canvas_left = canvas, pyramid_left;

  sherd_photo_canvas_set_picture (SHERD_PHOTO_CANVAS (canvas), picture);
  add_four_squares (SHERD_PHOTO_CANVAS (canvas));
  sherd_photo_canvas_add_mark (SHERD_PHOTO_CANVAS (canvas), SHERD_PHOTO_MARK_PIECE, "corner");
  sherd_photo_canvas_link (fixture->canvas, SHERD_PHOTO_CANVAS (canvas));
  window = sherd_test_window (canvas, WIDTH_PX, HEIGHT_PX);
  sherd_photo_canvas_begin_marking (SHERD_PHOTO_CANVAS (canvas));
  sherd_photo_canvas_press (SHERD_PHOTO_CANVAS (canvas), (SherdPoint){ 300.0, 200.0 }, GDK_BUTTON_PRIMARY);
  pyramid_left = sherd_photo_canvas_get_pyramid (SHERD_PHOTO_CANVAS (canvas));
  g_object_add_weak_pointer (G_OBJECT (canvas), &canvas_left);
  g_object_add_weak_pointer (pyramid_left, &pyramid_left);
  gtk_window_destroy (GTK_WINDOW (window));
  sherd_test_spin (200);
  g_assert_null (canvas_left);
  g_assert_null (pyramid_left);
}

static void
test_photograph_can_be_changed_and_taken_away (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (300, 200, paint_place);
  SherdLab lab;

  sherd_photo_canvas_set_picture (fixture->canvas, picture);
  /* (640 − 24) / 300 is less than (480 − 24) / 200 */
  g_assert_cmpfloat_with_epsilon (sherd_photo_canvas_get_zoom (fixture->canvas), 616.0 / 300.0, 1e-9);
  sherd_photo_canvas_set_picture (fixture->canvas, NULL);
  g_assert_false (sherd_photo_canvas_get_colour (fixture->canvas, (SherdPoint){ 5.0, 5.0 }, &lab));
  sherd_photo_canvas_press (fixture->canvas, (SherdPoint){ 5.0, 5.0 }, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_release (fixture->canvas);
  g_object_unref (render_settled (fixture->canvas));
}

static void
add (const char *name, void (*test) (Fixture *, gconstpointer))
{
  g_autofree char *path = g_strconcat ("/desk/photo-canvas/", name, NULL);

  g_test_add (path, Fixture, NULL, set_up, test, tear_down);
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  add ("one-to-one-is-drawn-pixel-by-pixel", test_one_to_one_is_drawn_pixel_by_pixel);
  add ("halved-is-drawn-from-the-halved-level", test_halved_is_drawn_from_the_halved_level);
  add ("enlarged-shows-sharp-pixels", test_enlarged_shows_sharp_pixels);
  add ("moving-shows-the-right-place", test_moving_shows_the_right_place);
  add ("surround-is-grey-of-l-50", test_surround_is_grey_of_l_50);
  g_test_add_func ("/desk/photo-canvas/preview-is-shown-until-the-levels-are-there",
                   test_preview_is_shown_until_the_levels_are_there);
  add ("fits-at-first", test_fits_at_first);
  add ("keys-zoom", test_keys_zoom);
  add ("wheel-zooms-about-the-pointer", test_wheel_zooms_about_the_pointer);
  add ("two-fingers-pan-and-zoom-with-control", test_two_fingers_pan_and_zoom_with_control);
  add ("smooth-zoom-goes-through-frames-and-arrives", test_smooth_zoom_goes_through_frames_and_arrives);
  add ("arrow-keys-pan-when-nothing-is-chosen", test_arrow_keys_pan_when_nothing_is_chosen);
  add ("dragging-pans", test_dragging_pans);
  add ("space-and-drag-pans-even-while-marking", test_space_and_drag_pans_even_while_marking);
  add ("pointer-is-told-in-photo-px", test_pointer_is_told_in_photo_px);
  add ("click-chooses-the-outline-under-it", test_click_chooses_the_outline_under_it);
  add ("drag-from-an-outline-does-not-choose-it", test_drag_from_an_outline_does_not_choose_it);
  add ("arrow-keys-go-from-outline-to-outline", test_arrow_keys_go_from_outline_to_outline);
  add ("enter-chooses-the-outline-in-focus", test_enter_chooses_the_outline_in_focus);
  add ("assistive-technology-can-choose-an-outline", test_assistive_technology_can_choose_an_outline);
  g_test_add_func ("/desk/photo-canvas/outline-is-seen-on-black-and-on-white",
                   test_outline_is_seen_on_black_and_on_white);
  add ("outlines-are-named-for-readers", test_outlines_are_named_for_readers);
  add ("canvas-is-named-for-readers", test_canvas_is_named_for_readers);
  add ("large-text-makes-large-codes", test_large_text_makes_large_codes);
  g_test_add_func ("/desk/photo-canvas/colour-of-a-flat-place-by-outside-values",
                   test_colour_of_a_flat_place_by_outside_values);
  add ("colour-goes-through-the-owners-correction", test_colour_goes_through_the_owners_correction);
  add ("no-colour-outside", test_no_colour_outside);
  add ("linked-canvases-show-the-same-fraction", test_linked_canvases_show_the_same_fraction);
  add ("aligned-canvases-show-the-same-place-of-the-piece", test_aligned_canvases_show_the_same_place_of_the_piece);
  add ("a-link-ends-with-either-canvas", test_a_link_ends_with_either_canvas);
  add ("nothing-is-left-over", test_nothing_is_left_over);
  add ("photograph-can-be-changed-and-taken-away", test_photograph_can_be_changed_and_taken_away);
  return g_test_run ();
}
