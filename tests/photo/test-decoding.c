/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Numbers by hand from IEC 61966-2-1 and the definition of a power; primaries from ITU-T H.273. What real files give is
 * compared with LittleCMS in test-png-reader.c and test-jpeg-reader.c. */
#include "config.h"

#include <math.h>

#include <glib.h>

#include "photo/decoding.h"
#include "photo/photo.h"

static const SherdSamples rgb_8 = { .n_colours = 3, .bits = 8 };
static const SherdSamples rgb_16 = { .n_colours = 3, .bits = 16 };
static const SherdSamples grey_8 = { .n_colours = 1, .bits = 8 };
static const SherdPrimaries srgb_primaries = { 0.64, 0.33, 0.30, 0.60, 0.15, 0.06, 0.3127, 0.3290 };
static const SherdPrimaries wide_primaries = { 0.708, 0.292, 0.170, 0.797, 0.131, 0.046, 0.3127, 0.3290 };

static void
check_pixel (const SherdDecoding *decoding, const void *pixel, double r, double g, double b, double tolerance)
{
  float linear[3];
  guint8 flags;

  sherd_decoding_convert (decoding, pixel, 1, 1, linear, &flags);
  g_assert_cmpfloat_with_epsilon (linear[0], r, tolerance);
  g_assert_cmpfloat_with_epsilon (linear[1], g, tolerance);
  g_assert_cmpfloat_with_epsilon (linear[2], b, tolerance);
}

/* 10/255 lies on the straight part: /12.92; 188/255 is the code of 0.5029. */
static void
test_srgb (void)
{
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_srgb (&rgb_8);
  const guint8 pixel[] = { 10, 188, 255 };

  check_pixel (decoding, pixel, 10 / 255.0 / 12.92, pow ((188 / 255.0 + 0.055) / 1.055, 2.4), 1, 1e-6);
  g_assert_true (sherd_decoding_is_srgb (decoding));
}

static void
test_power (void)
{
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_power (&rgb_16, 2);
  const guint16 pixel[] = { 0, 32768, 65535 };

  check_pixel (decoding, pixel, 0, 32768.0 / 65535 * 32768 / 65535, 1, 1e-6);
  g_assert_false (sherd_decoding_is_srgb (decoding));
}

static void
test_same_primaries_change_nothing (void)
{
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_srgb (&rgb_8);
  const guint8 pixel[] = { 10, 188, 255 };

  g_assert_true (sherd_decoding_set_primaries (decoding, &srgb_primaries));
  check_pixel (decoding, pixel, 10 / 255.0 / 12.92, pow ((188 / 255.0 + 0.055) / 1.055, 2.4), 1, 1e-6);
}

/* The matrix of ITU-R BT.2087-0, 2.2 turned round (BT.2020 to BT.709, also in BT.2407): red is 1.6605, −0.1246,
 * −0.0182 (from memory, four decimals). */
static void
test_wide_primaries (void)
{
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_power (&rgb_8, 1);
  const guint8 red[] = { 255, 0, 0 }, white[] = { 255, 255, 255 };

  g_assert_true (sherd_decoding_set_primaries (decoding, &wide_primaries));
  check_pixel (decoding, red, 1.6605, -0.1246, -0.0182, 1e-4);
  check_pixel (decoding, white, 1, 1, 1, 1e-6);
}

static void
test_impossible_primaries (void)
{
  static const SherdPrimaries impossible[] = {
    { 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3127, 0.3290 },  /* one point */
    { 0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.3127, 0.3290 },  /* one line */
    { 0.64, 0.33, 0.30, 0.60, 0.15, 0.06, 0.3127, 0 }, /* no white */
    { 0.64, 0.33, 0.30, 0.60, 0.15, 0.06, 0.7, 0.1 },  /* white outside */
    { 0.64, 0.33, 0.30, 0.60, 0.15, 0.06, NAN, 0.3290 },
  };
  const guint8 pixel[] = { 10, 188, 255 };

  for (guint i = 0; i < G_N_ELEMENTS (impossible); i++)
    {
      g_autoptr (SherdDecoding) decoding = sherd_decoding_new_srgb (&rgb_8);

      g_assert_false (sherd_decoding_set_primaries (decoding, &impossible[i]));
      check_pixel (decoding, pixel, 10 / 255.0 / 12.92, pow ((188 / 255.0 + 0.055) / 1.055, 2.4), 1, 1e-6);
    }
}

static void
test_grey_has_no_primaries (void)
{
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_power (&grey_8, 1);
  const guint8 pixel[] = { 51 };

  g_assert_true (sherd_decoding_set_primaries (decoding, &wide_primaries));
  check_pixel (decoding, pixel, 0.2, 0.2, 0.2, 1e-6);
}

/* 98 % of 255 is 249.9. */
static void
test_flags_at_their_limits (void)
{
  static const SherdSamples rgb_alpha_8 = { .n_colours = 3, .has_alpha = TRUE, .bits = 8 };
  static const guint8 pixels[] = { 249, 4, 100, 255, 250, 100, 100, 255, 100, 3, 100, 255, 255, 0, 100, 254 };
  static const guint8 expected[] = { 0, SHERD_PIXEL_CLIPPED, SHERD_PIXEL_DARK,
                                     SHERD_PIXEL_CLIPPED | SHERD_PIXEL_DARK | SHERD_PIXEL_TRANSPARENT };
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_srgb (&rgb_alpha_8);
  float linear[12];
  guint8 flags[4];

  sherd_decoding_convert (decoding, pixels, 1, 4, linear, flags);
  g_assert_cmpmem (flags, 4, expected, 4);
}

static void
test_steps (void)
{
  static const guint8 pixels[] = { 0, 51, 102, 153, 204, 255 };
  g_autoptr (SherdDecoding) decoding = sherd_decoding_new_power (&grey_8, 1);
  float linear[9];
  guint8 flags[3];

  sherd_decoding_convert (decoding, pixels + 1, 2, 3, linear, flags);
  g_assert_cmpfloat_with_epsilon (linear[0], 0.2, 1e-6);
  g_assert_cmpfloat_with_epsilon (linear[3], 0.6, 1e-6);
  g_assert_cmpfloat_with_epsilon (linear[6], 1.0, 1e-6);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/decoding/iec-61966-2-1", test_srgb);
  g_test_add_func ("/photo/decoding/power", test_power);
  g_test_add_func ("/photo/decoding/primaries/same-change-nothing", test_same_primaries_change_nothing);
  g_test_add_func ("/photo/decoding/primaries/bt-2087", test_wide_primaries);
  g_test_add_func ("/photo/decoding/primaries/impossible-are-refused", test_impossible_primaries);
  g_test_add_func ("/photo/decoding/primaries/grey-has-none", test_grey_has_no_primaries);
  g_test_add_func ("/photo/decoding/flags-at-their-limits", test_flags_at_their_limits);
  g_test_add_func ("/photo/decoding/steps", test_steps);
  return g_test_run ();
}
