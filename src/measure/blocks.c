/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/blocks.h"

#include <math.h>
#include <string.h>

/* A part of a zone with less than this share of the pixels of an even part is left out. */
#define LEAST_SHARE 0.25
#define LEAST_BLOCK_PIXELS 4u
/* A plane needs three; our choice is twice that and two more. */
#define LEAST_SLOPE_BLOCKS 8

/* Mottling of clay and brush is larger than a block, so neighbouring blocks are not independent: their scatter is
 * taken twice (our choice). Below these floors the light itself is not known to be even (share of a zone's width). */
#define CORRELATION_FACTOR 2.0
#define BRIGHTNESS_FLOOR 0.004
#define COLOUR_FLOOR 0.004

typedef struct
{
  float left, top, width, height;
} Box;

static Box
bounding_box (const float *x_mm, const float *y_mm, const guint8 *use, gsize n_pixels)
{
  float left = G_MAXFLOAT, top = G_MAXFLOAT, right = -G_MAXFLOAT, bottom = -G_MAXFLOAT;

  for (gsize i = 0; i < n_pixels; i++)
    if (use[i])
      {
        left = MIN (left, x_mm[i]);
        right = MAX (right, x_mm[i]);
        top = MIN (top, y_mm[i]);
        bottom = MAX (bottom, y_mm[i]);
      }
  return (Box){ left, top, MAX (right - left, 1e-6f), MAX (bottom - top, 1e-6f) };
}

static guint
side_index (float at, float start, float length)
{
  return MIN ((guint)((at - start) / length * SHERD_BLOCKS_SIDE), SHERD_BLOCKS_SIDE - 1);
}

static void
keep_full_blocks (SherdBlocks *blocks, const SherdBlock *sums, gsize n_used)
{
  const double least = MAX (LEAST_BLOCK_PIXELS, LEAST_SHARE * (double)n_used / SHERD_N_BLOCKS);

  blocks->n_blocks = 0;
  for (guint k = 0; k < SHERD_N_BLOCKS; k++)
    {
      SherdBlock block = sums[k];

      if (block.n_pixels < least)
        continue;
      block.x_mm /= block.n_pixels;
      block.y_mm /= block.n_pixels;
      for (guint c = 0; c < 3; c++)
        block.mean[c] /= block.n_pixels;
      blocks->block[blocks->n_blocks++] = block;
    }
}

/**
 * sherd_blocks_fill:
 * @reflectance: three floats a pixel
 * @use: nonzero for the pixels that count
 *
 * Means of the parts of a zone. Their scatter tells how well the mean of the whole is known; that of single pixels
 * does not, since neighbours are alike.
 */
void
sherd_blocks_fill (SherdBlocks *blocks,
                   const float *reflectance,
                   const float *x_mm,
                   const float *y_mm,
                   const guint8 *use,
                   gsize n_pixels)
{
  const Box box = bounding_box (x_mm, y_mm, use, n_pixels);
  SherdBlock sums[SHERD_N_BLOCKS] = { { 0 } };
  gsize n_used = 0;

  for (gsize i = 0; i < n_pixels; i++)
    {
      SherdBlock *sum;

      if (!use[i])
        continue;
      sum = &sums[side_index (y_mm[i], box.top, box.height) * SHERD_BLOCKS_SIDE +
                  side_index (x_mm[i], box.left, box.width)];
      sum->n_pixels++;
      sum->x_mm += x_mm[i];
      sum->y_mm += y_mm[i];
      for (guint c = 0; c < 3; c++)
        sum->mean[c] += reflectance[3 * i + c];
      n_used++;
    }
  keep_full_blocks (blocks, sums, n_used);
}

static void
mean_of_blocks (const SherdBlocks *blocks, double mean[3])
{
  for (guint c = 0; c < 3; c++)
    {
      mean[c] = 0;
      for (guint k = 0; k < blocks->n_blocks; k++)
        mean[c] += blocks->block[k].mean[c] / blocks->n_blocks;
    }
}

/**
 * sherd_blocks_covariance:
 * @read_frac: share of the surface in question that the blocks are made of, 0…1
 * @covariance: (out): of the mean of the whole surface: that of the blocks divided by their number and multiplied by
 * the share that was not read, for what has been read adds no doubt (finite population correction, W. G. Cochran,
 * "Sampling Techniques", 3rd ed. 1977, eq. 2.20); 0 with fewer than two
 */
void
sherd_blocks_covariance (const SherdBlocks *blocks, double read_frac, double covariance[3][3])
{
  const double n = blocks->n_blocks, unread = 1 - CLAMP (read_frac, 0, 1);
  double mean[3];

  memset (covariance, 0, 9 * sizeof (double));
  if (n < 2)
    return;
  mean_of_blocks (blocks, mean);
  for (guint k = 0; k < blocks->n_blocks; k++)
    for (guint a = 0; a < 3; a++)
      for (guint b = 0; b < 3; b++)
        covariance[a][b] +=
          (blocks->block[k].mean[a] - mean[a]) * (blocks->block[k].mean[b] - mean[b]) * unread / (n * (n - 1));
}

typedef struct
{
  double xx, xy, yy; /* sums of squares of places about their mean */
} Moments;

static Moments
place_moments (const SherdBlocks *blocks, SherdSlope *slope)
{
  Moments m = { 0 };

  slope->x_mm = slope->y_mm = 0;
  for (guint k = 0; k < blocks->n_blocks; k++)
    {
      slope->x_mm += blocks->block[k].x_mm / blocks->n_blocks;
      slope->y_mm += blocks->block[k].y_mm / blocks->n_blocks;
    }
  for (guint k = 0; k < blocks->n_blocks; k++)
    {
      const double x = blocks->block[k].x_mm - slope->x_mm, y = blocks->block[k].y_mm - slope->y_mm;

      m.xx += x * x;
      m.xy += x * y;
      m.yy += y * y;
    }
  return m;
}

static void
fit_channel (const SherdBlocks *blocks, const Moments *m, guint c, SherdSlope *slope)
{
  const double determinant = m->xx * m->yy - m->xy * m->xy;
  double xv = 0, yv = 0;

  for (guint k = 0; k < blocks->n_blocks; k++)
    {
      const double value = blocks->block[k].mean[c] / slope->mean[c] - 1;

      xv += (blocks->block[k].x_mm - slope->x_mm) * value;
      yv += (blocks->block[k].y_mm - slope->y_mm) * value;
    }
  slope->slope[0][c] = (m->yy * xv - m->xy * yv) / determinant;
  slope->slope[1][c] = (m->xx * yv - m->xy * xv) / determinant;
}

/* Scatter about the plane, the part common to the channels and the rest. */
static void
scatter_about_plane (const SherdBlocks *blocks, SherdSlope *slope, double *brightness, double *colour)
{
  const double freedom = blocks->n_blocks - 3.0;

  *brightness = *colour = 0;
  for (guint k = 0; k < blocks->n_blocks; k++)
    {
      const SherdBlock *block = &blocks->block[k];
      double residual[3], mean = 0;

      for (guint c = 0; c < 3; c++)
        {
          residual[c] = block->mean[c] / slope->mean[c] - 1 - slope->slope[0][c] * (block->x_mm - slope->x_mm) -
                        slope->slope[1][c] * (block->y_mm - slope->y_mm);
          mean += residual[c] / 3;
        }
      *brightness += mean * mean / freedom;
      for (guint c = 0; c < 3; c++)
        *colour += (residual[c] - mean) * (residual[c] - mean) / (2 * freedom);
    }
  *brightness = sqrt (*brightness);
  *colour = sqrt (*colour);
}

/**
 * sherd_blocks_slope:
 *
 * Plane through the means of the parts of a zone, least squares per channel, relative to the mean. A sheen changes
 * across a zone, paint as a rule does not.
 */
void
sherd_blocks_slope (const SherdBlocks *blocks, SherdSlope *slope)
{
  Moments m;
  double brightness, colour, reach_mm;

  memset (slope, 0, sizeof *slope);
  if (blocks->n_blocks == 0)
    return;
  slope->seen = TRUE;
  mean_of_blocks (blocks, slope->mean);
  m = place_moments (blocks, slope);
  for (guint c = 0; c < 3; c++)
    slope->mean[c] = MAX (slope->mean[c], 1e-4);
  if (blocks->n_blocks < LEAST_SLOPE_BLOCKS)
    return;
  for (guint c = 0; c < 3; c++)
    fit_channel (blocks, &m, c, slope);
  scatter_about_plane (blocks, slope, &brightness, &colour);
  reach_mm = sqrt ((m.xx + m.yy) / 2);
  slope->reach_mm = reach_mm / sqrt (blocks->n_blocks);
  slope->brightness_rms = brightness;
  slope->brightness_slope_sd =
    hypot (CORRELATION_FACTOR * brightness, BRIGHTNESS_FLOOR * sqrt (blocks->n_blocks) / 2) / reach_mm;
  slope->colour_slope_sd = hypot (CORRELATION_FACTOR * colour, COLOUR_FLOOR * sqrt (blocks->n_blocks) / 2) / reach_mm;
  slope->usable = reach_mm > 0 && m.xx * m.yy - m.xy * m.xy > 1e-9 * m.xx * m.yy;
}
