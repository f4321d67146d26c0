/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/tone.h"

#include "colour/srgb.h"
#include "measure/least_squares.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

/* How strongly cameras bend tones, in encoded values: a general lift, contrast, and finer detail (our choice). */
static const double terms_sd[SHERD_TONE_TERMS] = { 0.15, 0.08, 0.04, 0.02 };

/* Scatter of a patch in L*a*b* units about a good correction (our choice, for the weight of the beliefs only). */
#define PATCH_SD_LAB 0.7
#define HUBER_THRESHOLD 2.5
/* A curve is taken only when chance would give its gain less than once in this many charts. */
#define CHANCE 1e-6
#define FEWEST_PATCHES 12
/* Where a curve is flatter than this the file holds too little to undo it. */
#define LEAST_SLOPE 0.2
/* At how many places of the curve that is looked for. */
#define SLOPE_STEPS 50

#define MATRIX_TERMS 9

/* A patch as the file has it, what lights it and what it should be. */
typedef struct
{
  double seen[3]; /* linear light, 0…1 of full scale */
  double encoded[3];
  double waves[3][SHERD_TONE_TERMS]; /* what each term adds to the encoded value, per unit of it */
  double light[3];
  SherdXyz wanted;
  double lab_by_xyz[3][3];
} Patch;

typedef struct
{
  Patch *patches;
  gsize n_patches;
  gboolean bent;
} ToneFit;

/* Sines that vanish at black and white. */
static void
waves_at (double encoded, double waves[SHERD_TONE_TERMS])
{
  for (guint k = 0; k < SHERD_TONE_TERMS; k++)
    waves[k] = sin ((k + 1) * G_PI * encoded);
}

static double
add_waves (double encoded, const double waves[SHERD_TONE_TERMS], const double terms[SHERD_TONE_TERMS])
{
  double value = encoded;

  for (guint k = 0; k < SHERD_TONE_TERMS; k++)
    value += terms[k] * waves[k];
  return value;
}

/* The curve on encoded values. */
static double
bend (const double terms[SHERD_TONE_TERMS], double encoded)
{
  double waves[SHERD_TONE_TERMS];

  waves_at (encoded, waves);
  return add_waves (encoded, waves, terms);
}

/* Beyond black and white there is no curve. */
static gboolean
is_on_curve (double linear)
{
  return linear > 0 && linear < 1;
}

static double
bend_linear (const double terms[SHERD_TONE_TERMS], double linear)
{
  return is_on_curve (linear) ? sherd_srgb_decode (MAX (bend (terms, sherd_srgb_encode (linear)), 0)) : linear;
}

void
sherd_tone_init_straight (SherdTone *tone)
{
  memset (tone, 0, sizeof *tone);
}

/* Tabulates the curve that @terms describe. */
void
sherd_tone_init (SherdTone *tone, const double terms[SHERD_TONE_TERMS])
{
  tone->bent = TRUE;
  memcpy (tone->terms, terms, sizeof tone->terms);
  for (guint i = 0; i <= SHERD_TONE_STEPS; i++)
    {
      const double root = (double)i / SHERD_TONE_STEPS;

      tone->table[i] = (float)bend_linear (terms, root * root);
    }
}

/* Linear light as the camera saw it; straight beyond black and white. */
float
sherd_tone_apply (const SherdTone *tone, float linear)
{
  float at, part;
  guint i;

  if (!tone->bent || linear <= 0 || linear >= 1)
    return linear;
  at = sqrtf (linear) * SHERD_TONE_STEPS;
  i = MIN ((guint)at, SHERD_TONE_STEPS - 1);
  part = at - (float)i;
  return tone->table[i] + part * (tone->table[i + 1] - tone->table[i]);
}

void
sherd_tone_apply_all (const SherdTone *tone, float *linear, gsize n)
{
  if (!tone->bent)
    return;
  for (gsize i = 0; i < n; i++)
    linear[i] = sherd_tone_apply (tone, linear[i]);
}

static void
patch_init (Patch *patch, const SherdRgb *seen, const SherdRgb *light, const SherdLab *reference)
{
  *patch = (Patch){ .seen = { seen->r, seen->g, seen->b }, .light = { light->r, light->g, light->b } };
  for (guint c = 0; c < 3; c++)
    if (is_on_curve (patch->seen[c]))
      {
        patch->encoded[c] = sherd_srgb_encode (patch->seen[c]);
        waves_at (patch->encoded[c], patch->waves[c]);
      }
  patch->wanted = sherd_lab_to_xyz (reference);
  sherd_lab_jacobian (&patch->wanted, patch->lab_by_xyz);
}

static double
bent_encoded (const Patch *patch, guint c, const double *terms)
{
  return MAX (add_waves (patch->encoded[c], patch->waves[c], terms), 0);
}

static void
patch_reflectance (const ToneFit *fit, const Patch *patch, const double *terms, double reflectance[3])
{
  for (guint c = 0; c < 3; c++)
    reflectance[c] = (fit->bent && is_on_curve (patch->seen[c]) ? sherd_srgb_decode (bent_encoded (patch, c, terms))
                                                                : patch->seen[c]) /
                     patch->light[c];
}

/* Errors of one patch in L*a*b*, in units of their scatter, before Huber's loss. */
static void
patch_errors (const double *matrix, const Patch *patch, const double reflectance[3], double errors[3])
{
  const double wanted[3] = { patch->wanted.x, patch->wanted.y, patch->wanted.z };
  double off[3];

  for (guint a = 0; a < 3; a++)
    off[a] = matrix[3 * a] * reflectance[0] + matrix[3 * a + 1] * reflectance[1] + matrix[3 * a + 2] * reflectance[2] -
             wanted[a];
  for (guint a = 0; a < 3; a++)
    errors[a] =
      (patch->lab_by_xyz[a][0] * off[0] + patch->lab_by_xyz[a][1] * off[1] + patch->lab_by_xyz[a][2] * off[2]) /
      PATCH_SD_LAB;
}

/* Nine numbers of the matrix, then the curve's terms; residuals in L*a*b*, then how far the terms are from none. */
static void
tone_residuals (const double *x, double *residuals, gconstpointer data)
{
  const ToneFit *fit = data;

  for (gsize i = 0; i < fit->n_patches; i++)
    {
      double reflectance[3], errors[3];

      patch_reflectance (fit, &fit->patches[i], x + MATRIX_TERMS, reflectance);
      patch_errors (x, &fit->patches[i], reflectance, errors);
      for (guint a = 0; a < 3; a++)
        residuals[3 * i + a] = sherd_huber_residual (errors[a], HUBER_THRESHOLD);
    }
  for (guint k = 0; fit->bent && k < SHERD_TONE_TERMS; k++)
    residuals[3 * fit->n_patches + k] = x[MATRIX_TERMS + k] / terms_sd[k];
}

/* Of each channel's reflectance by what is added to its encoded value. */
static void
reflectance_slopes (const Patch *patch, const double *terms, const double reflectance[3], double slopes[3])
{
  const double step = 1e-6;

  for (guint c = 0; c < 3; c++)
    slopes[c] =
      is_on_curve (patch->seen[c])
        ? (sherd_srgb_decode (bent_encoded (patch, c, terms) + step) / patch->light[c] - reflectance[c]) / step
        : 0;
}

/* Three residuals of one patch; @columns: the first one's derivative by the first parameter. */
static void
patch_jacobian (const ToneFit *fit, const Patch *patch, const double *x, double *columns, gsize n_residuals)
{
  double reflectance[3], errors[3], slopes[3] = { 0 };

  patch_reflectance (fit, patch, x + MATRIX_TERMS, reflectance);
  patch_errors (x, patch, reflectance, errors);
  if (fit->bent)
    reflectance_slopes (patch, x + MATRIX_TERMS, reflectance, slopes);
  for (guint a = 0; a < 3; a++)
    {
      const double weight = sherd_huber_slope (errors[a], HUBER_THRESHOLD) / PATCH_SD_LAB;
      double by_reflectance[3] = { 0 };

      for (guint k = 0; k < MATRIX_TERMS; k++)
        {
          columns[k * n_residuals + a] = weight * patch->lab_by_xyz[a][k / 3] * reflectance[k % 3];
          by_reflectance[k % 3] += weight * patch->lab_by_xyz[a][k / 3] * x[k];
        }
      for (guint k = 0; fit->bent && k < SHERD_TONE_TERMS; k++)
        columns[(MATRIX_TERMS + k) * n_residuals + a] = by_reflectance[0] * slopes[0] * patch->waves[0][k] +
                                                        by_reflectance[1] * slopes[1] * patch->waves[1][k] +
                                                        by_reflectance[2] * slopes[2] * patch->waves[2][k];
    }
}

static void
tone_jacobian (const double *x, double *jacobian, gconstpointer data)
{
  const ToneFit *fit = data;
  const gsize n_terms = fit->bent ? SHERD_TONE_TERMS : 0, n_residuals = 3 * fit->n_patches + n_terms;

  for (gsize i = 0; i < fit->n_patches; i++)
    patch_jacobian (fit, &fit->patches[i], x, jacobian + 3 * i, n_residuals);
  for (guint k = 0; k < MATRIX_TERMS + n_terms; k++)
    for (guint l = 0; l < n_terms; l++)
      jacobian[k * n_residuals + 3 * fit->n_patches + l] = k == MATRIX_TERMS + l ? 1 / terms_sd[l] : 0;
}

static double
solve (ToneFit *fit, gboolean bent, double *x)
{
  const gsize n_terms = bent ? SHERD_TONE_TERMS : 0;
  const SherdLeastSquares problem = {
    tone_residuals, tone_jacobian, fit, 3 * fit->n_patches + n_terms, MATRIX_TERMS + n_terms, 30
  };

  fit->bent = bent;
  return sherd_least_squares_solve (&problem, x, NULL);
}

/* Matrix of the sRGB primaries at the level of the patches. */
static void
start_matrix (const ToneFit *fit, double *x)
{
  double seen = 0, wanted = 0;

  for (gsize i = 0; i < fit->n_patches; i++)
    {
      seen += fit->patches[i].seen[1] / fit->patches[i].light[1];
      wanted += fit->patches[i].wanted.y;
    }
  for (guint c = 0; c < 3; c++)
    {
      const SherdRgb primary = { c == 0, c == 1, c == 2 };
      const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&primary);

      x[c] = xyz.x * wanted / seen;
      x[3 + c] = xyz.y * wanted / seen;
      x[6 + c] = xyz.z * wanted / seen;
    }
}

static gboolean
can_be_undone (const double terms[SHERD_TONE_TERMS])
{
  const double step = 1.0 / SLOPE_STEPS;

  for (guint i = 0; i < SLOPE_STEPS; i++)
    if (bend (terms, (i + 1) * step) - bend (terms, i * step) < LEAST_SLOPE * step)
      return FALSE;
  return TRUE;
}

/* F test of the terms (N. R. Draper, H. Smith, "Applied Regression Analysis", 3rd ed. 1998, ch. 6). */
static gboolean
gain_is_real (double straight, double bent, gsize n_patches)
{
  const double freedom = 3.0 * (double)n_patches - MATRIX_TERMS - SHERD_TONE_TERMS;
  const double f = (straight - bent) / SHERD_TONE_TERMS / (bent / freedom);

  return bent < straight && gsl_cdf_fdist_Q (f, SHERD_TONE_TERMS, freedom) < CHANCE;
}

/**
 * sherd_tone_fit:
 * @tone: (out): straight when the patches give no good reason for a curve
 * @seen: mean linear light of each patch, 0…1 of full scale, as the file has it
 * @light: what lights each patch, in the camera's channels
 * @reference: stated colours
 *
 * Cameras bend tones for looks; a 3×3 cannot undo that. One curve for all channels, a short sine series on encoded
 * values, is fitted together with a 3×3 to the patches in L*a*b*, and kept only when the gain cannot be chance.
 */
void
sherd_tone_fit (SherdTone *tone,
                const SherdRgb *seen,
                const SherdRgb *light,
                const SherdLab *reference,
                gsize n_patches)
{
  g_autofree Patch *patches = g_new (Patch, n_patches + 1);
  ToneFit fit = { patches, n_patches, FALSE };
  double x[MATRIX_TERMS + SHERD_TONE_TERMS] = { 0 };
  double straight, bent;

  sherd_tone_init_straight (tone);
  if (n_patches < FEWEST_PATCHES)
    return;
  for (gsize i = 0; i < n_patches; i++)
    patch_init (&patches[i], &seen[i], &light[i], &reference[i]);
  start_matrix (&fit, x);
  straight = solve (&fit, FALSE, x);
  bent = solve (&fit, TRUE, x);
  if (gain_is_real (straight, bent, n_patches) && can_be_undone (x + MATRIX_TERMS))
    sherd_tone_init (tone, x + MATRIX_TERMS);
}
