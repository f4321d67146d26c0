/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/measurement.h"

G_BEGIN_DECLS

/* What the file of a newer program holds that this one does not know, one level down: members, and words for what it
 * can only keep.
 */
typedef struct
{
  char *model;            /* (nullable): of the light correction */
  GPtrArray *flags;       /* of GStrv, one a zone; empty for a measurement made here */
  JsonObject *correction; /* (nullable) */
  GPtrArray *patches;     /* of JsonObject, nullable entries; empty for a measurement made here */
  GPtrArray *zones;       /* likewise */
} SherdMeasurementUnknown;

SherdMeasurementUnknown *sherd_measurement_get_inner_unknown (SherdMeasurement *self);
/* (nullable): its text in the file: it never changes, and has hundreds of numbers a zone */
const char *sherd_measurement_get_text (SherdMeasurement *self);
/* @text: (transfer full) */
void sherd_measurement_set_text (SherdMeasurement *self, char *text);
void sherd_measurement_set_stale (SherdMeasurement *self, gboolean stale);

G_END_DECLS
