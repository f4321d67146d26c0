/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/members.h"
#include "trial/piece-surface.h"
#include "trial/polygon.h"
#include "trial/reading-private.h"

static gboolean
is_sound (const SherdReading *reading)
{
  return sherd_reader_is_sound (reading->reader);
}

static gboolean
has_any (const SherdReading *reading, const SherdMember *members, char **found)
{
  for (; members->property != NULL; members++)
    {
      g_autofree char *name = g_strdelimit (g_strdup (members->property), "-", '_');

      if (!sherd_reader_has (reading->reader, name))
        continue;
      *found = g_steal_pointer (&name);
      return TRUE;
    }
  return FALSE;
}

/* Crossing edges, places beyond the side and zones on one another are not looked for: such a file opens, and the faults
 * are shown where they can be mended (trial/zone-faults.h). */
static void
read_polygon (const SherdReading *reading, SherdZone *zone, const char *member, double min, double max)
{
  g_autoptr (GArray) pairs = sherd_reader_tuples (reading->reader, member, 2, min, max, SHERD_POLYGON_MAX_POINTS);
  g_autoptr (SherdOutline) polygon = NULL;
  g_autofree char *also = NULL;

  if (pairs == NULL)
    return;
  if (has_any (reading, sherd_zone_rectangle_members, &also) || has_any (reading, sherd_zone_range_members, &also))
    sherd_reader_fail (reading->reader, also, _ ("a zone is either a rectangle or a polygon, not both."));
  if (pairs->len / 2 < 3)
    sherd_reader_fail (reading->reader, member, _ ("a polygon needs three corners or more."));
  polygon = sherd_outline_new ((const SherdPoint *)(gpointer)pairs->data, pairs->len / 2);
  g_object_set (zone, "polygon", polygon, NULL);
}

/* What tells a polygon on a vessel from one on a slab, and a box to go back to. */
static void
set_range_round (SherdZone *zone)
{
  const SherdOutline *polygon = sherd_zone_get_polygon (zone);
  SherdPoint low = { SHERD_ZONE_MAX_AZIMUTH_DEG, SHERD_PIECE_MAX_MM }, high = { SHERD_ZONE_MIN_AZIMUTH_DEG, 0.0 };

  for (gsize i = 0; polygon != NULL && i < polygon->n_points; i++)
    {
      low.x = MIN (low.x, polygon->points[i].x);
      low.y = MIN (low.y, MAX (polygon->points[i].y, 0.0));
      high.x = MAX (high.x, MIN (polygon->points[i].x, SHERD_ZONE_MAX_AZIMUTH_DEG));
      high.y = MAX (high.y, polygon->points[i].y);
    }
  if (high.x > low.x)
    g_object_set (zone, "azimuth0-deg", low.x, "azimuth1-deg", high.x, "arc0-mm", low.y, "arc1-mm", high.y, NULL);
}

static void
read_range (const SherdReading *reading, SherdZone *zone)
{
  SherdRange range;

  sherd_reader_properties (reading->reader, zone, sherd_zone_range_members);
  if (!is_sound (reading))
    return;
  if (!sherd_zone_get_range (zone, &range) || range.azimuth1_deg - range.azimuth0_deg > 360.0)
    sherd_reader_fail (reading->reader, "azimuth1_deg",
                       _ ("the second azimuth must be more than the first, by 360 at most."));
  else if (!(range.arc1_mm > range.arc0_mm))
    sherd_reader_fail (reading->reader, "arc1_mm", _ ("a zone ends farther from the lip than it begins."));
}

static void
read_shape (const SherdReading *reading, SherdZone *zone, SherdPiece *piece)
{
  if (sherd_reader_has (reading->reader, "polygon_deg_mm") && sherd_piece_is_vessel (piece))
    {
      read_polygon (reading, zone, "polygon_deg_mm", SHERD_ZONE_MIN_AZIMUTH_DEG, SHERD_PIECE_MAX_MM);
      set_range_round (zone);
      if (is_sound (reading) && !sherd_zone_get_range (zone, NULL))
        sherd_reader_fail (reading->reader, "polygon_deg_mm", _ ("the polygon is nowhere on the vessel."));
    }
  else if (sherd_piece_is_vessel (piece))
    read_range (reading, zone);
  else if (sherd_reader_has (reading->reader, "polygon_mm"))
    read_polygon (reading, zone, "polygon_mm", 0.0, SHERD_PIECE_MAX_MM);
  else
    sherd_reader_properties (reading->reader, zone, sherd_zone_rectangle_members);
}

static void
read_zone_paint (const SherdReading *reading, SherdZone *zone)
{
  const char *id = sherd_reader_text (reading->reader, "paint", SHERD_OPTIONAL);
  SherdPaint *paint = id != NULL ? sherd_trial_find_paint (reading->trial, id) : NULL;

  if (id != NULL && paint == NULL)
    sherd_reader_fail (reading->reader, "paint", _ ("there is no paint with the id “%s”."), id);
  else
    g_object_set (zone, "paint", paint, NULL);
}

static void
read_zone_paint_revision (const SherdReading *reading, SherdZone *zone)
{
  const guint revision =
    (guint)sherd_reader_whole (reading->reader, "paint_revision", 0, SHERD_REVISIONS_MAX, SHERD_OPTIONAL);
  SherdPaint *paint = sherd_zone_get_paint (zone);

  if (revision != 0 && (paint == NULL || sherd_paint_find_recipe (paint, revision) == NULL))
    sherd_reader_fail (reading->reader, "paint_revision", _ ("the zone’s paint has no revision %u."), revision);
  else
    g_object_set (zone, "paint-revision", revision, NULL);
}

static void
read_zone (const SherdReading *reading, SherdZone *zone, SherdPiece *piece, GHashTable *codes)
{
  sherd_reading_id (reading, SHERD_PART (zone), reading->zone_ids);
  sherd_reader_properties (reading->reader, zone, sherd_zone_members);
  sherd_reading_code (reading, sherd_zone_get_code (zone), codes);
  read_zone_paint (reading, zone);
  read_zone_paint_revision (reading, zone);
  read_shape (reading, zone, piece);
}

static void
read_zones (const SherdReading *reading, SherdSide *side, SherdPiece *piece)
{
  g_autoptr (GHashTable) codes = sherd_reading_new_name_set ();
  const guint n_zones = sherd_reader_enter_list (reading->reader, "zones", SHERD_READING_MAX_ITEMS);

  for (guint i = 0; i < n_zones && is_sound (reading); i++)
    {
      g_autoptr (SherdZone) zone = g_object_new (SHERD_TYPE_ZONE, NULL);

      sherd_reader_enter_item (reading->reader, i);
      read_zone (reading, zone, piece, codes);
      sherd_reading_leave_part (reading, zone, sherd_side_get_zones (side));
    }
  sherd_reader_leave_list (reading->reader);
}

static void
check_side_name (const SherdReading *reading, SherdSide *side, SherdPiece *piece)
{
  const char *const *names = sherd_piece_kind_get_sides (sherd_piece_get_kind (piece));
  const char *name = sherd_side_get_name (side);

  if (!is_sound (reading))
    return;
  if (!g_strv_contains (names, name))
    sherd_reader_fail (reading->reader, "name", _ ("“%s” is not a side of such a piece: it has “%s” and “%s”."), name,
                       names[0], names[1]);
  else if (sherd_piece_find_side_by_name (piece, name) != NULL)
    sherd_reader_fail (reading->reader, "name", _ ("the piece has two sides named “%s”."), name);
}

static void
read_sides (const SherdReading *reading, SherdPiece *piece)
{
  g_autoptr (GHashTable) ids = sherd_reading_new_name_set ();
  const guint n_sides = sherd_reader_enter_list (reading->reader, "sides", 2);

  for (guint i = 0; i < n_sides && is_sound (reading); i++)
    {
      g_autoptr (SherdSide) side = g_object_new (SHERD_TYPE_SIDE, NULL);

      sherd_reader_enter_item (reading->reader, i);
      sherd_reading_id (reading, SHERD_PART (side), ids);
      sherd_reader_properties (reading->reader, side, sherd_side_members);
      check_side_name (reading, side, piece);
      read_zones (reading, side, piece);
      sherd_reading_leave_part (reading, side, sherd_piece_get_sides (piece));
    }
  sherd_reader_leave_list (reading->reader);
}

/* Radius, height, and 1 where the wall has a corner. */
static GArray *
read_profile (const SherdReading *reading, const char *member)
{
  g_autoptr (GArray) numbers =
    sherd_reader_tuples (reading->reader, member, 3, 0.0, SHERD_PIECE_MAX_MM, SHERD_FORM_MAX_POINTS);
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SherdProfilePoint));

  for (guint i = 0; numbers != NULL && i < numbers->len; i += 3)
    {
      const double *at = &g_array_index (numbers, double, i);
      const SherdProfilePoint point = { at[0], at[1], at[2] > 0.0 };

      g_array_append_val (points, point);
    }
  return points;
}

static void
read_vessel (const SherdReading *reading, SherdForm *form)
{
  g_autoptr (GArray) outside = read_profile (reading, "profile_mm");
  g_autoptr (GArray) inside = read_profile (reading, "inside_profile_mm");

  sherd_form_set_outside (form, (const SherdProfilePoint *)(gpointer)outside->data, outside->len);
  sherd_form_set_inside (form, (const SherdProfilePoint *)(gpointer)inside->data, inside->len);
  form->floor_mm = sherd_reader_number (reading->reader, "floor_mm", 0.0, SHERD_PIECE_MAX_MM, SHERD_OPTIONAL);
}

static void
read_edge (const SherdReading *reading, SherdForm *form)
{
  g_autoptr (GArray) pairs =
    sherd_reader_tuples (reading->reader, "edge_mm", 2, 0.0, SHERD_PIECE_MAX_MM, SHERD_POLYGON_MAX_POINTS);
  g_autoptr (SherdOutline) edge = NULL;

  if (pairs == NULL)
    return;
  edge = sherd_outline_new ((const SherdPoint *)(gpointer)pairs->data, pairs->len / 2);
  sherd_form_set_edge (form, edge);
}

static void
read_holes (const SherdReading *reading, SherdForm *form)
{
  g_autoptr (GArray) numbers =
    sherd_reader_tuples (reading->reader, "holes_mm", 3, 0.0, SHERD_PIECE_MAX_MM, SHERD_FORM_MAX_HOLES);
  g_autoptr (GArray) holes = g_array_new (FALSE, FALSE, sizeof (SherdHole));

  for (guint i = 0; numbers != NULL && i < numbers->len; i += 3)
    {
      const double *at = &g_array_index (numbers, double, i);
      const SherdHole hole = { at[0], at[1], at[2] };

      g_array_append_val (holes, hole);
    }
  sherd_form_set_holes (form, (const SherdHole *)(gpointer)holes->data, holes->len);
}

/* A piece that cannot be has no sides to lay zones on, so a form must be sound. */
static void
read_form (const SherdReading *reading, SherdPiece *piece)
{
  const SherdPieceKind kind = sherd_piece_get_kind (piece);
  g_autoptr (SherdForm) form = sherd_form_new ();
  g_autoptr (SherdForm) plain = sherd_form_new ();
  g_autoptr (GError) problem = NULL;

  if (kind == SHERD_PIECE_VESSEL)
    read_vessel (reading, form);
  else
    read_holes (reading, form);
  if (kind == SHERD_PIECE_SHERD)
    read_edge (reading, form);
  if (!is_sound (reading))
    return;
  if (!sherd_piece_check_form (kind, sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece),
                               sherd_piece_get_thickness_mm (piece), form, &problem))
    sherd_reader_fail (reading->reader, NULL, "%s", problem->message);
  else if (!sherd_form_equal (form, plain))
    g_object_set (piece, "form", form, NULL);
}

static void
read_piece (const SherdReading *reading, SherdPiece *piece, GHashTable *ids)
{
  sherd_reading_id (reading, SHERD_PART (piece), ids);
  sherd_reader_properties (reading->reader, piece, sherd_piece_members);
  if (sherd_piece_has_own_size (piece))
    sherd_reader_properties (reading->reader, piece, sherd_piece_size_members);
  read_form (reading, piece);
  read_sides (reading, piece);
}

/**
 * sherd_reading_pieces:
 * @reading: at the trial's object, its paints read
 *
 * Reads the pieces with their sides and zones.
 */
void
sherd_reading_pieces (const SherdReading *reading)
{
  g_autoptr (GHashTable) ids = sherd_reading_new_name_set ();
  const guint n_pieces = sherd_reader_enter_list (reading->reader, "pieces", SHERD_READING_MAX_ITEMS);

  for (guint i = 0; i < n_pieces && is_sound (reading); i++)
    {
      g_autoptr (SherdPiece) piece = g_object_new (SHERD_TYPE_PIECE, NULL);

      sherd_reader_enter_item (reading->reader, i);
      read_piece (reading, piece, ids);
      sherd_reading_leave_part (reading, piece, sherd_trial_get_pieces (reading->trial));
    }
  sherd_reader_leave_list (reading->reader);
}
