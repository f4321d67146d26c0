/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed forms: the clay of a beaker and of half a hollow ball, the wall of a cone; refusals by hand. */

#include "config.h"

#include "shape/vessel.h"

#include <math.h>
#include <string.h>

/* The inside is followed to 0.02 mm. */
#define WALL_MM 0.03

static SherdVessel *
new_vessel (const SherdProfilePoint *points, gsize n_points, double thickness_mm, double floor_mm)
{
  const SherdWall wall = { thickness_mm, floor_mm };
  g_autoptr (GError) error = NULL;
  SherdVessel *vessel = sherd_vessel_new (points, n_points, &wall, &error);

  g_assert_no_error (error);
  return vessel;
}

/* Outer cylinder less inner, less what the rounded lip takes: the solid between a quarter circle of radius t and the
 * square round it, turned about the axis (Pappus: its centroid lies t (1 − 0.2234) from the inner corner's far side).
 */
static void
test_clay_of_a_beaker (void)
{
  const SherdProfilePoint points[] = { { 40, 0, FALSE }, { 40, 100, FALSE } };
  g_autoptr (SherdVessel) vessel = new_vessel (points, 2, 5.0, 8.0);
  const double spandrel_mm2 = 25.0 * (1.0 - G_PI / 4.0);
  const double spandrel_r_mm = 35.0 + 5.0 * (10.0 - 3.0 * G_PI) / (12.0 - 3.0 * G_PI);
  const double clay_mm3 = G_PI * (1600.0 * 100.0 - 1225.0 * 92.0) - 2.0 * G_PI * spandrel_r_mm * spandrel_mm2;

  g_assert_cmpfloat_with_epsilon (sherd_vessel_clay_mm3 (vessel), clay_mm3, 1e-4 * clay_mm3);
  g_assert_cmpfloat_with_epsilon (sherd_profile_length_mm (vessel->outside), 100.0, 1e-9);
}

static void
test_sides_start_at_the_highest_circle_of_the_lip (void)
{
  const SherdProfilePoint points[] = { { 40, 0, FALSE }, { 40, 100, FALSE } };
  g_autoptr (SherdVessel) vessel = new_vessel (points, 2, 5.0, 8.0);
  const SherdProfilePlace out = sherd_profile_at (vessel->outside, 0.0), in = sherd_profile_at (vessel->inside, 0.0);
  const SherdProfilePlace middle = sherd_profile_at (vessel->inside, sherd_profile_length_mm (vessel->inside));

  g_assert_cmpfloat_with_epsilon (out.r_mm, in.r_mm, 1e-9);
  g_assert_cmpfloat_with_epsilon (out.z_mm, 100.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (out.dz, -1.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (middle.r_mm, 0.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (middle.z_mm, 8.0, 1e-9);
}

/* A plate's wall lies so flat that its inside rises over the outer edge: the lip is there. */
static void
test_lip_of_a_flat_plate_is_on_top (void)
{
  const SherdProfilePoint points[] = { { 60, 0, FALSE }, { 120, 12, FALSE } };
  g_autoptr (SherdVessel) vessel = new_vessel (points, 2, 6.0, 6.0);
  const double top_mm = sherd_profile_at (vessel->inside, 0.0).z_mm;

  g_assert_cmpfloat (top_mm, >, 15.0);
  for (guint i = 0; i <= 100; i++)
    {
      g_assert_cmpfloat (sherd_profile_at (vessel->inside, 1.2 * i).z_mm, <=, top_mm + 1e-9);
      g_assert_cmpfloat (sherd_profile_at (vessel->outside, 0.6 * i).z_mm, <=, top_mm + 1e-9);
    }
}

/* Radius 80 outside, wall 6: the inside is a sphere of 74 about the same centre. */
static void
test_inside_of_a_ball_is_a_ball (void)
{
  SherdProfilePoint points[61];
  g_autoptr (SherdVessel) vessel = NULL;

  for (guint i = 0; i <= 60; i++)
    points[i] = (SherdProfilePoint){ 80.0 * sin (G_PI_2 * i / 60), 80.0 * (1 - cos (G_PI_2 * i / 60)), FALSE };
  vessel = new_vessel (points, 61, 6.0, 5.0);
  for (double arc_mm = 12.0; arc_mm < sherd_profile_length_mm (vessel->inside); arc_mm += 1.0)
    {
      const SherdProfilePlace place = sherd_profile_at (vessel->inside, arc_mm);

      g_assert_cmpfloat_with_epsilon (hypot (place.r_mm, 80.0 - place.z_mm), 74.0, WALL_MM);
    }
}

/* Everywhere below the lip the wall is as thick as was said, also where the outside bends. */
static void
test_wall_has_its_thickness (void)
{
  const SherdProfilePoint points[] = { { 35, 0, FALSE },   { 60, 40, FALSE }, { 70, 80, TRUE },
                                       { 55, 105, FALSE }, { 40, 125, TRUE }, { 44, 150, FALSE } };
  g_autoptr (SherdVessel) vessel = new_vessel (points, 6, 7.0, 9.0);

  for (double arc_mm = 12.0; arc_mm < sherd_profile_length_mm (vessel->inside); arc_mm += 0.7)
    {
      const SherdProfilePlace place = sherd_profile_at (vessel->inside, arc_mm);
      const double nearest_mm = sherd_profile_nearest_arc_mm (vessel->outside, place.r_mm, place.z_mm);
      const SherdProfilePlace across = sherd_profile_at (vessel->outside, nearest_mm);
      const double thickness_mm = hypot (place.r_mm - across.r_mm, place.z_mm - across.z_mm);

      if (place.z_mm > 12.0)
        g_assert_cmpfloat (thickness_mm, >, 7.0 - WALL_MM);
      if (place.z_mm > 12.0 && fabs (place.z_mm - 80.0) > 8.0 && fabs (place.z_mm - 125.0) > 8.0)
        g_assert_cmpfloat (thickness_mm, <, 7.0 + WALL_MM);
    }
}

static void
test_measured_inside_is_kept (void)
{
  const SherdProfilePoint outside[] = { { 33, 0, FALSE }, { 60, 30, FALSE }, { 82, 61, FALSE } };
  const SherdProfilePoint inside[] = { { 79, 61, FALSE }, { 55, 30, FALSE }, { 0, 6, FALSE } };
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdVessel) vessel = sherd_vessel_new_with_inside (outside, 3, inside, 3, &error);

  g_assert_no_error (error);
  g_assert_cmpfloat_with_epsilon (sherd_profile_at (vessel->inside, 3.0).r_mm, 79.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (sherd_profile_at (vessel->outside, 0.0).r_mm, 82.0, 1e-9);
}

static void
assert_refused (const SherdProfilePoint *points,
                gsize n_points,
                double thickness_mm,
                double floor_mm,
                const char *words)
{
  const SherdWall wall = { thickness_mm, floor_mm };
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_vessel_new (points, n_points, &wall, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_walls_that_cannot_be_are_refused (void)
{
  const SherdProfilePoint points[] = { { 40, 0, FALSE }, { 60, 50, FALSE }, { 8, 110, FALSE }, { 8, 140, FALSE } };

  assert_refused (points, 4, 0.0, 5.0, "more than 0");
  assert_refused (points, 4, 5.0, 0.0, "more than 0");
  assert_refused (points, 4, 5.0, 150.0, "nothing is left");
  assert_refused (points, 4, 9.0, 5.0, "closes the vessel");
}

static void
test_inside_through_the_outside_is_refused (void)
{
  const SherdProfilePoint outside[] = { { 33, 0, FALSE }, { 60, 30, FALSE }, { 82, 61, FALSE } };
  const SherdProfilePoint inside[] = { { 79, 61, FALSE }, { 70, 30, FALSE }, { 0, 6, FALSE } };
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_vessel_new_with_inside (outside, 3, inside, 3, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_PROFILE);
}

static SherdProfilePoint
draw_point (GRand *random, SherdProfilePoint before)
{
  return (SherdProfilePoint){ before.r_mm + g_rand_double_range (random, -25, 35),
                              before.z_mm + g_rand_double_range (random, -8, 30), g_rand_boolean (random) };
}

/* Whatever the points, there is a vessel with two sides that meet at its highest circle and clay between them, or words
 * that say why not. */
static void
test_random_profiles_make_vessels_or_words (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  guint n_vessels = 0;

  for (guint i = 0; i < 3000; i++)
    {
      SherdProfilePoint points[8] = { { g_rand_double_range (random, 0, 60), 0, FALSE } };
      const guint n_points = (guint)g_rand_int_range (random, 2, 9);
      const SherdWall wall = { g_rand_double_range (random, 0.5, 12), g_rand_double_range (random, 0.5, 15) };
      g_autoptr (GError) error = NULL;
      g_autoptr (SherdVessel) vessel = NULL;

      for (guint k = 1; k < n_points; k++)
        points[k] = draw_point (random, points[k - 1]);
      vessel = sherd_vessel_new (points, n_points, &wall, &error);
      g_assert_true ((vessel == NULL) == (error != NULL));
      if (vessel == NULL)
        continue;
      n_vessels++;
      g_assert_cmpfloat (sherd_vessel_clay_mm3 (vessel), >, 0.0);
      g_assert_cmpfloat_with_epsilon (sherd_profile_at (vessel->inside, 0.0).z_mm,
                                      sherd_profile_at (vessel->outside, 0.0).z_mm, 1e-6);
      g_assert_cmpfloat_with_epsilon (sherd_profile_length_mm (vessel->inside) +
                                        sherd_profile_length_mm (vessel->outside),
                                      sherd_profile_length_mm (vessel->section), 1e-6);
    }
  g_test_message ("%u vessels of 3000", n_vessels);
  g_assert_cmpuint (n_vessels, >, 300);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/vessel/clay-of-a-beaker", test_clay_of_a_beaker);
  g_test_add_func ("/shape/vessel/sides-start-at-the-highest-circle",
                   test_sides_start_at_the_highest_circle_of_the_lip);
  g_test_add_func ("/shape/vessel/lip-of-a-flat-plate-is-on-top", test_lip_of_a_flat_plate_is_on_top);
  g_test_add_func ("/shape/vessel/inside-of-a-ball-is-a-ball", test_inside_of_a_ball_is_a_ball);
  g_test_add_func ("/shape/vessel/wall-has-its-thickness", test_wall_has_its_thickness);
  g_test_add_func ("/shape/vessel/measured-inside-is-kept", test_measured_inside_is_kept);
  g_test_add_func ("/shape/vessel/walls-that-cannot-be-are-refused", test_walls_that_cannot_be_are_refused);
  g_test_add_func ("/shape/vessel/inside-through-the-outside-is-refused", test_inside_through_the_outside_is_refused);
  g_test_add_func ("/shape/vessel/random-profiles-make-vessels-or-words", test_random_profiles_make_vessels_or_words);
  return g_test_run ();
}
