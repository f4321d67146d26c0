/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-place.h"

#include <glib/gi18n-lib.h>

#include "trial/error.h"
#include "trial/polygon.h"

static gboolean
refuse (GError **error, char *words)
{
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, words);
  g_free (words);
  return FALSE;
}

static gboolean
check_within (const SherdSurface *surface, const SherdZonePlace *place, GError **error)
{
  const double outside_mm2 = sherd_surface_outside_mm2 (surface, place->outline, NULL);

  if (!sherd_polygon_check (place->outline, error))
    return FALSE;
  if (outside_mm2 <= SHERD_ZONING_LEAST_FAULT_MM2)
    return TRUE;
  return refuse (error, g_strdup_printf (_ ("Zone %s would reach beyond the side or into a hole, by %.0f mm²."),
                                         place->code, outside_mm2));
}

static gboolean
check_apart (const SherdSurface *surface,
             const SherdZonePlace *place,
             const SherdOutline *other,
             const char *other_code,
             GError **error)
{
  const double overlap_mm2 = sherd_surface_overlap_mm2 (surface, place->outline, other, NULL);

  if (overlap_mm2 <= SHERD_ZONING_LEAST_FAULT_MM2)
    return TRUE;
  return refuse (
    error, g_strdup_printf (_ ("Zone %s would lie on zone %s, by %.0f mm²."), place->code, other_code, overlap_mm2));
}

static gboolean
is_placed (const SherdZonePlace *places, gsize n_places, SherdZone *zone)
{
  for (gsize i = 0; i < n_places; i++)
    if (places[i].zone == zone)
      return TRUE;
  return FALSE;
}

/* Zones that stay where they are must not be lain upon. */
static gboolean
check_against_others (const SherdSurface *surface,
                      SherdSide *side,
                      const SherdZonePlace *places,
                      gsize n_places,
                      GPtrArray *gone,
                      GError **error)
{
  GListModel *zones = sherd_side_get_zones (side);

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) other = g_list_model_get_item (zones, i);
      g_autoptr (SherdOutline) outline = NULL;

      if (is_placed (places, n_places, other) || (gone != NULL && g_ptr_array_find (gone, other, NULL)))
        continue;
      outline = sherd_zone_dup_outline (other);
      for (gsize j = 0; j < n_places; j++)
        if (!check_apart (surface, &places[j], outline, sherd_zone_get_code (other), error))
          return FALSE;
    }
  return TRUE;
}

/**
 * sherd_zone_place_check:
 * @piece: a piece
 * @side: one of its sides
 * @places: (array length=n_places): zones and where they are to lie
 * @n_places: how many
 * @gone: (nullable) (element-type SherdZone): zones of the side that are to go
 * @error: SHERD_TRIAL_ERROR_VALUE, names the zones; SHERD_SHAPE_ERROR when the piece has no surface
 *
 * Returns: whether all may lie there at once
 */
gboolean
sherd_zone_place_check (SherdPiece *piece,
                        SherdSide *side,
                        const SherdZonePlace *places,
                        gsize n_places,
                        GPtrArray *gone,
                        GError **error)
{
  g_autoptr (SherdPieceSurface) owner = sherd_piece_surface_new (piece, sherd_side_get_name (side), error);
  const SherdSurface *surface;

  if (owner == NULL)
    return FALSE;
  surface = sherd_piece_surface_get (owner);
  for (gsize i = 0; i < n_places; i++)
    {
      if (!check_within (surface, &places[i], error))
        return FALSE;
      for (gsize j = 0; j < i; j++)
        if (!check_apart (surface, &places[i], places[j].outline, places[j].code, error))
          return FALSE;
    }
  return check_against_others (surface, side, places, n_places, gone, error);
}
