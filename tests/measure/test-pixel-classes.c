/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: densities of Gaussians by the GNU Scientific Library in double precision; colours of H8 of the project's
 * table of checks. */
#include "config.h"

#include "measure/pixel-classes.h"

#include <gsl/gsl_linalg.h>
#include <gsl/gsl_randist.h>
#include <math.h>

/* Single precision, at distances where a class still counts. */
#define TOLERANCE 2e-5

static const double noise_sd[3] = { 0.004, 0.003, 0.005 };
static const SherdSurface ground = {
  { 0.45, 0.42, 0.30 },
  { { 3.0e-4, 2.5e-4, 1.7e-4 }, { 2.5e-4, 2.8e-4, 1.6e-4 }, { 1.7e-4, 1.6e-4, 1.9e-4 } }
};

/* All the weight, nearly, on one kind: weights of nothing have no logarithm. */
static SherdPaintGuess
guess_of (SherdPixelKind kind)
{
  SherdPaintGuess paint = { { 0.12, 0.09, 0.05 }, 0.045, 0.015, { 1e-9, 1e-9, 1e-9, 1e-9 } };

  paint.weight[kind] = 1;
  return paint;
}

/* In units of (2π)^−3/2, as the classes are. */
static double
density_by_gsl (const double mean[3], double covariance[3][3], const float *pixel)
{
  double x[3] = { pixel[0], pixel[1], pixel[2] }, m[3] = { mean[0], mean[1], mean[2] }, root[9], work[3], density;
  gsl_matrix_view l = gsl_matrix_view_array (root, 3, 3);
  gsl_vector_view x_view = gsl_vector_view_array (x, 3), m_view = gsl_vector_view_array (m, 3);
  gsl_vector_view work_view = gsl_vector_view_array (work, 3);

  memcpy (root, covariance, sizeof root);
  gsl_linalg_cholesky_decomp1 (&l.matrix);
  gsl_ran_multivariate_gaussian_pdf (&x_view.vector, &m_view.vector, &l.matrix, &density, &work_view.vector);
  return density * pow (2 * G_PI, 1.5);
}

/* The other pixels of a block must not matter. */
static SherdMemberships
classify_one (const SherdPixelClasses *classes, const float *pixel, guint place)
{
  float planes[3][SHERD_PIXEL_BLOCK] = { { 0 } };
  const float *const channels[3] = { planes[0], planes[1], planes[2] };
  SherdMemberships members;

  for (guint c = 0; c < 3; c++)
    planes[c][place] = pixel[c];
  sherd_pixel_classify (classes, channels, &members);
  return members;
}

static void
assert_density (const SherdPaintGuess *paint, const double mean[3], double covariance[3][3], const float *pixel)
{
  SherdPixelClasses classes;

  sherd_pixel_classes_init (&classes, &ground, paint, noise_sd);
  g_assert_cmpfloat_with_epsilon (
    classify_one (&classes, pixel, 5).density[5] / density_by_gsl (mean, covariance, pixel), 1, TOLERANCE);
}

static void
test_ground_density (void)
{
  static const float pixels[][3] = { { 0.45f, 0.42f, 0.30f }, { 0.47f, 0.44f, 0.31f }, { 0.42f, 0.39f, 0.285f } };
  const SherdPaintGuess paint = guess_of (SHERD_PIXEL_GROUND);

  for (guint i = 0; i < G_N_ELEMENTS (pixels); i++)
    assert_density (&paint, ground.mean, (double (*)[3])ground.covariance, pixels[i]);
}

static void
test_paint_density (void)
{
  static const float pixels[][3] = { { 0.12f, 0.09f, 0.05f }, { 0.125f, 0.093f, 0.049f }, { 0.11f, 0.085f, 0.044f } };
  const SherdPaintGuess paint = guess_of (SHERD_PIXEL_PAINT);
  double covariance[3][3];

  sherd_paint_guess_covariance (&paint, noise_sd, covariance);
  for (guint i = 0; i < G_N_ELEMENTS (pixels); i++)
    assert_density (&paint, paint.mean, covariance, pixels[i]);
}

static void
test_probabilities_add_to_one (void)
{
  static const float pixels[][3] = {
    { 0, 0, 0 }, { 0.12f, 0.09f, 0.05f }, { 0.3f, 0.25f, 0.17f }, { 1, 1, 1 }, { 40, 0, 9 }
  };
  SherdPaintGuess paint = { { 0.12, 0.09, 0.05 }, 0.045, 0.015, { 0.3, 0.4, 0.2, 0.1 } };
  SherdPixelClasses classes;

  sherd_pixel_classes_init (&classes, &ground, &paint, noise_sd);
  for (guint i = 0; i < G_N_ELEMENTS (pixels); i++)
    {
      const SherdMemberships m = classify_one (&classes, pixels[i], i);
      double sum = 0;

      for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
        sum += m.probability[k][i];
      g_assert_cmpfloat_with_epsilon (sum, 1, 1e-6);
      g_assert_cmpfloat (m.density[i], >, 0);
      g_assert_cmpfloat (m.mixed_share[i], <=, m.probability[SHERD_PIXEL_MIXED][i]);
    }
}

static SherdMemberships
classify_typical (const float *pixel)
{
  const SherdPaintGuess paint = { { 0.12, 0.09, 0.05 }, 0.045, 0.015, { 0.3, 0.4, 0.2, 0.1 } };
  SherdPixelClasses classes;

  sherd_pixel_classes_init (&classes, &ground, &paint, noise_sd);
  return classify_one (&classes, pixel, 0);
}

static void
test_each_pixel_finds_its_kind (void)
{
  static const float half[3] = { 0.285f, 0.255f, 0.175f }, highlight[3] = { 0.82f, 0.79f, 0.75f };
  static const float bare[3] = { 0.45f, 0.42f, 0.30f }, painted[3] = { 0.12f, 0.09f, 0.05f };

  g_assert_cmpfloat (classify_typical (bare).probability[SHERD_PIXEL_GROUND][0], >, 0.95);
  g_assert_cmpfloat (classify_typical (painted).probability[SHERD_PIXEL_PAINT][0], >, 0.95);
  g_assert_cmpfloat (classify_typical (half).probability[SHERD_PIXEL_MIXED][0], >, 0.95);
  g_assert_cmpfloat_with_epsilon (classify_typical (half).mixed_share[0], 0.5, 0.03);
  g_assert_cmpfloat (classify_typical (highlight).probability[SHERD_PIXEL_OTHER][0], >, 0.95);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/pixel-classes/ground-has-the-density-of-its-gaussian", test_ground_density);
  g_test_add_func ("/measure/pixel-classes/paint-has-the-density-of-its-gaussian", test_paint_density);
  g_test_add_func ("/measure/pixel-classes/probabilities-add-to-one", test_probabilities_add_to_one);
  g_test_add_func ("/measure/pixel-classes/each-pixel-finds-its-kind", test_each_pixel_finds_its_kind);
  return g_test_run ();
}
