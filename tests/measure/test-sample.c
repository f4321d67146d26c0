/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Photographs made here, whose every pixel is known: its red and green code tell its column and row, so that a sample
 * says itself where it was taken. Linear values are those of IEC 61966-2-1, computed here. */

#include "config.h"

#include "measure/sample.h"

#include "../photo/fixtures.h"

#include <math.h>

#define WIDTH_PX 200u
#define HEIGHT_PX 150u

#define EXACT_PX 1e-4f

/* Single precision. */
#define LINEAR_TOLERANCE 1e-6

static const SherdPoint l_shape[6] = { { 20, 15 }, { 140, 15 }, { 140, 55 }, { 70, 55 }, { 70, 130 }, { 20, 130 } };

/* IEC 61966-2-1, equation of the transfer function. */
static double
decode (double code)
{
  const double value = code / 255;

  return value <= 0.04045 ? value / 12.92 : pow ((value + 0.055) / 1.055, 2.4);
}

/* Where pixel (0, 0) of the stored picture and its axes lie in the upright one (EXIF 2.32, tag 274). */
static void
to_stored (guint orientation, guint x_upright, guint y_upright, guint *x, guint *y)
{
  const guint right = WIDTH_PX - 1 - x_upright, bottom = HEIGHT_PX - 1 - y_upright;
  const guint table[8][2] = {
    { x_upright, y_upright }, { right, y_upright }, { right, bottom }, { x_upright, bottom },
    { y_upright, x_upright }, { y_upright, right }, { bottom, right }, { bottom, x_upright }
  };

  *x = table[orientation - 1][0];
  *y = table[orientation - 1][1];
}

static void
add_exif (png_structp png, png_infop info, gpointer user_data)
{
  GBytes *exif = user_data;
  gsize n_bytes;
  const guint8 *bytes = g_bytes_get_data (exif, &n_bytes);

  png_set_sRGB (png, info, PNG_sRGB_INTENT_PERCEPTUAL);
  png_set_eXIf_1 (png, info, (png_uint_32)n_bytes, (png_bytep)bytes);
}

/* An upright picture of 200 × 150 px whose red is its column and green its row, stored as @orientation says. */
static SherdPhoto *
open_picture (guint orientation)
{
  const gboolean on_its_side = orientation >= 5;
  const guint stored_width = on_its_side ? HEIGHT_PX : WIDTH_PX;
  g_autoptr (GBytes) exif = fixture_exif (orientation, 1, TRUE);
  const FixturePng description = { .width = stored_width,
                                   .height = on_its_side ? WIDTH_PX : HEIGHT_PX,
                                   .bits = 8,
                                   .type = PNG_COLOR_TYPE_RGB,
                                   .decorate = add_exif,
                                   .user_data = exif };
  g_autofree guint16 *samples = g_new0 (guint16, 3 * WIDTH_PX * HEIGHT_PX);
  g_autoptr (GBytes) png = NULL;
  g_autoptr (GError) error = NULL;
  SherdPhoto *photo;

  for (guint y_upright = 0; y_upright < HEIGHT_PX; y_upright++)
    for (guint x_upright = 0; x_upright < WIDTH_PX; x_upright++)
      {
        guint x, y;

        to_stored (orientation, x_upright, y_upright, &x, &y);
        samples[3 * (y * stored_width + x)] = (guint16)x_upright;
        samples[3 * (y * stored_width + x) + 1] = (guint16)y_upright;
        samples[3 * (y * stored_width + x) + 2] = 128;
      }
  png = fixture_png (&description, samples);
  photo = sherd_photo_open_bytes (png, "made here", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (sherd_photo_get_info (photo)->orientation, ==, orientation);
  g_assert_cmpuint (sherd_photo_get_upright_width_px (photo), ==, WIDTH_PX);
  return photo;
}

static GArray *
sample_one (SherdPhoto *photo, const SherdOutline *outline, gsize n_most)
{
  const SherdSampleRegion region = { (SherdOutline *)outline, n_most };
  g_autoptr (GError) error = NULL;
  GArray *samples = sherd_sample_photo (photo, &region, 1, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (samples->len, ==, 1);
  return samples;
}

static const SherdSample *
nth (const GArray *samples, guint i)
{
  return &g_array_index (samples, SherdSample, i);
}

/* Each sample's place is the middle of the pixel that its colour tells, and that lies in the region. */
static void
assert_samples_tell_their_place (const SherdSample *sample, const SherdOutline *outline)
{
  for (gsize i = 0; i < sample->n; i++)
    {
      const float column = floorf (sample->x_px[i]), row = floorf (sample->y_px[i]);

      g_assert_cmpfloat_with_epsilon (sample->x_px[i], column + 0.5f, EXACT_PX);
      g_assert_cmpfloat_with_epsilon (sample->y_px[i], row + 0.5f, EXACT_PX);
      g_assert_cmpfloat_with_epsilon (sample->linear_rgb[3 * i], decode ((double)column), LINEAR_TOLERANCE);
      g_assert_cmpfloat_with_epsilon (sample->linear_rgb[3 * i + 1], decode ((double)row), LINEAR_TOLERANCE);
      g_assert_cmpfloat_with_epsilon (sample->linear_rgb[3 * i + 2], decode (128), LINEAR_TOLERANCE);
      g_assert_true (sherd_outline_contains (outline, (SherdPoint){ sample->x_px[i], sample->y_px[i] }));
    }
}

static void
test_takes_every_pixel_in_every_orientation (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));

  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (SherdPhoto) photo = open_picture (orientation);
      g_autoptr (GArray) samples = sample_one (photo, outline, G_MAXSIZE);

      g_assert_cmpuint (nth (samples, 0)->n, ==, 120 * 40 + 50 * 75);
      g_assert_cmpfloat (nth (samples, 0)->n_in_photo, ==, 120 * 40 + 50 * 75);
      g_assert_cmpfloat_with_epsilon (nth (samples, 0)->inside_frac, 1, 1e-12);
      assert_samples_tell_their_place (nth (samples, 0), outline);
    }
}

static void
test_takes_a_part_of_a_large_region (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));

  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (SherdPhoto) photo = open_picture (orientation);
      g_autoptr (GArray) samples = sample_one (photo, outline, 500);
      const SherdSample *sample = nth (samples, 0);
      double mean_x = 0, mean_y = 0;

      /* A row more or less. */
      g_assert_cmpfloat_with_epsilon ((double)sample->n, 500, 40);
      g_assert_cmpfloat (sample->n_in_photo, ==, 120 * 40 + 50 * 75);
      assert_samples_tell_their_place (sample, outline);
      for (gsize i = 0; i < sample->n; i++)
        {
          mean_x += sample->x_px[i] / (double)sample->n;
          mean_y += sample->y_px[i] / (double)sample->n;
        }
      /* Half the pitch of the lattice, √(8550 / 500) = 4 px. */
      g_assert_cmpfloat_with_epsilon (mean_x, sherd_outline_centroid (outline).x, 2);
      g_assert_cmpfloat_with_epsilon (mean_y, sherd_outline_centroid (outline).y, 2);
    }
}

/* Overlapping regions, one outside, one partly, one nowhere: each gets its own. */
static void
test_regions_do_not_disturb_one_another (void)
{
  g_autoptr (SherdPhoto) photo = open_picture (6);
  g_autoptr (SherdOutline) whole = sherd_outline_new_rectangle (0, 0, WIDTH_PX, HEIGHT_PX);
  g_autoptr (SherdOutline) within = sherd_outline_new_rectangle (50, 40, 30, 20);
  g_autoptr (SherdOutline) outside = sherd_outline_new_rectangle (-80, 40, 30, 20);
  g_autoptr (SherdOutline) partly = sherd_outline_new_rectangle (190, 140, 40, 20);
  g_autoptr (SherdOutline) nowhere = sherd_outline_new_rectangle (NAN, 140, 40, 20);
  g_autoptr (SherdOutline) nothing = sherd_outline_new (NULL, 0);
  const SherdSampleRegion regions[] = { { whole, G_MAXSIZE },  { within, G_MAXSIZE },  { outside, G_MAXSIZE },
                                        { partly, G_MAXSIZE }, { nowhere, G_MAXSIZE }, { nothing, G_MAXSIZE } };
  const gsize n[] = { WIDTH_PX * HEIGHT_PX, 600, 0, 100, 0, 0 };
  const double inside_frac[] = { 1, 1, 0, 100.0 / 800, 0, 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) samples = sherd_sample_photo (photo, regions, G_N_ELEMENTS (regions), NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (regions); i++)
    {
      g_assert_cmpuint (nth (samples, i)->n, ==, n[i]);
      g_assert_cmpfloat_with_epsilon (nth (samples, i)->inside_frac, inside_frac[i], 1e-12);
      assert_samples_tell_their_place (nth (samples, i), regions[i].outline_px);
    }
}

static void
test_no_regions_need_no_pixels (void)
{
  g_autoptr (SherdPhoto) photo = open_picture (1);
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) samples = sherd_sample_photo (photo, NULL, 0, NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (samples->len, ==, 0);
}

/* Clipped and dark pixels keep the flags that the reader gives them. */
static void
test_flags_go_along (void)
{
  static guint16 samples_of_photo[3 * 4] = { 255, 10, 10, 100, 100, 100, 100, 100, 100, 10, 10, 255 };
  const FixturePng description = { .width = 4, .height = 1, .bits = 8, .type = PNG_COLOR_TYPE_RGB };
  g_autoptr (GBytes) png = fixture_png (&description, samples_of_photo);
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (png, "made here", NULL);
  g_autoptr (SherdOutline) whole = sherd_outline_new_rectangle (0, 0, 4, 1);
  g_autoptr (GArray) samples = sample_one (photo, whole, G_MAXSIZE);

  g_assert_cmpuint (nth (samples, 0)->n, ==, 4);
  g_assert_cmpuint (nth (samples, 0)->flags[0] & SHERD_PIXEL_CLIPPED, !=, 0);
  g_assert_cmpuint (nth (samples, 0)->flags[1] & SHERD_PIXEL_CLIPPED, ==, 0);
  g_assert_cmpuint (nth (samples, 0)->flags[3] & SHERD_PIXEL_CLIPPED, !=, 0);
}

typedef struct
{
  double last_frac;
  guint n_reports;
  GCancellable *cancellable; /* (nullable): cancelled at the third report */
} Reports;

static void
note_progress (double done_frac, gpointer user_data)
{
  Reports *reports = user_data;

  g_assert_cmpfloat (done_frac, >=, reports->last_frac);
  g_assert_cmpfloat (done_frac, <=, 1);
  reports->last_frac = done_frac;
  if (++reports->n_reports == 3 && reports->cancellable)
    g_cancellable_cancel (reports->cancellable);
}

static void
test_progress_rises_to_the_end (void)
{
  g_autoptr (SherdPhoto) photo = open_picture (1);
  g_autoptr (SherdOutline) whole = sherd_outline_new_rectangle (0, 0, WIDTH_PX, HEIGHT_PX);
  const SherdSampleRegion region = { whole, 1000 };
  Reports reports = { 0 };
  g_autoptr (GArray) samples = sherd_sample_photo (photo, &region, 1, note_progress, &reports, NULL, NULL);

  g_assert_nonnull (samples);
  g_assert_cmpuint (reports.n_reports, >=, 3);
  g_assert_cmpfloat (reports.last_frac, ==, 1);
}

static void
test_cancelled_before_it_starts (void)
{
  g_autoptr (SherdPhoto) photo = open_picture (1);
  g_autoptr (SherdOutline) whole = sherd_outline_new_rectangle (0, 0, WIDTH_PX, HEIGHT_PX);
  const SherdSampleRegion region = { whole, 1000 };
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (sherd_sample_photo (photo, &region, 1, NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
test_cancelled_on_the_way (void)
{
  g_autoptr (SherdPhoto) photo = open_picture (1);
  g_autoptr (SherdOutline) whole = sherd_outline_new_rectangle (0, 0, WIDTH_PX, HEIGHT_PX);
  const SherdSampleRegion region = { whole, 1000 };
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  Reports reports = { .cancellable = cancellable };

  g_assert_null (sherd_sample_photo (photo, &region, 1, note_progress, &reports, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (reports.n_reports, ==, 3);
}

/* A file that ends in the middle tells so; its made-up rows are no measurement. */
static void
test_refuses_a_photograph_cut_off (void)
{
  g_autofree guint16 *noise = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 1);
  const FixtureJpeg description = { .width = WIDTH_PX, .height = HEIGHT_PX, .space = JCS_RGB };
  g_autoptr (GBytes) jpeg = fixture_jpeg (&description, noise);
  g_autoptr (GBytes) half = g_bytes_new_from_bytes (jpeg, 0, g_bytes_get_size (jpeg) / 2);
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (half, "made here", NULL);
  g_autoptr (SherdOutline) whole = sherd_outline_new_rectangle (0, 0, WIDTH_PX, HEIGHT_PX);
  const SherdSampleRegion region = { whole, 1000 };
  g_autoptr (GError) error = NULL;

  g_assert_nonnull (photo);
  g_assert_null (sherd_sample_photo (photo, &region, 1, NULL, NULL, NULL, &error));
  g_assert_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/sample/every-pixel-in-every-orientation", test_takes_every_pixel_in_every_orientation);
  g_test_add_func ("/measure/sample/part-of-a-large-region", test_takes_a_part_of_a_large_region);
  g_test_add_func ("/measure/sample/regions-do-not-disturb-one-another", test_regions_do_not_disturb_one_another);
  g_test_add_func ("/measure/sample/no-regions", test_no_regions_need_no_pixels);
  g_test_add_func ("/measure/sample/flags-go-along", test_flags_go_along);
  g_test_add_func ("/measure/sample/progress-rises-to-the-end", test_progress_rises_to_the_end);
  g_test_add_func ("/measure/sample/cancelled-before-it-starts", test_cancelled_before_it_starts);
  g_test_add_func ("/measure/sample/cancelled-on-the-way", test_cancelled_on_the_way);
  g_test_add_func ("/measure/sample/refuses-a-photograph-cut-off", test_refuses_a_photograph_cut_off);
  return g_test_run ();
}
