/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-shape-edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/zone-box-private.h"

static SherdOutline *
mirrored_outline (const SherdOutline *outline, double about)
{
  SherdOutline *mirrored = sherd_outline_copy (outline);

  for (gsize i = 0; i < outline->n_points; i++)
    {
      mirrored->points[i] = outline->points[outline->n_points - 1 - i];
      mirrored->points[i].x = about - mirrored->points[i].x;
    }
  return mirrored;
}

/* Azimuths are kept within the first turn where the zone allows it. */
static double
mirror_about (SherdPiece *piece, SherdZone *zone)
{
  const SherdZoneBox box = sherd_zone_get_box (zone);

  if (!sherd_piece_is_vessel (piece))
    return sherd_piece_get_width_mm (piece);
  return 360.0 * ceil (box.azimuth1_deg / 360.0 - SHERD_ZONE_BOX_SAME);
}

/**
 * sherd_trial_mirror_side:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @error: SHERD_TRIAL_ERROR_VALUE when a mirrored zone would lie beyond the side, as on a sherd
 *
 * Returns: whether left is right now; on a vessel, whether each azimuth is its negative
 */
gboolean
sherd_trial_mirror_side (SherdTrial *trial, SherdPiece *piece, SherdSide *side, GError **error)
{
  GListModel *zones = sherd_side_get_zones (side);
  g_autoptr (GArray) places = sherd_zone_places_new ();

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
      const SherdZonePlace place = { zone, mirrored_outline (outline, mirror_about (piece, zone)),
                                     sherd_zone_get_code (zone) };

      g_array_append_val (places, place);
    }
  if (!sherd_zone_places_check (piece, side, places, NULL, error))
    return FALSE;
  sherd_trial_begin_edit (trial, _ ("Mirror side"));
  for (guint i = 0; i < places->len; i++)
    {
      const SherdZonePlace *place = &g_array_index (places, SherdZonePlace, i);
      const SherdZoneBox box = sherd_zone_box_round (place->outline);
      const gboolean is_drawn = sherd_zone_get_polygon (place->zone) != NULL;

      sherd_zone_box_set (trial, piece, place->zone, &box);
      if (is_drawn)
        sherd_trial_set (trial, place->zone, "polygon", place->outline);
    }
  sherd_trial_end_edit (trial);
  return TRUE;
}

static SherdZone *
dup_zone (SherdTrial *trial, SherdPiece *piece, SherdZone *zone)
{
  const SherdZoneBox box = sherd_zone_get_box (zone);
  SherdZone *copy = sherd_zone_box_new_zone (trial, piece, sherd_zone_get_code (zone), &box);

  sherd_zone_take_treatment (copy, zone);
  g_object_set (copy, "replicate", sherd_zone_get_replicate (zone), "polygon", sherd_zone_get_polygon (zone), NULL);
  return copy;
}

static gboolean
check_no_locks (SherdSide *side, GError **error)
{
  GListModel *zones = sherd_side_get_zones (side);

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      if (!sherd_zone_get_locked (zone))
        continue;
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE,
                   _ ("Zone %s is locked; unlock it before the side is laid out anew."), sherd_zone_get_code (zone));
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_trial_copy_side:
 * @trial: a trial
 * @from_piece: one of its pieces
 * @from: one of its sides
 * @to_piece: a piece of the same kind, may be the same
 * @to: another side
 * @error: SHERD_TRIAL_ERROR_VALUE when a zone would not lie on it; SHERD_TRIAL_ERROR_IN_USE when a zone there is locked
 *
 * Returns: whether @to has the zones of @from now
 */
gboolean
sherd_trial_copy_side (SherdTrial *trial,
                       SherdPiece *from_piece,
                       SherdSide *from,
                       SherdPiece *to_piece,
                       SherdSide *to,
                       GError **error)
{
  GListModel *source = sherd_side_get_zones (from), *zones = sherd_side_get_zones (to);
  g_autoptr (GPtrArray) copies = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GPtrArray) gone = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GArray) places = sherd_zone_places_new ();

  if (sherd_piece_is_vessel (from_piece) != sherd_piece_is_vessel (to_piece))
    return sherd_zone_box_refuse (error, _ ("Zones of a vessel do not fit on a flat piece, nor the other way round."));
  if (!check_no_locks (to, error))
    return FALSE;
  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    g_ptr_array_add (gone, g_list_model_get_item (zones, i));
  for (guint i = 0; i < g_list_model_get_n_items (source); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (source, i);
      const SherdZonePlace place = { NULL, sherd_zone_dup_outline (zone), sherd_zone_get_code (zone) };

      g_array_append_val (places, place);
      g_ptr_array_add (copies, dup_zone (trial, to_piece, zone));
    }
  if (!sherd_zone_places_check (to_piece, to, places, gone, error))
    return FALSE;
  sherd_trial_begin_edit (trial, _ ("Copy side"));
  sherd_trial_splice (trial, zones, 0, g_list_model_get_n_items (zones), copies->pdata, copies->len);
  sherd_trial_end_edit (trial);
  return TRUE;
}
