/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The station as it is typed into. Grams by hand: of 10 g by mass, 2 parts to 1 weigh 6.7 and 3.3 g on a scale that
 * reads to 0.1 g; 3 parts to 1 weigh 7.5 and 2.5 g. */
#include "config.h"

#include <string.h>

#include "desk/import-dialog.h"
#include "desk/ingredient-row.h"
#include "desk/material-list.h"
#include "desk/number-entry.h"
#include "desk/paint-editor.h"
#include "desk/paints-station.h"
#include "desk/recipe-changes.h"
#include "trial/edits.h"
#include "trial/exchange.h"
#include "window-support.h"

typedef struct
{
  SherdTrial *trial;
  SherdPaintsStation *station;
  SherdPaint *paint;
} Fixture;

static GtkWidget *
find_named (GtkWidget *widget, const char *type_name, guint *skip)
{
  if (g_str_equal (G_OBJECT_TYPE_NAME (widget), type_name) && (*skip)-- == 0)
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_named (child, type_name, skip);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gpointer
nth (Fixture *fixture, const char *type_name, guint n)
{
  return find_named (GTK_WIDGET (fixture->station), type_name, &n);
}

static gpointer
child_of (gpointer widget, const char *name)
{
  return gtk_widget_get_template_child (widget, G_OBJECT_TYPE (widget), name);
}

static GtkEditable *
parts_field (Fixture *fixture, guint row)
{
  SherdNumberEntry *parts = child_of (nth (fixture, "SherdIngredientRow", row), "parts_entry");

  return GTK_EDITABLE (child_of (parts, "entry"));
}

static const char *
grams (Fixture *fixture, guint row)
{
  return gtk_label_get_text (child_of (nth (fixture, "SherdIngredientRow", row), "grams_label"));
}

static SherdMaterialChoice *
choice_beginning (SherdTrial *trial, SherdPaint *paint, const char *begin)
{
  g_autoptr (GListModel) choices = sherd_material_choices_new (trial, paint, TRUE);

  for (guint i = 0; i < g_list_model_get_n_items (choices); i++)
    {
      g_autoptr (SherdMaterialChoice) choice = g_list_model_get_item (choices, i);

      if (g_str_has_prefix (sherd_material_choice_get_name (choice), begin))
        return g_steal_pointer (&choice);
    }
  g_error ("no material begins with “%s”", begin);
}

static void
add (Fixture *fixture, const char *name)
{
  g_autoptr (SherdMaterialChoice) choice = choice_beginning (fixture->trial, fixture->paint, name);
  g_autoptr (GError) error = NULL;

  sherd_recipe_add_choice (fixture->trial, fixture->paint, choice, &error);
  g_assert_no_error (error);
}

/* 10 g of one part of malachite to one of kaolinite. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->trial = sherd_trial_new ();
  fixture->station = g_object_new (SHERD_TYPE_PAINTS_STATION, NULL);
  sherd_test_window (GTK_WIDGET (fixture->station), 1100, 700);
  fixture->paint = sherd_trial_add_paint (fixture->trial, "HB", "Hearth black", NULL);
  sherd_paints_station_set_trial (fixture->station, fixture->trial);
  add (fixture, "Malachite");
  add (fixture, "Kaolinite");
  g_assert_true (sherd_trial_set_paint_batch_g (fixture->trial, fixture->paint, 10.0, FALSE, NULL));
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (fixture->station))));
  sherd_test_spin (50);
  g_assert_finalize_object (fixture->trial);
}

static void
test_typing_parts_changes_the_grams_at_once (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpstr (grams (fixture, 0), ==, "5.0 g");
  gtk_editable_set_text (parts_field (fixture, 0), "2");
  g_assert_cmpstr (grams (fixture, 0), ==, "6.7 g");
  g_assert_cmpstr (grams (fixture, 1), ==, "3.3 g");
  gtk_editable_set_text (parts_field (fixture, 1), "2/3");
  g_assert_cmpstr (grams (fixture, 0), ==, "7.5 g");
  g_assert_cmpstr (grams (fixture, 1), ==, "2.5 g");
}

static void
test_typing_is_one_step_of_undo (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (parts_field (fixture, 0), "2");
  gtk_editable_set_text (parts_field (fixture, 0), "2.");
  gtk_editable_set_text (parts_field (fixture, 0), "2.5");
  sherd_trial_undo (fixture->trial);
  g_assert_cmpstr (gtk_editable_get_text (parts_field (fixture, 0)), ==, "1");
  g_assert_cmpstr (grams (fixture, 0), ==, "5.0 g");
  sherd_trial_redo (fixture->trial);
  g_assert_cmpstr (grams (fixture, 0), ==, "7.1 g");
}

static void
test_an_error_stands_at_its_field_and_nothing_is_lost (Fixture *fixture, gconstpointer data)
{
  static const char *const wrong[] = { "two", "0", "-1", "", "1/0" };
  SherdNumberEntry *parts = child_of (nth (fixture, "SherdIngredientRow", 0), "parts_entry");

  for (guint i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      gtk_editable_set_text (parts_field (fixture, 0), wrong[i]);
      g_assert_true (sherd_number_entry_is_refused (parts));
      g_assert_cmpstr (gtk_editable_get_text (parts_field (fixture, 0)), ==, wrong[i]);
      g_assert_cmpfloat (sherd_paint_get_recipe (fixture->paint)->ingredients[0].parts, ==, 1.0);
    }
  gtk_editable_set_text (parts_field (fixture, 1), "3"); /* goes on beside it */
  g_assert_cmpstr (gtk_editable_get_text (parts_field (fixture, 0)), ==, "1/0");
  g_assert_true (sherd_number_entry_is_refused (parts));
  g_assert_cmpstr (grams (fixture, 1), ==, "7.5 g");
}

static void
test_taking_a_row_out_leaves_what_is_typed_in_the_others (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (parts_field (fixture, 1), "many");
  g_signal_emit_by_name (nth (fixture, "SherdIngredientRow", 0), "removed");
  g_assert_cmpstr (gtk_editable_get_text (parts_field (fixture, 0)), ==, "many");
  g_assert_cmpuint (sherd_paint_get_recipe (fixture->paint)->n_ingredients, ==, 1);
}

static void
test_a_code_that_is_taken_is_refused_at_the_code (Fixture *fixture, gconstpointer data)
{
  GtkEditable *code = child_of (child_of (nth (fixture, "SherdPaintEditor", 0), "code_entry"), "entry");
  GtkWidget *message = child_of (child_of (nth (fixture, "SherdPaintEditor", 0), "code_entry"), "message_label");

  sherd_trial_add_paint (fixture->trial, "OX", NULL, NULL);
  gtk_editable_set_text (code, "OX");
  g_assert_true (gtk_widget_get_visible (message));
  g_assert_cmpstr (gtk_editable_get_text (code), ==, "OX");
  g_assert_cmpstr (sherd_paint_get_code (fixture->paint), ==, "HB");
  gtk_editable_set_text (code, "OX1");
  g_assert_false (gtk_widget_get_visible (message));
  g_assert_cmpstr (sherd_paint_get_code (fixture->paint), ==, "OX1");
}

static void
test_a_built_in_material_comes_and_goes_with_its_step (Fixture *fixture, gconstpointer data)
{
  GListModel *materials = sherd_trial_get_materials (fixture->trial);

  g_assert_cmpuint (g_list_model_get_n_items (materials), ==, 2);
  add (fixture, "Quartz");
  g_assert_cmpuint (g_list_model_get_n_items (materials), ==, 3);
  g_assert_nonnull (nth (fixture, "SherdIngredientRow", 2));
  sherd_trial_undo (fixture->trial);
  g_assert_cmpuint (g_list_model_get_n_items (materials), ==, 2);
  g_assert_null (nth (fixture, "SherdIngredientRow", 2));
}

static void
test_a_paint_cannot_hold_itself (Fixture *fixture, gconstpointer data)
{
  SherdPaint *other = sherd_trial_add_paint (fixture->trial, "OX", NULL, NULL);
  g_autoptr (SherdMaterialChoice) black = choice_beginning (fixture->trial, other, "HB Hearth black");
  g_autoptr (SherdMaterialChoice) ox = choice_beginning (fixture->trial, fixture->paint, "OX");
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_recipe_add_choice (fixture->trial, other, black, NULL));
  g_assert_false (sherd_recipe_add_choice (fixture->trial, fixture->paint, ox, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  g_assert_cmpuint (sherd_paint_get_recipe (fixture->paint)->n_ingredients, ==, 2);
}

/* Search words, kind, colour and hazard narrow the list together. */
static void
test_materials_are_found_by_word_kind_and_hazard (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdMaterialChoice) malachite = choice_beginning (fixture->trial, NULL, "Malachite");

  g_assert_true (sherd_material_choice_matches (malachite, "mala", -1, NULL, 0));
  g_assert_true (sherd_material_choice_matches (malachite, "CU2CO3", -1, NULL, 0));
  g_assert_true (
    sherd_material_choice_matches (malachite, "copper colour", SHERD_MATERIAL_COLOURANT, NULL, SHERD_HAZARD_COPPER));
  g_assert_false (sherd_material_choice_matches (malachite, "mala", SHERD_MATERIAL_FLUX, NULL, 0));
  g_assert_false (sherd_material_choice_matches (malachite, "mala", -1, NULL, SHERD_HAZARD_LEAD));
  g_assert_false (sherd_material_choice_matches (malachite, "galena", -1, NULL, 0));
}

/* The list cuts off the end of a long line. */
static void
test_a_hazard_is_told_before_the_formula (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdMaterialChoice) galena = choice_beginning (fixture->trial, NULL, "Galena");

  g_assert_true (g_str_has_prefix (sherd_material_choice_get_about (galena), "flux · lead"));
}

static SherdImport *
import_new (SherdTrial *trial, const char *csv)
{
  g_autoptr (GError) error = NULL;
  SherdImport *import = sherd_import_new (trial, csv, strlen (csv), &error);

  g_assert_no_error (error);
  return import;
}

static char *
dup_paints_csv (SherdTrial *trial)
{
  g_autoptr (SherdTable) table = sherd_exchange_paints (trial);

  return sherd_table_to_csv (table);
}

/* A paint that was written out comes into another trial when the window is told to, and goes with one undo. */
static void
test_an_import_is_shown_before_it_is_taken_in (Fixture *fixture, gconstpointer data)
{
  GtkWindow *window = GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (fixture->station)));
  g_autofree char *csv = dup_paints_csv (fixture->trial);
  g_autoptr (SherdTrial) other = sherd_trial_new ();
  GtkWidget *dialog = sherd_import_dialog_new (window, import_new (other, csv));

  gtk_window_present (GTK_WINDOW (dialog));
  sherd_test_spin (50);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (other)), ==, 0);
  g_assert_true (gtk_widget_get_sensitive (child_of (dialog, "take_button")));
  g_signal_emit_by_name (child_of (dialog, "take_button"), "clicked");
  g_assert_nonnull (sherd_trial_find_paint_by_code (other, "HB"));
  g_assert_cmpuint (sherd_paint_get_recipe (sherd_trial_find_paint_by_code (other, "HB"))->n_ingredients, ==, 2);
  sherd_trial_undo (other);
  g_assert_null (sherd_trial_find_paint_by_code (other, "HB"));
}

static void
test_an_import_of_what_is_there_takes_nothing_in (Fixture *fixture, gconstpointer data)
{
  GtkWindow *window = GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (fixture->station)));
  g_autofree char *csv = dup_paints_csv (fixture->trial);
  GtkWidget *dialog = sherd_import_dialog_new (window, import_new (fixture->trial, csv));

  g_assert_false (gtk_widget_get_sensitive (child_of (dialog, "take_button")));
  gtk_window_destroy (GTK_WINDOW (dialog));
}

static gboolean
no_label_says_nan (GtkWidget *widget)
{
  const char *text = GTK_IS_LABEL (widget) ? gtk_label_get_text (GTK_LABEL (widget)) : "";

  if (g_regex_match_simple ("\\b(nan|inf|not known)\\b", text, 0, 0))
    return FALSE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (!no_label_says_nan (child))
      return FALSE;
  return TRUE;
}

static void
test_an_empty_paint_shows_no_number_that_is_none (Fixture *fixture, gconstpointer data)
{
  g_assert_true (no_label_says_nan (GTK_WIDGET (fixture->station)));
  g_signal_emit_by_name (nth (fixture, "SherdIngredientRow", 0), "removed");
  g_signal_emit_by_name (nth (fixture, "SherdIngredientRow", 0), "removed");
  g_assert_cmpuint (sherd_paint_get_recipe (fixture->paint)->n_ingredients, ==, 0);
  g_assert_true (no_label_says_nan (GTK_WIDGET (fixture->station)));
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

/* Whoever searches and takes the first of the built-in table must not come by lead unawares. */
static void
test_what_has_lead_is_offered_last (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (GListModel) choices = sherd_material_choices_new (trial, NULL, FALSE);
  gboolean had_lead = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (choices); i++)
    {
      g_autoptr (SherdMaterialChoice) choice = g_list_model_get_item (choices, i);
      const gboolean has_lead = (sherd_material_choice_get_hazards (choice) & SHERD_HAZARD_LEAD) != 0;

      g_assert_true (has_lead || !had_lead);
      had_lead = has_lead;
    }
  g_assert_true (had_lead);
}

static void
set_text (char **field, const char *text)
{
  g_free (*field);
  *field = g_strdup (text);
}

static void
remember_choice_cb (SherdMaterialList *list, SherdMaterialChoice *choice, char **name)
{
  *name = g_strdup (sherd_material_choice_get_name (choice));
}

/* An ore found below a ford named Othmel stands first in the trial, and has the word too. */
static void
test_enter_takes_what_is_called_so (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_auto (SherdMaterialRecord) ore = { 0 }, clay = { 0 };
  GtkWidget *list = g_object_new (SHERD_TYPE_MATERIAL_LIST, NULL);
  GtkWidget *window = sherd_test_window (list, 300, 400);
  g_autoptr (GListModel) choices = NULL;
  g_autofree char *name = NULL;
  GtkEditable *entry;

  sherd_material_record_init (&ore);
  sherd_material_record_init (&clay);
  set_text (&ore.name, "Brook ore");
  set_text (&ore.place, "below Othmel ford");
  set_text (&clay.name, "Othmel clay");
  g_assert_nonnull (sherd_trial_add_material (trial, &ore, NULL));
  g_assert_nonnull (sherd_trial_add_material (trial, &clay, NULL));
  choices = sherd_material_choices_new (trial, NULL, FALSE);
  sherd_material_list_set_single_click (SHERD_MATERIAL_LIST (list), TRUE);
  sherd_material_list_set_choices (SHERD_MATERIAL_LIST (list), choices);
  sherd_material_list_start_search (SHERD_MATERIAL_LIST (list));
  g_signal_connect (list, "chosen", G_CALLBACK (remember_choice_cb), &name);
  entry = child_of (list, "search_entry");
  gtk_editable_set_text (entry, "othmel");
  g_signal_emit_by_name (entry, "search-changed");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpstr (name, ==, "Othmel clay");
  gtk_window_destroy (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  ADD ("/desk/paints-station/typing parts changes the grams at once", test_typing_parts_changes_the_grams_at_once);
  ADD ("/desk/paints-station/typing is one step of undo", test_typing_is_one_step_of_undo);
  ADD ("/desk/paints-station/an error stands at its field and nothing is lost",
       test_an_error_stands_at_its_field_and_nothing_is_lost);
  ADD ("/desk/paints-station/taking a row out leaves what is typed in the others",
       test_taking_a_row_out_leaves_what_is_typed_in_the_others);
  ADD ("/desk/paints-station/a code that is taken is refused at the code",
       test_a_code_that_is_taken_is_refused_at_the_code);
  ADD ("/desk/paints-station/a built-in material comes and goes with its step",
       test_a_built_in_material_comes_and_goes_with_its_step);
  ADD ("/desk/paints-station/a paint cannot hold itself", test_a_paint_cannot_hold_itself);
  ADD ("/desk/paints-station/a hazard is told before the formula", test_a_hazard_is_told_before_the_formula);
  ADD ("/desk/paints-station/materials are found by word, kind and hazard",
       test_materials_are_found_by_word_kind_and_hazard);
  ADD ("/desk/paints-station/an import is shown before it is taken in", test_an_import_is_shown_before_it_is_taken_in);
  ADD ("/desk/paints-station/an import of what is there takes nothing in",
       test_an_import_of_what_is_there_takes_nothing_in);
  ADD ("/desk/paints-station/an empty paint shows no number that is none",
       test_an_empty_paint_shows_no_number_that_is_none);
  g_test_add_func ("/desk/paints-station/what-has-lead-is-offered-last", test_what_has_lead_is_offered_last);
  g_test_add_func ("/desk/paints-station/enter-takes-what-is-called-so", test_enter_takes_what_is_called_so);
  return g_test_run ();
}
