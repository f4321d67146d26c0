/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/outline.h"

#include <math.h>

/**
 * sherd_outline_new:
 * @points: (array length=n_points): corners in order; copied
 * @n_points: three or more
 *
 * Returns: (transfer full): the outline
 */
SherdOutline *
sherd_outline_new (const SherdPoint *points, gsize n_points)
{
  SherdOutline *outline = g_new (SherdOutline, 1);

  outline->points = g_memdup2 (points, sizeof (SherdPoint) * n_points);
  outline->n_points = n_points;
  return outline;
}

/**
 * sherd_outline_new_rectangle:
 * @x_mm: left edge
 * @y_mm: top edge
 * @width_mm: width
 * @height_mm: height
 *
 * Returns: (transfer full): its four corners, from the top left one to the right
 */
SherdOutline *
sherd_outline_new_rectangle (double x_mm, double y_mm, double width_mm, double height_mm)
{
  const SherdPoint corners[4] = {
    { x_mm, y_mm },
    { x_mm + width_mm, y_mm },
    { x_mm + width_mm, y_mm + height_mm },
    { x_mm, y_mm + height_mm },
  };

  return sherd_outline_new (corners, G_N_ELEMENTS (corners));
}

/**
 * sherd_outline_copy:
 * @outline: an outline
 *
 * Returns: (transfer full): another like it
 */
SherdOutline *
sherd_outline_copy (const SherdOutline *outline)
{
  return sherd_outline_new (outline->points, outline->n_points);
}

void
sherd_outline_free (SherdOutline *outline)
{
  if (outline == NULL)
    return;
  g_free (outline->points);
  g_free (outline);
}

/* Twice the signed area of the triangle from the origin; positive when clockwise on paper, where y runs down. */
static double
cross (SherdPoint a, SherdPoint b)
{
  return a.x * b.y - b.x * a.y;
}

static double
signed_area (const SherdPoint *points, gsize n_points)
{
  double twice = 0.0;

  for (gsize i = 0; i < n_points; i++)
    twice += cross (points[i], points[(i + 1) % n_points]);
  return twice / 2.0;
}

/**
 * sherd_outline_area:
 * @outline: an outline
 *
 * Returns: its area by the shoelace formula, 0 or more
 */
double
sherd_outline_area (const SherdOutline *outline)
{
  return fabs (signed_area (outline->points, outline->n_points));
}

/**
 * sherd_outline_centroid:
 * @outline: an outline
 *
 * Returns: the centre of its area; of its corners when it has no area
 */
SherdPoint
sherd_outline_centroid (const SherdOutline *outline)
{
  SherdPoint centroid = { 0.0, 0.0 };
  SherdPoint origin = outline->points[0];
  double twice_area = 0.0;

  for (gsize i = 0; i < outline->n_points; i++)
    {
      SherdPoint a = outline->points[i];
      SherdPoint b = outline->points[(i + 1) % outline->n_points];
      double part;

      a = (SherdPoint){ a.x - origin.x, a.y - origin.y };
      b = (SherdPoint){ b.x - origin.x, b.y - origin.y };
      part = cross (a, b);
      centroid.x += part * (a.x + b.x);
      centroid.y += part * (a.y + b.y);
      twice_area += part;
    }
  if (twice_area == 0.0)
    return origin;
  return (SherdPoint){ origin.x + centroid.x / (3.0 * twice_area), origin.y + centroid.y / (3.0 * twice_area) };
}

/**
 * sherd_outline_contains:
 * @outline: an outline
 * @point: in the same frame
 *
 * Returns: whether the point lies inside, by the even-odd rule; a point on the edge may fall on either side
 */
gboolean
sherd_outline_contains (const SherdOutline *outline, SherdPoint point)
{
  gboolean inside = FALSE;

  for (gsize i = 0; i < outline->n_points; i++)
    {
      SherdPoint a = outline->points[i];
      SherdPoint b = outline->points[(i + 1) % outline->n_points];

      if ((a.y > point.y) != (b.y > point.y) && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x))
        inside = !inside;
    }
  return inside;
}

static double
distance_to_edge (SherdPoint point, SherdPoint a, SherdPoint b)
{
  double length_squared = (b.x - a.x) * (b.x - a.x) + (b.y - a.y) * (b.y - a.y);
  double along =
    length_squared > 0.0 ? ((point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)) / length_squared : 0.0;

  along = CLAMP (along, 0.0, 1.0);
  return hypot (point.x - a.x - along * (b.x - a.x), point.y - a.y - along * (b.y - a.y));
}

static double
distance_to_outline (SherdPoint point, const SherdOutline *outline)
{
  double least = G_MAXDOUBLE;

  for (gsize i = 0; i < outline->n_points; i++)
    least = MIN (least, distance_to_edge (point, outline->points[i], outline->points[(i + 1) % outline->n_points]));
  return least;
}

/* Where the two edges that meet at corner @i meet after both were moved inward. */
static SherdPoint
inset_corner (const SherdOutline *outline, gsize i, double inset, double orientation)
{
  SherdPoint before = outline->points[(i + outline->n_points - 1) % outline->n_points];
  SherdPoint corner = outline->points[i];
  SherdPoint after = outline->points[(i + 1) % outline->n_points];
  double in_length = hypot (corner.x - before.x, corner.y - before.y);
  double out_length = hypot (after.x - corner.x, after.y - corner.y);
  SherdPoint in_normal = { -orientation * (corner.y - before.y) / in_length,
                           orientation * (corner.x - before.x) / in_length };
  SherdPoint out_normal = { -orientation * (after.y - corner.y) / out_length,
                            orientation * (after.x - corner.x) / out_length };
  double cosine = in_normal.x * out_normal.x + in_normal.y * out_normal.y;
  double reach = inset / (1.0 + cosine);

  return (SherdPoint){ corner.x + reach * (in_normal.x + out_normal.x),
                       corner.y + reach * (in_normal.y + out_normal.y) };
}

static gboolean
is_convex (const SherdOutline *outline, double orientation)
{
  for (gsize i = 0; i < outline->n_points; i++)
    {
      SherdPoint a = outline->points[i];
      SherdPoint b = outline->points[(i + 1) % outline->n_points];
      SherdPoint c = outline->points[(i + 2) % outline->n_points];

      if (orientation * ((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x)) < 0.0)
        return FALSE;
    }
  return TRUE;
}

/* How far inside the edge from @a to @b a point lies; negative outside. */
static double
depth (SherdPoint point, SherdPoint a, SherdPoint b, double orientation)
{
  return orientation * ((b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x)) / hypot (b.x - a.x, b.y - a.y);
}

/* Sutherland–Hodgman: keeps of @points what lies at least @inset inside one edge. */
static GArray *
clip_by_edge (GArray *points, SherdPoint a, SherdPoint b, double inset, double orientation)
{
  GArray *kept = g_array_sized_new (FALSE, FALSE, sizeof (SherdPoint), points->len + 1);

  for (guint i = 0; i < points->len; i++)
    {
      SherdPoint here = g_array_index (points, SherdPoint, i);
      SherdPoint next = g_array_index (points, SherdPoint, (i + 1) % points->len);
      double here_depth = depth (here, a, b, orientation) - inset;
      double next_depth = depth (next, a, b, orientation) - inset;

      if (here_depth >= 0.0)
        g_array_append_val (kept, here);
      if ((here_depth > 0.0 && next_depth < 0.0) || (here_depth < 0.0 && next_depth > 0.0))
        {
          double share = here_depth / (here_depth - next_depth);
          SherdPoint crossing = { here.x + share * (next.x - here.x), here.y + share * (next.y - here.y) };

          g_array_append_val (kept, crossing);
        }
    }
  g_array_unref (points);
  return kept;
}

static SherdOutline *
inset_convex (const SherdOutline *outline, double inset, double orientation)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SherdPoint));

  g_array_append_vals (points, outline->points, (guint)outline->n_points);
  for (gsize i = 0; i < outline->n_points && points->len > 0; i++)
    {
      SherdPoint a = outline->points[i];
      SherdPoint b = outline->points[(i + 1) % outline->n_points];

      if (a.x != b.x || a.y != b.y)
        points = clip_by_edge (points, a, b, inset, orientation);
    }
  return points->len >= 3 ? sherd_outline_new ((const SherdPoint *)points->data, points->len) : NULL;
}

/* Moves every corner; the result is only good when each new corner keeps its distance and nothing turned over. */
static SherdOutline *
inset_concave (const SherdOutline *outline, double inset, double orientation)
{
  g_autoptr (SherdOutline) moved = sherd_outline_copy (outline);

  for (gsize i = 0; i < outline->n_points; i++)
    {
      moved->points[i] = inset_corner (outline, i, inset, orientation);
      if (!sherd_outline_contains (outline, moved->points[i]) ||
          distance_to_outline (moved->points[i], outline) < inset * (1.0 - 1e-9))
        return NULL;
    }
  return orientation * signed_area (moved->points, moved->n_points) > 0.0 ? g_steal_pointer (&moved) : NULL;
}

/**
 * sherd_outline_inset:
 * @outline: an outline without crossings
 * @inset: how far every edge is moved inward, 0 or more, in the outline's unit
 *
 * Convex outlines are cut by their own edges moved inward, which is exact. Of others every corner is moved; when parts
 * of such an outline are too narrow for that, nothing is returned rather than something that touches the edge.
 *
 * Returns: (transfer full) (nullable): the smaller outline, or %NULL when nothing is left
 */
SherdOutline *
sherd_outline_inset (const SherdOutline *outline, double inset)
{
  double area = signed_area (outline->points, outline->n_points);
  double orientation = area > 0.0 ? 1.0 : -1.0;

  if (area == 0.0)
    return NULL;
  if (is_convex (outline, orientation))
    return inset_convex (outline, inset, orientation);
  return inset_concave (outline, inset, orientation);
}

/**
 * sherd_outline_to_photo:
 * @outline_mm: an outline on the piece
 * @homography: how the piece is seen
 *
 * Straight lines stay straight, so the corners are enough.
 *
 * Returns: (transfer full): the outline in the upright photograph, px
 */
SherdOutline *
sherd_outline_to_photo (const SherdOutline *outline_mm, const SherdHomography *homography)
{
  SherdOutline *seen = sherd_outline_copy (outline_mm);

  for (gsize i = 0; i < seen->n_points; i++)
    seen->points[i] = sherd_homography_to_photo (homography, seen->points[i]);
  return seen;
}
