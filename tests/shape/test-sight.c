/* SPDX-License-Identifier: GPL-3.0-or-later */

/* A beaker by hand: from far away at the elevation e one sees down its inside 2 a tan e deep on the far wall, where a
 * is the inner radius. */

#include "config.h"

#include "shape/sight.h"

#include <math.h>

#define HEIGHT_MM 100.0

/* Inner radius 38, with a flat lip, so that the edge that hides is known. */
static SherdVessel *
new_beaker (void)
{
  const SherdProfilePoint outside[] = { { 40, 0, FALSE }, { 40, HEIGHT_MM, FALSE } };
  const SherdProfilePoint inside[] = { { 38, HEIGHT_MM, TRUE }, { 38, 5, TRUE }, { 0, 5, FALSE } };
  g_autoptr (GError) error = NULL;
  SherdVessel *vessel = sherd_vessel_new_with_inside (outside, 2, inside, 3, &error);

  g_assert_no_error (error);
  return vessel;
}

static gboolean
sees (const SherdVessel *vessel, SherdSurfaceKind kind, SherdPoint on_side, const double camera_mm[3])
{
  const SherdSurface surface = { .kind = kind,
                                 .profile = kind == SHERD_SURFACE_INSIDE ? vessel->inside : vessel->outside };
  g_autoptr (SherdSight) sight = sherd_sight_new (vessel);
  double position[3], normal[3];

  sherd_surface_position (&surface, on_side, position, normal);
  return !sherd_sight_is_hidden (sight, position, normal, camera_mm);
}

static void
test_near_lip_hides_the_far_wall (void)
{
  g_autoptr (SherdVessel) vessel = new_beaker ();
  const double far_mm = 1e6, elevation_rad = G_PI / 4.0;
  const double camera[3] = { -far_mm * cos (elevation_rad), 0, far_mm * sin (elevation_rad) + HEIGHT_MM };
  /* The lip's flat ring of 2 mm comes first on the inside. */
  const double lip_mm = sherd_profile_nearest_arc_mm (vessel->inside, 38, HEIGHT_MM);
  const double deep_mm = 2.0 * 38.0 * tan (elevation_rad);

  g_assert_true (sees (vessel, SHERD_SURFACE_INSIDE, (SherdPoint){ 0, lip_mm + deep_mm - 1.0 }, camera));
  g_assert_false (sees (vessel, SHERD_SURFACE_INSIDE, (SherdPoint){ 0, lip_mm + deep_mm + 1.0 }, camera));
}

static void
test_the_piece_hides_its_back (void)
{
  g_autoptr (SherdVessel) vessel = new_beaker ();
  const double side[3] = { -700, 0, 50 }, below[3] = { 0, 0, -500 };
  const double end_mm = sherd_profile_length_mm (vessel->inside);

  g_assert_true (sees (vessel, SHERD_SURFACE_OUTSIDE, (SherdPoint){ 180, 50 }, side));
  g_assert_false (sees (vessel, SHERD_SURFACE_OUTSIDE, (SherdPoint){ 0, 50 }, side));
  g_assert_false (sees (vessel, SHERD_SURFACE_INSIDE, (SherdPoint){ 0, 50 }, side));
  g_assert_false (sees (vessel, SHERD_SURFACE_INSIDE, (SherdPoint){ 0, end_mm - 10 }, below));
}

static void
test_first_hit_is_the_nearest (void)
{
  g_autoptr (SherdVessel) vessel = new_beaker ();
  g_autoptr (SherdSight) sight = sherd_sight_new (vessel);
  const double from[3] = { 0, -500, 60 }, forward[3] = { 0, 1, 0 }, up[3] = { 0, 0, 1 };
  const double above[3] = { 10, 0, 400 }, down[3] = { 0, 0, -1 };
  SherdHit hit;

  g_assert_true (sherd_sight_first_hit (sight, from, forward, &hit));
  g_assert_cmpuint (hit.kind, ==, SHERD_SURFACE_OUTSIDE);
  g_assert_cmpfloat_with_epsilon (hit.distance_mm, 460.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (hit.on_side.x, 270.0, 1e-6);
  /* The lip's highest circle is that of the outside. */
  g_assert_cmpfloat_with_epsilon (hit.on_side.y, 40.0, 1e-6);
  g_assert_true (sherd_sight_first_hit (sight, above, down, &hit));
  g_assert_cmpuint (hit.kind, ==, SHERD_SURFACE_INSIDE);
  g_assert_cmpfloat_with_epsilon (hit.distance_mm, 395.0, 1e-6);
  g_assert_false (sherd_sight_first_hit (sight, from, up, &hit));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/sight/near-lip-hides-the-far-wall", test_near_lip_hides_the_far_wall);
  g_test_add_func ("/shape/sight/the-piece-hides-its-back", test_the_piece_hides_its_back);
  g_test_add_func ("/shape/sight/first-hit-is-the-nearest", test_first_hit_is_the_nearest);
  return g_test_run ();
}
