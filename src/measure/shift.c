/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/shift.h"

#include "measure/cholesky.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <gsl/gsl_rng.h>
#include <gsl/gsl_sort.h>
#include <gsl/gsl_statistics.h>
#include <math.h>
#include <string.h>

/* Patches like one of the two colours: nearer than this, or all when there are fewer than the next (our choice). */
#define NEAR_DE00 20.0
#define FEWEST_NEAR 6
/* Of a grey card's or a few patches' error this share is the same in both photographs (our choice: the camera's colours
 * differ from the eye's in the same way, the light does not). */
#define COMMON_FRAC 0.5

/* Evenly spread points, turned so that their most even coordinate lies along the gradient, need far fewer than the
 * 10⁶ random ones of JCGM 101:2008, 7.2. */
#define N_DRAWS 1024
#define N_DIMENSIONS 6
#define COVERAGE_95 1.96
/* Below this many standard uncertainties ΔE00 is too curved for first-order propagation. */
#define LINEAR_ABOVE 4.0
#define GRADIENT_STEP 1e-4

/* One colour with its uncertainty, in the shape that drawing wants. */
typedef struct
{
  double lab[3];
  double root[3][3];    /* lower Cholesky factor of its covariance */
  double stretch[3][2]; /* of a draw below and above the value: intervals need not be symmetric */
} Colour;

typedef struct
{
  Colour before;
  Colour after;
} Pair;

static SherdLab
lab_from (const double values[3])
{
  return (SherdLab){ values[0], values[1], values[2] };
}

static void
lab_to (const SherdLab *lab, double values[3])
{
  values[0] = lab->l;
  values[1] = lab->a;
  values[2] = lab->b;
}

/* @part: 3 × 3, row by row. */
static void
add (double sum[3][3], const double *part, double factor)
{
  for (guint i = 0; i < 9; i++)
    sum[i / 3][i % 3] += factor * part[i];
}

static gboolean
is_near (const SherdPatchError *patch, const SherdZoneColour *before, const SherdZoneColour *after)
{
  return sherd_difference_de00 (&patch->lab, &before->lab) < NEAR_DE00 ||
         sherd_difference_de00 (&patch->lab, &after->lab) < NEAR_DE00;
}

/* Mean of e eᵀ, e the change of a patch's error between the photographs: what both share has gone from it. */
static guint
patch_changes (const SherdPatchError *before_patches,
               const SherdPatchError *after_patches,
               gsize n_patches,
               const SherdZoneColour *before, /* (nullable): all patches, not only those near */
               const SherdZoneColour *after,
               double of_change[3][3])
{
  guint n = 0;

  memset (of_change, 0, 9 * sizeof (double));
  for (gsize k = 0; k < n_patches; k++)
    {
      double first[3], second[3];

      if (!before_patches[k].usable || !after_patches[k].usable ||
          (before && !is_near (&before_patches[k], before, after)))
        continue;
      lab_to (&before_patches[k].error, first);
      lab_to (&after_patches[k].error, second);
      n++;
      for (guint i = 0; i < 3; i++)
        for (guint j = 0; j < 3; j++)
          of_change[i][j] += (second[i] - first[i]) * (second[j] - first[j]);
    }
  for (guint i = 0; n > 0 && i < 3; i++)
    for (guint j = 0; j < 3; j++)
      of_change[i][j] /= n;
  return n;
}

static void
reference_of_change (const SherdZoneColour *before,
                     const SherdZoneColour *after,
                     const SherdPatchError *before_patches,
                     const SherdPatchError *after_patches,
                     gsize n_patches,
                     double of_change[3][3])
{
  const gboolean same = before_patches && after_patches;

  if (same && patch_changes (before_patches, after_patches, n_patches, before, after, of_change) >= FEWEST_NEAR)
    return;
  if (same && patch_changes (before_patches, after_patches, n_patches, NULL, NULL, of_change) >= FEWEST_NEAR)
    return;
  memset (of_change, 0, 9 * sizeof (double));
  add (of_change, &before->reference[0][0], same ? 1 - COMMON_FRAC : 1);
  add (of_change, &after->reference[0][0], same ? 1 - COMMON_FRAC : 1);
}

/* One side's covariance in the difference: its own with its reference part exchanged for half the common one. */
static void
side_covariance (const SherdZoneColour *zone, double of_change[3][3], double covariance[3][3])
{
  memcpy (covariance, zone->covariance, 9 * sizeof (double));
  add (covariance, &zone->reference[0][0], -1);
  add (covariance, &of_change[0][0], 0.5);
}

static void
colour_init (Colour *colour, const SherdZoneColour *zone, const double *covariance)
{
  double lower[3], upper[3];

  lab_to (&zone->lab, colour->lab);
  lab_to (&zone->lower_95, lower);
  lab_to (&zone->upper_95, upper);
  sherd_cholesky_3 (covariance, colour->root);
  for (guint i = 0; i < 3; i++)
    {
      const double own = COVERAGE_95 * sqrt (zone->covariance[i][i]) + 1e-9;

      colour->stretch[i][0] = MAX (1, (colour->lab[i] - lower[i]) / own);
      colour->stretch[i][1] = MAX (1, (upper[i] - colour->lab[i]) / own);
    }
}

static SherdLab
draw_about (const Colour *colour, const double *z, const double lab[3])
{
  double values[3];

  for (guint i = 0; i < 3; i++)
    {
      double off = 0;

      for (guint j = 0; j <= i; j++)
        off += colour->root[i][j] * z[j];
      values[i] = lab[i] + off * colour->stretch[i][off > 0];
    }
  return lab_from (values);
}

/* Derivatives of ΔE00 by the six coordinates, central differences. */
static void
de00_gradient (const double before[3], const double after[3], double gradient[6])
{
  for (guint k = 0; k < 6; k++)
    {
      double low[6], high[6];
      SherdLab low_before, low_after, high_before, high_after;

      memcpy (low, before, 3 * sizeof (double));
      memcpy (low + 3, after, 3 * sizeof (double));
      memcpy (high, low, sizeof high);
      low[k] -= GRADIENT_STEP;
      high[k] += GRADIENT_STEP;
      low_before = lab_from (low);
      low_after = lab_from (low + 3);
      high_before = lab_from (high);
      high_after = lab_from (high + 3);
      gradient[k] =
        (sherd_difference_de00 (&high_before, &high_after) - sherd_difference_de00 (&low_before, &low_after)) /
        (2 * GRADIENT_STEP);
    }
}

/* The gradient in the coordinates of the drawn deviates; its length is the first-order standard uncertainty. */
static double
whitened_gradient (const Pair *pair, double whitened[N_DIMENSIONS])
{
  double gradient[6], square = 0;

  de00_gradient (pair->before.lab, pair->after.lab, gradient);
  for (guint j = 0; j < 3; j++)
    {
      whitened[j] = whitened[3 + j] = 0;
      for (guint i = j; i < 3; i++)
        {
          whitened[j] += pair->before.root[i][j] * gradient[i];
          whitened[3 + j] += pair->after.root[i][j] * gradient[3 + i];
        }
    }
  for (guint j = 0; j < N_DIMENSIONS; j++)
    square += whitened[j] * whitened[j];
  return sqrt (square);
}

/* Mirrors every row of @z so that the first axis lies along @direction (A. S. Householder, J. ACM 5, 1958). */
static void
turn_first_axis (double *z, const double direction[N_DIMENSIONS], double length)
{
  double normal[N_DIMENSIONS], square = 0;

  for (guint j = 0; j < N_DIMENSIONS; j++)
    {
      normal[j] = (j == 0) - direction[j] / length;
      square += normal[j] * normal[j];
    }
  if (!(square > 1e-12))
    return;
  for (guint i = 0; i < N_DRAWS; i++)
    {
      double *row = z + N_DIMENSIONS * i, along = 0;

      for (guint j = 0; j < N_DIMENSIONS; j++)
        along += normal[j] * row[j];
      for (guint j = 0; j < N_DIMENSIONS; j++)
        row[j] -= 2 * along / square * normal[j];
    }
}

/* Standard normal deviates from evenly spread points (I. M. Sobol’, USSR Comput. Math. Math. Phys. 7, 1967), moved
 * round by a random shift so that the seed matters (R. Cranley, T. N. L. Patterson, SIAM J. Numer. Anal. 13, 1976). */
static double *
normal_deviates (gulong seed)
{
  double *z = g_new (double, N_DRAWS *N_DIMENSIONS);
  gsl_qrng *even = gsl_qrng_alloc (gsl_qrng_sobol, N_DIMENSIONS);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  double moved[N_DIMENSIONS];

  gsl_rng_set (rng, seed);
  for (guint j = 0; j < N_DIMENSIONS; j++)
    moved[j] = gsl_rng_uniform (rng);
  for (guint i = 0; i < N_DRAWS; i++)
    {
      double *row = z + N_DIMENSIONS * i;

      gsl_qrng_get (even, row);
      for (guint j = 0; j < N_DIMENSIONS; j++)
        row[j] = gsl_cdf_ugaussian_Pinv (CLAMP (fmod (row[j] + moved[j], 1), 1e-9, 1 - 1e-9));
    }
  gsl_rng_free (rng);
  gsl_qrng_free (even);
  return z;
}

/* ΔE00 limits by drawing both colours, and the level below which it may be nothing. */
static double
draw_shift (const Pair *pair, const double *z, SherdShift *shift)
{
  g_autofree double *changed = g_new (double, N_DRAWS);
  g_autofree double *unchanged = g_new (double, N_DRAWS);
  double sd;

  for (guint i = 0; i < N_DRAWS; i++)
    {
      const double *row = z + N_DIMENSIONS * i;
      const SherdLab before = draw_about (&pair->before, row, pair->before.lab);
      const SherdLab after = draw_about (&pair->after, row + 3, pair->after.lab);
      const SherdLab still = draw_about (&pair->after, row + 3, pair->before.lab);

      changed[i] = sherd_difference_de00 (&before, &after);
      unchanged[i] = sherd_difference_de00 (&before, &still);
    }
  sd = gsl_stats_sd (changed, 1, N_DRAWS);
  gsl_sort (changed, 1, N_DRAWS);
  gsl_sort (unchanged, 1, N_DRAWS);
  shift->de00_low = gsl_stats_quantile_from_sorted_data (changed, 1, N_DRAWS, 0.025);
  shift->de00_high = gsl_stats_quantile_from_sorted_data (changed, 1, N_DRAWS, 0.975);
  shift->de00_noise = gsl_stats_quantile_from_sorted_data (unchanged, 1, N_DRAWS, 0.95);
  return sd;
}

/* One side's covariance as wide as its interval is in the direction @toward. */
static void
add_stretched (double sum[3][3], const Colour *colour, const double toward[3])
{
  double root[3][3];

  for (guint i = 0; i < 3; i++)
    for (guint k = 0; k < 3; k++)
      root[i][k] = k <= i ? colour->root[i][k] * colour->stretch[i][toward[i] > 0] : 0;
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      for (guint k = 0; k < 3; k++)
        sum[i][j] += root[i][k] * root[j][k];
}

/* T² = Δᵀ Σ⁻¹ Δ against χ² with three degrees of freedom: the vector is tested, for ΔE00 is never negative. If nothing
 * had changed the two colours would meet between them, so of one-sided intervals the side that faces the other counts.
 */
static gboolean
is_real (const Pair *pair)
{
  double toward_after[3], toward_before[3], covariance[3][3] = { { 0 } }, root[3][3], y[3], square = 0;

  for (guint i = 0; i < 3; i++)
    {
      toward_after[i] = pair->after.lab[i] - pair->before.lab[i];
      toward_before[i] = -toward_after[i];
    }
  add_stretched (covariance, &pair->before, toward_after);
  add_stretched (covariance, &pair->after, toward_before);
  sherd_cholesky_3 (&covariance[0][0], root);
  for (guint i = 0; i < 3; i++)
    {
      y[i] = toward_after[i];
      for (guint j = 0; j < i; j++)
        y[i] -= root[i][j] * y[j];
      y[i] /= root[i][i];
      square += y[i] * y[i];
    }
  return gsl_cdf_chisq_Q (square, 3) < 0.05;
}

/**
 * sherd_shift:
 * @before: a zone before firing
 * @after: the same zone after
 * @before_patches: (nullable): errors of the chart's patches in the first photograph; NULL unless the same chart or
 *   card stands in both
 * @after_patches: (nullable): the same patches in the second
 * @seed: of the random draws
 * @shift: (out): with @shift->measured FALSE and the rest empty when either colour was not measured
 *
 * Colour shift of one zone, after minus before, with its covariance. Errors of the chart that are the same in both
 * photographs cancel: the calibration part is the scatter of what changed in the patches' leave-one-out errors. ΔE00 is
 * propagated to first order (JCGM 100:2008, 5.1.2) where it is large and by draws (JCGM 101:2008) where it is small;
 * its limits are always drawn. Where glare is possible the colour's one-sided interval stretches the draws.
 */
void
sherd_shift (const SherdZoneColour *before,
             const SherdZoneColour *after,
             const SherdPatchError *before_patches,
             const SherdPatchError *after_patches,
             gsize n_patches,
             gulong seed,
             SherdShift *shift)
{
  double of_change[3][3], of_before[3][3], of_after[3][3], gradient[N_DIMENSIONS], drawn_u;
  g_autofree double *z = NULL;
  Pair pair;

  memset (shift, 0, sizeof *shift);
  if ((before->flags | after->flags) & SHERD_ZONE_NOT_MEASURED)
    return;
  shift->measured = TRUE;
  sherd_difference (&before->lab, &after->lab, &shift->difference);
  reference_of_change (before, after, before_patches, after_patches, n_patches, of_change);
  side_covariance (before, of_change, of_before);
  side_covariance (after, of_change, of_after);
  add (shift->covariance, &of_before[0][0], 1);
  add (shift->covariance, &of_after[0][0], 1);
  colour_init (&pair.before, before, &of_before[0][0]);
  colour_init (&pair.after, after, &of_after[0][0]);
  z = normal_deviates (seed);
  shift->de00_u = whitened_gradient (&pair, gradient);
  turn_first_axis (z, gradient, shift->de00_u);
  drawn_u = draw_shift (&pair, z, shift);
  if (!(shift->difference.de00 > LINEAR_ABOVE * shift->de00_u))
    shift->de00_u = drawn_u;
  shift->real = is_real (&pair);
  /* ΔE00 is never negative, so noise alone lifts it: while no change at all is possible the lower limit is none. */
  if (!shift->real)
    shift->de00_low = 0;
}

/* The same for one zone of each of two measured photographs. */
void
sherd_shift_between (const SherdPhotoMeasurement *before,
                     gsize before_zone,
                     const SherdPhotoMeasurement *after,
                     gsize after_zone,
                     gboolean same_reference,
                     gulong seed,
                     SherdShift *shift)
{
  const gboolean same = same_reference && before->n_patches > 0 && before->n_patches == after->n_patches;

  sherd_shift (&before->zones[before_zone], &after->zones[after_zone], same ? before->patches : NULL,
               same ? after->patches : NULL, before->n_patches, seed, shift);
}
