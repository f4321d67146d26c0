/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/tracing.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: less cannot be painted on, more is a slip of the finger. */
#define LEAST_AREA_MM2 25.0
#define LARGEST_MM 5000.0

/* Our choice: a round edge is followed to this. */
#define FOLLOWING_MM 0.01

/* Our choice: ends of a ruler nearer than this give a scale that is worth nothing. */
#define LEAST_SCALE_PX 20.0

static double
turn (SherdPoint a, SherdPoint b, SherdPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

/**
 * sherd_outline_crosses_itself:
 * @outline: an outline
 * @where: (out) (optional): the first crossing
 *
 * Returns: whether two of its edges cross
 */
gboolean
sherd_outline_crosses_itself (const SherdOutline *outline, SherdPoint *where)
{
  const gsize n = outline->n_points;

  for (gsize i = 0; i < n; i++)
    for (gsize j = i + 2; j < n; j++)
      {
        const SherdPoint a = outline->points[i], b = outline->points[i + 1];
        const SherdPoint c = outline->points[j], d = outline->points[(j + 1) % n];
        const double before = turn (c, d, a), after = turn (c, d, b);

        if (before * after >= 0.0 || turn (a, b, c) * turn (a, b, d) >= 0.0)
          continue;
        if (where != NULL)
          *where = (SherdPoint){ a.x + before / (before - after) * (b.x - a.x),
                                 a.y + before / (before - after) * (b.y - a.y) };
        return TRUE;
      }
  return FALSE;
}

static gboolean
check_places (const SherdOutline *outline_mm, GError **error)
{
  for (gsize i = 0; i < outline_mm->n_points; i++)
    if (!(fabs (outline_mm->points[i].x) <= LARGEST_MM && fabs (outline_mm->points[i].y) <= LARGEST_MM))
      {
        g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                     _ ("Point %u of the outline is no place on a piece: a piece is at most %.0f mm large."),
                     (guint)i + 1, LARGEST_MM);
        return FALSE;
      }
  return TRUE;
}

/**
 * sherd_outline_check:
 * @outline_mm: the outline of a face
 * @where: (out) (optional): a crossing, when there is one
 * @error: SHERD_SHAPE_ERROR_PROFILE, in words
 *
 * Returns: whether it is a face: three points or more, an area, and no crossing
 */
gboolean
sherd_outline_check (const SherdOutline *outline_mm, SherdPoint *where, GError **error)
{
  SherdPoint crossing;

  if (outline_mm->n_points < 3)
    {
      g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                           _ ("An outline has three points or more."));
      return FALSE;
    }
  if (!check_places (outline_mm, error))
    return FALSE;
  if (sherd_outline_crosses_itself (outline_mm, &crossing))
    {
      if (where != NULL)
        *where = crossing;
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                   _ ("The outline crosses itself %.1f mm from the left and %.1f mm from the top. Move a point."),
                   crossing.x, crossing.y);
      return FALSE;
    }
  if (sherd_outline_area (outline_mm) < LEAST_AREA_MM2)
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                   _ ("The outline encloses less than %.0f mm². Check its scale."), LEAST_AREA_MM2);
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_outline_new_disc:
 * @centre_mm: its middle
 * @diameter_mm: across, more than 0
 *
 * Returns: (transfer full): a polygon with the disc's exact area, nowhere more than a hundredth of a millimetre beside
 * its edge
 */
SherdOutline *
sherd_outline_new_disc (SherdPoint centre_mm, double diameter_mm)
{
  const double r_mm = diameter_mm / 2.0;
  const guint n = (guint)CLAMP (ceil (G_PI / sqrt (2.0 * FOLLOWING_MM / r_mm)), 16.0, 1024.0);
  const double corner_mm = r_mm * sqrt (2.0 * G_PI / n / sin (2.0 * G_PI / n));
  g_autofree SherdPoint *points = g_new (SherdPoint, n);

  for (guint i = 0; i < n; i++)
    points[i] = (SherdPoint){ centre_mm.x + corner_mm * cos (2.0 * G_PI * i / n),
                              centre_mm.y + corner_mm * sin (2.0 * G_PI * i / n) };
  return sherd_outline_new (points, n);
}

static SherdPoint
least_corner (const SherdOutline *outline)
{
  SherdPoint corner = { INFINITY, INFINITY };

  for (gsize i = 0; i < outline->n_points; i++)
    {
      corner.x = MIN (corner.x, outline->points[i].x);
      corner.y = MIN (corner.y, outline->points[i].y);
    }
  return corner;
}

/* To the frame of a face: origin at the top left corner of the box round it. */
static void
move_to_origin (SherdOutline *outline)
{
  const SherdPoint corner = least_corner (outline);

  for (gsize i = 0; i < outline->n_points; i++)
    {
      outline->points[i].x -= corner.x;
      outline->points[i].y -= corner.y;
    }
}

/**
 * sherd_outline_mirror:
 * @outline_mm: the outline of a face
 *
 * Returns: (transfer full): that of the back, when the piece is turned over like the page of a book
 */
SherdOutline *
sherd_outline_mirror (const SherdOutline *outline_mm)
{
  SherdOutline *mirrored = sherd_outline_copy (outline_mm);

  for (gsize i = 0; i < mirrored->n_points; i++)
    {
      mirrored->points[i] = outline_mm->points[mirrored->n_points - 1 - i];
      mirrored->points[i].x = -mirrored->points[i].x;
    }
  move_to_origin (mirrored);
  return mirrored;
}

/**
 * sherd_tracing_outline:
 * @points_px: (array length=n_points): an outline traced over a photograph
 * @n_points: three or more
 * @scale: two points of the same photograph at a known distance, in the plane of the face
 * @error: SHERD_SHAPE_ERROR_PROFILE, in words
 *
 * Returns: (transfer full): the outline in mm, origin at the top left corner of the box round it; or %NULL
 */
SherdOutline *
sherd_tracing_outline (const SherdPoint *points_px, gsize n_points, const SherdTracingScale *scale, GError **error)
{
  const double length_px = hypot (scale->to_px.x - scale->from_px.x, scale->to_px.y - scale->from_px.y);
  const double mm_per_px = scale->length_mm / length_px;
  g_autoptr (SherdOutline) outline = sherd_outline_new (points_px, n_points);

  if (!(length_px >= LEAST_SCALE_PX) || !(scale->length_mm > 0.0))
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                   _ ("The scale needs two points at least %.0f pixels apart and their distance in mm."),
                   LEAST_SCALE_PX);
      return NULL;
    }
  for (gsize i = 0; i < n_points; i++)
    {
      outline->points[i].x *= mm_per_px;
      outline->points[i].y *= mm_per_px;
    }
  move_to_origin (outline);
  return sherd_outline_check (outline, NULL, error) ? g_steal_pointer (&outline) : NULL;
}
