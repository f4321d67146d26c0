/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The invented measurement of support.c: zone 1 has L* 0, zone 2 is not measured, zone 3 has L* 20; means by hand. */
#include "config.h"

#include "support.h"
#include "trial/inputs.h"
#include "trial/paint-colour.h"

#define CLOSE 1e-9

/* Zones 1 to 3 carry the second paint as it stands. */
static SherdTrial *
painted_trial_new (SherdPaint **paint)
{
  SherdTrial *trial = example_trial_new ();

  *paint = sherd_trial_find_paint (trial, "paint-2");
  sherd_trial_begin_edit (trial, "paint");
  for (guint i = 1; i <= 3; i++)
    {
      g_autofree char *id = g_strdup_printf ("zone-%u", i);
      SherdZone *zone = sherd_trial_find_zone (trial, id, NULL, NULL);

      sherd_trial_set (trial, zone, "paint", *paint);
      sherd_trial_set (trial, zone, "paint-revision", 0u);
    }
  sherd_trial_end_edit (trial);
  return trial;
}

/* Of the later photograph: zone 1 with L* 40, the others not measured. */
static void
measure_later (SherdTrial *trial)
{
  SherdPhotograph *photograph = example_photograph (trial, 1);
  SherdPhotoMeasurement *result = example_measurement_result ();
  g_autofree char *inputs = sherd_inputs_dup_sha256 (photograph);
  g_autoptr (SherdMeasurement) measurement = NULL;

  result->zones[0].lab.l = 40.0;
  result->zones[2].flags = SHERD_ZONE_NOT_MEASURED;
  measurement = sherd_measurement_new ("measurement-2", photograph, inputs, "0.1.0", "2025-03-06T05:06:07Z", result);
  sherd_trial_begin_edit (trial, "measure");
  sherd_trial_append (trial, sherd_trial_get_measurements (trial), measurement);
  sherd_trial_end_edit (trial);
}

static void
remeasure_first (SherdTrial *trial)
{
  SherdPhotograph *photograph = example_photograph (trial, 0);
  g_autofree char *inputs = sherd_inputs_dup_sha256 (photograph);
  g_autoptr (SherdMeasurement) measurement = sherd_measurement_new (
    "measurement-3", photograph, inputs, "0.1.0", "2025-03-06T05:06:07Z", example_measurement_result ());

  sherd_trial_begin_edit (trial, "measure");
  sherd_trial_append (trial, sherd_trial_get_measurements (trial), measurement);
  sherd_trial_end_edit (trial);
}

static void
test_it_is_the_mean_of_the_measured_zones (void)
{
  SherdPaint *paint;
  g_autoptr (SherdTrial) trial = painted_trial_new (&paint);
  SherdLab lab;
  guint n_zones;
  const char *stage;

  remeasure_first (trial);
  g_assert_true (sherd_trial_get_paint_colour (trial, paint, &lab, &n_zones, &stage));
  g_assert_cmpfloat_with_epsilon (lab.l, 10.0, CLOSE);
  g_assert_cmpuint (n_zones, ==, 2);
  g_assert_cmpstr (stage, ==, "unfired");
}

static void
test_a_later_stage_takes_its_place (void)
{
  SherdPaint *paint;
  g_autoptr (SherdTrial) trial = painted_trial_new (&paint);
  SherdLab lab;
  guint n_zones;
  const char *stage;

  remeasure_first (trial);
  measure_later (trial);
  g_assert_true (sherd_trial_get_paint_colour (trial, paint, &lab, &n_zones, &stage));
  g_assert_cmpfloat_with_epsilon (lab.l, 40.0, CLOSE);
  g_assert_cmpuint (n_zones, ==, 1);
  g_assert_cmpstr (stage, ==, "after firing 1, after rubbing");
}

/* In the example, zone 1 was fired with the first revision of the first paint, which has been changed since. */
static void
test_an_earlier_revision_does_not_count (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdLab lab;
  guint n_zones;
  const char *stage;

  g_assert_nonnull (sherd_trial_get_measurement (trial, example_photograph (trial, 0)));
  g_assert_false (
    sherd_trial_get_paint_colour (trial, sherd_trial_find_paint (trial, "paint-1"), &lab, &n_zones, &stage));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/paint-colour/it is the mean of the measured zones",
                   test_it_is_the_mean_of_the_measured_zones);
  g_test_add_func ("/trial/paint-colour/a later stage takes its place", test_a_later_stage_takes_its_place);
  g_test_add_func ("/trial/paint-colour/an earlier revision does not count", test_an_earlier_revision_does_not_count);
  return g_test_run ();
}
