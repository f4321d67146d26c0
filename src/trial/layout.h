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
  SherdRectangle box; /* around it, on its side (shape/surface.h): on a vessel azimuth in degrees × arc length in mm */
  guint row;          /* in which row (ring) of its side it is read, from 0 */
  gboolean is_round;  /* its side comes round, as that of a vessel does */
  double height_mm;   /* of its middle above the table, on a vessel; NAN where there is no telling */
  double area_mm2;    /* on the surface; NAN where there is no telling */
} SherdLaidZone;

/* (transfer full) (element-type SherdLaidZone): piece by piece, side by side, each in reading order; @piece:
 * (nullable) all of them; @side: (nullable) all of them */
GArray *sherd_trial_list_laid_zones (SherdTrial *trial, SherdPiece *piece, SherdSide *side);
/* (transfer full): "B3", with side and piece before it where the trial has several: "Tile 1, back, B3" */
char *sherd_trial_name_laid_zone (SherdTrial *trial, const SherdLaidZone *place);
/* (transfer none): what lies under the zone; "" where nobody said */
const char *sherd_laid_zone_get_ground (const SherdLaidZone *place);
/* SHERD_TRIAL_ERROR_IN_USE when one of the pieces has been fired; @places: of SherdLaidZone */
gboolean sherd_trial_check_unfired (SherdTrial *trial, const GArray *places, GError **error);

/* (transfer full) */
SherdLayout *sherd_trial_layout_new (SherdTrial *trial);

G_END_DECLS
