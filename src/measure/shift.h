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

void sherd_shift (const SherdZoneColour *before,
                  const SherdZoneColour *after,
                  gboolean same_reference, /* the same chart or card stands in both photographs */
                  gulong seed,
                  SherdShift *shift);

G_END_DECLS
