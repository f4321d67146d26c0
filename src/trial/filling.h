/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/fill.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What keeps sets of paints together. */
typedef enum
{
  SHERD_BLOCK_ROW, /* a row of zones; on a vessel a ring */
  SHERD_BLOCK_SIDE,
  SHERD_BLOCK_PIECE
} SherdBlockKind;

/* What is to be laid in which zones. */
typedef struct
{
  SherdPiece *piece;         /* (nullable): all pieces */
  SherdSide *side;           /* (nullable): all sides */
  SherdPaint *const *paints; /* in this order */
  guint n_paints;
  SherdFillOrder order;
  SherdBlockKind block;
  guint n_replicates; /* how often each paint is laid; 0: as often as fits, in blocks once in each */
  guint n_controls;
  gboolean keep_apart; /* the same paint is not laid side by side */
  guint64 seed;
} SherdFilling;

/* One edit: paints, replicate numbers and the trial's seed. @fill: (out): how it came out, also when it is refused. */
gboolean sherd_trial_fill_zones (SherdTrial *trial, const SherdFilling *filling, SherdFill *fill, GError **error);

G_END_DECLS
