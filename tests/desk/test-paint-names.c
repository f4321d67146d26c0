/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of paints; expected values are what was typed. */
#include "config.h"

#include "desk/paint-names.h"
#include "trial/edits.h"
#include "window-support.h"

typedef struct
{
  SherdTrial *trial;
  SherdPaint *paint;
  GtkWidget *names;
  GtkWidget *window;
  char *refused; /* (nullable): what was told last */
} Fixture;

static void
show (Fixture *fixture)
{
  sherd_paint_names_show (SHERD_PAINT_NAMES (fixture->names), fixture->trial);
}

static void
refused_cb (Fixture *fixture, const char *message)
{
  g_free (fixture->refused);
  fixture->refused = g_strdup (message);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  fixture->trial = sherd_trial_new ();
  fixture->paint = sherd_trial_add_paint (fixture->trial, "HB", "Hearth black", &error);
  g_assert_no_error (error);
  fixture->names = g_object_new (SHERD_TYPE_PAINT_NAMES, NULL);
  fixture->window = sherd_test_window (fixture->names, 300, 200);
  show (fixture);
  g_signal_connect_swapped (fixture->trial, "edited", G_CALLBACK (show), fixture);
  g_signal_connect_swapped (fixture->names, "refused", G_CALLBACK (refused_cb), fixture);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_signal_handlers_disconnect_by_data (fixture->trial, fixture);
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  g_clear_object (&fixture->trial);
  g_clear_pointer (&fixture->refused, g_free);
}

/* Code, name and button stand in a row; NULL when there is no row. */
static GtkWidget *
name_field (Fixture *fixture)
{
  GtkWidget *rows = GTK_WIDGET (gtk_widget_get_template_child (fixture->names, SHERD_TYPE_PAINT_NAMES, "rows"));
  GtkWidget *row = gtk_widget_get_first_child (rows);

  return row != NULL ? gtk_widget_get_next_sibling (gtk_widget_get_first_child (row)) : NULL;
}

static void
test_a_name_is_taken_when_it_is_entered (Fixture *fixture, gconstpointer data)
{
  gtk_editable_set_text (GTK_EDITABLE (name_field (fixture)), "Soot black");
  g_assert_cmpstr (sherd_paint_get_name (fixture->paint), ==, "Hearth black");
  g_signal_emit_by_name (name_field (fixture), "activate");
  g_assert_cmpstr (sherd_paint_get_name (fixture->paint), ==, "Soot black");
  sherd_trial_undo (fixture->trial);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (name_field (fixture))), ==, "Hearth black");
}

/* Else the focus in it would be lost with each edit elsewhere. */
static void
test_a_row_that_tells_the_truth_is_left_alone (Fixture *fixture, gconstpointer data)
{
  GtkWidget *before = name_field (fixture);

  sherd_trial_add_tile (fixture->trial, "Tile", 100, 60, 8, SHERD_CLAY_DRY, NULL);
  g_assert_true (name_field (fixture) == before);
}

static void
test_the_last_paint_takes_its_row_with_it (Fixture *fixture, gconstpointer data)
{
  GtkWidget *hint = GTK_WIDGET (gtk_widget_get_template_child (fixture->names, SHERD_TYPE_PAINT_NAMES, "no_paints"));

  g_assert_false (gtk_widget_get_visible (hint));
  g_signal_emit_by_name (gtk_widget_get_next_sibling (name_field (fixture)), "clicked");
  g_assert_null (fixture->refused);
  g_assert_null (name_field (fixture));
  g_assert_true (gtk_widget_get_visible (hint));
}

static void
test_a_paint_in_use_stays_and_it_is_told (Fixture *fixture, gconstpointer data)
{
  SherdPiece *tile = sherd_trial_add_tile (fixture->trial, "Tile", 100, 60, 8, SHERD_CLAY_DRY, NULL);
  SherdSide *face = sherd_piece_find_side_by_name (tile, "face");
  const SherdGrid grid = { .n_rows = 1, .n_columns = 1, .left_mm = 5, .right_mm = 5, .top_mm = 5, .bottom_mm = 5 };
  g_autoptr (SherdZone) zone = NULL;

  g_assert_true (sherd_trial_set_zone_grid (fixture->trial, tile, face, &grid, NULL));
  zone = g_list_model_get_item (sherd_side_get_zones (face), 0);
  g_assert_true (sherd_trial_set_zones_paint (fixture->trial, &zone, 1, "HB", NULL));
  g_signal_emit_by_name (gtk_widget_get_next_sibling (name_field (fixture)), "clicked");
  g_assert_nonnull (fixture->refused);
  g_assert_nonnull (name_field (fixture));
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  ADD ("/desk/paint-names/a name is taken when it is entered", test_a_name_is_taken_when_it_is_entered);
  ADD ("/desk/paint-names/a row that tells the truth is left alone", test_a_row_that_tells_the_truth_is_left_alone);
  ADD ("/desk/paint-names/the last paint takes its row with it", test_the_last_paint_takes_its_row_with_it);
  ADD ("/desk/paint-names/a paint in use stays and it is told", test_a_paint_in_use_stays_and_it_is_told);
  return g_test_run ();
}
