/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window on a trial made in memory: what an edit shows, what undo takes back, what the stations say when there is
 * nothing yet. Expected values are what the edits were given. */
#include "config.h"

#include "desk/application.h"
#include "desk/photo-canvas-private.h"
#include "desk/photographs-station.h"
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

/* A station is made when it is first shown. */
static void
show_station (Fixture *fixture, const char *name)
{
  g_action_group_activate_action (G_ACTION_GROUP (fixture->window), "station", g_variant_new_string (name));
}

static guint
count_zone_buttons (Fixture *fixture)
{
  GtkWidget *view;
  guint n = 0;

  show_station (fixture, "piece");
  view = find_named (GTK_WIDGET (fixture->window), "SherdSideView");
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
  g_autofree char *folder = g_dir_make_tmp (NULL, NULL);
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

/* File names are bytes; a name that is no UTF-8 is shown as well as it goes. */
static void
test_a_file_name_may_be_any_bytes (Fixture *fixture, gconstpointer data)
{
  g_autofree char *folder = g_dir_make_tmp (NULL, NULL);
  g_autofree char *path = g_build_filename (folder, "bad\xff\xfe.sherdboard", NULL);
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (GError) error = NULL;

  sherd_trial_save_as (trial, path, NULL, &error);
  g_assert_no_error (error);
  sherd_window_open_path (fixture->window, path);
  g_assert_true (g_utf8_validate (gtk_window_get_title (GTK_WINDOW (fixture->window)), -1, NULL));
  g_assert_cmpstr (sherd_trial_get_path (sherd_window_get_trial (fixture->window)), ==, path);
}

/* A child of a station that was shown, by its name in the template. */
static gpointer
template_child (Fixture *fixture, const char *station, const char *name)
{
  GtkWidget *widget = find_named (GTK_WIDGET (fixture->window), station);

  return gtk_widget_get_template_child (widget, G_OBJECT_TYPE (widget), name);
}

static SherdTrial *
new_trial_with_tile (Fixture *fixture)
{
  activate (fixture, "new");
  add_tile_with_grid (sherd_window_get_trial (fixture->window));
  show_station (fixture, "piece");
  sherd_test_spin (50);
  return sherd_window_get_trial (fixture->window);
}

static void
test_a_name_typed_is_taken_when_the_focus_leaves (Fixture *fixture, gconstpointer data)
{
  SherdTrial *trial = new_trial_with_tile (fixture);
  GtkWidget *entry = template_child (fixture, "SherdPieceStation", "name_entry");
  GtkWidget *elsewhere = template_child (fixture, "SherdPieceStation", "width_spin");

  gtk_widget_grab_focus (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "Spring tile");
  gtk_widget_grab_focus (elsewhere);
  sherd_test_spin (50);
  g_assert_nonnull (sherd_trial_find_piece_by_name (trial, "Spring tile"));
}

static void
test_turning_a_spin_button_is_one_step_of_undo (Fixture *fixture, gconstpointer data)
{
  SherdTrial *trial = new_trial_with_tile (fixture);
  g_autoptr (SherdPiece) piece = g_list_model_get_item (sherd_trial_get_pieces (trial), 0);
  GtkSpinButton *width = template_child (fixture, "SherdPieceStation", "width_spin");

  gtk_widget_grab_focus (GTK_WIDGET (width));
  for (guint i = 0; i < 5; i++)
    gtk_spin_button_spin (width, GTK_SPIN_STEP_FORWARD, 1.0);
  g_assert_cmpfloat (sherd_piece_get_width_mm (piece), ==, 125.0);
  sherd_trial_undo (trial);
  g_assert_cmpfloat (sherd_piece_get_width_mm (piece), ==, 120.0);
}

/* Of all spin buttons below, those seen and those that the mouse wheel would turn. */
static void
count_spins (GtkWidget *widget, guint *n_spins, guint *n_turned)
{
  if (GTK_IS_SPIN_BUTTON (widget))
    {
      g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (widget);

      (*n_spins)++;
      for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
        {
          g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

          if (GTK_IS_EVENT_CONTROLLER_SCROLL (controller) &&
              gtk_event_controller_get_propagation_phase (controller) != GTK_PHASE_NONE)
            (*n_turned)++;
        }
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    count_spins (child, n_spins, n_turned);
}

/* GTK has no public way to make an event of the wheel: what would take it is looked for instead. */
static void
test_the_wheel_changes_no_number (Fixture *fixture, gconstpointer data)
{
  const char *const stations[] = { "paints", "piece", "photographs", "results" };
  guint n_spins = 0, n_turned = 0;

  new_trial_with_tile (fixture);
  for (guint i = 0; i < G_N_ELEMENTS (stations); i++)
    show_station (fixture, stations[i]);
  count_spins (GTK_WIDGET (fixture->window), &n_spins, &n_turned);
  g_assert_cmpuint (n_spins, >, 10);
  g_assert_cmpuint (n_turned, ==, 0);
}

static void
test_leaving_a_spin_button_ends_the_step_of_undo (Fixture *fixture, gconstpointer data)
{
  SherdTrial *trial = new_trial_with_tile (fixture);
  g_autoptr (SherdPiece) piece = g_list_model_get_item (sherd_trial_get_pieces (trial), 0);
  GtkSpinButton *width = template_child (fixture, "SherdPieceStation", "width_spin");

  gtk_widget_grab_focus (GTK_WIDGET (width));
  gtk_spin_button_spin (width, GTK_SPIN_STEP_FORWARD, 1.0);
  gtk_widget_grab_focus (template_child (fixture, "SherdPieceStation", "height_spin"));
  gtk_widget_grab_focus (GTK_WIDGET (width));
  gtk_spin_button_spin (width, GTK_SPIN_STEP_FORWARD, 1.0);
  g_assert_cmpfloat (sherd_piece_get_width_mm (piece), ==, 122.0);
  sherd_trial_undo (trial);
  g_assert_cmpfloat (sherd_piece_get_width_mm (piece), ==, 121.0);
}

static void
test_laying_out_the_demo_unchanged_changes_nothing (Fixture *fixture, gconstpointer data)
{
  GtkWidget *button;
  SherdTrial *trial;

  activate (fixture, "demo");
  sherd_test_spin (200);
  trial = sherd_window_get_trial (fixture->window);
  show_station (fixture, "piece");
  button = template_child (fixture, "SherdPieceStation", "lay_button");
  gtk_widget_grab_focus (template_child (fixture, "SherdPieceStation", "gap_y_spin"));
  gtk_widget_grab_focus (button);
  g_signal_emit_by_name (button, "clicked");
  g_assert_false (sherd_trial_can_undo (trial));
  g_assert_cmpfloat_with_epsilon (
    gtk_spin_button_get_value (template_child (fixture, "SherdPieceStation", "gap_x_spin")), 5.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (
    gtk_spin_button_get_value (template_child (fixture, "SherdPieceStation", "gap_y_spin")), 10.0, 1e-9);
}

/* A file may hold a piece with a back alone, or with no side at all. */
static void
test_a_piece_without_a_face_is_shown (Fixture *fixture, gconstpointer data)
{
  static const char *const sides[] = { "{\"id\": \"side-1\", \"name\": \"back\", \"zones\": []}", "" };

  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      g_autofree char *folder = g_dir_make_tmp (NULL, NULL);
      g_autofree char *path = g_build_filename (folder, "back.sherdboard", NULL);
      g_autofree char *text = g_strdup_printf (
        "{\"format\": \"sherdboard-trial\", \"version\": 1, \"title\": \"\", \"seed\": 1, \"pieces\": [{\"id\": "
        "\"piece-1\", \"name\": \"Backwards\", \"kind\": \"tile\", \"width_mm\": 90, \"height_mm\": 60, "
        "\"state\": \"dry\", \"sides\": [%s]}]}",
        sides[i]);

      g_assert_true (g_file_set_contents (path, text, -1, NULL));
      sherd_window_open_path (fixture->window, path);
      sherd_test_spin (50);
      g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_pieces (sherd_window_get_trial (fixture->window))),
                        ==, 1);
      g_assert_cmpint (gtk_widget_is_sensitive (template_child (fixture, "SherdPieceStation", "lay_button")), ==,
                       i == 0);
      g_signal_emit_by_name (template_child (fixture, "SherdPieceStation", "lay_button"), "clicked");
      sherd_trial_undo (sherd_window_get_trial (fixture->window));
    }
}

/* A copy of the demo with another tile before its own, which has no photograph. */
static SherdTrial *
open_demo_behind_a_tile (Fixture *fixture)
{
  SherdTrial *trial;
  g_autoptr (SherdPiece) demo_tile = NULL;

  activate (fixture, "demo");
  sherd_test_spin (200);
  trial = sherd_window_get_trial (fixture->window);
  demo_tile = g_list_model_get_item (sherd_trial_get_pieces (trial), 0);
  sherd_trial_begin_edit (trial, "Put a tile before it");
  sherd_trial_remove (trial, sherd_trial_get_pieces (trial), 0);
  sherd_trial_add_tile (trial, "Bare", 50, 50, 8, SHERD_CLAY_DRY, NULL);
  sherd_trial_append (trial, sherd_trial_get_pieces (trial), demo_tile);
  sherd_trial_end_edit (trial);
  return trial;
}

static void
test_results_let_a_piece_be_chosen (Fixture *fixture, gconstpointer data)
{
  GtkWidget *chooser, *stages;
  SherdTrial *trial = open_demo_behind_a_tile (fixture);

  show_station (fixture, "results");
  sherd_test_spin (100);
  chooser = template_child (fixture, "SherdResultsStation", "side_chooser");
  stages = template_child (fixture, "SherdResultsStation", "stage_choosers");
  /* The first side that can be compared is shown, the demo's face behind face and back of the bare tile. */
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (chooser)), ==, 2);
  g_assert_true (gtk_widget_get_mapped (stages));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (chooser), 0);
  sherd_test_spin (100);
  g_assert_true (gtk_widget_get_mapped (chooser));
  g_assert_false (gtk_widget_get_mapped (stages));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (chooser), 2);
  sherd_test_spin (100);
  g_assert_true (gtk_widget_get_mapped (stages));
  sherd_trial_undo (trial);
}

/* The same chart stands in every photograph, as a rule; its marks are to be picked anew. */
static void
test_a_new_photograph_takes_what_the_last_one_had (Fixture *fixture, gconstpointer data)
{
  g_autoptr (SherdPhotograph) first = NULL;
  g_autoptr (SherdPhotograph) added = NULL;
  g_autofree char *path = NULL;
  g_autoptr (GFile) file = NULL;
  SherdTrial *trial;

  activate (fixture, "demo");
  sherd_test_spin (200);
  trial = sherd_window_get_trial (fixture->window);
  g_action_group_activate_action (G_ACTION_GROUP (fixture->window), "station", g_variant_new_string ("photographs"));
  sherd_test_spin (100);
  first = g_list_model_get_item (sherd_trial_get_photographs (trial), 0);
  path = sherd_trial_dup_photo_path (trial, first);
  file = g_file_new_for_path (path);
  sherd_photographs_station_add_file (
    SHERD_PHOTOGRAPHS_STATION (find_named (GTK_WIDGET (fixture->window), "SherdPhotographsStation")), file);
  added = g_list_model_get_item (sherd_trial_get_photographs (trial), 2);
  g_assert_cmpstr (sherd_photograph_get_stage (added), ==, "after firing 2");
  g_assert_true (sherd_photograph_get_side (added) == sherd_photograph_get_side (first));
  g_assert_true (
    sherd_reference_equal (sherd_photograph_get_reference (added), sherd_photograph_get_reference (first)));
  g_assert_null (sherd_photograph_get_reference_marks (added));
  sherd_trial_undo (trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_photographs (trial)), ==, 2);
  g_assert_false (sherd_trial_can_undo (trial));
}

static void
test_a_photograph_is_given_another_side (Fixture *fixture, gconstpointer data)
{
  SherdTrial *trial = open_demo_behind_a_tile (fixture);
  g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (sherd_trial_get_photographs (trial), 0);
  GtkDropDown *chooser;

  show_station (fixture, "photographs");
  sherd_test_spin (100);
  chooser = template_child (fixture, "SherdPhotographsStation", "place_chooser");
  g_assert_cmpuint (gtk_drop_down_get_selected (chooser), ==, 2);
  gtk_drop_down_set_selected (chooser, 3);
  g_assert_cmpstr (sherd_side_get_name (sherd_photograph_get_side (photograph)), ==, "back");
  g_assert_nonnull (sherd_photograph_get_marks (photograph));
  gtk_drop_down_set_selected (chooser, 1);
  g_assert_cmpstr (sherd_piece_get_name (sherd_photograph_get_piece (photograph)), ==, "Bare");
  sherd_trial_undo (trial);
  sherd_trial_undo (trial);
  g_assert_cmpstr (sherd_side_get_name (sherd_photograph_get_side (photograph)), ==, "face");
  sherd_trial_undo (trial);
}

static gboolean
has_photo (gpointer canvas)
{
  SherdPhotoPyramid *pyramid = sherd_photo_canvas_get_pyramid (canvas);

  return pyramid != NULL && sherd_photo_pyramid_has_level (pyramid, 0);
}

static SherdPhotoCanvas *
open_demo_photograph (Fixture *fixture)
{
  SherdPhotoCanvas *canvas;

  activate (fixture, "demo");
  sherd_test_spin (200);
  show_station (fixture, "photographs");
  canvas = template_child (fixture, "SherdPhotographsStation", "canvas");
  g_assert_true (sherd_test_wait (has_photo, canvas));
  sherd_test_spin (100);
  return canvas;
}

static SherdPoint
first_mark (Fixture *fixture)
{
  g_autoptr (SherdPhotograph) photograph =
    g_list_model_get_item (sherd_trial_get_photographs (sherd_window_get_trial (fixture->window)), 0);

  return sherd_photograph_get_marks (photograph)->marks[0].photo_px;
}

/* The edit that letting go makes shows all marks anew, while the mark is still in hand. */
static void
test_a_mark_that_was_dragged_stays (Fixture *fixture, gconstpointer data)
{
  SherdPhotoCanvas *canvas = open_demo_photograph (fixture);
  const SherdPoint before = first_mark (fixture);
  SherdPoint at, shown;

  at = sherd_photo_canvas_photo_to_widget (canvas, before);
  sherd_photo_canvas_press (canvas, at, GDK_BUTTON_PRIMARY);
  sherd_photo_canvas_drag (canvas, (SherdPoint){ at.x + 20.0, at.y + 10.0 }, 0);
  sherd_photo_canvas_release (canvas);
  g_assert_cmpfloat (first_mark (fixture).x, >, before.x + 1.0);
  g_assert_true (sherd_photo_canvas_get_mark (canvas, 0, &shown));
  g_assert_cmpfloat (shown.x, ==, first_mark (fixture).x);
  sherd_trial_undo (sherd_window_get_trial (fixture->window));
  g_assert_cmpfloat (first_mark (fixture).x, ==, before.x);
}

static void
test_a_nudged_mark_keeps_the_focus (Fixture *fixture, gconstpointer data)
{
  SherdPhotoCanvas *canvas = open_demo_photograph (fixture);
  const SherdPoint before = first_mark (fixture);

  sherd_photo_canvas_focus_mark (canvas, 0);
  for (guint i = 0; i < 3; i++)
    {
      sherd_photo_canvas_key_down (canvas, GDK_KEY_Right, 0);
      sherd_photo_canvas_key_up (canvas, GDK_KEY_Right);
    }
  g_assert_cmpint (sherd_photo_canvas_get_focused_mark (canvas), ==, 0);
  g_assert_cmpfloat_with_epsilon (first_mark (fixture).x, before.x + 3.0, 1e-9);
  while (sherd_trial_can_undo (sherd_window_get_trial (fixture->window)))
    sherd_trial_undo (sherd_window_get_trial (fixture->window));
}

/* (nullable): the dialog that lies before the window */
static GtkDialog *
find_dialog (Fixture *fixture)
{
  GListModel *toplevels = gtk_window_get_toplevels ();

  sherd_test_spin (100);
  for (guint i = 0; i < g_list_model_get_n_items (toplevels); i++)
    {
      g_autoptr (GtkWindow) window = g_list_model_get_item (toplevels, i);

      if (GTK_IS_DIALOG (window) && gtk_window_get_transient_for (window) == GTK_WINDOW (fixture->window))
        return GTK_DIALOG (window);
    }
  return NULL;
}

/* “Save” of the question, then “Cancel” of the file chooser: the window stays, and saving later does not close it. */
static void
test_closing_that_was_called_off_does_not_come_back (Fixture *fixture, gconstpointer data)
{
  g_autofree char *folder = g_dir_make_tmp (NULL, NULL);
  g_autofree char *path = g_build_filename (folder, "trial.sherdboard", NULL);
  SherdTrial *trial = new_trial_with_tile (fixture);
  g_autoptr (GError) error = NULL;

  gtk_window_close (GTK_WINDOW (fixture->window));
  gtk_dialog_response (find_dialog (fixture), 2);
  gtk_dialog_response (find_dialog (fixture), GTK_RESPONSE_CANCEL);
  g_assert_true (sherd_window_get_trial (fixture->window) == trial);

  sherd_trial_save_as (trial, path, NULL, &error);
  g_assert_no_error (error);
  sherd_trial_undo (trial);
  activate (fixture, "save");
  g_assert_false (sherd_trial_get_modified (trial));
  g_assert_true (sherd_window_get_trial (fixture->window) == trial);
}

static void
test_a_window_may_go_while_a_file_is_chosen (Fixture *fixture, gconstpointer data)
{
  GtkWidget *window;
  g_autoptr (GtkDialog) dialog = NULL;

  activate (fixture, "new");
  activate (fixture, "save-as");
  dialog = find_dialog (fixture);
  g_assert_nonnull (dialog);
  g_object_ref (dialog);
  window = GTK_WIDGET (fixture->window);
  g_object_add_weak_pointer (G_OBJECT (window), (gpointer *)&window);
  gtk_window_destroy (GTK_WINDOW (window));
  sherd_test_spin (50);
  g_assert_null (window);
  gtk_dialog_response (dialog, GTK_RESPONSE_ACCEPT);
  sherd_test_spin (50);
  set_up (fixture, data);
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
  ADD ("/desk/window/a file name may be any bytes", test_a_file_name_may_be_any_bytes);
  ADD ("/desk/window/a name typed is taken when the focus leaves", test_a_name_typed_is_taken_when_the_focus_leaves);
  ADD ("/desk/window/turning a spin button is one step of undo", test_turning_a_spin_button_is_one_step_of_undo);
  ADD ("/desk/window/leaving a spin button ends the step of undo", test_leaving_a_spin_button_ends_the_step_of_undo);
  ADD ("/desk/window/the mouse wheel changes no number", test_the_wheel_changes_no_number);
  ADD ("/desk/window/laying out the demo unchanged changes nothing",
       test_laying_out_the_demo_unchanged_changes_nothing);
  ADD ("/desk/window/a piece without a face is shown", test_a_piece_without_a_face_is_shown);
  ADD ("/desk/window/results let a piece be chosen", test_results_let_a_piece_be_chosen);
  ADD ("/desk/window/a new photograph takes what the last one had", test_a_new_photograph_takes_what_the_last_one_had);
  ADD ("/desk/window/a photograph is given another side", test_a_photograph_is_given_another_side);
  ADD ("/desk/window/a mark that was dragged stays", test_a_mark_that_was_dragged_stays);
  ADD ("/desk/window/a nudged mark keeps the focus", test_a_nudged_mark_keeps_the_focus);
  ADD ("/desk/window/closing that was called off does not come back",
       test_closing_that_was_called_off_does_not_come_back);
  ADD ("/desk/window/a window may go while a file is chosen", test_a_window_may_go_while_a_file_is_chosen);
  return g_test_run ();
}
