/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/pixel-classes.h"

#include "measure/cholesky.h"

#include <math.h>
#include <string.h>

/* Paint shares of a pixel that shows both; the middles of five equal parts. */
static const double mixed_shares[] = { 0.1, 0.3, 0.5, 0.7, 0.9 };
#define N_MIXED G_N_ELEMENTS (mixed_shares)
/* Shares between the middles must be covered too: a little more than the spread of an even part, 0.2 ÷ √12. */
#define MIXED_SHARE_SD 0.08
/* Mirrored light on paint, in units of reflectance, the same in every channel; each stands for a factor of about two
 * and a half. */
static const double sheens[] = { 0.05, 0.12, 0.3, 0.7 };
#define N_SHEENS G_N_ELEMENTS (sheens)
#define SHEEN_SD_FRAC 0.4
#define SHEEN_COLOUR_SD_FRAC 0.04

enum
{
  CLASS_GROUND,
  CLASS_PAINT,
  CLASS_MIXED,
  CLASS_SHEEN = CLASS_MIXED + N_MIXED,
  CLASS_REST = CLASS_SHEEN + N_SHEENS,
  N_CLASSES
};
G_STATIC_ASSERT ((int)N_CLASSES == SHERD_N_PIXEL_CLASSES);

/* Anything else is as likely anywhere between black and white: density 1 in units of (2π)^−3/2, as a Gaussian without
 * end. Every pixel has a density by it. */
#define LN_OTHER (1.5 * 1.8378770664093453)

/* Cameras and JPEG keep colour more coarsely than brightness: at an edge a pixel may have its own brightness and its
 * neighbours' colour. Standard deviation of that share (our choice). */
#define COLOUR_BLUR_SD 0.2

/* Rec. 709 luma (ITU-R BT.709): what JPEG calls brightness, near enough in linear light. */
static const double luma[3] = { 0.2126, 0.7152, 0.0722 };

/* Brightness varies together in all channels, colour in each alone, noise is that of the camera. */
void
sherd_paint_guess_covariance (const SherdPaintGuess *paint, const double noise_sd[3], double covariance[3][3])
{
  const double brightness = paint->brightness_sd * paint->brightness_sd;
  const double colour = paint->colour_sd * paint->colour_sd;

  for (guint a = 0; a < 3; a++)
    for (guint b = 0; b < 3; b++)
      covariance[a][b] = brightness * paint->mean[a] * paint->mean[b] +
                         (a == b ? colour * paint->mean[a] * paint->mean[a] + noise_sd[a] * noise_sd[a] : 0);
}

/* From the ground's to the paint's colour at equal luma. */
static void
colour_between (const SherdSurface *ground, const SherdPaintGuess *paint, double colour[3])
{
  double brighter = 0;

  for (guint c = 0; c < 3; c++)
    brighter += luma[c] * (paint->mean[c] - ground->mean[c]);
  for (guint c = 0; c < 3; c++)
    colour[c] = paint->mean[c] - ground->mean[c] - brighter;
}

static void
set_class (SherdPixelClass *one, const double mean[3], double covariance[3][3], double weight)
{
  double root[3][3];

  sherd_cholesky_3 (&covariance[0][0], root);
  for (guint c = 0; c < 3; c++)
    {
      one->mean[c] = (float)mean[c];
      one->per_sd[c] = (float)(1 / root[c][c]);
    }
  one->root[0] = (float)root[1][0];
  one->root[1] = (float)root[2][0];
  one->root[2] = (float)root[2][1];
  one->ln_scale = (float)log (weight / (root[0][0] * root[1][1] * root[2][2]));
}

static void
set_mixed (SherdPixelClasses *classes,
           guint k,
           const SherdSurface *ground,
           const SherdPaintGuess *paint,
           double of_paint[3][3])
{
  const double f = mixed_shares[k];
  double mean[3], covariance[3][3], colour[3];

  colour_between (ground, paint, colour);
  for (guint a = 0; a < 3; a++)
    {
      mean[a] = f * paint->mean[a] + (1 - f) * ground->mean[a];
      for (guint b = 0; b < 3; b++)
        covariance[a][b] =
          f * of_paint[a][b] + (1 - f) * ground->covariance[a][b] +
          COLOUR_BLUR_SD * COLOUR_BLUR_SD * colour[a] * colour[b] +
          MIXED_SHARE_SD * MIXED_SHARE_SD * (paint->mean[a] - ground->mean[a]) * (paint->mean[b] - ground->mean[b]);
    }
  set_class (&classes->classes[CLASS_MIXED + k], mean, covariance, paint->weight[SHERD_PIXEL_MIXED] / N_MIXED);
}

static void
set_sheen (SherdPixelClasses *classes, guint k, const SherdPaintGuess *paint, double of_paint[3][3], double weight)
{
  const double sheen = sheens[k];
  double mean[3], covariance[3][3];

  for (guint a = 0; a < 3; a++)
    {
      mean[a] = paint->mean[a] + sheen;
      for (guint b = 0; b < 3; b++)
        covariance[a][b] = of_paint[a][b] + SHEEN_SD_FRAC * SHEEN_SD_FRAC * sheen * sheen +
                           (a == b ? SHEEN_COLOUR_SD_FRAC * SHEEN_COLOUR_SD_FRAC * sheen * sheen : 0);
    }
  set_class (&classes->classes[CLASS_SHEEN + k], mean, covariance, weight);
}

/**
 * sherd_pixel_classes_init:
 * @noise_sd: of the camera, per channel, in units of reflectance
 *
 * What a pixel of a painted zone may show: bare ground, paint, some of both (a mixture in linear light: the
 * Murray–Davies area law, A. Murray, J. Franklin Inst. 221, 1936), paint with mirrored light on it, anything else.
 */
void
sherd_pixel_classes_init (SherdPixelClasses *classes,
                          const SherdSurface *ground,
                          const SherdPaintGuess *paint,
                          const double noise_sd[3])
{
  const double other = paint->weight[SHERD_PIXEL_OTHER] / (N_SHEENS + 1);
  double of_paint[3][3];

  sherd_paint_guess_covariance (paint, noise_sd, of_paint);
  set_class (&classes->classes[CLASS_GROUND], ground->mean, (double (*)[3])ground->covariance,
             paint->weight[SHERD_PIXEL_GROUND]);
  set_class (&classes->classes[CLASS_PAINT], paint->mean, of_paint, paint->weight[SHERD_PIXEL_PAINT]);
  for (guint k = 0; k < N_MIXED; k++)
    set_mixed (classes, k, ground, paint, of_paint);
  for (guint k = 0; k < N_SHEENS; k++)
    set_sheen (classes, k, paint, of_paint, other);
  classes->classes[CLASS_REST] = (SherdPixelClass){ .ln_scale = (float)(LN_OTHER + log (other)) };
}

/* Below this e^x counts for nothing. */
#define LEAST_LN (-80.0f)
/* Added to a number below 2²² it leaves the nearest whole number in the last bits. */
#define ROUNDER 12582912.0f

/* e^x to a few units in 10⁷: 2^n by its exponent bits, the rest by Taylor's series to the sixth power, |f| ≤ ½ ln 2.
 * Without a branch, so that compilers take four at once. */
static inline float
exponential (float x)
{
  const float twos = (x > LEAST_LN ? x : LEAST_LN) * (float)M_LOG2E;
  const float whole = twos + ROUNDER;
  const float f = (twos - (whole - ROUNDER)) * (float)G_LN2;
  guint32 bits;
  float power;

  memcpy (&bits, &whole, sizeof bits);
  bits = (bits + 127) << 23;
  memcpy (&power, &bits, sizeof power);
  return power *
         (1 + f * (1 + f * (1.0f / 2 + f * (1.0f / 6 + f * (1.0f / 24 + f * (1.0f / 120 + f * (1.0f / 720)))))));
}

/* Weight times density: by the pixels' distance from the mean in standard deviations, channel by channel down the root
 * of the covariance. */
static void
densities (const SherdPixelClass *one, const float *const channels[3], float density[SHERD_PIXEL_BLOCK])
{
  const SherdPixelClass c = *one;

  for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
    {
      const float x = (channels[0][i] - c.mean[0]) * c.per_sd[0];
      const float y = (channels[1][i] - c.mean[1] - c.root[0] * x) * c.per_sd[1];
      const float z = (channels[2][i] - c.mean[2] - c.root[1] * x - c.root[2] * y) * c.per_sd[2];

      density[i] = exponential (c.ln_scale - 0.5f * (x * x + y * y + z * z));
    }
}

static void
add_scaled (float sums[SHERD_PIXEL_BLOCK], const float values[SHERD_PIXEL_BLOCK], float factor)
{
  for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
    sums[i] += factor * values[i];
}

/* Shares of the density, instead of densities. */
static void
normalise (SherdMemberships *members)
{
  for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
    add_scaled (members->density, members->probability[k], 1);
  for (guint i = 0; i < SHERD_PIXEL_BLOCK; i++)
    {
      const float each = 1 / members->density[i];

      members->mixed_share[i] *= each;
      for (guint k = 0; k < SHERD_N_PIXEL_KINDS; k++)
        members->probability[k][i] *= each;
    }
}

/**
 * sherd_pixel_classify:
 * @channels: reflectance in each of three channels, of SHERD_PIXEL_BLOCK pixels
 */
void
sherd_pixel_classify (const SherdPixelClasses *classes, const float *const channels[3], SherdMemberships *members)
{
  memset (members, 0, sizeof *members);
  for (guint k = 0; k < N_CLASSES; k++)
    {
      const SherdPixelKind kind = k == CLASS_GROUND  ? SHERD_PIXEL_GROUND
                                  : k == CLASS_PAINT ? SHERD_PIXEL_PAINT
                                  : k < CLASS_SHEEN  ? SHERD_PIXEL_MIXED
                                                     : SHERD_PIXEL_OTHER;
      float density[SHERD_PIXEL_BLOCK];

      densities (&classes->classes[k], channels, density);
      add_scaled (members->probability[kind], density, 1);
      if (kind == SHERD_PIXEL_MIXED)
        add_scaled (members->mixed_share, density, (float)mixed_shares[k - CLASS_MIXED]);
    }
  normalise (members);
}
