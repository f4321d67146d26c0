/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/zoning.h"

#include "shape/tracing.h"

#include <math.h>

/* Our choice: zones are followed to this when their distance is taken. */
#define FOLLOWING_MM 0.05

/* Two outlines on a side, and how far round the second is turned to lie beside the first. */
typedef struct
{
  double low[2];
  double high[2];
} Box;

/* A zone's outline in space. */
typedef struct
{
  double (*positions_mm)[3];
  gsize n;
  double low[3];
  double high[3];
} Loop;

static Box
box_of (const SherdOutline *outline)
{
  Box box = { { INFINITY, INFINITY }, { -INFINITY, -INFINITY } };

  for (gsize i = 0; i < outline->n_points; i++)
    {
      const double place[2] = { outline->points[i].x, outline->points[i].y };

      for (guint k = 0; k < 2; k++)
        {
          box.low[k] = MIN (box.low[k], place[k]);
          box.high[k] = MAX (box.high[k], place[k]);
        }
    }
  return box;
}

/* What lies on the left of the line from @a to @b when @side is 1, on the right when it is −1. */
static SherdLine
line_through (SherdPoint a, SherdPoint b, double side)
{
  const double dx = side * (b.x - a.x), dy = side * (b.y - a.y);

  return (SherdLine){ -dy, dx, dy * a.x - dx * a.y };
}

/* (transfer full) */
static SherdOutline *
clip_by_triangle (const SherdOutline *outline, const SherdPoint corners[3], double side)
{
  SherdOutline *left = sherd_outline_copy (outline);

  for (guint i = 0; i < 3 && left->n_points > 0; i++)
    {
      const SherdLine line = line_through (corners[i], corners[(i + 1) % 3], side);
      SherdOutline *clipped = sherd_outline_clip (left, &line);

      sherd_outline_free (left);
      left = clipped;
    }
  return left;
}

/* Area that both cover, in the units of the side, and its moments: the second outline is a sum of triangles with signs,
 * by each of which the first is cut. */
static double
add_overlap (const SherdOutline *first, const SherdOutline *second, double shift_x, double moments[2])
{
  double sum = 0.0;

  for (gsize i = 1; i + 1 < second->n_points; i++)
    {
      SherdPoint corners[3] = { second->points[0], second->points[i], second->points[i + 1] };
      const double area = (corners[1].x - corners[0].x) * (corners[2].y - corners[0].y) -
                          (corners[1].y - corners[0].y) * (corners[2].x - corners[0].x);
      const double side = copysign (1.0, area);
      g_autoptr (SherdOutline) common = NULL;
      SherdPoint centroid;

      if (area == 0.0)
        continue;
      for (guint k = 0; k < 3; k++)
        corners[k].x += shift_x;
      common = clip_by_triangle (first, corners, side);
      if (common->n_points < 3)
        continue;
      centroid = sherd_outline_centroid (common);
      sum += side * sherd_outline_area (common);
      moments[0] += side * sherd_outline_area (common) * centroid.x;
      moments[1] += side * sherd_outline_area (common) * centroid.y;
    }
  return sum;
}

static double
mm2_per_unit (const SherdSurface *surface, double y)
{
  return sherd_surface_r_mm (surface, y) * G_PI / 180.0;
}

/* Whole turns by which the second must be turned so as to reach the first: none on a flat face. */
static void
turns_between (const SherdSurface *surface, const Box *first, const Box *second, int *least, int *most)
{
  *least = *most = 0;
  if (surface->kind == SHERD_SURFACE_FLAT)
    return;
  *least = (int)ceil ((first->low[0] - second->high[0]) / 360.0);
  *most = (int)floor ((first->high[0] - second->low[0]) / 360.0);
}

/**
 * sherd_surface_overlap_mm2:
 * @surface: a surface
 * @first: an outline on it
 * @second: another
 * @where: (out) (optional): the middle of what both cover, when there is something
 *
 * Returns: the area that both cover, azimuths taken round the vessel; 0 if they only touch
 */
double
sherd_surface_overlap_mm2 (const SherdSurface *surface,
                           const SherdOutline *first,
                           const SherdOutline *second,
                           SherdPoint *where)
{
  const Box a = box_of (first), b = box_of (second);
  double sum = 0.0, moments[2] = { 0 };
  int least, most;

  if (a.high[1] <= b.low[1] || b.high[1] <= a.low[1])
    return 0.0;
  turns_between (surface, &a, &b, &least, &most);
  for (int turns = least; turns <= most; turns++)
    if (b.low[0] + 360.0 * turns < a.high[0] && b.high[0] + 360.0 * turns > a.low[0])
      sum += add_overlap (first, second, 360.0 * turns, moments);
  if (sum <= 0.0)
    return 0.0;
  if (where != NULL)
    *where = (SherdPoint){ moments[0] / sum, moments[1] / sum };
  return sum * mm2_per_unit (surface, moments[1] / sum);
}

static double
outside_flat (const SherdSurface *surface, const SherdOutline *on_side, SherdPoint *where)
{
  double moments[2] = { 0 };
  const double area = sherd_outline_area (on_side);
  const SherdPoint centroid = sherd_outline_centroid (on_side);
  double outside = area - add_overlap (on_side, surface->edge, 0.0, moments);

  for (gsize i = 0; i < surface->n_holes; i++)
    {
      double in_hole[2] = { 0 };

      outside += add_overlap (on_side, surface->holes[i], 0.0, in_hole);
      moments[0] -= in_hole[0];
      moments[1] -= in_hole[1];
    }
  if (outside > SHERD_ZONING_LEAST_FAULT_MM2 && where != NULL)
    *where = (SherdPoint){ (area * centroid.x - moments[0]) / outside, (area * centroid.y - moments[1]) / outside };
  return MAX (outside, 0.0);
}

static double
outside_wall (const SherdSurface *surface, const SherdOutline *on_side, SherdPoint *where)
{
  const double length_mm = sherd_profile_length_mm (surface->profile);
  const SherdLine beyond[2] = { { 0.0, -1.0, 0.0 }, { 0.0, 1.0, -length_mm } };
  double outside = 0.0;

  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (SherdOutline) part = sherd_outline_clip (on_side, &beyond[i]);
      const double area = part->n_points < 3 ? 0.0 : sherd_outline_area (part);

      if (area > 0.0 && where != NULL)
        *where = sherd_outline_centroid (part);
      /* Beyond its end the wall goes on as it ends, but never narrower than a brush. */
      outside += area * MAX (mm2_per_unit (surface, i == 0 ? 0.0 : length_mm), G_PI / 180.0);
    }
  return outside;
}

/**
 * sherd_surface_outside_mm2:
 * @surface: a surface
 * @on_side: an outline
 * @where: (out) (optional): the middle of what is wrong, when something is
 *
 * Returns: how much of the outline lies beyond the face or in a hole of it, or above the lip or below the end of a
 * vessel's side
 */
double
sherd_surface_outside_mm2 (const SherdSurface *surface, const SherdOutline *on_side, SherdPoint *where)
{
  return surface->kind == SHERD_SURFACE_FLAT ? outside_flat (surface, on_side, where)
                                             : outside_wall (surface, on_side, where);
}

static void
loop_init (Loop *loop, const SherdSurface *surface, const SherdOutline *on_side)
{
  g_autoptr (SherdOutline) curve = sherd_surface_curve (surface, on_side, FOLLOWING_MM);

  loop->n = curve->n_points;
  loop->positions_mm = g_malloc_n (loop->n, sizeof *loop->positions_mm);
  sherd_surface_positions (surface, curve->points, loop->n, loop->positions_mm);
  for (guint k = 0; k < 3; k++)
    {
      loop->low[k] = INFINITY;
      loop->high[k] = -INFINITY;
      for (gsize i = 0; i < loop->n; i++)
        {
          loop->low[k] = MIN (loop->low[k], loop->positions_mm[i][k]);
          loop->high[k] = MAX (loop->high[k], loop->positions_mm[i][k]);
        }
    }
}

static void
loop_clear (Loop *loop)
{
  g_free (loop->positions_mm);
}

static double
square_to_chord (const double p[3], const double a[3], const double b[3])
{
  double along = 0.0, length = 0.0, square = 0.0;

  for (guint k = 0; k < 3; k++)
    {
      along += (p[k] - a[k]) * (b[k] - a[k]);
      length += (b[k] - a[k]) * (b[k] - a[k]);
    }
  along = length > 0.0 ? CLAMP (along / length, 0.0, 1.0) : 0.0;
  for (guint k = 0; k < 3; k++)
    square += pow (p[k] - a[k] - along * (b[k] - a[k]), 2);
  return square;
}

/* Curves that do not cross are nearest at a corner of one of them. */
static double
least_square (const Loop *corners, const Loop *chords)
{
  double least = INFINITY;

  for (gsize i = 0; i < corners->n; i++)
    for (gsize k = 0; k < chords->n; k++)
      least = MIN (least, square_to_chord (corners->positions_mm[i], chords->positions_mm[k],
                                           chords->positions_mm[(k + 1) % chords->n]));
  return least;
}

static gboolean
may_be_within (const Loop *a, const Loop *b, double within_mm)
{
  for (guint k = 0; k < 3; k++)
    if (a->low[k] - within_mm > b->high[k] || b->low[k] - within_mm > a->high[k])
      return FALSE;
  return TRUE;
}

/* The chord through the air: for zones that lie near one another the distance along the wall is the same. */
static double
loops_distance_mm (const Loop *a, const Loop *b)
{
  return sqrt (MIN (least_square (a, b), least_square (b, a)));
}

/**
 * sherd_surface_distance_mm:
 * @surface: a surface
 * @first: an outline on it
 * @second: another
 *
 * Returns: how far apart their nearest points lie, straight through the air; 0 when they overlap
 */
double
sherd_surface_distance_mm (const SherdSurface *surface, const SherdOutline *first, const SherdOutline *second)
{
  Loop a, b;
  double distance_mm = 0.0;

  if (sherd_surface_overlap_mm2 (surface, first, second, NULL) > 0.0)
    return 0.0;
  loop_init (&a, surface, first);
  loop_init (&b, surface, second);
  distance_mm = loops_distance_mm (&a, &b);
  loop_clear (&a);
  loop_clear (&b);
  return distance_mm;
}

/**
 * sherd_zoning_neighbours:
 * @surface: a surface
 * @zones: (array length=n_zones): outlines on it
 * @n_zones: how many
 * @within_mm: farther apart than this zones are no neighbours
 *
 * Returns: (transfer full) (element-type SherdNeighbours): every pair of zones that lie as near as that
 */
GArray *
sherd_zoning_neighbours (const SherdSurface *surface, const SherdOutline *const *zones, gsize n_zones, double within_mm)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (SherdNeighbours));
  g_autofree Loop *loops = g_new (Loop, n_zones);

  for (gsize i = 0; i < n_zones; i++)
    loop_init (&loops[i], surface, zones[i]);
  for (guint i = 0; i < n_zones; i++)
    for (guint j = i + 1; j < n_zones; j++)
      {
        SherdNeighbours pair = { i, j, 0.0 };

        if (!may_be_within (&loops[i], &loops[j], within_mm))
          continue;
        if (!(sherd_surface_overlap_mm2 (surface, zones[i], zones[j], NULL) > 0.0))
          pair.distance_mm = loops_distance_mm (&loops[i], &loops[j]);
        if (pair.distance_mm <= within_mm)
          g_array_append_val (pairs, pair);
      }
  for (gsize i = 0; i < n_zones; i++)
    loop_clear (&loops[i]);
  return pairs;
}

static void
add_fault (GArray *faults, SherdZoningFaultKind kind, guint first, guint second, double area_mm2, SherdPoint where)
{
  const SherdZoningFault fault = { kind, first, second, area_mm2, where };

  g_array_append_val (faults, fault);
}

/* What is wrong with one zone alone. */
static void
add_own_faults (GArray *faults, const SherdSurface *surface, const SherdOutline *zone, guint i)
{
  SherdPoint where = zone->n_points > 0 ? zone->points[0] : (SherdPoint){ 0.0, 0.0 };
  double outside_mm2;

  if (sherd_outline_crosses_itself (zone, &where))
    {
      add_fault (faults, SHERD_ZONING_CROSSED, i, i, 0.0, where);
      return;
    }
  if (!(sherd_surface_area_mm2 (surface, zone) > SHERD_ZONING_LEAST_FAULT_MM2))
    add_fault (faults, SHERD_ZONING_SMALL, i, i, sherd_surface_area_mm2 (surface, zone), where);
  outside_mm2 = sherd_surface_outside_mm2 (surface, zone, &where);
  if (outside_mm2 > SHERD_ZONING_LEAST_FAULT_MM2)
    add_fault (faults, SHERD_ZONING_OUTSIDE, i, i, outside_mm2, where);
}

/**
 * sherd_zoning_faults:
 * @surface: a surface
 * @zones: (array length=n_zones): outlines on it
 * @n_zones: how many
 *
 * Returns: (transfer full) (element-type SherdZoningFault): all that is wrong, zone by zone: crossed outlines, zones
 * without area, zones beyond the side, zones on one another; overlaps below half a square millimetre are none
 */
GArray *
sherd_zoning_faults (const SherdSurface *surface, const SherdOutline *const *zones, gsize n_zones)
{
  GArray *faults = g_array_new (FALSE, FALSE, sizeof (SherdZoningFault));
  g_autofree Box *boxes = g_new (Box, n_zones);

  for (guint i = 0; i < n_zones; i++)
    boxes[i] = box_of (zones[i]);
  for (guint i = 0; i < n_zones; i++)
    {
      add_own_faults (faults, surface, zones[i], i);
      for (guint j = i + 1; j < n_zones; j++)
        if (boxes[i].high[1] > boxes[j].low[1] && boxes[j].high[1] > boxes[i].low[1])
          {
            SherdPoint where;
            const double overlap_mm2 = sherd_surface_overlap_mm2 (surface, zones[i], zones[j], &where);

            if (overlap_mm2 > SHERD_ZONING_LEAST_FAULT_MM2)
              add_fault (faults, SHERD_ZONING_OVERLAP, i, j, overlap_mm2, where);
          }
    }
  return faults;
}
