/* SPDX-License-Identifier: GPL-3.0-or-later */

/* By hand; the doubts against a hundred thousand draws. */

#include "config.h"

#include "shape/shrinkage.h"

#include <math.h>
#include <string.h>

#define N_DRAWS 100000u
/* Of as many draws a standard deviation is known to 1/√(2n) = 0.22 %; four times that. */
#define DRAWN_SHARE 0.01

static const SherdClayShrinkage CLAY = { { 0.05, 0.01 }, { 0.02, 0.005 } };

static void
test_states_follow_one_another (void)
{
  const SherdLength wet = { 100.0, 0.0 };

  g_assert_cmpfloat_with_epsilon (sherd_shrinkage_convert (&CLAY, SHERD_CLAY_LEATHER_HARD, SHERD_CLAY_DRY, &wet).mm,
                                  95.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (sherd_shrinkage_convert (&CLAY, SHERD_CLAY_LEATHER_HARD, SHERD_CLAY_FIRED, &wet).mm,
                                  93.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (sherd_shrinkage_convert (&CLAY, SHERD_CLAY_FIRED, SHERD_CLAY_LEATHER_HARD, &wet).mm,
                                  100.0 / 0.931, 1e-9);
  for (guint state = SHERD_CLAY_LEATHER_HARD; state <= SHERD_CLAY_FIRED; state++)
    g_assert_cmpfloat (sherd_shrinkage_between (&CLAY, state, state).sd_frac, ==, 0.0);
}

/* The sum of twelve even draws less six has the standard deviation 1. */
static double
draw (GRand *random)
{
  double sum = -6.0;

  for (guint i = 0; i < 12; i++)
    sum += g_rand_double (random);
  return sum;
}

static void
assert_doubt_is_that_of_draws (SherdClayState from, SherdClayState to)
{
  const SherdLength length = { 150.0, 0.8 };
  const SherdLength converted = sherd_shrinkage_convert (&CLAY, from, to, &length);
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  double sum = 0.0, squares = 0.0;

  for (guint i = 0; i < N_DRAWS; i++)
    {
      const SherdClayShrinkage clay = { { CLAY.drying.frac + CLAY.drying.sd_frac * draw (random), 0.0 },
                                        { CLAY.firing.frac + CLAY.firing.sd_frac * draw (random), 0.0 } };
      const SherdLength drawn = { length.mm + length.sd_mm * draw (random), 0.0 };
      const double mm = sherd_shrinkage_convert (&clay, from, to, &drawn).mm;

      sum += mm;
      squares += mm * mm;
    }
  g_assert_cmpfloat_with_epsilon (converted.sd_mm, sqrt (squares / N_DRAWS - pow (sum / N_DRAWS, 2)),
                                  DRAWN_SHARE * converted.sd_mm);
}

static void
test_doubt_is_that_of_draws (void)
{
  assert_doubt_is_that_of_draws (SHERD_CLAY_LEATHER_HARD, SHERD_CLAY_FIRED);
  assert_doubt_is_that_of_draws (SHERD_CLAY_FIRED, SHERD_CLAY_LEATHER_HARD);
  assert_doubt_is_that_of_draws (SHERD_CLAY_DRY, SHERD_CLAY_FIRED);
}

static void
test_scribed_bar (void)
{
  const SherdLength before = { 100.0, 0.3 }, after = { 94.0, 0.25 }, none = { 0.0, 0.1 }, half = { 50.0, 0.1 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) too_much = NULL;
  SherdShrinkage shrinkage;

  g_assert_true (sherd_shrinkage_from_bar (&before, &after, &shrinkage, NULL));
  g_assert_cmpfloat_with_epsilon (shrinkage.frac, 0.06, 1e-12);
  g_assert_cmpfloat_with_epsilon (shrinkage.sd_frac, 0.94 * hypot (0.003, 0.25 / 94.0), 1e-12);
  g_assert_false (sherd_shrinkage_from_bar (&none, &after, &shrinkage, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE);
  g_assert_false (sherd_shrinkage_from_bar (&before, &half, &shrinkage, &too_much));
  g_assert_nonnull (strstr (too_much->message, "cannot be"));
}

static void
test_unknown_clay_is_doubtful (void)
{
  const SherdClayShrinkage unknown = sherd_shrinkage_unknown ();
  const SherdLength wet = { 180.0, 0.0 };
  const SherdLength fired = sherd_shrinkage_convert (&unknown, SHERD_CLAY_LEATHER_HARD, SHERD_CLAY_FIRED, &wet);

  g_assert_true (sherd_shrinkage_check (&unknown.drying, NULL));
  g_assert_true (sherd_shrinkage_check (&unknown.firing, NULL));
  g_assert_cmpfloat (fired.sd_mm, >, 0.01 * fired.mm);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/shrinkage/states-follow-one-another", test_states_follow_one_another);
  g_test_add_func ("/shape/shrinkage/doubt-is-that-of-draws", test_doubt_is_that_of_draws);
  g_test_add_func ("/shape/shrinkage/scribed-bar", test_scribed_bar);
  g_test_add_func ("/shape/shrinkage/unknown-clay-is-doubtful", test_unknown_clay_is_doubtful);
  return g_test_run ();
}
