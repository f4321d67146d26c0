/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts of a paint as the trial has it. Worked values: two parts of malachite and one of kaolinite by volume, particle
 * densities 4.0 and 2.6 g/cm³, equal packing: 2 × 4.0 : 2.6 by mass; oxides from IUPAC standard atomic weights
 * (2021), computed by hand: CuO in malachite 2 × 79.545 / 221.114. A slip of 1400 g/l with solids of 2.6 g/cm³ holds
 * 650 g of them in a litre: (1400 − 1000) / (1 − 1 / 2.6). */
#include "config.h"

#include <math.h>
#include <string.h>

#include "chem/substance-table.h"
#include "chem/yield.h"
#include "trial/built-in-materials.h"
#include "trial/edits.h"
#include "trial/material-substance.h"
#include "trial/paint-facts.h"
#include "trial/paint-shares.h"
#include "trial/paint-use.h"

#define CUO_PER_MALACHITE (2.0 * 79.545 / 221.114)

static const char *
add_material (SherdTrial *trial, const char *name, const char *formula, double particle_density_g_cm3)
{
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (GError) error = NULL;
  SherdMaterial *material;

  sherd_material_record_init (&record);
  g_free (record.name);
  record.name = g_strdup (name);
  g_free (record.formula);
  record.formula = g_strdup (formula);
  record.particle_density_g_cm3 = particle_density_g_cm3;
  material = sherd_trial_add_material (trial, &record, &error);
  g_assert_no_error (error);
  return sherd_part_get_id (SHERD_PART (material));
}

static SherdPaint *
add_paint (SherdTrial *trial, const char *code, const SherdRecipe *recipe)
{
  SherdPaint *paint = sherd_trial_add_paint (trial, code, NULL, NULL);

  g_assert_true (sherd_trial_set_recipe (trial, paint, recipe, FALSE, NULL));
  return paint;
}

static SherdPaint *
add_green (SherdTrial *trial)
{
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();

  recipe->basis = SHERD_BASIS_VOLUME;
  sherd_recipe_insert_material (recipe, 0, add_material (trial, "Malachite", "Cu2CO3(OH)2", 4.0), 2.0, "2");
  sherd_recipe_insert_material (recipe, 1, add_material (trial, "Kaolinite", "Al2Si2O5(OH)4", 2.6), 1.0, "1");
  return add_paint (trial, "GR", recipe);
}

static double
mass_frac (const SherdPaintFacts *facts, guint row)
{
  return g_array_index (facts->mix->shares, SherdMixShare, row).mass_frac.value;
}

/* Mass of an oxide for one of dry mix. */
static double
oxide_frac (const SherdPaintFacts *facts, SherdOxide oxide)
{
  for (guint i = 0; i < facts->mix->oxides->len; i++)
    {
      const SherdFiredOxide *fired = &g_array_index (facts->mix->oxides, SherdFiredOxide, i);

      if (fired->oxide == oxide)
        return fired->mass_pct.value / 100.0 * (1.0 - facts->mix->lost_frac.value);
    }
  return 0.0;
}

static guint
count_remarks (const SherdPaintFacts *facts, SherdRemarkKind kind, int row)
{
  guint count = 0;

  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      g_assert_cmpuint (strlen (remark->words), >, 0);
      count += remark->kind == kind && remark->row == row;
    }
  return count;
}

static void
test_parts_by_volume_become_mass (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdPaintFacts) facts = sherd_paint_facts_new (trial, add_green (trial), 0, NULL);

  g_assert_nonnull (facts->mix);
  g_assert_cmpfloat_with_epsilon (mass_frac (facts, 0) / mass_frac (facts, 1), 8.0 / 2.6, 1e-3);
  g_assert_cmpfloat_with_epsilon (100.0 * mass_frac (facts, 0), 75.47, 0.02);
  g_assert_cmpfloat_with_epsilon (oxide_frac (facts, SHERD_OXIDE_CUO), 8.0 / 10.6 * CUO_PER_MALACHITE, 1e-4);
  g_assert_null (facts->batch);
  g_assert_true (isnan (facts->cost));
}

static void
test_the_planned_batch_is_weighed (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPaint *green = add_green (trial);
  const SherdBatchRequest rough = { .way = SHERD_BATCH_BY_TOTAL, .total_g = 53.0, .readability_g = 1.0 };
  g_autoptr (SherdPaintFacts) planned = NULL;
  g_autoptr (SherdPaintFacts) rounded = NULL;

  g_assert_true (sherd_trial_set_paint_batch_g (trial, green, 106.0, FALSE, NULL));
  planned = sherd_paint_facts_new (trial, green, 0, NULL);
  g_assert_cmpfloat_with_epsilon (g_array_index (planned->batch->rows, SherdBatchRow, 0).exact_g.value, 80.0, 1e-9);
  rounded = sherd_paint_facts_new (trial, green, 0, &rough);
  g_assert_cmpfloat (g_array_index (rounded->batch->rows, SherdBatchRow, 1).weighed_g, ==, 13.0);
}

static void
set_purchase (SherdTrial *trial, const char *name, double stock_g, double price_per_kg, const char *currency)
{
  SherdMaterial *material = sherd_trial_find_material_by_name (trial, name);
  g_auto (SherdMaterialRecord) record = { 0 };

  sherd_material_record_copy (&record, sherd_material_get_record (material));
  record.stock_g = stock_g;
  record.price_per_kg = price_per_kg;
  g_free (record.currency);
  record.currency = g_strdup (currency);
  g_assert_true (sherd_trial_set_material (trial, material, &record, FALSE, NULL));
}

static void
test_stock_and_cost_follow_the_batch (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPaint *green = add_green (trial);
  const SherdBatchRequest request = { .way = SHERD_BATCH_BY_TOTAL, .total_g = 106.0 };
  g_autoptr (SherdPaintFacts) priced = NULL;
  g_autoptr (SherdPaintFacts) mixed = NULL;
  const SherdPaintStock *stock;

  set_purchase (trial, "Malachite", 70.0, 100.0, "crowns");
  set_purchase (trial, "Kaolinite", NAN, 2.0, "crowns");
  priced = sherd_paint_facts_new (trial, green, 0, &request);
  stock = &g_array_index (priced->stocks, SherdPaintStock, 0);
  g_assert_cmpstr (stock->name, ==, "Malachite");
  g_assert_cmpfloat_with_epsilon (stock->need_g, 80.0, 1e-6);
  g_assert_cmpfloat_with_epsilon (stock->left_g, -10.0, 1e-6);
  g_assert_true (isnan (g_array_index (priced->stocks, SherdPaintStock, 1).left_g));
  g_assert_cmpfloat_with_epsilon (priced->cost, 8.0 + 0.052, 1e-6);
  g_assert_cmpstr (priced->currency, ==, "crowns");
  g_assert_cmpuint (count_remarks (priced, SHERD_REMARK_NOTE, SHERD_ROW_PAINT), ==, 1);

  set_purchase (trial, "Kaolinite", NAN, 2.0, "shells");
  mixed = sherd_paint_facts_new (trial, green, 0, &request);
  g_assert_true (isnan (mixed->cost));
}

/* One part of GR, which is 2 × 4.0 : 2.6, and one of kaolinite by mass: malachite is 8 / 10.6 / 2. */
static void
test_a_paint_within_is_resolved (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPaint *green = add_green (trial);
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autoptr (SherdPaintFacts) facts = NULL;

  sherd_recipe_insert_paint (recipe, 0, sherd_part_get_id (SHERD_PART (green)), 1.0, NULL);
  sherd_recipe_insert_material (
    recipe, 1, sherd_part_get_id (SHERD_PART (sherd_trial_find_material_by_name (trial, "kaolinite"))), 1.0, NULL);
  facts = sherd_paint_facts_new (trial, add_paint (trial, "PALE", recipe), 0, NULL);
  g_assert_nonnull (facts->mix);
  g_assert_cmpuint (facts->stocks->len, ==, 2);
  g_assert_cmpfloat_with_epsilon (oxide_frac (facts, SHERD_OXIDE_CUO), 4.0 / 10.6 * CUO_PER_MALACHITE, 1e-4);
  g_assert_cmpfloat_with_epsilon (g_array_index (facts->stocks, SherdPaintStock, 0).mass_pct, 400.0 / 10.6, 1e-4);
}

/* Three ways from each paint to the next are 3^19 from the last to the first: nobody may walk them all. */
static void
test_paints_often_within_one_another_are_asked_once (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdRecipe) first = sherd_recipe_new ();
  g_autofree char *malachite = g_strdup (add_material (trial, "Malachite", "Cu2CO3(OH)2", 4.0));
  g_autoptr (SherdPaintFacts) facts = NULL;
  g_autoptr (GHashTable) shares = NULL;
  SherdPaint *paint;

  sherd_recipe_insert_material (first, 0, malachite, 1.0, NULL);
  paint = add_paint (trial, "P0", first);
  for (guint level = 1; level < SHERD_PAINT_MAX_DEPTH; level++)
    {
      g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
      g_autofree char *code = g_strdup_printf ("P%u", level);

      for (guint i = 0; i < 3; i++)
        sherd_recipe_insert_paint (recipe, i, sherd_part_get_id (SHERD_PART (paint)), 1.0, NULL);
      paint = add_paint (trial, code, recipe);
    }
  facts = sherd_paint_facts_new (trial, paint, 0, NULL);
  g_assert_nonnull (facts->mix);
  g_assert_cmpfloat_with_epsilon (oxide_frac (facts, SHERD_OXIDE_CUO), CUO_PER_MALACHITE, 1e-4);
  g_assert_cmpuint (sherd_trial_get_paint_hazards (trial, paint), !=, 0);
  shares = sherd_trial_dup_paint_shares (trial, paint, 0);
  g_assert_nonnull (shares);
  g_assert_cmpfloat_with_epsilon (*(const double *)g_hash_table_lookup (shares, malachite), 1.0, 1e-12);
  g_assert_false (sherd_trial_is_paint_fired (trial, paint));
}

static void
test_the_slip_weight_follows_from_the_water (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autoptr (SherdPaintFacts) facts = NULL;

  sherd_recipe_insert_material (recipe, 0, add_material (trial, "Kaolinite", "Al2Si2O5(OH)4", 2.6), 1.0, NULL);
  recipe->water_pct = 100.0 * 750.0 / 650.0;
  facts = sherd_paint_facts_new (trial, add_paint (trial, "SL", recipe), 0, NULL);
  g_assert_cmpfloat_with_epsilon (facts->slip_g_l, 1400.0, 1e-6);
}

/* Four fifths of malachite, ± 5 %: the doubt of the find is in the oxide. */
static void
test_the_doubt_of_a_find_reaches_its_oxides (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPaint *green = add_green (trial);
  SherdMaterial *malachite = sherd_trial_find_material_by_name (trial, "Malachite");
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autoptr (SherdPaintFacts) facts = NULL;
  const SherdFiredOxide *copper = NULL;

  sherd_material_record_copy (&record, sherd_material_get_record (malachite));
  record.purity_pct = 80.0;
  record.purity_doubt_pct = 5.0;
  g_assert_true (sherd_trial_set_material (trial, malachite, &record, FALSE, NULL));
  sherd_recipe_insert_material (recipe, 0, sherd_part_get_id (SHERD_PART (malachite)), 1.0, NULL);
  g_assert_true (sherd_trial_set_recipe (trial, green, recipe, FALSE, NULL));
  facts = sherd_paint_facts_new (trial, green, 0, NULL);
  g_assert_cmpfloat_with_epsilon (oxide_frac (facts, SHERD_OXIDE_CUO), 0.8 * CUO_PER_MALACHITE, 1e-3);
  g_assert_cmpfloat_with_epsilon (oxide_frac (facts, SHERD_OXIDE_SIO2), 0.2, 1e-3);
  for (guint i = 0; i < facts->mix->oxides->len; i++)
    if (g_array_index (facts->mix->oxides, SherdFiredOxide, i).oxide == SHERD_OXIDE_CUO)
      copper = &g_array_index (facts->mix->oxides, SherdFiredOxide, i);
  g_assert_nonnull (copper);
  g_assert_cmpfloat (copper->mass_pct.u, >, 1.0);
}

static void
test_what_is_missing_is_told_at_its_row (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  SherdPaint *bare = sherd_trial_add_paint (trial, "NO", NULL, NULL);
  g_autoptr (SherdPaintFacts) empty = sherd_paint_facts_new (trial, bare, 0, NULL);
  g_autoptr (SherdPaintFacts) facts = NULL;

  g_assert_null (empty->mix);
  g_assert_cmpuint (count_remarks (empty, SHERD_REMARK_MISSING, SHERD_ROW_PAINT), ==, 1);
  sherd_recipe_insert_material (recipe, 0, add_material (trial, "Quartz", "SiO2", 2.65), 1.0, NULL);
  sherd_recipe_insert_material (recipe, 1, add_material (trial, "Mud", "", NAN), 1.0, NULL);
  sherd_recipe_insert_material (recipe, 2, add_material (trial, "Slag", "Fe2Zz3", NAN), 1.0, NULL);
  facts = sherd_paint_facts_new (trial, add_paint (trial, "BAD", recipe), 0, NULL);
  g_assert_null (facts->mix);
  g_assert_cmpuint (count_remarks (facts, SHERD_REMARK_MISSING, 0), ==, 0);
  g_assert_cmpuint (count_remarks (facts, SHERD_REMARK_MISSING, 1), ==, 1);
  g_assert_cmpuint (count_remarks (facts, SHERD_REMARK_MISSING, 2), ==, 1);
}

static void
test_a_missing_density_is_told_where_volume_needs_it (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autoptr (SherdPaintFacts) facts = NULL;

  recipe->basis = SHERD_BASIS_VOLUME;
  sherd_recipe_insert_material (recipe, 0, add_material (trial, "Quartz", "SiO2", 2.65), 1.0, NULL);
  sherd_recipe_insert_material (recipe, 1, add_material (trial, "Calcite", "CaCO3", NAN), 1.0, NULL);
  facts = sherd_paint_facts_new (trial, add_paint (trial, "V", recipe), 0, NULL);
  g_assert_null (facts->mix);
  g_assert_cmpuint (count_remarks (facts, SHERD_REMARK_MISSING, 1), ==, 1);
}

static void
test_cautions_stand_beside_what_causes_them (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  SherdPaint *paint;
  g_autoptr (SherdPaintFacts) facts = NULL;
  g_autofree char *names = NULL;

  sherd_recipe_insert_material (recipe, 0, add_material (trial, "Calcite", "CaCO3", 2.71), 1.0, NULL);
  sherd_recipe_insert_material (recipe, 1, add_material (trial, "Minium", "Pb3O4", 8.2), 1.0, NULL);
  paint = add_paint (trial, "PB", recipe);
  facts = sherd_paint_facts_new (trial, paint, 0, NULL);
  g_assert_cmpuint (count_remarks (facts, SHERD_REMARK_CAUTION, 1), >=, 1);
  /* Not for food, and the line that defers to rules. */
  g_assert_cmpuint (count_remarks (facts, SHERD_REMARK_CAUTION, SHERD_ROW_PAINT), ==, 2);
  g_assert_true ((sherd_trial_get_paint_hazards (trial, paint) & SHERD_HAZARD_LEAD) != 0);
  names = sherd_hazards_dup_names (SHERD_HAZARD_LEAD | SHERD_HAZARD_COPPER);
  g_assert_cmpstr (names, ==, "lead, copper");
}

static void
test_an_analysis_reads_as_it_is_written (void)
{
  g_auto (SherdMaterialRecord) record = { 0 };
  g_auto (SherdMaterialRecord) again = { 0 };
  g_autofree char *text = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) short_of = NULL;

  sherd_material_record_init (&record);
  sherd_material_record_init (&again);
  g_assert_true (sherd_material_record_set_analysis_text (&record, "SiO2 54 ± 1; Al2O3 35.5; LOI 10.5", NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (record.analysis->n_oxides, ==, 2);
  g_assert_cmpfloat (record.analysis->oxides[0].doubt_pct, ==, 1.0);
  g_assert_true (isnan (record.analysis->oxides[1].doubt_pct));
  g_assert_cmpfloat (record.loss_pct, ==, 10.5);
  text = sherd_material_record_dup_analysis_text (&record);
  g_assert_true (sherd_material_record_set_analysis_text (&again, text, NULL, &error));
  g_assert_true (sherd_material_record_equal (&record, &again));
  g_assert_false (sherd_material_record_set_analysis_text (&again, "SiO2 54", NULL, &short_of));
  g_assert_error (short_of, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_ANALYSIS);
  g_assert_true (sherd_material_record_equal (&record, &again));
}

/* What is copied into a trial gives the same chemistry as the table it comes from. */
static void
test_built_in_materials_keep_their_chemistry (void)
{
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new_built_in ();
  g_autoptr (GPtrArray) materials = sherd_built_in_materials_new ();

  g_assert_cmpuint (materials->len, ==, table->substances->len);
  g_assert_cmpuint (materials->len, >=, 45);
  for (guint i = 0; i < materials->len; i++)
    {
      const SherdSubstance *wanted = g_ptr_array_index (table->substances, i);
      const SherdMaterialRecord *record = g_ptr_array_index (materials, i);
      g_autoptr (GError) error = NULL;
      g_autoptr (SherdSubstance) substance = NULL;
      SherdYield expected, found;

      g_assert_true (sherd_material_record_check (record, &error));
      g_assert_no_error (error);
      substance = sherd_material_record_dup_substance (record, wanted->id, &error);
      g_assert_no_error (error);
      g_assert_true (sherd_substance_get_yield (wanted, &expected, NULL) ==
                     sherd_substance_get_yield (substance, &found, NULL));
      g_assert_cmpfloat_with_epsilon (found.lost_frac.value, expected.lost_frac.value, 1e-12);
      for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
        {
          g_assert_cmpfloat_with_epsilon (found.oxide_frac[oxide].value, expected.oxide_frac[oxide].value, 1e-12);
          g_assert_cmpfloat_with_epsilon (found.oxide_frac[oxide].u, expected.oxide_frac[oxide].u, 1e-9);
        }
      g_assert_cmpfloat (substance->particle_g_ml.value, ==, wanted->particle_g_ml.value);
      g_assert_cmpint (sherd_substance_get_hazards (substance), ==, sherd_substance_get_hazards (wanted));
    }
}

/* A step that the table gives without a temperature is told by its words alone. */
static void
test_no_built_in_heating_tells_what_is_not_known (void)
{
  g_autoptr (GPtrArray) materials = sherd_built_in_materials_new ();
  const SherdMaterialRecord *hematite = sherd_built_in_materials_find (materials, "hematite");

  g_assert_nonnull (hematite);
  g_assert_true (g_str_has_prefix (hematite->heating, "no loss below 1200"));
  for (guint i = 0; i < materials->len; i++)
    g_assert_null (strstr (((const SherdMaterialRecord *)g_ptr_array_index (materials, i))->heating, "nan"));
}

static void
test_a_built_in_material_is_added_once (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (GPtrArray) materials = sherd_built_in_materials_new ();
  SherdMaterial *malachite = sherd_trial_find_or_add_material (trial, materials, "MALACHITE");
  g_auto (SherdMaterialRecord) record = { 0 };

  g_assert_nonnull (malachite);
  sherd_material_record_copy (&record, sherd_material_get_record (malachite));
  g_free (record.name);
  record.name = g_strdup ("Green from the brook");
  g_assert_true (sherd_trial_set_material (trial, malachite, &record, FALSE, NULL));
  g_assert_true (sherd_trial_find_or_add_material (trial, materials, "malachite") == malachite);
  g_assert_null (sherd_trial_find_or_add_material (trial, materials, "moonstone dust"));
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (trial)), ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/facts/parts-by-volume-become-mass", test_parts_by_volume_become_mass);
  g_test_add_func ("/trial/facts/the-planned-batch-is-weighed", test_the_planned_batch_is_weighed);
  g_test_add_func ("/trial/facts/stock-and-cost-follow-the-batch", test_stock_and_cost_follow_the_batch);
  g_test_add_func ("/trial/facts/a-paint-within-is-resolved", test_a_paint_within_is_resolved);
  g_test_add_func ("/trial/facts/paints-often-within-one-another-are-asked-once",
                   test_paints_often_within_one_another_are_asked_once);
  g_test_add_func ("/trial/facts/the-slip-weight-follows-from-the-water", test_the_slip_weight_follows_from_the_water);
  g_test_add_func ("/trial/facts/the-doubt-of-a-find-reaches-its-oxides", test_the_doubt_of_a_find_reaches_its_oxides);
  g_test_add_func ("/trial/facts/what-is-missing-is-told-at-its-row", test_what_is_missing_is_told_at_its_row);
  g_test_add_func ("/trial/facts/a-missing-density-is-told-where-volume-needs-it",
                   test_a_missing_density_is_told_where_volume_needs_it);
  g_test_add_func ("/trial/facts/cautions-stand-beside-what-causes-them", test_cautions_stand_beside_what_causes_them);
  g_test_add_func ("/trial/facts/an-analysis-reads-as-it-is-written", test_an_analysis_reads_as_it_is_written);
  g_test_add_func ("/trial/built-in/materials-keep-their-chemistry", test_built_in_materials_keep_their_chemistry);
  g_test_add_func ("/trial/built-in/no-heating-tells-what-is-not-known",
                   test_no_built_in_heating_tells_what_is_not_known);
  g_test_add_func ("/trial/built-in/a-material-is-added-once", test_a_built_in_material_is_added_once);
  return g_test_run ();
}
