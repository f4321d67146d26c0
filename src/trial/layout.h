/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/layout.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* The zones of a trial as plan/ reads them: the one place where objects of the document become rows of factors. */

/* One zone with where it belongs. Nothing is held. */
typedef struct
{
  SherdPiece *piece;
  SherdSide *side;
  SherdZone *zone;
  SherdRectangle box; /* around it, on its side */
  guint row;          /* in which row (ring) of its side it is read, from 0 */
} SherdZonePlace;

/* (transfer full) (element-type SherdZonePlace): piece by piece, side by side, each in reading order; @piece:
 * (nullable) all of them; @side: (nullable) all of them */
GArray *sherd_trial_list_zone_places (SherdTrial *trial, SherdPiece *piece, SherdSide *side);
/* (transfer full): "B3", with side and piece before it where the trial has several: "Tile 1, back, B3" */
char *sherd_trial_name_zone_place (SherdTrial *trial, const SherdZonePlace *place);
/* (transfer none): what lies under the zone; "" where nobody said */
const char *sherd_zone_place_get_ground (const SherdZonePlace *place);

/* (transfer full) */
SherdLayout *sherd_trial_layout_new (SherdTrial *trial);

G_END_DECLS
