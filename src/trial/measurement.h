/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/measure.h"
#include "trial/photograph.h"

G_BEGIN_DECLS

/* What was measured in one photograph, kept with what it rests on. Never changed once made, but for "stale".
 *
 * Properties: "id"; "photograph" (SherdPhotograph); "inputs-sha256" (string: hash of photograph, marks, zones,
 * reference and settings); "program" (string: version of the program that measured); "made" (string: UTC, ISO 8601);
 * "stale" (boolean, kept up to date by the trial: the inputs are no longer those it was made from; do not trust it). */
#define SHERD_TYPE_MEASUREMENT (sherd_measurement_get_type ())
G_DECLARE_FINAL_TYPE (SherdMeasurement, sherd_measurement, SHERD, MEASUREMENT, SherdPart)

/* @result: (transfer full) */
SherdMeasurement *sherd_measurement_new (const char *id,
                                         SherdPhotograph *photograph,
                                         const char *inputs_sha256,
                                         const char *program,
                                         const char *made,
                                         SherdPhotoMeasurement *result);

SherdPhotograph *sherd_measurement_get_photograph (SherdMeasurement *self);
const char *sherd_measurement_get_inputs_sha256 (SherdMeasurement *self);
/* FALSE when a newer program says of it what this one has no words for: it is kept, and counts as stale. */
gboolean sherd_measurement_is_understood (SherdMeasurement *self);
const char *sherd_measurement_get_program (SherdMeasurement *self);
const char *sherd_measurement_get_made (SherdMeasurement *self);
gboolean sherd_measurement_get_stale (SherdMeasurement *self);
const SherdPhotoMeasurement *sherd_measurement_get_result (SherdMeasurement *self);
/* (nullable): NULL when the zone was not there when it was measured */
const SherdZoneColour *sherd_measurement_find_zone (SherdMeasurement *self, const char *zone_id);

G_END_DECLS
