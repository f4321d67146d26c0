/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/part.h"

G_BEGIN_DECLS

/* A mixture to be painted on, with the short code that is scratched on the piece.
 * Properties: "id", "code", "name", "note" (strings, never NULL; name and note may be empty). */
#define SHERD_TYPE_PAINT (sherd_paint_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaint, sherd_paint, SHERD, PAINT, SherdPart)

SherdPaint *sherd_paint_new (const char *id, const char *code, const char *name);

const char *sherd_paint_get_code (SherdPaint *self);
const char *sherd_paint_get_name (SherdPaint *self);
const char *sherd_paint_get_note (SherdPaint *self);

G_END_DECLS
