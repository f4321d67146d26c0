/* SPDX-License-Identifier: GPL-3.0-or-later */

/* By hand; and which way round things lie. */

#include "config.h"

#include "shape/side-map.h"

#include "bodies.h"

#include <math.h>

#define EXACT 1e-9

static void
test_outside_runs_right_and_inside_left (void)
{
  g_autoptr (SherdProfile) cone = bodies_new_cone (80, 50, 40);
  const SherdSurface out = { .kind = SHERD_SURFACE_OUTSIDE, .profile = cone };
  const SherdSurface in = { .kind = SHERD_SURFACE_INSIDE, .profile = cone };
  const SherdPoint place = { 90, 20 };

  g_assert_cmpfloat_with_epsilon (sherd_map_from_side (&out, SHERD_MAP_UNROLLED, place).x, G_PI_2 * 80, EXACT);
  g_assert_cmpfloat_with_epsilon (sherd_map_from_side (&in, SHERD_MAP_UNROLLED, place).x, -G_PI_2 * 80, EXACT);
  g_assert_cmpfloat_with_epsilon (sherd_map_from_side (&in, SHERD_MAP_UNROLLED, place).y, 20, EXACT);
}

/* Looking down into a bowl, a quarter of a turn counter-clockwise is up on the plan, and its middle the middle. */
static void
test_plan_is_seen_from_above (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = sphere };
  const double length_mm = sherd_profile_length_mm (sphere);
  const SherdPoint lip = sherd_map_from_side (&surface, SHERD_MAP_PLAN, (SherdPoint){ 90, 0 });
  const SherdPoint middle = sherd_map_from_side (&surface, SHERD_MAP_PLAN, (SherdPoint){ 123, length_mm });

  g_assert_cmpfloat_with_epsilon (lip.x, 0.0, EXACT);
  g_assert_cmpfloat_with_epsilon (lip.y, -length_mm, EXACT);
  g_assert_cmpfloat_with_epsilon (hypot (middle.x, middle.y), 0.0, EXACT);
}

static void
test_there_and_back (void)
{
  g_autoptr (SherdProfile) jar = bodies_new_jar ();
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = jar };

  for (guint kind = SHERD_MAP_UNROLLED; kind <= SHERD_MAP_PLAN; kind++)
    for (guint i = 0; i < 36; i++)
      {
        const SherdPoint place = { 10.0 * i, 5.0 * i };
        const SherdPoint back = sherd_map_to_side (&surface, kind, sherd_map_from_side (&surface, kind, place));

        g_assert_cmpfloat_with_epsilon (back.x, place.x, EXACT);
        g_assert_cmpfloat_with_epsilon (back.y, place.y, EXACT);
      }
}

/* A ring's sector: its edges along parallels are arcs, followed to r (1 − cos 1.5°). */
static void
test_zone_on_a_plan_is_a_sector (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = sphere };
  const double length_mm = sherd_profile_length_mm (sphere);
  const SherdRange range = { 0, 60, length_mm - 80, length_mm - 40 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdOutline) plan = sherd_map_zone (&surface, SHERD_MAP_PLAN, zone);
  g_autoptr (SherdOutline) unrolled = sherd_map_zone (&surface, SHERD_MAP_UNROLLED, zone);
  const double sector_mm2 = G_PI / 6.0 * (6400 - 1600);

  g_assert_cmpfloat_with_epsilon (sherd_outline_area (plan), sector_mm2, 1e-3 * sector_mm2);
  g_assert_cmpuint (unrolled->n_points, ==, 4);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/side-map/outside-runs-right-and-inside-left", test_outside_runs_right_and_inside_left);
  g_test_add_func ("/shape/side-map/plan-is-seen-from-above", test_plan_is_seen_from_above);
  g_test_add_func ("/shape/side-map/there-and-back", test_there_and_back);
  g_test_add_func ("/shape/side-map/zone-on-a-plan-is-a-sector", test_zone_on_a_plan_is_a_sector);
  return g_test_run ();
}
