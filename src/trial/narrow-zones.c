/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/narrow-zones.h"

#include <glib/gi18n-lib.h>

#include "trial/piece-surface.h"

/* Our choice: a brush of middle width and the doubt of where an edge lies in a photograph leave little of less. */
#define LEAST_WIDTH_MM 8.0

/* More than these are one mistake made often. */
#define MOST_CODES 6u

static gboolean
is_narrow (const SherdSurface *surface, SherdZone *zone)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
  g_autoptr (SherdOutline) inner = sherd_surface_inset (surface, outline, LEAST_WIDTH_MM / 2.0);

  return inner == NULL;
}

/**
 * sherd_narrow_zones_dup_words:
 * @piece: a piece
 * @side: one of its sides
 *
 * A zone is narrow when nothing is left of it half of 8 mm inside its edges.
 *
 * Returns: (transfer full) (nullable): which zones are, and why that matters; %NULL when none is
 */
char *
sherd_narrow_zones_dup_words (SherdPiece *piece, SherdSide *side)
{
  GListModel *zones = sherd_side_get_zones (side);
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), NULL);
  g_autoptr (GString) codes = g_string_new (NULL);
  guint n_narrow = 0;

  for (guint i = 0; surface != NULL && i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      if (!is_narrow (sherd_piece_surface_get (surface), zone) || n_narrow++ > MOST_CODES)
        continue;
      if (n_narrow > MOST_CODES)
        g_string_append (codes, ", …");
      else
        g_string_append_printf (codes, "%s%s", n_narrow > 1 ? ", " : "", sherd_zone_get_code (zone));
    }
  if (n_narrow == 0)
    return NULL;
  return g_strdup_printf (_ ("Narrower than %.0f mm, hard to paint and to measure: %s"), LEAST_WIDTH_MM, codes->str);
}
