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

/* All that a pixel may be, as Gaussians side by side, so that a compiler evaluates four at once. In single precision:
 * good to 10⁻⁵ of a probability. */
typedef struct
{
  float mean[3][SHERD_N_PIXEL_CLASSES];
  float per_sd[3][SHERD_N_PIXEL_CLASSES]; /* inverse diagonal of the covariance's lower root */
  float root[3][SHERD_N_PIXEL_CLASSES];   /* below the diagonal: (1, 0), (2, 0), (2, 1) */
  float ln_scale[SHERD_N_PIXEL_CLASSES];  /* ln of the class's weight ÷ √|Σ| */
} SherdPixelClasses;

/* What one pixel probably is. */
typedef struct
{
  double probability[SHERD_N_PIXEL_KINDS];
  double mixed_share; /* of the whole pixel: paint that it shows as a mixed one */
  double density;     /* in units of (2π)^−3/2 */
} SherdMembership;

void sherd_paint_guess_covariance (const SherdPaintGuess *paint, const double noise_sd[3], double covariance[3][3]);
void sherd_pixel_classes_init (SherdPixelClasses *classes,
                               const SherdSurface *ground,
                               const SherdPaintGuess *paint,
                               const double noise_sd[3]);
void sherd_pixel_classify (const SherdPixelClasses *classes, const float *pixel, SherdMembership *membership);

G_END_DECLS
