/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A vessel stretched to new measures: the numbers follow by hand from the rule that radii change evenly up the wall. */
#include "config.h"

#include "shape/reshape.h"

#define EXACT 1e-9

static const SherdProfilePoint jar[] = { { 30, 0, TRUE }, { 60, 50, FALSE }, { 25, 90, FALSE }, { 40, 100, FALSE } };

static void
test_the_size_of_a_jar_is_read_from_its_ends (void)
{
  const SherdVesselSize size = sherd_vessel_size_of (jar, G_N_ELEMENTS (jar));

  g_assert_cmpfloat (size.rim_diameter_mm, ==, 80);
  g_assert_cmpfloat (size.foot_diameter_mm, ==, 60);
  g_assert_cmpfloat (size.height_mm, ==, 100);
}

static void
test_a_taller_jar_keeps_its_girth (void)
{
  const SherdVesselSize size = { 80, 60, 150 };
  SherdProfilePoint points[G_N_ELEMENTS (jar)];

  memcpy (points, jar, sizeof jar);
  g_assert_true (sherd_vessel_size_apply (&size, points, G_N_ELEMENTS (points), NULL));
  g_assert_cmpfloat_with_epsilon (points[1].r_mm, 60, EXACT);
  g_assert_cmpfloat_with_epsilon (points[1].z_mm, 75, EXACT);
}

/* The lip doubles, the foot stays: half way up, half of it: 60 × 1.5. */
static void
test_a_wider_rim_widens_the_wall_evenly (void)
{
  const SherdVesselSize size = { 160, 60, 100 };
  SherdProfilePoint points[G_N_ELEMENTS (jar)];

  memcpy (points, jar, sizeof jar);
  g_assert_true (sherd_vessel_size_apply (&size, points, G_N_ELEMENTS (points), NULL));
  g_assert_cmpfloat_with_epsilon (points[0].r_mm, 30, EXACT);
  g_assert_cmpfloat_with_epsilon (points[1].r_mm, 90, EXACT);
  g_assert_cmpfloat_with_epsilon (points[3].r_mm, 80, EXACT);
}

static void
test_no_vessel_is_flat_or_endless (void)
{
  const SherdVesselSize flat = { 80, 60, 0 }, endless = { 80, 60, 1e9 };
  SherdProfilePoint points[G_N_ELEMENTS (jar)];

  memcpy (points, jar, sizeof jar);
  g_assert_false (sherd_vessel_size_apply (&flat, points, G_N_ELEMENTS (points), NULL));
  g_assert_false (sherd_vessel_size_apply (&endless, points, G_N_ELEMENTS (points), NULL));
  g_assert_cmpfloat (points[3].r_mm, ==, 40);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/reshape/the-size-of-a-jar-is-read-from-its-ends",
                   test_the_size_of_a_jar_is_read_from_its_ends);
  g_test_add_func ("/shape/reshape/a-taller-jar-keeps-its-girth", test_a_taller_jar_keeps_its_girth);
  g_test_add_func ("/shape/reshape/a-wider-rim-widens-the-wall-evenly", test_a_wider_rim_widens_the_wall_evenly);
  g_test_add_func ("/shape/reshape/no-vessel-is-flat-or-endless", test_no_vessel_is_flat_or_endless);
  return g_test_run ();
}
