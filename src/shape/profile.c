/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/profile.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_interp.h>
#include <math.h>

/* Our choice: no potter's wheel turns more, and no tape tells less. */
#define LARGEST_MM 5000.0
#define LEAST_STEP_MM 0.01
#define MOST_POINTS 1000u

/* A piece is short enough when quadrature over it and over its halves agree to this. */
#define QUADRATURE_MM 1e-11
#define DEEPEST 24u

/* Our choice: crossing and extremes are looked for with the curve halved this often in every piece. */
#define CHECK_PARTS 4u

/* The part of the curve on which one quadrature is exact: cubics of u = 0 … 1, and the integrals up to its start. */
typedef struct
{
  double r[4]; /* r (u) = r[0] + r[1] u + r[2] u² + r[3] u³ */
  double z[4];
  double length_mm;
  double arc_mm;     /* of its start */
  double r_ds_mm2;   /* ∫ r ds up to its start */
  double r_s_ds_mm3; /* ∫ r s ds up to its start */
  double r_r_dz_mm3; /* ∫ r² dz up to its start */
  gsize point;       /* the given point at or before it */
} Piece;

struct _SherdProfile
{
  GArray *pieces; /* of Piece */
  double length_mm;
};

/* Gauss and Legendre's five nodes on −1 … 1 (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, table
 * 25.4). */
static const double NODES[5] = { 0.0, -0.5384693101056831, 0.5384693101056831, -0.9061798459386640,
                                 0.9061798459386640 };
static const double WEIGHTS[5] = { 0.5688888888888889, 0.4786286704993665, 0.4786286704993665, 0.2369268850561891,
                                   0.2369268850561891 };

static double
cubic (const double c[4], double u)
{
  return c[0] + u * (c[1] + u * (c[2] + u * c[3]));
}

static double
slope (const double c[4], double u)
{
  return c[1] + u * (2.0 * c[2] + u * 3.0 * c[3]);
}

static double
speed (const Piece *piece, double u)
{
  return hypot (slope (piece->r, u), slope (piece->z, u));
}

static double
length_between (const Piece *piece, double u0, double u1)
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

  part[0] = cubic (c, u0);
  part[1] = d * slope (c, u0);
  part[2] = d * d * (c[2] + 3.0 * c[3] * u0);
  part[3] = d * d * d * c[3];
}

static Piece
restrict_piece (const Piece *piece, double u0, double u1)
{
  Piece part = { .point = piece->point };

  restrict_cubic (piece->r, u0, u1, part.r);
  restrict_cubic (piece->z, u0, u1, part.z);
  return part;
}

/* Appends the piece, in as many parts as quadrature needs. */
static void
add_piece (GArray *pieces, const Piece *piece, guint depth)
{
  const double whole = length_between (piece, 0.0, 1.0);
  const double halves = length_between (piece, 0.0, 0.5) + length_between (piece, 0.5, 1.0);

  if (depth < DEEPEST && fabs (whole - halves) > QUADRATURE_MM)
    {
      const Piece first = restrict_piece (piece, 0.0, 0.5), second = restrict_piece (piece, 0.5, 1.0);

      add_piece (pieces, &first, depth + 1);
      add_piece (pieces, &second, depth + 1);
      return;
    }
  g_array_append_vals (pieces, piece, 1);
  g_array_index (pieces, Piece, pieces->len - 1).length_mm = halves;
}

/* The three integrals over the piece from its start to @u. */
static void
integrate (const Piece *piece, double u, double *r_ds, double *r_s_ds, double *r_r_dz)
{
  *r_ds = *r_s_ds = *r_r_dz = 0.0;
  for (guint i = 0; i < 5; i++)
    {
      const double at = u / 2.0 * (1.0 + NODES[i]), weight = WEIGHTS[i] * u / 2.0;
      const double r = cubic (piece->r, at), ds = weight * speed (piece, at);

      *r_ds += r * ds;
      *r_s_ds += r * (piece->arc_mm + length_between (piece, 0.0, at)) * ds;
      *r_r_dz += r * r * slope (piece->z, at) * weight;
    }
}

static SherdProfile *
profile_from_pieces (GArray *pieces)
{
  SherdProfile *profile = g_new0 (SherdProfile, 1);
  Piece sums = { .arc_mm = 0.0 };

  for (guint i = 0; i < pieces->len; i++)
    {
      Piece *piece = &g_array_index (pieces, Piece, i);
      double r_ds, r_s_ds, r_r_dz;

      piece->arc_mm = sums.arc_mm;
      piece->r_ds_mm2 = sums.r_ds_mm2;
      piece->r_s_ds_mm3 = sums.r_s_ds_mm3;
      piece->r_r_dz_mm3 = sums.r_r_dz_mm3;
      integrate (piece, 1.0, &r_ds, &r_s_ds, &r_r_dz);
      sums.arc_mm += piece->length_mm;
      sums.r_ds_mm2 += r_ds;
      sums.r_s_ds_mm3 += r_s_ds;
      sums.r_r_dz_mm3 += r_r_dz;
    }
  profile->pieces = g_array_ref (pieces);
  profile->length_mm = sums.arc_mm;
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
      Piece piece = { .point = first + i };

      hermite (r[i], r[i + 1], step * r_slopes[i], step * r_slopes[i + 1], piece.r);
      hermite (z[i], z[i + 1], step * z_slopes[i], step * z_slopes[i + 1], piece.z);
      add_piece (pieces, &piece, 0);
    }
}

/* (transfer full): the pieces of the curve through all points, broken at corners */
static GArray *
pieces_through (const SherdProfilePoint *points, gsize n_points)
{
  GArray *pieces = g_array_new (FALSE, FALSE, sizeof (Piece));
  gsize first = 0;

  for (gsize i = 1; i < n_points; i++)
    if (points[i].corner || i + 1 == n_points)
      {
        add_run (pieces, points + first, i - first + 1, first);
        first = i;
      }
  return pieces;
}

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
      const Piece *piece = &g_array_index (pieces, Piece, MIN (i / CHECK_PARTS, pieces->len - 1));
      const double u = i < n ? (double)(i % CHECK_PARTS) / CHECK_PARTS : 1.0;

      places[i] = (SherdProfilePlace){ .r_mm = cubic (piece->r, u), .z_mm = cubic (piece->z, u) };
    }
  for (guint i = 0; i < n; i++)
    for (guint j = i + 2; j < n; j++)
      if (chords_cross (&places[i], &places[j]))
        {
          *point = g_array_index (pieces, Piece, j / CHECK_PARTS).point;
          return TRUE;
        }
  return FALSE;
}

static gboolean
check_points (const SherdProfilePoint *points, gsize n_points, gsize *fault, GError **error)
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

static gboolean
check_crossing (GArray *pieces, const SherdProfilePoint *points, gsize *fault, GError **error)
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

  if (!check_points (points, n_points, fault, error))
    return FALSE;
  pieces = pieces_through (points, n_points);
  return check_crossing (pieces, points, fault, error);
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

  if (!check_points (points, n_points, NULL, error))
    return NULL;
  pieces = pieces_through (points, n_points);
  if (!check_crossing (pieces, points, NULL, error))
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

static const Piece *
find_piece (const SherdProfile *profile, double arc_mm)
{
  guint low = 0, high = profile->pieces->len;

  while (high - low > 1)
    {
      const guint middle = (low + high) / 2;

      if (g_array_index (profile->pieces, Piece, middle).arc_mm <= arc_mm)
        low = middle;
      else
        high = middle;
    }
  return &g_array_index (profile->pieces, Piece, low);
}

/* The parameter at which the piece is @length_mm long: Newton, kept between bounds. */
static double
parameter_at (const Piece *piece, double length_mm)
{
  double low = 0.0, high = 1.0;
  double u = piece->length_mm > 0.0 ? CLAMP (length_mm / piece->length_mm, 0.0, 1.0) : 0.0;

  for (guint i = 0; i < 60 && high > low; i++)
    {
      const double excess = length_between (piece, 0.0, u) - length_mm;
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
set_direction (const Piece *piece, double u, SherdProfilePlace *place)
{
  double dr = slope (piece->r, u), dz = slope (piece->z, u);

  if (hypot (dr, dz) < 1e-9)
    {
      dr = cubic (piece->r, 1.0) - cubic (piece->r, 0.0);
      dz = cubic (piece->z, 1.0) - cubic (piece->z, 0.0);
    }
  place->dr = dr / hypot (dr, dz);
  place->dz = dz / hypot (dr, dz);
}

static double
find_parameter (const SherdProfile *profile, double arc_mm, const Piece **piece)
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
  const Piece *piece;
  const double u = find_parameter (profile, arc_mm, &piece);
  SherdProfilePlace place = { .r_mm = MAX (cubic (piece->r, u), 0.0), .z_mm = cubic (piece->z, u) };

  set_direction (piece, u, &place);
  return place;
}

/**
 * sherd_profile_r_ds_mm2:
 * @profile: a profile
 * @arc_mm: along the curve from its start
 *
 * Returns: ∫ r ds up to there: the area of the surface of revolution for one radian of azimuth
 */
double
sherd_profile_r_ds_mm2 (const SherdProfile *profile, double arc_mm)
{
  const Piece *piece;
  const double u = find_parameter (profile, arc_mm, &piece);
  double r_ds, r_s_ds, r_r_dz;

  integrate (piece, u, &r_ds, &r_s_ds, &r_r_dz);
  return piece->r_ds_mm2 + r_ds;
}

/**
 * sherd_profile_r_s_ds_mm3:
 * @profile: a profile
 * @arc_mm: along the curve from its start
 *
 * Returns: ∫ r s ds up to there, with which areas of slanting zones are exact
 */
double
sherd_profile_r_s_ds_mm3 (const SherdProfile *profile, double arc_mm)
{
  const Piece *piece;
  const double u = find_parameter (profile, arc_mm, &piece);
  double r_ds, r_s_ds, r_r_dz;

  integrate (piece, u, &r_ds, &r_s_ds, &r_r_dz);
  return piece->r_s_ds_mm3 + r_s_ds;
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
         fabs (sherd_profile_r_ds_mm2 (profile, arc1_mm) - sherd_profile_r_ds_mm2 (profile, arc0_mm));
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
  const Piece *last = &g_array_index (profile->pieces, Piece, profile->pieces->len - 1);
  double r_ds, r_s_ds, r_r_dz;

  integrate (last, 1.0, &r_ds, &r_s_ds, &r_r_dz);
  return G_PI * (last->r_r_dz_mm3 + r_r_dz);
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
  g_autoptr (GArray) pieces = g_array_new (FALSE, FALSE, sizeof (Piece));

  for (guint i = 0; i < n; i++)
    {
      const Piece *piece = &g_array_index (profile->pieces, Piece, backwards ? n - 1 - i : i);
      const double start = piece->arc_mm, end = piece->arc_mm + piece->length_mm;

      if (end - low > QUADRATURE_MM && high - start > QUADRATURE_MM)
        {
          const double u0 = low <= start ? 0.0 : parameter_at (piece, low - start);
          const double u1 = high >= end ? 1.0 : parameter_at (piece, high - start);
          const Piece part = backwards ? restrict_piece (piece, u1, u0) : restrict_piece (piece, u0, u1);

          add_piece (pieces, &part, DEEPEST);
        }
    }
  return pieces->len > 0 ? profile_from_pieces (pieces) : NULL;
}

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
      const Piece *piece = &g_array_index (profile->pieces, Piece, i);
      const double *c = (const double *)(gconstpointer)((const char *)piece + coefficients);
      double u[4];
      const guint n = extremes (c, u);

      for (guint k = 0; k < n; k++)
        if (cubic (c, u[k]) > greatest + 1e-9)
          {
            greatest = cubic (c, u[k]);
            arc_mm = piece->arc_mm + length_between (piece, 0.0, u[k]);
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
  return arc_of_greatest (profile, G_STRUCT_OFFSET (Piece, z));
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
  return arc_of_greatest (profile, G_STRUCT_OFFSET (Piece, r));
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
bend (const Piece *piece)
{
  double distance_mm;
  const SherdProfilePlace ends[2] = { { .r_mm = piece->r[0], .z_mm = piece->z[0] },
                                      { .r_mm = cubic (piece->r, 1.0), .z_mm = cubic (piece->z, 1.0) } };

  along_chord (&ends[0], &ends[1], cubic (piece->r, 0.5), cubic (piece->z, 0.5), &distance_mm);
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
      const Piece *piece = &g_array_index (profile->pieces, Piece, i);
      /* The sagitta falls with the square of the length. */
      const guint n = (guint)CLAMP (ceil (sqrt (1.5 * bend (piece) / tolerance_mm)), 1.0, 200.0);

      for (guint k = 0; k < n; k++)
        {
          const double arc_mm = piece->arc_mm + length_between (piece, 0.0, (double)k / n);

          g_array_append_val (arcs, arc_mm);
        }
    }
  g_array_append_val (arcs, profile->length_mm);
  return arcs;
}
