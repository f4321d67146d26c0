/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window on a trial made in memory: what an edit shows, what undo takes back, what the stations say when there is
 * nothing yet. Expected values are what the edits were given. */
#include "config.h"

#include "desk/application.h"
#include "desk/window.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "window-support.h"

typedef struct
{
  SherdWindow *window;
} Fixture;

/* One for all tests: a program has one. */
static SherdApplication *application;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  fixture->window = SHERD_WINDOW (sherd_window_new (GTK_APPLICATION (application)));
  gtk_window_present (GTK_WINDOW (fixture->window));
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (fixture->window));
  sherd_test_spin (100);
}

static GtkWidget *
find_named (GtkWidget *widget, const char *type_name)
{
  if (g_str_equal (G_OBJECT_TYPE_NAME (widget), type_name))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_named (child, type_name);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
activate (Fixture *fixture, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (fixture->window), action, NULL);
  sherd_test_spin (50);
}

static guint
count_zone_buttons (Fixture *fixture)
{
  GtkWidget *view = find_named (GTK_WIDGET (fixture->window), "SherdTileView");
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (view); child != NULL; child = gtk_widget_get_next_sibling (child))
    n++;
  return n;
}

static void
test_start_has_no_trial (Fixture *fixture, gconstpointer data)
{
  g_assert_null (sherd_window_get_trial (fixture->window));
  g_assert_false (g_action_group_get_action_enabled (G_ACTION_GROUP (fixture->window), "save"));
  g_assert_false (g_action_group_get_action_enabled (G_ACTION_GROUP (fixture->window), "measure"));
}

static SherdPiece *
add_tile_with_grid (SherdTrial *trial)
{
  const SherdGrid grid = { .n_rows = 2, .n_columns = 3, .gap_x_mm = 4.0, .gap_y_mm = 4.0 };
  g_autoptr (GError) error = NULL;
  SherdPiece *piece = sherd_trial_add_tile (trial, "Tile", 120.0, 80.0, 8.0, SHERD_CLAY_DRY, &error);

  g_assert_no_error (error);
  sherd_trial_set_zone_grid (trial, piece, sherd_piece_find_side_by_name (piece, "face"), &grid, &error);
  g_assert_no_error (error);
  return piece;
}

static void
test_zones_appear_and_undo_takes_them_back (Fixture *fixture, gconstpointer data)
{
  activate (fixture, "new");
  add_tile_with_grid (sherd_window_get_trial (fixture->window));
  g_assert_cmpuint (count_zone_buttons (fixture), ==, 6);
  activate (fixture, "undo");
  g_assert_cmpuint (count_zone_buttons (fixture), ==, 0);
  activate (fixture, "redo");
  g_assert_cmpuint (count_zone_buttons (fixture), ==, 6);
}

static void
test_undo_is_off_until_there_is_something_to_undo (Fixture *fixture, gconstpointer data)
{
  GActionGroup *actions = G_ACTION_GROUP (fixture->window);

  activate (fixture, "new");
  g_assert_false (g_action_group_get_action_enabled (actions, "undo"));
  add_tile_with_grid (sherd_window_get_trial (fixture->window));
  g_assert_true (g_action_group_get_action_enabled (actions, "undo"));
  g_assert_false (g_action_group_get_action_enabled (actions, "redo"));
}

static void
test_title_tells_unsaved_changes (Fixture *fixture, gconstpointer data)
{
  activate (fixture, "new");
  g_assert_false (g_str_has_prefix (gtk_window_get_title (GTK_WINDOW (fixture->window)), "•"));
  add_tile_with_grid (sherd_window_get_trial (fixture->window));
  g_assert_true (g_str_has_prefix (gtk_window_get_title (GTK_WINDOW (fixture->window)), "•"));
}

static void
test_stations_change_by_action (Fixture *fixture, gconstpointer data)
{
  static const char *const stations[] = { "photographs", "results", "piece" };

  activate (fixture, "new");
  for (guint i = 0; i < G_N_ELEMENTS (stations); i++)
    {
      g_autoptr (GVariant) state = NULL;

      g_action_group_activate_action (G_ACTION_GROUP (fixture->window), "station", g_variant_new_string (stations[i]));
      state = g_action_group_get_action_state (G_ACTION_GROUP (fixture->window), "station");
      g_assert_cmpstr (g_variant_get_string (state, NULL), ==, stations[i]);
    }
}

static void
test_a_saved_trial_opens_again (Fixture *fixture, gconstpointer data)
{
  g_autofree char *folder = g_dir_make_tmp ("sherd-window-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "trial.sherdboard", NULL);
  g_autoptr (GError) error = NULL;

  activate (fixture, "new");
  add_tile_with_grid (sherd_window_get_trial (fixture->window));
  sherd_trial_save_as (sherd_window_get_trial (fixture->window), path, NULL, &error);
  g_assert_no_error (error);
  sherd_window_open_path (fixture->window, path);
  sherd_test_spin (50);
  g_assert_cmpstr (sherd_trial_get_path (sherd_window_get_trial (fixture->window)), ==, path);
  g_assert_cmpuint (count_zone_buttons (fixture), ==, 6);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)

static gboolean
start_application (void)
{
  g_autoptr (GError) error = NULL;

  application = sherd_application_new (G_APPLICATION_NON_UNIQUE);
  return g_application_register (G_APPLICATION (application), NULL, &error);
}

int
main (int argc, char **argv)
{
  if (!sherd_test_init (&argc, &argv))
    return 0;
  if (!start_application ())
    return 1;
  ADD ("/desk/window/the start page has no trial", test_start_has_no_trial);
  ADD ("/desk/window/zones appear and undo takes them back", test_zones_appear_and_undo_takes_them_back);
  ADD ("/desk/window/undo is off until there is something", test_undo_is_off_until_there_is_something_to_undo);
  ADD ("/desk/window/the title tells unsaved changes", test_title_tells_unsaved_changes);
  ADD ("/desk/window/stations change by action", test_stations_change_by_action);
  ADD ("/desk/window/a saved trial opens again", test_a_saved_trial_opens_again);
  return g_test_run ();
}
