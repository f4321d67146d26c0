/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/zone.h"

#include "measure/budget.h"
#include "measure/choice.h"
#include "measure/interval.h"

#include <gsl/gsl_statistics.h>
#include <math.h>
#include <string.h>

/* Our choices, each in words a potter would give. */
#define FEWEST_PIXELS 150.0       /* of the photograph: less is a sliver */
#define FEWEST_SAMPLES 12         /* of those read */
#define MOST_CLIPPED_FRAC 0.3     /* mostly over-exposed */
#define SOME_CLIPPED_FRAC 0.01    /* a highlight */
#define LITTLE_RETAINED_FRAC 0.15 /* hardly any paint left */
#define LITTLE_PURE_FRAC 0.05     /* hardly any pixel of paint alone */
#define MOST_DARK_FRAC 0.5
#define SOME_HIGHLIGHT_FRAC 0.08
#define GLARE_PROBABILITY 0.125
#define MIRRORED_PROBABILITY 0.5

#define TRIMMED_FRAC 0.05 /* at either end */
#define N_TRIM_PIXELS 800 /* are enough to tell where the ends begin */
/* So many tell how the pixels of a zone scatter. */
#define N_SURFACE_PIXELS 400
/* A zone is looked at for bare ground when more of its pixels than this are within GROUND_REACH standard deviations of
 * it. */
#define SOME_GROUND_FRAC 0.003
#define GROUND_REACH 4.0
/* Or when more of them than this are that share of the way from the paint to the ground. */
#define SOME_MIXED_FRAC 0.03
#define SOME_WAY 0.25
/* Closer than this to the ground in the mean the paint is gone, or cannot be seen to be there. */
#define SAME_AS_GROUND_LN 0.04
/* Where many pixels show paint and ground at once, the paint is known less well: per unit of (mixed ÷ pure) this part
 * of the way to the ground. */
#define MIXED_DOUBT 0.02
/* What every measurement leaves: rounding of eight bits, the patches' own values, speckle of the sampling. In L*, a*,
 * b*. */
static const double least_sd[3] = { 0.08, 0.08, 0.08 };

typedef struct
{
  SherdZonePixels *pixels;
  const SherdZoneContext *context;
  double noise_sd[3]; /* in units of reflectance */
  guint8 *kinds;      /* SherdPixelKind of every pixel */
  guint8 *use;        /* nonzero for those that make the colour */
  double mean[3];     /* reflectance of the paint in the camera's channels */
  SherdMixture mixture;
  SherdBlocks blocks;
} Work;

SherdZonePixels *
sherd_zone_pixels_new (gsize n_most)
{
  SherdZonePixels *pixels = g_new0 (SherdZonePixels, 1);

  pixels->linear_rgb = g_new (float, 3 * n_most + 1);
  pixels->x_mm = g_new (float, n_most + 1);
  pixels->y_mm = g_new (float, n_most + 1);
  pixels->flags = g_new (guint8, n_most + 1);
  pixels->core = g_new (guint8, n_most + 1);
  return pixels;
}

void
sherd_zone_pixels_free (SherdZonePixels *pixels)
{
  g_free (pixels->linear_rgb);
  g_free (pixels->x_mm);
  g_free (pixels->y_mm);
  g_free (pixels->flags);
  g_free (pixels->core);
  g_free (pixels);
}

/**
 * sherd_divide_light:
 * @pixels: (inout): linear light becomes reflectance in the camera's channels
 */
void
sherd_divide_light (SherdZonePixels *pixels, const SherdField *field)
{
  for (gsize i = 0; i < pixels->n; i++)
    {
      double value[3];

      sherd_field_at (field, pixels->x_mm[i], pixels->y_mm[i], value);
      for (guint c = 0; c < 3; c++)
        pixels->linear_rgb[3 * i + c] /= (float)value[c];
    }
}

static double
sum_of_channels (const float *pixel)
{
  return (double)pixel[0] + pixel[1] + pixel[2];
}

/* Between which sums of the channels pixels are kept; FALSE when there is none. */
static gboolean
find_trim (const float *reflectance, const guint8 *use, gsize n_pixels, double *least, double *most)
{
  const gsize stride = MAX (1, n_pixels / N_TRIM_PIXELS);
  g_autofree double *sums = g_new (double, n_pixels / stride + 1);
  gsize n = 0, n_out;

  for (gsize group = 0; group < n_pixels / stride; group++)
    {
      const gsize i = sherd_choose_in_group (group, stride);

      if (use[i])
        sums[n++] = sum_of_channels (reflectance + 3 * i);
    }
  if (n == 0)
    return FALSE;
  n_out = (gsize)(TRIMMED_FRAC * (double)n);
  *least = gsl_stats_select (sums, 1, n, n_out);
  *most = gsl_stats_select (sums, 1, n, n - 1 - n_out);
  return TRUE;
}

/**
 * sherd_trimmed_mean:
 * @use: nonzero for the pixels that count
 *
 * Mean of the same pixels in all channels, a share left out at either end by the sum of the channels; channels are
 * never trimmed one by one. In linear light: a mean of L*a*b* or of encoded values is another, darker colour.
 *
 * Returns: how many pixels are behind it, 0 when none
 */
gsize
sherd_trimmed_mean (const float *reflectance, const guint8 *use, gsize n_pixels, double mean[3])
{
  double total[3] = { 0 }, least, most;
  gsize n_kept = 0;

  mean[0] = mean[1] = mean[2] = 0;
  if (!find_trim (reflectance, use, n_pixels, &least, &most))
    return 0;
  for (gsize i = 0; i < n_pixels; i++)
    {
      const double sum = sum_of_channels (reflectance + 3 * i);

      if (!use[i] || sum < least || sum > most)
        continue;
      n_kept++;
      for (guint c = 0; c < 3; c++)
        total[c] += reflectance[3 * i + c];
    }
  for (guint c = 0; c < 3; c++)
    mean[c] = total[c] / (double)n_kept;
  return n_kept;
}

/* Camera noise in units of reflectance at this zone. */
static void
noise_of_zone (Work *work)
{
  double value[3] = { 1, 1, 1 };

  if (work->pixels->n)
    sherd_field_at (work->context->field, work->pixels->x_mm[work->pixels->n / 2],
                    work->pixels->y_mm[work->pixels->n / 2], value);
  for (guint c = 0; c < 3; c++)
    work->noise_sd[c] = work->context->noise_sd[c] / value[c];
}

/* Over-exposed and transparent pixels out; the rest moved together. */
static void
count_and_drop (Work *work, SherdZoneColour *zone, guint *n_dark)
{
  SherdZonePixels *p = work->pixels;
  gsize kept = 0;

  for (gsize i = 0; i < p->n; i++)
    {
      zone->n_clipped += (p->flags[i] & SHERD_PIXEL_CLIPPED) != 0;
      *n_dark += (p->flags[i] & SHERD_PIXEL_DARK) != 0;
      if (p->flags[i] & (SHERD_PIXEL_CLIPPED | SHERD_PIXEL_TRANSPARENT))
        continue;
      memmove (p->linear_rgb + 3 * kept, p->linear_rgb + 3 * i, 3 * sizeof (float));
      p->core[kept] = p->core[i];
      p->x_mm[kept] = p->x_mm[i];
      p->y_mm[kept] = p->y_mm[i];
      kept++;
    }
  p->n = kept;
}

/* One surface: all pixels are paint (or, on a bare control, ground). */
static void
one_surface (Work *work)
{
  memset (&work->mixture, 0, sizeof work->mixture);
  memset (work->kinds, SHERD_PIXEL_PAINT, work->pixels->n);
  sherd_surface_fit (&work->mixture.paint, work->pixels->linear_rgb, work->pixels->n, N_SURFACE_PIXELS);
  work->mixture.share[SHERD_PIXEL_PAINT] = 1;
  work->mixture.retained_frac = 1;
  work->mixture.distinct = TRUE;
}

static gboolean
mean_is_ground (const Work *work)
{
  double off = 0;

  for (guint c = 0; c < 3; c++)
    off = MAX (off, fabs (log (MAX (work->mixture.paint.mean[c], 1e-4) / work->context->ground->mean[c])));
  return off < SAME_AS_GROUND_LN;
}

/* A zone all like the ground: either its paint is gone, or it is a paint of nearly the same colour. */
static void
settle_indistinct (Work *work)
{
  one_surface (work);
  if (!mean_is_ground (work))
    return;
  memset (work->kinds, SHERD_PIXEL_GROUND, work->pixels->n);
  work->mixture.retained_frac = 0;
  work->mixture.share[SHERD_PIXEL_PAINT] = 0;
  work->mixture.share[SHERD_PIXEL_GROUND] = 1;
}

/* Bare ground itself; or, where flakes are no larger than a pixel, many pixels on the way to it. */
static gboolean
shows_ground (const Work *work)
{
  const SherdSurface *ground = work->context->ground;
  const float *pixels = work->pixels->linear_rgb;
  const gsize n = work->pixels->n;
  SherdSurface paint;

  if ((double)sherd_surface_count_like (ground, pixels, n, GROUND_REACH) > SOME_GROUND_FRAC * (double)n)
    return TRUE;
  sherd_surface_fit (&paint, pixels, n, N_SURFACE_PIXELS);
  return (double)sherd_surface_count_toward (&paint, ground, pixels, n, SOME_WAY) > SOME_MIXED_FRAC * (double)n;
}

static void
part_paint_from_ground (Work *work, gboolean bare)
{
  const SherdSurface *ground = work->context->ground;
  const gsize n = work->pixels->n;

  if (bare || ground == NULL || !shows_ground (work))
    {
      one_surface (work);
      return;
    }
  sherd_mixture_fit (&work->mixture, work->pixels->linear_rgb, n, ground, work->noise_sd, work->kinds);
  if (!work->mixture.distinct)
    settle_indistinct (work);
}

static void
add_covariance (double sum[3][3], double part[3][3])
{
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      sum[i][j] += part[i][j];
}

/* Share of the zone's visible paint that is behind its colour. */
static double
read_frac (const Work *work, guint n_behind)
{
  const double painted = work->pixels->core_frac > 0 ? MAX (work->mixture.retained_frac, 0.01) : 0;
  gsize n_core = 0;

  for (gsize i = 0; i < work->pixels->n; i++)
    n_core += work->pixels->core[i] != 0;
  return painted > 0 && n_core > 0 ? MIN (1, work->pixels->core_frac * n_behind / (painted * (double)n_core)) : 0;
}

static void
scatter_part (const Work *work, guint n_behind, double of_lab[3][3])
{
  const SherdSurface *ground = work->context->ground;
  const double pure = MAX (work->mixture.share[SHERD_PIXEL_PAINT], 0.01);
  const double doubt = MIXED_DOUBT * work->mixture.share[SHERD_PIXEL_MIXED] / pure;
  double covariance[3][3];

  sherd_blocks_covariance (&work->blocks, read_frac (work, n_behind), covariance);
  for (guint i = 0; ground && i < 3; i++)
    for (guint j = 0; j < 3; j++)
      covariance[i][j] += doubt * doubt * (ground->mean[i] - work->mean[i]) * (ground->mean[j] - work->mean[j]);
  sherd_budget_reflectance_to_lab (&work->context->calibration->correction, work->mean, covariance, of_lab);
}

static void
light_part (const Work *work, SherdPoint middle_mm, double of_lab[3][3])
{
  const SherdLightPoint point = sherd_field_point (work->context->camera, middle_mm);
  double of_ln[3][3], of_local[3][3];

  sherd_light_ln_covariance (&work->context->calibration->light, &point, of_ln);
  sherd_field_local_covariance (work->context->field, middle_mm, of_local);
  add_covariance (of_ln, of_local);
  sherd_budget_ln_to_lab (&work->context->calibration->correction, work->mean, of_ln, of_lab);
}

/* The zone moved by what its marks leave open: one edge's blocks gain what the other edge's lose. */
static void
registration_part (const Work *work, double mark_sd_mm, double of_lab[3][3])
{
  SherdSlope slope;
  double covariance[3][3] = { { 0 } };

  sherd_blocks_slope (&work->blocks, &slope);
  for (guint axis = 0; slope.usable && axis < 2; axis++)
    for (guint i = 0; i < 3; i++)
      for (guint j = 0; j < 3; j++)
        covariance[i][j] +=
          slope.slope[axis][i] * slope.slope[axis][j] * work->mean[i] * work->mean[j] * mark_sd_mm * mark_sd_mm;
  sherd_budget_reflectance_to_lab (&work->context->calibration->correction, work->mean, covariance, of_lab);
}

static void
reference_part (const Work *work, const SherdLab *lab, double of_lab[3][3])
{
  const SherdCalibration *calibration = work->context->calibration;
  const SherdCorrectionModel model = calibration->correction.model;

  if (model == SHERD_CORRECTION_LINEAR || model == SHERD_CORRECTION_ROOT_POLYNOMIAL)
    sherd_budget_patches (calibration->errors, calibration->n_errors, lab, of_lab);
  else
    memcpy (of_lab, calibration->correction.covariance, 9 * sizeof (double));
}

static SherdPoint
middle_of_blocks (const SherdBlocks *blocks)
{
  SherdPoint middle = { 0, 0 };

  for (guint k = 0; k < blocks->n_blocks; k++)
    {
      middle.x += blocks->block[k].x_mm / blocks->n_blocks;
      middle.y += blocks->block[k].y_mm / blocks->n_blocks;
    }
  return middle;
}

static void
add_up (SherdZoneColour *zone)
{
  memset (zone->covariance, 0, sizeof zone->covariance);
  add_covariance (zone->covariance, zone->scatter);
  add_covariance (zone->covariance, zone->reference);
  add_covariance (zone->covariance, zone->registration);
  add_covariance (zone->covariance, zone->light);
  for (guint i = 0; i < 3; i++)
    zone->covariance[i][i] += least_sd[i] * least_sd[i];
}

static void
widen (double *lower, double *upper, double at)
{
  *lower = MIN (*lower, at);
  *upper = MAX (*upper, at);
}

/* What the interval must hold where a sheen lies evenly and nothing in the picture tells how strong it is. */
static void
hold_possible_sheen (SherdZoneColour *zone, const double mean[3], const SherdCorrection *correction, double possible)
{
  const double without[3] = { MAX (mean[0] - possible, 1e-4), MAX (mean[1] - possible, 1e-4),
                              MAX (mean[2] - possible, 1e-4) };
  const SherdLab lab = sherd_budget_lab (correction, without);
  double *most = &zone->mirrored[SHERD_MIRRORED_STEPS - 1];

  *most = MAX (*most, possible);
  widen (&zone->lower_95.l, &zone->upper_95.l, lab.l);
  widen (&zone->lower_95.a, &zone->upper_95.a, lab.a);
  widen (&zone->lower_95.b, &zone->upper_95.b, lab.b);
}

static void
set_pixel_sd (const Work *work, SherdZoneColour *zone)
{
  double of_lab[3][3];

  sherd_budget_reflectance_to_lab (&work->context->calibration->correction, work->mean,
                                   (double (*)[3])work->mixture.paint.covariance, of_lab);
  zone->pixel_sd = (SherdLab){ sqrt (of_lab[0][0]), sqrt (of_lab[1][1]), sqrt (of_lab[2][2]) };
}

/* Other pixels lighter than the paint are highlights, darker ones shadows. */
static void
count_kinds (const Work *work, SherdZoneColour *zone)
{
  const double paint = work->mixture.paint.mean[0] + work->mixture.paint.mean[1] + work->mixture.paint.mean[2];

  for (gsize i = 0; i < work->pixels->n; i++)
    {
      const float *pixel = work->pixels->linear_rgb + 3 * i;

      work->use[i] = work->kinds[i] == SHERD_PIXEL_PAINT && work->pixels->core[i];
      if (work->kinds[i] == SHERD_PIXEL_GROUND)
        zone->n_ground++;
      else if (work->kinds[i] == SHERD_PIXEL_OTHER && pixel[0] + pixel[1] + pixel[2] > paint)
        zone->n_glare++;
      else if (work->kinds[i] == SHERD_PIXEL_OTHER)
        zone->n_shadow++;
    }
}

static void
measure_colour (Work *work, SherdZoneColour *zone, double mark_sd_mm)
{
  const SherdCorrection *correction = &work->context->calibration->correction;
  SherdPoint middle_mm;

  zone->n_pixels = (guint)sherd_trimmed_mean (work->pixels->linear_rgb, work->use, work->pixels->n, work->mean);
  sherd_blocks_fill (&work->blocks, work->pixels->linear_rgb, work->pixels->x_mm, work->pixels->y_mm, work->use,
                     work->pixels->n);
  middle_mm = middle_of_blocks (&work->blocks);
  zone->lab = sherd_budget_lab (correction, work->mean);
  scatter_part (work, zone->n_pixels, zone->scatter);
  light_part (work, middle_mm, zone->light);
  registration_part (work, mark_sd_mm, zone->registration);
  reference_part (work, &zone->lab, zone->reference);
  add_up (zone);
  set_pixel_sd (work, zone);
}

static gboolean
enough_left (Work *work, SherdZoneColour *zone, guint n_dark)
{
  const double n_read = (double)work->pixels->n + zone->n_clipped;

  if (work->pixels->n_in_photo < FEWEST_PIXELS || n_read < FEWEST_SAMPLES)
    zone->flags |= SHERD_ZONE_FEW_PIXELS;
  if (zone->n_clipped > MOST_CLIPPED_FRAC * n_read)
    zone->flags |= SHERD_ZONE_CLIPPED;
  if (n_dark > MOST_DARK_FRAC * n_read)
    zone->flags |= SHERD_ZONE_DARK;
  return work->pixels->n >= FEWEST_SAMPLES;
}

/* Over-exposed pixels are paint: the ground is seldom the lightest thing in a zone, a mirrored lamp is. */
static void
set_retained (const Work *work, SherdZoneColour *zone)
{
  const double n = (double)work->pixels->n;

  zone->retained_frac = (n * work->mixture.retained_frac + zone->n_clipped) / (n + zone->n_clipped);
  if (zone->retained_frac < LITTLE_RETAINED_FRAC || work->mixture.share[SHERD_PIXEL_PAINT] < LITTLE_PURE_FRAC)
    zone->flags |= SHERD_ZONE_LITTLE_PAINT;
}

/**
 * sherd_zone_measure:
 * @zone: (inout): id, code, flags and px_per_mm are kept, the rest is filled
 * @pixels: (inout): read of the zone; used up
 * @bare: a control without paint
 * @mark_sd_mm: how far the whole zone may be out of place
 * @look: (out): for sherd_zone_judge_glare()
 *
 * Colour of one zone: the light divided out, paint parted from ground, a trimmed mean in linear light turned into
 * L*a*b* once, and every part of its uncertainty kept apart. Where a colour cannot be had the flags say why. The
 * interval and the flag for glare are set by sherd_zone_judge_glare() when all zones have been looked at.
 */
void
sherd_zone_measure (SherdZoneColour *zone,
                    SherdZonePixels *pixels,
                    const SherdZoneContext *context,
                    gboolean bare,
                    double mark_sd_mm,
                    SherdZoneLook *look)
{
  const double n_read = (double)pixels->n;
  g_autofree guint8 *use = g_new0 (guint8, pixels->n + 1);
  g_autofree guint8 *kinds = g_new0 (guint8, pixels->n + 1);
  Work work = { .pixels = pixels, .context = context, .kinds = kinds, .use = use };
  guint n_dark = 0;

  memset (look, 0, sizeof *look);
  look->n_read = n_read;
  look->bare = bare;
  zone->retained_frac = -1;
  sherd_tone_apply_all (&context->calibration->tone, pixels->linear_rgb, 3 * pixels->n);
  sherd_divide_light (pixels, context->field);
  noise_of_zone (&work);
  count_and_drop (&work, zone, &n_dark);
  if (!enough_left (&work, zone, n_dark))
    return;
  part_paint_from_ground (&work, bare);
  count_kinds (&work, zone);
  if (!bare)
    set_retained (&work, zone);
  if (context->ground)
    zone->ground = sherd_budget_lab (&context->calibration->correction, context->ground->mean);
  measure_colour (&work, zone, mark_sd_mm);
  sherd_blocks_slope (&work.blocks, &look->slope);
  memcpy (look->mean, work.mean, sizeof look->mean);
}

/**
 * sherd_zone_judge_glare:
 * @zone: (inout): measured; its interval is set and SHERD_ZONE_GLARE where it belongs
 *
 * Sets the 95 % interval and says whether the lamp may be mirrored, by the change across the zone, by over-exposed
 * pixels and by single highlights.
 */
void
sherd_zone_judge_glare (SherdZoneColour *zone, const SherdZoneLook *look, const SherdZoneContext *context)
{
  const SherdCalibration *calibration = context->calibration;
  /* Bare clay is no glass, fired or not, and what it is doubted for would lie on all the ground round about. */
  const gboolean unfired = context->unfired || look->bare;
  SherdGlare glare;

  sherd_glare_estimate (&glare, context->lamps, &calibration->light, context->camera, &look->slope, unfired);
  if (glare.probability > GLARE_PROBABILITY || (glare.mirrored > MIRRORED_PROBABILITY && !look->bare) ||
      zone->n_clipped > SOME_CLIPPED_FRAC * look->n_read || zone->n_glare > SOME_HIGHLIGHT_FRAC * look->n_read)
    zone->flags |= SHERD_ZONE_GLARE;
  sherd_interval_fill (zone, look->mean, &calibration->correction, &glare);
  if (zone->flags & SHERD_ZONE_GLARE)
    hold_possible_sheen (zone, look->mean, &calibration->correction, glare.possible);
}
