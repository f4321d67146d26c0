/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/profile-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: no potter's wheel turns more, and no tape tells less. */
#define LARGEST_MM 5000.0
#define LEAST_STEP_MM 0.01
#define MOST_POINTS 1000u

/* Our choice: crossings are looked for with every piece cut into so many chords. */
#define CHECK_PARTS 4u

static gboolean G_GNUC_PRINTF (5, 6)
  refuse_point (const SherdProfilePoint *points, gsize i, gsize *fault, GError **error, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list arguments;

  va_start (arguments, format);
  what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (fault != NULL)
    *fault = i;
  g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
               _ ("Profile, point %u (radius %.1f mm, height %.1f mm): %s"), (guint)i + 1, points[i].r_mm,
               points[i].z_mm, what);
  return FALSE;
}

static gboolean
check_point (const SherdProfilePoint *points, gsize n_points, gsize i, gsize *fault, GError **error)
{
  const SherdProfilePoint *point = &points[i];

  if (!isfinite (point->r_mm) || !isfinite (point->z_mm) || fabs (point->r_mm) > LARGEST_MM ||
      fabs (point->z_mm) > LARGEST_MM)
    return refuse_point (points, i, fault, error, _ ("A radius or height is at most %.0f mm."), LARGEST_MM);
  if (point->r_mm < 0.0)
    return refuse_point (points, i, fault, error, _ ("The radius is less than 0. Measure it from the axis."));
  if (point->z_mm < 0.0)
    return refuse_point (points, i, fault, error, _ ("The point lies below the foot. Measure heights from the table."));
  if (point->r_mm < LEAST_STEP_MM && i > 0 && i + 1 < n_points)
    return refuse_point (points, i, fault, error, _ ("The wall touches the axis. Only the ends of a profile may."));
  if (i > 0 && hypot (point->r_mm - points[i - 1].r_mm, point->z_mm - points[i - 1].z_mm) < LEAST_STEP_MM)
    return refuse_point (points, i, fault, error, _ ("It is the same as the point before it. Take one of them out."));
  return TRUE;
}

static double
turn (const SherdProfilePlace *a, const SherdProfilePlace *b, const SherdProfilePlace *c)
{
  return (b->r_mm - a->r_mm) * (c->z_mm - a->z_mm) - (b->z_mm - a->z_mm) * (c->r_mm - a->r_mm);
}

static gboolean
spans_meet (double a0, double a1, double b0, double b1)
{
  return MAX (a0, a1) >= MIN (b0, b1) && MAX (b0, b1) >= MIN (a0, a1);
}

/* Chords that touch count as crossing; those of a straight wall, one behind the other, do not even meet. */
static gboolean
chords_cross (const SherdProfilePlace *a, const SherdProfilePlace *b)
{
  return spans_meet (a[0].r_mm, a[1].r_mm, b[0].r_mm, b[1].r_mm) &&
         spans_meet (a[0].z_mm, a[1].z_mm, b[0].z_mm, b[1].z_mm) &&
         turn (a, a + 1, b) * turn (a, a + 1, b + 1) <= 0.0 && turn (b, b + 1, a) * turn (b, b + 1, a + 1) <= 0.0;
}

/* FALSE with the given point before the crossing. */
static gboolean
find_crossing (GArray *pieces, gsize *point)
{
  const guint n = pieces->len * CHECK_PARTS;
  g_autofree SherdProfilePlace *places = g_new (SherdProfilePlace, n + 1);

  for (guint i = 0; i <= n; i++)
    {
      const SherdProfilePiece *piece =
        &g_array_index (pieces, SherdProfilePiece, MIN (i / CHECK_PARTS, pieces->len - 1));
      const double u = i < n ? (double)(i % CHECK_PARTS) / CHECK_PARTS : 1.0;

      places[i] = (SherdProfilePlace){ .r_mm = sherd_cubic (piece->r, u), .z_mm = sherd_cubic (piece->z, u) };
    }
  for (guint i = 0; i < n; i++)
    for (guint j = i + 2; j < n; j++)
      if (chords_cross (&places[i], &places[j]))
        {
          *point = g_array_index (pieces, SherdProfilePiece, j / CHECK_PARTS).point;
          return TRUE;
        }
  return FALSE;
}

gboolean
sherd_profile_check_points (const SherdProfilePoint *points, gsize n_points, gsize *fault, GError **error)
{
  if (n_points < 2 || n_points > MOST_POINTS)
    {
      if (fault != NULL)
        *fault = 0;
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                   _ ("A profile has 2 to %u points; this one has %u."), MOST_POINTS, (guint)n_points);
      return FALSE;
    }
  for (gsize i = 0; i < n_points; i++)
    if (!check_point (points, n_points, i, fault, error))
      return FALSE;
  return TRUE;
}

gboolean
sherd_profile_check_crossing (GArray *pieces, const SherdProfilePoint *points, gsize *fault, GError **error)
{
  gsize crossing;

  if (!find_crossing (pieces, &crossing))
    return TRUE;
  return refuse_point (points, crossing, fault, error,
                       _ ("After it the curve crosses itself. Move the point, or put the points in the order in which "
                          "they follow one another along the wall."));
}

/**
 * sherd_profile_check:
 * @points: (array length=n_points): along the wall
 * @n_points: 2 to 1000
 * @fault: (out) (optional): index of the point that is wrong, when something is
 * @error: SHERD_SHAPE_ERROR_PROFILE, names the point
 *
 * Returns: whether the points make a profile: no radius or height below 0, no point twice, no crossing, and the axis
 * touched by the ends at most
 */
gboolean
sherd_profile_check (const SherdProfilePoint *points, gsize n_points, gsize *fault, GError **error)
{
  g_autoptr (GArray) pieces = NULL;

  if (!sherd_profile_check_points (points, n_points, fault, error))
    return FALSE;
  pieces = sherd_profile_pieces_through (points, n_points);
  return sherd_profile_check_crossing (pieces, points, fault, error);
}
