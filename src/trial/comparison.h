/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/shift.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* One zone in two photographs. A value: nothing changes once made. */
#define SHERD_TYPE_ZONE_SHIFT (sherd_zone_shift_get_type ())
G_DECLARE_FINAL_TYPE (SherdZoneShift, sherd_zone_shift, SHERD, ZONE_SHIFT, GObject)

SherdZone *sherd_zone_shift_get_zone (SherdZoneShift *self);
/* (nullable): NULL when the zone is missing in that measurement */
const SherdZoneColour *sherd_zone_shift_get_before (SherdZoneShift *self);
const SherdZoneColour *sherd_zone_shift_get_after (SherdZoneShift *self);
const SherdShift *sherd_zone_shift_get_shift (SherdZoneShift *self);

/* All zones of a side between two photographs: a GListModel of SherdZoneShift in the order of the side's zones. */
#define SHERD_TYPE_COMPARISON (sherd_comparison_get_type ())
G_DECLARE_FINAL_TYPE (SherdComparison, sherd_comparison, SHERD, COMPARISON, GObject)

SherdMeasurement *sherd_comparison_get_before (SherdComparison *self);
SherdMeasurement *sherd_comparison_get_after (SherdComparison *self);
/* The same chart or card stands in both photographs. */
gboolean sherd_comparison_get_same_reference (SherdComparison *self);

/* (transfer full): between two photographs of one side; SHERD_TRIAL_ERROR_INCOMPLETE when one is not measured or its
 * measurement is stale. */
SherdComparison *
sherd_trial_compare_photographs (SherdTrial *trial, SherdPhotograph *before, SherdPhotograph *after, GError **error);
/* (transfer full): between two stages; of several photographs of a stage the last measured one is taken */
SherdComparison *sherd_trial_compare (SherdTrial *trial,
                                      SherdPiece *piece,
                                      SherdSide *side,
                                      const char *stage_before,
                                      const char *stage_after,
                                      GError **error);
/* (transfer full): the stages of which @side has photographs, in order of the piece's life */
GStrv sherd_trial_dup_stages (SherdTrial *trial, SherdPiece *piece, SherdSide *side);

G_END_DECLS
