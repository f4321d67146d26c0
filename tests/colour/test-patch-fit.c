/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Terms by hand after Finlayson, Mackiewicz and Hurlbert 2015. The solution is held against another way of GSL's to
 * solve the same equations (gsl_multifit_wlinear, with the weights apart) and against the condition that defines least
 * squares; leaving a patch out against fitting again without it. */

#include "config.h"

#include "colour/patch-fit.h"

#include "camera.h"
#include "oracle.h"

#include <gsl/gsl_multifit.h>
#include <math.h>
#include <string.h>

/* Ten digits of sixteen are left after a decomposition of a condition of some hundreds. */
#define SOLVED 1e-9
#define N_PAIRS 24u

static void
test_terms_are_those_of_the_paper (void)
{
  double terms[SHERD_PATCH_FIT_MOST_TERMS];

  sherd_patch_fit_expand (&(SherdRgb){ 0.2, 0.4, 0.1 }, terms);
  assert_near (terms, (const double[]){ 0.2, 0.4, 0.1, 0.2828427125, 0.2, 0.1414213562 }, 6, 1e-9);
}

static void
test_terms_grow_with_the_exposure (void)
{
  double once[SHERD_PATCH_FIT_MOST_TERMS], thrice[SHERD_PATCH_FIT_MOST_TERMS];

  sherd_patch_fit_expand (&(SherdRgb){ 0.2, 0.4, 0.1 }, once);
  sherd_patch_fit_expand (&(SherdRgb){ 0.6, 1.2, 0.3 }, thrice);
  for (guint term = 0; term < SHERD_PATCH_FIT_MOST_TERMS; term++)
    g_assert_cmpfloat_with_epsilon (thrice[term], 3 * once[term], 1e-15);
}

static void
test_light_below_zero_has_no_root (void)
{
  double terms[SHERD_PATCH_FIT_MOST_TERMS];

  sherd_patch_fit_expand (&(SherdRgb){ -0.01, 0.25, 0.04 }, terms);
  assert_near (terms, (const double[]){ -0.01, 0.25, 0.04, 0, 0.1, 0 }, 6, 1e-15);
}

static SherdCorrectionPair *
noisy_pairs (guint32 seed)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);
  double camera[3][3];

  camera_draw (random, camera);
  return camera_pairs (random, camera, N_PAIRS, 0.03);
}

/* The equations as they follow from the doc comment, weights apart. */
static void
set_plain_equations (const SherdCorrectionPair *pairs, guint n_terms, gsl_matrix *x, gsl_vector *y, gsl_vector *w)
{
  for (guint i = 0; i < N_PAIRS; i++)
    {
      const SherdXyz xyz = sherd_lab_to_xyz (&pairs[i].reference);
      double slopes[3][3], terms[SHERD_PATCH_FIT_MOST_TERMS];

      sherd_lab_jacobian (&xyz, slopes);
      sherd_patch_fit_expand (&pairs[i].linear, terms);
      for (guint axis = 0; axis < 3; axis++)
        {
          gsl_vector_set (w, 3 * i + axis, pairs[i].weight);
          gsl_vector_set (y, 3 * i + axis, slopes[axis][0] * xyz.x + slopes[axis][1] * xyz.y + slopes[axis][2] * xyz.z);
          for (guint k = 0; k < 3; k++)
            for (guint term = 0; term < n_terms; term++)
              gsl_matrix_set (x, 3 * i + axis, n_terms * k + term, slopes[axis][k] * terms[term]);
        }
    }
}

static void
assert_solved_as_by_multifit (const SherdCorrectionPair *pairs, guint n_terms)
{
  g_auto (SherdPatchFit) fit = { 0 };
  gsl_matrix *x = gsl_matrix_alloc (3 * N_PAIRS, 3 * n_terms);
  gsl_matrix *covariance = gsl_matrix_alloc (3 * n_terms, 3 * n_terms);
  gsl_vector *y = gsl_vector_alloc (3 * N_PAIRS), *w = gsl_vector_alloc (3 * N_PAIRS);
  gsl_vector *solution = gsl_vector_alloc (3 * n_terms);
  gsl_multifit_linear_workspace *work = gsl_multifit_linear_alloc (3 * N_PAIRS, 3 * n_terms);
  double chi2;

  g_assert_true (sherd_patch_fit_solve (&fit, pairs, N_PAIRS, n_terms, NULL));
  set_plain_equations (pairs, n_terms, x, y, w);
  gsl_multifit_wlinear (x, w, y, solution, covariance, &chi2, work);
  assert_near (fit.solution->data, solution->data, 3 * n_terms, SOLVED);
  gsl_multifit_linear_free (work);
  gsl_vector_free (solution);
  gsl_vector_free (w);
  gsl_vector_free (y);
  gsl_matrix_free (covariance);
  gsl_matrix_free (x);
}

static void
test_it_is_solved_as_by_another_routine (void)
{
  g_autofree SherdCorrectionPair *pairs = noisy_pairs (40);

  pairs[3].weight = 0.25;
  pairs[7].weight = 2;
  assert_solved_as_by_multifit (pairs, 3);
  assert_solved_as_by_multifit (pairs, 6);
}

static void
assert_left_out_as_if_fitted_again (const SherdCorrectionPair *pairs, guint n_terms)
{
  g_auto (SherdPatchFit) fit = { 0 };

  g_assert_true (sherd_patch_fit_solve (&fit, pairs, N_PAIRS, n_terms, NULL));
  for (guint i = 0; i < N_PAIRS; i++)
    {
      g_autofree SherdCorrectionPair *others = g_memdup2 (pairs, N_PAIRS * sizeof *pairs);
      g_auto (SherdPatchFit) again = { 0 };
      double terms[SHERD_PATCH_FIT_MOST_TERMS], xyz[3] = { 0, 0, 0 };
      SherdLab left_out, fitted_again;

      memmove (others + i, others + i + 1, (N_PAIRS - 1 - i) * sizeof *others);
      g_assert_true (sherd_patch_fit_solve (&again, others, N_PAIRS - 1, n_terms, NULL));
      sherd_patch_fit_expand (&pairs[i].linear, terms);
      for (guint k = 0; k < 3; k++)
        for (guint term = 0; term < n_terms; term++)
          xyz[k] += gsl_vector_get (again.solution, n_terms * k + term) * terms[term];
      fitted_again = sherd_lab_from_xyz (&(SherdXyz){ xyz[0], xyz[1], xyz[2] });
      g_assert_true (sherd_patch_fit_leave_out (&fit, &pairs[i], i, &left_out, NULL));
      assert_lab_near (&left_out, &fitted_again, 1e-7);
    }
}

static void
test_leaving_out_is_fitting_again (void)
{
  g_autofree SherdCorrectionPair *pairs = noisy_pairs (41);

  pairs[2].weight = 0.5;
  pairs[5].weight = 0;
  assert_left_out_as_if_fitted_again (pairs, 3);
  assert_left_out_as_if_fitted_again (pairs, 6);
}

static void
assert_refused (const SherdCorrectionPair *pairs, gsize n_pairs)
{
  g_auto (SherdPatchFit) fit = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_patch_fit_solve (&fit, pairs, n_pairs, 3, &error));
  g_assert_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_ILL_CONDITION);
}

static void
test_numbers_out_of_reach_are_refused (void)
{
  const double bad[] = { NAN, INFINITY, -INFINITY, 1e300 };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autofree SherdCorrectionPair *light = noisy_pairs (42);
      g_autofree SherdCorrectionPair *weight = noisy_pairs (42);

      light[4].linear.g = bad[i];
      weight[4].weight = bad[i];
      assert_refused (light, N_PAIRS);
      assert_refused (weight, N_PAIRS);
    }
}

static void
test_patches_without_light_are_refused (void)
{
  g_autofree SherdCorrectionPair *pairs = noisy_pairs (43);

  for (guint i = 0; i < N_PAIRS; i++)
    pairs[i].linear = (SherdRgb){ 0, 0, 0 };
  assert_refused (pairs, N_PAIRS);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/colour/patch-fit/terms-are-those-of-the-paper", test_terms_are_those_of_the_paper);
  g_test_add_func ("/colour/patch-fit/terms-grow-with-the-exposure", test_terms_grow_with_the_exposure);
  g_test_add_func ("/colour/patch-fit/light-below-zero-has-no-root", test_light_below_zero_has_no_root);
  g_test_add_func ("/colour/patch-fit/solved-as-by-another-routine", test_it_is_solved_as_by_another_routine);
  g_test_add_func ("/colour/patch-fit/leaving-out-is-fitting-again", test_leaving_out_is_fitting_again);
  g_test_add_func ("/colour/patch-fit/refuses/numbers-out-of-reach", test_numbers_out_of_reach_are_refused);
  g_test_add_func ("/colour/patch-fit/refuses/patches-without-light", test_patches_without_light_are_refused);
  return g_test_run ();
}
