/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/cone.h"
#include "shape/surface.h"

#include <math.h>

#define DEG_PER_RADIAN (180.0 / G_PI)

/* Our choice: the edge moved in follows a meridian at places this far apart. */
#define STEP_MM 2.0
#define MOST_STEPS 64u

/* Our choice: how closely the curved edges of a polygon are followed. */
#define FOLLOWING_MM 0.02

#define WHOLE_TURN_DEG (360.0 - 1e-6)

/* At the middle of a floor there is no edge to move. */
#define POLE_MM 0.01

/* The longest row of places at which something is left between the two moved edges. */
static void
longest_row (const gboolean *left, guint n, guint *first, guint *n_row)
{
  guint start = 0;

  *n_row = 0;
  for (guint i = 0; i <= n; i++)
    if (i == n || !left[i])
      {
        if (i - start > *n_row)
          {
            *n_row = i - start;
            *first = start;
          }
        start = i + 1;
      }
}

/* The two upright edges moved in along their parallels. (transfer full) (nullable) */
static SherdOutline *
inset_upright_edges (const SherdSurface *surface, const SherdRange *range, double inset_mm)
{
  const double length_mm = range->arc1_mm - range->arc0_mm;
  const guint n = (guint)CLAMP (ceil (length_mm / STEP_MM), 2.0, MOST_STEPS) + 1;
  g_autofree SherdPoint *points = g_new (SherdPoint, 2 * n);
  g_autofree gboolean *left = g_new (gboolean, n);
  g_autofree double *inner_deg = g_new (double, n);
  guint first = 0, n_row;

  for (guint i = 0; i < n; i++)
    {
      inner_deg[i] = inset_mm / sherd_surface_r_mm (surface, range->arc0_mm + length_mm * i / (n - 1)) * DEG_PER_RADIAN;
      left[i] = range->azimuth0_deg + inner_deg[i] < range->azimuth1_deg - inner_deg[i];
    }
  longest_row (left, n, &first, &n_row);
  if (n_row < 2)
    return NULL;
  for (guint i = 0; i < n_row; i++)
    {
      const double arc_mm = range->arc0_mm + length_mm * (first + i) / (n - 1);

      points[i] = (SherdPoint){ range->azimuth1_deg - inner_deg[first + i], arc_mm };
      points[2 * n_row - 1 - i] = (SherdPoint){ range->azimuth0_deg + inner_deg[first + i], arc_mm };
    }
  return sherd_outline_new (points, 2 * n_row);
}

/* (transfer full) (nullable) */
static SherdOutline *
inset_range (const SherdSurface *surface, const SherdRange *range, double inset_mm)
{
  const double end_mm = sherd_profile_length_mm (surface->profile);
  const gboolean ring = range->azimuth1_deg - range->azimuth0_deg >= WHOLE_TURN_DEG;
  const gboolean to_pole = ring && range->arc1_mm >= end_mm - POLE_MM && sherd_surface_r_mm (surface, end_mm) < POLE_MM;
  SherdRange inner = *range;

  inner.arc0_mm += inset_mm;
  inner.arc1_mm -= to_pole ? 0.0 : inset_mm;
  if (inner.arc1_mm <= inner.arc0_mm)
    return NULL;
  return ring ? sherd_range_outline (&inner) : inset_upright_edges (surface, &inner, inset_mm);
}

/* The cone that lies along the zone. */
static SherdCone
cone_along (const SherdSurface *surface, const SherdOutline *on_side)
{
  SherdCone cone = { .arc0_mm = INFINITY, .arc1_mm = -INFINITY };

  for (gsize i = 0; i < on_side->n_points; i++)
    {
      cone.arc0_mm = MIN (cone.arc0_mm, on_side->points[i].y);
      cone.arc1_mm = MAX (cone.arc1_mm, on_side->points[i].y);
    }
  cone.r0_mm = sherd_surface_r_mm (surface, cone.arc0_mm);
  cone.r1_mm = sherd_surface_r_mm (surface, cone.arc1_mm);
  cone.middle_deg = sherd_surface_centroid (surface, on_side).x;
  return cone;
}

/* A polygon is laid flat on its own cone, which keeps lengths but for the bend of the wall within the zone.
 * (transfer full) (nullable) */
static SherdOutline *
inset_polygon (const SherdSurface *surface, const SherdOutline *on_side, double inset_mm)
{
  g_autoptr (SherdOutline) flat = sherd_surface_curve (surface, on_side, FOLLOWING_MM);
  const SherdCone cone = cone_along (surface, on_side);
  SherdOutline *inner;

  for (gsize i = 0; i < flat->n_points; i++)
    flat->points[i] = sherd_cone_to_paper (&cone, flat->points[i]);
  inner = sherd_outline_inset (flat, inset_mm);
  for (gsize i = 0; inner != NULL && i < inner->n_points; i++)
    inner->points[i] = sherd_cone_from_paper (&cone, inner->points[i]);
  return inner;
}

/**
 * sherd_surface_inset:
 * @surface: a surface
 * @on_side: an outline on it
 * @inset_mm: how far every edge is moved inward along the surface, 0 or more
 *
 * Between azimuths and parallels the edges are moved along the wall; what goes all the way round has no upright edges.
 * A polygon is laid flat for it.
 *
 * Returns: (transfer full) (nullable): the smaller outline on the side, or %NULL when nothing is left
 */
SherdOutline *
sherd_surface_inset (const SherdSurface *surface, const SherdOutline *on_side, double inset_mm)
{
  SherdRange range;

  if (!(inset_mm > 0.0))
    return sherd_outline_copy (on_side);
  if (surface->kind == SHERD_SURFACE_FLAT)
    return sherd_outline_inset (on_side, inset_mm);
  if (sherd_range_of_outline (on_side, &range))
    return inset_range (surface, &range, inset_mm);
  return inset_polygon (surface, on_side, inset_mm);
}
