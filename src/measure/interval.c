/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/interval.h"

#include "measure/budget.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Either side of a 95 % interval leaves this out. */
#define TAIL 0.025
/* Mirrored light less likely than this in all moves no limit. */
#define LEAST_SHARE 1e-3
/* An offset below this many standard deviations is lost in them. */
#define LEAST_OFFSET_SD 0.1
/* A case less likely than this counts for nothing: all of them together are a tenth of what a side leaves out. */
#define NO_SHARE 1e-4
#define FARTHEST_SD 6.0
/* Halvings of the bracket: to a few thousandths of a standard deviation. */
#define N_HALVINGS 10

typedef struct
{
  double sd;
  const double *offset;
  const double *offset_sd;
  const double *share;
  guint n;
  double sign;
} Side;

static double
offset_toward (const Side *side, guint k)
{
  return MAX (side->sign * side->offset[k], 0);
}

/* Q(z) of the normal distribution; beyond six standard deviations it is known without reckoning. */
static double
upper_tail (double z)
{
  if (fabs (z) > FARTHEST_SD)
    return z > 0 ? 0 : 1;
  return 0.5 * erfc (z / M_SQRT2);
}

/* Probability that the truth lies farther off on this side than @reach. */
static double
beyond (const Side *side, double reach)
{
  double sum = 0;

  for (guint k = 0; k < side->n; k++)
    if (side->share[k] > NO_SHARE)
      sum += side->share[k] * upper_tail ((reach - offset_toward (side, k)) /
                                          sqrt (side->sd * side->sd + side->offset_sd[k] * side->offset_sd[k]));
  return sum;
}

static gboolean
is_moved (const Side *side)
{
  double moved = 0;

  for (guint k = 0; k < side->n; k++)
    if (offset_toward (side, k) + side->offset_sd[k] > LEAST_OFFSET_SD * side->sd)
      moved += side->share[k];
  return moved >= LEAST_SHARE;
}

/**
 * sherd_interval_reach:
 * @sd: standard deviation of the value
 * @offset: how far the truth lies from the value in each of @n cases
 * @offset_sd: how surely that is known
 * @share: probability of each, adding up to 1, or all 0
 * @sign: −1 for the limit below the value, 1 for the one above
 *
 * How far a 95 % interval reaches on one side when the value may be off by one thing or another as well as by chance:
 * the 2.5 % point of the mixture (probabilistically symmetric coverage interval, JCGM 101:2008, 3.15), never nearer
 * than chance alone would have it. The shortest interval would be shorter by a few hundredths only.
 */
double
sherd_interval_reach (double sd,
                      const double *offset,
                      const double *offset_sd,
                      const double *share,
                      guint n,
                      double sign)
{
  const Side side = { sd, offset, offset_sd, share, n, sign };
  double low = gsl_cdf_ugaussian_Qinv (TAIL) * sd, high = low;

  if (!is_moved (&side))
    return low;
  for (guint k = 0; k < n; k++)
    if (share[k] > 0)
      high = MAX (high, low * hypot (1, offset_sd[k] / sd) + offset_toward (&side, k));
  for (guint i = 0; i < N_HALVINGS; i++)
    {
      const double middle = (low + high) / 2;

      *(beyond (&side, middle) > TAIL ? &low : &high) = middle;
    }
  return high;
}

/* The colour less the light that is mirrored at @level, the room's warmer than the fit has it by @warmer. */
static SherdLab
lab_without (const SherdCorrection *correction,
             const double mean[3],
             const SherdGlare *glare,
             guint level,
             double warmer)
{
  const double lamp = glare->added[level] - glare->room[level], room = glare->room[level];
  double without[3];

  for (guint c = 0; c < 3; c++)
    without[c] = MAX (mean[c] - lamp * glare->lamp_tint[c] - room * (glare->room_tint[c] + (1.0 - c) * warmer), 1e-4);
  return sherd_budget_lab (correction, without);
}

/* What may have been added, in steps of equal probability: the middle of each. */
static void
fill_steps (double steps[SHERD_MIRRORED_STEPS], const SherdGlare *glare)
{
  double passed = 0;
  guint level = 0;

  for (guint k = 0; k < SHERD_MIRRORED_STEPS; k++)
    {
      const double wanted = (k + 0.5) / SHERD_MIRRORED_STEPS;

      for (; level < SHERD_GLARE_LEVELS - 1 && passed + glare->share[level] < wanted; level++)
        passed += glare->share[level];
      steps[k] = glare->share[level] > 0 ? glare->added[level] : 0;
    }
}

/**
 * sherd_interval_fill:
 * @zone: (inout): with its colour and covariance; its limits are set
 * @mean: its reflectance in the camera's channels
 * @glare: what of it may be mirrored light
 *
 * How much light may be mirrored, and the 95 % interval of each axis: chance, and toward darker and less vivid or more
 * so, what mirrored light may hide.
 */
void
sherd_interval_fill (SherdZoneColour *zone,
                     const double mean[3],
                     const SherdCorrection *correction,
                     const SherdGlare *glare)
{
  const double at[3] = { zone->lab.l, zone->lab.a, zone->lab.b };
  double *lower[3] = { &zone->lower_95.l, &zone->lower_95.a, &zone->lower_95.b };
  double *upper[3] = { &zone->upper_95.l, &zone->upper_95.a, &zone->upper_95.b };
  double offset[3][SHERD_GLARE_LEVELS] = { { 0 } }, offset_sd[3][SHERD_GLARE_LEVELS] = { { 0 } };

  for (guint k = 0; k < SHERD_GLARE_LEVELS; k++)
    if (glare->share[k] > NO_SHARE)
      {
        const SherdLab even = lab_without (correction, mean, glare, k, 0);
        const SherdLab warm = glare->room[k] > 0 ? lab_without (correction, mean, glare, k, glare->room_tint_sd) : even;
        const double off[3] = { even.l - at[0], even.a - at[1], even.b - at[2] };
        const double off_warm[3] = { warm.l - at[0], warm.a - at[1], warm.b - at[2] };

        for (guint i = 0; i < 3; i++)
          {
            offset[i][k] = off[i];
            offset_sd[i][k] = fabs (off_warm[i] - off[i]);
          }
      }
  fill_steps (zone->mirrored, glare);
  for (guint i = 0; i < 3; i++)
    {
      const double sd = sqrt (zone->covariance[i][i]);

      *lower[i] = at[i] - sherd_interval_reach (sd, offset[i], offset_sd[i], glare->share, SHERD_GLARE_LEVELS, -1);
      *upper[i] = at[i] + sherd_interval_reach (sd, offset[i], offset_sd[i], glare->share, SHERD_GLARE_LEVELS, 1);
    }
}
