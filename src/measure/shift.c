/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/shift.h"

#include "colour/srgb.h"
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
#define COVERAGE_95 1.96
#define N_DIMENSIONS 6
/* The two more tell how much light is mirrored on either side. */
#define N_DRAWN 8
/* Below this many standard uncertainties ΔE00 is too curved for first-order propagation. */
#define LINEAR_ABOVE 4.0
#define GRADIENT_STEP 1e-4

/* Lamp and room differ in colour as tungsten light and daylight do; either may be mirrored (our choice). */
#define TINT_SD 0.2
/* Places on the curve of a colour less mirrored light are looked at not farther apart than this many standard
 * deviations, unless they would be more than so many. */
#define CURVE_STEP_SD 1.5
#define MOST_PLACES 160
/* No colour is darker than this share of white. */
#define BLACKEST 1e-4

/* One colour with its uncertainty, in the shape that drawing wants. */
typedef struct
{
  double lab[3];
  double root[3][3]; /* lower Cholesky factor of its covariance */
  double mirrored[SHERD_MIRRORED_STEPS];
  double without[SHERD_MIRRORED_STEPS][3]; /* the colour less that light: equally likely places on a curve */
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

/* @warmer: than the white of D50, to which the calibration has brought lamp and room together. */
static void
take_off_mirrored (const SherdLab *lab, double share_of_white, double warmer, double values[3])
{
  const SherdXyz white = sherd_lab_to_xyz (&(SherdLab){ 100, 0, 0 });
  const SherdRgb rgb_of_light = { share_of_white * (1 + warmer), share_of_white, share_of_white * (1 - warmer) };
  const SherdXyz light = sherd_srgb_to_xyz_d50 (&rgb_of_light), xyz = sherd_lab_to_xyz (lab);
  const SherdXyz less = { MAX (xyz.x - light.x, BLACKEST * white.x), MAX (xyz.y - light.y, BLACKEST * white.y),
                          MAX (xyz.z - light.z, BLACKEST * white.z) };
  const SherdLab without = sherd_lab_from_xyz (&less);

  lab_to (&without, values);
}

static void
colour_init (Colour *colour, const SherdZoneColour *zone, const double *covariance)
{
  memset (colour, 0, sizeof *colour);
  lab_to (&zone->lab, colour->lab);
  sherd_cholesky_3 (covariance, colour->root);
  for (guint k = 0; k < SHERD_MIRRORED_STEPS; k++)
    {
      colour->mirrored[k] = zone->mirrored[k] > 0 ? zone->mirrored[k] : 0;
      if (colour->mirrored[k] > 0)
        take_off_mirrored (&zone->lab, colour->mirrored[k], 0, colour->without[k]);
      else
        memcpy (colour->without[k], colour->lab, sizeof colour->lab);
    }
}

static SherdLab
draw_about (const Colour *colour, const double *z, const double lab[3])
{
  double values[3];

  for (guint i = 0; i < 3; i++)
    {
      values[i] = lab[i];
      for (guint j = 0; j <= i; j++)
        values[i] += colour->root[i][j] * z[j];
    }
  return lab_from (values);
}

/* @even: 0…1 */
static const double *
draw_without (const Colour *colour, double even)
{
  return colour->without[MIN ((guint)(even * SHERD_MIRRORED_STEPS), SHERD_MIRRORED_STEPS - 1)];
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
      double *row = z + N_DRAWN * i, along = 0;

      for (guint j = 0; j < N_DIMENSIONS; j++)
        along += normal[j] * row[j];
      for (guint j = 0; j < N_DIMENSIONS; j++)
        row[j] -= 2 * along / square * normal[j];
    }
}

/* Six standard normal deviates and two even numbers in 0…1 a row, from evenly spread points (I. M. Sobol’, USSR Comput.
 * Math. Math. Phys. 7, 1967), moved round by a random shift so that the seed matters (R. Cranley, T. N. L. Patterson,
 * SIAM J. Numer. Anal. 13, 1976). */
static double *
normal_deviates (gulong seed)
{
  double *z = g_new (double, N_DRAWS *N_DRAWN);
  gsl_qrng *even = gsl_qrng_alloc (gsl_qrng_sobol, N_DRAWN);
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  double moved[N_DRAWN];

  gsl_rng_set (rng, seed);
  for (guint j = 0; j < N_DRAWN; j++)
    moved[j] = gsl_rng_uniform (rng);
  for (guint i = 0; i < N_DRAWS; i++)
    {
      double *row = z + N_DRAWN * i;

      gsl_qrng_get (even, row);
      for (guint j = 0; j < N_DRAWN; j++)
        row[j] = fmod (row[j] + moved[j], 1);
      for (guint j = 0; j < N_DIMENSIONS; j++)
        row[j] = gsl_cdf_ugaussian_Pinv (CLAMP (row[j], 1e-9, 1 - 1e-9));
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
      const double *row = z + N_DRAWN * i;
      const SherdLab before = draw_about (&pair->before, row, draw_without (&pair->before, row[N_DIMENSIONS]));
      const SherdLab after = draw_about (&pair->after, row + 3, draw_without (&pair->after, row[N_DIMENSIONS + 1]));
      const SherdLab one = draw_about (&pair->before, row, pair->before.lab);
      const SherdLab same = draw_about (&pair->after, row + 3, pair->before.lab);

      changed[i] = sherd_difference_de00 (&before, &after);
      unchanged[i] = sherd_difference_de00 (&one, &same);
    }
  sd = gsl_stats_sd (changed, 1, N_DRAWS);
  gsl_sort (changed, 1, N_DRAWS);
  gsl_sort (unchanged, 1, N_DRAWS);
  shift->de00_low = gsl_stats_quantile_from_sorted_data (changed, 1, N_DRAWS, 0.025);
  shift->de00_high = gsl_stats_quantile_from_sorted_data (changed, 1, N_DRAWS, 0.975);
  shift->de00_noise = gsl_stats_quantile_from_sorted_data (unchanged, 1, N_DRAWS, 0.95);
  return sd;
}

/* In coordinates in which the difference's covariance is the unit matrix. */
static void
whiten (double root[3][3], const double lab[3], double y[3])
{
  for (guint i = 0; i < 3; i++)
    {
      y[i] = lab[i];
      for (guint j = 0; j < i; j++)
        y[i] -= root[i][j] * y[j];
      y[i] /= root[i][i];
    }
}

/* T² = Δᵀ Σ⁻¹ Δ in whitened coordinates, where Σ is the unit matrix and what two tints leave open. */
static double
square_with_tints (const double difference[3], const double tint[3], const double other_tint[3])
{
  double covariance[9], root[3][3], y[3];

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      covariance[3 * i + j] = (i == j) + tint[i] * tint[j] + other_tint[i] * other_tint[j];
  sherd_cholesky_3 (covariance, root);
  whiten (root, difference, y);
  return y[0] * y[0] + y[1] * y[1] + y[2] * y[2];
}

/* A colour's curve in whitened coordinates, and how far each place is off when the light is warmer by TINT_SD. */
typedef struct
{
  double at[MOST_PLACES][3];
  double tint[MOST_PLACES][3];
  guint n;
} Curve;

static void
add_place (Curve *curve, const Colour *colour, double mirrored, double root[3][3])
{
  const SherdLab lab = lab_from (colour->lab);
  double at[3], warmer[3];

  if (curve->n == MOST_PLACES)
    return;
  take_off_mirrored (&lab, mirrored, 0, at);
  take_off_mirrored (&lab, mirrored, TINT_SD, warmer);
  whiten (root, at, curve->at[curve->n]);
  whiten (root, warmer, curve->tint[curve->n]);
  for (guint i = 0; i < 3; i++)
    curve->tint[curve->n][i] -= curve->at[curve->n][i];
  curve->n++;
}

static double
distance_between (double root[3][3], const double from[3], const double to[3])
{
  double off[3], y[3];

  for (guint i = 0; i < 3; i++)
    off[i] = to[i] - from[i];
  whiten (root, off, y);
  return sqrt (y[0] * y[0] + y[1] * y[1] + y[2] * y[2]);
}

/* From nothing mirrored to the most, in steps so small that chance joins them. */
static void
curve_init (Curve *curve, const Colour *colour, double root[3][3])
{
  const double *from = colour->lab;
  double mirrored = 0;

  curve->n = 0;
  add_place (curve, colour, 0, root);
  for (guint k = 0; k < SHERD_MIRRORED_STEPS; k++)
    {
      const double step = colour->mirrored[k] - mirrored;
      const double distance = distance_between (root, from, colour->without[k]);
      const guint n = (guint)CLAMP (ceil (distance / CURVE_STEP_SD), 1, MOST_PLACES);

      for (guint i = 1; step > 0 && i <= n; i++)
        add_place (curve, colour, mirrored + step * i / n, root);
      mirrored = MAX (mirrored, colour->mirrored[k]);
      from = colour->without[k];
    }
}

/* T² where the curves of what the two colours may be without mirrored light come nearest to each other. */
static double
least_square (const Curve *before, const Curve *after)
{
  double least = INFINITY;

  for (guint k = 0; k < before->n; k++)
    for (guint l = 0; l < after->n; l++)
      {
        double difference[3];

        for (guint i = 0; i < 3; i++)
          difference[i] = after->at[l][i] - before->at[k][i];
        least = MIN (least, square_with_tints (difference, before->tint[k], after->tint[l]));
      }
  return least;
}

/* Hotelling's T² against χ² with three degrees of freedom: the vector is tested, for ΔE00 is never negative. A change
 * that any likely amount of mirrored light on either side explains is none that has been proven. */
static gboolean
is_real (const Pair *pair, double covariance[3][3])
{
  double root[3][3];
  Curve before, after;

  sherd_cholesky_3 (&covariance[0][0], root);
  curve_init (&before, &pair->before, root);
  curve_init (&after, &pair->after, root);
  return gsl_cdf_chisq_Q (least_square (&before, &after), 3) < 0.05;
}

/* Where all that is likely is mirrored light the drawn limits leave the value out; they hold what was measured too. */
static void
hold_value (SherdShift *shift)
{
  const double de00 = shift->difference.de00, reach = COVERAGE_95 * shift->de00_u;

  if (de00 < shift->de00_low)
    shift->de00_low = MAX (de00 - reach, 0);
  if (de00 > shift->de00_high)
    shift->de00_high = de00 + reach;
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
 * its limits are always drawn: a 95 % coverage interval, not symmetric where light may be mirrored, for then either
 * colour may be any on the curve that taking such light off it leads along.
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
  hold_value (shift);
  shift->real = is_real (&pair, shift->covariance);
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
