/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* Anything of a trial that has an id: paint, piece, side, zone, photograph, measurement.
 * Property "id" (string). A part is only changed through its trial (trial/trial.h), so that every change can be undone;
 * read its properties with the getters and listen to "notify". */
#define SHERD_TYPE_PART (sherd_part_get_type ())
G_DECLARE_DERIVABLE_TYPE (SherdPart, sherd_part, SHERD, PART, GObject)

struct _SherdPartClass
{
  GObjectClass parent_class;
};

const char *sherd_part_get_id (SherdPart *self);
/* Given once, when the part enters a trial or is read from a file. */
void sherd_part_set_id (SherdPart *self, const char *id);

/* (nullable): members of the file that this program does not know; they are written back as they were read. */
JsonObject *sherd_part_get_unknown (SherdPart *self);
void sherd_part_set_unknown (SherdPart *self, JsonObject *unknown);

G_END_DECLS
