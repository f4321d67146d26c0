/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/mix-facts.h"

G_BEGIN_DECLS

/* The share of its volume that grains fill in a dry coat, tapped down: 0.40 to 0.60 (common practice, no source). */
#define SHERD_COAT_PACKING_LEAST 0.40
#define SHERD_COAT_PACKING_MOST 0.60

typedef enum
{
  SHERD_BATCH_BY_TOTAL,   /* @total_g of dry powder */
  SHERD_BATCH_BY_AT_HAND, /* as much as @at_hand_g of part @part allows */
  SHERD_BATCH_BY_AREA     /* @area_cm2 × @coats × @coat_mm, and @reserve_frac more */
} SherdBatchWay;

typedef struct
{
  SherdBatchWay way;
  double total_g;
  guint part;
  double at_hand_g;
  double area_cm2;
  double coat_mm; /* dry thickness of one coat */
  guint coats;
  double reserve_frac;
  SherdValue packing_frac; /* grains per volume of the dry coat; value 0 takes the usual one */
  double readability_g;    /* of the scale; 0 does not round */
} SherdBatchRequest;

typedef struct
{
  SherdValue exact_g;
  double weighed_g;        /* rounded to the scale */
  double share_frac;       /* as planned */
  double share_after_frac; /* as weighed */
} SherdBatchRow;

typedef struct
{
  SherdValue total_g;
  double weighed_total_g;
  GArray *rows; /* of SherdBatchRow, in the order of the parts */
  SherdBatchRow binder;
  SherdValue water_g;
  double largest_change_frac; /* of a share, by rounding */
  int rounded_away;           /* a part that the scale cannot see, or -1 */
} SherdBatch;

SherdBatch *
sherd_batch_new (const SherdMix *mix, const SherdMixFacts *facts, const SherdBatchRequest *request, GError **error);
void sherd_batch_free (SherdBatch *batch);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdBatch, sherd_batch_free)

SherdMix *sherd_batch_to_mix (const SherdBatch *batch, const SherdMix *mix);

G_END_DECLS
