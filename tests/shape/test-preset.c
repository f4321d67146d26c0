/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The measures that went in are taken again from the curve that came out. */

#include "config.h"

#include "shape/preset.h"

#include "shape/vessel.h"

#include <math.h>
#include <string.h>

#define EXACT_MM 1e-9

static SherdProfile *
new_preset (SherdPreset preset, const SherdMeasures *measures)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) points = sherd_preset_points (preset, measures, &error);
  SherdProfile *profile;

  g_assert_no_error (error);
  profile = sherd_profile_new ((const SherdProfilePoint *)(gpointer)points->data, points->len, &error);
  g_assert_no_error (error);
  return profile;
}

static void
test_every_example_keeps_its_measures (void)
{
  for (guint preset = SHERD_PRESET_BOWL; preset <= SHERD_PRESET_JAR; preset++)
    {
      const SherdMeasures measures = sherd_preset_example (preset);
      g_autoptr (SherdProfile) profile = new_preset (preset, &measures);
      const SherdProfilePlace foot = sherd_profile_at (profile, 0.0);
      const SherdProfilePlace rim = sherd_profile_at (profile, sherd_profile_length_mm (profile));

      g_assert_cmpfloat_with_epsilon (2.0 * rim.r_mm, measures.rim_diameter_mm, EXACT_MM);
      g_assert_cmpfloat_with_epsilon (rim.z_mm, measures.height_mm, EXACT_MM);
      if (measures.foot_diameter_mm > 0.0)
        g_assert_cmpfloat_with_epsilon (2.0 * foot.r_mm, measures.foot_diameter_mm, EXACT_MM);
    }
}

static void
test_jar_is_widest_where_it_was_measured (void)
{
  const SherdMeasures measures = sherd_preset_example (SHERD_PRESET_JAR);
  g_autoptr (SherdProfile) profile = new_preset (SHERD_PRESET_JAR, &measures);
  const SherdProfilePlace belly = sherd_profile_at (profile, sherd_profile_widest_arc_mm (profile));
  const double neck_mm =
    sherd_profile_nearest_arc_mm (profile, measures.neck_diameter_mm / 2.0, measures.neck_height_mm);

  g_assert_cmpfloat_with_epsilon (2.0 * belly.r_mm, measures.greatest_diameter_mm, EXACT_MM);
  g_assert_cmpfloat_with_epsilon (belly.z_mm, measures.greatest_height_mm, EXACT_MM);
  g_assert_cmpfloat_with_epsilon (2.0 * sherd_profile_at (profile, neck_mm).r_mm, measures.neck_diameter_mm, 1e-6);
}

static void
test_every_example_has_an_inside (void)
{
  const SherdWall wall = { 6.0, 7.0 };

  for (guint preset = SHERD_PRESET_BOWL; preset <= SHERD_PRESET_JAR; preset++)
    {
      const SherdMeasures measures = sherd_preset_example (preset);
      g_autoptr (GError) error = NULL;
      g_autoptr (GArray) points = sherd_preset_points (preset, &measures, &error);
      g_autoptr (SherdVessel) vessel =
        sherd_vessel_new ((const SherdProfilePoint *)(gpointer)points->data, points->len, &wall, &error);

      g_assert_no_error (error);
      g_assert_cmpfloat (sherd_vessel_clay_mm3 (vessel), >, 0.0);
      g_assert_cmpfloat_with_epsilon (sherd_profile_at (vessel->inside, sherd_profile_length_mm (vessel->inside)).z_mm,
                                      7.0, EXACT_MM);
    }
}

static void
test_tape_round_the_rim_will_do (void)
{
  SherdMeasures measures = sherd_preset_example (SHERD_PRESET_BOWL);
  g_autoptr (SherdProfile) profile = NULL;

  measures.rim_diameter_mm = 0.0;
  measures.rim_circumference_mm = 471.0;
  profile = new_preset (SHERD_PRESET_BOWL, &measures);
  g_assert_cmpfloat_with_epsilon (2.0 * G_PI * sherd_profile_at (profile, sherd_profile_length_mm (profile)).r_mm,
                                  471.0, EXACT_MM);
}

static void
assert_refused (SherdPreset preset, const SherdMeasures *measures, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_preset_points (preset, measures, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_measures_that_cannot_be_are_refused (void)
{
  SherdMeasures bowl = sherd_preset_example (SHERD_PRESET_BOWL);
  SherdMeasures jar = sherd_preset_example (SHERD_PRESET_JAR);
  SherdMeasures narrow = jar;

  bowl.height_mm = 0.0;
  assert_refused (SHERD_PRESET_BOWL, &bowl, "height is 0.0 mm");
  bowl = sherd_preset_example (SHERD_PRESET_BOWL);
  bowl.rim_diameter_mm = NAN;
  assert_refused (SHERD_PRESET_BOWL, &bowl, "rim diameter");
  bowl.rim_diameter_mm = 50.0;
  assert_refused (SHERD_PRESET_BOWL, &bowl, "wider than the foot");
  jar.neck_height_mm = 40.0;
  assert_refused (SHERD_PRESET_JAR, &jar, "heights say otherwise");
  narrow.greatest_diameter_mm = 60.0;
  assert_refused (SHERD_PRESET_JAR, &narrow, "greatest diameter is larger");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/preset/every-example-keeps-its-measures", test_every_example_keeps_its_measures);
  g_test_add_func ("/shape/preset/jar-is-widest-where-measured", test_jar_is_widest_where_it_was_measured);
  g_test_add_func ("/shape/preset/every-example-has-an-inside", test_every_example_has_an_inside);
  g_test_add_func ("/shape/preset/tape-round-the-rim-will-do", test_tape_round_the_rim_will_do);
  g_test_add_func ("/shape/preset/measures-that-cannot-be-are-refused", test_measures_that_cannot_be_are_refused);
  return g_test_run ();
}
