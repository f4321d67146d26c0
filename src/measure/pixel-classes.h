/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/mixture.h"

G_BEGIN_DECLS

/* A paint as it is thought to be while it is looked for. */
typedef struct
{
  double mean[3];       /* reflectance */
  double brightness_sd; /* relative, all channels together */
  double colour_sd;     /* relative, each channel alone */
  double weight[SHERD_N_PIXEL_KINDS];
} SherdPaintGuess;

/* Ground, paint, five shares of both, four sheens on paint, anything else. */
#define SHERD_N_PIXEL_CLASSES 12

/* A Gaussian of one of the classes. In single precision: good to 10⁻⁵ of a probability. */
typedef struct
{
  float mean[3];
  float per_sd[3]; /* inverse diagonal of the covariance's lower root */
  float root[3];   /* below the diagonal: (1, 0), (2, 0), (2, 1) */
  float ln_scale;  /* ln of the class's weight ÷ √|Σ| */
} SherdPixelClass;

/* All that a pixel may be. */
typedef struct
{
  SherdPixelClass classes[SHERD_N_PIXEL_CLASSES];
} SherdPixelClasses;

/* So many pixels are looked at together: compilers take four at once, and the processor need not wait for one. */
#define SHERD_PIXEL_BLOCK 16

/* What each pixel of a block probably is. */
typedef struct
{
  float probability[SHERD_N_PIXEL_KINDS][SHERD_PIXEL_BLOCK];
  float mixed_share[SHERD_PIXEL_BLOCK]; /* of the whole pixel: paint that it shows as a mixed one */
  float density[SHERD_PIXEL_BLOCK];     /* in units of (2π)^−3/2 */
} SherdMemberships;

void sherd_paint_guess_covariance (const SherdPaintGuess *paint, const double noise_sd[3], double covariance[3][3]);
void sherd_pixel_classes_init (SherdPixelClasses *classes,
                               const SherdSurface *ground,
                               const SherdPaintGuess *paint,
                               const double noise_sd[3]);
void sherd_pixel_classify (const SherdPixelClasses *classes, const float *const channels[3], SherdMemberships *members);

G_END_DECLS
