/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/correction.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

#include "colour/difference.h"
#include "colour/patch-fit.h"
#include "colour/srgb.h"

#define LINEAR_TERMS 3

/* Our choice: three patches to every coefficient of a channel before the curved model is tried. */
#define FEWEST_PAIRS_ROOT_POLYNOMIAL 18
/* One more than the coefficients of a channel, so that leaving one out leaves a fit. */
#define FEWEST_PAIRS_LINEAR 4

/* The curved model has to be clearly better. Our choice. */
#define ROOT_POLYNOMIAL_GAIN 0.9

/* Up to this C*ab a patch serves as a grey card. Our choice: white patches of charts are up to 3 off, papers that look
 * white up to 6 (common practice, no source). */
#define MOST_NEUTRAL_CHROMA 8.0

/* Wide priors, our choice. Without a reference nothing ties the file's colours to the world: automatic exposure is off
 * by half a stop or more (7.6 L* at L* 50), the balance of the light by that of a lamp. A grey card takes both away and
 * leaves the camera's own colours. */
static const double none_sd_lab[3] = { 9.0, 7.0, 12.0 };
static const double grey_sd_lab[3] = { 2.0, 3.0, 4.0 };

static guint
n_terms_of (SherdCorrectionModel model)
{
  return model == SHERD_CORRECTION_ROOT_POLYNOMIAL ? SHERD_PATCH_FIT_MOST_TERMS : LINEAR_TERMS;
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

/* The corrected colours of pairs by a fit that did not know them, less their references. */
typedef struct
{
  const SherdCorrectionPair *pairs;
  gsize n_pairs;
  double *weights;
  double *de00;
  double *lab; /* 3 × n_pairs */
} Residuals;

static void
residuals_init (Residuals *residuals, const SherdCorrectionPair *pairs, gsize n_pairs)
{
  residuals->pairs = pairs;
  residuals->n_pairs = n_pairs;
  residuals->weights = g_new (double, n_pairs);
  residuals->de00 = g_new (double, n_pairs);
  residuals->lab = g_new (double, 3 * n_pairs);
  for (gsize i = 0; i < n_pairs; i++)
    residuals->weights[i] = pairs[i].weight;
}

static void
residuals_clear (Residuals *residuals)
{
  g_free (residuals->weights);
  g_free (residuals->de00);
  g_free (residuals->lab);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Residuals, residuals_clear)

static void
residuals_set (Residuals *residuals, gsize index, const SherdLab *corrected)
{
  const SherdLab *reference = &residuals->pairs[index].reference;

  residuals->lab[3 * index] = corrected->l - reference->l;
  residuals->lab[3 * index + 1] = corrected->a - reference->a;
  residuals->lab[3 * index + 2] = corrected->b - reference->b;
  residuals->de00[index] = sherd_difference_de00 (reference, corrected);
}

static void
set_summary (SherdCorrection *correction, const Residuals *residuals)
{
  g_autofree double *counted = g_new (double, residuals->n_pairs);
  gsize n = 0;

  for (gsize i = 0; i < residuals->n_pairs; i++)
    if (residuals->weights[i] > 0.0)
      {
        if (n == 0 || residuals->de00[i] > residuals->de00[correction->loo_worst])
          correction->loo_worst = (guint)i;
        counted[n++] = residuals->de00[i];
      }
  correction->n_pairs = (guint)n;
  correction->loo_mean_de00 = gsl_stats_wmean (residuals->weights, 1, residuals->de00, 1, residuals->n_pairs);
  correction->loo_median_de00 = gsl_stats_median (counted, 1, n);
  correction->loo_max_de00 = residuals->de00[correction->loo_worst];
}

/* Second moments, not about the mean: what all patches share is an error too. */
static void
add_second_moments (double covariance[3][3], const Residuals *residuals)
{
  double sum_of_weights = 0.0;

  for (gsize pair = 0; pair < residuals->n_pairs; pair++)
    sum_of_weights += residuals->weights[pair];
  for (gsize pair = 0; pair < residuals->n_pairs; pair++)
    {
      const double share = residuals->weights[pair] / sum_of_weights;
      const double *lab = &residuals->lab[3 * pair];

      for (guint i = 0; i < 3; i++)
        for (guint j = 0; j < 3; j++)
          covariance[i][j] += share * lab[i] * lab[j];
    }
}

static gboolean
refuse_few (gsize n_pairs, guint fewest, GError **error)
{
  g_set_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_FEW_PATCHES,
               _ ("Only %u patches of the chart can be used, %u are needed. Photograph the whole chart, evenly lit and "
                  "not over-exposed."),
               (guint)n_pairs, fewest);
  return FALSE;
}

/* Logarithms of the gains that each channel of each neutral patch asks for, weighed by what the eye sees: dL* is
 * proportional to Y^(1/3) d ln Y. */
typedef struct
{
  double (*ln_gain)[3];
  double *weights; /* 0 for patches that are no grey card */
  double sum[3];
  double sum_of_weights;
  guint n_neutral;
} Greys;

static void
greys_clear (Greys *greys)
{
  g_free (greys->ln_gain);
  g_free (greys->weights);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Greys, greys_clear)

static gboolean
serves_as_grey_card (const SherdCorrectionPair *pair)
{
  const SherdRgb *linear = &pair->linear;

  return pair->weight > 0.0 && sherd_lab_chroma (&pair->reference) <= MOST_NEUTRAL_CHROMA && pair->reference.l > 0.0 &&
         linear->r > 0.0 && linear->g > 0.0 && linear->b > 0.0;
}

static void
greys_add (Greys *greys, gsize index, const SherdCorrectionPair *pair)
{
  const SherdXyz xyz = sherd_lab_to_xyz (&pair->reference);
  const SherdRgb wanted = sherd_srgb_from_xyz_d50 (&xyz);
  const double weight = pair->weight * cbrt (xyz.y * xyz.y);
  double *ln_gain = greys->ln_gain[index];

  ln_gain[0] = log (wanted.r / pair->linear.r);
  ln_gain[1] = log (wanted.g / pair->linear.g);
  ln_gain[2] = log (wanted.b / pair->linear.b);
  greys->weights[index] = weight;
  for (guint channel = 0; channel < 3; channel++)
    greys->sum[channel] += weight * ln_gain[channel];
  greys->sum_of_weights += weight;
  greys->n_neutral++;
}

static void
greys_init (Greys *greys, const SherdCorrectionPair *pairs, gsize n_pairs)
{
  greys->ln_gain = g_malloc0_n (n_pairs + 1, sizeof *greys->ln_gain);
  greys->weights = g_new0 (double, n_pairs + 1);
  for (gsize i = 0; i < n_pairs; i++)
    if (serves_as_grey_card (&pairs[i]))
      greys_add (greys, i, &pairs[i]);
}

/* Gains by all grey patches, one of them left out if there are others. */
static void
set_grey_gains (SherdCorrection *correction, const Greys *greys, gssize without)
{
  const gboolean leave = without >= 0 && greys->n_neutral > 1;
  const double left_weight = leave ? greys->weights[without] : 0.0;
  double gain[3];

  for (guint channel = 0; channel < 3; channel++)
    {
      const double left = leave ? left_weight * greys->ln_gain[without][channel] : 0.0;

      gain[channel] = exp ((greys->sum[channel] - left) / (greys->sum_of_weights - left_weight));
    }
  set_srgb_matrix (correction, gain);
}

static void
leave_out_greys (const Greys *greys, Residuals *residuals)
{
  SherdCorrection left_out = { .model = SHERD_CORRECTION_GREY };

  for (gsize i = 0; i < residuals->n_pairs; i++)
    {
      SherdXyz xyz;
      SherdLab lab;

      set_grey_gains (&left_out, greys, (gssize)i);
      xyz = sherd_correction_apply (&left_out, &residuals->pairs[i].linear);
      lab = sherd_lab_from_xyz (&xyz);
      residuals_set (residuals, i, &lab);
      residuals->weights[i] = greys->weights[i] > 0.0 ? residuals->weights[i] : 0.0;
    }
}

/**
 * sherd_correction_fit_grey:
 * @correction: (out): white balance and exposure
 * @pairs: (array length=n_pairs): patches as photographed and as they should be
 * @n_pairs: any number, of which at least one is neutral
 * @loo_residual_lab: (nullable) (out): 3 × @n_pairs numbers, see sherd_correction_fit ()
 * @error: SHERD_COLOUR_ERROR_FEW_PATCHES when no patch is neutral
 *
 * For a chart whose colours do not determine a 3×3 fit, such as a scale of greys: its neutral patches (C*ab up to 8)
 * serve together as a grey card. The covariance is that of a grey card and of the scatter of its patches together.
 */
gboolean
sherd_correction_fit_grey (SherdCorrection *correction,
                           const SherdCorrectionPair *pairs,
                           gsize n_pairs,
                           double *loo_residual_lab,
                           GError **error)
{
  g_auto (Greys) greys = { 0 };
  g_auto (Residuals) residuals = { 0 };

  greys_init (&greys, pairs, n_pairs);
  if (greys.n_neutral == 0)
    {
      g_set_error_literal (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_FEW_PATCHES,
                           _ ("No grey or white patch can be used to balance the light. Photograph a grey card or a "
                              "whole chart in the same light."));
      return FALSE;
    }
  *correction = (SherdCorrection){ .model = SHERD_CORRECTION_GREY };
  residuals_init (&residuals, pairs, n_pairs);
  leave_out_greys (&greys, &residuals);
  set_summary (correction, &residuals);
  set_grey_gains (correction, &greys, -1);
  set_diagonal (correction->covariance, grey_sd_lab);
  add_second_moments (correction->covariance, &residuals);
  if (loo_residual_lab != NULL)
    memcpy (loo_residual_lab, residuals.lab, sizeof (double) * 3 * n_pairs);
  return TRUE;
}

static gsize
count_weighted (const SherdCorrectionPair *pairs, gsize n_pairs)
{
  gsize n = 0;

  for (gsize i = 0; i < n_pairs; i++)
    n += pairs[i].weight > 0.0;
  return n;
}

static void
store_solution (SherdCorrection *correction, const SherdPatchFit *fit)
{
  for (guint k = 0; k < 3; k++)
    for (guint term = 0; term < fit->n_terms; term++)
      correction->matrix[k][term] = gsl_vector_get (fit->solution, k * fit->n_terms + term);
}

static gboolean
leave_out_each (const SherdPatchFit *fit, Residuals *residuals, GError **error)
{
  for (gsize i = 0; i < residuals->n_pairs; i++)
    {
      SherdLab corrected;

      if (!sherd_patch_fit_leave_out (fit, &residuals->pairs[i], i, &corrected, error))
        return FALSE;
      residuals_set (residuals, i, &corrected);
    }
  return TRUE;
}

/**
 * sherd_correction_fit:
 * @correction: (out): the fit
 * @pairs: (array length=n_pairs): patches as photographed and as they should be
 * @n_pairs: four or more of weight above 0; 18 or more for the root-polynomial model
 * @model: SHERD_CORRECTION_LINEAR or SHERD_CORRECTION_ROOT_POLYNOMIAL
 * @loo_residual_lab: (nullable) (out): 3 × @n_pairs numbers, L*, a*, b* of each patch when the fit did not know it,
 * minus its reference; also of those of weight 0
 * @error: SHERD_COLOUR_ERROR_FEW_PATCHES or SHERD_COLOUR_ERROR_ILL_CONDITION
 *
 * Fits linear light to XYZ (D50) by weighted least squares on the differences in CIELAB, to first order. Exposure is
 * part of the matrix. The leave-one-out residuals are what the correction can be trusted to; their weighted second
 * moments are its covariance.
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
  const gsize n_weighted = count_weighted (pairs, n_pairs);
  g_auto (SherdPatchFit) fit = { 0 };
  g_auto (Residuals) residuals = { 0 };

  if (n_weighted < fewest)
    return refuse_few (n_weighted, fewest, error);
  residuals_init (&residuals, pairs, n_pairs);
  if (!sherd_patch_fit_solve (&fit, pairs, n_pairs, n_terms_of (model), error) ||
      !leave_out_each (&fit, &residuals, error))
    return FALSE;
  *correction = (SherdCorrection){ .model = model };
  store_solution (correction, &fit);
  set_summary (correction, &residuals);
  add_second_moments (correction->covariance, &residuals);
  if (loo_residual_lab != NULL)
    memcpy (loo_residual_lab, residuals.lab, sizeof (double) * 3 * n_pairs);
  return TRUE;
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
  if (sherd_correction_fit (&curved, pairs, n_pairs, SHERD_CORRECTION_ROOT_POLYNOMIAL, curved_residual_lab, NULL) &&
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
  double terms[SHERD_PATCH_FIT_MOST_TERMS];
  double xyz[3] = { 0.0, 0.0, 0.0 };

  sherd_patch_fit_expand (linear, terms);
  for (guint k = 0; k < 3; k++)
    for (guint term = 0; term < n_terms; term++)
      xyz[k] += correction->matrix[k][term] * terms[term];
  return (SherdXyz){ .x = xyz[0], .y = xyz[1], .z = xyz[2] };
}
