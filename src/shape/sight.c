/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/sight.h"

#include "shape/space.h"

/* Our choice: frusta keep this near to the wall, and a ray starts ten times as far outside of it. */
#define FOLLOWING_MM 0.02
#define OUTSIDE_MM 0.2

/* A frustum so low that it is a flat ring. */
#define FLAT_MM 1e-7

/* Between two circles about the axis; the wall's arc length at either. */
typedef struct
{
  SherdSurfaceKind kind;
  double r0_mm;
  double z0_mm;
  double r1_mm;
  double z1_mm;
  double arc0_mm;
  double arc1_mm;
} Frustum;

struct _SherdSight
{
  GArray *frusta; /* of Frustum */
};

static void
add_side (GArray *frusta, SherdSurfaceKind kind, const SherdProfile *profile)
{
  g_autoptr (GArray) arcs = sherd_profile_sample_arcs (profile, FOLLOWING_MM);
  SherdProfilePlace before = sherd_profile_at (profile, 0.0);

  for (guint i = 1; i < arcs->len; i++)
    {
      const double arc_mm = g_array_index (arcs, double, i);
      const SherdProfilePlace here = sherd_profile_at (profile, arc_mm);
      const Frustum frustum = { kind,      before.r_mm, before.z_mm,
                                here.r_mm, here.z_mm,   g_array_index (arcs, double, i - 1),
                                arc_mm };

      g_array_append_val (frusta, frustum);
      before = here;
    }
}

/* The bottom, flat from the end of the outside to the axis. */
static void
add_bottom (GArray *frusta, const SherdProfile *outside)
{
  const double end_mm = sherd_profile_length_mm (outside);
  const SherdProfilePlace foot = sherd_profile_at (outside, end_mm);
  const Frustum bottom = { SHERD_SURFACE_OUTSIDE, foot.r_mm, foot.z_mm, 0.0, foot.z_mm, end_mm, end_mm };

  if (foot.r_mm > 0.0)
    g_array_append_val (frusta, bottom);
}

/**
 * sherd_sight_new:
 * @vessel: a vessel
 *
 * Returns: (transfer full): what is needed to tell which of its places a camera sees
 */
SherdSight *
sherd_sight_new (const SherdVessel *vessel)
{
  SherdSight *sight = g_new (SherdSight, 1);

  sight->frusta = g_array_new (FALSE, FALSE, sizeof (Frustum));
  add_side (sight->frusta, SHERD_SURFACE_OUTSIDE, vessel->outside);
  add_side (sight->frusta, SHERD_SURFACE_INSIDE, vessel->inside);
  add_bottom (sight->frusta, vessel->outside);
  return sight;
}

void
sherd_sight_free (SherdSight *sight)
{
  if (sight == NULL)
    return;
  g_array_unref (sight->frusta);
  g_free (sight);
}

static gboolean
is_between (double value, double a, double b)
{
  return value >= MIN (a, b) && value <= MAX (a, b);
}

static double
hit_flat (const Frustum *frustum, const double o[3], const double d[3])
{
  const double t = (frustum->z0_mm - o[2]) / d[2];
  const double r_mm = hypot (o[0] + t * d[0], o[1] + t * d[1]);

  return t > 0.0 && is_between (r_mm, frustum->r0_mm, frustum->r1_mm) ? t : INFINITY;
}

/* Whether the ray at @t is on the frustum, and not on the other half of its double cone. */
static double
hit_if_on (const Frustum *frustum, const double o[3], const double d[3], double slope, double t)
{
  const double z_mm = o[2] + t * d[2];

  return t > 0.0 && is_between (z_mm, frustum->z0_mm, frustum->z1_mm) &&
             frustum->r0_mm + slope * (z_mm - frustum->z0_mm) >= 0.0
           ? t
           : INFINITY;
}

/* x² + y² = (r₀ + k (z − z₀))² along the ray: a t² + 2 b t + c = 0. The nearest t > 0, or infinity. */
static double
hit_frustum (const Frustum *frustum, const double o[3], const double d[3])
{
  const double height = frustum->z1_mm - frustum->z0_mm;

  if (fabs (height) < FLAT_MM)
    return hit_flat (frustum, o, d);

  const double k = (frustum->r1_mm - frustum->r0_mm) / height;
  const double r = frustum->r0_mm + k * (o[2] - frustum->z0_mm);
  const double a = d[0] * d[0] + d[1] * d[1] - k * k * d[2] * d[2];
  const double b = o[0] * d[0] + o[1] * d[1] - k * d[2] * r;
  const double c = o[0] * o[0] + o[1] * o[1] - r * r;
  const double root = b * b - a * c;
  double q;

  if (root < 0.0)
    return INFINITY;
  q = -(b + copysign (sqrt (root), b));
  return MIN (hit_if_on (frustum, o, d, k, q / a), hit_if_on (frustum, o, d, k, c / q));
}

/* The part of the ray up to @until may miss the frustum by height alone. */
static gboolean
may_meet (const Frustum *frustum, double low_mm, double high_mm)
{
  return MAX (frustum->z0_mm, frustum->z1_mm) >= low_mm && MIN (frustum->z0_mm, frustum->z1_mm) <= high_mm;
}

/**
 * sherd_sight_is_hidden:
 * @sight: a vessel
 * @position_mm: a place on it
 * @normal: unit vector out of its clay there
 * @camera_mm: where the lens is
 *
 * Returns: whether another part of the vessel lies between; whether the place faces the camera is not asked
 */
gboolean
sherd_sight_is_hidden (const SherdSight *sight,
                       const double position_mm[3],
                       const double normal[3],
                       const double camera_mm[3])
{
  double from[3], direction[3];

  for (guint i = 0; i < 3; i++)
    {
      from[i] = position_mm[i] + OUTSIDE_MM * normal[i];
      direction[i] = camera_mm[i] - from[i];
    }
  for (guint i = 0; i < sight->frusta->len; i++)
    {
      const Frustum *frustum = &g_array_index (sight->frusta, Frustum, i);

      if (may_meet (frustum, MIN (from[2], camera_mm[2]), MAX (from[2], camera_mm[2])) &&
          hit_frustum (frustum, from, direction) < 1.0)
        return TRUE;
    }
  return FALSE;
}

static void
set_hit (const Frustum *frustum, const double from_mm[3], const double direction[3], double t, SherdHit *hit)
{
  const double x = from_mm[0] + t * direction[0], y = from_mm[1] + t * direction[1], z = from_mm[2] + t * direction[2];
  const double dr = frustum->r1_mm - frustum->r0_mm, dz = frustum->z1_mm - frustum->z0_mm;
  const double along =
    ((hypot (x, y) - frustum->r0_mm) * dr + (z - frustum->z0_mm) * dz) / MAX (dr * dr + dz * dz, 1e-12);
  const double azimuth_deg = atan2 (y, x) * 180.0 / G_PI;

  hit->kind = frustum->kind;
  hit->on_side = (SherdPoint){ azimuth_deg < 0.0 ? azimuth_deg + 360.0 : azimuth_deg,
                               frustum->arc0_mm + along * (frustum->arc1_mm - frustum->arc0_mm) };
  hit->distance_mm = t * sherd_norm (direction);
}

/**
 * sherd_sight_first_hit:
 * @sight: a vessel
 * @from_mm: where a ray starts
 * @direction: where it goes
 * @hit: (out): the first place of the vessel that it meets, to 0.02 mm
 *
 * Returns: whether it meets the vessel
 */
gboolean
sherd_sight_first_hit (const SherdSight *sight, const double from_mm[3], const double direction[3], SherdHit *hit)
{
  const Frustum *nearest = NULL;
  double least = INFINITY;

  for (guint i = 0; i < sight->frusta->len; i++)
    {
      const Frustum *frustum = &g_array_index (sight->frusta, Frustum, i);
      const double t = hit_frustum (frustum, from_mm, direction);

      if (t < least)
        {
          least = t;
          nearest = frustum;
        }
    }
  if (nearest == NULL)
    return FALSE;
  set_hit (nearest, from_mm, direction, least, hit);
  return TRUE;
}
