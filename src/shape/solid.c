/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/solid.h"

#include "shape/space.h"

#define RADIANS_PER_DEG (G_PI / 180.0)

/* Our choice: how closely rings follow the wall. */
#define FOLLOWING_MM 0.3

/* Our choice: at least so many facets round, so that a rim looks round. */
#define LEAST_AROUND 36u

/* Our choice: a narrow angle of view, as of a lens twice as long as a normal one, and a margin round the piece. */
#define DISTANCE_SIZES 3.5
#define FILLED_FRAC 0.9

/* A corner of a facet: where it is, and whether the wall is turned to the camera there. */
static gboolean
set_corner (const SherdSurface *surface,
            const SherdProfilePlace *place,
            double azimuth_rad,
            const double centre_mm[3],
            double position_mm[3])
{
  double normal[3], ray[3];

  position_mm[0] = place->r_mm * cos (azimuth_rad);
  position_mm[1] = place->r_mm * sin (azimuth_rad);
  position_mm[2] = place->z_mm;
  sherd_surface_normal (surface->kind, place, azimuth_rad, normal);
  for (guint i = 0; i < 3; i++)
    ray[i] = centre_mm[i] - position_mm[i];
  return sherd_dot (normal, ray) > 0.0;
}

static void
set_middle (SherdFacet *facet, const SherdSurface *surface, SherdPoint middle_on_side, const double centre_mm[3])
{
  double ray[3];

  facet->kind = surface->kind;
  facet->middle_on_side = middle_on_side;
  sherd_surface_position (surface, middle_on_side, facet->middle_mm, facet->normal);
  for (guint i = 0; i < 3; i++)
    ray[i] = centre_mm[i] - facet->middle_mm[i];
  facet->distance_mm = sherd_norm (ray);
  facet->facing = MAX (sherd_dot (facet->normal, ray) / facet->distance_mm, 0.0);
}

/* Two parallels with facets between them. */
typedef struct
{
  double arc_mm; /* between them */
  SherdProfilePlace upper;
  SherdProfilePlace lower;
  guint n_around;
} Ring;

/* Adds the facet if any of its corners is turned to the camera, so that none is missing along the limb. */
static void
add_facet (GArray *facets, const SherdPinhole *pinhole, const SherdSurface *surface, const Ring *ring, guint i)
{
  const double step_rad = 2.0 * G_PI / ring->n_around;
  const SherdPoint middle = { (i + 0.5) * 360.0 / ring->n_around, ring->arc_mm };
  double centre_mm[3], corners_mm[4][3];
  gboolean seen = FALSE;
  SherdFacet facet;

  sherd_pinhole_centre (pinhole, centre_mm);
  for (guint k = 0; k < 4; k++)
    if (set_corner (surface, k < 2 ? &ring->upper : &ring->lower, step_rad * (k == 0 || k == 3 ? i : i + 1), centre_mm,
                    corners_mm[k]))
      seen = TRUE;
  if (!seen)
    return;
  set_middle (&facet, surface, middle, centre_mm);
  for (guint k = 0; k < 4; k++)
    facet.corners_px[k] = sherd_pinhole_project (pinhole, corners_mm[k]);
  g_array_append_val (facets, facet);
}

static void
add_rings (GArray *facets,
           const SherdPinhole *pinhole,
           const SherdSurface *surface,
           double from_mm,
           double to_mm,
           double size_mm)
{
  const double widest_mm = sherd_profile_at (surface->profile, sherd_profile_widest_arc_mm (surface->profile)).r_mm;
  const guint n_rings = (guint)MAX (ceil ((to_mm - from_mm) / size_mm), 1.0);

  for (guint i = 0; i < n_rings; i++)
    {
      const double upper_mm = from_mm + (to_mm - from_mm) * i / n_rings;
      const double lower_mm = from_mm + (to_mm - from_mm) * (i + 1) / n_rings;
      const Ring ring = { .arc_mm = (upper_mm + lower_mm) / 2.0,
                          .upper = sherd_profile_at (surface->profile, upper_mm),
                          .lower = sherd_profile_at (surface->profile, lower_mm),
                          .n_around = (guint)MAX (ceil (2.0 * G_PI * widest_mm / size_mm), LEAST_AROUND) };

      for (guint k = 0; k < ring.n_around; k++)
        add_facet (facets, pinhole, surface, &ring, k);
    }
}

/* Rings end at corners and where the wall bends, and are no wider than a facet. */
static void
add_side (GArray *facets,
          const SherdPinhole *pinhole,
          SherdSurfaceKind kind,
          const SherdProfile *profile,
          double size_mm)
{
  const SherdSurface surface = { .kind = kind, .profile = profile };
  g_autoptr (GArray) arcs = sherd_profile_sample_arcs (profile, FOLLOWING_MM);

  for (guint i = 0; i + 1 < arcs->len; i++)
    add_rings (facets, pinhole, &surface, g_array_index (arcs, double, i), g_array_index (arcs, double, i + 1),
               size_mm);
}

static int
compare_distances (gconstpointer a, gconstpointer b)
{
  const double difference = ((const SherdFacet *)b)->distance_mm - ((const SherdFacet *)a)->distance_mm;

  return (difference > 0.0) - (difference < 0.0);
}

/**
 * sherd_solid_facets:
 * @vessel: a vessel
 * @pinhole: where it is looked at from
 * @size_mm: of a facet, about
 *
 * Facets for a shaded picture of the vessel: filled one after the other, near ones cover far ones. The underside, which
 * has no zones, is left out: from below one looks through it, unless the outside's profile covers it.
 *
 * Returns: (transfer full) (element-type SherdFacet): the facets turned to the camera, the farthest first
 */
GArray *
sherd_solid_facets (const SherdVessel *vessel, const SherdPinhole *pinhole, double size_mm)
{
  GArray *facets = g_array_new (FALSE, FALSE, sizeof (SherdFacet));

  add_side (facets, pinhole, SHERD_SURFACE_OUTSIDE, vessel->outside, size_mm);
  add_side (facets, pinhole, SHERD_SURFACE_INSIDE, vessel->inside, size_mm);
  g_array_sort (facets, compare_distances);
  return facets;
}

/**
 * sherd_solid_view:
 * @vessel: a vessel
 * @azimuth_deg: azimuth that is turned to the viewer
 * @elevation_deg: how high the viewer stands, −90 … 90
 * @width_px: of the picture
 * @height_px: of the picture
 *
 * Returns: a camera that shows the whole vessel, its axis upright, in the middle of the picture
 */
SherdPinhole
sherd_solid_view (const SherdVessel *vessel,
                  double azimuth_deg,
                  double elevation_deg,
                  double width_px,
                  double height_px)
{
  const double a = azimuth_deg * RADIANS_PER_DEG, e = elevation_deg * RADIANS_PER_DEG;
  const double r_mm = sherd_profile_at (vessel->section, sherd_profile_widest_arc_mm (vessel->section)).r_mm;
  const double height_mm = sherd_profile_at (vessel->section, sherd_profile_highest_arc_mm (vessel->section)).z_mm;
  const double reach_mm = hypot (r_mm, height_mm / 2.0), distance_mm = DISTANCE_SIZES * 2.0 * reach_mm;
  const double middle_mm[3] = { 0.0, 0.0, height_mm / 2.0 };
  SherdPinhole pinhole = { .centre_x_px = width_px / 2.0,
                           .centre_y_px = height_px / 2.0,
                           .rotation = { { -sin (a), cos (a), 0.0 },
                                         { sin (e) * cos (a), sin (e) * sin (a), -cos (e) },
                                         { -cos (e) * cos (a), -cos (e) * sin (a), -sin (e) } } };

  /* A sphere of that reach is seen as large as √(distance² − reach²) makes it. */
  pinhole.focal_px =
    FILLED_FRAC * MIN (width_px, height_px) / 2.0 * sqrt (distance_mm * distance_mm - reach_mm * reach_mm) / reach_mm;
  for (guint i = 0; i < 3; i++)
    pinhole.translation[i] = (i == 2 ? distance_mm : 0.0) - sherd_dot (pinhole.rotation[i], middle_mm);
  return pinhole;
}
