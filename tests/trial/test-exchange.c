/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of paints and materials out of the invented trial of support.c and into it. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/exchange.h"
#include "trial/file.h"

static SherdImport *
import_of (SherdTrial *trial, const char *text)
{
  g_autoptr (GError) error = NULL;
  SherdImport *import = sherd_import_new (trial, text, strlen (text), &error);

  g_assert_no_error (error);
  return import;
}

/* The cells of a row, parted by "|". */
static void
assert_entry (const SherdImport *import, guint row, const char *start)
{
  const SherdTable *table = sherd_import_get_table (import);
  g_autoptr (GString) cells = g_string_new (NULL);

  g_assert_cmpuint (row, <, sherd_table_get_n_rows (table));
  for (guint column = 0; column < sherd_table_get_n_columns (table); column++)
    {
      g_autofree char *cell = sherd_table_dup_cell (table, row, column);

      g_string_append_printf (cells, "%s%s", column > 0 ? "|" : "", cell);
    }
  if (!g_str_has_prefix (cells->str, start))
    g_test_message ("“%s” does not begin with “%s”", cells->str, start);
  g_assert_true (g_str_has_prefix (cells->str, start));
}

static void
apply (SherdImport *import)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_import_apply (import, &error));
  g_assert_no_error (error);
}

static void
test_what_was_exported_changes_nothing (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdTable) materials = sherd_exchange_materials (trial);
  g_autoptr (SherdTable) paints = sherd_exchange_paints (trial);
  g_autofree char *materials_csv = sherd_table_to_csv (materials);
  g_autofree char *paints_csv = sherd_table_to_csv (paints);
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autoptr (SherdImport) import = NULL;
  g_autoptr (SherdImport) of_paints = import_of (trial, paints_csv);
  SherdMaterial *ash = sherd_trial_find_material (trial, "material-1");

  /* The example's hazards are words of its own, and its analysis is short of 100 %: it is made sound first. */
  sherd_material_record_copy (&record, sherd_material_get_record (ash));
  g_strfreev (record.hazards);
  record.hazards = g_strsplit ("copper silica-dust", " ", -1);
  record.analysis->oxides[1].pct = 41.0;
  g_assert_true (sherd_trial_set_material (trial, ash, &record, FALSE, NULL));
  g_free (materials_csv);
  sherd_table_free (g_steal_pointer (&materials));
  materials = sherd_exchange_materials (trial);
  materials_csv = sherd_table_to_csv (materials);

  import = import_of (trial, materials_csv);
  g_assert_cmpuint (sherd_import_count_faults (import), ==, 0);
  g_assert_cmpuint (sherd_import_count_changes (import), ==, 0);
  assert_entry (import, 0, "2|Alder ash|same|");
  g_assert_cmpuint (sherd_import_count_faults (of_paints), ==, 0);
  g_assert_cmpuint (sherd_import_count_changes (of_paints), ==, 0);
}

static void
test_an_exported_trial_is_built_anew (void)
{
  const char *materials = "name,kind,formula,particle_density_g_cm3,purity_pct,purity_doubt_pct,rest,hazards\n"
                          "Brook ore,colourant,MnO2,4.8,70,8,clay,manganese; silica-dust\n";
  const char *paints = "paint,name,kind,basis,material,other_paint,parts,binder,binder_pct,water_pct,batch_g,note\n"
                       "BR,brook black,paint,volume,brook ORE,,2,honey,3,60,50,\"dark, thin\"\n"
                       "BR,,,,kaolinite,,1/3,,,,,\n"
                       "B2,,slip,,,BR,1,,,,,\n";
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdImport) first = import_of (trial, materials);
  g_autoptr (SherdImport) second = NULL;
  const SherdRecipe *recipe;
  SherdPaint *black;

  assert_entry (first, 0, "2|Brook ore|adds|");
  g_assert_false (sherd_trial_get_modified (trial));
  apply (first);
  second = import_of (trial, paints);
  assert_entry (second, 0, "2|BR|adds|2 Brook ore, 1/3 Kaolinite");
  assert_entry (second, 1, "4|B2|adds|1 BR brook black");
  apply (second);

  black = sherd_trial_find_paint_by_code (trial, "BR");
  recipe = sherd_paint_get_recipe (black);
  g_assert_cmpint (recipe->basis, ==, SHERD_BASIS_VOLUME);
  g_assert_cmpfloat_with_epsilon (recipe->ingredients[1].parts, 1.0 / 3.0, 1e-15);
  g_assert_cmpstr (recipe->ingredients[1].parts_text, ==, "1/3");
  g_assert_cmpfloat (recipe->water_pct, ==, 60.0);
  g_assert_nonnull (sherd_trial_find_material (trial, recipe->binder_id));
  g_assert_cmpfloat (sherd_paint_get_batch_g (black), ==, 50.0);
  g_assert_cmpstr (sherd_paint_get_note (black), ==, "dark, thin");
  g_assert_cmpint (sherd_paint_get_kind (sherd_trial_find_paint_by_code (trial, "B2")), ==, SHERD_PAINT_SLIP);
  /* Each list is one step. */
  sherd_trial_undo (trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (trial)), ==, 0);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (trial)), ==, 1);
  sherd_trial_undo (trial);
  g_assert_false (sherd_trial_get_modified (trial));
}

static void
test_a_list_changes_only_what_it_has_columns_for (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdImport) import = import_of (trial, "NAME;stock_g;price_per_kg;shelf\nalder ASH;1,250;;3\n");
  const SherdMaterialRecord *ash = sherd_material_get_record (sherd_trial_find_material (trial, "material-1"));

  assert_entry (import, 0, "1|shelf|left-out|");
  assert_entry (import, 1, "2|alder ASH|changes|name, stock_g, price_per_kg");
  apply (import);
  g_assert_cmpfloat (ash->stock_g, ==, 1.25);
  g_assert_true (isnan (ash->price_per_kg));
  g_assert_cmpfloat (ash->purity_pct, ==, 80.0);
  g_assert_cmpuint (ash->analysis->n_oxides, ==, 2);
}

static void
test_what_cannot_be_taken_in_is_told_and_left_out (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdImport) import = import_of (trial, "name,kind,formula,analysis,hazards,stock_g\n"
                                                     "Good,clay,SiO2,,,\n"
                                                     "Bad 1,clay,Si0x2,,,\n"
                                                     "Bad 2,stone,,,,\n"
                                                     "Bad 3,,,SiO2 40,,\n"
                                                     "Bad 4,,,,glare,\n"
                                                     "Bad 5,,,,,many\n"
                                                     "Bad 6,,,,,-2\n"
                                                     "good,,,,,\n"
                                                     ",,SiO2,,,\n");

  g_assert_cmpuint (sherd_import_count_faults (import), ==, 8);
  assert_entry (import, 0, "2|Good|adds|");
  assert_entry (import, 1, "3|Bad 1|cannot|Formula");
  assert_entry (import, 2, "4|Bad 2|cannot|kind");
  assert_entry (import, 4, "6|Bad 4|cannot|hazards");
  assert_entry (import, 5, "7|Bad 5|cannot|stock_g");
  assert_entry (import, 7, "9|good|cannot|");
  assert_entry (import, 8, "10||cannot|");
  apply (import);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_materials (trial)), ==, 1);
}

/* C2 holds C1, which is wrong: neither can be taken in. */
static void
test_what_holds_a_faulty_paint_is_left_out_too (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdImport) import = import_of (trial, "paint,material,other_paint,parts,basis\n"
                                                     "C2,,C1,1,\n"
                                                     "C1,quartz,,0,\n"
                                                     "C3,quartz,,1,mass\n"
                                                     "C4,,C4,1,\n"
                                                     "C5,quartz,C3,1,\n"
                                                     "C6,quartz,,,\n"
                                                     "C7,quartz,,1,mass\n"
                                                     "C7,kaolinite,,1,volume\n");

  g_assert_cmpuint (sherd_import_count_faults (import), ==, 6);
  apply (import);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (trial)), ==, 1);
  g_assert_nonnull (sherd_trial_find_paint_by_code (trial, "C3"));
}

/* RU 2 has been fired, so the list makes a revision of it. */
static void
test_a_fired_paint_is_revised_by_a_list (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdImport) import = import_of (trial, "paint,material,parts\nRU 2,Alder ash,1\n");

  assert_entry (import, 0, "2|RU 2|changes|with Alder ash, 1");
  apply (import);
  g_assert_cmpuint (sherd_paint_get_revision (sherd_trial_find_paint_by_code (trial, "RU 2")), ==, 2);
  g_assert_cmpuint (sherd_zone_get_paint_revision (example_zone (trial, "A2")), ==, 1);
}

/* A decimal comma without quotes moves all that follows it by a column: 5 would be taken in for 5.2. */
static void
test_a_row_with_too_many_cells_is_left_out (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdImport) materials = import_of (trial, "name,formula,particle_density_g_cm3\n"
                                                        "Good,Fe2O3,5.2\n"
                                                        "Quoted,Fe2O3,\"5.2\",,\n"
                                                        "Bad,Fe2O3,5,2\n");
  g_autoptr (SherdImport) paints = import_of (trial, "paint,parts\nA,1\nB,1\nB,1,5\n");

  assert_entry (materials, 0, "2|Good|adds|");
  assert_entry (materials, 1, "3|Quoted|adds|");
  assert_entry (materials, 2, "4|Bad|cannot|line 4: it has more cells than there are columns.");
  assert_entry (paints, 0, "2|A|adds|");
  assert_entry (paints, 1, "3|B|cannot|line 4: it has more cells than there are columns.");
}

static void
test_a_list_longer_than_any_pantry_is_refused (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (GString) text = g_string_new ("name,kind\n");
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 100000; i++)
    g_string_append_printf (text, "Find %u,clay\n", i);
  g_assert_null (sherd_import_new (trial, text->str, text->len, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CONTENT);
  g_assert_true (g_str_has_prefix (error->message, "line 10001: at most 10000 lines"));
}

static void
test_what_is_no_list_is_refused (void)
{
  static const char *const texts[] = { "", "a,b\n1,2\n", "name,\"kind\nx" };
  g_autoptr (SherdTrial) trial = sherd_trial_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (sherd_import_new (trial, texts[i], strlen (texts[i]), &error));
      g_assert_nonnull (error);
      g_assert_true (g_str_has_prefix (error->message, "line "));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/exchange/a-row-with-too-many-cells-is-left-out", test_a_row_with_too_many_cells_is_left_out);
  g_test_add_func ("/trial/exchange/a-list-longer-than-any-pantry-is-refused",
                   test_a_list_longer_than_any_pantry_is_refused);
  g_test_add_func ("/trial/exchange/what-was-exported-changes-nothing", test_what_was_exported_changes_nothing);
  g_test_add_func ("/trial/exchange/an-exported-trial-is-built-anew", test_an_exported_trial_is_built_anew);
  g_test_add_func ("/trial/exchange/a-list-changes-only-what-it-has-columns-for",
                   test_a_list_changes_only_what_it_has_columns_for);
  g_test_add_func ("/trial/exchange/what-cannot-be-taken-in-is-told-and-left-out",
                   test_what_cannot_be_taken_in_is_told_and_left_out);
  g_test_add_func ("/trial/exchange/what-holds-a-faulty-paint-is-left-out-too",
                   test_what_holds_a_faulty_paint_is_left_out_too);
  g_test_add_func ("/trial/exchange/a-fired-paint-is-revised-by-a-list", test_a_fired_paint_is_revised_by_a_list);
  g_test_add_func ("/trial/exchange/what-is-no-list-is-refused", test_what_is_no_list_is_refused);
  return g_test_run ();
}
