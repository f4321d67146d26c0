/* SPDX-License-Identifier: GPL-3.0-or-later */

/* - J. Cohen, A power primer, Psychological Bulletin 112, 1992, 155–159, table 2: zones a group for power 0.80, two
 *   means and analysis of variance, small, medium and large effects; values from memory. His numbers were interpolated
 *   in tables of 1988 and may be off by one (1 in 200 for small effects).
 * - Examples in the documentation of R's power.t.test () and power.anova.test () and their results; from memory.
 * - Central case and scatter by hand, with quantiles of χ² from printed tables. */

#include "config.h"

#include "plan/power.h"

#include <math.h>

static void
test_two_means_as_cohen_has_it (void)
{
  static const double alphas[] = { 0.01, 0.05, 0.10 }, effects[] = { 0.2, 0.5, 0.8 };
  static const guint n_zones[3][3] = { { 586, 95, 38 }, { 393, 64, 26 }, { 310, 50, 20 } };

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        const SherdPower power = {
          .shift_de00 = effects[j], .scatter_de00 = 1.0, .n_paints = 2, .alpha = alphas[i], .power = 0.80
        };
        const double off = (double)sherd_power_find_replicates (&power) - n_zones[i][j];

        g_assert_cmpfloat (fabs (off), <=, fmax (1.0, n_zones[i][j] / 200.0));
      }
}

static void
test_analysis_of_variance_as_cohen_has_it (void)
{
  static const double effects[] = { 0.10, 0.25, 0.40 };
  static const guint n_zones[5][3] = {
    { 322, 52, 21 }, { 274, 45, 18 }, { 240, 39, 16 }, { 215, 35, 14 }, { 195, 32, 13 }
  };

  for (guint i = 0; i < 5; i++)
    for (guint j = 0; j < 3; j++)
      {
        const double n_groups = 3.0 + i, n = n_zones[i][j], effect = effects[j];

        g_assert_cmpfloat (
          sherd_power_of_f (0.05, n_groups - 1, n_groups * (n - 2), effect * effect * n_groups * (n - 1)), <,
          0.80 + 0.005);
        g_assert_cmpfloat (sherd_power_of_f (0.05, n_groups - 1, n_groups * n, effect * effect * n_groups * (n + 1)), >,
                           0.80 - 0.005);
      }
}

/* R leaves the other tail out, 2e-7 here: power.t.test (n = 20, delta = 1); power.t.test (power = .90, delta = 1) gives
 * n = 22.02. */
static void
test_two_means_as_r_has_it (void)
{
  SherdPower power = { .shift_de00 = 1.0, .scatter_de00 = 1.0, .n_paints = 2, .alpha = 0.05, .power = 0.90 };

  g_assert_cmpfloat_with_epsilon (sherd_power_get (&power, 20), 0.8689528, 5e-7);
  g_assert_cmpuint (sherd_power_find_replicates (&power), ==, 23);
  g_assert_cmpfloat (sherd_power_get (&power, 22), <, 0.90);
}

/* power.anova.test (groups = 4, n = 5, between.var = 1, within.var = 3): noncentrality (4 − 1) · 5 · 1/3. */
static void
test_analysis_of_variance_as_r_has_it (void)
{
  g_assert_cmpfloat_with_epsilon (sherd_power_of_f (0.05, 3, 16, 5.0), 0.3535594, 2e-7);
}

static void
test_no_difference_is_claimed_as_often_as_allowed (void)
{
  g_assert_cmpfloat_with_epsilon (sherd_power_of_f (0.05, 3, 20, 0.0), 0.05, 1e-12);
  g_assert_cmpfloat_with_epsilon (sherd_power_of_f (0.05, 3, 20, 1e-9), 0.05, 1e-8);
}

static void
test_power_grows_with_replicates_and_shift (void)
{
  SherdPower power = { .shift_de00 = 1.0, .scatter_de00 = 1.5, .n_paints = 5, .alpha = 0.05 };

  for (guint n = 2; n < 60; n++)
    g_assert_cmpfloat (sherd_power_get (&power, n), <, sherd_power_get (&power, n + 1));
  g_assert_cmpfloat (sherd_power_get (&power, 1), ==, 0.0);
  g_assert_cmpfloat (sherd_power_get (&power, 5000), >, 1.0 - 1e-12);
  power.n_comparisons = 10;
  g_assert_cmpfloat (sherd_power_get (&power, 20), <, 0.5);
}

static void
test_too_small_a_shift_has_no_number (void)
{
  const SherdPower power = { .shift_de00 = 0.001, .scatter_de00 = 1.5, .n_paints = 2, .alpha = 0.05, .power = 0.8 };

  g_assert_cmpuint (sherd_power_find_replicates (&power), ==, 0);
}

/* Three treatments of 3, 1 and 4 zones: 2 + 3 degrees of freedom; the lower 0.20 quantile of χ² with 5 is 2.343. */
static void
test_scatter_is_pooled (void)
{
  const double squares[] = { 2.0, 9.0, 3.0 };
  const guint n_zones[] = { 3, 1, 4 };
  const SherdScatter scatter = sherd_scatter_pool (squares, n_zones, 3);
  const SherdScatter none = sherd_scatter_pool (squares + 1, n_zones + 1, 1);

  g_assert_cmpuint (scatter.n_df, ==, 5);
  g_assert_cmpfloat_with_epsilon (scatter.sd, 1.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (scatter.upper_sd, sqrt (5.0 / 2.343), 1e-3);
  g_assert_cmpuint (none.n_df, ==, 0);
  g_assert_true (isnan (none.sd));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/power/two-means-as-cohen-has-it", test_two_means_as_cohen_has_it);
  g_test_add_func ("/plan/power/analysis-of-variance-as-cohen-has-it", test_analysis_of_variance_as_cohen_has_it);
  g_test_add_func ("/plan/power/two-means-as-r-has-it", test_two_means_as_r_has_it);
  g_test_add_func ("/plan/power/analysis-of-variance-as-r-has-it", test_analysis_of_variance_as_r_has_it);
  g_test_add_func ("/plan/power/no-difference-is-claimed-as-often-as-allowed",
                   test_no_difference_is_claimed_as_often_as_allowed);
  g_test_add_func ("/plan/power/power-grows-with-replicates-and-shift", test_power_grows_with_replicates_and_shift);
  g_test_add_func ("/plan/power/too-small-a-shift-has-no-number", test_too_small_a_shift_has_no_number);
  g_test_add_func ("/plan/power/scatter-is-pooled", test_scatter_is_pooled);
  return g_test_run ();
}
