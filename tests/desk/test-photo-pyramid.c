/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers by hand, in the comments beside them; the photograph read from a file is a scene of the shared test data,
 * whose truth.json gives its size. */
#include "config.h"

#include "desk/photo-pyramid.h"

#include <string.h>

#include "window-support.h"

/* Sums of some 80 doubles from a table. */
#define ROUNDING 1e-12

/* Column and row can be read from the colour. */
static void
paint_place (guint x_px, guint y_px, guint8 rgb[3])
{
  rgb[0] = (guint8)x_px;
  rgb[1] = (guint8)y_px;
  rgb[2] = (guint8)(16 * (x_px >> 8) + (y_px >> 8));
}

static void
paint_left_black_right_white (guint x_px, guint y_px, guint8 rgb[3])
{
  memset (rgb, x_px < 50 ? 0 : 255, 3);
}

static gboolean
is_ready (gpointer pyramid)
{
  return sherd_photo_pyramid_is_ready (pyramid);
}

static gboolean
has_error (gpointer pyramid)
{
  return sherd_photo_pyramid_get_error (pyramid) != NULL;
}

static void
test_levels_by_hand (void)
{
  /* 1501 × 1000, 751 × 500, 376 × 250: the third fits in one tile of 512. */
  static const guint width_px[] = { 1501, 751, 376 }, height_px[] = { 1000, 500, 250 };
  g_autoptr (SherdPicture) picture = sherd_test_picture (1501, 1000, paint_place);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);

  g_assert_cmpuint (sherd_photo_pyramid_get_n_levels (pyramid), ==, G_N_ELEMENTS (width_px));
  g_assert_true (sherd_test_wait (is_ready, pyramid));
  g_assert_cmpfloat (sherd_photo_pyramid_get_progress (pyramid), ==, 1.0);
  for (guint level = 0; level < G_N_ELEMENTS (width_px); level++)
    {
      g_assert_cmpuint (sherd_photo_pyramid_get_level (pyramid, level)->width_px, ==, width_px[level]);
      g_assert_cmpuint (sherd_photo_pyramid_get_level (pyramid, level)->height_px, ==, height_px[level]);
    }
}

static void
test_something_to_draw_at_once (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (3000, 2000, paint_place);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);

  /* The main loop has not run yet. */
  g_assert_true (sherd_photo_pyramid_has_level (pyramid, 0));
  g_assert_false (sherd_photo_pyramid_is_ready (pyramid));
  g_assert_cmpint (gdk_texture_get_width (sherd_photo_pyramid_get_preview (pyramid)), >=, 1000);
}

static void
test_tiles_cover_the_level (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (1100, 600, paint_place);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);
  GdkTexture *last = sherd_photo_pyramid_get_tile (pyramid, 0, 2, 1);
  guint8 rgb[3];

  /* 1100 = 512 + 512 + 76, 600 = 512 + 88 */
  g_assert_cmpint (gdk_texture_get_width (last), ==, 76);
  g_assert_cmpint (gdk_texture_get_height (last), ==, 88);
  g_assert_true (last == sherd_photo_pyramid_get_tile (pyramid, 0, 2, 1));
  sherd_test_get_code (last, 3, 5, rgb); /* place 1027, 517 = 4 · 256 + 3, 2 · 256 + 5 */
  g_assert_cmpuint (rgb[0], ==, 3);
  g_assert_cmpuint (rgb[1], ==, 5);
  g_assert_cmpuint (rgb[2], ==, 16 * 4 + 2);
}

static void
test_mean_is_of_light_not_of_codes (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (100, 100, paint_left_black_right_white);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);
  SherdRgb mean;

  /* A disc astride the edge: half of it has light 0, half light 1. */
  g_assert_true (sherd_photo_pyramid_mean (pyramid, 50.0, 40.0, 5.0, &mean));
  g_assert_cmpfloat_with_epsilon (mean.r, 0.5, ROUNDING);
  g_assert_cmpfloat_with_epsilon (mean.b, 0.5, ROUNDING);
  /* A disc of no size: the one pixel. */
  g_assert_true (sherd_photo_pyramid_mean (pyramid, 50.5, 0.5, 0.0, &mean));
  g_assert_cmpfloat_with_epsilon (mean.g, 1.0, ROUNDING);
}

static void
test_no_mean_outside (void)
{
  static const SherdRgb untouched = { 7.0, 7.0, 7.0 };
  g_autoptr (SherdPicture) picture = sherd_test_picture (100, 100, paint_left_black_right_white);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);
  SherdRgb mean = untouched;

  g_assert_false (sherd_photo_pyramid_mean (pyramid, -0.1, 50.0, 5.0, &mean));
  g_assert_false (sherd_photo_pyramid_mean (pyramid, 50.0, 100.0, 5.0, &mean));
  g_assert_cmpfloat (mean.r, ==, untouched.r);
}

static void
test_magnify_makes_squares (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (100, 100, paint_place);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);
  g_autoptr (GdkTexture) texture = sherd_photo_pyramid_magnify (pyramid, 97, 20, 5, 4, 8);
  guint8 rgb[3];

  g_assert_cmpint (gdk_texture_get_width (texture), ==, 40);
  g_assert_cmpint (gdk_texture_get_height (texture), ==, 32);
  for (int i = 0; i < 8; i++)
    {
      sherd_test_get_code (texture, 8 + i, 31 - i, rgb); /* second column, last row: 98, 23 */
      g_assert_cmpuint (rgb[0], ==, 98);
      g_assert_cmpuint (rgb[1], ==, 23);
    }
  sherd_test_get_code (texture, 24, 0, rgb); /* column 100 does not exist */
  g_assert_cmpuint (rgb[0], ==, 119);
}

static void
test_cancel_is_told (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (5000, 4000, paint_place);
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_picture (picture);

  sherd_photo_pyramid_cancel (pyramid);
  g_assert_true (sherd_test_wait (has_error, pyramid));
  g_assert_error (sherd_photo_pyramid_get_error (pyramid), G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_true (sherd_photo_pyramid_has_level (pyramid, 0)); /* what was there stays */
}

static void
test_may_be_dropped_while_working (void)
{
  g_autoptr (SherdPicture) picture = sherd_test_picture (5000, 4000, paint_place);
  SherdPhotoPyramid *pyramid = sherd_photo_pyramid_new_for_picture (picture);

  g_assert_finalize_object (pyramid);
  sherd_test_spin (300); /* the thread ends and reports to nobody */
}

static void
test_missing_file_is_told (void)
{
  g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_file ("/no/such/photograph.jpg");

  sherd_photo_pyramid_start (pyramid);
  g_assert_true (sherd_test_wait (has_error, pyramid));
  g_assert_error (sherd_photo_pyramid_get_error (pyramid), SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_OPEN);
  g_assert_cmpuint (sherd_photo_pyramid_get_n_levels (pyramid), ==, 0);
  g_assert_null (sherd_photo_pyramid_get_preview (pyramid));
}

static void
count_cb (SherdPhotoPyramid *pyramid, guint *n_changes)
{
  (*n_changes)++;
}

static void
test_file_is_read (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("SHERD_SHARED_DIR"), "scenes", "tile_a", "before.jpg", NULL);
  g_autoptr (SherdPhotoPyramid) pyramid = NULL;
  guint n_changes = 0;

  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_test_skip ("the shared scenes are not here");
      return;
    }
  pyramid = sherd_photo_pyramid_new_for_file (path);
  g_signal_connect (pyramid, "changed", G_CALLBACK (count_cb), &n_changes);
  sherd_test_spin (100);
  g_assert_cmpuint (n_changes, ==, 0); /* nobody has looked */
  sherd_photo_pyramid_start (pyramid);
  sherd_photo_pyramid_start (pyramid);
  g_assert_true (sherd_test_wait (is_ready, pyramid));
  g_assert_no_error (sherd_photo_pyramid_get_error (pyramid));
  g_assert_cmpuint (sherd_photo_pyramid_get_width_px (pyramid), ==, 1600);
  g_assert_cmpuint (sherd_photo_pyramid_get_height_px (pyramid), ==, 1200);
  g_assert_cmpuint (n_changes, >=, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/desk/photo-pyramid/levels-by-hand", test_levels_by_hand);
  g_test_add_func ("/desk/photo-pyramid/something-to-draw-at-once", test_something_to_draw_at_once);
  g_test_add_func ("/desk/photo-pyramid/tiles-cover-the-level", test_tiles_cover_the_level);
  g_test_add_func ("/desk/photo-pyramid/mean-is-of-light-not-of-codes", test_mean_is_of_light_not_of_codes);
  g_test_add_func ("/desk/photo-pyramid/no-mean-outside", test_no_mean_outside);
  g_test_add_func ("/desk/photo-pyramid/magnify-makes-squares", test_magnify_makes_squares);
  g_test_add_func ("/desk/photo-pyramid/cancel-is-told", test_cancel_is_told);
  g_test_add_func ("/desk/photo-pyramid/may-be-dropped-while-working", test_may_be_dropped_while_working);
  g_test_add_func ("/desk/photo-pyramid/missing-file-is-told", test_missing_file_is_told);
  g_test_add_func ("/desk/photo-pyramid/file-is-read", test_file_is_read);
  return g_test_run ();
}
