/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Recipes, materials and revisions on the invented trial of support.c: its piece has been fired; zone A1 carries the
 * first revision of KM, zone A2 carries RU 2 as it stands, which KM holds. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/paint-copy.h"
#include "trial/paint-use.h"

static SherdPaint *
paint_of (SherdTrial *trial, const char *code)
{
  return sherd_trial_find_paint_by_code (trial, code);
}

/* One part of the first material. */
static SherdRecipe *
simple_recipe (double parts, const char *parts_text)
{
  SherdRecipe *recipe = sherd_recipe_new ();

  sherd_recipe_insert_material (recipe, 0, "material-1", parts, parts_text);
  return recipe;
}

static void
set_simple_recipe (SherdTrial *trial, const char *code, double parts, const char *parts_text, gboolean continued)
{
  g_autoptr (SherdRecipe) recipe = simple_recipe (parts, parts_text);
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_trial_set_recipe (trial, paint_of (trial, code), recipe, continued, &error));
  g_assert_no_error (error);
}

static void
assert_readable (SherdTrial *trial)
{
  g_autofree char *text = sherd_trial_dup_text (trial, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) again = sherd_trial_new_from_text (text, strlen (text), "x", &error);
  g_autofree char *second = NULL;

  g_assert_no_error (error);
  second = sherd_trial_dup_text (again, NULL);
  g_assert_cmpstr (text, ==, second);
}

static void
test_changing_a_fired_recipe_keeps_what_was_fired (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autofree char *before = sherd_trial_dup_text (trial, NULL);
  g_autofree char *undone = NULL;
  SherdPaint *red = paint_of (trial, "RU 2");

  g_assert_true (sherd_trial_is_paint_fired (trial, red));
  set_simple_recipe (trial, "RU 2", 2.0, "2", FALSE);
  g_assert_cmpuint (sherd_paint_get_revision (red), ==, 2);
  g_assert_cmpuint (sherd_paint_get_recipe (red)->n_ingredients, ==, 1);
  g_assert_cmpuint (sherd_paint_find_recipe (red, 1)->n_ingredients, ==, 0);
  g_assert_cmpuint (sherd_zone_get_paint_revision (example_zone (trial, "A2")), ==, 1);
  g_assert_cmpuint (sherd_zone_get_paint_revision (example_zone (trial, "A1")), ==, 1);
  g_assert_cmpuint (sherd_zone_find_paint_revision (example_zone (trial, "A2")), ==, 1);
  g_assert_cmpuint (sherd_zone_find_paint_revision (example_zone (trial, "A3")), ==, 0);
  assert_readable (trial);
  sherd_trial_undo (trial);
  undone = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (before, ==, undone);
}

static void
test_further_changes_make_no_further_revision (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  set_simple_recipe (trial, "RU 2", 2.0, "2", TRUE);
  set_simple_recipe (trial, "RU 2", 2.5, "2.5", TRUE);
  set_simple_recipe (trial, "RU 2", 3.0, "3", FALSE);
  g_assert_cmpuint (sherd_paint_get_revision (paint_of (trial, "RU 2")), ==, 2);
  /* What was typed in one go is one step. */
  sherd_trial_undo (trial);
  g_assert_cmpfloat (sherd_paint_get_recipe (paint_of (trial, "RU 2"))->ingredients[0].parts, ==, 2.5);
  sherd_trial_undo (trial);
  g_assert_cmpuint (sherd_paint_get_revision (paint_of (trial, "RU 2")), ==, 1);
}

static void
test_another_spelling_is_no_change_of_the_paint (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdRecipe) respelt = NULL;
  SherdPaint *red = paint_of (trial, "RU 2");

  set_simple_recipe (trial, "RU 2", 0.5, "0.5", FALSE);
  g_assert_true (sherd_trial_set_zones_paint (trial, (SherdZone *[]){ example_zone (trial, "A3") }, 1, "RU 2", NULL));
  g_assert_true (sherd_trial_is_paint_fired (trial, red));
  respelt = simple_recipe (0.5, "1/2");
  g_assert_true (sherd_trial_set_recipe (trial, red, respelt, FALSE, NULL));
  g_assert_cmpuint (sherd_paint_get_revision (red), ==, 2);
  g_assert_cmpstr (sherd_paint_get_recipe (red)->ingredients[0].parts_text, ==, "1/2");
}

static void
test_an_unfired_paint_changes_without_a_trace (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  g_assert_false (sherd_trial_is_paint_fired (trial, paint_of (trial, "KM")));
  set_simple_recipe (trial, "KM", 4.0, "4", FALSE);
  g_assert_cmpuint (sherd_paint_get_revision (paint_of (trial, "KM")), ==, 2);
}

static void
test_what_holds_a_changed_paint_is_revised_with_it (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPaint *black = paint_of (trial, "KM");
  const SherdRecipe *kept;

  g_assert_true (sherd_trial_set_zones_paint (trial, (SherdZone *[]){ example_zone (trial, "A3") }, 1, "KM", NULL));
  set_simple_recipe (trial, "RU 2", 2.0, "2", FALSE);
  g_assert_cmpuint (sherd_paint_get_revision (black), ==, 3);
  kept = sherd_paint_find_recipe (black, 2);
  g_assert_cmpuint (kept->ingredients[1].revision, ==, 1);
  g_assert_cmpuint (sherd_paint_get_recipe (black)->ingredients[1].revision, ==, 0);
  g_assert_cmpuint (sherd_zone_get_paint_revision (example_zone (trial, "A3")), ==, 2);
  assert_readable (trial);
}

static void
test_a_new_paint_on_a_zone_starts_as_it_stands (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdZone *zone = example_zone (trial, "A1");

  g_assert_true (sherd_trial_set_zones_paint (trial, &zone, 1, "KM", NULL));
  g_assert_cmpuint (sherd_zone_get_paint_revision (zone), ==, 1);
  g_assert_true (sherd_trial_set_zones_paint (trial, &zone, 1, "RU 2", NULL));
  g_assert_cmpuint (sherd_zone_get_paint_revision (zone), ==, 0);
}

static void
assert_recipe_refused (SherdTrial *trial, const char *code, const SherdRecipe *recipe)
{
  g_autofree char *before = sherd_trial_dup_text (trial, NULL);
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_trial_set_recipe (trial, paint_of (trial, code), recipe, FALSE, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  after = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (before, ==, after);
}

static void
test_circles_are_refused (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();

  sherd_recipe_insert_paint (recipe, 0, "paint-1", 1.0, NULL);
  assert_recipe_refused (trial, "KM", recipe);
  assert_recipe_refused (trial, "RU 2", recipe);
  g_assert_true (sherd_trial_recipe_holds_paint (trial, recipe, paint_of (trial, "RU 2")));
}

static void
test_impossible_recipes_are_refused (void)
{
  static const double parts[] = { 0.0, -1.0, 1e7, NAN, INFINITY };
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdRecipe) strange = sherd_recipe_new ();
  g_autoptr (SherdRecipe) dry = sherd_recipe_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autoptr (SherdRecipe) recipe = simple_recipe (parts[i], NULL);

      assert_recipe_refused (trial, "KM", recipe);
    }
  sherd_recipe_insert_material (strange, 0, "material-9", 1.0, NULL);
  assert_recipe_refused (trial, "KM", strange);
  dry->water_pct = -3.0;
  assert_recipe_refused (trial, "KM", dry);
}

/* A chain of paints, each mixed of the one before, as long as is allowed; the next would be too deep. */
static void
test_paints_within_paints_have_a_bottom (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (GError) error = NULL;
  SherdPaint *last = sherd_trial_add_paint (trial, "P0", NULL, NULL);

  for (guint i = 1; i <= SHERD_PAINT_MAX_DEPTH + 1; i++)
    {
      g_autofree char *code = g_strdup_printf ("P%u", i);
      SherdPaint *next = sherd_trial_add_paint (trial, code, NULL, NULL);
      g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();

      sherd_recipe_insert_paint (recipe, 0, sherd_part_get_id (SHERD_PART (last)), 1.0, NULL);
      g_assert_true (sherd_trial_set_recipe (trial, next, recipe, FALSE, &error) == (i <= SHERD_PAINT_MAX_DEPTH));
      last = next;
    }
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  assert_readable (trial);
}

static void
test_what_is_in_use_is_not_removed (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (GError) ash = NULL, gum = NULL, red = NULL, replaced = NULL;

  g_assert_false (sherd_trial_remove_material (trial, sherd_trial_find_material (trial, "material-1"), &ash));
  g_assert_error (ash, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE);
  g_assert_nonnull (strstr (ash->message, "KM"));
  g_assert_false (sherd_trial_remove_material (trial, sherd_trial_find_material (trial, "material-2"), &gum));
  g_assert_error (gum, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE);
  g_assert_true (sherd_trial_set_zones_paint (trial, (SherdZone *[]){ example_zone (trial, "A2") }, 1, NULL, NULL));
  g_assert_false (sherd_trial_remove_paint (trial, paint_of (trial, "RU 2"), &red));
  g_assert_error (red, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE);
  g_assert_false (sherd_trial_replace_paint (trial, paint_of (trial, "RU 2"), NULL, &replaced));
  g_assert_error (replaced, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE);
}

static void
test_a_material_is_edited_and_undone (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdMaterial *ash = sherd_trial_find_material (trial, "material-1");
  g_autofree char *before = sherd_trial_dup_text (trial, NULL);
  g_autofree char *after = NULL;
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (GError) error = NULL;

  sherd_material_record_copy (&record, sherd_material_get_record (ash));
  record.stock_g = 250.0;
  record.spoon_g = NAN;
  g_assert_true (sherd_trial_set_material (trial, ash, &record, TRUE, NULL));
  record.price_per_kg = NAN;
  g_assert_true (sherd_trial_set_material (trial, ash, &record, TRUE, NULL));
  g_assert_true (sherd_material_record_equal (sherd_material_get_record (ash), &record));
  assert_readable (trial);
  sherd_trial_undo (trial);
  after = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (before, ==, after);
  g_free (record.name);
  record.name = g_strdup ("CHERRY gum");
  g_assert_false (sherd_trial_set_material (trial, ash, &record, FALSE, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DUPLICATE);
}

static void
test_impossible_materials_are_refused (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (GError) nameless = NULL, heavy = NULL, unsure = NULL;

  sherd_material_record_init (&record);
  g_assert_null (sherd_trial_add_material (trial, &record, &nameless));
  g_assert_error (nameless, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  g_free (record.name);
  record.name = g_strdup ("Lump");
  record.particle_density_g_cm3 = 50.0;
  g_assert_null (sherd_trial_add_material (trial, &record, &heavy));
  g_assert_error (heavy, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  g_assert_nonnull (strstr (heavy->message, "particle_density_g_cm3"));
  record.particle_density_g_cm3 = NAN;
  record.purity_pct = NAN;
  g_assert_null (sherd_trial_add_material (trial, &record, &unsure));
  g_assert_error (unsure, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
}

static void
test_duplicates_get_codes_and_names_of_their_own (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPaint *copy = sherd_trial_duplicate_paint (trial, paint_of (trial, "KM"));
  SherdPaint *third = sherd_trial_duplicate_paint (trial, copy);
  SherdMaterial *lot = sherd_trial_duplicate_material (trial, sherd_trial_find_material (trial, "material-1"));

  g_assert_cmpstr (sherd_paint_get_code (copy), ==, "KM2");
  g_assert_cmpstr (sherd_paint_get_code (third), ==, "KM3");
  g_assert_true (sherd_recipe_equal (sherd_paint_get_recipe (copy), sherd_paint_get_recipe (paint_of (trial, "KM"))));
  g_assert_cmpuint (sherd_paint_get_revision (copy), ==, 1);
  g_assert_cmpstr (sherd_material_get_name (lot), ==, "Alder ash (2)");
  g_assert_true (isnan (sherd_material_get_record (lot)->stock_g));
  sherd_trial_undo (trial);
  sherd_trial_undo (trial);
  sherd_trial_undo (trial);
  g_assert_false (sherd_trial_get_modified (trial));
}

static void
test_paints_are_copied_with_what_they_are_mixed_of (void)
{
  g_autoptr (SherdTrial) from = example_trial_new ();
  g_autoptr (SherdTrial) to = sherd_trial_new ();
  SherdPaint *black = paint_of (from, "KM");
  g_autofree char *text = sherd_trial_dup_paints_text (from, &black, 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) first = sherd_trial_paste_paints (to, text, &error);
  g_autoptr (GPtrArray) second = NULL;

  g_assert_no_error (error);
  g_assert_cmpuint (first->len, ==, 1);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (to)), ==, 2);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (to)), ==, 2);
  g_assert_cmpuint (sherd_paint_get_revision (paint_of (to, "KM")), ==, 1);
  /* Once more: the same materials and the same paint within are known again. */
  second = sherd_trial_copy_paints (to, from, &black, 1);
  g_assert_cmpstr (sherd_paint_get_code (g_ptr_array_index (second, 0)), ==, "KM2");
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (to)), ==, 3);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (to)), ==, 2);
  assert_readable (to);
  sherd_trial_undo (to);
  sherd_trial_undo (to);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (to)), ==, 0);
}

static void
test_another_material_of_the_same_name_is_kept_apart (void)
{
  g_autoptr (SherdTrial) from = example_trial_new ();
  g_autoptr (SherdTrial) to = example_trial_new ();
  SherdMaterial *ash = sherd_trial_find_material (to, "material-1");
  SherdPaint *black = paint_of (from, "KM");
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (GPtrArray) copies = NULL;

  sherd_material_record_copy (&record, sherd_material_get_record (ash));
  record.purity_pct = 60.0;
  g_assert_true (sherd_trial_set_material (to, ash, &record, FALSE, NULL));
  copies = sherd_trial_copy_paints (to, from, &black, 1);
  g_assert_nonnull (sherd_trial_find_material_by_name (to, "Alder ash (2)"));
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (to)), ==, 3);
  assert_readable (to);
}

static void
test_a_clipboard_without_paints_is_refused (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdTrial) empty = sherd_trial_new ();
  g_autofree char *text = sherd_trial_dup_text (empty, NULL);
  g_autoptr (GError) no_trial = NULL, no_paints = NULL;

  g_assert_null (sherd_trial_paste_paints (trial, "some words", &no_trial));
  g_assert_error (no_trial, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CONTENT);
  g_assert_null (sherd_trial_paste_paints (trial, text, &no_paints));
  g_assert_error (no_paints, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
}

/* 20.1 mm × 12.3 mm, two coats; the other zone of KM was fired with an earlier revision and needs none of it. */
static void
test_the_area_to_be_painted_counts_coats (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdZone *zone = example_zone (trial, "A1");

  g_assert_cmpfloat (sherd_trial_get_coat_area_mm2 (trial, paint_of (trial, "KM"), NULL), ==, 0.0);
  g_assert_true (sherd_trial_set_zones_paint (trial, &zone, 1, "RU 2", NULL));
  g_assert_true (sherd_trial_set_zones_paint (trial, &zone, 1, "KM", NULL));
  g_assert_cmpfloat_with_epsilon (sherd_trial_get_coat_area_mm2 (trial, paint_of (trial, "KM"), NULL),
                                  2.0 * 20.1 * 12.3, 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/recipe/changing-a-fired-one-keeps-what-was-fired",
                   test_changing_a_fired_recipe_keeps_what_was_fired);
  g_test_add_func ("/trial/recipe/further-changes-make-no-further-revision",
                   test_further_changes_make_no_further_revision);
  g_test_add_func ("/trial/recipe/another-spelling-is-no-change", test_another_spelling_is_no_change_of_the_paint);
  g_test_add_func ("/trial/recipe/an-unfired-paint-changes-without-a-trace",
                   test_an_unfired_paint_changes_without_a_trace);
  g_test_add_func ("/trial/recipe/what-holds-a-changed-paint-is-revised-with-it",
                   test_what_holds_a_changed_paint_is_revised_with_it);
  g_test_add_func ("/trial/recipe/a-new-paint-on-a-zone-starts-as-it-stands",
                   test_a_new_paint_on_a_zone_starts_as_it_stands);
  g_test_add_func ("/trial/recipe/circles-are-refused", test_circles_are_refused);
  g_test_add_func ("/trial/recipe/impossible-ones-are-refused", test_impossible_recipes_are_refused);
  g_test_add_func ("/trial/recipe/paints-within-paints-have-a-bottom", test_paints_within_paints_have_a_bottom);
  g_test_add_func ("/trial/recipe/what-is-in-use-is-not-removed", test_what_is_in_use_is_not_removed);
  g_test_add_func ("/trial/material/is-edited-and-undone", test_a_material_is_edited_and_undone);
  g_test_add_func ("/trial/material/impossible-ones-are-refused", test_impossible_materials_are_refused);
  g_test_add_func ("/trial/recipe/duplicates-get-codes-and-names-of-their-own",
                   test_duplicates_get_codes_and_names_of_their_own);
  g_test_add_func ("/trial/copy/paints-come-with-what-they-are-mixed-of",
                   test_paints_are_copied_with_what_they_are_mixed_of);
  g_test_add_func ("/trial/copy/another-material-of-the-same-name-is-kept-apart",
                   test_another_material_of_the_same_name_is_kept_apart);
  g_test_add_func ("/trial/copy/a-clipboard-without-paints-is-refused", test_a_clipboard_without_paints_is_refused);
  g_test_add_func ("/trial/use/the-area-to-be-painted-counts-coats", test_the_area_to_be_painted_counts_coats);
  return g_test_run ();
}
