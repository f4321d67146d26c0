/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-shape-edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/code.h"
#include "trial/zone-place.h"

/* Edges this near lie on one line (mm or degrees). A hair for sums of decimals. */
#define SAME_LINE 1e-6

/* Our choice: what is farther apart is no gap between neighbours (mm, or degrees along the azimuth). */
#define WIDEST_GAP 15.0

/* Our choice: more parts than this are a slip of the finger. */
#define MAX_PARTS 100u

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, message);
  return FALSE;
}

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

static SherdZoneBox
box_round (const SherdOutline *outline)
{
  SherdZoneBox box = { G_MAXDOUBLE, -G_MAXDOUBLE, G_MAXDOUBLE, -G_MAXDOUBLE };

  for (gsize i = 0; i < outline->n_points; i++)
    {
      box.azimuth0_deg = MIN (box.azimuth0_deg, outline->points[i].x);
      box.azimuth1_deg = MAX (box.azimuth1_deg, outline->points[i].x);
      box.arc0_mm = MIN (box.arc0_mm, outline->points[i].y);
      box.arc1_mm = MAX (box.arc1_mm, outline->points[i].y);
    }
  return box;
}

/**
 * sherd_zone_get_box:
 * @zone: a zone
 *
 * Returns: its box on the side, or the one round its polygon
 */
SherdZoneBox
sherd_zone_get_box (SherdZone *zone)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);

  return box_round (outline);
}

static void
set_box (SherdTrial *trial, SherdPiece *piece, SherdZone *zone, const SherdZoneBox *box)
{
  sherd_trial_set (trial, zone, "polygon", NULL);
  if (sherd_piece_is_vessel (piece))
    {
      sherd_trial_set (trial, zone, "azimuth0-deg", box->azimuth0_deg);
      sherd_trial_set (trial, zone, "azimuth1-deg", box->azimuth1_deg);
      sherd_trial_set (trial, zone, "arc0-mm", box->arc0_mm);
      sherd_trial_set (trial, zone, "arc1-mm", box->arc1_mm);
    }
  else
    {
      sherd_trial_set (trial, zone, "x-mm", box->azimuth0_deg);
      sherd_trial_set (trial, zone, "y-mm", box->arc0_mm);
      sherd_trial_set (trial, zone, "width-mm", box->azimuth1_deg - box->azimuth0_deg);
      sherd_trial_set (trial, zone, "height-mm", box->arc1_mm - box->arc0_mm);
    }
}

static SherdZone *
new_zone (SherdTrial *trial, SherdPiece *piece, const char *code, const SherdZoneBox *box)
{
  g_autofree char *id = sherd_trial_new_id (trial, "zone");
  const SherdRectangle rectangle = { .x_mm = box->azimuth0_deg,
                                     .y_mm = box->arc0_mm,
                                     .width_mm = box->azimuth1_deg - box->azimuth0_deg,
                                     .height_mm = box->arc1_mm - box->arc0_mm };

  return sherd_piece_is_vessel (piece) ? sherd_zone_new_range (id, code, box) : sherd_zone_new (id, code, &rectangle);
}

/* On a vessel azimuths may run on over the zero mark, once round at most. */
static gboolean
check_box (SherdPiece *piece, const SherdZoneBox *box, GError **error)
{
  const double width = box->azimuth1_deg - box->azimuth0_deg, height = box->arc1_mm - box->arc0_mm;
  const double least = sherd_piece_is_vessel (piece) ? SAME_LINE : SHERD_ZONE_MIN_MM;

  if (!isfinite (width) || !isfinite (height) || !(width >= least) || !(height >= SHERD_ZONE_MIN_MM))
    return refuse (error, _ ("A zone needs a width and a height."));
  if (!sherd_piece_is_vessel (piece))
    return TRUE;
  if (width <= 360.0 && box->azimuth0_deg >= SHERD_ZONE_MIN_AZIMUTH_DEG &&
      box->azimuth1_deg <= SHERD_ZONE_MAX_AZIMUTH_DEG)
    return TRUE;
  return refuse (error, _ ("A zone runs round the vessel once at most."));
}

static void
clear_place (gpointer data)
{
  SherdZonePlace *place = data;

  sherd_outline_free (place->outline);
}

static GArray *
new_places (void)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (SherdZonePlace));

  g_array_set_clear_func (places, clear_place);
  return places;
}

static void
add_place (GArray *places, SherdZone *zone, const char *code, const SherdZoneBox *box)
{
  const SherdZonePlace place = { zone, sherd_range_outline (box), code };

  g_array_append_val (places, place);
}

static gboolean
check_places (SherdPiece *piece, SherdSide *side, GArray *places, GPtrArray *gone, GError **error)
{
  return sherd_zone_place_check (piece, side, (const SherdZonePlace *)(gpointer)places->data, places->len, gone, error);
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
  g_autoptr (GArray) places = new_places ();
  g_autoptr (SherdZone) zone = NULL;
  g_autofree char *label = NULL;

  if (!check_new_code (side, code, error) || !check_box (piece, box, error))
    return NULL;
  add_place (places, NULL, code, box);
  if (!check_places (piece, side, places, NULL, error))
    return NULL;
  zone = new_zone (trial, piece, code, box);
  label = g_strdup_printf (_ ("Add zone %s"), sherd_zone_get_code (zone));
  sherd_trial_begin_edit (trial, label);
  sherd_trial_append (trial, sherd_side_get_zones (side), zone);
  sherd_trial_end_edit (trial);
  return zone;
}

static void
begin_moving (SherdTrial *trial, SherdZone *zone, gboolean continued)
{
  g_autofree char *label = g_strdup_printf (_ ("Move zone %s"), sherd_zone_get_code (zone));
  g_autofree char *key = g_strconcat ("shape ", sherd_part_get_id (SHERD_PART (zone)), NULL);

  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
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
  g_autoptr (GArray) places = new_places ();

  if (!check_box (piece, box, error))
    return FALSE;
  add_place (places, zone, sherd_zone_get_code (zone), box);
  if (!check_places (piece, side, places, NULL, error))
    return FALSE;
  begin_moving (trial, zone, continued);
  set_box (trial, piece, zone, box);
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
          g_ptr_array_add (zones, new_zone (trial, piece, code, &cell));
        else
          {
            set_box (trial, piece, zone, &cell);
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
    return refuse (error, _ ("A flat piece is laid out in rows and columns, not in rings and sectors."));
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

static void
take_treatment (SherdZone *zone, SherdZone *from)
{
  g_object_set (zone, "paint", sherd_zone_get_paint (from), "coats", sherd_zone_get_coats (from), "ground",
                sherd_zone_get_ground (from), NULL);
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
    return refuse (error, _ ("A zone is split into 2 to 100 parts."));
  if (sherd_zone_get_polygon (zone) != NULL)
    return refuse (error, _ ("A zone with a drawn outline cannot be split into equal parts: draw the parts."));
  if (!check_box (piece, &first, error) || !g_list_store_find (G_LIST_STORE (zones), zone, &position))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  set_box (trial, piece, zone, &first);
  for (guint part = 1; part < n; part++)
    {
      const SherdZoneBox next = part_of_box (&box, part, n, along_y);
      g_autofree char *code = code_of_part (side, sherd_zone_get_code (zone), &n_tried);
      g_autoptr (SherdZone) added = new_zone (trial, piece, code, &next);

      take_treatment (added, zone);
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
  g_autoptr (GArray) places = new_places ();
  g_autofree char *label = NULL;
  SherdZoneBox box;

  if (n_zones < 2)
    return refuse (error, _ ("Select two zones or more to join them."));
  box = sherd_zone_get_box (zones[0]);
  for (guint i = 1; i < n_zones; i++)
    {
      const SherdZoneBox other = sherd_zone_get_box (zones[i]);

      box = (SherdZoneBox){ MIN (box.azimuth0_deg, other.azimuth0_deg), MAX (box.azimuth1_deg, other.azimuth1_deg),
                            MIN (box.arc0_mm, other.arc0_mm), MAX (box.arc1_mm, other.arc1_mm) };
      g_ptr_array_add (gone, zones[i]);
    }
  add_place (places, zones[0], sherd_zone_get_code (zones[0]), &box);
  if (!check_box (piece, &box, error) || !check_places (piece, side, places, gone, error))
    return FALSE;
  label = g_strdup_printf (ngettext ("Join %u zone", "Join %u zones", n_zones), n_zones);
  sherd_trial_begin_edit (trial, label);
  set_box (trial, piece, zones[0], &box);
  remove_zones (trial, side, gone);
  sherd_trial_end_edit (trial);
  return TRUE;
}

static double *
edge_of (SherdZoneBox *box, SherdZoneEdge edge)
{
  switch (edge)
    {
    case SHERD_ZONE_EDGE_X0:
      return &box->azimuth0_deg;
    case SHERD_ZONE_EDGE_X1:
      return &box->azimuth1_deg;
    case SHERD_ZONE_EDGE_Y0:
      return &box->arc0_mm;
    case SHERD_ZONE_EDGE_Y1:
    default:
      return &box->arc1_mm;
    }
}

static SherdZoneEdge
facing (SherdZoneEdge edge)
{
  static const SherdZoneEdge across[] = { SHERD_ZONE_EDGE_X1, SHERD_ZONE_EDGE_X0, SHERD_ZONE_EDGE_Y1,
                                          SHERD_ZONE_EDGE_Y0 };

  return across[edge];
}

/* How far the nearest edge lies that faces the line at @at; the widest gap when there is none. */
static double
gap_at (SherdSide *side, SherdZoneEdge edge, double at)
{
  const double sign = edge == SHERD_ZONE_EDGE_X1 || edge == SHERD_ZONE_EDGE_Y1 ? 1.0 : -1.0;
  GListModel *zones = sherd_side_get_zones (side);
  double gap = WIDEST_GAP;

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      SherdZoneBox box = sherd_zone_get_box (zone);
      const double distance = sign * (*edge_of (&box, facing (edge)) - at);

      if (distance >= -SAME_LINE && distance < gap)
        gap = MAX (distance, 0.0);
    }
  return gap;
}

/* Moves what belongs to the line: edges on it, and edges that face it over the gap. */
static void
add_line (GArray *places, SherdSide *side, SherdZoneEdge edge, double at, double by)
{
  const double sign = edge == SHERD_ZONE_EDGE_X1 || edge == SHERD_ZONE_EDGE_Y1 ? 1.0 : -1.0;
  const double gap = gap_at (side, edge, at);
  GListModel *zones = sherd_side_get_zones (side);

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      SherdZoneBox box = sherd_zone_get_box (zone);

      if (sherd_zone_get_polygon (zone) != NULL)
        continue;
      if (fabs (*edge_of (&box, edge) - at) <= SAME_LINE)
        *edge_of (&box, edge) += by;
      else if (gap < WIDEST_GAP && fabs (sign * (*edge_of (&box, facing (edge)) - at) - gap) <= SAME_LINE)
        *edge_of (&box, facing (edge)) += by;
      else
        continue;
      add_place (places, zone, sherd_zone_get_code (zone), &box);
    }
}

static gboolean
check_boxes (SherdPiece *piece, GArray *places, GError **error)
{
  for (guint i = 0; i < places->len; i++)
    {
      const SherdOutline *outline = g_array_index (places, SherdZonePlace, i).outline;
      const SherdZoneBox box = { outline->points[0].x, outline->points[2].x, outline->points[0].y,
                                 outline->points[2].y };

      if (!check_box (piece, &box, error))
        return FALSE;
    }
  return TRUE;
}

static void
set_places (SherdTrial *trial, SherdPiece *piece, GArray *places)
{
  for (guint i = 0; i < places->len; i++)
    {
      const SherdZonePlace *place = &g_array_index (places, SherdZonePlace, i);
      const SherdZoneBox box = box_round (place->outline);

      set_box (trial, piece, place->zone, &box);
    }
}

/**
 * sherd_trial_move_zone_edge:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @zone: one of its zones, a box
 * @edge: which edge
 * @to: where it lies now, mm or degrees
 * @whole_line: moves every edge on the same line, and those that face it over the same gap
 * @continued: joins the step before when that moved the same zone
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether it lies there now
 */
gboolean
sherd_trial_move_zone_edge (SherdTrial *trial,
                            SherdPiece *piece,
                            SherdSide *side,
                            SherdZone *zone,
                            SherdZoneEdge edge,
                            double to,
                            gboolean whole_line,
                            gboolean continued,
                            GError **error)
{
  SherdZoneBox box = sherd_zone_get_box (zone);
  const double at = *edge_of (&box, edge);
  g_autoptr (GArray) places = new_places ();

  if (sherd_zone_get_polygon (zone) != NULL)
    return refuse (error, _ ("A zone with a drawn outline has no straight edge to move: move its corners."));
  if (whole_line)
    add_line (places, side, edge, at, to - at);
  else
    {
      *edge_of (&box, edge) = to;
      add_place (places, zone, sherd_zone_get_code (zone), &box);
    }
  if (!check_boxes (piece, places, error) || !check_places (piece, side, places, NULL, error))
    return FALSE;
  begin_moving (trial, zone, continued);
  set_places (trial, piece, places);
  sherd_trial_end_edit (trial);
  return TRUE;
}

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
  return 360.0 * ceil (box.azimuth1_deg / 360.0 - SAME_LINE);
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
  g_autoptr (GArray) places = new_places ();

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
      const SherdZonePlace place = { zone, mirrored_outline (outline, mirror_about (piece, zone)),
                                     sherd_zone_get_code (zone) };

      g_array_append_val (places, place);
    }
  if (!check_places (piece, side, places, NULL, error))
    return FALSE;
  sherd_trial_begin_edit (trial, _ ("Mirror side"));
  for (guint i = 0; i < places->len; i++)
    {
      const SherdZonePlace *place = &g_array_index (places, SherdZonePlace, i);
      const SherdZoneBox box = box_round (place->outline);
      const gboolean is_drawn = sherd_zone_get_polygon (place->zone) != NULL;

      set_box (trial, piece, place->zone, &box);
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
  SherdZone *copy = new_zone (trial, piece, sherd_zone_get_code (zone), &box);

  take_treatment (copy, zone);
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
  g_autoptr (GArray) places = new_places ();

  if (sherd_piece_is_vessel (from_piece) != sherd_piece_is_vessel (to_piece))
    return refuse (error, _ ("Zones of a vessel do not fit on a flat piece, nor the other way round."));
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
  if (!check_places (to_piece, to, places, gone, error))
    return FALSE;
  sherd_trial_begin_edit (trial, _ ("Copy side"));
  sherd_trial_splice (trial, zones, 0, g_list_model_get_n_items (zones), copies->pdata, copies->len);
  sherd_trial_end_edit (trial);
  return TRUE;
}
