/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Overlaps and distances by hand on a tile and on a cylinder of 40 mm, where 1° is 0.698 mm. */

#include "config.h"

#include "shape/tracing.h"
#include "shape/zoning.h"

#include "bodies.h"

#include <math.h>

#define EXACT 1e-9
#define MM_PER_DEG (40.0 * G_PI / 180.0)

static SherdOutline *
range (double azimuth0, double azimuth1, double arc0, double arc1)
{
  const SherdRange zone = { azimuth0, azimuth1, arc0, arc1 };

  return sherd_range_outline (&zone);
}

static void
test_overlap_on_a_tile (void)
{
  g_autoptr (SherdOutline) edge = sherd_outline_new_rectangle (0, 0, 120, 90);
  const SherdSurface tile = { .kind = SHERD_SURFACE_FLAT, .edge = edge };
  /* An L and a square over its inner corner: 20 × 20 less the 10 × 10 that is not of the L. */
  const SherdPoint l[6] = { { 10, 10 }, { 50, 10 }, { 50, 30 }, { 30, 30 }, { 30, 50 }, { 10, 50 } };
  g_autoptr (SherdOutline) first = sherd_outline_new (l, 6);
  g_autoptr (SherdOutline) second = sherd_outline_new_rectangle (20, 20, 20, 20);
  g_autoptr (SherdOutline) beside = sherd_outline_new_rectangle (50, 10, 20, 20);
  SherdPoint where;

  g_assert_cmpfloat_with_epsilon (sherd_surface_overlap_mm2 (&tile, first, second, &where), 300.0, EXACT);
  g_assert_cmpfloat_with_epsilon (sherd_surface_overlap_mm2 (&tile, second, first, NULL), 300.0, EXACT);
  g_assert_cmpfloat_with_epsilon (where.x, (400.0 * 30.0 - 100.0 * 35.0) / 300.0, EXACT);
  g_assert_cmpfloat (sherd_surface_overlap_mm2 (&tile, first, beside, NULL), <, EXACT);
}

static void
test_overlap_goes_round_the_vessel (void)
{
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = cylinder };
  g_autoptr (SherdOutline) first = range (350, 380, 10, 40);
  g_autoptr (SherdOutline) second = range (10, 30, 20, 60);
  g_autoptr (SherdOutline) before = range (-20, -10, 10, 40);
  g_autoptr (SherdOutline) ring = range (0, 360, 10, 40);

  g_assert_cmpfloat_with_epsilon (sherd_surface_overlap_mm2 (&surface, first, second, NULL), 10 * MM_PER_DEG * 20,
                                  1e-6);
  g_assert_cmpfloat (sherd_surface_overlap_mm2 (&surface, first, before, NULL), <, EXACT);
  g_assert_cmpfloat_with_epsilon (sherd_surface_overlap_mm2 (&surface, ring, first, NULL), 30 * MM_PER_DEG * 30, 1e-6);
}

static void
test_what_lies_outside (void)
{
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  const SherdSurface wall = { .kind = SHERD_SURFACE_OUTSIDE, .profile = cylinder };
  g_autoptr (SherdOutline) disc = sherd_outline_new_disc ((SherdPoint){ 60, 60 }, 120);
  g_autoptr (SherdOutline) hole = sherd_outline_new_disc ((SherdPoint){ 60, 20 }, 10);
  const SherdOutline *holes[] = { hole };
  const SherdSurface tile = { .kind = SHERD_SURFACE_FLAT, .edge = disc, .holes = holes, .n_holes = 1 };
  g_autoptr (SherdOutline) low = range (0, 10, 90, 105);
  g_autoptr (SherdOutline) good = range (0, 10, 0, 100);
  g_autoptr (SherdOutline) over_hole = sherd_outline_new_rectangle (50, 10, 20, 20);
  g_autoptr (SherdOutline) middle = sherd_outline_new_rectangle (50, 50, 20, 20);
  g_autoptr (SherdOutline) corner = sherd_outline_new_rectangle (0, 0, 10, 10);
  SherdPoint where;

  g_assert_cmpfloat_with_epsilon (sherd_surface_outside_mm2 (&wall, low, &where), 10 * MM_PER_DEG * 5, 1e-6);
  g_assert_cmpfloat_with_epsilon (where.y, 102.5, EXACT);
  g_assert_cmpfloat (sherd_surface_outside_mm2 (&wall, good, NULL), <, EXACT);
  g_assert_cmpfloat_with_epsilon (sherd_surface_outside_mm2 (&tile, over_hole, &where), G_PI * 25.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (where.x, 60.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (where.y, 20.0, 1e-6);
  g_assert_cmpfloat (sherd_surface_outside_mm2 (&tile, middle, NULL), <, 1e-6);
  g_assert_cmpfloat_with_epsilon (sherd_surface_outside_mm2 (&tile, corner, NULL), 100.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (sherd_surface_whole_area_mm2 (&tile), G_PI * (3600.0 - 25.0), 1e-6);
}

static void
test_neighbours_across_the_zero_mark (void)
{
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = cylinder };
  g_autoptr (SherdOutline) a = range (5, 40, 10, 40);
  g_autoptr (SherdOutline) b = range (320, 357, 10, 40);
  g_autoptr (SherdOutline) c = range (5, 40, 43, 70);
  g_autoptr (SherdOutline) far = range (150, 190, 10, 40);
  const SherdOutline *zones[] = { a, b, c, far };
  g_autoptr (GArray) pairs = sherd_zoning_neighbours (&surface, zones, 4, 7.0);
  const SherdNeighbours *pair = (const SherdNeighbours *)(gpointer)pairs->data;

  /* 8° are a chord of 5.5811 mm; a and c lie 3 mm apart; b and c √(5.5811² + 3²). */
  g_assert_cmpuint (pairs->len, ==, 3);
  g_assert_cmpuint (pair[0].second, ==, 1);
  g_assert_cmpfloat_with_epsilon (pair[0].distance_mm, 80.0 * sin (4.0 * G_PI / 180.0), 1e-6);
  g_assert_cmpfloat_with_epsilon (pair[1].distance_mm, 3.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (pair[2].distance_mm, hypot (80.0 * sin (4.0 * G_PI / 180.0), 3.0), 1e-6);
  g_assert_cmpfloat_with_epsilon (sherd_surface_distance_mm (&surface, a, c), 3.0, 1e-6);
}

static void
test_every_fault_is_found (void)
{
  g_autoptr (SherdOutline) edge = sherd_outline_new_rectangle (0, 0, 120, 90);
  const SherdSurface tile = { .kind = SHERD_SURFACE_FLAT, .edge = edge };
  const SherdPoint bow[4] = { { 60, 60 }, { 80, 80 }, { 80, 60 }, { 60, 80 } };
  g_autoptr (SherdOutline) good = sherd_outline_new_rectangle (10, 10, 20, 20);
  g_autoptr (SherdOutline) touching = sherd_outline_new_rectangle (30, 10, 20, 20);
  g_autoptr (SherdOutline) over = sherd_outline_new_rectangle (45, 10, 20, 20);
  g_autoptr (SherdOutline) beyond = sherd_outline_new_rectangle (110, 10, 20, 20);
  g_autoptr (SherdOutline) crossed = sherd_outline_new (bow, 4);
  g_autoptr (SherdOutline) nothing = sherd_outline_new_rectangle (90, 50, 0, 20);
  const SherdOutline *zones[] = { good, touching, over, beyond, crossed, nothing };
  g_autoptr (GArray) faults = sherd_zoning_faults (&tile, zones, 6);
  const SherdZoningFault *fault = (const SherdZoningFault *)(gpointer)faults->data;

  g_assert_cmpuint (faults->len, ==, 4);
  g_assert_cmpuint (fault[0].kind, ==, SHERD_ZONING_OVERLAP);
  g_assert_cmpuint (fault[0].first, ==, 1);
  g_assert_cmpuint (fault[0].second, ==, 2);
  g_assert_cmpfloat_with_epsilon (fault[0].area_mm2, 100.0, EXACT);
  g_assert_cmpfloat_with_epsilon (fault[0].where.x, 47.5, EXACT);
  g_assert_cmpuint (fault[1].kind, ==, SHERD_ZONING_OUTSIDE);
  g_assert_cmpfloat_with_epsilon (fault[1].area_mm2, 200.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (fault[1].where.x, 125.0, 1e-6);
  g_assert_cmpuint (fault[2].kind, ==, SHERD_ZONING_CROSSED);
  g_assert_cmpfloat_with_epsilon (fault[2].where.x, 70.0, EXACT);
  g_assert_cmpuint (fault[3].kind, ==, SHERD_ZONING_SMALL);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/zoning/overlap-on-a-tile", test_overlap_on_a_tile);
  g_test_add_func ("/shape/zoning/overlap-goes-round-the-vessel", test_overlap_goes_round_the_vessel);
  g_test_add_func ("/shape/zoning/what-lies-outside", test_what_lies_outside);
  g_test_add_func ("/shape/zoning/neighbours-across-the-zero-mark", test_neighbours_across_the_zero_mark);
  g_test_add_func ("/shape/zoning/every-fault-is-found", test_every_fault_is_found);
  return g_test_run ();
}
