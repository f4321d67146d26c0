/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SHERD_SRGB_LEVELS 65536

/* 8-bit sRGB codes to linear light and back, for pictures that are looked at. */
typedef struct
{
  float linear[256];
  guint8 codes[SHERD_SRGB_LEVELS];
} SherdSrgbTable;

void sherd_srgb_table_init (SherdSrgbTable *table);

/* Anything outside 0…1 becomes the nearest code; so does what is not a number. */
static inline guint8
sherd_srgb_table_encode (const SherdSrgbTable *table, float linear)
{
  const float level = linear * (SHERD_SRGB_LEVELS - 1) + 0.5f;

  return table->codes[level > 0 ? (guint)MIN (level, (float)(SHERD_SRGB_LEVELS - 1)) : 0];
}

G_END_DECLS
