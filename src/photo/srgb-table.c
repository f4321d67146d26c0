/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/srgb-table.h"

#include "colour/srgb.h"

/**
 * sherd_srgb_table_init:
 * @table: (out): tables
 *
 * Fills the tables (IEC 61966-2-1). Even at black, where the curve is steepest, a code is 20 levels wide, so the
 * nearest code is found but for ties.
 */
void
sherd_srgb_table_init (SherdSrgbTable *table)
{
  guint level = 0;

  for (guint code = 0; code < 256; code++)
    {
      const double next = sherd_srgb_decode ((code + 0.5) / 255) * (SHERD_SRGB_LEVELS - 1);

      table->linear[code] = (float)sherd_srgb_decode (code / 255.0);
      for (; level < SHERD_SRGB_LEVELS && level < next; level++)
        table->codes[level] = (guint8)code;
    }
}
