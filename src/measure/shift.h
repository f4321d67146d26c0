/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/difference.h"
#include "measure/measure.h"

G_BEGIN_DECLS

/* The colour shift of one zone between two stages, after minus before. */
typedef struct
{
  gboolean measured; /* FALSE when either side was not */
  SherdDifference difference;
  double covariance[3][3]; /* of ΔL*, Δa*, Δb* */
  double de00_u;           /* standard uncertainty */
  double de00_low;         /* 95 % limits, by random draws */
  double de00_high;
  double de00_noise; /* 95 % point of ΔE00 if nothing had changed */
  gboolean real;     /* the change cannot be noise at 95 % */
} SherdShift;

/* The same chart in both photographs: its patches, in the same order. */
void sherd_shift (const SherdZoneColour *before,
                  const SherdZoneColour *after,
                  const SherdPatchError *before_patches, /* (nullable): NULL unless the same chart is in both */
                  const SherdPatchError *after_patches,  /* (nullable) */
                  gsize n_patches,
                  gulong seed,
                  SherdShift *shift);

/* The same from two photographs; @same_reference tells that one and the same chart or card stands in both. */
void sherd_shift_between (const SherdPhotoMeasurement *before,
                          gsize before_zone,
                          const SherdPhotoMeasurement *after,
                          gsize after_zone,
                          gboolean same_reference,
                          gulong seed,
                          SherdShift *shift);

G_END_DECLS
