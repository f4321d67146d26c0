/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/surface.h"

#include <math.h>

#define RADIANS_PER_DEG (G_PI / 180.0)

/* Two corners are on one parallel, or one meridian, to this (degrees or mm). */
#define SAME 1e-9

/* Below this difference the mean of an integral is taken in its middle; the error goes with its square. */
#define LEAST_ARC_MM 1e-3

/* Our choice: an edge is halved at most so often. */
#define DEEPEST 12u

/**
 * sherd_range_outline:
 * @range: between two azimuths and two parallels
 *
 * Returns: (transfer full): its corners on the side
 */
SherdOutline *
sherd_range_outline (const SherdRange *range)
{
  return sherd_outline_new_rectangle (range->azimuth0_deg, range->arc0_mm, range->azimuth1_deg - range->azimuth0_deg,
                                      range->arc1_mm - range->arc0_mm);
}

/**
 * sherd_range_of_outline:
 * @on_side: an outline
 * @range: (out): its azimuths and parallels
 *
 * Returns: whether the outline is a range
 */
gboolean
sherd_range_of_outline (const SherdOutline *on_side, SherdRange *range)
{
  const SherdPoint *p = on_side->points;
  const guint turned = on_side->n_points == 4 && fabs (p[0].x - p[1].x) < SAME ? 1 : 0;

  if (on_side->n_points != 4)
    return FALSE;
  for (guint i = 0; i < 4; i++)
    {
      const SherdPoint here = p[i], next = p[(i + 1) % 4];

      if ((i + turned) % 2 == 0 ? fabs (here.y - next.y) >= SAME : fabs (here.x - next.x) >= SAME)
        return FALSE;
    }
  *range = (SherdRange){ MIN (p[0].x, p[2].x), MAX (p[0].x, p[2].x), MIN (p[0].y, p[2].y), MAX (p[0].y, p[2].y) };
  return TRUE;
}

/**
 * sherd_surface_r_mm:
 * @surface: a surface
 * @y: second coordinate on the side
 *
 * Returns: the radius there; on a flat face what makes a degree one millimetre, so that mm per unit of x is right
 */
double
sherd_surface_r_mm (const SherdSurface *surface, double y)
{
  return surface->kind == SHERD_SURFACE_FLAT ? 1.0 / RADIANS_PER_DEG : sherd_profile_at (surface->profile, y).r_mm;
}

/**
 * sherd_surface_normal:
 * @kind: which side of a vessel
 * @place: on its profile, which runs down from the lip
 * @azimuth_rad: round the axis
 * @normal: (out): unit vector out of the clay, to where the painter stands
 */
void
sherd_surface_normal (SherdSurfaceKind kind, const SherdProfilePlace *place, double azimuth_rad, double normal[3])
{
  const double side = kind == SHERD_SURFACE_OUTSIDE ? 1.0 : -1.0;

  normal[0] = -side * place->dz * cos (azimuth_rad);
  normal[1] = -side * place->dz * sin (azimuth_rad);
  normal[2] = side * place->dr;
}

/**
 * sherd_surface_position:
 * @surface: a surface
 * @on_side: a place on it
 * @position_mm: (out): in space. Vessel: z is the axis upwards from the foot, azimuth 0 on x. Flat: x, y as on the
 * face, z into the clay.
 * @normal: (out) (optional): unit vector out of the clay
 */
void
sherd_surface_position (const SherdSurface *surface, SherdPoint on_side, double position_mm[3], double normal[3])
{
  const double azimuth_rad = on_side.x * RADIANS_PER_DEG;

  if (surface->kind == SHERD_SURFACE_FLAT)
    {
      position_mm[0] = on_side.x;
      position_mm[1] = on_side.y;
      position_mm[2] = 0.0;
      if (normal != NULL)
        {
          normal[0] = normal[1] = 0.0;
          normal[2] = -1.0;
        }
      return;
    }
  const SherdProfilePlace place = sherd_profile_at (surface->profile, on_side.y);

  position_mm[0] = place.r_mm * cos (azimuth_rad);
  position_mm[1] = place.r_mm * sin (azimuth_rad);
  position_mm[2] = place.z_mm;
  if (normal != NULL)
    sherd_surface_normal (surface->kind, &place, azimuth_rad, normal);
}

/**
 * sherd_surface_positions:
 * @surface: a surface
 * @on_side: (array length=n_points): places on it
 * @n_points: how many
 * @positions_mm: (out caller-allocates): the same in space
 *
 * As sherd_surface_position () for each; quick along a parallel.
 */
void
sherd_surface_positions (const SherdSurface *surface,
                         const SherdPoint *on_side,
                         gsize n_points,
                         double (*positions_mm)[3])
{
  SherdProfilePlace place = { 0 };

  for (gsize i = 0; i < n_points; i++)
    if (surface->kind == SHERD_SURFACE_FLAT)
      sherd_surface_position (surface, on_side[i], positions_mm[i], NULL);
    else
      {
        const double azimuth_rad = on_side[i].x * RADIANS_PER_DEG;

        if (i == 0 || on_side[i].y != on_side[i - 1].y)
          place = sherd_profile_at (surface->profile, on_side[i].y);
        positions_mm[i][0] = place.r_mm * cos (azimuth_rad);
        positions_mm[i][1] = place.r_mm * sin (azimuth_rad);
        positions_mm[i][2] = place.z_mm;
      }
}

/* ∫∫ r ds ds up to there, by parts: s ∫ r ds − ∫ r s ds. */
static double
second_integral (const SherdProfile *profile, double arc_mm)
{
  const SherdProfileIntegrals integrals = sherd_profile_integrals (profile, arc_mm);

  return arc_mm * integrals.r_ds_mm2 - integrals.r_s_ds_mm3;
}

/* Mean of ∫ r ds, taken up to each place of a straight edge. */
static double
mean_r_ds (const SherdProfile *profile, double arc0_mm, double arc1_mm)
{
  if (fabs (arc1_mm - arc0_mm) < LEAST_ARC_MM)
    return sherd_profile_integrals (profile, (arc0_mm + arc1_mm) / 2.0).r_ds_mm2;
  return (second_integral (profile, arc1_mm) - second_integral (profile, arc0_mm)) / (arc1_mm - arc0_mm);
}

/**
 * sherd_surface_area_mm2:
 * @surface: a surface
 * @on_side: an outline on it
 *
 * Returns: the true area on the surface: ∮ (∫ r ds) dθ round the outline (Green's formula), exact for straight edges
 */
double
sherd_surface_area_mm2 (const SherdSurface *surface, const SherdOutline *on_side)
{
  double sum = 0.0;

  if (surface->kind == SHERD_SURFACE_FLAT)
    return sherd_outline_area (on_side);
  for (gsize i = 0; i < on_side->n_points; i++)
    {
      const SherdPoint here = on_side->points[i], next = on_side->points[(i + 1) % on_side->n_points];

      if (next.x != here.x)
        sum += (next.x - here.x) * RADIANS_PER_DEG * mean_r_ds (surface->profile, here.y, next.y);
    }
  return fabs (sum);
}

/**
 * sherd_surface_whole_area_mm2:
 * @surface: a surface
 *
 * Returns: its whole area, without the holes of a flat face
 */
double
sherd_surface_whole_area_mm2 (const SherdSurface *surface)
{
  double area_mm2;

  if (surface->kind != SHERD_SURFACE_FLAT)
    return sherd_profile_area_mm2 (surface->profile, 0.0, sherd_profile_length_mm (surface->profile), 360.0);
  area_mm2 = sherd_outline_area (surface->edge);
  for (gsize i = 0; i < surface->n_holes; i++)
    area_mm2 -= sherd_outline_area (surface->holes[i]);
  return area_mm2;
}

/* ∬ r, ∬ r s and ∬ r θ over the triangle from the first corner, by the three points in the middle of its edges. */
static void
add_triangle (const SherdSurface *surface, const SherdPoint corners[3], double sums[3])
{
  const double area = ((corners[1].x - corners[0].x) * (corners[2].y - corners[0].y) -
                       (corners[1].y - corners[0].y) * (corners[2].x - corners[0].x)) /
                      2.0;

  for (guint i = 0; i < 3; i++)
    {
      const SherdPoint a = corners[i], b = corners[(i + 1) % 3];
      const SherdPoint middle = { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 };
      const double weight = area / 3.0 * sherd_surface_r_mm (surface, middle.y);

      sums[0] += weight;
      sums[1] += weight * middle.x;
      sums[2] += weight * middle.y;
    }
}

/**
 * sherd_surface_centroid:
 * @surface: a surface
 * @on_side: an outline on it
 *
 * Returns: the place on the side with the mean azimuth and the mean arc length of its area: where to write the code
 */
SherdPoint
sherd_surface_centroid (const SherdSurface *surface, const SherdOutline *on_side)
{
  double sums[3] = { 0 };

  for (gsize i = 1; i + 1 < on_side->n_points; i++)
    {
      const SherdPoint corners[3] = { on_side->points[0], on_side->points[i], on_side->points[i + 1] };

      add_triangle (surface, corners, sums);
    }
  if (sums[0] == 0.0)
    return sherd_outline_centroid (on_side);
  return (SherdPoint){ sums[1] / sums[0], sums[2] / sums[0] };
}

/* How far the middle of the edge lies from the middle of its chord in space. */
static double
sagitta_mm (const SherdSurface *surface, SherdPoint a, SherdPoint b, const double pa[3], const double pb[3])
{
  const SherdPoint middle = { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 };
  double p[3], square = 0.0;

  sherd_surface_position (surface, middle, p, NULL);
  for (guint i = 0; i < 3; i++)
    square += pow (p[i] - (pa[i] + pb[i]) / 2.0, 2);
  return sqrt (square);
}

static void
add_edge (const SherdSurface *surface, GArray *points, SherdPoint a, SherdPoint b, double tolerance_mm, guint depth)
{
  const SherdPoint middle = { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 };
  double pa[3], pb[3];

  sherd_surface_position (surface, a, pa, NULL);
  sherd_surface_position (surface, b, pb, NULL);
  if (depth < DEEPEST && sagitta_mm (surface, a, b, pa, pb) > tolerance_mm)
    {
      add_edge (surface, points, a, middle, tolerance_mm, depth + 1);
      add_edge (surface, points, middle, b, tolerance_mm, depth + 1);
      return;
    }
  g_array_append_val (points, a);
}

/* Our choice: an edge is first cut into parts short enough that no bend and counterbend hide from its middle. */
#define FIRST_DEG 30.0
#define FIRST_MM 15.0

/* On a parallel the chords follow from its radius alone. */
static guint
first_parts (const SherdSurface *surface, SherdPoint a, SherdPoint b, double tolerance_mm, gboolean *done)
{
  const double turned_deg = fabs (b.x - a.x);
  double r_mm;

  *done = fabs (a.y - b.y) < SAME;
  if (!*done)
    return (guint)ceil (MAX (turned_deg / FIRST_DEG, MAX (fabs (b.y - a.y) / FIRST_MM, 1.0)));
  r_mm = MAX (sherd_surface_r_mm (surface, a.y), tolerance_mm);
  return (guint)CLAMP (ceil (turned_deg * RADIANS_PER_DEG / sqrt (8.0 * tolerance_mm / r_mm)), 1.0, 4096.0);
}

/**
 * sherd_surface_curve:
 * @surface: a surface
 * @on_side: an outline on it
 * @tolerance_mm: how far in space a chord may lie from the edge
 *
 * Returns: (transfer full): the same outline with so many points between that straight lines in space follow it
 */
SherdOutline *
sherd_surface_curve (const SherdSurface *surface, const SherdOutline *on_side, double tolerance_mm)
{
  g_autoptr (GArray) points = NULL;

  if (surface->kind == SHERD_SURFACE_FLAT)
    return sherd_outline_copy (on_side);
  points = g_array_sized_new (FALSE, FALSE, sizeof (SherdPoint), 64);
  for (gsize i = 0; i < on_side->n_points; i++)
    {
      const SherdPoint a = on_side->points[i], b = on_side->points[(i + 1) % on_side->n_points];
      gboolean done;
      const guint n = first_parts (surface, a, b, tolerance_mm, &done);

      for (guint k = 0; k < n; k++)
        {
          const double from = (double)k / n, to = (k + 1.0) / n;
          const SherdPoint c = { a.x + from * (b.x - a.x), a.y + from * (b.y - a.y) };
          const SherdPoint d = { a.x + to * (b.x - a.x), a.y + to * (b.y - a.y) };

          add_edge (surface, points, c, d, tolerance_mm, done ? DEEPEST : 0);
        }
    }
  return sherd_outline_new ((const SherdPoint *)(gpointer)points->data, points->len);
}
