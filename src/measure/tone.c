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

typedef struct
{
  const SherdRgb *seen;
  const SherdRgb *light;
  gsize n_patches;
  SherdXyz *wanted;
  double (*jacobian)[3][3]; /* dLab/dXYZ at each patch */
  gboolean bent;
} ToneFit;

/* The curve on encoded values: itself plus sines that vanish at black and white. */
static double
bend (const double terms[SHERD_TONE_TERMS], double encoded)
{
  double value = encoded;

  for (guint k = 0; k < SHERD_TONE_TERMS; k++)
    value += terms[k] * sin ((k + 1) * G_PI * encoded);
  return value;
}

static double
bend_linear (const double terms[SHERD_TONE_TERMS], double linear)
{
  if (linear <= 0 || linear >= 1)
    return linear;
  return sherd_srgb_decode (MAX (bend (terms, sherd_srgb_encode (linear)), 0));
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
patch_reflectance (const ToneFit *fit, gsize i, const double *terms, double reflectance[3])
{
  const double seen[3] = { fit->seen[i].r, fit->seen[i].g, fit->seen[i].b };
  const double light[3] = { fit->light[i].r, fit->light[i].g, fit->light[i].b };

  for (guint c = 0; c < 3; c++)
    reflectance[c] = (fit->bent ? bend_linear (terms, seen[c]) : seen[c]) / light[c];
}

/* Nine numbers of the matrix, then the curve's terms; residuals in L*a*b*, then how far the terms are from none. */
static void
tone_residuals (const double *x, double *residuals, gconstpointer data)
{
  const ToneFit *fit = data;

  for (gsize i = 0; i < fit->n_patches; i++)
    {
      double reflectance[3], off[3];

      patch_reflectance (fit, i, x + MATRIX_TERMS, reflectance);
      for (guint a = 0; a < 3; a++)
        off[a] = x[3 * a] * reflectance[0] + x[3 * a + 1] * reflectance[1] + x[3 * a + 2] * reflectance[2];
      off[0] -= fit->wanted[i].x;
      off[1] -= fit->wanted[i].y;
      off[2] -= fit->wanted[i].z;
      for (guint a = 0; a < 3; a++)
        residuals[3 * i + a] = sherd_huber_residual (
          (fit->jacobian[i][a][0] * off[0] + fit->jacobian[i][a][1] * off[1] + fit->jacobian[i][a][2] * off[2]) /
            PATCH_SD_LAB,
          HUBER_THRESHOLD);
    }
  for (guint k = 0; fit->bent && k < SHERD_TONE_TERMS; k++)
    residuals[3 * fit->n_patches + k] = x[MATRIX_TERMS + k] / terms_sd[k];
}

static double
solve (ToneFit *fit, gboolean bent, double *x)
{
  const gsize n_terms = bent ? SHERD_TONE_TERMS : 0;
  const SherdLeastSquares problem = { tone_residuals,         NULL, fit, 3 * fit->n_patches + n_terms,
                                      MATRIX_TERMS + n_terms, 30 };

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
      seen += fit->seen[i].g / fit->light[i].g;
      wanted += fit->wanted[i].y;
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
  g_autofree SherdXyz *wanted = g_new (SherdXyz, n_patches + 1);
  g_autofree double (*jacobian)[3][3] = g_malloc0 ((n_patches + 1) * sizeof *jacobian);
  ToneFit fit = { seen, light, n_patches, wanted, jacobian, FALSE };
  double x[MATRIX_TERMS + SHERD_TONE_TERMS] = { 0 };
  double straight, bent;

  sherd_tone_init_straight (tone);
  if (n_patches < FEWEST_PATCHES)
    return;
  for (gsize i = 0; i < n_patches; i++)
    {
      wanted[i] = sherd_lab_to_xyz (&reference[i]);
      sherd_lab_jacobian (&wanted[i], jacobian[i]);
    }
  start_matrix (&fit, x);
  straight = solve (&fit, FALSE, x);
  bent = solve (&fit, TRUE, x);
  if (gain_is_real (straight, bent, n_patches) && can_be_undone (x + MATRIX_TERMS))
    sherd_tone_init (tone, x + MATRIX_TERMS);
}
