/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The formula's constants from ISO/CIE 11664-4 as fractions; single values recomputed in double precision from the
 * printed formula; LittleCMS 2 (cmsXYZ2Lab) as an independent library; derivatives against differences. */

#include "config.h"

#include "colour/lab.h"

#include "oracle.h"

#include <math.h>

/* Values are printed to nine decimals. */
#define PRINTED_9 1e-9
/* Cube and cube root of numbers near 1, times 500. */
#define ROUND_TRIP 1e-9
/* A central difference of step 1e-6 leaves the third derivative and rounding, relative to slopes of hundreds. */
#define DIFFERENCE_STEP 1e-6
#define DIFFERENCE_SHARE 1e-6

static void
test_the_white_is_100_0_0 (void)
{
  const SherdLab lab = sherd_lab_from_xyz (&sherd_white_d50);

  assert_lab_near (&lab, &(SherdLab){ 100, 0, 0 }, PRINTED_9);
}

static void
test_the_white_is_that_of_icc_profiles (void)
{
  const cmsCIEXYZ *white = cmsD50_XYZ ();

  g_assert_cmpfloat (sherd_white_d50.x, ==, white->X);
  g_assert_cmpfloat (sherd_white_d50.y, ==, white->Y);
  g_assert_cmpfloat (sherd_white_d50.z, ==, white->Z);
}

static SherdLab
lab_of_grey (double y)
{
  return sherd_lab_from_xyz (&(SherdXyz){ y * sherd_white_d50.x, y, y * sherd_white_d50.z });
}

static void
test_a_grey_card_of_18_percent_has_its_lightness (void)
{
  const SherdLab card = lab_of_grey (0.18);
  const SherdXyz middle = sherd_lab_to_xyz (&(SherdLab){ 50, 0, 0 });

  assert_lab_near (&card, &(SherdLab){ 49.496107610, 0, 0 }, PRINTED_9);
  g_assert_cmpfloat_with_epsilon (middle.y, 0.184186518512, PRINTED_9);
}

static void
test_the_two_branches_meet (void)
{
  const double epsilon = 216.0 / 24389.0;

  /* L* = 8 exactly where they meet. */
  g_assert_cmpfloat_with_epsilon (lab_of_grey (epsilon).l, 8.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (lab_of_grey (epsilon - 1e-12).l, lab_of_grey (epsilon + 1e-12).l, 1e-8);
}

static void
test_light_below_zero_goes_on_straight (void)
{
  /* 903.296… × Y, the straight part. */
  g_assert_cmpfloat_with_epsilon (lab_of_grey (-0.001).l, -24389.0 / 27.0 * 0.001, 1e-12);
}

static void
test_it_agrees_with_littlecms (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (20);

  for (guint i = 0; i < 2000; i++)
    {
      const SherdXyz xyz = { g_rand_double_range (random, 0, 1.2), g_rand_double_range (random, 0, 1.2),
                             g_rand_double_range (random, 0, 1.2) };
      const cmsCIEXYZ theirs_xyz = { xyz.x, xyz.y, xyz.z };
      const SherdLab lab = sherd_lab_from_xyz (&xyz);
      cmsCIELab theirs;

      cmsXYZ2Lab (NULL, &theirs, &theirs_xyz);
      assert_lab_near (&lab, &(SherdLab){ theirs.L, theirs.a, theirs.b }, PRINTED_9);
    }
}

static void
test_there_and_back_is_the_same_colour (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (21);

  for (guint i = 0; i < 2000; i++)
    {
      SherdLab lab = draw_lab (random);
      SherdLab back;
      SherdXyz xyz;

      /* One in four is so dark that the straight part serves. */
      lab.l *= i % 4 == 0 ? 0.08 : 1.0;
      xyz = sherd_lab_to_xyz (&lab);
      back = sherd_lab_from_xyz (&xyz);
      assert_lab_near (&back, &lab, ROUND_TRIP);
    }
}

static void
test_chroma_and_hue_are_polar (void)
{
  double hue_deg;

  g_assert_cmpfloat_with_epsilon (sherd_lab_chroma (&(SherdLab){ 50, 3, -4 }), 5.0, 1e-15);
  g_assert_true (sherd_lab_hue_deg (&(SherdLab){ 50, 1, 0 }, &hue_deg));
  g_assert_cmpfloat (hue_deg, ==, 0.0);
  g_assert_true (sherd_lab_hue_deg (&(SherdLab){ 50, -2, 2 }, &hue_deg));
  g_assert_cmpfloat_with_epsilon (hue_deg, 135.0, 1e-12);
  g_assert_true (sherd_lab_hue_deg (&(SherdLab){ 50, 0, -7 }, &hue_deg));
  g_assert_cmpfloat_with_epsilon (hue_deg, 270.0, 1e-12);
}

static void
test_a_hue_just_below_red_stays_under_360 (void)
{
  double hue_deg;

  g_assert_true (sherd_lab_hue_deg (&(SherdLab){ 50, 1, -1e-18 }, &hue_deg));
  g_assert_cmpfloat (hue_deg, >=, 0.0);
  g_assert_cmpfloat (hue_deg, <, 360.0);
}

static void
test_a_neutral_has_no_hue (void)
{
  double hue_deg = 7;

  g_assert_false (sherd_lab_hue_deg (&(SherdLab){ 50, 0, 0 }, &hue_deg));
  g_assert_cmpfloat (hue_deg, ==, 0.0);
  g_assert_false (sherd_lab_hue_deg (&(SherdLab){ 50, 5e-10, 5e-10 }, &hue_deg));
}

static void
test_derivatives_at_a_printed_colour (void)
{
  double slopes[3][3];

  sherd_lab_jacobian (&(SherdXyz){ 0.2, 0.15, 0.05 }, slopes);
  assert_near (slopes[0], (const double[]){ 0, 136.96488, 0 }, 3, 1e-4);
  assert_near (slopes[1], (const double[]){ 493.29462, -590.36587, 0 }, 3, 1e-4);
  assert_near (slopes[2], (const double[]){ 0, 236.14635, -523.75515 }, 3, 1e-4);
}

static SherdLab
lab_beside (const double xyz[3], guint channel, double step)
{
  double moved[3] = { xyz[0], xyz[1], xyz[2] };

  moved[channel] += step;
  return sherd_lab_from_xyz (&(SherdXyz){ moved[0], moved[1], moved[2] });
}

static void
test_derivatives_are_limits_of_differences (void)
{
  /* The second is on the straight part in all channels. */
  const double places[2][3] = { { 0.3, 0.5, 0.1 }, { 0.003, 0.004, 0.002 } };

  for (guint place = 0; place < G_N_ELEMENTS (places); place++)
    for (guint channel = 0; channel < 3; channel++)
      {
        const SherdLab above = lab_beside (places[place], channel, DIFFERENCE_STEP);
        const SherdLab below = lab_beside (places[place], channel, -DIFFERENCE_STEP);
        const double step = 2 * DIFFERENCE_STEP;
        double slopes[3][3];

        sherd_lab_jacobian (&(SherdXyz){ places[place][0], places[place][1], places[place][2] }, slopes);
        g_assert_cmpfloat_with_epsilon (slopes[0][channel], (above.l - below.l) / step, 1000 * DIFFERENCE_SHARE);
        g_assert_cmpfloat_with_epsilon (slopes[1][channel], (above.a - below.a) / step, 1000 * DIFFERENCE_SHARE);
        g_assert_cmpfloat_with_epsilon (slopes[2][channel], (above.b - below.b) / step, 1000 * DIFFERENCE_SHARE);
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/lab/white-is-100-0-0", test_the_white_is_100_0_0);
  g_test_add_func ("/colour/lab/white-is-that-of-icc-profiles", test_the_white_is_that_of_icc_profiles);
  g_test_add_func ("/colour/lab/grey-card-of-18-percent", test_a_grey_card_of_18_percent_has_its_lightness);
  g_test_add_func ("/colour/lab/two-branches-meet", test_the_two_branches_meet);
  g_test_add_func ("/colour/lab/light-below-zero-goes-on-straight", test_light_below_zero_goes_on_straight);
  g_test_add_func ("/colour/lab/agrees-with-littlecms", test_it_agrees_with_littlecms);
  g_test_add_func ("/colour/lab/there-and-back", test_there_and_back_is_the_same_colour);
  g_test_add_func ("/colour/lab/chroma-and-hue-are-polar", test_chroma_and_hue_are_polar);
  g_test_add_func ("/colour/lab/hue-stays-under-360", test_a_hue_just_below_red_stays_under_360);
  g_test_add_func ("/colour/lab/neutral-has-no-hue", test_a_neutral_has_no_hue);
  g_test_add_func ("/colour/lab/derivatives-at-a-printed-colour", test_derivatives_at_a_printed_colour);
  g_test_add_func ("/colour/lab/derivatives-are-limits-of-differences", test_derivatives_are_limits_of_differences);
  return g_test_run ();
}
