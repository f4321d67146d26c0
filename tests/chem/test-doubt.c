/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed forms of GUM (JCGM 100:2008) equation 10, for a sum, a product and a ratio. */

#include "config.h"

#include "chem/doubt.h"

#include <math.h>

/* The effect of a whole standard uncertainty instead of a derivative: at 1 % doubt it differs by the third power. */
#define CURVATURE 1e-5

static void
two_numbers (const double *scores, double *outputs, gpointer data)
{
  const SherdValue *in = data;
  const double a = in[0].value + scores[0] * in[0].u;
  const double b = in[1].value + scores[1] * in[1].u;

  outputs[0] = a + b;
  outputs[1] = a * b;
  outputs[2] = a / b;
  outputs[3] = a - a;
}

static void
test_sum_product_and_ratio_have_their_closed_forms (void)
{
  SherdValue in[2] = { { 40.0, 0.3 }, { 8.0, 0.04 } };
  SherdValue out[4];
  const double relative = hypot (0.3 / 40.0, 0.04 / 8.0);

  sherd_doubt_propagate (two_numbers, in, 2, 4, out, NULL);
  g_assert_cmpfloat_with_epsilon (out[0].value, 48.0, 1e-12);
  g_assert_cmpfloat_with_epsilon (out[0].u, hypot (0.3, 0.04), 1e-12);
  g_assert_cmpfloat_with_epsilon (out[1].u / out[1].value, relative, CURVATURE);
  g_assert_cmpfloat_with_epsilon (out[2].u / out[2].value, relative, CURVATURE);
}

static void
test_what_is_shared_cancels (void)
{
  SherdValue in[2] = { { 40.0, 5.0 }, { 8.0, 1.0 } };
  SherdValue out[4];
  double effects[8];

  sherd_doubt_propagate (two_numbers, in, 2, 4, out, effects);
  g_assert_cmpfloat (out[3].u, ==, 0.0);
  g_assert_cmpfloat_with_epsilon (effects[0], 5.0, 1e-12); /* the first input in the sum */
  g_assert_cmpfloat_with_epsilon (effects[4], 1.0, 1e-12); /* the second */
}

static void
test_limits_are_a_uniform_distribution (void)
{
  g_assert_cmpfloat_with_epsilon (sherd_doubt_of_limits (1.1), 1.1 / sqrt (3.0), 1e-15);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/doubt/sum-product-and-ratio-have-their-closed-forms",
                   test_sum_product_and_ratio_have_their_closed_forms);
  g_test_add_func ("/chem/doubt/what-is-shared-cancels", test_what_is_shared_cancels);
  g_test_add_func ("/chem/doubt/limits-are-a-uniform-distribution", test_limits_are_a_uniform_distribution);
  return g_test_run ();
}
