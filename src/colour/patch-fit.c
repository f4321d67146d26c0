/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/patch-fit.h"

#include <float.h>
#include <glib/gi18n-lib.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

/* A patch that fixes a coefficient alone tells nothing of the error. */
#define MOST_LEVERAGE (1.0 - 1e-9)

/* Condition of the equations at which rounding decides. Our choice. */
#define LEAST_SINGULAR_RATIO 1e-6

/* How far the patches' colours must reach in the direction in which they reach least, as a part of their brightness
 * over √3. Our choice, between greys read with errors of 3 %, which reach 0.010 by these alone, and sets of twelve
 * earth colours, which reach 0.022 and more; a chart of 24 colours reaches over 0.1. A 3×3 fit to greys would look good
 * on the greys and be wild on everything else. */
#define LEAST_COLOUR_REACH 0.015

/* Linear light is about 1; far beyond, the squares of a decomposition would leave the range of numbers. */
#define MOST_LINEAR 1e6

/**
 * sherd_patch_fit_expand:
 * @linear: linear light
 * @terms: (out): r, g, b, √rg, √gb, √rb
 *
 * Terms of the root-polynomial of second degree: G. D. Finlayson, M. Mackiewicz, A. Hurlbert, "Color correction using
 * root-polynomial regression", IEEE Trans. Image Process. 24 (2015) 1460–1470. Every term grows with the exposure, so
 * shading does not bend the hue. Light below zero counts as none under the roots.
 */
void
sherd_patch_fit_expand (const SherdRgb *linear, double terms[SHERD_PATCH_FIT_MOST_TERMS])
{
  const double r = MAX (linear->r, 0.0);
  const double g = MAX (linear->g, 0.0);
  const double b = MAX (linear->b, 0.0);

  terms[0] = linear->r;
  terms[1] = linear->g;
  terms[2] = linear->b;
  terms[3] = sqrt (r * g);
  terms[4] = sqrt (g * b);
  terms[5] = sqrt (r * b);
}

static gboolean
refuse_alike (GError **error)
{
  g_set_error_literal (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_ILL_CONDITION,
                       _ ("The patches of the chart are too much alike to correct colours by. Use a chart with "
                          "coloured patches, or a grey card."));
  return FALSE;
}

static gboolean
is_sound (const SherdCorrectionPair *pair)
{
  return fabs (pair->linear.r) < MOST_LINEAR && fabs (pair->linear.g) < MOST_LINEAR &&
         fabs (pair->linear.b) < MOST_LINEAR && isfinite (pair->reference.l) && isfinite (pair->reference.a) &&
         isfinite (pair->reference.b) && pair->weight >= 0.0 && pair->weight < MOST_LINEAR;
}

static gboolean
check_sound (const SherdCorrectionPair *pairs, gsize n_pairs, GError **error)
{
  for (gsize i = 0; i < n_pairs; i++)
    if (!is_sound (&pairs[i]))
      {
        g_set_error (
          error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_ILL_CONDITION,
          _ ("Patch number %u of those used has no sound colour in the photograph. Check the chart's marks."),
          (guint)i + 1);
        return FALSE;
      }
  return TRUE;
}

/* Decomposes @matrix into U (in its place), singular values, the largest first, and V. */
static void
decompose (gsl_matrix *matrix, gsl_matrix *v, gsl_vector *singular)
{
  gsl_vector *work = gsl_vector_alloc (singular->size);

  gsl_linalg_SV_decomp (matrix, v, singular, work);
  gsl_vector_free (work);
}

/* Least singular value over the largest; @colours is lost. */
static double
singular_ratio (gsl_matrix *colours)
{
  double v_data[9], singular_data[3];
  gsl_matrix_view v = gsl_matrix_view_array (v_data, 3, 3);
  gsl_vector_view singular = gsl_vector_view_array (singular_data, 3);

  decompose (colours, &v.matrix, &singular.vector);
  return singular_data[2] / MAX (singular_data[0], DBL_MIN);
}

/* Whether the colours reach into every direction, brightness and the balance of the light aside. */
static gboolean
check_reach (const SherdCorrectionPair *pairs, gsize n_pairs, GError **error)
{
  gsl_matrix *colours = gsl_matrix_calloc (n_pairs, 3);
  double reach;

  for (gsize i = 0; i < n_pairs; i++)
    {
      const SherdRgb *linear = &pairs[i].linear;
      const double sum = linear->r + linear->g + linear->b;

      if (!(pairs[i].weight > 0.0) || !(sum > 0.0))
        continue;
      gsl_matrix_set (colours, i, 0, linear->r / sum);
      gsl_matrix_set (colours, i, 1, linear->g / sum);
      gsl_matrix_set (colours, i, 2, linear->b / sum);
    }
  for (guint channel = 0; channel < 3; channel++)
    {
      gsl_vector_view column = gsl_matrix_column (colours, channel);

      gsl_vector_scale (&column.vector, 1.0 / MAX (gsl_blas_dnrm2 (&column.vector), DBL_MIN));
    }
  reach = singular_ratio (colours);
  gsl_matrix_free (colours);
  return reach >= LEAST_COLOUR_REACH || refuse_alike (error);
}

/* Equations of one pair: the error in XYZ is weighed by dLab/dXYZ at the reference, so that what is made small is what
 * the eye sees. */
static void
set_equations (SherdPatchFit *fit, gsize index, const SherdCorrectionPair *pair)
{
  const SherdXyz xyz = sherd_lab_to_xyz (&pair->reference);
  const double wanted[3] = { xyz.x, xyz.y, xyz.z };
  const double root_weight = sqrt (pair->weight);
  double jacobian[3][3];
  double terms[SHERD_PATCH_FIT_MOST_TERMS];

  sherd_lab_jacobian (&xyz, jacobian);
  sherd_patch_fit_expand (&pair->linear, terms);
  for (guint axis = 0; axis < 3; axis++)
    for (guint k = 0; k < 3; k++)
      {
        const double slope = root_weight * jacobian[axis][k];

        *gsl_vector_ptr (fit->wanted, 3 * index + axis) += slope * wanted[k];
        for (guint term = 0; term < fit->n_terms; term++)
          gsl_matrix_set (fit->design, 3 * index + axis, k * fit->n_terms + term, slope * terms[term]);
      }
}

static gboolean
solve_equations (SherdPatchFit *fit, GError **error)
{
  const gsize n_unknowns = fit->design->size2;
  gsl_matrix *v = gsl_matrix_alloc (n_unknowns, n_unknowns);
  gsl_vector *singular = gsl_vector_alloc (n_unknowns);
  double least, largest;

  decompose (fit->design, v, singular);
  largest = gsl_vector_get (singular, 0);
  least = gsl_vector_get (singular, n_unknowns - 1);
  gsl_linalg_SV_solve (fit->design, v, singular, fit->wanted, fit->solution);
  gsl_vector_free (singular);
  gsl_matrix_free (v);
  return least > LEAST_SINGULAR_RATIO * largest || refuse_alike (error);
}

/**
 * sherd_patch_fit_solve:
 * @fit: (out): to be cleared with sherd_patch_fit_clear (), also on failure
 * @pairs: (array length=n_pairs): patches as photographed and as they should be
 * @n_pairs: at least @n_terms, of weight above 0
 * @n_terms: 3 for a 3×3 matrix, 6 for the root-polynomial
 * @error: SHERD_COLOUR_ERROR_ILL_CONDITION
 *
 * Least squares on the differences in CIELAB, to first order: dLab/dXYZ at each reference weighs the error in XYZ.
 * Solved by singular value decomposition, never by normal equations, which would lose half of the digits.
 */
gboolean
sherd_patch_fit_solve (SherdPatchFit *fit,
                       const SherdCorrectionPair *pairs,
                       gsize n_pairs,
                       guint n_terms,
                       GError **error)
{
  if (!check_sound (pairs, n_pairs, error) || !check_reach (pairs, n_pairs, error))
    return FALSE;
  fit->n_terms = n_terms;
  fit->design = gsl_matrix_calloc (3 * n_pairs, 3 * n_terms);
  fit->wanted = gsl_vector_calloc (3 * n_pairs);
  fit->solution = gsl_vector_alloc (3 * n_terms);
  for (gsize i = 0; i < n_pairs; i++)
    set_equations (fit, i, &pairs[i]);
  return solve_equations (fit, error);
}

void
sherd_patch_fit_clear (SherdPatchFit *fit)
{
  g_clear_pointer (&fit->design, gsl_matrix_free);
  g_clear_pointer (&fit->wanted, gsl_vector_free);
  g_clear_pointer (&fit->solution, gsl_vector_free);
}

static SherdXyz
fitted_xyz (const SherdPatchFit *fit, const SherdRgb *linear)
{
  double terms[SHERD_PATCH_FIT_MOST_TERMS];
  double xyz[3] = { 0.0, 0.0, 0.0 };

  sherd_patch_fit_expand (linear, terms);
  for (guint k = 0; k < 3; k++)
    for (guint term = 0; term < fit->n_terms; term++)
      xyz[k] += gsl_vector_get (fit->solution, k * fit->n_terms + term) * terms[term];
  return (SherdXyz){ xyz[0], xyz[1], xyz[2] };
}

/* I − H of one pair, H = U Uᵀ the hat matrix. */
static void
set_freedom (const SherdPatchFit *fit, gsize index, gsl_matrix *freedom)
{
  const gsl_matrix_const_view rows = gsl_matrix_const_submatrix (fit->design, 3 * index, 0, 3, fit->design->size2);

  gsl_matrix_set_identity (freedom);
  gsl_blas_dgemm (CblasNoTrans, CblasTrans, -1.0, &rows.matrix, &rows.matrix, 1.0, freedom);
}

/* (I − H)⁻¹ times @error_lab; FALSE when the pair alone fixes a coefficient. */
static gboolean
grow (gsl_matrix *freedom, double error_lab[3])
{
  double tau_data[3];
  gsl_vector_view tau = gsl_vector_view_array (tau_data, 3);
  gsl_vector_view error_view = gsl_vector_view_array (error_lab, 3);

  gsl_linalg_QR_decomp (freedom, &tau.vector);
  for (guint i = 0; i < 3; i++)
    if (fabs (gsl_matrix_get (freedom, i, i)) < 1.0 - MOST_LEVERAGE)
      return FALSE;
  gsl_linalg_QR_svx (freedom, &tau.vector, &error_view.vector);
  return TRUE;
}

/* @error_lab, to first order about @reference, as a colour. */
static SherdLab
colour_off_by (const SherdXyz *reference, double jacobian[3][3], const double error_lab[3])
{
  const double y = error_lab[0] / jacobian[0][1];
  const double x = (error_lab[1] - jacobian[1][1] * y) / jacobian[1][0];
  const double z = (error_lab[2] - jacobian[2][1] * y) / jacobian[2][2];

  return sherd_lab_from_xyz (&(SherdXyz){ reference->x + x, reference->y + y, reference->z + z });
}

/**
 * sherd_patch_fit_leave_out:
 * @fit: solved
 * @pair: one of the pairs behind it
 * @index: which one
 * @corrected: (out): the colour that a fit to the other pairs would give this one
 * @error: SHERD_COLOUR_ERROR_ILL_CONDITION when the others do not determine a fit
 *
 * Exact without fitting again: the three equations of a pair are left out together, e ← (I − H)⁻¹ e with the pair's
 * block of the hat matrix (R. D. Cook, S. Weisberg, "Residuals and Influence in Regression", 1982, eq. 2.2.8, from
 * memory). The error is carried back to XYZ, so that the difference in Lab is not a first-order one.
 */
gboolean
sherd_patch_fit_leave_out (const SherdPatchFit *fit,
                           const SherdCorrectionPair *pair,
                           gsize index,
                           SherdLab *corrected,
                           GError **error)
{
  const SherdXyz reference = sherd_lab_to_xyz (&pair->reference);
  const SherdXyz fitted = fitted_xyz (fit, &pair->linear);
  const double error_xyz[3] = { fitted.x - reference.x, fitted.y - reference.y, fitted.z - reference.z };
  double error_lab[3] = { 0.0, 0.0, 0.0 };
  double freedom_data[9];
  gsl_matrix_view freedom = gsl_matrix_view_array (freedom_data, 3, 3);
  double jacobian[3][3];

  sherd_lab_jacobian (&reference, jacobian);
  for (guint i = 0; i < 3; i++)
    for (guint k = 0; k < 3; k++)
      error_lab[i] += jacobian[i][k] * error_xyz[k];
  set_freedom (fit, index, &freedom.matrix);
  if (!grow (&freedom.matrix, error_lab))
    {
      g_set_error_literal (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_ILL_CONDITION,
                           _ ("One patch alone would decide how colours are corrected. Use a chart with more coloured "
                              "patches."));
      return FALSE;
    }
  *corrected = colour_off_by (&reference, jacobian, error_lab);
  return TRUE;
}
