/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: by hand, in the comments; check A26 of the project's table (mixing in light) and check D4 (trimmed mean). */
#include "config.h"

#include "colour/lab.h"
#include "colour/srgb.h"
#include "measure/blocks.h"
#include "measure/reference.h"
#include "measure/zone.h"

#include <math.h>

#define SIDE 40
#define N_PIXELS (SIDE * SIDE)

typedef struct
{
  float rgb[3 * N_PIXELS];
  float x_mm[N_PIXELS];
  float y_mm[N_PIXELS];
  guint8 use[N_PIXELS];
} Patch;

/* A square of 40 mm, one pixel a millimetre, grey, lighter by @slope a mm to the right. */
static Patch *
make_patch (double level, double slope)
{
  Patch *patch = g_new (Patch, 1);

  for (guint i = 0; i < N_PIXELS; i++)
    {
      patch->x_mm[i] = (float)(i % SIDE);
      patch->y_mm[i] = (float)(i / SIDE);
      patch->use[i] = 1;
      for (guint c = 0; c < 3; c++)
        patch->rgb[3 * i + c] = (float)(level * (1 + slope * (i % SIDE - (SIDE - 1) / 2.0)));
    }
  return patch;
}

static void
test_slope_found (void)
{
  g_autofree Patch *patch = make_patch (0.4, 0.01);
  SherdBlocks blocks;
  SherdSlope slope;

  sherd_blocks_fill (&blocks, patch->rgb, patch->x_mm, patch->y_mm, patch->use, N_PIXELS);
  sherd_blocks_slope (&blocks, &slope);
  g_assert_cmpuint (blocks.n_blocks, ==, 16);
  g_assert_true (slope.usable);
  for (guint c = 0; c < 3; c++)
    {
      g_assert_cmpfloat_with_epsilon (slope.mean[c], 0.4, 1e-6);
      g_assert_cmpfloat_with_epsilon (slope.slope[0][c], 0.01, 1e-5);
      g_assert_cmpfloat_with_epsilon (slope.slope[1][c], 0, 1e-5);
    }
}

static void
test_covariance_by_hand (void)
{
  /* Columns of blocks at −15, −5, 5, 15 mm from the middle differ by 0.4 × 0.01 × 10 mm = 0.04 each: variance of the
   * sixteen about their mean (4 × (2 × 0.06² + 2 × 0.02²)) ÷ 15 = 0.002133, of the mean a sixteenth: 0.00013333. */
  g_autofree Patch *patch = make_patch (0.4, 0.01);
  SherdBlocks blocks;
  double covariance[3][3];

  sherd_blocks_fill (&blocks, patch->rgb, patch->x_mm, patch->y_mm, patch->use, N_PIXELS);
  sherd_blocks_covariance (&blocks, 0, covariance);
  g_assert_cmpfloat_with_epsilon (covariance[0][0], 0.00013333, 1e-6);
  g_assert_cmpfloat_with_epsilon (covariance[0][2], 0.00013333, 1e-6);
  /* Three quarters of the surface have been read: only the rest can be otherwise. */
  sherd_blocks_covariance (&blocks, 0.75, covariance);
  g_assert_cmpfloat_with_epsilon (covariance[0][0], 0.00003333, 1e-6);
}

static void
test_half_a_zone_is_no_slope (void)
{
  g_autofree Patch *patch = make_patch (0.4, 0.01);
  SherdBlocks blocks;
  SherdSlope slope;

  for (guint i = 0; i < N_PIXELS; i++)
    patch->use[i] = i < 6;
  sherd_blocks_fill (&blocks, patch->rgb, patch->x_mm, patch->y_mm, patch->use, N_PIXELS);
  sherd_blocks_slope (&blocks, &slope);
  g_assert_false (slope.usable);
}

static void
test_colours_mix_in_light (void)
{
  /* A26: half sRGB (200, 180, 150), half (90, 50, 35): L*a*b* 58.07613, 5.89615, 16.12304; averaging L*a*b* itself
   * would give 50.1. */
  static const double halves[2][3] = { { 200, 180, 150 }, { 90, 50, 35 } };
  g_autofree Patch *patch = make_patch (1, 0);
  double mean[3];
  SherdRgb rgb;
  SherdXyz xyz;
  SherdLab lab;

  for (guint i = 0; i < N_PIXELS; i++)
    for (guint c = 0; c < 3; c++)
      patch->rgb[3 * i + c] = (float)sherd_srgb_decode (halves[i % 2][c] / 255);
  sherd_trimmed_mean (patch->rgb, patch->use, N_PIXELS, mean);
  rgb = (SherdRgb){ mean[0], mean[1], mean[2] };
  xyz = sherd_srgb_to_xyz_d50 (&rgb);
  lab = sherd_lab_from_xyz (&xyz);
  g_assert_cmpfloat_with_epsilon (lab.l, 58.07613, 0.01);
  g_assert_cmpfloat_with_epsilon (lab.a, 5.89615, 0.01);
  g_assert_cmpfloat_with_epsilon (lab.b, 16.12304, 0.01);
}

static void
test_trimmed_mean (void)
{
  /* Twenty pixels 1 … 19 and 100: one twentieth off either end leaves 2 … 19, mean 10.5. */
  float rgb[60];
  guint8 use[20];
  double mean[3];

  for (guint i = 0; i < 20; i++)
    {
      use[i] = 1;
      rgb[3 * i] = rgb[3 * i + 1] = rgb[3 * i + 2] = i == 19 ? 100 : (float)(i + 1);
    }
  g_assert_cmpuint (sherd_trimmed_mean (rgb, use, 20, mean), ==, 18);
  g_assert_cmpfloat_with_epsilon (mean[0], 10.5, 1e-6);
}

static void
test_trimmed_patch_of_the_table (void)
{
  /* D4: 1 … 9 and 100, a tenth off either end: 5.5. Written in hundredths, with ten pixels each so that it is enough.
   */
  float rgb[300];
  guint8 flags[100] = { 0 };
  SherdPatchReading reading;

  for (guint i = 0; i < 100; i++)
    rgb[3 * i] = rgb[3 * i + 1] = rgb[3 * i + 2] = (i % 10 == 9 ? 100 : (float)(i % 10 + 1)) / 100;
  sherd_patch_reading_fill (&reading, rgb, flags, 100);
  g_assert_cmpfloat_with_epsilon (reading.mean[1], 0.055, 1e-6);
}

static void
test_clipped_patch_is_of_no_use (void)
{
  float rgb[300];
  guint8 flags[100] = { 0 };
  SherdPatchReading reading;

  for (guint i = 0; i < 300; i++)
    rgb[i] = 0.9f;
  sherd_patch_reading_fill (&reading, rgb, flags, 100);
  g_assert_true (reading.usable);
  for (guint i = 0; i < 5; i++)
    flags[i] = SHERD_PIXEL_CLIPPED;
  sherd_patch_reading_fill (&reading, rgb, flags, 100);
  g_assert_false (reading.usable);
  g_assert_cmpfloat_with_epsilon (reading.clipped_frac, 0.05, 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/blocks/slope-found", test_slope_found);
  g_test_add_func ("/measure/blocks/covariance-by-hand", test_covariance_by_hand);
  g_test_add_func ("/measure/blocks/half-a-zone-is-no-slope", test_half_a_zone_is_no_slope);
  g_test_add_func ("/measure/zone/colours-mix-in-light", test_colours_mix_in_light);
  g_test_add_func ("/measure/zone/trimmed-mean", test_trimmed_mean);
  g_test_add_func ("/measure/reference/trimmed-mean-of-the-table", test_trimmed_patch_of_the_table);
  g_test_add_func ("/measure/reference/clipped-patch-is-of-no-use", test_clipped_patch_is_of_no_use);
  return g_test_run ();
}
