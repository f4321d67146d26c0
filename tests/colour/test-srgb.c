/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Samples of the transfer function and colours of the ICC's D50 space, recomputed in double precision from IEC
 * 61966-2-1 and agreeing with two public colour libraries to the printed digits; LittleCMS 2 with its built-in sRGB
 * profile as an independent library on two thousand drawn colours. */

#include "config.h"

#include "colour/srgb.h"

#include "oracle.h"

#include <math.h>

/* Values are printed to ten decimals. */
#define PRINTED_10 1e-9
/* LittleCMS rounds the primaries to its profile's sixteen binary places. */
#define LITTLECMS_XYZ 2e-6
#define LITTLECMS_LAB 5e-4
/* Labs are printed to five decimals, two of them to four. */
#define PRINTED_LAB 5e-4

static void
test_samples_become_light (void)
{
  static const struct
  {
    double encoded;
    double linear;
  } rows[] = {
    { 0.0, 0.0 },
    { 1.0 / 255.0, 0.0003035269835 },
    { 10.0 / 255.0, 0.0030352698355 },
    { 16.0 / 255.0, 0.0051815167023 },
    { 64.0 / 255.0, 0.0512694583740 },
    { 119.0 / 255.0, 0.1844749945 },
    { 128.0 / 255.0, 0.2158605001 },
    { 192.0 / 255.0, 0.5271151257 },
    { 32768.0 / 65535.0, 0.2140482022982 },
    { 1.0, 1.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpfloat_with_epsilon (sherd_srgb_decode (rows[i].encoded), rows[i].linear, PRINTED_10);
}

static void
test_every_code_of_8_and_16_bit_comes_back (void)
{
  for (guint code = 0; code < 256; code++)
    g_assert_cmpint (lround (255.0 * sherd_srgb_encode (sherd_srgb_decode (code / 255.0))), ==, code);
  for (guint code = 0; code < 65536; code++)
    g_assert_cmpint (lround (65535.0 * sherd_srgb_encode (sherd_srgb_decode (code / 65535.0))), ==, code);
}

static void
test_the_transfer_function_rises_across_its_knee (void)
{
  /* The standard's two branches miss each other by 2.3e-9. */
  g_assert_cmpfloat_with_epsilon (sherd_srgb_decode (0.04045), sherd_srgb_decode (0.04045 + 1e-12), 1e-8);
  for (guint i = 1; i <= 4096; i++)
    g_assert_cmpfloat (sherd_srgb_decode (i / 4096.0), >, sherd_srgb_decode ((i - 1) / 4096.0));
}

static SherdLab
lab_of (const double encoded[3])
{
  const SherdRgb linear = { sherd_srgb_decode (encoded[0]), sherd_srgb_decode (encoded[1]),
                            sherd_srgb_decode (encoded[2]) };
  const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&linear);

  return sherd_lab_from_xyz (&xyz);
}

static void
test_codes_have_their_lab (void)
{
  static const struct
  {
    double code[3];
    SherdLab lab;
  } rows[] = {
    { { 255, 0, 0 }, { 54.28963, 80.81436, 69.88974 } },
    { { 0, 255, 0 }, { 87.81941, -79.27494, 80.99272 } },
    { { 0, 0, 255 }, { 29.56594, 68.28621, -112.03292 } },
    { { 128, 128, 128 }, { 53.58501, 0, 0 } },
    { { 119, 119, 119 }, { 50.03444, 0, 0 } },
    { { 150, 75, 40 }, { 41.14970, 30.19944, 35.17705 } },
    { { 200, 180, 150 }, { 74.45708, 3.94814, 18.11517 } },
    { { 64, 32, 16 }, { 16.5408, 14.6205, 17.5403 } },
    { { 100, 50, 75 }, { 28.24324, 25.46393, -4.86745 } },
    { { 10, 10, 10 }, { 2.74175, 0, 0 } },
    { { 255, 0, 255 }, { 60.16732, 93.54666, -60.50272 } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const double *code = rows[i].code;
      const SherdLab lab = lab_of ((const double[]){ code[0] / 255, code[1] / 255, code[2] / 255 });

      assert_lab_near (&lab, &rows[i].lab, PRINTED_LAB);
    }
}

static void
test_white_and_greys_are_neutral (void)
{
  for (guint code = 0; code <= 255; code++)
    {
      const SherdLab grey = lab_of ((const double[]){ code / 255.0, code / 255.0, code / 255.0 });

      g_assert_cmpfloat_with_epsilon (grey.a, 0.0, PRINTED_10);
      g_assert_cmpfloat_with_epsilon (grey.b, 0.0, PRINTED_10);
    }
  g_assert_cmpfloat_with_epsilon (lab_of ((const double[]){ 1, 1, 1 }).l, 100.0, PRINTED_10);
}

static void
test_primaries_are_those_of_littlecms (void)
{
  static const double primaries[3][3] = { { 0.436041, 0.222485, 0.013920 },
                                          { 0.385113, 0.716905, 0.097067 },
                                          { 0.143046, 0.060610, 0.713913 } };

  for (guint i = 0; i < 3; i++)
    {
      const double encoded[3] = { i == 0, i == 1, i == 2 };
      const SherdXyz ours = sherd_srgb_to_xyz_d50 (&(SherdRgb){ encoded[0], encoded[1], encoded[2] });
      const SherdXyz theirs = oracle_srgb_to_xyz (encoded);

      assert_near (&ours.x, primaries[i], 3, LITTLECMS_XYZ);
      assert_near (&ours.x, &theirs.x, 3, LITTLECMS_XYZ);
    }
}

static void
test_drawn_colours_agree_with_littlecms (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (23);

  for (guint i = 0; i < 2000; i++)
    {
      const double encoded[3] = { g_rand_double (random), g_rand_double (random), g_rand_double (random) };
      const SherdLab ours = lab_of (encoded);
      const SherdLab theirs = oracle_srgb_to_lab (encoded);

      assert_lab_near (&ours, &theirs, LITTLECMS_LAB);
    }
}

static void
test_there_and_back_is_the_same_light (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (24);

  for (guint i = 0; i < 200; i++)
    {
      /* Wide-gamut files leave 0…1. */
      const SherdRgb linear = { g_rand_double_range (random, -0.5, 1.5), g_rand_double_range (random, -0.5, 1.5),
                                g_rand_double_range (random, -0.5, 1.5) };
      const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&linear);
      const SherdRgb back = sherd_srgb_from_xyz_d50 (&xyz);

      assert_near (&back.r, &linear.r, 3, 1e-12);
    }
}

static void
test_light_is_mixed_not_lab (void)
{
  /* Half (200, 180, 150), half (90, 50, 35). Means of Lab values would give 50.1, 10.7, 17.9. */
  const double light[3] = { 200, 180, 150 }, dark[3] = { 90, 50, 35 };
  SherdRgb mixed;
  SherdXyz xyz;
  SherdLab lab;

  for (guint i = 0; i < 3; i++)
    (&mixed.r)[i] = 0.5 * sherd_srgb_decode (light[i] / 255) + 0.5 * sherd_srgb_decode (dark[i] / 255);
  xyz = sherd_srgb_to_xyz_d50 (&mixed);
  lab = sherd_lab_from_xyz (&xyz);
  assert_lab_near (&lab, &(SherdLab){ 58.07613, 5.89615, 16.12304 }, PRINTED_LAB);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/srgb/samples-become-light", test_samples_become_light);
  g_test_add_func ("/colour/srgb/every-code-comes-back", test_every_code_of_8_and_16_bit_comes_back);
  g_test_add_func ("/colour/srgb/rises-across-its-knee", test_the_transfer_function_rises_across_its_knee);
  g_test_add_func ("/colour/srgb/codes-have-their-lab", test_codes_have_their_lab);
  g_test_add_func ("/colour/srgb/white-and-greys-are-neutral", test_white_and_greys_are_neutral);
  g_test_add_func ("/colour/srgb/primaries-are-those-of-littlecms", test_primaries_are_those_of_littlecms);
  g_test_add_func ("/colour/srgb/drawn-colours-agree-with-littlecms", test_drawn_colours_agree_with_littlecms);
  g_test_add_func ("/colour/srgb/there-and-back", test_there_and_back_is_the_same_light);
  g_test_add_func ("/colour/srgb/light-is-mixed-not-lab", test_light_is_mixed_not_lab);
  return g_test_run ();
}
