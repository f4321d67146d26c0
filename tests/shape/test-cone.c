/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed form: a frustum of radii 50 and 80 mm and slant 50 mm lies flat as a ring's sector between 83.333 and
 * 133.333 mm over 216° (ρ = r s / (r₂ − r₁), φ = 2 π (r₂ − r₁) / s). */

#include "config.h"

#include "shape/cone.h"

#include <math.h>

#define EXACT 1e-9

static const SherdCone WIDENING = { .r0_mm = 50, .r1_mm = 80, .arc0_mm = 10, .arc1_mm = 60, .middle_deg = 30 };

static double
distance (SherdPoint a, SherdPoint b)
{
  return hypot (b.x - a.x, b.y - a.y);
}

static void
test_frustum_is_a_sector (void)
{
  const SherdPoint apex = { 0.0, -50.0 * 50.0 / 30.0 };

  for (guint i = 0; i <= 36; i++)
    {
      const double azimuth_deg = 30.0 - 180.0 + 10.0 * i;
      const SherdPoint upper = sherd_cone_to_paper (&WIDENING, (SherdPoint){ azimuth_deg, 10.0 });
      const SherdPoint lower = sherd_cone_to_paper (&WIDENING, (SherdPoint){ azimuth_deg, 60.0 });

      g_assert_cmpfloat_with_epsilon (distance (apex, upper), 250.0 / 3.0, EXACT);
      g_assert_cmpfloat_with_epsilon (distance (apex, lower), 400.0 / 3.0, EXACT);
      g_assert_cmpfloat_with_epsilon (distance (upper, lower), 50.0, EXACT);
      g_assert_cmpfloat_with_epsilon (atan2 (lower.x, lower.y - apex.y),
                                      (azimuth_deg - 30.0) * G_PI / 180.0 * 216.0 / 360.0, EXACT);
    }
}

static void
test_cylinder_is_a_rectangle (void)
{
  const SherdCone cone = { .r0_mm = 40, .r1_mm = 40, .arc0_mm = 0, .arc1_mm = 100, .middle_deg = 0 };
  const SherdPoint place = sherd_cone_to_paper (&cone, (SherdPoint){ 90.0, 25.0 });

  g_assert_cmpfloat_with_epsilon (place.x, G_PI_2 * 40.0, EXACT);
  g_assert_cmpfloat_with_epsilon (place.y, 25.0, EXACT);
}

/* A cone that is nearly a cylinder lies nearly as a cylinder: no jump on the way. */
static void
test_slender_cone_joins_the_cylinder (void)
{
  for (double growth = 1e-1; growth > 1e-12; growth /= 10.0)
    {
      const SherdCone cone = { .r0_mm = 40, .r1_mm = 40 + growth, .arc0_mm = 0, .arc1_mm = 100, .middle_deg = 0 };
      const SherdPoint place = sherd_cone_to_paper (&cone, (SherdPoint){ 90.0, 0.0 });
      const SherdPoint back = sherd_cone_from_paper (&cone, place);

      g_assert_cmpfloat_with_epsilon (place.x, G_PI_2 * 40.0, growth);
      g_assert_cmpfloat_with_epsilon (back.x, 90.0, 1e-6);
      g_assert_cmpfloat_with_epsilon (back.y, 0.0, 1e-5);
    }
}

/* Outside the azimuth grows to the right, inside to the left, down is down. */
static void
test_runs_as_the_painter_sees_it (void)
{
  SherdCone cone = WIDENING;

  g_assert_cmpfloat (sherd_cone_to_paper (&cone, (SherdPoint){ 40.0, 20.0 }).x, >, 0.0);
  g_assert_cmpfloat (sherd_cone_to_paper (&cone, (SherdPoint){ 30.0, 20.0 }).y, >, 0.0);
  cone.leftwards = TRUE;
  g_assert_cmpfloat (sherd_cone_to_paper (&cone, (SherdPoint){ 40.0, 20.0 }).x, <, 0.0);
}

static void
assert_there_and_back (double r0_mm, double r1_mm, gboolean leftwards)
{
  const SherdCone cone = { 5.0, 65.0, r0_mm, r1_mm, 100.0, leftwards };

  for (guint i = 0; i <= 10; i++)
    for (guint k = 0; k <= 10; k++)
      {
        const SherdPoint place = { 100.0 - 150.0 + 30.0 * i, 5.5 + 5.5 * k };
        const SherdPoint back = sherd_cone_from_paper (&cone, sherd_cone_to_paper (&cone, place));

        g_assert_cmpfloat_with_epsilon (back.x, place.x, 1e-6);
        g_assert_cmpfloat_with_epsilon (back.y, place.y, 1e-6);
      }
}

static void
test_there_and_back (void)
{
  assert_there_and_back (50, 80, FALSE);
  assert_there_and_back (80, 50, TRUE);
  assert_there_and_back (60, 60, TRUE);
  assert_there_and_back (59, 0, FALSE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/cone/frustum-is-a-sector", test_frustum_is_a_sector);
  g_test_add_func ("/shape/cone/cylinder-is-a-rectangle", test_cylinder_is_a_rectangle);
  g_test_add_func ("/shape/cone/slender-cone-joins-the-cylinder", test_slender_cone_joins_the_cylinder);
  g_test_add_func ("/shape/cone/runs-as-the-painter-sees-it", test_runs_as_the_painter_sees_it);
  g_test_add_func ("/shape/cone/there-and-back", test_there_and_back);
  return g_test_run ();
}
