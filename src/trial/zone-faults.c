/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-faults.h"

#include <glib/gi18n-lib.h>

static void
clear_fault (gpointer data)
{
  SherdZoneFault *fault = data;

  g_clear_object (&fault->zone);
  g_clear_object (&fault->other);
}

static GPtrArray *
dup_outlines (GListModel *zones)
{
  const guint n_zones = g_list_model_get_n_items (zones);
  GPtrArray *outlines = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_outline_free);

  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      g_ptr_array_add (outlines, sherd_zone_dup_outline (zone));
    }
  return outlines;
}

/**
 * sherd_zone_faults_new:
 * @piece: a piece
 * @side: one of its sides
 *
 * Returns: (transfer full) (element-type SherdZoneFault): zones that reach beyond the side, lie on one another, cross
 * themselves or have no area
 */
GArray *
sherd_zone_faults_new (SherdPiece *piece, SherdSide *side)
{
  GListModel *zones = sherd_side_get_zones (side);
  GArray *faults = g_array_new (FALSE, FALSE, sizeof (SherdZoneFault));
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), NULL);
  g_autoptr (GPtrArray) outlines = NULL;
  g_autoptr (GArray) found = NULL;

  g_array_set_clear_func (faults, clear_fault);
  if (surface == NULL)
    return faults;
  outlines = dup_outlines (zones);
  found = sherd_zoning_faults (sherd_piece_surface_get (surface), (const SherdOutline *const *)outlines->pdata,
                               outlines->len);
  for (guint i = 0; i < found->len; i++)
    {
      const SherdZoningFault *what = &g_array_index (found, SherdZoningFault, i);
      const SherdZoneFault fault = {
        .kind = what->kind,
        .zone = g_list_model_get_item (zones, what->first),
        .other = what->kind == SHERD_ZONING_OVERLAP ? g_list_model_get_item (zones, what->second) : NULL,
        .area_mm2 = what->area_mm2,
        .where = what->where,
      };

      g_array_append_val (faults, fault);
    }
  return faults;
}

/**
 * sherd_zone_fault_dup_words:
 * @fault: a fault
 *
 * Returns: (transfer full): which zone, and what is wrong with it
 */
char *
sherd_zone_fault_dup_words (const SherdZoneFault *fault)
{
  const char *code = sherd_zone_get_code (fault->zone);

  switch (fault->kind)
    {
    case SHERD_ZONING_OVERLAP:
      return g_strdup_printf (_ ("Zones %s and %s lie on one another (%.0f mm²)."), code,
                              sherd_zone_get_code (fault->other), fault->area_mm2);
    case SHERD_ZONING_OUTSIDE:
      return g_strdup_printf (_ ("Zone %s reaches beyond the side or into a hole (%.0f mm²)."), code, fault->area_mm2);
    case SHERD_ZONING_CROSSED:
      return g_strdup_printf (_ ("The outline of zone %s crosses itself."), code);
    case SHERD_ZONING_SMALL:
    default:
      return g_strdup_printf (_ ("Zone %s has hardly any area."), code);
    }
}
