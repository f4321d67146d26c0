/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/polygon.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/error.h"

/* A hair for sums of decimals. */
#define EDGE_HAIR_MM 1e-6

/* Our choice: less could not be painted. */
#define MIN_AREA_MM2 0.25

/* Twice the area of the triangle, positive when @c lies to the left of @a → @b. */
static double
turn (SherdPoint a, SherdPoint b, SherdPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static gboolean
between (SherdPoint a, SherdPoint b, SherdPoint c)
{
  return fmin (a.x, b.x) <= c.x && c.x <= fmax (a.x, b.x) && fmin (a.y, b.y) <= c.y && c.y <= fmax (a.y, b.y);
}

/* Whether the closed segments have a point in common (orientation test, any textbook of computational geometry). */
static gboolean
segments_meet (SherdPoint a, SherdPoint b, SherdPoint c, SherdPoint d)
{
  const double c_side = turn (a, b, c), d_side = turn (a, b, d);
  const double a_side = turn (c, d, a), b_side = turn (c, d, b);

  if (((c_side > 0.0) != (d_side > 0.0)) && ((a_side > 0.0) != (b_side > 0.0)) && c_side != 0.0 && d_side != 0.0 &&
      a_side != 0.0 && b_side != 0.0)
    return TRUE;
  return (c_side == 0.0 && between (a, b, c)) || (d_side == 0.0 && between (a, b, d)) ||
         (a_side == 0.0 && between (c, d, a)) || (b_side == 0.0 && between (c, d, b));
}

/* Neighbouring edges share a corner, so only edges that are not neighbours must not meet. */
static gboolean
crosses_itself (const SherdOutline *outline)
{
  const gsize n = outline->n_points;

  for (gsize i = 0; i < n; i++)
    for (gsize j = i + 2; j < n; j++)
      {
        const SherdPoint *points = outline->points;

        if (i == 0 && j == n - 1)
          continue;
        if (segments_meet (points[i], points[i + 1], points[j], points[(j + 1) % n]))
          return TRUE;
      }
  return FALSE;
}

/* In case a corner turns back on its own edge: the area it encloses there is none. */
static gboolean
has_repeated_corner (const SherdOutline *outline)
{
  for (gsize i = 0; i < outline->n_points; i++)
    {
      const SherdPoint a = outline->points[i], b = outline->points[(i + 1) % outline->n_points];

      if (a.x == b.x && a.y == b.y)
        return TRUE;
    }
  return FALSE;
}

static gboolean
refuse (const char *problem, GError **error)
{
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, problem);
  return FALSE;
}

/**
 * sherd_polygon_check:
 * @outline: corners in mm
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it cannot be a zone
 */
gboolean
sherd_polygon_check (const SherdOutline *outline, GError **error)
{
  if (outline->n_points < 3 || outline->n_points > SHERD_POLYGON_MAX_POINTS)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("A polygon needs 3 to %u corners."),
                   SHERD_POLYGON_MAX_POINTS);
      return FALSE;
    }
  for (gsize i = 0; i < outline->n_points; i++)
    if (!isfinite (outline->points[i].x) || !isfinite (outline->points[i].y))
      return refuse (_ ("A corner of the polygon is nowhere."), error);
  if (has_repeated_corner (outline))
    return refuse (_ ("Two neighbouring corners of the polygon are the same."), error);
  if (crosses_itself (outline))
    return refuse (_ ("The edges of the polygon cross each other."), error);
  if (fabs (sherd_outline_area (outline)) < MIN_AREA_MM2)
    return refuse (_ ("The polygon encloses hardly any area."), error);
  return TRUE;
}

/**
 * sherd_polygon_is_within:
 * @outline: corners in mm
 * @width_mm: of the face
 * @height_mm: of the face
 *
 * Returns: whether no corner lies outside the face
 */
gboolean
sherd_polygon_is_within (const SherdOutline *outline, double width_mm, double height_mm)
{
  for (gsize i = 0; i < outline->n_points; i++)
    {
      const SherdPoint point = outline->points[i];

      if (!(point.x >= -EDGE_HAIR_MM && point.y >= -EDGE_HAIR_MM && point.x <= width_mm + EDGE_HAIR_MM &&
            point.y <= height_mm + EDGE_HAIR_MM))
        return FALSE;
    }
  return TRUE;
}
