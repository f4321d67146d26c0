/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes of a trial made here, and what is said of them; words by hand. */
#include "config.h"

#include <math.h>

#include "trial/edits.h"
#include "trial/recipe-words.h"

typedef struct
{
  SherdTrial *trial;
  SherdPaint *paint;
  const char *malachite;
  const char *kaolin;
} Pot;

static const char *
add_material (SherdTrial *trial, const char *name)
{
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (GError) error = NULL;
  SherdMaterial *material;

  sherd_material_record_init (&record);
  g_free (record.name);
  record.name = g_strdup (name);
  material = sherd_trial_add_material (trial, &record, &error);
  g_assert_no_error (error);
  return sherd_part_get_id (SHERD_PART (material));
}

static void
set_up (Pot *pot, gconstpointer data)
{
  pot->trial = sherd_trial_new ();
  pot->malachite = add_material (pot->trial, "Malachite");
  pot->kaolin = add_material (pot->trial, "Kaolin");
  pot->paint = sherd_trial_add_paint (pot->trial, "HB", "Hearth black", NULL);
}

static void
tear_down (Pot *pot, gconstpointer data)
{
  g_object_unref (pot->trial);
}

static SherdRecipe *
two_to_one (Pot *pot)
{
  SherdRecipe *recipe = sherd_recipe_new ();

  sherd_recipe_insert_material (recipe, 0, pot->malachite, 2.0, NULL);
  sherd_recipe_insert_material (recipe, 1, pot->kaolin, 1.0 / 3.0, "1/3");
  return recipe;
}

static void
test_a_recipe_reads_as_parts_and_names (Pot *pot, gconstpointer data)
{
  g_autoptr (SherdRecipe) recipe = two_to_one (pot);
  g_autofree char *words = sherd_recipe_dup_words (pot->trial, recipe);

  g_assert_cmpstr (words, ==, "2 Malachite, 1/3 Kaolin");
}

static void
test_a_paint_in_a_paint_goes_by_its_code (Pot *pot, gconstpointer data)
{
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  g_autofree char *words = NULL;

  sherd_recipe_insert_paint (recipe, 0, sherd_part_get_id (SHERD_PART (pot->paint)), 3.0, NULL);
  words = sherd_recipe_dup_words (pot->trial, recipe);
  g_assert_cmpstr (words, ==, "3 HB Hearth black");
}

static void
test_changes_are_told_one_by_one (Pot *pot, gconstpointer data)
{
  g_autoptr (SherdRecipe) before = two_to_one (pot);
  g_autoptr (SherdRecipe) after = sherd_recipe_new ();
  g_autofree char *words = NULL;

  sherd_recipe_insert_material (after, 0, pot->malachite, 3.0, NULL);
  sherd_recipe_insert_paint (after, 1, sherd_part_get_id (SHERD_PART (pot->paint)), 1.0, NULL);
  after->basis = SHERD_BASIS_VOLUME;
  after->water_pct = 80.0;
  words = sherd_recipe_dup_changes (pot->trial, before, after);
  g_assert_cmpstr (words, ==,
                   "parts by volume instead of mass; Malachite 2 → 3; with HB Hearth black, 1; without Kaolin; "
                   "water not known → 80 %");
}

static void
test_the_same_recipe_has_no_changes (Pot *pot, gconstpointer data)
{
  g_autoptr (SherdRecipe) before = two_to_one (pot);
  g_autoptr (SherdRecipe) after = two_to_one (pot);
  g_autofree char *words = NULL;

  sherd_recipe_set_parts (after, 0, 2.0, "2.0");
  words = sherd_recipe_dup_changes (pot->trial, before, after);
  g_assert_cmpstr (words, ==, "");
}

#define ADD(path, test) g_test_add (path, Pot, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/trial/recipe-words/a recipe reads as parts and names", test_a_recipe_reads_as_parts_and_names);
  ADD ("/trial/recipe-words/a paint in a paint goes by its code", test_a_paint_in_a_paint_goes_by_its_code);
  ADD ("/trial/recipe-words/changes are told one by one", test_changes_are_told_one_by_one);
  ADD ("/trial/recipe-words/the same recipe has no changes", test_the_same_recipe_has_no_changes);
  return g_test_run ();
}
