/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/zone-place.h"
#include "trial/zone-shape-edits.h"

G_BEGIN_DECLS

/* What edits of boxes on slabs and vessels share. */

/* Edges this near lie on one line (mm or degrees). A hair for sums of decimals. */
#define SHERD_ZONE_BOX_SAME 1e-6

/* FALSE, with SHERD_TRIAL_ERROR_VALUE */
gboolean sherd_zone_box_refuse (GError **error, const char *message);
SherdZoneBox sherd_zone_box_round (const SherdOutline *outline);
/* Within an open edit. */
void sherd_zone_box_set (SherdTrial *trial, SherdPiece *piece, SherdZone *zone, const SherdZoneBox *box);
/* (transfer full): bare, not yet on its side */
SherdZone *sherd_zone_box_new_zone (SherdTrial *trial, SherdPiece *piece, const char *code, const SherdZoneBox *box);
/* SHERD_TRIAL_ERROR_VALUE: no width or height, or more than once round */
gboolean sherd_zone_box_check (SherdPiece *piece, const SherdZoneBox *box, GError **error);
/* Paint, coats and ground, before @zone is on its side. */
void sherd_zone_take_treatment (SherdZone *zone, SherdZone *from);
/* Opens the edit “Move zone A1”. */
void sherd_trial_begin_moving_zone (SherdTrial *trial, SherdZone *zone, gboolean continued);

/* (transfer full) (element-type SherdZonePlace) */
GArray *sherd_zone_places_new (void);
void sherd_zone_places_add (GArray *places, SherdZone *zone, const char *code, const SherdZoneBox *box);
gboolean sherd_zone_places_check (SherdPiece *piece, SherdSide *side, GArray *places, GPtrArray *gone, GError **error);

G_END_DECLS
