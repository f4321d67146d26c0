/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* Where materials and paints are used. */

/* Our choice: paints mixed of paints mixed of paints, down to here. */
#define SHERD_PAINT_MAX_DEPTH 20u

/* A zone that carries a paint; all borrowed from the trial. */
typedef struct
{
  SherdPiece *piece;
  SherdSide *side;
  SherdZone *zone;
} SherdPaintedZone;

/* (transfer full): of SherdPaintedZone, in the order of the trial */
GArray *sherd_trial_list_painted_zones (SherdTrial *trial, SherdPaint *paint);
/* Area of the zones that carry the paint as it stands, each times its coats, mm². @piece: (nullable): on that one alone
 */
double sherd_trial_get_coat_area_mm2 (SherdTrial *trial, SherdPaint *paint, SherdPiece *piece);

/* Whether a photograph was taken of it after a firing. */
gboolean sherd_trial_is_piece_fired (SherdTrial *trial, SherdPiece *piece);
/* Whether the present recipe has been in the fire: on a zone, or in a paint that was. Changing it makes a revision. */
gboolean sherd_trial_is_paint_fired (SherdTrial *trial, SherdPaint *paint);

/* (transfer full): of SherdPaint, borrowed: those whose present or earlier recipes name it */
GPtrArray *sherd_trial_list_paints_with_material (SherdTrial *trial, SherdMaterial *material);
GPtrArray *sherd_trial_list_paints_with_paint (SherdTrial *trial, SherdPaint *paint);
/* Whether @recipe holds @paint as it stands, by whatever way: it cannot become its recipe. */
gboolean sherd_trial_recipe_holds_paint (SherdTrial *trial, const SherdRecipe *recipe, SherdPaint *paint);

/* Whether @recipe may become that of @paint: names only what is there, holds no circle, is not nested too deep.
 * SHERD_TRIAL_ERROR_VALUE */
gboolean sherd_trial_check_recipe (SherdTrial *trial, SherdPaint *paint, const SherdRecipe *recipe, GError **error);
/* The same for a paint just read, whose earlier recipes are looked at too. */
gboolean sherd_trial_check_paint_circle (SherdTrial *trial, SherdPaint *paint, GError **error);

G_END_DECLS
