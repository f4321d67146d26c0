/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/profile-private.h"

#include <gsl/gsl_interp.h>
#include <math.h>

/* A piece is short enough when quadrature over it and over its halves agree to this. */
#define QUADRATURE_MM 1e-11
#define DEEPEST 24u

/* Gauss and Legendre's five nodes on −1 … 1 (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, table
 * 25.4). */
static const double NODES[5] = { 0.0, -0.5384693101056831, 0.5384693101056831, -0.9061798459386640,
                                 0.9061798459386640 };
static const double WEIGHTS[5] = { 0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891,
                                   0.2369268850561891 };

static double
slope (const double c[4], double u)
{
  return c[1] + u * (2.0 * c[2] + u * 3.0 * c[3]);
}

static double
speed (const SherdProfilePiece *piece, double u)
{
  return hypot (slope (piece->r, u), slope (piece->z, u));
}

double
sherd_profile_piece_length (const SherdProfilePiece *piece, double u0, double u1)
{
  const double middle = (u0 + u1) / 2.0, half = (u1 - u0) / 2.0;
  double sum = 0.0;

  for (guint i = 0; i < 5; i++)
    sum += WEIGHTS[i] * speed (piece, middle + half * NODES[i]);
  return half * sum;
}

/* The cubic run through from @u0 to @u1 while the new parameter goes from 0 to 1. */
static void
restrict_cubic (const double c[4], double u0, double u1, double part[4])
{
  const double d = u1 - u0;

  part[0] = sherd_cubic (c, u0);
  part[1] = d * slope (c, u0);
  part[2] = d * d * (c[2] + 3.0 * c[3] * u0);
  part[3] = d * d * d * c[3];
}

static SherdProfilePiece
restrict_piece (const SherdProfilePiece *piece, double u0, double u1)
{
  SherdProfilePiece part = { .point = piece->point };

  restrict_cubic (piece->r, u0, u1, part.r);
  restrict_cubic (piece->z, u0, u1, part.z);
  return part;
}

/* Appends the piece, in as many parts as quadrature needs. */
static void
add_piece (GArray *pieces, const SherdProfilePiece *piece, guint depth)
{
  const double whole = sherd_profile_piece_length (piece, 0.0, 1.0);
  const double halves = sherd_profile_piece_length (piece, 0.0, 0.5) + sherd_profile_piece_length (piece, 0.5, 1.0);

  if (depth < DEEPEST && fabs (whole - halves) > QUADRATURE_MM)
    {
      const SherdProfilePiece first = restrict_piece (piece, 0.0, 0.5), second = restrict_piece (piece, 0.5, 1.0);

      add_piece (pieces, &first, depth + 1);
      add_piece (pieces, &second, depth + 1);
      return;
    }
  g_array_append_vals (pieces, piece, 1);
  g_array_index (pieces, SherdProfilePiece, pieces->len - 1).length_mm = halves;
}

/* Up to @u of the piece. */
static SherdProfileIntegrals
integrate (const SherdProfilePiece *piece, double u)
{
  SherdProfileIntegrals sums = piece->before;

  for (guint i = 0; i < 5; i++)
    {
      const double at = u / 2.0 * (1.0 + NODES[i]), weight = WEIGHTS[i] * u / 2.0;
      const double r = sherd_cubic (piece->r, at), ds = weight * speed (piece, at);

      sums.r_ds_mm2 += r * ds;
      sums.r_s_ds_mm3 += r * (piece->arc_mm + sherd_profile_piece_length (piece, 0.0, at)) * ds;
      sums.r_r_dz_mm3 += r * r * slope (piece->z, at) * weight;
    }
  return sums;
}

static SherdProfile *
profile_from_pieces (GArray *pieces)
{
  SherdProfile *profile = g_new0 (SherdProfile, 1);
  SherdProfileIntegrals sums = { 0 };

  for (guint i = 0; i < pieces->len; i++)
    {
      SherdProfilePiece *piece = &g_array_index (pieces, SherdProfilePiece, i);

      piece->arc_mm = profile->length_mm;
      piece->before = sums;
      sums = integrate (piece, 1.0);
      profile->length_mm += piece->length_mm;
    }
  profile->pieces = g_array_ref (pieces);
  return profile;
}

/* Slopes by the chord length, of one coordinate of points without a corner between them. Steffen, "A simple method for
 * monotonic interpolation in one dimension", Astronomy and Astrophysics 239 (1990), 443: between two points the curve
 * leaves neither's radius nor height, so that a straight wall stays straight and the widest point stays the widest. */
static void
steffen_slopes (const double *chord, const double *value, gsize n, double *slopes)
{
  gsl_interp *curve;

  if (n < 3)
    {
      slopes[0] = slopes[1] = (value[1] - value[0]) / (chord[1] - chord[0]);
      return;
    }
  curve = gsl_interp_alloc (gsl_interp_steffen, n);
  gsl_interp_init (curve, chord, value, n);
  for (gsize i = 0; i < n; i++)
    slopes[i] = gsl_interp_eval_deriv (curve, chord, value, chord[i], NULL);
  gsl_interp_free (curve);
}

static void
hermite (double from, double to, double slope0, double slope1, double c[4])
{
  c[0] = from;
  c[1] = slope0;
  c[2] = 3.0 * (to - from) - 2.0 * slope0 - slope1;
  c[3] = 2.0 * (from - to) + slope0 + slope1;
}

static void
add_run (GArray *pieces, const SherdProfilePoint *points, gsize n, gsize first)
{
  g_autofree double *memory = g_new (double, 5 * n);
  double *chord = memory, *r = memory + n, *z = r + n, *r_slopes = z + n, *z_slopes = r_slopes + n;

  for (gsize i = 0; i < n; i++)
    {
      r[i] = points[i].r_mm;
      z[i] = points[i].z_mm;
      chord[i] = i == 0 ? 0.0 : chord[i - 1] + hypot (r[i] - r[i - 1], z[i] - z[i - 1]);
    }
  steffen_slopes (chord, r, n, r_slopes);
  steffen_slopes (chord, z, n, z_slopes);
  for (gsize i = 0; i + 1 < n; i++)
    {
      const double step = chord[i + 1] - chord[i];
      SherdProfilePiece piece = { .point = first + i };

      hermite (r[i], r[i + 1], step * r_slopes[i], step * r_slopes[i + 1], piece.r);
      hermite (z[i], z[i + 1], step * z_slopes[i], step * z_slopes[i + 1], piece.z);
      add_piece (pieces, &piece, 0);
    }
}

/* (transfer full): the pieces of the curve through all points, broken at corners */
GArray *
sherd_profile_pieces_through (const SherdProfilePoint *points, gsize n_points)
{
  GArray *pieces = g_array_new (FALSE, FALSE, sizeof (SherdProfilePiece));
  gsize first = 0;

  for (gsize i = 1; i < n_points; i++)
    if (points[i].corner || i + 1 == n_points)
      {
        add_run (pieces, points + first, i - first + 1, first);
        first = i;
      }
  return pieces;
}

/**
 * sherd_profile_new:
 * @points: (array length=n_points): along the wall
 * @n_points: 2 to 1000
 * @error: as sherd_profile_check ()
 *
 * The curve through the points: radius and height each a cubic of the chord length along the points, so that vertical
 * walls, flat bases and shoulders that turn back are all alike; monotone between points (Steffen), broken at corners.
 *
 * Returns: (transfer full): the curve, or %NULL
 */
SherdProfile *
sherd_profile_new (const SherdProfilePoint *points, gsize n_points, GError **error)
{
  g_autoptr (GArray) pieces = NULL;

  if (!sherd_profile_check_points (points, n_points, NULL, error))
    return NULL;
  pieces = sherd_profile_pieces_through (points, n_points);
  if (!sherd_profile_check_crossing (pieces, points, NULL, error))
    return NULL;
  return profile_from_pieces (pieces);
}

void
sherd_profile_free (SherdProfile *profile)
{
  if (profile == NULL)
    return;
  g_array_unref (profile->pieces);
  g_free (profile);
}

/**
 * sherd_profile_length_mm:
 * @profile: a profile
 *
 * Returns: its arc length
 */
double
sherd_profile_length_mm (const SherdProfile *profile)
{
  return profile->length_mm;
}

static const SherdProfilePiece *
find_piece (const SherdProfile *profile, double arc_mm)
{
  guint low = 0, high = profile->pieces->len;

  while (high - low > 1)
    {
      const guint middle = (low + high) / 2;

      if (g_array_index (profile->pieces, SherdProfilePiece, middle).arc_mm <= arc_mm)
        low = middle;
      else
        high = middle;
    }
  return &g_array_index (profile->pieces, SherdProfilePiece, low);
}

/* The parameter at which the piece is @length_mm long: Newton, kept between bounds. */
static double
parameter_at (const SherdProfilePiece *piece, double length_mm)
{
  double low = 0.0, high = 1.0;
  double u = piece->length_mm > 0.0 ? CLAMP (length_mm / piece->length_mm, 0.0, 1.0) : 0.0;

  for (guint i = 0; i < 60 && high > low; i++)
    {
      const double excess = sherd_profile_piece_length (piece, 0.0, u) - length_mm;
      const double next = u - excess / speed (piece, u);

      if (fabs (excess) <= QUADRATURE_MM)
        break;
      if (excess > 0.0)
        high = u;
      else
        low = u;
      u = next >= low && next <= high ? next : (low + high) / 2.0;
    }
  return u;
}

/* Where the curve stands still, at a sharp tip, the direction is that of what comes after. */
static void
set_direction (const SherdProfilePiece *piece, double u, SherdProfilePlace *place)
{
  double dr = slope (piece->r, u), dz = slope (piece->z, u);

  if (hypot (dr, dz) < 1e-9)
    {
      dr = sherd_cubic (piece->r, 1.0) - sherd_cubic (piece->r, 0.0);
      dz = sherd_cubic (piece->z, 1.0) - sherd_cubic (piece->z, 0.0);
    }
  place->dr = dr / hypot (dr, dz);
  place->dz = dz / hypot (dr, dz);
}

static double
find_parameter (const SherdProfile *profile, double arc_mm, const SherdProfilePiece **piece)
{
  const double within_mm = CLAMP (arc_mm, 0.0, profile->length_mm);

  *piece = find_piece (profile, within_mm);
  return parameter_at (*piece, within_mm - (*piece)->arc_mm);
}

/**
 * sherd_profile_at:
 * @profile: a profile
 * @arc_mm: along the curve from its start; beyond an end means that end
 *
 * Returns: the place there, exact to 1e-10 mm of arc length; at a corner with the direction after it
 */
SherdProfilePlace
sherd_profile_at (const SherdProfile *profile, double arc_mm)
{
  const SherdProfilePiece *piece;
  const double u = find_parameter (profile, arc_mm, &piece);
  SherdProfilePlace place = { .r_mm = MAX (sherd_cubic (piece->r, u), 0.0), .z_mm = sherd_cubic (piece->z, u) };

  set_direction (piece, u, &place);
  return place;
}

/**
 * sherd_profile_integrals:
 * @profile: a profile
 * @arc_mm: along the curve from its start
 *
 * Returns: the integrals from the start up to there
 */
SherdProfileIntegrals
sherd_profile_integrals (const SherdProfile *profile, double arc_mm)
{
  const SherdProfilePiece *piece;
  const double u = find_parameter (profile, arc_mm, &piece);

  return integrate (piece, u);
}

/**
 * sherd_profile_area_mm2:
 * @profile: a profile
 * @arc0_mm: along the curve
 * @arc1_mm: along the curve, either way
 * @azimuth_deg: how far round, 360 for all of it
 *
 * Returns: the true area of the surface of revolution between the two parallels (Pappus' first theorem)
 */
double
sherd_profile_area_mm2 (const SherdProfile *profile, double arc0_mm, double arc1_mm, double azimuth_deg)
{
  return azimuth_deg * G_PI / 180.0 *
         fabs (sherd_profile_integrals (profile, arc1_mm).r_ds_mm2 -
               sherd_profile_integrals (profile, arc0_mm).r_ds_mm2);
}

/**
 * sherd_profile_volume_mm3:
 * @profile: a profile
 *
 * Returns: π ∫ r² dz along the curve: what the surface and flat discs at both of its ends enclose, positive when the
 * curve ends higher than it starts
 */
double
sherd_profile_volume_mm3 (const SherdProfile *profile)
{
  return G_PI * sherd_profile_integrals (profile, profile->length_mm).r_r_dz_mm3;
}

/**
 * sherd_profile_cut:
 * @profile: a profile
 * @from_arc_mm: where the part starts
 * @to_arc_mm: where it ends; less than @from_arc_mm turns it round
 *
 * Returns: (transfer full): the same curve between the two places, measured from the first
 */
SherdProfile *
sherd_profile_cut (const SherdProfile *profile, double from_arc_mm, double to_arc_mm)
{
  const gboolean backwards = to_arc_mm < from_arc_mm;
  const double low = MIN (from_arc_mm, to_arc_mm), high = MAX (from_arc_mm, to_arc_mm);
  const guint n = profile->pieces->len;
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (SherdProfilePiece));

  for (guint i = 0; i < n; i++)
    {
      const SherdProfilePiece *piece = &g_array_index (profile->pieces, SherdProfilePiece, backwards ? n - 1 - i : i);
      const double start = piece->arc_mm, end = piece->arc_mm + piece->length_mm;

      if (end - low > QUADRATURE_MM && high - start > QUADRATURE_MM)
        {
          const double u0 = low <= start ? 0.0 : parameter_at (piece, low - start);
          const double u1 = high >= end ? 1.0 : parameter_at (piece, high - start);
          const SherdProfilePiece part = backwards ? restrict_piece (piece, u1, u0) : restrict_piece (piece, u0, u1);

          add_piece (pieces, &part, DEEPEST);
        }
    }
  return pieces->len > 0 ? profile_from_pieces (pieces) : NULL;
}
