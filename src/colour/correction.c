/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/correction.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

#include "colour/difference.h"
#include "colour/srgb.h"

/* Terms of the root-polynomial of second degree: r, g, b, √rg, √gb, √rb (G. D. Finlayson, M. Mackiewicz, A. Hurlbert,
 * "Color correction using root-polynomial regression", IEEE Trans. Image Process. 24 (2015) 1460–1470). */
#define MAX_TERMS 6
#define LINEAR_TERMS 3

/* Our choice: three patches to every coefficient of a channel before the curved model is tried. */
#define FEWEST_PAIRS_ROOT_POLYNOMIAL 18
/* One more than the coefficients of a channel, so that leaving one out leaves a fit. */
#define FEWEST_PAIRS_LINEAR 4

/* The curved model has to be clearly better. Our choice. */
#define ROOT_POLYNOMIAL_GAIN 0.9

/* A patch that fixes a coefficient alone tells nothing of the error. */
#define MAX_LEVERAGE (1.0 - 1e-9)

/* Condition of the design at which the last digits of the picture decide. Our choice. */
#define LEAST_SINGULAR_RATIO 1e-6

/* Wide priors, our choice: an uncorrected camera is 5–15 ΔE off, mostly in the balance of the light (from memory); a
 * grey card takes the balance away and leaves the camera's own colours. */
static const double none_sd_lab[3] = { 6.0, 5.0, 7.0 };
static const double grey_sd_lab[3] = { 2.0, 3.0, 4.0 };

static guint
n_terms_of (SherdCorrectionModel model)
{
  return model == SHERD_CORRECTION_ROOT_POLYNOMIAL ? MAX_TERMS : LINEAR_TERMS;
}

/* Every term grows with the exposure, so shading does not bend the hue. */
static void
expand (const SherdRgb *linear, double terms[MAX_TERMS])
{
  double r = MAX (linear->r, 0.0);
  double g = MAX (linear->g, 0.0);
  double b = MAX (linear->b, 0.0);

  terms[0] = linear->r;
  terms[1] = linear->g;
  terms[2] = linear->b;
  terms[3] = sqrt (r * g);
  terms[4] = sqrt (g * b);
  terms[5] = sqrt (r * b);
}

static void
set_diagonal (double covariance[3][3], const double sd[3])
{
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      covariance[i][j] = i == j ? sd[i] * sd[i] : 0.0;
}

/* The file's own colours: linear sRGB to XYZ, each channel times a gain before. */
static void
set_srgb_matrix (SherdCorrection *correction, const double gain[3])
{
  const SherdRgb primaries[3] = { { 1.0, 0.0, 0.0 }, { 0.0, 1.0, 0.0 }, { 0.0, 0.0, 1.0 } };

  for (guint channel = 0; channel < 3; channel++)
    {
      SherdXyz xyz = sherd_srgb_to_xyz_d50 (&primaries[channel]);

      correction->matrix[0][channel] = gain[channel] * xyz.x;
      correction->matrix[1][channel] = gain[channel] * xyz.y;
      correction->matrix[2][channel] = gain[channel] * xyz.z;
    }
}

/**
 * sherd_correction_init_none:
 * @correction: (out): no correction
 *
 * Takes the file's own colours, with a wide uncertainty.
 */
void
sherd_correction_init_none (SherdCorrection *correction)
{
  const double gain[3] = { 1.0, 1.0, 1.0 };

  *correction = (SherdCorrection){ .model = SHERD_CORRECTION_NONE };
  set_srgb_matrix (correction, gain);
  set_diagonal (correction->covariance, none_sd_lab);
}

/**
 * sherd_correction_init_grey:
 * @correction: (out): white balance and exposure
 * @card_linear: mean linear light of the card, every channel above 0
 * @card: its colour, D50
 *
 * A grey card brings exposure and white balance; after it the card has its colour exactly, and colours are as good as
 * the camera.
 */
void
sherd_correction_init_grey (SherdCorrection *correction, const SherdRgb *card_linear, const SherdLab *card)
{
  SherdXyz xyz = sherd_lab_to_xyz (card);
  SherdRgb wanted = sherd_srgb_from_xyz_d50 (&xyz);
  const double gain[3] = { wanted.r / card_linear->r, wanted.g / card_linear->g, wanted.b / card_linear->b };

  *correction = (SherdCorrection){ .model = SHERD_CORRECTION_GREY, .n_pairs = 1 };
  set_srgb_matrix (correction, gain);
  set_diagonal (correction->covariance, grey_sd_lab);
}

/* A fit of 3 × n weighted equations for 3 × terms coefficients, by SVD: never by normal equations. */
typedef struct
{
  guint n_terms;
  gsl_matrix *design; /* becomes U */
  gsl_vector *wanted;
  gsl_matrix *v;
  gsl_vector *singular;
  gsl_vector *solution;
} Fit;

static void
fit_init (Fit *fit, gsize n_pairs, guint n_terms)
{
  fit->n_terms = n_terms;
  fit->design = gsl_matrix_calloc (3 * n_pairs, 3 * n_terms);
  fit->wanted = gsl_vector_calloc (3 * n_pairs);
  fit->v = gsl_matrix_alloc (3 * n_terms, 3 * n_terms);
  fit->singular = gsl_vector_alloc (3 * n_terms);
  fit->solution = gsl_vector_alloc (3 * n_terms);
}

static void
fit_clear (Fit *fit)
{
  gsl_matrix_free (fit->design);
  gsl_vector_free (fit->wanted);
  gsl_matrix_free (fit->v);
  gsl_vector_free (fit->singular);
  gsl_vector_free (fit->solution);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Fit, fit_clear)

/* Equations of one pair: the error in XYZ is weighed by dLab/dXYZ at the reference, so that what is made small is what
 * the eye sees. */
static void
fit_set_pair (Fit *fit, gsize pair, const SherdCorrectionPair *values)
{
  SherdXyz xyz = sherd_lab_to_xyz (&values->reference);
  const double wanted[3] = { xyz.x, xyz.y, xyz.z };
  double jacobian[3][3];
  double terms[MAX_TERMS];

  sherd_lab_jacobian (&xyz, jacobian);
  expand (&values->linear, terms);
  for (guint axis = 0; axis < 3; axis++)
    for (guint k = 0; k < 3; k++)
      {
        *gsl_vector_ptr (fit->wanted, 3 * pair + axis) += jacobian[axis][k] * wanted[k];
        for (guint term = 0; term < fit->n_terms; term++)
          gsl_matrix_set (fit->design, 3 * pair + axis, k * fit->n_terms + term, jacobian[axis][k] * terms[term]);
      }
}

static gboolean
fit_solve (Fit *fit, GError **error)
{
  gsl_vector *work = gsl_vector_alloc (fit->singular->size);
  double largest;
  double smallest;

  gsl_linalg_SV_decomp (fit->design, fit->v, fit->singular, work);
  gsl_vector_free (work);
  largest = gsl_vector_get (fit->singular, 0);
  smallest = gsl_vector_get (fit->singular, fit->singular->size - 1);
  if (!(smallest > LEAST_SINGULAR_RATIO * largest))
    {
      g_set_error_literal (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_ILL_CONDITION,
                           _ ("The patches of the chart are too much alike to correct colours by. Use a chart with "
                              "coloured patches, or a grey card."));
      return FALSE;
    }
  gsl_linalg_SV_solve (fit->design, fit->v, fit->singular, fit->wanted, fit->solution);
  return TRUE;
}

static void
fit_store (const Fit *fit, SherdCorrection *correction)
{
  for (guint k = 0; k < 3; k++)
    for (guint term = 0; term < fit->n_terms; term++)
      correction->matrix[k][term] = gsl_vector_get (fit->solution, k * fit->n_terms + term);
}

/* Block of the hat matrix H = U Uᵀ that belongs to one pair. */
static void
hat_block (const Fit *fit, gsize pair, double hat[3][3])
{
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        hat[i][j] = 0.0;
        for (gsize column = 0; column < fit->design->size2; column++)
          hat[i][j] +=
            gsl_matrix_get (fit->design, 3 * pair + i, column) * gsl_matrix_get (fit->design, 3 * pair + j, column);
      }
}

/* Solves (I − H) x = residual for the 3 × 3 block of a pair; FALSE when the pair alone fixes a coefficient. */
static gboolean
leave_out (double hat[3][3], const double residual[3], double left_out[3])
{
  double m[3][4];

  for (guint i = 0; i < 3; i++)
    {
      if (hat[i][i] > MAX_LEVERAGE)
        return FALSE;
      for (guint j = 0; j < 3; j++)
        m[i][j] = (i == j ? 1.0 : 0.0) - hat[i][j];
      m[i][3] = residual[i];
    }
  for (guint i = 0; i < 3; i++)
    {
      if (fabs (m[i][i]) < 1.0 - MAX_LEVERAGE)
        return FALSE;
      for (guint row = 0; row < 3; row++)
        for (gint column = 3; row != i && column >= (gint)i; column--)
          m[row][column] -= m[row][i] / m[i][i] * m[i][column];
    }
  for (guint i = 0; i < 3; i++)
    left_out[i] = m[i][3] / m[i][i];
  return TRUE;
}

/* Error of one patch when the fit did not know it, as a difference in Lab: exact from the hat matrix, all three rows of
 * the pair left out together (R. D. Cook, S. Weisberg, "Residuals and Influence in Regression", 1982, eq. 2.2.8). The
 * weighted residual is dLab/dXYZ · ΔXYZ; it is carried back to XYZ so that the Lab difference is not linearised. */
static gboolean
left_out_colour (const Fit *fit,
                 const SherdCorrection *correction,
                 const SherdCorrectionPair *pair,
                 gsize index,
                 SherdLab *corrected)
{
  SherdXyz reference = sherd_lab_to_xyz (&pair->reference);
  SherdXyz fitted = sherd_correction_apply (correction, &pair->linear);
  const double error_xyz[3] = { fitted.x - reference.x, fitted.y - reference.y, fitted.z - reference.z };
  double jacobian[3][3];
  double hat[3][3];
  double weighted[3] = { 0.0, 0.0, 0.0 };
  double left_out[3];
  SherdXyz without;

  sherd_lab_jacobian (&reference, jacobian);
  for (guint i = 0; i < 3; i++)
    for (guint k = 0; k < 3; k++)
      weighted[i] += jacobian[i][k] * error_xyz[k];
  hat_block (fit, index, hat);
  if (!leave_out (hat, weighted, left_out))
    return FALSE;
  without.y = left_out[0] / jacobian[0][1];
  without.x = (left_out[1] - jacobian[1][1] * without.y) / jacobian[1][0];
  without.z = (left_out[2] - jacobian[2][1] * without.y) / jacobian[2][2];
  without = (SherdXyz){ reference.x + without.x, reference.y + without.y, reference.z + without.z };
  *corrected = sherd_lab_from_xyz (&without);
  return TRUE;
}

static void
summarise (SherdCorrection *correction, const double *residual_lab, const double *de00, gsize n_pairs)
{
  g_autofree double *sorted = g_memdup2 (de00, sizeof (double) * n_pairs);

  correction->loo_mean_de00 = gsl_stats_mean (de00, 1, n_pairs);
  correction->loo_max_de00 = gsl_stats_max (de00, 1, n_pairs);
  correction->loo_worst = (guint)gsl_stats_max_index (de00, 1, n_pairs);
  correction->loo_median_de00 = gsl_stats_median (sorted, 1, n_pairs);
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        correction->covariance[i][j] = 0.0;
        for (gsize pair = 0; pair < n_pairs; pair++)
          correction->covariance[i][j] += residual_lab[3 * pair + i] * residual_lab[3 * pair + j] / (double)n_pairs;
      }
}

static gboolean
set_leave_one_out (const Fit *fit,
                   SherdCorrection *correction,
                   const SherdCorrectionPair *pairs,
                   gsize n_pairs,
                   double *loo_residual_lab,
                   GError **error)
{
  g_autofree double *residual_lab = g_new (double, 3 * n_pairs);
  g_autofree double *de00 = g_new (double, n_pairs);

  for (gsize i = 0; i < n_pairs; i++)
    {
      const SherdLab *reference = &pairs[i].reference;
      SherdLab corrected;

      if (!left_out_colour (fit, correction, &pairs[i], i, &corrected))
        {
          g_set_error_literal (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_ILL_CONDITION,
                               _ ("One patch alone would decide how colours are corrected. Use a chart with more "
                                  "coloured patches."));
          return FALSE;
        }
      residual_lab[3 * i] = corrected.l - reference->l;
      residual_lab[3 * i + 1] = corrected.a - reference->a;
      residual_lab[3 * i + 2] = corrected.b - reference->b;
      de00[i] = sherd_difference_de00 (reference, &corrected);
    }
  summarise (correction, residual_lab, de00, n_pairs);
  if (loo_residual_lab != NULL)
    memcpy (loo_residual_lab, residual_lab, sizeof (double) * 3 * n_pairs);
  return TRUE;
}

/**
 * sherd_correction_fit:
 * @correction: (out): the fit
 * @pairs: (array length=n_pairs): patches as photographed and as they should be
 * @n_pairs: four or more; 18 or more for the root-polynomial model
 * @model: SHERD_CORRECTION_LINEAR or SHERD_CORRECTION_ROOT_POLYNOMIAL
 * @loo_residual_lab: (nullable) (out): 3 × @n_pairs numbers, L*, a*, b* of each patch when the fit did not know it,
 * minus its reference
 * @error: SHERD_COLOUR_ERROR_FEW_PATCHES or SHERD_COLOUR_ERROR_ILL_CONDITION
 *
 * Fits linear light to XYZ (D50) by least squares on the differences in CIELAB, to first order. Exposure is part of the
 * matrix. The leave-one-out residuals are what the correction can be trusted to; their second moments are its
 * covariance.
 */
gboolean
sherd_correction_fit (SherdCorrection *correction,
                      const SherdCorrectionPair *pairs,
                      gsize n_pairs,
                      SherdCorrectionModel model,
                      double *loo_residual_lab,
                      GError **error)
{
  const guint fewest = model == SHERD_CORRECTION_ROOT_POLYNOMIAL ? FEWEST_PAIRS_ROOT_POLYNOMIAL : FEWEST_PAIRS_LINEAR;
  g_auto (Fit) fit = { 0 };

  if (n_pairs < fewest)
    {
      g_set_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_FEW_PATCHES,
                   _ ("Only %u patches of the chart can be used, %u are needed. Photograph the whole chart, evenly lit "
                      "and not over-exposed."),
                   (guint)n_pairs, fewest);
      return FALSE;
    }
  *correction = (SherdCorrection){ .model = model, .n_pairs = (guint)n_pairs };
  fit_init (&fit, n_pairs, n_terms_of (model));
  for (gsize i = 0; i < n_pairs; i++)
    fit_set_pair (&fit, i, &pairs[i]);
  if (!fit_solve (&fit, error))
    return FALSE;
  fit_store (&fit, correction);
  return set_leave_one_out (&fit, correction, pairs, n_pairs, loo_residual_lab, error);
}

/**
 * sherd_correction_fit_best:
 * @correction: (out): the better fit
 * @pairs: (array length=n_pairs): patches as photographed and as they should be
 * @n_pairs: four or more
 * @loo_residual_lab: (nullable) (out): 3 × @n_pairs numbers, see sherd_correction_fit ()
 * @error: SHERD_COLOUR_ERROR_FEW_PATCHES or SHERD_COLOUR_ERROR_ILL_CONDITION
 *
 * The 3×3 fit, unless there are patches enough and the root-polynomial fit leaves a mean ΔE00 more than a tenth
 * smaller.
 */
gboolean
sherd_correction_fit_best (SherdCorrection *correction,
                           const SherdCorrectionPair *pairs,
                           gsize n_pairs,
                           double *loo_residual_lab,
                           GError **error)
{
  SherdCorrection curved;
  g_autofree double *curved_residual_lab = g_new (double, 3 * n_pairs);

  if (!sherd_correction_fit (correction, pairs, n_pairs, SHERD_CORRECTION_LINEAR, loo_residual_lab, error))
    return FALSE;
  if (n_pairs >= FEWEST_PAIRS_ROOT_POLYNOMIAL &&
      sherd_correction_fit (&curved, pairs, n_pairs, SHERD_CORRECTION_ROOT_POLYNOMIAL, curved_residual_lab, NULL) &&
      curved.loo_mean_de00 < ROOT_POLYNOMIAL_GAIN * correction->loo_mean_de00)
    {
      *correction = curved;
      if (loo_residual_lab != NULL)
        memcpy (loo_residual_lab, curved_residual_lab, sizeof (double) * 3 * n_pairs);
    }
  return TRUE;
}

/**
 * sherd_correction_apply:
 * @correction: a correction
 * @linear: linear light of the photograph, evenly lit
 *
 * Returns: tristimulus values, D50
 */
SherdXyz
sherd_correction_apply (const SherdCorrection *correction, const SherdRgb *linear)
{
  const guint n_terms = n_terms_of (correction->model);
  double terms[MAX_TERMS];
  double xyz[3] = { 0.0, 0.0, 0.0 };

  expand (linear, terms);
  for (guint k = 0; k < 3; k++)
    for (guint term = 0; term < n_terms; term++)
      xyz[k] += correction->matrix[k][term] * terms[term];
  return (SherdXyz){ .x = xyz[0], .y = xyz[1], .z = xyz[2] };
}
