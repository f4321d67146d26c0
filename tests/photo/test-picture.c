/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Pixels are known because the files are made here; the place of each in the upright picture is that of
 * orientation.c (tested there against EXIF), the means are taken by hand in linear light with colour/srgb.c. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib/gstdio.h>

#include "colour/srgb.h"
#include "fixtures.h"
#include "photo/picture.h"

#define WIDTH_PX 75u
#define HEIGHT_PX 43u

static char *
write_tmp (GBytes *bytes)
{
  char *path;
  const int fd = g_file_open_tmp (NULL, &path, NULL);

  g_close (fd, NULL);
  g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize)g_bytes_get_size (bytes), NULL);
  return path;
}

static SherdPicture *
load (GBytes *bytes, guint max_side_px)
{
  g_autofree char *path = write_tmp (bytes);
  g_autoptr (GError) error = NULL;
  SherdPicture *picture = sherd_picture_load (path, max_side_px, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_remove (path);
  return picture;
}

static void
set_exif (png_structp png, png_infop info, gpointer user_data)
{
  png_set_eXIf_1 (png, info, (png_uint_32)g_bytes_get_size (user_data), (png_bytep)g_bytes_get_data (user_data, NULL));
}

static GBytes *
make_turned (guint orientation, const guint16 *samples)
{
  g_autoptr (GBytes) exif = fixture_exif (orientation, 1, TRUE);
  const FixturePng fixture = { WIDTH_PX, HEIGHT_PX, 8, PNG_COLOR_TYPE_RGB, FALSE, set_exif, exif };

  return fixture_png (&fixture, samples);
}

static const guint8 *
pixel_at (const SherdPicture *picture, guint x, guint y)
{
  return (const guint8 *)g_bytes_get_data (picture->pixels, NULL) + y * picture->stride + 3 * x;
}

static void
check_size (const SherdPicture *picture, guint width_px, guint height_px)
{
  g_assert_cmpuint (picture->width_px, ==, width_px);
  g_assert_cmpuint (picture->height_px, ==, height_px);
  g_assert_cmpuint (picture->stride, ==, 3 * width_px);
  g_assert_cmpuint (g_bytes_get_size (picture->pixels), ==, 3 * width_px * height_px);
}

/* Stored pixel that is seen at (x, y), by the sides that EXIF names. */
static gsize
stored_index (guint orientation, guint x, guint y)
{
  const guint across = orientation < 5 ? x : y, down = orientation < 5 ? y : x;
  const gboolean mirror_x = orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8;
  const gboolean mirror_y = orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7;

  return (mirror_y ? HEIGHT_PX - 1 - down : down) * WIDTH_PX + (mirror_x ? WIDTH_PX - 1 - across : across);
}

/* Full size: the very codes of the file, each at its place. */
static void
test_upright (void)
{
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 1);

  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (GBytes) bytes = make_turned (orientation, samples);
      g_autoptr (SherdPicture) picture = load (bytes, 0);

      check_size (picture, orientation < 5 ? WIDTH_PX : HEIGHT_PX, orientation < 5 ? HEIGHT_PX : WIDTH_PX);
      for (guint y = 0; y < picture->height_px; y++)
        for (guint x = 0; x < picture->width_px; x++)
          for (guint c = 0; c < 3; c++)
            g_assert_cmpuint (pixel_at (picture, x, y)[c], ==, samples[3 * stored_index (orientation, x, y) + c]);
    }
}

/* The code of the mean light of a block of the upright picture, over the pixels there are. */
static double
mean_code (const SherdPicture *whole, guint x, guint y, guint factor, guint channel)
{
  double sum = 0;
  guint n = 0;

  for (guint row = y * factor; row < MIN ((y + 1) * factor, whole->height_px); row++)
    for (guint column = x * factor; column < MIN ((x + 1) * factor, whole->width_px); column++, n++)
      sum += sherd_srgb_decode (pixel_at (whole, column, row)[channel] / 255.0);
  return 255 * sherd_srgb_encode (sum / n);
}

/* Blocks are counted from the upright top left however the picture is stored. A code is right if no other is nearer,
 * but for the 16 bits of the table. */
#define CODE_TOLERANCE 0.55

static void
check_scaled (const SherdPicture *scaled, const SherdPicture *whole, guint factor)
{
  check_size (scaled, (whole->width_px + factor - 1) / factor, (whole->height_px + factor - 1) / factor);
  for (guint y = 0; y < scaled->height_px; y++)
    for (guint x = 0; x < scaled->width_px; x++)
      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (pixel_at (scaled, x, y)[c], mean_code (whole, x, y, factor, c), CODE_TOLERANCE);
}

static void
test_scaled_is_the_mean_of_light (void)
{
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 2);

  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (GBytes) bytes = make_turned (orientation, samples);
      g_autoptr (SherdPicture) whole = load (bytes, 0);
      g_autoptr (SherdPicture) half = load (bytes, WIDTH_PX - 1);
      g_autoptr (SherdPicture) small = load (bytes, 10);

      check_scaled (half, whole, 2);
      check_scaled (small, whole, 8);
    }
}

static void
test_not_scaled_without_need (void)
{
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 3);
  g_autoptr (GBytes) bytes = make_turned (1, samples);
  g_autoptr (SherdPicture) picture = load (bytes, WIDTH_PX);
  g_autoptr (SherdPicture) dot = load (bytes, 1);

  check_size (picture, WIDTH_PX, HEIGHT_PX);
  check_size (dot, 1, 1);
}

/* The odd last column and row are halved with themselves, which is the mean over what there is. */
static void
test_halve (void)
{
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 4);
  g_autoptr (GBytes) bytes = make_turned (1, samples);
  g_autoptr (SherdPicture) whole = load (bytes, 0);
  g_autoptr (SherdPicture) half = sherd_picture_halve (whole);

  check_scaled (half, whole, 2);
}

/* Black and white are 0.5 together: code 188, not 128. */
static void
test_black_and_white_make_188 (void)
{
  static const guint8 codes[] = { 0, 0, 0, 255, 255, 255, 255, 255, 255, 0, 0, 0 };
  const SherdPicture picture = { 2, 2, 6, g_bytes_new_static (codes, sizeof codes) };
  g_autoptr (SherdPicture) half = sherd_picture_halve (&picture);

  g_assert_cmpuint (pixel_at (half, 0, 0)[0], ==, 188);
  g_bytes_unref (picture.pixels);
}

/* 16 bits, a gamma of its own, transparency: shown as sRGB, mid-grey (L* 50, code 119) where nothing is. */
static void
set_gamma (png_structp png, png_infop info, gpointer user_data)
{
  png_set_gAMA (png, info, 1);
}

static void
test_shown_as_srgb (void)
{
  const FixturePng fixture = { WIDTH_PX, HEIGHT_PX, 16, PNG_COLOR_TYPE_RGB_ALPHA, FALSE, set_gamma, NULL };
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 4, 16, 5);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (SherdPicture) picture = NULL;

  for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    samples[4 * i + 3] = i % 7 ? 65535 : 40000;
  bytes = fixture_png (&fixture, samples);
  picture = load (bytes, 0);
  for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    for (guint c = 0; c < 3; c++)
      {
        const double expected = i % 7 ? 255 * sherd_srgb_encode (samples[4 * i + c] / 65535.0) : 119;

        g_assert_cmpfloat_with_epsilon (pixel_at (picture, 0, 0)[3 * i + c], expected, CODE_TOLERANCE);
      }
}

static void
note_progress (double done_frac, gpointer user_data)
{
  double *last = user_data;

  g_assert_cmpfloat (done_frac, >, *last);
  *last = done_frac;
}

static void
test_progress_and_cancel (void)
{
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 6);
  g_autoptr (GBytes) bytes = make_turned (6, samples);
  g_autofree char *path = write_tmp (bytes);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  double last = 0;

  sherd_picture_free (sherd_picture_load (path, 0, note_progress, &last, cancellable, NULL));
  g_assert_cmpfloat (last, ==, 1);
  g_cancellable_cancel (cancellable);
  g_assert_null (sherd_picture_load (path, 0, NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_remove (path);
}

static void
test_broken_gives_no_picture (void)
{
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 7);
  g_autoptr (GBytes) bytes = make_turned (1, samples);
  g_autoptr (GBytes) part = g_bytes_new_from_bytes (bytes, 0, g_bytes_get_size (bytes) / 2);
  g_autofree char *path = write_tmp (part);
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_picture_load (path, 0, NULL, NULL, NULL, &error));
  g_assert_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN);
  g_remove (path);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/picture/upright", test_upright);
  g_test_add_func ("/photo/picture/scaled-is-the-mean-of-light", test_scaled_is_the_mean_of_light);
  g_test_add_func ("/photo/picture/not-scaled-without-need", test_not_scaled_without_need);
  g_test_add_func ("/photo/picture/halve", test_halve);
  g_test_add_func ("/photo/picture/black-and-white-make-188", test_black_and_white_make_188);
  g_test_add_func ("/photo/picture/shown-as-srgb", test_shown_as_srgb);
  g_test_add_func ("/photo/picture/progress-and-cancel", test_progress_and_cancel);
  g_test_add_func ("/photo/picture/broken-gives-no-picture", test_broken_gives_no_picture);
  return g_test_run ();
}
