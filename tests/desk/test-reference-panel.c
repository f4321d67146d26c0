/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What makes a photograph's light comparable, as the panel shows and edits it. The photographs are rendered ones that
 * lie with the tests (tests/data/rendered); expected values are what was typed. */
#include "config.h"

#include "desk/number-entry.h"
#include "desk/reference-panel.h"
#include "trial/chart-file.h"
#include "trial/edits.h"
#include "window-support.h"

typedef struct
{
  SherdTrial *trial;
  SherdPhotograph *before;
  SherdPhotograph *after;
  GtkWidget *panel;
  GtkWidget *window;
} Fixture;

static char *
scene_path (const char *name)
{
  return g_test_build_filename (G_TEST_DIST, "data", "rendered", "white_clay", name, NULL);
}

static SherdPhotograph *
add_photograph (Fixture *fixture, SherdPiece *tile, const char *name, const char *stage)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = scene_path (name);
  g_autoptr (SherdPhotograph) photograph = sherd_photograph_new_from_file (path, &error);
  SherdSide *face = sherd_piece_find_side_by_name (tile, "face");

  g_assert_no_error (error);
  g_assert_true (sherd_trial_add_photograph (fixture->trial, photograph, tile, face, stage, &error));
  return g_steal_pointer (&photograph);
}

static void
show (Fixture *fixture)
{
  sherd_reference_panel_show (SHERD_REFERENCE_PANEL (fixture->panel), fixture->trial, fixture->before);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  SherdPiece *tile;

  fixture->trial = sherd_trial_new ();
  tile = sherd_trial_add_tile (fixture->trial, "Tile", 120, 80, 8, SHERD_CLAY_DRY, NULL);
  fixture->before = add_photograph (fixture, tile, "before.jpg", "unfired");
  fixture->after = add_photograph (fixture, tile, "after.jpg", "after firing 1");
  fixture->panel = g_object_new (SHERD_TYPE_REFERENCE_PANEL, NULL);
  fixture->window = sherd_test_window (fixture->panel, 300, 400);
  show (fixture);
  g_signal_connect_swapped (fixture->trial, "edited", G_CALLBACK (show), fixture);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_signal_handlers_disconnect_by_data (fixture->trial, fixture);
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  g_clear_object (&fixture->before);
  g_clear_object (&fixture->after);
  g_clear_object (&fixture->trial);
}

static gpointer
child (Fixture *fixture, const char *name)
{
  return gtk_widget_get_template_child (fixture->panel, SHERD_TYPE_REFERENCE_PANEL, name);
}

static GtkEditable *
card_field (Fixture *fixture)
{
  return GTK_EDITABLE (gtk_widget_get_template_child (child (fixture, "card_entry"), SHERD_TYPE_NUMBER_ENTRY, "entry"));
}

static void
type_card (Fixture *fixture, const char *text)
{
  gtk_editable_set_text (card_field (fixture), text);
  g_signal_emit_by_name (child (fixture, "card_entry"), "activated");
}

static SherdReference *
reference (SherdPhotograph *photograph)
{
  return sherd_photograph_get_reference (photograph);
}

static double
card_l (Fixture *fixture)
{
  gsize n_patches;

  return sherd_reference_get_patches (reference (fixture->before), &n_patches)[0].lab.l;
}

static void
choose (Fixture *fixture, SherdReferenceKind kind)
{
  gtk_drop_down_set_selected (child (fixture, "reference_chooser"), kind);
}

static void
give_chart (Fixture *fixture, SherdPhotograph *photograph)
{
  g_autofree char *path = scene_path ("chart.cgats");
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdChart) chart = sherd_chart_file_load (file, &error);
  g_autoptr (SherdReference) given = NULL;
  SherdChartLayout layout;

  g_assert_no_error (error);
  sherd_chart_layout_init_plain (&layout, 4, 6);
  given = sherd_reference_new_chart (chart, &layout, &error);
  g_assert_no_error (error);
  sherd_trial_set_reference (fixture->trial, photograph, given);
}

static void
test_a_grey_card_begins_at_18_per_cent (Fixture *fixture, gconstpointer data)
{
  g_assert_false (gtk_widget_get_visible (child (fixture, "card_box")));
  choose (fixture, SHERD_REFERENCE_GREY_CARD);
  g_assert_true (gtk_widget_get_visible (child (fixture, "card_box")));
  g_assert_cmpfloat (card_l (fixture), ==, 49.5);
  sherd_trial_undo (fixture->trial);
  g_assert_cmpint (sherd_reference_get_kind (reference (fixture->before)), ==, SHERD_REFERENCE_NONE);
  g_assert_false (gtk_widget_get_visible (child (fixture, "card_box")));
}

static void
test_the_card_is_shown_as_the_trial_has_it (Fixture *fixture, gconstpointer data)
{
  choose (fixture, SHERD_REFERENCE_GREY_CARD);
  type_card (fixture, "61,5");
  g_assert_cmpfloat (card_l (fixture), ==, 61.5);
  sherd_trial_undo (fixture->trial);
  g_assert_cmpstr (gtk_editable_get_text (card_field (fixture)), ==, "49.5");
  g_assert_cmpfloat (card_l (fixture), ==, 49.5);
}

static void
test_what_is_no_lightness_is_refused_at_the_field (Fixture *fixture, gconstpointer data)
{
  static const char *const refused[] = { "0", "-3", "100.5", "grey", "" };

  choose (fixture, SHERD_REFERENCE_GREY_CARD);
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      type_card (fixture, refused[i]);
      g_assert_true (sherd_number_entry_is_refused (child (fixture, "card_entry")));
      g_assert_cmpfloat (card_l (fixture), ==, 49.5);
    }
  type_card (fixture, "100");
  g_assert_false (sherd_number_entry_is_refused (child (fixture, "card_entry")));
  g_assert_cmpfloat (card_l (fixture), ==, 100.0);
}

/* Leaving the field is no edit: there would be one more step to undo. */
static void
test_a_card_that_stays_as_it_is_makes_no_edit (Fixture *fixture, gconstpointer data)
{
  choose (fixture, SHERD_REFERENCE_GREY_CARD);
  g_signal_emit_by_name (child (fixture, "card_entry"), "left");
  sherd_trial_undo (fixture->trial);
  g_assert_cmpint (sherd_reference_get_kind (reference (fixture->before)), ==, SHERD_REFERENCE_NONE);
}

static void
test_a_chart_tells_its_rows_and_columns (Fixture *fixture, gconstpointer data)
{
  give_chart (fixture, fixture->before);
  g_assert_true (gtk_widget_get_visible (child (fixture, "chart_box")));
  g_assert_cmpint (gtk_spin_button_get_value_as_int (child (fixture, "grid_rows_spin")), ==, 4);
  g_assert_cmpint (gtk_spin_button_get_value_as_int (child (fixture, "grid_columns_spin")), ==, 6);
  g_assert_false (gtk_widget_get_visible (child (fixture, "same_chart_button")));
}

static void
test_the_chart_of_another_photograph_is_taken (Fixture *fixture, gconstpointer data)
{
  give_chart (fixture, fixture->after);
  g_assert_true (gtk_widget_get_visible (child (fixture, "same_chart_button")));
  choose (fixture, SHERD_REFERENCE_CHART);
  g_assert_cmpint (sherd_reference_get_kind (reference (fixture->before)), ==, SHERD_REFERENCE_NONE);
  g_signal_emit_by_name (child (fixture, "same_chart_button"), "clicked");
  g_assert_true (sherd_reference_equal (reference (fixture->before), reference (fixture->after)));
  g_assert_false (gtk_widget_get_visible (child (fixture, "same_chart_button")));
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  ADD ("/desk/reference-panel/a grey card begins at 18 per cent", test_a_grey_card_begins_at_18_per_cent);
  ADD ("/desk/reference-panel/the card is shown as the trial has it", test_the_card_is_shown_as_the_trial_has_it);
  ADD ("/desk/reference-panel/what is no lightness is refused at the field",
       test_what_is_no_lightness_is_refused_at_the_field);
  ADD ("/desk/reference-panel/a card that stays as it is makes no edit", test_a_card_that_stays_as_it_is_makes_no_edit);
  ADD ("/desk/reference-panel/a chart tells its rows and columns", test_a_chart_tells_its_rows_and_columns);
  ADD ("/desk/reference-panel/the chart of another photograph is taken", test_the_chart_of_another_photograph_is_taken);
  return g_test_run ();
}
