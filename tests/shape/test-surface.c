/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed forms on cylinder, cone and sphere (Archimedes: a zone of a sphere has the area of the cylinder round it);
 * what has none is added up here in small cells. */

#include "config.h"

#include "shape/surface.h"

#include "bodies.h"

#include <math.h>

#define CLOSED_SHARE 1e-6
#define RADIANS_PER_DEG (G_PI / 180.0)

static SherdSurface
outside (const SherdProfile *profile)
{
  return (SherdSurface){ .kind = SHERD_SURFACE_OUTSIDE, .profile = profile };
}

static void
assert_share (double value, double truth)
{
  g_assert_cmpfloat_with_epsilon (value, truth, CLOSED_SHARE * fabs (truth));
}

static void
test_ranges_on_closed_bodies (void)
{
  const SherdRange range = { 350.0, 395.0, 10.0, 40.0 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  g_autoptr (SherdProfile) cone = bodies_new_cone (80, 50, 40);
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface on_cylinder = outside (cylinder), on_cone = outside (cone), on_sphere = outside (sphere);

  assert_share (sherd_surface_area_mm2 (&on_cylinder, zone), G_PI_4 * 40.0 * 30.0);
  assert_share (sherd_surface_area_mm2 (&on_cone, zone), G_PI_4 * (74.0 + 56.0) / 2.0 * 30.0);
  assert_share (sherd_surface_area_mm2 (&on_sphere, zone),
                G_PI_4 * 90.0 * 90.0 * (sin (40.0 / 90.0) - sin (10.0 / 90.0)));
  assert_share (sherd_surface_whole_area_mm2 (&on_sphere), 2.0 * G_PI * 8100.0);
}

/* A triangle on a cylinder lies flat; on a sphere, with straight edges in (θ, s), R² ∬ cos φ dθ dφ: of the triangle
 * (0, 0), (Δ, 0), (0, Φ) it is R² Δ ∫ (1 − φ/Φ) cos φ dφ = R² Δ (1 − cos Φ) / Φ. */
static void
test_slanting_edges (void)
{
  const double tall_rad = 0.9, wide_deg = 50.0;
  const SherdPoint corners[3] = { { 10, 0 }, { 10 + wide_deg, 0 }, { 10, tall_rad * 90.0 } };
  g_autoptr (SherdOutline) zone = sherd_outline_new (corners, 3);
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface on_cylinder = outside (cylinder), on_sphere = outside (sphere);

  assert_share (sherd_surface_area_mm2 (&on_cylinder, zone), wide_deg * RADIANS_PER_DEG * 40.0 * tall_rad * 90.0 / 2.0);
  assert_share (sherd_surface_area_mm2 (&on_sphere, zone),
                8100.0 * wide_deg * RADIANS_PER_DEG * (1.0 - cos (tall_rad)) / tall_rad);
}

/* On a free curve: ∫ r(s) Δθ(s) ds in cells of 1/20,000 of the height. */
static void
test_polygon_on_a_jar_agrees_with_small_cells (void)
{
  const SherdPoint corners[4] = { { 20, 15 }, { 75, 40 }, { 60, 150 }, { 10, 110 } };
  g_autoptr (SherdOutline) zone = sherd_outline_new (corners, 4);
  g_autoptr (SherdProfile) jar = bodies_new_jar ();
  const SherdSurface surface = outside (jar);
  double sum = 0.0;

  for (guint i = 0; i < 20000; i++)
    {
      const double arc_mm = 15.0 + 135.0 * (i + 0.5) / 20000;
      const double left = arc_mm < 110 ? 20 - 10 * (arc_mm - 15) / 95 : 10 + 50 * (arc_mm - 110) / 40;
      const double right = arc_mm < 40 ? 20 + 55 * (arc_mm - 15) / 25 : 75 - 15 * (arc_mm - 40) / 110;

      sum += (right - left) * RADIANS_PER_DEG * sherd_profile_at (jar, arc_mm).r_mm * 135.0 / 20000;
    }
  assert_share (sherd_surface_area_mm2 (&surface, zone), sum);
}

/* Outside and inside, azimuth 90° is y; outside the normal points away from the axis, inside towards it. */
static void
test_positions_and_normals (void)
{
  g_autoptr (SherdProfile) cone = bodies_new_cone (80, 50, 40);
  const SherdSurface out = { .kind = SHERD_SURFACE_OUTSIDE, .profile = cone };
  const SherdSurface in = { .kind = SHERD_SURFACE_INSIDE, .profile = cone };
  double position[3], normal[3], inner[3];

  sherd_surface_position (&out, (SherdPoint){ 90.0, 25.0 }, position, normal);
  sherd_surface_position (&in, (SherdPoint){ 90.0, 25.0 }, position, inner);
  g_assert_cmpfloat_with_epsilon (position[0], 0.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (position[1], 65.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (position[2], 20.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (normal[1], 0.8, 1e-9);
  g_assert_cmpfloat_with_epsilon (normal[2], -0.6, 1e-9);
  g_assert_cmpfloat_with_epsilon (inner[1], -0.8, 1e-9);
  g_assert_cmpfloat_with_epsilon (inner[2], 0.6, 1e-9);
}

static void
test_curve_follows_its_edges (void)
{
  const SherdPoint corners[4] = { { 20, 15 }, { 75, 40 }, { 60, 150 }, { 10, 110 } };
  g_autoptr (SherdOutline) zone = sherd_outline_new (corners, 4);
  g_autoptr (SherdProfile) jar = bodies_new_jar ();
  const SherdSurface surface = outside (jar);
  g_autoptr (SherdOutline) curve = sherd_surface_curve (&surface, zone, 0.05);

  for (gsize i = 0; i < curve->n_points; i++)
    {
      const SherdPoint a = curve->points[i], b = curve->points[(i + 1) % curve->n_points];
      double pa[3], pb[3];

      sherd_surface_position (&surface, a, pa, NULL);
      sherd_surface_position (&surface, b, pb, NULL);
      for (guint k = 1; k < 8; k++)
        {
          double p[3], square = 0.0, length = 0.0, along = 0.0;

          sherd_surface_position (&surface, (SherdPoint){ a.x + (b.x - a.x) * k / 8, a.y + (b.y - a.y) * k / 8 }, p,
                                  NULL);
          for (guint c = 0; c < 3; c++)
            {
              square += pow (p[c] - pa[c], 2);
              length += pow (pb[c] - pa[c], 2);
              along += (p[c] - pa[c]) * (pb[c] - pa[c]);
            }
          g_assert_cmpfloat (square - along * along / length, <=, 0.055 * 0.055);
        }
    }
  assert_share (sherd_surface_area_mm2 (&surface, curve), sherd_surface_area_mm2 (&surface, zone));
}

static void
test_centroid_of_a_range (void)
{
  const SherdRange range = { 20.0, 60.0, 0.0, 50.0 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdProfile) cone = bodies_new_cone (80, 50, 40);
  const SherdSurface surface = outside (cone);
  const SherdPoint centroid = sherd_surface_centroid (&surface, zone);

  /* ∫ s (80 − 0.6 s) ds / ∫ (80 − 0.6 s) ds over 0 … 50. */
  g_assert_cmpfloat_with_epsilon (centroid.x, 40.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (centroid.y, (100000.0 - 25000.0) / (4000.0 - 750.0), 1e-9);
}

/* On a cylinder the inset is that of a rectangle; on a cone every moved edge lies 3 mm from where it was. */
static void
test_inset_of_ranges (void)
{
  const SherdRange range = { 0.0, 90.0, 10.0, 40.0 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  g_autoptr (SherdProfile) cone = bodies_new_cone (80, 50, 40);
  const SherdSurface on_cylinder = outside (cylinder), on_cone = outside (cone);
  g_autoptr (SherdOutline) flat = sherd_surface_inset (&on_cylinder, zone, 3.0);
  g_autoptr (SherdOutline) inner = sherd_surface_inset (&on_cone, zone, 3.0);

  assert_share (sherd_surface_area_mm2 (&on_cylinder, flat), (G_PI_2 * 40.0 - 6.0) * 24.0);
  for (gsize i = 0; i < inner->n_points; i++)
    {
      const SherdPoint p = inner->points[i];
      const double r_mm = 80.0 - 0.6 * p.y;
      const double aside_mm = MIN (p.x, 90.0 - p.x) * RADIANS_PER_DEG * r_mm;

      g_assert_cmpfloat_with_epsilon (aside_mm, 3.0, 1e-6);
      g_assert_cmpfloat (p.y, >=, 13.0 - 1e-9);
      g_assert_cmpfloat (p.y, <=, 37.0 + 1e-9);
    }
}

static void
test_a_ring_has_no_upright_edges (void)
{
  const SherdRange ring = { -20.0, 340.0, 10.0, 40.0 }, floor = { 0.0, 360.0, 100.0, G_PI_2 * 90.0 };
  g_autoptr (SherdOutline) ring_zone = sherd_range_outline (&ring);
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = sphere };
  g_autoptr (SherdOutline) inner = sherd_surface_inset (&surface, ring_zone, 5.0);
  const SherdRange to_pole = { 0.0, 360.0, 100.0, sherd_profile_length_mm (sphere) };
  g_autoptr (SherdOutline) floor_zone = sherd_range_outline (&to_pole);
  g_autoptr (SherdOutline) inner_floor = sherd_surface_inset (&surface, floor_zone, 5.0);
  SherdRange left;

  g_assert_true (sherd_range_of_outline (inner, &left));
  g_assert_cmpfloat_with_epsilon (left.azimuth1_deg - left.azimuth0_deg, 360.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (left.arc0_mm, 15.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (left.arc1_mm, 35.0, 1e-9);
  g_assert_true (sherd_range_of_outline (inner_floor, &left));
  g_assert_cmpfloat_with_epsilon (left.arc0_mm, 105.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (left.arc1_mm, floor.arc1_mm, 1e-4);
}

/* A polygon on a cylinder is inset as on paper. */
static void
test_inset_of_a_polygon (void)
{
  const double deg_per_mm = 1.0 / 40.0 / RADIANS_PER_DEG;
  const SherdPoint corners[3] = { { 0, 10 }, { 60 * deg_per_mm, 10 }, { 0, 90 } };
  g_autoptr (SherdOutline) zone = sherd_outline_new (corners, 3);
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  const SherdSurface surface = outside (cylinder);
  g_autoptr (SherdOutline) inner = sherd_surface_inset (&surface, zone, 5.0);

  /* Inradius (60 + 80 − 100) / 2 = 20: the sides shrink by (20 − 5) / 20. */
  assert_share (sherd_surface_area_mm2 (&surface, inner), 2400.0 * 0.75 * 0.75);
}

static void
test_nothing_is_left_of_a_narrow_zone (void)
{
  const SherdRange range = { 0.0, 10.0, 10.0, 40.0 };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdProfile) cylinder = bodies_new_cylinder (40, 100);
  const SherdSurface surface = outside (cylinder);

  g_assert_null (sherd_surface_inset (&surface, zone, 4.0));
  g_assert_null (sherd_surface_inset (&surface, zone, 16.0));
}

/* A sector that reaches the middle of a floor narrows to nothing there: the part without room goes. */
static void
test_a_sector_loses_its_tip (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_INSIDE, .profile = sphere };
  const SherdRange range = { 0.0, 45.0, 90.0, sherd_profile_length_mm (sphere) };
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdOutline) inner = sherd_surface_inset (&surface, zone, 2.0);

  g_assert_nonnull (inner);
  for (gsize i = 0; i < inner->n_points; i++)
    {
      const double r_mm = sherd_surface_r_mm (&surface, inner->points[i].y);

      g_assert_cmpfloat (MIN (inner->points[i].x, 45.0 - inner->points[i].x) * RADIANS_PER_DEG * r_mm, >=, 2.0 - 1e-6);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/surface/ranges-on-closed-bodies", test_ranges_on_closed_bodies);
  g_test_add_func ("/shape/surface/slanting-edges", test_slanting_edges);
  g_test_add_func ("/shape/surface/polygon-on-a-jar-agrees-with-small-cells",
                   test_polygon_on_a_jar_agrees_with_small_cells);
  g_test_add_func ("/shape/surface/positions-and-normals", test_positions_and_normals);
  g_test_add_func ("/shape/surface/curve-follows-its-edges", test_curve_follows_its_edges);
  g_test_add_func ("/shape/surface/centroid-of-a-range", test_centroid_of_a_range);
  g_test_add_func ("/shape/surface/inset-of-ranges", test_inset_of_ranges);
  g_test_add_func ("/shape/surface/ring-has-no-upright-edges", test_a_ring_has_no_upright_edges);
  g_test_add_func ("/shape/surface/inset-of-a-polygon", test_inset_of_a_polygon);
  g_test_add_func ("/shape/surface/nothing-left-of-a-narrow-zone", test_nothing_is_left_of_a_narrow_zone);
  g_test_add_func ("/shape/surface/sector-loses-its-tip", test_a_sector_loses_its_tip);
  return g_test_run ();
}
