/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/reference.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_sort.h>
#include <math.h>
#include <string.h>

/* Share of the lightest and of the darkest pixels of a patch left out: dust and scratches. */
#define TRIMMED_FRAC 0.1
#define LEAST_PATCH_PIXELS 20
#define MOST_CLIPPED_FRAC 0.02
/* A patch whose pixels differ by more than this is not one patch: its corners are wrong or something lies on it. */
#define MOST_UNEVEN_FRAC 0.5
#define LEAST_LIGHT 0.002

/* Another orientation is believed only when the chart does not fit as marked (mean ΔE00 with one patch left out) and
 * fits much better the other way. Both our choice; uneven light alone gives 2–6. */
#define DOUBTFUL_DE00 7.0
#define MUCH_BETTER 0.5

static void
sum_between (const float *linear_rgb, const gsize *order, gsize first, gsize last, SherdPatchReading *reading)
{
  const double n = (double)(last - first);

  for (guint c = 0; c < 3; c++)
    {
      double sum = 0, squares = 0;

      for (gsize i = first; i < last; i++)
        sum += linear_rgb[3 * order[i] + c];
      reading->mean[c] = sum / n;
      for (gsize i = first; i < last; i++)
        squares += pow (linear_rgb[3 * order[i] + c] - reading->mean[c], 2);
      reading->sd[c] = sqrt (squares / n);
    }
}

static gboolean
is_usable (const SherdPatchReading *reading)
{
  const double lightest = MAX (MAX (reading->mean[0], reading->mean[1]), reading->mean[2]);
  const double widest = MAX (MAX (reading->sd[0], reading->sd[1]), reading->sd[2]);

  return reading->n_pixels >= LEAST_PATCH_PIXELS && reading->clipped_frac <= MOST_CLIPPED_FRAC &&
         lightest > LEAST_LIGHT && widest < MOST_UNEVEN_FRAC * lightest + 0.02;
}

/**
 * sherd_patch_reading_fill:
 * @linear_rgb: three floats a pixel, of the middle of one patch
 * @flags: #SherdPixelFlags a pixel
 *
 * Mean light of a patch, one tenth of the pixels left out at either end (by the sum of the channels, never channel by
 * channel), and whether it can serve.
 */
void
sherd_patch_reading_fill (SherdPatchReading *reading, const float *linear_rgb, const guint8 *flags, gsize n_pixels)
{
  g_autofree double *sums = g_new (double, n_pixels + 1);
  g_autofree gsize *order = g_new (gsize, n_pixels + 1);
  const gsize trimmed = (gsize)(TRIMMED_FRAC * (double)n_pixels);
  gsize n_clipped = 0;

  memset (reading, 0, sizeof *reading);
  reading->n_pixels = (guint)n_pixels;
  if (n_pixels == 0)
    return;
  for (gsize i = 0; i < n_pixels; i++)
    {
      sums[i] = linear_rgb[3 * i] + linear_rgb[3 * i + 1] + linear_rgb[3 * i + 2];
      n_clipped += (flags[i] & SHERD_PIXEL_CLIPPED) != 0;
    }
  gsl_sort_index (order, sums, 1, n_pixels);
  sum_between (linear_rgb, order, trimmed, n_pixels - trimmed, reading);
  reading->clipped_frac = (double)n_clipped / (double)n_pixels;
  reading->usable = is_usable (reading);
}

typedef struct
{
  double left, top, width, height;
} Frame;

static Frame
frame_of_patches (const SherdMeasurePatch *patches, gsize n_patches)
{
  double left = INFINITY, top = INFINITY, right = -INFINITY, bottom = -INFINITY;

  for (gsize i = 0; i < n_patches; i++)
    for (gsize k = 0; k < patches[i].outline_mm->n_points; k++)
      {
        const SherdPoint point = patches[i].outline_mm->points[k];

        left = MIN (left, point.x);
        right = MAX (right, point.x);
        top = MIN (top, point.y);
        bottom = MAX (bottom, point.y);
      }
  return (Frame){ left, top, right - left, bottom - top };
}

/* Bit 0 mirrors left and right, bit 1 top and bottom, bit 2 swaps the axes. */
static SherdPoint
turned (SherdPoint point, guint orientation, const Frame *frame)
{
  double u = (point.x - frame->left) / frame->width, v = (point.y - frame->top) / frame->height;

  if (orientation & 4)
    {
      const double swap = u;

      u = v;
      v = swap;
    }
  u = orientation & 1 ? 1 - u : u;
  v = orientation & 2 ? 1 - v : v;
  return (SherdPoint){ frame->left + u * frame->width, frame->top + v * frame->height };
}

static gboolean
order_for (const SherdMeasurePatch *patches, gsize n_patches, guint orientation, guint *order)
{
  const Frame frame = frame_of_patches (patches, n_patches);

  for (gsize i = 0; i < n_patches; i++)
    {
      const SherdPoint at = turned (sherd_outline_centroid (patches[i].outline_mm), orientation, &frame);
      gsize k = 0;

      while (k < n_patches && !sherd_outline_contains (patches[k].outline_mm, at))
        k++;
      if (k == n_patches)
        return FALSE;
      order[i] = (guint)k;
    }
  return TRUE;
}

/* Mean leave-one-out ΔE00 of a plain fit in this order, infinite when none is possible. */
static double
misfit (const SherdMeasurePatch *patches, const SherdPatchReading *readings, gsize n_patches, const guint *order)
{
  g_autofree SherdCorrectionPair *pairs = g_new (SherdCorrectionPair, n_patches);
  SherdCorrection correction;
  gsize n = 0;

  for (gsize i = 0; i < n_patches; i++)
    {
      const SherdPatchReading *reading = &readings[order[i]];

      if (!reading->usable)
        continue;
      pairs[n].linear = (SherdRgb){ reading->mean[0], reading->mean[1], reading->mean[2] };
      pairs[n].weight = 1;
      pairs[n++].reference = patches[i].lab;
    }
  if (!sherd_correction_fit (&correction, pairs, n, SHERD_CORRECTION_LINEAR, NULL, NULL))
    return INFINITY;
  return correction.loo_mean_de00;
}

/**
 * sherd_reference_orientation:
 * @order: (out) (array length=n_patches): which reading belongs to each patch
 *
 * A chart marked with its corners in the wrong order is turned or mirrored; its patches then carry the wrong names.
 * When the chart does not fit as marked and fits far better in one of the other seven ways, that way is taken.
 *
 * Returns: 0 as marked, else which way, see sherd_reference_orientation_name()
 */
guint
sherd_reference_orientation (const SherdMeasurePatch *patches,
                             const SherdPatchReading *readings,
                             gsize n_patches,
                             guint *order)
{
  g_autofree guint *trial = g_new (guint, n_patches);
  double as_marked, best;
  guint chosen = 0;

  for (gsize i = 0; i < n_patches; i++)
    order[i] = (guint)i;
  as_marked = misfit (patches, readings, n_patches, order);
  if (as_marked < DOUBTFUL_DE00)
    return 0;
  best = MUCH_BETTER * as_marked;
  for (guint orientation = 1; orientation < SHERD_N_ORIENTATIONS; orientation++)
    {
      double other;

      if (!order_for (patches, n_patches, orientation, trial))
        continue;
      other = misfit (patches, readings, n_patches, trial);
      if (other < best)
        {
          best = other;
          chosen = orientation;
        }
    }
  if (chosen)
    order_for (patches, n_patches, chosen, order);
  return chosen;
}

/* In words, to follow “the chart seems to be marked …”. */
const char *
sherd_reference_orientation_name (guint orientation)
{
  static const char *const names[SHERD_N_ORIENTATIONS] = {
    N_ ("as printed"),          N_ ("mirrored left to right"),     N_ ("mirrored top to bottom"),
    N_ ("upside down"),         N_ ("mirrored across a diagonal"), N_ ("turned by a quarter"),
    N_ ("turned by a quarter"), N_ ("mirrored across a diagonal"),
  };

  return _ (names[orientation % SHERD_N_ORIENTATIONS]);
}
