/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Single pixels of one surface: mean reflectance per channel and covariance of pixels, noise included. */
typedef struct
{
  double mean[3];
  double covariance[3][3];
} SherdSurface;

/* What a pixel of a zone shows. */
typedef enum
{
  SHERD_PIXEL_GROUND,
  SHERD_PIXEL_PAINT,
  SHERD_PIXEL_MIXED, /* part paint, part ground */
  SHERD_PIXEL_OTHER  /* neither: highlight, shadow, dirt */
} SherdPixelKind;

#define SHERD_N_PIXEL_KINDS 4

/* A zone as paint with ground showing through. */
typedef struct
{
  SherdSurface paint;
  double share[SHERD_N_PIXEL_KINDS];
  double retained_frac;
  gboolean distinct; /* FALSE when no paint that differs from the ground was found */
} SherdMixture;

void sherd_surface_fit (SherdSurface *surface, const float *reflectance, gsize n_pixels, gsize n_enough);
double sherd_surface_distance (const SherdSurface *surface, const double reflectance[3]);
gsize sherd_surface_count_like (const SherdSurface *surface, const float *reflectance, gsize n_pixels, double reach);
gsize sherd_surface_count_toward (const SherdSurface *surface,
                                  const SherdSurface *other,
                                  const float *reflectance,
                                  gsize n_pixels,
                                  double share);

void sherd_mixture_fit (SherdMixture *mixture,
                        const float *reflectance,
                        gsize n_pixels,
                        const SherdSurface *ground,
                        const double noise_sd[3],
                        guint8 *kinds);

G_END_DECLS
