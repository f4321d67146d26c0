/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/profile-private.h"

#include <math.h>

/* Parameters at which a cubic may be greatest on the piece: its ends, and where its slope is zero. */
static guint
extremes (const double c[4], double u[4])
{
  const double a = 3.0 * c[3], half = c[2], root = half * half - a * c[1];
  guint n = 0;

  u[n++] = 0.0;
  u[n++] = 1.0;
  if (root >= 0.0)
    {
      const double q = -(half + copysign (sqrt (root), half));

      u[n++] = CLAMP (q / a, 0.0, 1.0);
      u[n++] = CLAMP (c[1] / q, 0.0, 1.0);
    }
  return n;
}

static double
arc_of_greatest (const SherdProfile *profile, gsize coefficients)
{
  double greatest = -INFINITY, arc_mm = 0.0;

  for (guint i = 0; i < profile->pieces->len; i++)
    {
      const SherdProfilePiece *piece = &g_array_index (profile->pieces, SherdProfilePiece, i);
      const double *c = (const double *)(gconstpointer)((const char *)piece + coefficients);
      double u[4];
      const guint n = extremes (c, u);

      for (guint k = 0; k < n; k++)
        if (sherd_cubic (c, u[k]) > greatest + 1e-9)
          {
            greatest = sherd_cubic (c, u[k]);
            arc_mm = piece->arc_mm + sherd_profile_piece_length (piece, 0.0, u[k]);
          }
    }
  return arc_mm;
}

/**
 * sherd_profile_highest_arc_mm:
 * @profile: a profile
 *
 * Returns: arc length of its highest point, of the first one along the curve if there are several
 */
double
sherd_profile_highest_arc_mm (const SherdProfile *profile)
{
  return arc_of_greatest (profile, G_STRUCT_OFFSET (SherdProfilePiece, z));
}

/**
 * sherd_profile_widest_arc_mm:
 * @profile: a profile
 *
 * Returns: arc length of the point farthest from the axis, of the first one along the curve if there are several
 */
double
sherd_profile_widest_arc_mm (const SherdProfile *profile)
{
  return arc_of_greatest (profile, G_STRUCT_OFFSET (SherdProfilePiece, r));
}

/* How far along the chord from @a to @b the nearest place to (r, z) lies, 0 … 1, and its distance. */
static double
along_chord (const SherdProfilePlace *a, const SherdProfilePlace *b, double r_mm, double z_mm, double *distance_mm)
{
  const double dr = b->r_mm - a->r_mm, dz = b->z_mm - a->z_mm, square = dr * dr + dz * dz;
  const double along = square > 0.0 ? ((r_mm - a->r_mm) * dr + (z_mm - a->z_mm) * dz) / square : 0.0;
  const double nearest = CLAMP (along, 0.0, 1.0);

  *distance_mm = hypot (r_mm - a->r_mm - nearest * dr, z_mm - a->z_mm - nearest * dz);
  return nearest;
}

/* Along the tangent to the foot of the plumb line, by half as far where that leads away, as beside a corner. */
static double
refine_nearest (const SherdProfile *profile, double arc_mm, double r_mm, double z_mm)
{
  SherdProfilePlace here = sherd_profile_at (profile, arc_mm);
  double share = 1.0;

  for (guint i = 0; i < 40 && share > 1e-9; i++)
    {
      const double step = (r_mm - here.r_mm) * here.dr + (z_mm - here.z_mm) * here.dz;
      const double next_mm = CLAMP (arc_mm + share * step, 0.0, profile->length_mm);
      const SherdProfilePlace next = sherd_profile_at (profile, next_mm);

      if (hypot (r_mm - next.r_mm, z_mm - next.z_mm) < hypot (r_mm - here.r_mm, z_mm - here.z_mm))
        {
          arc_mm = next_mm;
          here = next;
        }
      else
        share /= 2.0;
    }
  return arc_mm;
}

/**
 * sherd_profile_nearest_arc_mm:
 * @profile: a profile
 * @r_mm: radius
 * @z_mm: height
 *
 * Returns: arc length of the point of the curve nearest to (r, z)
 */
double
sherd_profile_nearest_arc_mm (const SherdProfile *profile, double r_mm, double z_mm)
{
  g_autoptr (GArray) arcs = sherd_profile_sample_arcs (profile, 0.1);
  SherdProfilePlace here = sherd_profile_at (profile, 0.0);
  double least = INFINITY, arc_mm = 0.0;

  for (guint i = 0; i + 1 < arcs->len; i++)
    {
      const double start = g_array_index (arcs, double, i), end = g_array_index (arcs, double, i + 1);
      const SherdProfilePlace next = sherd_profile_at (profile, end);
      double distance;
      const double along = along_chord (&here, &next, r_mm, z_mm, &distance);

      if (distance < least)
        {
          least = distance;
          arc_mm = start + along * (end - start);
        }
      here = next;
    }
  return refine_nearest (profile, arc_mm, r_mm, z_mm);
}

static double
bend (const SherdProfilePiece *piece)
{
  double distance_mm;
  const SherdProfilePlace ends[2] = { { .r_mm = piece->r[0], .z_mm = piece->z[0] },
                                      { .r_mm = sherd_cubic (piece->r, 1.0), .z_mm = sherd_cubic (piece->z, 1.0) } };

  along_chord (&ends[0], &ends[1], sherd_cubic (piece->r, 0.5), sherd_cubic (piece->z, 0.5), &distance_mm);
  return distance_mm;
}

/**
 * sherd_profile_sample_arcs:
 * @profile: a profile
 * @tolerance_mm: how far a chord may lie from the curve
 *
 * Returns: (transfer full) (element-type double): arc lengths, the first 0, the last the whole length; every corner is
 * among them
 */
GArray *
sherd_profile_sample_arcs (const SherdProfile *profile, double tolerance_mm)
{
  GArray *arcs = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < profile->pieces->len; i++)
    {
      const SherdProfilePiece *piece = &g_array_index (profile->pieces, SherdProfilePiece, i);
      /* The sagitta falls with the square of the length. */
      const guint n = (guint)CLAMP (ceil (sqrt (1.5 * bend (piece) / tolerance_mm)), 1.0, 200.0);

      for (guint k = 0; k < n; k++)
        {
          const double arc_mm = piece->arc_mm + sherd_profile_piece_length (piece, 0.0, (double)k / n);

          g_array_append_val (arcs, arc_mm);
        }
    }
  g_array_append_val (arcs, profile->length_mm);
  return arcs;
}
