/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What is on top when the facets are filled one after the other must be what a ray meets first. */

#include "config.h"

#include "shape/preset.h"
#include "shape/sight.h"
#include "shape/solid.h"

#include <math.h>

#define SIZE_PX 400.0
#define FACET_MM 4.0

/* A ray through a pixel may meet the facet beside the one that is drawn there: as far as a facet is large. */
#define BESIDE_MM 8.0

/* Facets are flat and sorted by their middles: along the lip and the limb a few pixels may be the neighbour's. */
#define WRONG_FRAC 0.005

static SherdVessel *
new_preset (SherdPreset preset)
{
  const SherdMeasures measures = sherd_preset_example (preset);
  const SherdWall wall = { 6.0, 7.0 };
  g_autoptr (GArray) points = sherd_preset_points (preset, &measures, NULL);

  return sherd_vessel_new ((const SherdProfilePoint *)(gpointer)points->data, points->len, &wall, NULL);
}

static const SherdFacet *
facet_on_top (GArray *facets, SherdPoint px)
{
  for (guint i = facets->len; i-- > 0;)
    {
      const SherdFacet *facet = &g_array_index (facets, SherdFacet, i);
      const SherdOutline outline = { (SherdPoint *)facet->corners_px, 4 };

      if (sherd_outline_contains (&outline, px))
        return facet;
    }
  return NULL;
}

static gboolean
agrees (const SherdFacet *facet, const SherdHit *hit)
{
  return facet->kind == hit->kind && fabs (facet->distance_mm - hit->distance_mm) < BESIDE_MM;
}

static void
assert_covers_as_rays_do (SherdPreset preset, double elevation_deg)
{
  g_autoptr (SherdVessel) vessel = new_preset (preset);
  g_autoptr (SherdSight) sight = sherd_sight_new (vessel);
  const SherdPinhole pinhole = sherd_solid_view (vessel, 40, elevation_deg, SIZE_PX, SIZE_PX);
  g_autoptr (GArray) facets = sherd_solid_facets (vessel, &pinhole, FACET_MM);
  guint n_wrong = 0, n_seen = 0;
  double centre[3];

  sherd_pinhole_centre (&pinhole, centre);
  for (double x = 2.5; x < SIZE_PX; x += 5)
    for (double y = 2.5; y < SIZE_PX; y += 5)
      {
        const SherdFacet *facet = facet_on_top (facets, (SherdPoint){ x, y });
        double ray[3];
        SherdHit hit;
        gboolean is_hit;

        sherd_pinhole_ray (&pinhole, (SherdPoint){ x, y }, ray);
        is_hit = sherd_sight_first_hit (sight, centre, ray, &hit);
        n_seen += is_hit ? 1 : 0;
        if ((facet != NULL) != is_hit || (is_hit && !agrees (facet, &hit)))
          n_wrong++;
      }
  g_test_message ("%u wrong of %u", n_wrong, n_seen);
  g_assert_cmpuint (n_seen, >, 500);
  g_assert_cmpfloat (n_wrong, <=, WRONG_FRAC * n_seen);
}

static void
test_near_covers_far (void)
{
  for (guint preset = SHERD_PRESET_BOWL; preset <= SHERD_PRESET_JAR; preset++)
    for (double elevation_deg = 5; elevation_deg <= 90; elevation_deg += 42.5)
      assert_covers_as_rays_do (preset, elevation_deg);
}

/* The azimuth asked for is in front, growing azimuth to the right, the lip on top. */
static void
test_view_stands_upright (void)
{
  g_autoptr (SherdVessel) jar = new_preset (SHERD_PRESET_JAR);
  const SherdPinhole pinhole = sherd_solid_view (jar, 30, 20, SIZE_PX, SIZE_PX);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = jar->outside };
  double front[3], right[3], low[3];

  sherd_surface_position (&surface, (SherdPoint){ 30, 50 }, front, NULL);
  sherd_surface_position (&surface, (SherdPoint){ 60, 50 }, right, NULL);
  sherd_surface_position (&surface, (SherdPoint){ 30, 150 }, low, NULL);
  g_assert_cmpfloat_with_epsilon (sherd_pinhole_project (&pinhole, front).x, SIZE_PX / 2, 1e-6);
  g_assert_cmpfloat (sherd_pinhole_project (&pinhole, right).x, >, SIZE_PX / 2 + 10);
  g_assert_cmpfloat (sherd_pinhole_project (&pinhole, low).y, >, sherd_pinhole_project (&pinhole, front).y + 10);
}

static void
test_whole_vessel_is_in_the_picture (void)
{
  g_autoptr (SherdVessel) dish = new_preset (SHERD_PRESET_DISH);

  for (double elevation_deg = -90; elevation_deg <= 90; elevation_deg += 30)
    {
      const SherdPinhole pinhole = sherd_solid_view (dish, 0, elevation_deg, 600, 300);
      g_autoptr (GArray) facets = sherd_solid_facets (dish, &pinhole, 6.0);

      g_assert_cmpuint (facets->len, >, 100);
      for (guint i = 0; i < facets->len; i++)
        for (guint k = 0; k < 4; k++)
          {
            const SherdPoint corner = g_array_index (facets, SherdFacet, i).corners_px[k];

            g_assert_cmpfloat (fabs (corner.x - 300), <, 150);
            g_assert_cmpfloat (fabs (corner.y - 150), <, 150);
          }
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/solid/near-covers-far", test_near_covers_far);
  g_test_add_func ("/shape/solid/view-stands-upright", test_view_stands_upright);
  g_test_add_func ("/shape/solid/whole-vessel-is-in-the-picture", test_whole_vessel_is_in_the_picture);
  return g_test_run ();
}
