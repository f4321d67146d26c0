/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/measurement.h"

G_BEGIN_DECLS

/* Members of the file that this program does not know, one level down. */
typedef struct
{
  JsonObject *correction; /* (nullable) */
  GPtrArray *patches;     /* of JsonObject, nullable entries; empty for a measurement made here */
  GPtrArray *zones;       /* likewise */
} SherdMeasurementUnknown;

SherdMeasurementUnknown *sherd_measurement_get_inner_unknown (SherdMeasurement *self);
void sherd_measurement_set_stale (SherdMeasurement *self, gboolean stale);

G_END_DECLS
