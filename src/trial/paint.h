/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/part.h"
#include "trial/revisions.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PAINT_PAINT,
  SHERD_PAINT_SLIP
} SherdPaintKind;

#define SHERD_TYPE_PAINT_KIND (sherd_paint_kind_get_type ())
GType sherd_paint_kind_get_type (void); /* "paint", "slip" */

/* Our choice: from a grain to a bucket. */
#define SHERD_BATCH_MIN_G 0.001
#define SHERD_BATCH_MAX_G 100000.0

/* A mixture to be painted on, with the short code that is scratched on the piece; a slip is one that covers a ground.
 *
 * Properties: "id", "code", "name", "note" (strings, never NULL; name and note may be empty); "kind" (SherdPaintKind);
 * "batch-g" (double: dry mass planned to be mixed; NAN when none is planned); "recipe" (SherdRecipe, never NULL);
 * "revision" (uint, from 1: the number of the present recipe); "earlier" (SherdRevisions, never NULL: what was fired
 * and changed since). */
#define SHERD_TYPE_PAINT (sherd_paint_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaint, sherd_paint, SHERD, PAINT, SherdPart)

SherdPaint *sherd_paint_new (const char *id, const char *code, const char *name);

const char *sherd_paint_get_code (SherdPaint *self);
const char *sherd_paint_get_name (SherdPaint *self);
const char *sherd_paint_get_note (SherdPaint *self);
SherdPaintKind sherd_paint_get_kind (SherdPaint *self);
double sherd_paint_get_batch_g (SherdPaint *self);
const SherdRecipe *sherd_paint_get_recipe (SherdPaint *self);
guint sherd_paint_get_revision (SherdPaint *self);
const SherdRevisions *sherd_paint_get_earlier (SherdPaint *self);
/* (nullable) (transfer none): of a revision; 0 and the present number give the present recipe */
const SherdRecipe *sherd_paint_find_recipe (SherdPaint *self, guint revision);

G_END_DECLS
