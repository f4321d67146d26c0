/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/wall.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: the inside follows the outside to this. */
#define FOLLOWING_MM 0.02

/* Our choice: straight walls are followed in steps too, so that no long step swings after a short one. */
#define LONGEST_STEP_MM 2.0

/* Our choice: a corner is rounded off by steps of six degrees; less is no corner. */
#define CORNER_STEP_RAD (6.0 * G_PI / 180.0)
#define BESIDE_CORNER_MM 1e-6

/* Our choice: chords of the quarter round of the lip. */
#define LIP_STEPS 8u

/* Points nearer to one another would be one point of a profile. */
#define LEAST_STEP_MM 0.05

/* Our choice: a loop of the moved curve where the wall bends tighter than it is thick has at most so many points. */
#define LONGEST_LOOP 60u

static gboolean
check_wall (const SherdProfile *outside, const SherdWall *wall, GError **error)
{
  const double highest_mm = sherd_profile_at (outside, sherd_profile_highest_arc_mm (outside)).z_mm;

  if (!(wall->thickness_mm > 0.0) || !(wall->floor_mm > 0.0))
    {
      g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
                           _ ("The wall and the floor need a thickness of more than 0 mm."));
      return FALSE;
    }
  if (wall->floor_mm < highest_mm && wall->thickness_mm < sherd_profile_length_mm (outside) / 2.0)
    return TRUE;
  g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
               _ ("With a floor of %.1f mm and a wall of %.1f mm nothing is left of the inside: the vessel is %.1f mm "
                  "high."),
               wall->floor_mm, wall->thickness_mm, highest_mm);
  return FALSE;
}

/* The place of the inside that lies across the wall. The lip is rounded off over one thickness, a quarter of a circle,
 * so that the diameter and height that the potter measured at its outer edge stay. */
static void
add_across (GArray *points, const SherdProfile *outside, double arc_mm, double thickness_mm)
{
  const SherdProfilePlace place = sherd_profile_at (outside, arc_mm);
  const SherdProfilePoint point = { place.r_mm - place.dz * thickness_mm, place.z_mm + place.dr * thickness_mm, FALSE };

  g_array_append_val (points, point);
}

/* By how much the outside turns at a place, from the direction over it to that under it. */
static double
corner_rad (const SherdProfile *outside, double arc_mm, SherdProfilePlace *over)
{
  const SherdProfilePlace under = sherd_profile_at (outside, arc_mm - BESIDE_CORNER_MM);

  *over = sherd_profile_at (outside, arc_mm + BESIDE_CORNER_MM);
  return atan2 (over->dr * under.dz - over->dz * under.dr, over->dr * under.dr + over->dz * under.dz);
}

/* Round a corner of the outside; at an outer corner this makes a loop. */
static void
add_corner_across (GArray *points, const SherdProfile *outside, double arc_mm, double thickness_mm)
{
  SherdProfilePlace over;
  const double turned_rad = corner_rad (outside, arc_mm, &over);
  const guint n = (guint)(fabs (turned_rad) / CORNER_STEP_RAD);

  for (guint i = 0; i < n; i++)
    {
      const double turn_rad = turned_rad * i / n;
      const double dr = over.dr * cos (turn_rad) - over.dz * sin (turn_rad);
      const double dz = over.dr * sin (turn_rad) + over.dz * cos (turn_rad);
      const SherdProfilePoint point = { over.r_mm - dz * thickness_mm, over.z_mm + dr * thickness_mm, FALSE };

      g_array_append_val (points, point);
    }
}

/* Over how much of the outside the lip is rounded off: one thickness, or down to the first corner if that comes before.
 */
static double
rounded_mm (const SherdProfile *outside, GArray *arcs, double thickness_mm)
{
  const double length_mm = sherd_profile_length_mm (outside);
  double rounded = thickness_mm;
  SherdProfilePlace over;

  for (guint i = 1; i + 1 < arcs->len; i++)
    if (length_mm - g_array_index (arcs, double, i) < rounded &&
        fabs (corner_rad (outside, g_array_index (arcs, double, i), &over)) >= CORNER_STEP_RAD)
      rounded = length_mm - g_array_index (arcs, double, i);
  return rounded;
}

/* From the upper end of a chord, just under a corner that may be there, not from the lower. */
static void
add_chord_across (GArray *points, const SherdProfile *outside, double upper_mm, double lower_mm, double thickness_mm)
{
  const guint n = (guint)ceil ((upper_mm - lower_mm) / LONGEST_STEP_MM);

  for (guint i = 0; i < n; i++)
    add_across (points, outside, upper_mm - BESIDE_CORNER_MM + (lower_mm - upper_mm) * i / n, thickness_mm);
}

/* (transfer full): every place of the outside moved across the wall, from the lip down */
static GArray *
move_across (const SherdProfile *outside, double thickness_mm)
{
  g_autoptr (GArray) arcs = sherd_profile_sample_arcs (outside, FOLLOWING_MM);
  const double length_mm = sherd_profile_length_mm (outside);
  const double lip_mm = rounded_mm (outside, arcs, thickness_mm);
  double upper_mm = length_mm - lip_mm;
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SherdProfilePoint));

  for (guint i = 1; i <= LIP_STEPS; i++)
    {
      const double turned_rad = G_PI_2 * i / LIP_STEPS;

      add_across (points, outside, length_mm - lip_mm * (1.0 - cos (turned_rad)), thickness_mm * sin (turned_rad));
    }
  add_corner_across (points, outside, upper_mm, thickness_mm);
  for (guint i = arcs->len; i-- > 0;)
    if (g_array_index (arcs, double, i) < upper_mm)
      {
        add_chord_across (points, outside, upper_mm, g_array_index (arcs, double, i), thickness_mm);
        upper_mm = g_array_index (arcs, double, i);
        if (i > 0)
          add_corner_across (points, outside, upper_mm, thickness_mm);
      }
  add_across (points, outside, 0.0, thickness_mm);
  return points;
}

/* Where the chords from @a and from @c cross, if they do. */
static gboolean
cross_chords (const SherdProfilePoint *a, const SherdProfilePoint *c, SherdProfilePoint *crossing)
{
  const double abr = a[1].r_mm - a[0].r_mm, abz = a[1].z_mm - a[0].z_mm;
  const double cdr = c[1].r_mm - c[0].r_mm, cdz = c[1].z_mm - c[0].z_mm;
  const double across = abr * cdz - abz * cdr;
  const double acr = c[0].r_mm - a[0].r_mm, acz = c[0].z_mm - a[0].z_mm;
  const double on_first = (acr * cdz - acz * cdr) / across, on_second = (acr * abz - acz * abr) / across;

  if (!(on_first > 0.0 && on_first < 1.0 && on_second > 0.0 && on_second < 1.0))
    return FALSE;
  *crossing = (SherdProfilePoint){ a[0].r_mm + on_first * abr, a[0].z_mm + on_first * abz, FALSE };
  return TRUE;
}

/* Where the outside bends tighter than the wall is thick, the moved curve makes a loop: it is cut off. */
static void
cut_loops (GArray *points)
{
  for (guint i = 0; i + 3 < points->len; i++)
    for (guint j = MIN (i + LONGEST_LOOP, points->len - 2); j > i + 1; j--)
      {
        SherdProfilePoint *point = (SherdProfilePoint *)(gpointer)points->data;
        SherdProfilePoint crossing;

        if (cross_chords (point + i, point + j, &crossing))
          {
            point[i + 1] = crossing;
            g_array_remove_range (points, i + 2, j - i - 1);
            break;
          }
      }
}

/* Takes out what the curve could not tell apart. */
static void
thin_out (GArray *points)
{
  SherdProfilePoint *point = (SherdProfilePoint *)(gpointer)points->data;
  guint n = 1;

  for (guint i = 1; i < points->len; i++)
    if (hypot (point[i].r_mm - point[n - 1].r_mm, point[i].z_mm - point[n - 1].z_mm) >= LEAST_STEP_MM)
      point[n++] = point[i];
  g_array_set_size (points, n);
}

/* Ends the inside where it comes down to the floor. FALSE with the place where the walls meet before that. */
static gboolean
stop_at_floor (GArray *points, double floor_mm, SherdProfilePoint *meeting)
{
  SherdProfilePoint *point = (SherdProfilePoint *)(gpointer)points->data;

  for (guint i = 0; i < points->len; i++)
    {
      if (i > 0 && point[i].z_mm <= floor_mm)
        {
          const double share = (point[i - 1].z_mm - floor_mm) / (point[i - 1].z_mm - point[i].z_mm);

          point[i].r_mm = MAX (point[i - 1].r_mm + share * (point[i].r_mm - point[i - 1].r_mm), 0.0);
          point[i].z_mm = floor_mm;
          g_array_set_size (points, i + 1);
          thin_out (points);
          g_array_index (points, SherdProfilePoint, points->len - 1).z_mm = floor_mm;
          return TRUE;
        }
      if (point[i].r_mm <= LEAST_STEP_MM && i + 1 < points->len)
        {
          *meeting = point[i];
          return FALSE;
        }
    }
  return TRUE;
}

/* From where the wall ends to the middle: flat at the floor's height. */
static void
add_floor (GArray *points, double floor_mm)
{
  const SherdProfilePoint last = g_array_index (points, SherdProfilePoint, points->len - 1);
  const SherdProfilePoint halfway = { last.r_mm / 2.0, floor_mm, FALSE }, middle = { 0.0, floor_mm, FALSE };

  if (last.r_mm <= LEAST_STEP_MM)
    {
      g_array_index (points, SherdProfilePoint, points->len - 1).r_mm = 0.0;
      return;
    }
  if (halfway.r_mm > LEAST_STEP_MM)
    g_array_append_val (points, halfway);
  g_array_append_val (points, middle);
}

/**
 * sherd_wall_inside_points:
 * @outside: from the foot to the lip
 * @wall: how thick it is
 * @error: SHERD_SHAPE_ERROR_PROFILE, names the place
 *
 * The inside: the outside moved square across the wall, without the loops that tight bends would make, down to the
 * floor, which is flat. The lip is rounded off.
 *
 * Returns: (transfer full) (element-type SherdProfilePoint): from beside the lip's outer edge to the middle of the
 * floor, or %NULL
 */
GArray *
sherd_wall_inside_points (const SherdProfile *outside, const SherdWall *wall, GError **error)
{
  g_autoptr (GArray) points = NULL;
  SherdProfilePoint meeting;

  if (!check_wall (outside, wall, error))
    return NULL;
  points = move_across (outside, wall->thickness_mm);
  cut_loops (points);
  thin_out (points);
  if (!stop_at_floor (points, wall->floor_mm, &meeting))
    {
      g_set_error (
        error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE,
        _ ("A wall of %.1f mm closes the vessel at a height of %.1f mm. Take a thinner wall or a wider neck."),
        wall->thickness_mm, meeting.z_mm);
      return NULL;
    }
  add_floor (points, wall->floor_mm);
  return g_steal_pointer (&points);
}
