/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Truth outside the fit: cameras made here whose colours are known exactly (camera.h), with and without noise, and one
 * that bends colours as only the root-polynomial can undo. Statistics are computed again from the residuals; leaving
 * one out by fitting again. The white of IEC 61966-2-1 and its red come from its printed definition. */

#include "config.h"

#include "colour/correction.h"

#include "camera.h"
#include "colour/difference.h"
#include "colour/patch-fit.h"
#include "colour/srgb.h"
#include "oracle.h"

#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* Ten digits of sixteen are left after a decomposition of a condition of some hundreds. */
#define RECOVERED 1e-9
/* A colour computed from such a solution, in L*a*b*. */
#define RECOVERED_LAB 1e-6
#define N_PAIRS 24u

static SherdLab
corrected (const SherdCorrection *correction, const SherdRgb *linear)
{
  const SherdXyz xyz = sherd_correction_apply (correction, linear);

  return sherd_lab_from_xyz (&xyz);
}

static SherdCorrectionPair *
pairs_of_a_camera (guint32 seed, gsize n_pairs, double noise_frac)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);
  double camera[3][3];

  camera_draw (random, camera);
  return camera_pairs (random, camera, n_pairs, noise_frac);
}

static void
test_a_linear_camera_is_recovered (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (30);

  for (guint i = 0; i < 20; i++)
    {
      double camera[3][3];
      g_autofree SherdCorrectionPair *pairs = NULL;
      SherdCorrection correction;

      camera_draw (random, camera);
      pairs = camera_pairs (random, camera, N_PAIRS, 0);
      g_assert_true (sherd_correction_fit (&correction, pairs, N_PAIRS, SHERD_CORRECTION_LINEAR, NULL, NULL));
      g_assert_cmpfloat (correction.loo_max_de00, <, RECOVERED_LAB);
      g_assert_cmpuint (correction.n_pairs, ==, N_PAIRS);
      for (guint k = 0; k < 100; k++)
        {
          const SherdLab unseen = camera_surface (random);
          const SherdRgb linear = camera_see (camera, &unseen);
          const SherdLab found = corrected (&correction, &linear);

          assert_lab_near (&found, &unseen, RECOVERED_LAB);
        }
    }
}

/* A camera that bends colours: its light is drawn, what it stands for follows from six terms. */
static SherdCorrectionPair *
bent_pairs (guint32 seed, gsize n_pairs, double bend, double noise_frac)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (seed);
  SherdCorrectionPair *pairs = g_new0 (SherdCorrectionPair, n_pairs);
  SherdCorrection truth;

  sherd_correction_init_none (&truth);
  truth.model = SHERD_CORRECTION_ROOT_POLYNOMIAL;
  for (guint k = 0; k < 3; k++)
    {
      truth.matrix[k][3 + k] += bend;
      truth.matrix[k][3 + (k + 1) % 3] -= bend;
    }
  for (gsize i = 0; i < n_pairs; i++)
    {
      const SherdLab surface = camera_surface (random);
      const SherdXyz xyz = sherd_lab_to_xyz (&surface);

      pairs[i].linear = sherd_srgb_from_xyz_d50 (&xyz);
      pairs[i].linear.r = MAX (pairs[i].linear.r, 0.002);
      pairs[i].linear.b = MAX (pairs[i].linear.b, 0.002);
      pairs[i].reference = corrected (&truth, &pairs[i].linear);
      pairs[i].linear.g *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].weight = 1;
    }
  return pairs;
}

static void
test_a_bent_camera_is_recovered_by_the_root_polynomial (void)
{
  g_autofree SherdCorrectionPair *pairs = bent_pairs (31, 30, 0.1, 0);
  SherdCorrection correction;

  g_assert_true (sherd_correction_fit (&correction, pairs, 30, SHERD_CORRECTION_ROOT_POLYNOMIAL, NULL, NULL));
  g_assert_cmpfloat (correction.loo_max_de00, <, RECOVERED_LAB);
  for (guint k = 0; k < 3; k++)
    g_assert_cmpfloat_with_epsilon (correction.matrix[k][3 + k], 0.1, RECOVERED);
}

static void
test_a_correction_grows_with_the_exposure (void)
{
  const SherdRgb light = { 0.3, 0.2, 0.1 }, shade = { 0.06, 0.04, 0.02 };
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (32, N_PAIRS, 0.03);

  for (SherdCorrectionModel model = SHERD_CORRECTION_LINEAR; model <= SHERD_CORRECTION_ROOT_POLYNOMIAL; model++)
    {
      SherdCorrection correction;
      SherdXyz lit, shaded;

      g_assert_true (sherd_correction_fit (&correction, pairs, N_PAIRS, model, NULL, NULL));
      lit = sherd_correction_apply (&correction, &light);
      shaded = sherd_correction_apply (&correction, &shade);
      assert_near ((const double[]){ 5 * shaded.x, 5 * shaded.y, 5 * shaded.z }, &lit.x, 3, 1e-14);
    }
}

static void
test_a_darker_photograph_fits_as_well (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (33, N_PAIRS, 0.03);
  SherdCorrection bright, dark;

  g_assert_true (sherd_correction_fit_best (&bright, pairs, N_PAIRS, NULL, NULL));
  for (guint i = 0; i < N_PAIRS; i++)
    pairs[i].linear = (SherdRgb){ 0.05 * pairs[i].linear.r, 0.05 * pairs[i].linear.g, 0.05 * pairs[i].linear.b };
  g_assert_true (sherd_correction_fit_best (&dark, pairs, N_PAIRS, NULL, NULL));
  g_assert_cmpint (dark.model, ==, bright.model);
  g_assert_cmpfloat_with_epsilon (dark.loo_mean_de00, bright.loo_mean_de00, RECOVERED_LAB);
}

static void
assert_same_matrix (const SherdCorrection *one, const SherdCorrection *other)
{
  assert_near (&one->matrix[0][0], &other->matrix[0][0], 18, RECOVERED);
}

static void
test_a_patch_of_weight_two_counts_as_two (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (34, N_PAIRS + 1, 0.03);
  SherdCorrection twice, heavy;

  pairs[N_PAIRS] = pairs[4];
  g_assert_true (sherd_correction_fit (&twice, pairs, N_PAIRS + 1, SHERD_CORRECTION_LINEAR, NULL, NULL));
  pairs[4].weight = 2;
  g_assert_true (sherd_correction_fit (&heavy, pairs, N_PAIRS, SHERD_CORRECTION_LINEAR, NULL, NULL));
  assert_same_matrix (&twice, &heavy);
}

static void
test_a_patch_of_weight_nothing_is_only_looked_at (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (35, N_PAIRS, 0.03);
  double residual_lab[3 * N_PAIRS];
  SherdCorrection without, looked_at;
  SherdLab last;

  /* A glare on the last patch. */
  pairs[N_PAIRS - 1].linear.r += 0.5;
  pairs[N_PAIRS - 1].weight = 0;
  g_assert_true (sherd_correction_fit (&without, pairs, N_PAIRS - 1, SHERD_CORRECTION_LINEAR, NULL, NULL));
  g_assert_true (sherd_correction_fit (&looked_at, pairs, N_PAIRS, SHERD_CORRECTION_LINEAR, residual_lab, NULL));
  assert_same_matrix (&without, &looked_at);
  g_assert_cmpuint (looked_at.n_pairs, ==, N_PAIRS - 1);
  g_assert_cmpuint (looked_at.loo_worst, ==, without.loo_worst);
  g_assert_cmpfloat_with_epsilon (looked_at.loo_mean_de00, without.loo_mean_de00, RECOVERED_LAB);
  g_assert_cmpfloat_with_epsilon (looked_at.loo_median_de00, without.loo_median_de00, RECOVERED_LAB);
  assert_near (&looked_at.covariance[0][0], &without.covariance[0][0], 9, RECOVERED_LAB);
  last = corrected (&without, &pairs[N_PAIRS - 1].linear);
  g_assert_cmpfloat_with_epsilon (residual_lab[3 * N_PAIRS - 3], last.l - pairs[N_PAIRS - 1].reference.l,
                                  RECOVERED_LAB);
  g_assert_cmpfloat_with_epsilon (residual_lab[3 * N_PAIRS - 2], last.a - pairs[N_PAIRS - 1].reference.a,
                                  RECOVERED_LAB);
}

static void
test_residuals_are_those_of_a_fit_without_the_patch (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (36, N_PAIRS, 0.05);
  double residual_lab[3 * N_PAIRS];
  SherdCorrection correction;

  for (SherdCorrectionModel model = SHERD_CORRECTION_LINEAR; model <= SHERD_CORRECTION_ROOT_POLYNOMIAL; model++)
    {
      g_assert_true (sherd_correction_fit (&correction, pairs, N_PAIRS, model, residual_lab, NULL));
      for (guint i = 0; i < N_PAIRS; i++)
        {
          SherdCorrection again;
          SherdLab lab;

          pairs[i].weight = 0;
          g_assert_true (sherd_correction_fit (&again, pairs, N_PAIRS, model, NULL, NULL));
          pairs[i].weight = 1;
          lab = corrected (&again, &pairs[i].linear);
          g_assert_cmpfloat_with_epsilon (residual_lab[3 * i], lab.l - pairs[i].reference.l, RECOVERED_LAB);
          g_assert_cmpfloat_with_epsilon (residual_lab[3 * i + 1], lab.a - pairs[i].reference.a, RECOVERED_LAB);
          g_assert_cmpfloat_with_epsilon (residual_lab[3 * i + 2], lab.b - pairs[i].reference.b, RECOVERED_LAB);
        }
    }
}

static void
test_the_summary_follows_from_the_residuals (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (37, N_PAIRS, 0.05);
  double residual_lab[3 * N_PAIRS], de00[N_PAIRS], moments[9] = { 0 };
  SherdCorrection correction;

  g_assert_true (sherd_correction_fit (&correction, pairs, N_PAIRS, SHERD_CORRECTION_LINEAR, residual_lab, NULL));
  for (guint i = 0; i < N_PAIRS; i++)
    {
      const double *off = &residual_lab[3 * i];
      const SherdLab *reference = &pairs[i].reference;

      de00[i] = sherd_difference_de00 (
        reference, &(SherdLab){ reference->l + off[0], reference->a + off[1], reference->b + off[2] });
      for (guint k = 0; k < 9; k++)
        moments[k] += off[k / 3] * off[k % 3] / N_PAIRS;
    }
  g_assert_cmpfloat_with_epsilon (correction.loo_mean_de00, gsl_stats_mean (de00, 1, N_PAIRS), RECOVERED);
  g_assert_cmpuint (correction.loo_worst, ==, gsl_stats_max_index (de00, 1, N_PAIRS));
  g_assert_cmpfloat_with_epsilon (correction.loo_max_de00, gsl_stats_max (de00, 1, N_PAIRS), RECOVERED);
  assert_near (&correction.covariance[0][0], moments, 9, RECOVERED);
  gsl_sort (de00, 1, N_PAIRS);
  g_assert_cmpfloat_with_epsilon (correction.loo_median_de00, 0.5 * (de00[11] + de00[12]), RECOVERED);
}

static void
test_its_covariance_is_what_unseen_colours_are_off_by (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (38);
  double promised = 0, found = 0;

  /* A hundred charts read with 3 % of error, and as many unseen colours read likewise. */
  for (guint i = 0; i < 100; i++)
    {
      double camera[3][3];
      g_autofree SherdCorrectionPair *pairs = NULL;
      g_autofree SherdCorrectionPair *unseen = NULL;
      SherdCorrection correction;

      camera_draw (random, camera);
      pairs = camera_pairs (random, camera, N_PAIRS, 0.03);
      unseen = camera_pairs (random, camera, N_PAIRS, 0.03);
      g_assert_true (sherd_correction_fit (&correction, pairs, N_PAIRS, SHERD_CORRECTION_LINEAR, NULL, NULL));
      promised += correction.covariance[0][0] + correction.covariance[1][1] + correction.covariance[2][2];
      for (guint k = 0; k < N_PAIRS; k++)
        {
          const SherdLab lab = corrected (&correction, &unseen[k].linear);
          const double off = sherd_difference_de76 (&lab, &unseen[k].reference);

          found += off * off / N_PAIRS;
        }
    }
  /* Both are means of some thousand squares: known to about 5 %, taken thrice. */
  g_assert_cmpfloat (promised / found, >, 0.85);
  g_assert_cmpfloat (promised / found, <, 1.15);
}

static void
test_the_root_polynomial_is_taken_only_if_clearly_better (void)
{
  g_autofree SherdCorrectionPair *straight = pairs_of_a_camera (39, N_PAIRS, 0.03);
  g_autofree SherdCorrectionPair *bent = bent_pairs (39, N_PAIRS, 0.1, 0.01);
  SherdCorrection best, linear;

  g_assert_true (sherd_correction_fit_best (&best, straight, N_PAIRS, NULL, NULL));
  g_assert_cmpint (best.model, ==, SHERD_CORRECTION_LINEAR);
  g_assert_true (sherd_correction_fit_best (&best, bent, N_PAIRS, NULL, NULL));
  g_assert_cmpint (best.model, ==, SHERD_CORRECTION_ROOT_POLYNOMIAL);
  g_assert_true (sherd_correction_fit (&linear, bent, N_PAIRS, SHERD_CORRECTION_LINEAR, NULL, NULL));
  g_assert_cmpfloat (best.loo_mean_de00, <, 0.9 * linear.loo_mean_de00);
}

static void
test_the_residuals_belong_to_the_model_taken (void)
{
  g_autofree SherdCorrectionPair *bent = bent_pairs (39, N_PAIRS, 0.1, 0.01);
  double of_best[3 * N_PAIRS], of_curved[3 * N_PAIRS];
  SherdCorrection best, curved;

  g_assert_true (sherd_correction_fit_best (&best, bent, N_PAIRS, of_best, NULL));
  g_assert_true (sherd_correction_fit (&curved, bent, N_PAIRS, SHERD_CORRECTION_ROOT_POLYNOMIAL, of_curved, NULL));
  g_assert_cmpmem (of_best, sizeof of_best, of_curved, sizeof of_curved);
}

static void
test_17_patches_are_too_few_for_the_root_polynomial (void)
{
  g_autofree SherdCorrectionPair *bent = bent_pairs (39, 18, 0.1, 0);
  SherdCorrection best;

  g_assert_true (sherd_correction_fit_best (&best, bent, 18, NULL, NULL));
  g_assert_cmpint (best.model, ==, SHERD_CORRECTION_ROOT_POLYNOMIAL);
  g_assert_true (sherd_correction_fit_best (&best, bent, 17, NULL, NULL));
  g_assert_cmpint (best.model, ==, SHERD_CORRECTION_LINEAR);
}

static void
test_without_a_reference_the_file_is_believed_widely (void)
{
  SherdCorrection correction;
  SherdLab red;

  sherd_correction_init_none (&correction);
  g_assert_cmpint (correction.model, ==, SHERD_CORRECTION_NONE);
  red = corrected (&correction, &(SherdRgb){ 1, 0, 0 });
  assert_lab_near (&red, &(SherdLab){ 54.28963, 80.81436, 69.88974 }, 5e-4);
  /* Uncorrected cameras are 5 to 15 ΔE off: the prior must reach there. */
  for (guint axis = 0; axis < 3; axis++)
    g_assert_cmpfloat (sqrt (correction.covariance[axis][axis]), >=, 5);
}

/* A camera that differs from sRGB in gains alone, which a card takes away. */
static SherdRgb
see_with_gains (const SherdLab *colour)
{
  double gains[3][3] = { { 0.5, 0, 0 }, { 0, 0.8, 0 }, { 0, 0, 1.3 } };

  return camera_see (gains, colour);
}

static void
test_a_grey_card_brings_light_and_balance (void)
{
  const SherdLab card = { 49.5, 0.4, -0.7 };
  const SherdRgb seen = see_with_gains (&card);
  g_autoptr (GRand) random = g_rand_new_with_seed (44);
  SherdCorrection correction, none;

  sherd_correction_init_grey (&correction, &seen, &card);
  sherd_correction_init_none (&none);
  g_assert_cmpint (correction.model, ==, SHERD_CORRECTION_GREY);
  for (guint i = 0; i < 100; i++)
    {
      const SherdLab surface = camera_surface (random);
      const SherdRgb linear = see_with_gains (&surface);
      const SherdLab found = corrected (&correction, &linear);

      assert_lab_near (&found, &surface, RECOVERED_LAB);
    }
  for (guint axis = 0; axis < 3; axis++)
    g_assert_cmpfloat (correction.covariance[axis][axis], <, none.covariance[axis][axis]);
}

static SherdCorrectionPair *
grey_scale (GRand *random, gsize n_pairs, double noise_frac)
{
  SherdCorrectionPair *pairs = g_new0 (SherdCorrectionPair, n_pairs);

  for (gsize i = 0; i < n_pairs; i++)
    {
      pairs[i].reference = (SherdLab){ 20.0 + 75.0 * (double)i / (double)n_pairs, 0.3, -0.6 };
      pairs[i].linear = see_with_gains (&pairs[i].reference);
      pairs[i].linear.r *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].linear.g *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].linear.b *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].weight = 1;
    }
  return pairs;
}

static void
test_one_grey_patch_is_a_grey_card (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (45);
  g_autofree SherdCorrectionPair *pair = grey_scale (random, 1, 0.02);
  SherdCorrection fitted, card;

  g_assert_true (sherd_correction_fit_grey (&fitted, pair, 1, NULL, NULL));
  sherd_correction_init_grey (&card, &pair->linear, &pair->reference);
  assert_same_matrix (&fitted, &card);
  assert_near (&fitted.covariance[0][0], &card.covariance[0][0], 9, RECOVERED);
}

static void
test_a_scale_of_greys_is_a_better_grey_card (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (46);
  double off_by_one = 0, off_by_scale = 0;

  for (guint i = 0; i < 50; i++)
    {
      const SherdLab surface = camera_surface (random);
      const SherdRgb linear = see_with_gains (&surface);
      g_autofree SherdCorrectionPair *pairs = grey_scale (random, 8, 0.03);
      SherdCorrection one, scale;
      SherdLab by_one, by_scale;

      g_assert_true (sherd_correction_fit_grey (&one, pairs + 4, 1, NULL, NULL));
      g_assert_true (sherd_correction_fit_grey (&scale, pairs, 8, NULL, NULL));
      by_one = corrected (&one, &linear);
      by_scale = corrected (&scale, &linear);
      off_by_one += sherd_difference_de00 (&by_one, &surface);
      off_by_scale += sherd_difference_de00 (&by_scale, &surface);
    }
  /* √8 if all weighed the same. */
  g_assert_cmpfloat (off_by_scale, <, 0.6 * off_by_one);
}

static void
test_light_greys_weigh_more_than_dark_ones (void)
{
  /* Y of L* 80 and 20 is 0.5668 and 0.0299 (ISO/CIE 11664-4): weights Y^(2/3) 0.6849 and 0.0963. The dark one is read a
   * fifth too light, so the light one comes out darker by 1.2 to the power of 0.0963 / 0.7812. */
  SherdCorrectionPair pairs[2] = { { .reference = { 80, 0, 0 }, .weight = 1 },
                                   { .reference = { 20, 0, 0 }, .weight = 1 } };
  SherdCorrection correction;
  SherdXyz found;

  pairs[0].linear = see_with_gains (&pairs[0].reference);
  pairs[1].linear = see_with_gains (&pairs[1].reference);
  pairs[1].linear = (SherdRgb){ 1.2 * pairs[1].linear.r, 1.2 * pairs[1].linear.g, 1.2 * pairs[1].linear.b };
  g_assert_true (sherd_correction_fit_grey (&correction, pairs, 2, NULL, NULL));
  found = sherd_correction_apply (&correction, &pairs[0].linear);
  g_assert_cmpfloat_with_epsilon (found.y, 0.5668 * pow (1.2, -0.0963 / 0.7812), 1e-4);
}

static void
test_grey_residuals_are_those_of_a_fit_without_the_patch (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (47);
  g_autofree SherdCorrectionPair *pairs = grey_scale (random, 6, 0.03);
  double residual_lab[18];
  SherdCorrection correction;

  /* A red patch takes no part, but is looked at. */
  pairs[5].reference.a = 40;
  g_assert_true (sherd_correction_fit_grey (&correction, pairs, 6, residual_lab, NULL));
  g_assert_cmpuint (correction.n_pairs, ==, 5);
  for (guint i = 0; i < 6; i++)
    {
      SherdCorrection again;
      SherdLab lab;

      pairs[i].weight = 0;
      g_assert_true (sherd_correction_fit_grey (&again, pairs, 6, NULL, NULL));
      pairs[i].weight = 1;
      lab = corrected (&again, &pairs[i].linear);
      g_assert_cmpfloat_with_epsilon (residual_lab[3 * i], lab.l - pairs[i].reference.l, RECOVERED);
      g_assert_cmpfloat_with_epsilon (residual_lab[3 * i + 2], lab.b - pairs[i].reference.b, RECOVERED);
    }
}

static void
assert_refused (const SherdCorrectionPair *pairs, gsize n_pairs, SherdCorrectionModel model, SherdColourError code)
{
  g_autoptr (GError) error = NULL;
  SherdCorrection correction;

  g_assert_false (sherd_correction_fit (&correction, pairs, n_pairs, model, NULL, &error));
  g_assert_error (error, SHERD_COLOUR_ERROR, (gint)code);
}

static void
test_three_patches_are_refused (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (48, N_PAIRS, 0.01);

  assert_refused (pairs, 3, SHERD_CORRECTION_LINEAR, SHERD_COLOUR_ERROR_FEW_PATCHES);
  assert_refused (pairs, 17, SHERD_CORRECTION_ROOT_POLYNOMIAL, SHERD_COLOUR_ERROR_FEW_PATCHES);
  for (guint i = 3; i < N_PAIRS; i++)
    pairs[i].weight = 0;
  assert_refused (pairs, N_PAIRS, SHERD_CORRECTION_LINEAR, SHERD_COLOUR_ERROR_FEW_PATCHES);
}

static void
test_a_scale_of_greys_is_refused_however_well_it_fits (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (49);

  for (guint i = 0; i < 50; i++)
    {
      g_autofree SherdCorrectionPair *pairs = grey_scale (random, 20, 0.03);

      assert_refused (pairs, 20, SHERD_CORRECTION_LINEAR, SHERD_COLOUR_ERROR_ILL_CONDITION);
      assert_refused (pairs, 20, SHERD_CORRECTION_ROOT_POLYNOMIAL, SHERD_COLOUR_ERROR_ILL_CONDITION);
    }
}

static void
test_earth_colours_are_not_refused (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (50);

  for (guint i = 0; i < 100; i++)
    {
      double camera[3][3];
      SherdCorrectionPair pairs[12];
      SherdCorrection correction;

      camera_draw (random, camera);
      for (guint k = 0; k < G_N_ELEMENTS (pairs); k++)
        {
          pairs[k].reference = (SherdLab){ g_rand_double_range (random, 25, 80), g_rand_double_range (random, 2, 20),
                                           g_rand_double_range (random, 5, 30) };
          pairs[k].linear = camera_see (camera, &pairs[k].reference);
          pairs[k].weight = 1;
        }
      g_assert_true (
        sherd_correction_fit (&correction, pairs, G_N_ELEMENTS (pairs), SHERD_CORRECTION_LINEAR, NULL, NULL));
    }
}

static void
test_a_patch_that_decides_alone_is_refused (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (51);
  g_autofree SherdCorrectionPair *pairs = grey_scale (random, 8, 0);

  /* Greys, one red and one blue: without either the others do not determine a fit. */
  pairs[6].reference = (SherdLab){ 45, 60, 30 };
  pairs[7].reference = (SherdLab){ 35, 10, -50 };
  for (guint i = 0; i < 8; i++)
    {
      if (i < 6)
        pairs[i].reference.a = pairs[i].reference.b = 0;
      pairs[i].linear = see_with_gains (&pairs[i].reference);
    }
  assert_refused (pairs, 8, SHERD_CORRECTION_LINEAR, SHERD_COLOUR_ERROR_ILL_CONDITION);
}

static void
test_a_refusal_names_the_remedy (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (52, 4, 0.01);
  g_autoptr (GError) error = NULL;
  SherdCorrection correction;

  g_assert_false (sherd_correction_fit (&correction, pairs, 3, SHERD_CORRECTION_LINEAR, NULL, &error));
  g_assert_nonnull (strstr (error->message, "Only 3 patches"));
  g_assert_nonnull (strstr (error->message, "Photograph the whole chart"));
}

static void
test_colours_alone_are_no_grey_card (void)
{
  g_autofree SherdCorrectionPair *pairs = pairs_of_a_camera (53, 3, 0.01);
  g_autoptr (GError) error = NULL;
  SherdCorrection correction;

  for (guint i = 0; i < 3; i++)
    pairs[i].reference.a = 30;
  g_assert_false (sherd_correction_fit_grey (&correction, pairs, 3, NULL, &error));
  g_assert_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_FEW_PATCHES);
  g_clear_error (&error);
  g_assert_false (sherd_correction_fit_grey (&correction, pairs, 0, NULL, &error));
  g_assert_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_FEW_PATCHES);
}

static void
add_fit_tests (void)
{
  g_test_add_func ("/colour/correction/linear-camera-recovered", test_a_linear_camera_is_recovered);
  g_test_add_func ("/colour/correction/bent-camera-recovered", test_a_bent_camera_is_recovered_by_the_root_polynomial);
  g_test_add_func ("/colour/correction/grows-with-the-exposure", test_a_correction_grows_with_the_exposure);
  g_test_add_func ("/colour/correction/darker-photograph-fits-as-well", test_a_darker_photograph_fits_as_well);
  g_test_add_func ("/colour/correction/weight-two-counts-as-two", test_a_patch_of_weight_two_counts_as_two);
  g_test_add_func ("/colour/correction/weight-nothing-is-looked-at", test_a_patch_of_weight_nothing_is_only_looked_at);
  g_test_add_func ("/colour/correction/residuals-without-the-patch",
                   test_residuals_are_those_of_a_fit_without_the_patch);
  g_test_add_func ("/colour/correction/summary-follows-from-residuals", test_the_summary_follows_from_the_residuals);
  g_test_add_func ("/colour/correction/covariance-of-unseen-colours",
                   test_its_covariance_is_what_unseen_colours_are_off_by);
  g_test_add_func ("/colour/correction/root-polynomial-if-clearly-better",
                   test_the_root_polynomial_is_taken_only_if_clearly_better);
  g_test_add_func ("/colour/correction/residuals-of-the-model-taken", test_the_residuals_belong_to_the_model_taken);
  g_test_add_func ("/colour/correction/17-too-few-for-root-polynomial",
                   test_17_patches_are_too_few_for_the_root_polynomial);
}

static void
add_grey_tests (void)
{
  g_test_add_func ("/colour/correction/none-is-believed-widely", test_without_a_reference_the_file_is_believed_widely);
  g_test_add_func ("/colour/correction/grey-card-brings-light-and-balance", test_a_grey_card_brings_light_and_balance);
  g_test_add_func ("/colour/correction/one-grey-patch-is-a-grey-card", test_one_grey_patch_is_a_grey_card);
  g_test_add_func ("/colour/correction/scale-of-greys-is-better", test_a_scale_of_greys_is_a_better_grey_card);
  g_test_add_func ("/colour/correction/light-greys-weigh-more", test_light_greys_weigh_more_than_dark_ones);
  g_test_add_func ("/colour/correction/grey-residuals-without-the-patch",
                   test_grey_residuals_are_those_of_a_fit_without_the_patch);
}

static void
add_refusals (void)
{
  g_test_add_func ("/colour/correction/refuses/three-patches", test_three_patches_are_refused);
  g_test_add_func ("/colour/correction/refuses/scale-of-greys", test_a_scale_of_greys_is_refused_however_well_it_fits);
  g_test_add_func ("/colour/correction/refuses/not-earth-colours", test_earth_colours_are_not_refused);
  g_test_add_func ("/colour/correction/refuses/patch-that-decides-alone", test_a_patch_that_decides_alone_is_refused);
  g_test_add_func ("/colour/correction/refuses/names-the-remedy", test_a_refusal_names_the_remedy);
  g_test_add_func ("/colour/correction/refuses/colours-as-grey-card", test_colours_alone_are_no_grey_card);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  add_fit_tests ();
  add_grey_tests ();
  add_refusals ();
  return g_test_run ();
}
