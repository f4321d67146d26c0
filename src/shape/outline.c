/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/outline.h"

#include <math.h>
#include <string.h>

/**
 * sherd_outline_new:
 * @points: (array length=n_points): corners in order; copied
 * @n_points: three or more; none for an outline of which nothing is left
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

/* Twice the signed area of the triangle; positive when clockwise on paper, where y runs down. */
static double
turn (SherdPoint a, SherdPoint b, SherdPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/**
 * sherd_outline_equal:
 * @first: (nullable): an outline
 * @second: (nullable): another
 *
 * Returns: whether both have the same corners in the same order
 */
gboolean
sherd_outline_equal (const SherdOutline *first, const SherdOutline *second)
{
  if (first == NULL || second == NULL)
    return first == second;
  return first->n_points == second->n_points &&
         memcmp (first->points, second->points, first->n_points * sizeof *first->points) == 0;
}

/**
 * sherd_outline_signed_area:
 * @outline: an outline
 *
 * Returns: its area by the shoelace formula, positive when the points go round clockwise on paper, where y runs down
 */
double
sherd_outline_signed_area (const SherdOutline *outline)
{
  double twice = 0.0;

  /* Triangles from the first corner: far from the origin nothing is lost. */
  for (gsize i = 1; i + 1 < outline->n_points; i++)
    twice += turn (outline->points[0], outline->points[i], outline->points[i + 1]);
  return twice / 2.0;
}

/**
 * sherd_outline_area:
 * @outline: an outline
 *
 * Returns: its area, 0 or more
 */
double
sherd_outline_area (const SherdOutline *outline)
{
  return fabs (sherd_outline_signed_area (outline));
}

static SherdPoint
mean_of_corners (const SherdOutline *outline)
{
  SherdPoint mean = { 0.0, 0.0 };

  for (gsize i = 0; i < outline->n_points; i++)
    {
      mean.x += outline->points[i].x / (double)outline->n_points;
      mean.y += outline->points[i].y / (double)outline->n_points;
    }
  return mean;
}

/**
 * sherd_outline_centroid:
 * @outline: an outline
 *
 * Returns: the centre of its area; the mean of its corners when it has no area
 */
SherdPoint
sherd_outline_centroid (const SherdOutline *outline)
{
  SherdPoint centroid = { 0.0, 0.0 };
  double twice_area = 0.0;

  for (gsize i = 1; i + 1 < outline->n_points; i++)
    {
      const SherdPoint a = outline->points[0], b = outline->points[i], c = outline->points[i + 1];
      const double part = turn (a, b, c);

      centroid.x += part * (a.x + b.x + c.x) / 3.0;
      centroid.y += part * (a.y + b.y + c.y) / 3.0;
      twice_area += part;
    }
  if (twice_area == 0.0)
    return mean_of_corners (outline);
  return (SherdPoint){ centroid.x / twice_area, centroid.y / twice_area };
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
      const SherdPoint a = outline->points[i > 0 ? i - 1 : outline->n_points - 1];
      const SherdPoint b = outline->points[i];

      if ((a.y > point.y) != (b.y > point.y) && point.x < a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x))
        inside = !inside;
    }
  return inside;
}

static double
distance_to_edge (SherdPoint point, SherdPoint a, SherdPoint b)
{
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double length_squared = dx * dx + dy * dy;
  const double along = length_squared > 0.0 ? ((point.x - a.x) * dx + (point.y - a.y) * dy) / length_squared : 0.0;
  const double nearest = CLAMP (along, 0.0, 1.0);

  return hypot (point.x - a.x - nearest * dx, point.y - a.y - nearest * dy);
}

/**
 * sherd_outline_distance:
 * @outline: an outline
 * @point: in the same frame
 *
 * Returns: how far the point lies from the nearest edge, inside or outside, 0 or more
 */
double
sherd_outline_distance (const SherdOutline *outline, SherdPoint point)
{
  double least = G_MAXDOUBLE;

  for (gsize i = 0; i < outline->n_points; i++)
    least = MIN (least, distance_to_edge (point, outline->points[i], outline->points[(i + 1) % outline->n_points]));
  return least;
}

/**
 * sherd_outline_clip:
 * @outline: an outline
 * @line: a straight line
 *
 * Sutherland and Hodgman, "Reentrant polygon clipping", Communications of the ACM 17(1), 1974. Parts of a concave
 * outline stay joined along the line, which changes neither its area nor what lies inside.
 *
 * Returns: (transfer full): what lies on the inner side of @line, perhaps with no points
 */
SherdOutline *
sherd_outline_clip (const SherdOutline *outline, const SherdLine *line)
{
  SherdOutline *kept = g_new (SherdOutline, 1);

  /* Each edge gives its first corner, its crossing, or both. */
  kept->points = g_new (SherdPoint, 2 * outline->n_points + 1);
  kept->n_points = 0;
  for (gsize i = 0; i < outline->n_points; i++)
    {
      const SherdPoint here = outline->points[i], next = outline->points[(i + 1) % outline->n_points];
      const double here_depth = line->a * here.x + line->b * here.y + line->c;
      const double next_depth = line->a * next.x + line->b * next.y + line->c;

      if (here_depth >= 0.0)
        kept->points[kept->n_points++] = here;
      if ((here_depth > 0.0 && next_depth < 0.0) || (here_depth < 0.0 && next_depth > 0.0))
        {
          const double share = here_depth / (here_depth - next_depth);

          kept->points[kept->n_points++] =
            (SherdPoint){ here.x + share * (next.x - here.x), here.y + share * (next.y - here.y) };
        }
    }
  return kept;
}

/* Our choice: cut off is what lies a thousand times nearer to the camera's own plane than the farthest corner, and so
 * is seen a thousand times larger, far outside any photograph. */
#define NEAREST_SHARE 1e-3

/* The line in front of the camera at which an outline is cut, so that no part of it is seen turned over. FALSE if all
 * of it lies behind. */
static gboolean
find_line_before_camera (const SherdOutline *outline_mm, const SherdHomography *homography, SherdLine *line)
{
  const double *last_row = homography->h[2];
  double farthest = 0.0;

  for (gsize i = 0; i < outline_mm->n_points; i++)
    {
      const SherdPoint point = outline_mm->points[i];
      const double w = last_row[0] * point.x + last_row[1] * point.y + last_row[2];

      if (sherd_homography_sees (homography, point) && fabs (w) > fabs (farthest))
        farthest = w;
    }
  *line = (SherdLine){ last_row[0] / farthest, last_row[1] / farthest, last_row[2] / farthest - NEAREST_SHARE };
  return farthest != 0.0;
}

/**
 * sherd_outline_to_photo:
 * @outline_mm: an outline on the piece
 * @homography: how the piece is seen
 *
 * Straight lines stay straight, so the corners are enough. What would lie behind the camera is cut off.
 *
 * Returns: (transfer full): the outline in the upright photograph, px; without points if all of it is behind the camera
 */
SherdOutline *
sherd_outline_to_photo (const SherdOutline *outline_mm, const SherdHomography *homography)
{
  SherdLine line;
  SherdOutline *seen;

  if (!find_line_before_camera (outline_mm, homography, &line))
    return sherd_outline_new (NULL, 0);
  seen = sherd_outline_clip (outline_mm, &line);
  for (gsize i = 0; i < seen->n_points; i++)
    seen->points[i] = sherd_homography_to_photo (homography, seen->points[i]);
  return seen;
}
