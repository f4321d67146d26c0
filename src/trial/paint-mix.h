/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/mix.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* A recipe of the trial as chemistry reckons with it. It stands by itself: the trial may change. */
typedef struct
{
  SherdMix *mix;         /* a part an ingredient, in their order */
  GPtrArray *inner;      /* of SherdMix: the paints it is mixed of */
  GPtrArray *substances; /* of SherdSubstance; their ids are those of the materials */
} SherdPaintMix;

/* @row: (out): the ingredient that is wrong, or SHERD_ROW_PAINT, SHERD_ROW_BINDER. SHERD_CHEM_ERROR, SHERD_TRIAL_ERROR
 */
SherdPaintMix *sherd_paint_mix_new (SherdTrial *trial, const SherdRecipe *recipe, int *row, GError **error);
void sherd_paint_mix_free (SherdPaintMix *mix);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdPaintMix, sherd_paint_mix_free)

#define SHERD_ROW_PAINT (-1)
#define SHERD_ROW_BINDER (-2)

G_END_DECLS
