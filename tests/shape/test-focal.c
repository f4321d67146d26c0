/* SPDX-License-Identifier: GPL-3.0-or-later */

/* CIPA DCG-001: the 35 mm equivalent compares diagonals, that of 36 × 24 mm being 43.27 mm. */

#include "config.h"

#include "shape/focal.h"

static void
test_equivalent_compares_diagonals (void)
{
  const SherdFocalGuess guess = sherd_focal_guess (3600, 2400, 50.0);

  /* Of the same shape as the film: 100 px per mm. */
  g_assert_cmpfloat_with_epsilon (guess.focal_px, 5000.0, 0.01);
  g_assert_cmpfloat (guess.sd_ln, <, 0.05);
}

static void
test_without_one_little_is_believed (void)
{
  const SherdFocalGuess guess = sherd_focal_guess (2400, 3600, 0.0);

  g_assert_cmpfloat_with_epsilon (guess.focal_px, 1.2 * 3600, 1e-9);
  g_assert_cmpfloat (guess.sd_ln, >, 0.2);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/focal/equivalent-compares-diagonals", test_equivalent_compares_diagonals);
  g_test_add_func ("/shape/focal/without-one-little-is-believed", test_without_one_little_is_believed);
  return g_test_run ();
}
