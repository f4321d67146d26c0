/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/mark.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: beyond this no coordinate is a place, on a piece (mm) or in a photograph (px). */
#define FARTHEST 1e9

/* Our choice: marks known to be apart are so by more than this share of the whole. */
#define LEAST_SHARE_OF_PIECE 1e-3

/* Our choice: in the photograph a mark must leave the line of others by more than it may be misplaced (k = 2). */
#define LEAST_STANDARD_DEVIATIONS 2.0

G_DEFINE_QUARK (sherd - shape - error - quark, sherd_shape_error)

/* One of the two planes in which the marks lie. */
typedef struct
{
  SherdPoint *points;
  gsize n_points;
  double least; /* nearer than this is the same place, or the same line */
} Plane;

static gboolean G_GNUC_PRINTF (2, 3) refuse (GError **error, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_propagate_error (error, g_error_new_valist (SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE, format, arguments));
  va_end (arguments);
  return FALSE;
}

static gboolean
is_place (SherdPoint point)
{
  return fabs (point.x) <= FARTHEST && fabs (point.y) <= FARTHEST;
}

static double
distance (SherdPoint a, SherdPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

/* Twice the area of the triangle; its sign tells which way round the corners go. */
static double
turn (SherdPoint a, SherdPoint b, SherdPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static double
extent (const Plane *plane)
{
  double farthest = 0.0;

  for (gsize i = 1; i < plane->n_points; i++)
    farthest = MAX (farthest, distance (plane->points[0], plane->points[i]));
  return farthest;
}

static gboolean
find_same_place (const Plane *plane, gsize *first, gsize *second)
{
  for (*first = 0; *first < plane->n_points; ++*first)
    for (*second = *first + 1; *second < plane->n_points; ++*second)
      if (distance (plane->points[*first], plane->points[*second]) <= plane->least)
        return TRUE;
  return FALSE;
}

static gboolean
is_on_line (const Plane *plane, gsize first, gsize second, gsize i)
{
  const SherdPoint a = plane->points[first], b = plane->points[second];

  return i == first || i == second || fabs (turn (a, b, plane->points[i])) <= plane->least * distance (a, b);
}

/* Four marks of which no three lie in a line are needed, so the marks may not lie in one line all but one. Tells two
 * that draw that line. */
static gboolean
find_line (const Plane *plane, gsize *first, gsize *second)
{
  for (*first = 0; *first < plane->n_points; ++*first)
    for (*second = *first + 1; *second < plane->n_points; ++*second)
      {
        gsize n_off = 0;

        for (gsize i = 0; i < plane->n_points && n_off <= 1; i++)
          n_off += !is_on_line (plane, *first, *second, i);
        if (n_off <= 1)
          return TRUE;
      }
  return FALSE;
}

/* (transfer full): "1, 2, 4" */
static char *
list_line (const Plane *plane, gsize first, gsize second)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (gsize i = 0; i < plane->n_points; i++)
    if (is_on_line (plane, first, second, i))
      g_string_append_printf (list, list->len > 0 ? ", %u" : "%u", (guint)i + 1);
  return g_string_free (g_steal_pointer (&list), FALSE);
}

static gboolean
check_photo (const Plane *photo_px, GError **error)
{
  g_autofree char *list = NULL;
  gsize first, second;

  if (find_same_place (photo_px, &first, &second))
    return refuse (error, _ ("Marks %u and %u lie on one place of the photograph. Move each to its own corner."),
                   (guint)first + 1, (guint)second + 1);
  if (!find_line (photo_px, &first, &second))
    return TRUE;
  list = list_line (photo_px, first, second);
  return refuse (error, _ ("Marks %s lie in one line in the photograph. Move each to its own corner."), list);
}

static gboolean
check_piece (const Plane *piece_mm, GError **error)
{
  g_autofree char *list = NULL;
  gsize first, second;

  if (find_same_place (piece_mm, &first, &second))
    return refuse (error, _ ("Marks %u and %u stand for the same point of the piece. Give each its own point."),
                   (guint)first + 1, (guint)second + 1);
  if (!find_line (piece_mm, &first, &second))
    return TRUE;
  list = list_line (piece_mm, first, second);
  return refuse (error,
                 _ ("Marks %s stand for points in one line of the piece. Take points of which no three lie in a line."),
                 list);
}

/* Of the four triangles among four marks, how many go round in the photograph as they do on the piece. A camera in
 * front of the piece sees all four so; from behind, none. */
static guint
count_kept_triangles (const SherdPoint piece_mm[4], const SherdPoint photo_px[4])
{
  guint n_kept = 0;

  for (guint left_out = 0; left_out < 4; left_out++)
    {
      const guint a = (left_out + 1) % 4, b = (left_out + 2) % 4, c = (left_out + 3) % 4;
      const double on_piece = turn (piece_mm[a], piece_mm[b], piece_mm[c]);

      n_kept += on_piece * turn (photo_px[a], photo_px[b], photo_px[c]) > 0.0;
    }
  return n_kept;
}

static gboolean
find_exchanged (const SherdPoint piece_mm[4], const SherdPoint photo_px[4], guint *first, guint *second)
{
  for (*first = 0; *first < 4; ++*first)
    for (*second = *first + 1; *second < 4; ++*second)
      {
        SherdPoint exchanged[4] = { photo_px[0], photo_px[1], photo_px[2], photo_px[3] };

        exchanged[*first] = photo_px[*second];
        exchanged[*second] = photo_px[*first];
        if (count_kept_triangles (piece_mm, exchanged) == 4)
          return TRUE;
      }
  return FALSE;
}

/* The one of four marks that lies within the triangle of the others; 4 if none does. */
static guint
find_enclosed (const SherdPoint points[4])
{
  for (guint i = 0; i < 4; i++)
    {
      const SherdPoint a = points[(i + 1) % 4], b = points[(i + 2) % 4], c = points[(i + 3) % 4];
      const double whole = turn (a, b, c);

      if (whole * turn (a, b, points[i]) > 0.0 && whole * turn (b, c, points[i]) > 0.0 &&
          whole * turn (c, a, points[i]) > 0.0)
        return i;
    }
  return 4;
}

static gboolean
check_order (const SherdPoint piece_mm[4], const SherdPoint photo_px[4], GError **error)
{
  const guint n_kept = count_kept_triangles (piece_mm, photo_px);
  const guint enclosed = find_enclosed (photo_px);
  guint first, second;

  if (n_kept == 4)
    return TRUE;
  if (n_kept == 0)
    return refuse (error, _ ("The marks go round the wrong way, as if seen from behind. Go round the corners from the "
                             "top left one to the right."));
  if (find_exchanged (piece_mm, photo_px, &first, &second))
    return refuse (error, _ ("Marks %u and %u seem to be exchanged. Move each to the corner of the other."), first + 1,
                   second + 1);
  if (enclosed < 4)
    return refuse (error,
                   _ ("Mark %u lies between the other three, where that point cannot be seen. Move it to its "
                      "own corner."),
                   enclosed + 1);
  return refuse (error, _ ("The marks are in the wrong order. Go round the corners from the top left one to the "
                           "right."));
}

static gboolean
check_places (const SherdMark *marks, gsize n_marks, GError **error)
{
  for (gsize i = 0; i < n_marks; i++)
    if (!is_place (marks[i].piece_mm) || !is_place (marks[i].photo_px))
      return refuse (error, _ ("Mark %u is nowhere: its numbers are out of all range. Set it again."), (guint)i + 1);
  return TRUE;
}

/**
 * sherd_marks_check:
 * @marks: (array length=n_marks): points known on the piece and seen in the photograph
 * @n_marks: how many
 * @mark_sd_px: standard uncertainty with which a mark was placed, px
 * @error: SHERD_SHAPE_ERROR_FEW_MARKS or SHERD_SHAPE_ERROR_DEGENERATE; names the marks, counted from 1
 *
 * Whether the marks can place a plane: four or more, each on its own place, no three of the four in a line (Hartley and
 * Zisserman 2004, section 4.1.3), and four of them in an order in which a camera in front of the piece can see them.
 */
gboolean
sherd_marks_check (const SherdMark *marks, gsize n_marks, double mark_sd_px, GError **error)
{
  g_autofree SherdPoint *points_mm = g_new (SherdPoint, n_marks);
  g_autofree SherdPoint *points_px = g_new (SherdPoint, n_marks);
  Plane piece_mm = { points_mm, n_marks, 0.0 };
  Plane photo_px = { points_px, n_marks, LEAST_STANDARD_DEVIATIONS * mark_sd_px };

  if (n_marks < SHERD_FEWEST_MARKS)
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_FEW_MARKS,
                   _ ("Four marks are needed; there are only %u. Set one on every corner."), (guint)n_marks);
      return FALSE;
    }
  if (!check_places (marks, n_marks, error))
    return FALSE;
  for (gsize i = 0; i < n_marks; i++)
    {
      points_mm[i] = marks[i].piece_mm;
      points_px[i] = marks[i].photo_px;
    }
  piece_mm.least = LEAST_SHARE_OF_PIECE * extent (&piece_mm);
  return check_piece (&piece_mm, error) && check_photo (&photo_px, error) &&
         (n_marks > SHERD_FEWEST_MARKS || check_order (points_mm, points_px, error));
}
