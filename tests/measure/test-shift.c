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

static void
test_one_sided_interval_reaches_the_shift (void)
{
  const SherdZoneColour before = zone_with (40, 5, 5, 0.3, 0.3, 0.3);
  SherdZoneColour after = zone_with (44, 5, 5, 0.3, 0.3, 0.3);
  SherdShift plain, glare;

  g_test_summary ("If the lamp may be mirrored afterwards, the zone may not have become lighter at all.");
  sherd_shift (&before, &after, NULL, NULL, 0, 5, &plain);
  after.flags = SHERD_ZONE_GLARE;
  after.lower_95.l = 39;
  sherd_shift (&before, &after, NULL, NULL, 0, 5, &glare);
  g_assert_cmpfloat (glare.de00_low, <, plain.de00_low - 1);
  g_assert_cmpfloat_with_epsilon (glare.difference.de00, plain.difference.de00, 1e-12);
}

static void
test_what_glare_can_explain_is_no_change (void)
{
  /* Δ = (1.7, 1, 0.9), variance 2 × 0.4² on each axis: T² = 14.7, above 7.81 (χ², 3 degrees of freedom, 5 %). When the
   * colour after may be up to 7.7 darker, its L* tells nothing and (1² + 0.9²) / 0.32 = 5.7 is left. */
  const SherdZoneColour before = zone_with (85, 1, 8, 0.4, 0.4, 0.4);
  SherdZoneColour after = zone_with (86.7, 2, 8.9, 0.4, 0.4, 0.4);
  SherdShift shift;

  sherd_shift (&before, &after, NULL, NULL, 0, 1, &shift);
  g_assert_true (shift.real);
  after.lower_95.l = 79;
  sherd_shift (&before, &after, NULL, NULL, 0, 1, &shift);
  g_assert_false (shift.real);
  g_assert_cmpfloat (shift.de00_low, ==, 0);
  /* Room toward lighter explains no lightening. */
  after.lower_95.l = 86.7 - 1.96 * 0.4;
  after.upper_95.l = 94;
  sherd_shift (&before, &after, NULL, NULL, 0, 1, &shift);
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
  g_test_add_func ("/measure/shift/one-sided-interval-reaches-the-shift", test_one_sided_interval_reaches_the_shift);
  g_test_add_func ("/measure/shift/what-glare-can-explain-is-no-change", test_what_glare_can_explain_is_no_change);
  g_test_add_func ("/measure/shift/not-measured-stays-empty", test_not_measured);
  return g_test_run ();
}
