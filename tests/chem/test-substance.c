/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Analyses as text, their refusals, and densities by hand. */

#include "config.h"

#include "chem/substance.h"

#include <math.h>
#include <string.h>

#include "pantry.h"

static const SherdConstituent *
constituent (const SherdSubstance *substance, guint index)
{
  return &g_array_index (substance->constituents, SherdConstituent, index);
}

static void
test_an_analysis_is_read_row_by_row (void)
{
  g_autoptr (SherdSubstance) clay = pantry_new_from_analysis (
    "SiO2: 54 ± 1;Al2O3=30,5 +/- 0.5 %\nFe2O3 1\n K2O < 0.6 ; LOI 13.9", SHERD_SUBSTANCE_CLAY, 2.6);

  g_assert_cmpuint (clay->constituents->len, ==, 5);
  g_assert_cmpfloat (constituent (clay, 0)->pct.u, ==, 1.0);
  g_assert_cmpfloat (constituent (clay, 1)->pct.value, ==, 30.5);
  g_assert_cmpfloat (constituent (clay, 1)->pct.u, ==, 0.5);
  /* Anywhere between 0 and 0.6. */
  g_assert_cmpfloat_with_epsilon (constituent (clay, 3)->pct.value, 0.3, 1e-12);
  g_assert_cmpfloat_with_epsilon (constituent (clay, 3)->pct.u, 0.6 / sqrt (12.0), 1e-12);
  g_assert_null (constituent (clay, 4)->formula);
}

static void
test_an_analysis_survives_writing_and_reading (void)
{
  g_autoptr (SherdSubstance) first =
    pantry_new_from_analysis ("SiO2 54.25 ± 1.5; FeO(OH) 35; LOI 10.75", SHERD_SUBSTANCE_CLAY, 2.6);
  g_autofree char *text = sherd_substance_dup_analysis (first);
  g_autoptr (SherdSubstance) second = pantry_new_from_analysis (text, SHERD_SUBSTANCE_CLAY, 2.6);
  g_autofree char *again = sherd_substance_dup_analysis (second);

  g_assert_cmpstr (text, ==, "SiO2 54.25 ± 1.5; FeO(OH) 35; LOI 10.75");
  g_assert_cmpstr (again, ==, text);
}

static void
test_refusals_of_an_analysis_point_at_the_character_and_change_nothing (void)
{
  static const struct
  {
    const char *text;
    gsize character;
    const char *words;
  } refusals[] = {
    { "", 0, "needs a formula or an analysis" },
    { "SiO2 54; Xx2O3 46", 9, "Analysis, character 10: “Xx” is not an element" },
    { "SiO2 54; Al2(OH 46", 12, "is not closed" },
    { "SiO2", 4, "a share in % is expected" },
    { "SiO2 abc", 5, "a share in % is expected" },
    { "SiO2 5.4.3", 5, "a share in % is expected" },
    { "SiO2 54 ± x", 10, "a doubt is expected" },
    { "SiO2 54 46", 8, "parted by a semicolon" },
    { "SiO2 999", 5, "between 0 and 100" },
    { "SiO2 54; Al2O3 30", 0, "sums to 84.0 %" },
    { "SiO2 70; Al2O3 40", 0, "sums to 110.0 %" },
    { "AuTe2 100", 0, "What becomes of the element Au" },
  };
  g_autoptr (SherdSubstance) substance = pantry_new ("PbO", SHERD_SUBSTANCE_FLUX, 9.35);

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr (GError) error = NULL;
      SherdTextPlace place = { 99, 99 };

      g_test_message ("%s", refusals[i].text);
      g_assert_false (sherd_substance_set_analysis (substance, refusals[i].text, &place, &error));
      g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_ANALYSIS);
      g_assert_nonnull (strstr (error->message, refusals[i].words));
      g_assert_cmpuint (place.character, ==, refusals[i].character);
      g_assert_cmpstr (constituent (substance, 0)->formula, ==, "PbO");
    }
}

static void
test_a_sum_within_its_own_doubt_is_taken (void)
{
  g_autoptr (SherdSubstance) rough = pantry_new_from_analysis ("SiO2 60 ± 3; Al2O3 35 ± 2", SHERD_SUBSTANCE_CLAY, 2.6);

  g_assert_cmpuint (rough->constituents->len, ==, 2);
}

static void
test_loose_powder_weighs_what_spoon_statement_or_packing_say (void)
{
  g_autoptr (SherdSubstance) quartz = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 2.65);
  SherdValue bulk;

  g_assert_true (sherd_substance_get_bulk_g_ml (quartz, &bulk));
  g_assert_cmpfloat_with_epsilon (bulk.value, 0.35 * 2.65, 1e-12);
  g_assert_cmpfloat_with_epsilon (bulk.u, 0.1 / sqrt (3.0) * 2.65, 1e-12);
  quartz->bulk_g_ml = (SherdValue){ 1.1, 0.1 };
  g_assert_true (sherd_substance_get_bulk_g_ml (quartz, &bulk));
  g_assert_cmpfloat (bulk.value, ==, 1.1);
  quartz->spoon_g = (SherdValue){ 6.0, 0.3 };
  quartz->spoon_ml = 5.0;
  g_assert_true (sherd_substance_get_bulk_g_ml (quartz, &bulk));
  g_assert_cmpfloat_with_epsilon (bulk.value, 1.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (bulk.u, 0.06, 1e-12);
  quartz->particle_g_ml.value = quartz->bulk_g_ml.value = quartz->spoon_ml = 0.0;
  g_assert_false (sherd_substance_get_bulk_g_ml (quartz, &bulk));
}

static void
test_the_grains_of_a_find_hold_those_of_its_rest (void)
{
  g_autoptr (SherdSubstance) ore = pantry_new ("PbS", SHERD_SUBSTANCE_FLUX, 7.58);
  SherdValue grains;

  sherd_substance_set_purity (ore, (SherdValue){ 0.8, 0.1 }, SHERD_REST_QUARTZ, NULL);
  g_assert_true (sherd_substance_get_particle_g_ml (ore, &grains));
  g_assert_cmpfloat_with_epsilon (grains.value, 1.0 / (0.8 / 7.58 + 0.2 / 2.65), 1e-9);
  g_assert_cmpfloat_with_epsilon (grains.u, 0.1 * (1.0 / 2.65 - 1.0 / 7.58) * grains.value * grains.value, 1e-9);
}

static void
test_impossible_values_are_refused_in_words (void)
{
  g_autoptr (SherdSubstance) ore = pantry_new ("PbS", SHERD_SUBSTANCE_FLUX, 7.58);
  g_autoptr (SherdSubstance) nothing = sherd_substance_new (NULL, NULL, SHERD_SUBSTANCE_FLUX);

  g_assert_false (sherd_substance_set_purity (ore, (SherdValue){ 0.0, 0.1 }, SHERD_REST_QUARTZ, NULL));
  g_assert_false (sherd_substance_set_purity (ore, (SherdValue){ 1.1, 0.1 }, SHERD_REST_QUARTZ, NULL));
  g_assert_false (sherd_substance_set_purity (ore, (SherdValue){ NAN, 0.1 }, SHERD_REST_QUARTZ, NULL));
  g_assert_false (sherd_substance_set_purity (ore, (SherdValue){ 0.9, NAN }, SHERD_REST_QUARTZ, NULL));
  g_assert_cmpfloat (ore->purity_frac.value, ==, 1.0);
  ore->particle_g_ml.value = 40.0;
  g_assert_false (sherd_substance_check (ore, NULL));
  ore->particle_g_ml.value = NAN;
  g_assert_false (sherd_substance_check (ore, NULL));
  g_assert_false (sherd_substance_check (nothing, NULL));
}

static void
test_hazards_follow_from_the_elements_and_the_rest (void)
{
  g_autoptr (SherdSubstance) ore = pantry_new ("PbS", SHERD_SUBSTANCE_FLUX, 7.58);
  g_autoptr (SherdSubstance) quartz = pantry_new ("SiO2", SHERD_SUBSTANCE_FILLER, 2.65);

  g_assert_cmpuint (sherd_substance_get_hazards (ore), ==, SHERD_HAZARD_LEAD | SHERD_HAZARD_SULPHUR_DIOXIDE);
  sherd_substance_set_purity (ore, (SherdValue){ 0.8, 0.1 }, SHERD_REST_QUARTZ, NULL);
  g_assert_cmpuint (sherd_substance_get_hazards (ore) & SHERD_HAZARD_SILICA_DUST, !=, 0);
  g_assert_cmpuint (sherd_substance_get_hazards (quartz), ==, SHERD_HAZARD_SILICA_DUST);
}

static void
test_a_copy_is_independent (void)
{
  g_autoptr (SherdSubstance) first = pantry_new ("PbS", SHERD_SUBSTANCE_FLUX, 7.58);
  g_autoptr (SherdSubstance) copy = NULL;
  SherdHeatStep step = { 300.0, 460.0, g_strdup ("starts to lead sulphate") };

  g_array_append_val (first->heat_steps, step);
  first->note = g_strdup ("a note");
  copy = sherd_substance_copy (first);
  g_clear_pointer (&first, sherd_substance_free);
  g_assert_cmpstr (copy->name, ==, "PbS");
  g_assert_cmpstr (copy->note, ==, "a note");
  g_assert_cmpstr (constituent (copy, 0)->formula, ==, "PbS");
  g_assert_cmpstr (g_array_index (copy->heat_steps, SherdHeatStep, 0).words, ==, "starts to lead sulphate");
  g_assert_cmpfloat (copy->particle_g_ml.value, ==, 7.58);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/substance/an-analysis-is-read-row-by-row", test_an_analysis_is_read_row_by_row);
  g_test_add_func ("/chem/substance/an-analysis-survives-writing-and-reading",
                   test_an_analysis_survives_writing_and_reading);
  g_test_add_func ("/chem/substance/refusals-of-an-analysis-point-at-the-character-and-change-nothing",
                   test_refusals_of_an_analysis_point_at_the_character_and_change_nothing);
  g_test_add_func ("/chem/substance/a-sum-within-its-own-doubt-is-taken", test_a_sum_within_its_own_doubt_is_taken);
  g_test_add_func ("/chem/substance/loose-powder-weighs-what-spoon-statement-or-packing-say",
                   test_loose_powder_weighs_what_spoon_statement_or_packing_say);
  g_test_add_func ("/chem/substance/the-grains-of-a-find-hold-those-of-its-rest",
                   test_the_grains_of_a_find_hold_those_of_its_rest);
  g_test_add_func ("/chem/substance/impossible-values-are-refused-in-words",
                   test_impossible_values_are_refused_in_words);
  g_test_add_func ("/chem/substance/hazards-follow-from-the-elements-and-the-rest",
                   test_hazards_follow_from_the_elements_and_the_rest);
  g_test_add_func ("/chem/substance/a-copy-is-independent", test_a_copy_is_independent);
  return g_test_run ();
}
