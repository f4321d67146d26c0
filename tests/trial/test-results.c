/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The measurement is the invented one of support.c; expected cells are read off its fields by hand. That the rows of a
 * real measurement hang together is tested with the command line program. */
#include "config.h"

#include "trial/results.h"

#include <math.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/inputs.h"

static JsonObject *
row_of (JsonNode *table, guint row)
{
  return json_array_get_object_element (json_node_get_array (table), row);
}

static SherdMeasurement *
first_measurement (SherdTrial *trial)
{
  return g_list_model_get_item (sherd_trial_get_measurements (trial), 0);
}

static void
test_a_measured_zone_has_its_numbers (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdMeasurement) measurement = first_measurement (trial);
  const SherdZoneColour *zone = &sherd_measurement_get_result (measurement)->zones[0];
  g_autoptr (SherdTable) table = sherd_results_zones (trial, measurement);
  g_autoptr (JsonNode) json = sherd_table_to_json (table);
  JsonObject *row = row_of (json, 0);

  g_assert_cmpuint (sherd_table_get_n_rows (table), ==, 3);
  g_assert_cmpstr (json_object_get_string_member (row, "photograph"), ==, "photograph-1");
  g_assert_cmpstr (json_object_get_string_member (row, "stage"), ==, "unfired");
  g_assert_cmpstr (json_object_get_string_member (row, "zone"), ==, "A1");
  g_assert_cmpstr (json_object_get_string_member (row, "flags"), ==, "");
  g_assert_cmpfloat (json_object_get_double_member (row, "L"), ==, zone->lab.l);
  g_assert_cmpfloat (json_object_get_double_member (row, "b_high95"), ==, zone->upper_95.b);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (row, "a_U95"), 2.0 * sqrt (zone->covariance[1][1]),
                                  1e-12);
  g_assert_cmpint (json_object_get_int_member (row, "pixels_ground"), ==, zone->n_ground);
}

/* Data are the same in every language: a bare zone is two empty fields, not a word. */
static void
test_a_bare_zone_has_no_paint (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdMeasurement) measurement = first_measurement (trial);
  SherdSide *side = sherd_photograph_get_side (sherd_measurement_get_photograph (measurement));
  SherdZone *zone = sherd_side_find_zone (side, sherd_measurement_get_result (measurement)->zones[0].id);
  g_autoptr (SherdTable) table = NULL;
  g_autoptr (JsonNode) json = NULL;

  g_assert_true (sherd_trial_set_zones_paint (trial, &zone, 1, NULL, NULL));
  table = sherd_results_zones (trial, measurement);
  json = sherd_table_to_json (table);
  g_assert_cmpstr (json_object_get_string_member (row_of (json, 0), "paint"), ==, "");
  g_assert_cmpstr (json_object_get_string_member (row_of (json, 0), "paint_name"), ==, "");
}

static void
test_every_flag_has_its_word_in_the_file (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdMeasurement) measurement = first_measurement (trial);
  g_autoptr (SherdTable) table = sherd_results_zones (trial, measurement);
  g_autoptr (JsonNode) json = sherd_table_to_json (table);
  JsonObject *row = row_of (json, 1);

  g_assert_cmpstr (json_object_get_string_member (row, "flags"), ==,
                   "few-pixels clipped glare little-paint outside two-colours dark");
  g_assert_cmpstr (json_object_get_string_member (row, "remark"), !=, "");
  g_assert_true (json_object_get_null_member (row, "L"));
  g_assert_true (json_object_get_null_member (row, "L_U95"));
}

static void
test_four_marks_claim_no_fit (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPhotoMeasurement *exact = example_measurement_result ();
  g_autoptr (SherdMeasurement) loose = first_measurement (trial);
  g_autoptr (SherdMeasurement) four = NULL;
  g_auto (GStrv) loose_notes = sherd_results_dup_notes (loose);
  g_auto (GStrv) four_notes = NULL;

  exact->residual_rms_px = 3e-13;
  exact->residual_rms_mm = 1e-13;
  four = sherd_measurement_new ("measurement-2", example_photograph (trial, 0), "", "0", "2025-03-04T05:06:07Z", exact);
  four_notes = sherd_results_dup_notes (four);
  g_assert_cmpstr (loose_notes[0], ==, "Marks: fit within 0.40 px, 0.05 mm.");
  g_assert_cmpstr (four_notes[0], ==, "Marks: only four, so their fit is not checked; a fifth would.");
}

static void
test_notes_tell_light_and_warnings (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdMeasurement) measurement = first_measurement (trial);
  g_auto (GStrv) notes = sherd_results_dup_notes (measurement);

  g_assert_cmpuint (g_strv_length (notes), ==, 4);
  g_assert_cmpstr (notes[1], ==,
                   "Light: chart of 24 patches, root-polynomial fit, leave-one-out ΔE00 0.80 mean, 2.10 worst.");
  g_assert_cmpstr (notes[2], ==, "light came from one side");
  g_assert_cmpstr (notes[3], ==, "nothing else");
}

static SherdMeasurement *
measurement_with_flags (SherdTrial *trial, guint photograph, guint flags)
{
  SherdPhotoMeasurement *result = example_measurement_result ();
  SherdMeasurement *measurement;
  g_autofree char *inputs = sherd_inputs_dup_sha256 (example_photograph (trial, photograph));
  g_autofree char *id = g_strdup_printf ("measurement-%u", 10 + photograph);

  result->zones[0].flags = flags;
  measurement =
    sherd_measurement_new (id, example_photograph (trial, photograph), inputs, "0", "2025-03-04T05:06:07Z", result);
  g_list_store_append (G_LIST_STORE (sherd_trial_get_measurements (trial)), measurement);
  return measurement;
}

static void
test_remarks_name_their_photograph (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdMeasurement) before = measurement_with_flags (trial, 0, SHERD_ZONE_GLARE | SHERD_ZONE_DARK);
  g_autoptr (SherdMeasurement) after = measurement_with_flags (trial, 1, SHERD_ZONE_DARK | SHERD_ZONE_CLIPPED);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdComparison) comparison = sherd_trial_compare_photographs (
    trial, sherd_measurement_get_photograph (before), sherd_measurement_get_photograph (after), &error);
  g_autoptr (SherdZoneShift) shift = NULL;
  g_autofree char *remarks = NULL;

  g_assert_no_error (error);
  shift = g_list_model_get_item (G_LIST_MODEL (comparison), 0);
  remarks = sherd_results_dup_remarks (shift);
  g_assert_cmpstr (remarks, ==,
                   "not measured; too dark for the file to resolve; before: the lamp may be mirrored here: it may be "
                   "darker than it looks; after: over-exposed");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/results/a-measured-zone-has-its-numbers", test_a_measured_zone_has_its_numbers);
  g_test_add_func ("/trial/results/a-bare-zone-has-no-paint", test_a_bare_zone_has_no_paint);
  g_test_add_func ("/trial/results/every-flag-has-its-word-in-the-file", test_every_flag_has_its_word_in_the_file);
  g_test_add_func ("/trial/results/four-marks-claim-no-fit", test_four_marks_claim_no_fit);
  g_test_add_func ("/trial/results/notes-tell-light-and-warnings", test_notes_tell_light_and_warnings);
  g_test_add_func ("/trial/results/remarks-name-their-photograph", test_remarks_name_their_photograph);
  return g_test_run ();
}
