/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-shape-edits.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/code.h"
#include "trial/zone-box-private.h"

/* Our choice: more parts than this are a slip of the finger. */
#define MAX_PARTS 100u

static gboolean
check_new_code (SherdSide *side, const char *code, GError **error)
{
  if (!sherd_code_check (code, error))
    return FALSE;
  if (sherd_side_find_zone_by_code (side, code) == NULL)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DUPLICATE,
               _ ("There is a zone “%s” on this side already. Choose another code."), code);
  return FALSE;
}

/**
 * sherd_trial_add_zone_box:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @code: what the zone is called
 * @box: where it lies
 * @error: SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 *
 * Returns: (transfer none) (nullable): the new zone, bare
 */
SherdZone *
sherd_trial_add_zone_box (SherdTrial *trial,
                          SherdPiece *piece,
                          SherdSide *side,
                          const char *code,
                          const SherdZoneBox *box,
                          GError **error)
{
  g_autoptr (GArray) places = sherd_zone_places_new ();
  g_autoptr (SherdZone) zone = NULL;
  g_autofree char *label = NULL;

  if (!check_new_code (side, code, error) || !sherd_zone_box_check (piece, box, error))
    return NULL;
  sherd_zone_places_add (places, NULL, code, box);
  if (!sherd_zone_places_check (piece, side, places, NULL, error))
    return NULL;
  zone = sherd_zone_box_new_zone (trial, piece, code, box);
  label = g_strdup_printf (_ ("Add zone %s"), sherd_zone_get_code (zone));
  sherd_trial_begin_edit (trial, label);
  sherd_trial_append (trial, sherd_side_get_zones (side), zone);
  sherd_trial_end_edit (trial);
  return zone;
}

/**
 * sherd_trial_set_zone_box:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @zone: one of its zones
 * @box: where it lies now
 * @continued: joins the step before when that moved the same zone
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether the zone lies there now
 */
gboolean
sherd_trial_set_zone_box (SherdTrial *trial,
                          SherdPiece *piece,
                          SherdSide *side,
                          SherdZone *zone,
                          const SherdZoneBox *box,
                          gboolean continued,
                          GError **error)
{
  g_autoptr (GArray) places = sherd_zone_places_new ();

  if (!sherd_zone_box_check (piece, box, error))
    return FALSE;
  sherd_zone_places_add (places, zone, sherd_zone_get_code (zone), box);
  if (!sherd_zone_places_check (piece, side, places, NULL, error))
    return FALSE;
  sherd_trial_begin_moving_zone (trial, zone, continued);
  sherd_zone_box_set (trial, piece, zone, box);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/* The zones of a grid in reading order; those whose code was there before are the same objects. */
static GPtrArray *
ring_zones (SherdTrial *trial,
            SherdPiece *piece,
            SherdSide *side,
            const SherdRingGrid *grid,
            const SherdSurface *surface)
{
  GPtrArray *zones = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint ring = 0; ring < grid->n_rings; ring++)
    for (guint sector = 0; sector < grid->n_sectors; sector++)
      {
        const SherdRange cell = sherd_ring_grid_cell (grid, surface, ring, sector);
        g_autofree char *code = sherd_grid_code (ring, sector);
        SherdZone *zone = sherd_side_find_zone_by_code (side, code);

        if (zone == NULL)
          g_ptr_array_add (zones, sherd_zone_box_new_zone (trial, piece, code, &cell));
        else
          {
            sherd_zone_box_set (trial, piece, zone, &cell);
            g_ptr_array_add (zones, g_object_ref (zone));
          }
      }
  return zones;
}

/**
 * sherd_trial_set_ring_grid:
 * @trial: a trial
 * @piece: a vessel
 * @side: one of its sides
 * @grid: rings and sectors
 * @error: SHERD_SHAPE_ERROR_SIZE when the grid does not fit
 *
 * Lays a side out anew. Zones are named A1, A2, … by ring from the lip and by sector; one that was there under its code
 * keeps id, paint, coats, replicate, ground and lock and only moves. Zones with other codes go.
 *
 * Returns: whether it is laid out so
 */
gboolean
sherd_trial_set_ring_grid (SherdTrial *trial,
                           SherdPiece *piece,
                           SherdSide *side,
                           const SherdRingGrid *grid,
                           GError **error)
{
  GListModel *zones = sherd_side_get_zones (side);
  g_autoptr (SherdPieceSurface) surface = NULL;
  g_autoptr (GPtrArray) laid = NULL;
  g_autofree char *label = NULL;

  if (!sherd_piece_is_vessel (piece))
    return sherd_zone_box_refuse (error, _ ("A flat piece is laid out in rows and columns, not in rings and sectors."));
  surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), error);
  if (surface == NULL || !sherd_ring_grid_check (grid, sherd_piece_surface_get (surface), error))
    return FALSE;
  label = g_strdup_printf (_ ("Lay out %u rings of %u zones"), grid->n_rings, grid->n_sectors);
  sherd_trial_begin_edit (trial, label);
  laid = ring_zones (trial, piece, side, grid, sherd_piece_surface_get (surface));
  sherd_trial_splice (trial, zones, 0, g_list_model_get_n_items (zones), laid->pdata, laid->len);
  sherd_trial_end_edit (trial);
  return TRUE;
}

static SherdZoneBox
part_of_box (const SherdZoneBox *box, guint part, guint n, gboolean along_y)
{
  const double from = (double)part / n, to = (part + 1.0) / n;
  const double width = box->azimuth1_deg - box->azimuth0_deg, height = box->arc1_mm - box->arc0_mm;

  if (along_y)
    return (SherdZoneBox){ box->azimuth0_deg, box->azimuth1_deg, box->arc0_mm + from * height,
                           box->arc0_mm + to * height };
  return (SherdZoneBox){ box->azimuth0_deg + from * width, box->azimuth0_deg + to * width, box->arc0_mm, box->arc1_mm };
}

/* "A1" → "A1b", "A1c", …, skipping what is taken. */
static char *
code_of_part (SherdSide *side, const char *code, guint *n_tried)
{
  for (;; (*n_tried)++)
    {
      g_autofree char *letters = sherd_grid_code (*n_tried, 0);
      g_autofree char *lower = g_ascii_strdown (letters, strlen (letters) - 1);
      g_autofree char *candidate = g_strconcat (code, lower, NULL);

      if (sherd_side_find_zone_by_code (side, candidate) != NULL)
        continue;
      (*n_tried)++;
      return g_steal_pointer (&candidate);
    }
}

/**
 * sherd_trial_split_zone:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @zone: one of its zones, a box
 * @n: into how many parts, 2 to 100
 * @along_y: parts lie below one another rather than side by side
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether it is split
 */
gboolean
sherd_trial_split_zone (SherdTrial *trial,
                        SherdPiece *piece,
                        SherdSide *side,
                        SherdZone *zone,
                        guint n,
                        gboolean along_y,
                        GError **error)
{
  const SherdZoneBox box = sherd_zone_get_box (zone);
  const SherdZoneBox first = part_of_box (&box, 0, MAX (n, 1), along_y);
  g_autofree char *label = g_strdup_printf (_ ("Split zone %s"), sherd_zone_get_code (zone));
  GListModel *zones = sherd_side_get_zones (side);
  guint position, n_tried = 1;

  if (n < 2 || n > MAX_PARTS)
    return sherd_zone_box_refuse (error, _ ("A zone is split into 2 to 100 parts."));
  if (sherd_zone_get_polygon (zone) != NULL)
    return sherd_zone_box_refuse (error,
                                  _ ("A zone with a drawn outline cannot be split into equal parts: draw the parts."));
  if (!sherd_zone_box_check (piece, &first, error) || !g_list_store_find (G_LIST_STORE (zones), zone, &position))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  sherd_zone_box_set (trial, piece, zone, &first);
  for (guint part = 1; part < n; part++)
    {
      const SherdZoneBox next = part_of_box (&box, part, n, along_y);
      g_autofree char *code = code_of_part (side, sherd_zone_get_code (zone), &n_tried);
      g_autoptr (SherdZone) added = sherd_zone_box_new_zone (trial, piece, code, &next);

      sherd_zone_take_treatment (added, zone);
      sherd_trial_insert (trial, zones, position + part, added);
    }
  sherd_trial_end_edit (trial);
  return TRUE;
}

static void
remove_zones (SherdTrial *trial, SherdSide *side, GPtrArray *gone)
{
  GListModel *zones = sherd_side_get_zones (side);

  for (guint i = 0; i < gone->len; i++)
    {
      guint position;

      if (g_list_store_find (G_LIST_STORE (zones), g_ptr_array_index (gone, i), &position))
        sherd_trial_remove (trial, zones, position);
    }
}

/**
 * sherd_trial_join_zones:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @zones: (array length=n_zones): zones of it
 * @n_zones: two or more
 * @error: SHERD_TRIAL_ERROR_VALUE when another zone lies between them
 *
 * Returns: whether the first zone now covers what they all covered, gaps between them included
 */
gboolean
sherd_trial_join_zones (SherdTrial *trial,
                        SherdPiece *piece,
                        SherdSide *side,
                        SherdZone *const *zones,
                        guint n_zones,
                        GError **error)
{
  g_autoptr (GPtrArray) gone = g_ptr_array_new ();
  g_autoptr (GArray) places = sherd_zone_places_new ();
  g_autofree char *label = NULL;
  SherdZoneBox box;

  if (n_zones < 2)
    return sherd_zone_box_refuse (error, _ ("Select two zones or more to join them."));
  box = sherd_zone_get_box (zones[0]);
  for (guint i = 1; i < n_zones; i++)
    {
      const SherdZoneBox other = sherd_zone_get_box (zones[i]);

      box = (SherdZoneBox){ MIN (box.azimuth0_deg, other.azimuth0_deg), MAX (box.azimuth1_deg, other.azimuth1_deg),
                            MIN (box.arc0_mm, other.arc0_mm), MAX (box.arc1_mm, other.arc1_mm) };
      g_ptr_array_add (gone, zones[i]);
    }
  sherd_zone_places_add (places, zones[0], sherd_zone_get_code (zones[0]), &box);
  if (!sherd_zone_box_check (piece, &box, error) || !sherd_zone_places_check (piece, side, places, gone, error))
    return FALSE;
  label = g_strdup_printf (ngettext ("Join %u zone", "Join %u zones", n_zones), n_zones);
  sherd_trial_begin_edit (trial, label);
  sherd_zone_box_set (trial, piece, zones[0], &box);
  remove_zones (trial, side, gone);
  sherd_trial_end_edit (trial);
  return TRUE;
}
