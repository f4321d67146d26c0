/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/side-map.h"

#include <math.h>

#define RADIANS_PER_DEG (G_PI / 180.0)

/* Our choice: on a plan an edge along a parallel is followed in steps of three degrees. */
#define STEP_DEG 3.0

static double
widest_r_mm (const SherdSurface *surface)
{
  return sherd_profile_at (surface->profile, sherd_profile_widest_arc_mm (surface->profile)).r_mm;
}

/* Azimuth runs to the right outside and to the left inside, as the painter sees it. */
static double
mm_per_deg (const SherdSurface *surface)
{
  return (surface->kind == SHERD_SURFACE_INSIDE ? -1.0 : 1.0) * widest_r_mm (surface) * RADIANS_PER_DEG;
}

/* Where the end of the side lies on a plan: at its middle, if the side ends on the axis. */
static double
end_mm (const SherdSurface *surface)
{
  const double length_mm = sherd_profile_length_mm (surface->profile);

  return length_mm + sherd_profile_at (surface->profile, length_mm).r_mm;
}

/**
 * sherd_map_from_side:
 * @surface: a surface; of a flat one the map is the face itself
 * @kind: which map
 * @on_side: a place on it
 *
 * Returns: the place on the map; on a plan azimuth 0 lies to the right of the middle and grows counter-clockwise
 */
SherdPoint
sherd_map_from_side (const SherdSurface *surface, SherdMapKind kind, SherdPoint on_side)
{
  const double azimuth_rad = on_side.x * RADIANS_PER_DEG;
  SherdPoint place = on_side;

  if (surface->kind == SHERD_SURFACE_FLAT)
    return place;
  if (kind == SHERD_MAP_UNROLLED)
    place.x = mm_per_deg (surface) * on_side.x;
  else
    {
      const double out_mm = end_mm (surface) - on_side.y;

      place.x = out_mm * cos (azimuth_rad);
      place.y = -out_mm * sin (azimuth_rad);
    }
  return place;
}

/**
 * sherd_map_to_side:
 * @surface: a surface
 * @kind: which map
 * @map_mm: a place on the map
 *
 * Returns: the place on the side; from a plan with an azimuth of 0 … 360
 */
SherdPoint
sherd_map_to_side (const SherdSurface *surface, SherdMapKind kind, SherdPoint map_mm)
{
  if (surface->kind == SHERD_SURFACE_FLAT)
    return map_mm;
  if (kind == SHERD_MAP_UNROLLED)
    return (SherdPoint){ map_mm.x / mm_per_deg (surface), map_mm.y };

  const double azimuth_deg = atan2 (-map_mm.y, map_mm.x) / RADIANS_PER_DEG;

  return (SherdPoint){ azimuth_deg < 0.0 ? azimuth_deg + 360.0 : azimuth_deg,
                       end_mm (surface) - hypot (map_mm.x, map_mm.y) };
}

/**
 * sherd_map_zone:
 * @surface: a surface
 * @kind: which map
 * @on_side: an outline on it
 *
 * Returns: (transfer full): the outline on the map, with points between where its edges are curved there
 */
SherdOutline *
sherd_map_zone (const SherdSurface *surface, SherdMapKind kind, const SherdOutline *on_side)
{
  const gboolean curved = kind == SHERD_MAP_PLAN && surface->kind != SHERD_SURFACE_FLAT;
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SherdPoint));

  for (gsize i = 0; i < on_side->n_points; i++)
    {
      const SherdPoint a = on_side->points[i], b = on_side->points[(i + 1) % on_side->n_points];
      const guint n = curved ? (guint)MAX (ceil (fabs (b.x - a.x) / STEP_DEG), 1.0) : 1;

      for (guint k = 0; k < n; k++)
        {
          const SherdPoint place = { a.x + (b.x - a.x) * k / n, a.y + (b.y - a.y) * k / n };
          const SherdPoint on_map = sherd_map_from_side (surface, kind, place);

          g_array_append_val (points, on_map);
        }
    }
  return sherd_outline_new ((const SherdPoint *)(gpointer)points->data, points->len);
}
