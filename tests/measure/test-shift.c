/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: rows H7 and C38 of the project's table of checks (first-order propagation and Monte Carlo of ΔE00 computed
 * with an independent numeric library), JCGM 100:2008 and JCGM 101:2008; the rest by hand in the comments. */
#include "config.h"

#include "measure/shift.h"

#include <math.h>

static SherdZoneColour
zone_with (double l, double a, double b, double sd_l, double sd_a, double sd_b)
{
  SherdZoneColour zone = { .lab = { l, a, b } };
  const double sd[3] = { sd_l, sd_a, sd_b };

  for (guint i = 0; i < 3; i++)
    zone.covariance[i][i] = zone.scatter[i][i] = sd[i] * sd[i];
  zone.lower_95 = (SherdLab){ l - 1.96 * sd_l, a - 1.96 * sd_a, b - 1.96 * sd_b };
  zone.upper_95 = (SherdLab){ l + 1.96 * sd_l, a + 1.96 * sd_a, b + 1.96 * sd_b };
  return zone;
}

static void
test_first_order (void)
{
  const SherdZoneColour before = zone_with (52, 22, 22, 0.6, 0.5, 0.7), after = zone_with (46, 26, 20, 0.5, 0.6, 0.6);
  SherdShift shift;

  sherd_shift (&before, &after, NULL, NULL, 0, 1, &shift);
  g_assert_true (shift.measured);
  g_assert_cmpfloat_with_epsilon (shift.difference.de00, 6.790336533, 1e-6);
  g_assert_cmpfloat_with_epsilon (shift.de00_u, 0.749157, 1e-5);
  g_assert_true (shift.real);
}

static void
test_drawn_limits (void)
{
  const SherdZoneColour before = zone_with (52, 22, 22, 0.6, 0.5, 0.7), after = zone_with (46, 26, 20, 0.5, 0.6, 0.6);

  /* Every seed gives the table's limits, so none was chosen. */
  for (gulong seed = 1; seed <= 5; seed++)
    {
      SherdShift shift;

      sherd_shift (&before, &after, NULL, NULL, 0, seed, &shift);
      g_assert_cmpfloat_with_epsilon (shift.de00_low, 5.38, 0.04);
      g_assert_cmpfloat_with_epsilon (shift.de00_high, 8.30, 0.04);
    }
}

static void
test_noise_level (void)
{
  /* Under no change the table's 95 % point is 1.805 for these covariances about (52, 22, 22). */
  const SherdZoneColour before = zone_with (52, 22, 22, 0.6, 0.5, 0.7), after = zone_with (52, 22, 22, 0.5, 0.6, 0.6);
  SherdShift shift;

  sherd_shift (&before, &after, NULL, NULL, 0, 3, &shift);
  g_assert_cmpfloat_with_epsilon (shift.de00_noise, 1.805, 0.06); /* drawn, without a gradient to follow */
  g_assert_cmpfloat_with_epsilon (shift.de00_high, shift.de00_noise, 0.3);
  g_assert_false (shift.real);
  /* The gradient does not exist at 0; the drawn standard deviation does. */
  g_assert_cmpfloat (shift.de00_u, >, 0.2);
  g_assert_cmpfloat (shift.de00_u, <, 1);
}

static void
test_seed_repeats (void)
{
  const SherdZoneColour before = zone_with (52, 22, 22, 0.6, 0.5, 0.7), after = zone_with (51, 22, 22, 0.5, 0.6, 0.6);
  SherdShift first, second;

  sherd_shift (&before, &after, NULL, NULL, 0, 11, &first);
  sherd_shift (&before, &after, NULL, NULL, 0, 11, &second);
  g_assert_cmpfloat (first.de00_low, ==, second.de00_low);
  g_assert_cmpfloat (first.de00_u, ==, second.de00_u);
}

#define N_PATCHES 8

static void
fill_patches (SherdPatchError *patches, double l, double alternating_l)
{
  for (guint i = 0; i < N_PATCHES; i++)
    {
      patches[i].usable = TRUE;
      patches[i].lab = (SherdLab){ 50, 20, 20 };
      patches[i].error = (SherdLab){ l + (i % 2 ? alternating_l : -alternating_l), 0, 0 };
    }
}

static void
test_common_errors_cancel (void)
{
  SherdZoneColour before = zone_with (52, 22, 22, 0.1, 0.1, 0.1), after = zone_with (46, 22, 22, 0.1, 0.1, 0.1);
  SherdPatchError first[N_PATCHES], second[N_PATCHES];
  SherdShift same, apart;

  g_test_summary ("A chart that errs by 2 L* in both photographs says nothing about the shift; one photograph's own "
                  "errors of ±0.5 do.");
  before.reference[0][0] = after.reference[0][0] = 4;
  before.covariance[0][0] += 4;
  after.covariance[0][0] += 4;
  fill_patches (first, 2, 0);
  fill_patches (second, 2, 0.5);
  sherd_shift (&before, &after, first, second, N_PATCHES, 1, &same);
  sherd_shift (&before, &after, NULL, NULL, 0, 1, &apart);
  /* By hand: 2 × 0.1² + 0.5², and 2 × (0.1² + 2²). */
  g_assert_cmpfloat_with_epsilon (same.covariance[0][0], 0.27, 1e-9);
  g_assert_cmpfloat_with_epsilon (apart.covariance[0][0], 8.02, 1e-9);
  g_assert_true (same.real);
  g_assert_false (apart.real);
}

/* Grey of 44 whose upper @n_lit steps of sixteen are lit by 0.03 of white: Y 0.1384 becomes 0.1084, L* 39.3. */
static SherdZoneColour
grey_with_sheen (guint n_lit)
{
  SherdZoneColour zone = zone_with (44, 0, 0, 0.3, 0.3, 0.3);

  for (guint k = SHERD_MIRRORED_STEPS - n_lit; k < SHERD_MIRRORED_STEPS; k++)
    zone.mirrored[k] = 0.03;
  return zone;
}

static void
test_mirrored_light_makes_limits_one_sided (void)
{
  const SherdZoneColour before = zone_with (34, 0, 0, 0.3, 0.3, 0.3);
  const SherdZoneColour plain = grey_with_sheen (0), sheen = grey_with_sheen (2);
  SherdShift of_plain, of_sheen;

  /* ΔL* is 10, or 5.3 one time in eight; S_L of CIEDE2000 is 1.17 and 1.20 about there: 8.6 or 4.4. */
  sherd_shift (&before, &plain, NULL, NULL, 0, 5, &of_plain);
  sherd_shift (&before, &sheen, NULL, NULL, 0, 5, &of_sheen);
  g_assert_cmpfloat_with_epsilon (of_sheen.difference.de00, of_plain.difference.de00, 1e-12);
  g_assert_cmpfloat_with_epsilon (of_plain.difference.de00 - of_plain.de00_low,
                                  of_plain.de00_high - of_plain.difference.de00, 0.15);
  g_assert_cmpfloat_with_epsilon (of_sheen.de00_high, of_plain.de00_high, 0.1);
  g_assert_cmpfloat (of_sheen.de00_low, <, 4.5);
  g_assert_cmpfloat (of_sheen.de00_low, >, 3.4);
  g_assert_true (of_sheen.real);
}

static void
test_limits_hold_the_value (void)
{
  const SherdZoneColour before = zone_with (44, 0, 0, 0.3, 0.3, 0.3), sheen = grey_with_sheen (SHERD_MIRRORED_STEPS);
  SherdShift shift;

  g_test_summary (
    "A sheen for certain: the colours look the same and are 4.7 L* apart, and both must be within the limits.");
  sherd_shift (&before, &sheen, NULL, NULL, 0, 5, &shift);
  g_assert_cmpfloat (shift.difference.de00, <, 1e-9);
  g_assert_cmpfloat (shift.de00_low, ==, 0);
  g_assert_cmpfloat (shift.de00_high, >, 4);
}

static void
test_what_mirrored_light_can_explain_is_no_change (void)
{
  const SherdZoneColour before = zone_with (41, 0, 0, 0.3, 0.3, 0.3), redder = zone_with (41, 6, 3, 0.3, 0.3, 0.3);
  const SherdZoneColour darker = zone_with (47, 0, 0, 0.3, 0.3, 0.3), sheen = grey_with_sheen (1);
  SherdShift shift;

  g_test_summary ("3 L* lighter afterwards, 7 standard deviations: real unless a sheen may have made it.");
  sherd_shift (&before, &sheen, NULL, NULL, 0, 1, &shift);
  g_assert_false (shift.real);
  g_assert_cmpfloat (shift.de00_low, ==, 0);
  /* Before and after taken for one another, a sheen explains it too. */
  sherd_shift (&sheen, &before, NULL, NULL, 0, 1, &shift);
  g_assert_false (shift.real);
  /* Mirrored light has no hue: it takes grey to no red. */
  sherd_shift (&redder, &sheen, NULL, NULL, 0, 1, &shift);
  g_assert_true (shift.real);
  /* It never darkens. */
  sherd_shift (&darker, &sheen, NULL, NULL, 0, 1, &shift);
  g_assert_true (shift.real);
}

static void
test_older_measurement_tells_no_mirrored_light (void)
{
  const SherdZoneColour before = zone_with (52, 22, 22, 0.6, 0.5, 0.7);
  SherdZoneColour after = zone_with (46, 26, 20, 0.5, 0.6, 0.6);
  SherdShift shift;

  for (guint k = 0; k < SHERD_MIRRORED_STEPS; k++)
    after.mirrored[k] = NAN;
  sherd_shift (&before, &after, NULL, NULL, 0, 1, &shift);
  g_assert_cmpfloat_with_epsilon (shift.de00_low, 5.38, 0.04);
  g_assert_true (shift.real);
}

static void
test_not_measured (void)
{
  const SherdZoneColour before = zone_with (52, 22, 22, 0.6, 0.5, 0.7);
  SherdZoneColour after = zone_with (46, 26, 20, 0.5, 0.6, 0.6);
  SherdShift shift;

  after.flags = SHERD_ZONE_LITTLE_PAINT;
  sherd_shift (&before, &after, NULL, NULL, 0, 1, &shift);
  g_assert_false (shift.measured);
  g_assert_cmpfloat (shift.difference.de00, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/shift/first-order-of-the-table", test_first_order);
  g_test_add_func ("/measure/shift/drawn-limits-of-the-table", test_drawn_limits);
  g_test_add_func ("/measure/shift/noise-level-of-the-table", test_noise_level);
  g_test_add_func ("/measure/shift/seed-repeats", test_seed_repeats);
  g_test_add_func ("/measure/shift/common-errors-cancel", test_common_errors_cancel);
  g_test_add_func ("/measure/shift/mirrored-light-makes-limits-one-sided", test_mirrored_light_makes_limits_one_sided);
  g_test_add_func ("/measure/shift/limits-hold-the-value", test_limits_hold_the_value);
  g_test_add_func ("/measure/shift/what-mirrored-light-can-explain-is-no-change",
                   test_what_mirrored_light_can_explain_is_no_change);
  g_test_add_func ("/measure/shift/older-measurement-tells-no-mirrored-light",
                   test_older_measurement_tells_no_mirrored_light);
  g_test_add_func ("/measure/shift/not-measured-stays-empty", test_not_measured);
  return g_test_run ();
}
