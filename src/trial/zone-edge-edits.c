/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-shape-edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/zone-box-private.h"

/* Our choice: what is farther apart is no gap between neighbours (mm, or degrees along the azimuth). */
#define WIDEST_GAP 15.0

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

      if (distance >= -SHERD_ZONE_BOX_SAME && distance < gap)
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
      if (fabs (*edge_of (&box, edge) - at) <= SHERD_ZONE_BOX_SAME)
        *edge_of (&box, edge) += by;
      else if (gap < WIDEST_GAP && fabs (sign * (*edge_of (&box, facing (edge)) - at) - gap) <= SHERD_ZONE_BOX_SAME)
        *edge_of (&box, facing (edge)) += by;
      else
        continue;
      sherd_zone_places_add (places, zone, sherd_zone_get_code (zone), &box);
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

      if (!sherd_zone_box_check (piece, &box, error))
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
      const SherdZoneBox box = sherd_zone_box_round (place->outline);

      sherd_zone_box_set (trial, piece, place->zone, &box);
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
  g_autoptr (GArray) places = sherd_zone_places_new ();

  if (sherd_zone_get_polygon (zone) != NULL)
    return sherd_zone_box_refuse (error,
                                  _ ("A zone with a drawn outline has no straight edge to move: move its corners."));
  if (whole_line)
    add_line (places, side, edge, at, to - at);
  else
    {
      *edge_of (&box, edge) = to;
      sherd_zone_places_add (places, zone, sherd_zone_get_code (zone), &box);
    }
  if (!check_boxes (piece, places, error) || !sherd_zone_places_check (piece, side, places, NULL, error))
    return FALSE;
  sherd_trial_begin_moving_zone (trial, zone, continued);
  set_places (trial, piece, places);
  sherd_trial_end_edit (trial);
  return TRUE;
}
