/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/window.h"

#include <glib/gi18n-lib.h>

#include "desk/demo.h"
#include "desk/dialogs.h"
#include "desk/paints-station.h"
#include "desk/results-station.h"
#include "desk/station-stack.h"
#include "desk/window-size.h"
#include "page/report.h"
#include "trial/file.h"
#include "trial/measure-run.h"

struct _SherdWindow
{
  GtkApplicationWindow parent_instance;

  GtkStack *pages;
  GtkLabel *title_label;
  GtkWidget *undo_button;
  GtkWidget *redo_button;
  GtkStack *main_action;
  GtkStack *stations;
  GtkInfoBar *progress_bar_box;
  GtkProgressBar *progress_bar;

  SherdTrial *trial;
  SherdMeasureRun *run;
  GSimpleAction *station_action;
  void (*after_saving) (SherdWindow *self); /* what the user wanted before the question about changes came up */
  char *path_to_open;
  GPtrArray *recoveries;
};

G_DEFINE_FINAL_TYPE (SherdWindow, sherd_window, GTK_TYPE_APPLICATION_WINDOW)

static void
tell (SherdWindow *self, const char *what, const GError *error)
{
  sherd_dialog_error (GTK_WINDOW (self), what, error);
}

static void
enable (SherdWindow *self, const char *action, gboolean enabled)
{
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), action)), enabled);
}

static char *
dup_trial_name (SherdTrial *trial)
{
  const char *path = sherd_trial_get_path (trial);

  if (*sherd_trial_get_title (trial) != '\0')
    return g_strdup (sherd_trial_get_title (trial));
  return path != NULL ? g_filename_display_basename (path) : g_strdup (_ ("New trial"));
}

static gboolean
was_measured (SherdWindow *self)
{
  return g_list_model_get_n_items (sherd_trial_get_measurements (self->trial)) > 0;
}

static SherdResultsStation *
results_station (SherdWindow *self)
{
  return SHERD_RESULTS_STATION (sherd_station_stack_ensure (self->stations, "results", self->trial));
}

/* (nullable) (transfer none): what the results station shows; without a measurement it need not be made to be asked. */
static SherdComparison *
get_comparison (SherdWindow *self)
{
  return was_measured (self) ? sherd_results_station_get_comparison (results_station (self)) : NULL;
}

static void
refresh_title (SherdWindow *self)
{
  g_autofree char *name = dup_trial_name (self->trial);
  g_autofree char *title = sherd_trial_get_modified (self->trial) ? g_strdup_printf ("• %s", name) : g_strdup (name);

  gtk_label_set_text (self->title_label, title);
  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
refresh_actions (SherdWindow *self)
{
  g_autofree char *undo = sherd_trial_dup_undo_label (self->trial);
  g_autofree char *redo = sherd_trial_dup_redo_label (self->trial);

  enable (self, "undo", sherd_trial_can_undo (self->trial));
  enable (self, "redo", sherd_trial_can_redo (self->trial));
  gtk_widget_set_tooltip_text (self->undo_button, undo != NULL ? undo : _ ("Undo"));
  gtk_widget_set_tooltip_text (self->redo_button, redo != NULL ? redo : _ ("Redo"));
  enable (self, "measure",
          self->run == NULL && g_list_model_get_n_items (sherd_trial_get_photographs (self->trial)) > 0);
  enable (self, "copy-card", g_list_model_get_n_items (sherd_trial_get_paints (self->trial)) > 0);
  enable (self, "export", get_comparison (self) != NULL);
  enable (self, "report", get_comparison (self) != NULL);
}

static void
edited_cb (SherdWindow *self)
{
  refresh_title (self);
  refresh_actions (self);
}

static void
show_station (SherdWindow *self, const char *name)
{
  gtk_stack_set_visible_child (self->stations, sherd_station_stack_ensure (self->stations, name, self->trial));
  gtk_stack_set_visible_child_name (self->main_action, g_str_equal (name, "piece") ? "none" : name);
  g_simple_action_set_state (self->station_action, g_variant_new_string (name));
}

/* A trial that was measured is opened for its results; one with photographs where they are; one with a piece at the
 * piece; else paints come first. */
static const char *
first_station (SherdWindow *self)
{
  if (get_comparison (self) != NULL)
    return "results";
  if (g_list_model_get_n_items (sherd_trial_get_photographs (self->trial)) > 0)
    return "photographs";
  return g_list_model_get_n_items (sherd_trial_get_pieces (self->trial)) > 0 ? "piece" : "paints";
}

static void
recovery_failed_cb (SherdWindow *self, const char *message)
{
  g_autoptr (GError) error = g_error_new_literal (SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SAVE, message);

  tell (self, _ ("Changes are not kept against a crash"), error);
}

/* The window forgets the run; a photograph that is being read ends on its own. */
static void
drop_run (SherdWindow *self)
{
  if (self->run == NULL)
    return;
  g_signal_handlers_disconnect_by_data (self->run, self);
  sherd_measure_run_cancel (self->run);
  g_clear_object (&self->run);
}

static void
leave_trial (SherdWindow *self)
{
  drop_run (self);
  if (self->trial == NULL)
    return;
  sherd_recovery_stop (self->trial);
  g_signal_handlers_disconnect_by_data (self->trial, self);
  g_clear_object (&self->trial);
}

static void
set_trial (SherdWindow *self, SherdTrial *trial)
{
  g_autoptr (GError) error = NULL;

  leave_trial (self);
  gtk_info_bar_set_revealed (self->progress_bar_box, FALSE);
  self->trial = g_object_ref (trial);
  sherd_station_stack_set_trial (self->stations, trial);
  /* After the stations, whenever they were made: what can be done depends on what they show. */
  g_signal_connect_data (trial, "edited", G_CALLBACK (edited_cb), self, NULL, G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  g_signal_connect_swapped (trial, "notify::modified", G_CALLBACK (refresh_title), self);
  g_signal_connect_swapped (trial, "recovery-failed", G_CALLBACK (recovery_failed_cb), self);
  if (!sherd_recovery_start (trial, NULL, &error))
    tell (self, _ ("Changes are not kept against a crash"), error);
  gtk_stack_set_visible_child_name (self->pages, "trial");
  enable (self, "save", TRUE);
  enable (self, "save-as", TRUE);
  enable (self, "station", TRUE);
  edited_cb (self);
  show_station (self, first_station (self));
}

/* Saving. */

static void
saved (SherdWindow *self, const char *remark)
{
  void (*then) (SherdWindow *) = self->after_saving;

  self->after_saving = NULL;
  if (remark != NULL)
    {
      g_autoptr (GError) error = g_error_new_literal (SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DURABLE, remark);

      tell (self, _ ("The trial is saved"), error);
    }
  refresh_title (self);
  if (then != NULL)
    then (self);
}

/* NULL with an error for a place that is reached over the network without a path. */
static char *
dup_local_path (GFile *file, GError **error)
{
  char *path = g_file_get_path (file);

  if (path == NULL)
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                         _ ("That place is not a folder on this computer. Choose one that is."));
  return path;
}

static void
save_as_cb (GFile *file, gpointer user_data)
{
  SherdWindow *self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = dup_local_path (file, &error);
  g_autofree char *remark = NULL;

  if (path != NULL && sherd_trial_save_as (self->trial, path, &remark, &error))
    saved (self, remark);
  else
    tell (self, _ ("The trial was not saved"), error);
}

static void
save_as (SherdWindow *self)
{
  sherd_dialog_save (GTK_WINDOW (self), _ ("Save the trial"), "trial" SHERD_TRIAL_SUFFIX, save_as_cb, self);
}

static void save (SherdWindow *self, SherdSaveFlags flags);

static void
changed_answer_cb (int answer, gpointer user_data)
{
  SherdWindow *self = user_data;

  if (answer == 1)
    save_as (self);
  else if (answer == 2)
    save (self, SHERD_SAVE_OVER_CHANGED);
}

static void
save (SherdWindow *self, SherdSaveFlags flags)
{
  const char *const answers[] = { _ ("Cancel"), _ ("Save under another name"), _ ("Replace it"), NULL };
  g_autofree char *remark = NULL;
  g_autoptr (GError) error = NULL;

  if (sherd_trial_get_path (self->trial) == NULL)
    save_as (self);
  else if (sherd_trial_save (self->trial, flags, &remark, &error))
    saved (self, remark);
  else if (g_error_matches (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CHANGED))
    sherd_dialog_ask (GTK_WINDOW (self), _ ("The trial was changed by another program"), error->message, answers,
                      changed_answer_cb, self);
  else
    tell (self, _ ("The trial was not saved"), error);
}

static void
changes_answer_cb (int answer, gpointer user_data)
{
  SherdWindow *self = user_data;
  void (*then) (SherdWindow *) = self->after_saving;

  if (answer == 2)
    save (self, SHERD_SAVE_NORMAL);
  else
    {
      self->after_saving = NULL;
      if (answer == 1)
        then (self);
    }
}

/* Does @then once unsaved changes are saved or given up. */
static void
after_saving_changes (SherdWindow *self, void (*then) (SherdWindow *self))
{
  const char *const answers[] = { _ ("Cancel"), _ ("Discard changes"), _ ("Save"), NULL };

  if (self->trial == NULL || !sherd_trial_get_modified (self->trial))
    {
      then (self);
      return;
    }
  self->after_saving = then;
  sherd_dialog_ask (GTK_WINDOW (self), _ ("Save the changes?"), _ ("The trial has changes that are not saved yet."),
                    answers, changes_answer_cb, self);
}

/* Opening. */

static void
start_new (SherdWindow *self)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();

  set_trial (self, trial);
}

/**
 * sherd_window_show_start:
 * @self: the window
 *
 * Offers a new trial, opening one, and the demo, where no trial is open.
 */
void
sherd_window_show_start (SherdWindow *self)
{
  if (self->trial == NULL)
    gtk_stack_set_visible_child_name (self->pages, "start");
}

static void
not_opened (SherdWindow *self, const char *what, const GError *error)
{
  sherd_window_show_start (self);
  tell (self, what, error);
}

static void
open_path (SherdWindow *self)
{
  g_autofree char *path = g_steal_pointer (&self->path_to_open);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_load (path, &error);

  if (trial == NULL)
    not_opened (self, _ ("The trial was not opened"), error);
  else
    set_trial (self, trial);
}

/**
 * sherd_window_open_path:
 * @self: the window
 * @path: (type filename): a trial's file
 *
 * Opens a trial, once changes of the one that is open are saved or given up.
 */
void
sherd_window_open_path (SherdWindow *self, const char *path)
{
  g_free (self->path_to_open);
  self->path_to_open = g_strdup (path);
  after_saving_changes (self, open_path);
}

/* The copy takes the place of an older one, which may be the trial that is open: its changes are settled first. */
static void
open_demo (SherdWindow *self)
{
  g_autoptr (GError) error = NULL;

  g_free (self->path_to_open);
  self->path_to_open = sherd_demo_copy (&error);
  if (self->path_to_open != NULL)
    open_path (self);
  else
    not_opened (self, _ ("The demo trial was not opened"), error);
}

/**
 * sherd_window_open_demo:
 * @self: the window
 *
 * Opens a fresh copy of the demo trial.
 */
void
sherd_window_open_demo (SherdWindow *self)
{
  after_saving_changes (self, open_demo);
}

static void
open_chosen_cb (GFile *file, gpointer user_data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = dup_local_path (file, &error);

  if (path != NULL)
    sherd_window_open_path (user_data, path);
  else
    tell (user_data, _ ("The trial was not opened"), error);
}

static void
recovery_answer_cb (int answer, gpointer user_data)
{
  SherdWindow *self = user_data;
  SherdRecovery *recovery = g_ptr_array_index (self->recoveries, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = NULL;

  if (answer == 1)
    {
      trial = sherd_recovery_open (recovery, &error);
      if (trial != NULL)
        {
          set_trial (self, trial);
          sherd_recovery_discard (recovery);
        }
      else
        tell (self, _ ("The unsaved work could not be brought back"), error);
    }
  else if (answer == 0)
    sherd_recovery_discard (recovery);
  g_clear_pointer (&self->recoveries, g_ptr_array_unref);
}

/**
 * sherd_window_offer_recovery:
 * @self: the window
 *
 * Asks whether unsaved work of a run that crashed is wanted, when there is some.
 */
void
sherd_window_offer_recovery (SherdWindow *self)
{
  const char *const answers[] = { _ ("Throw it away"), _ ("Bring it back"), NULL };
  g_autofree char *folder = sherd_recovery_dup_folder ();
  const SherdRecovery *recovery;
  g_autofree char *when = NULL;
  g_autofree char *detail = NULL;

  g_clear_pointer (&self->recoveries, g_ptr_array_unref);
  self->recoveries = sherd_recovery_find (folder);
  if (self->recoveries->len == 0)
    return;
  recovery = g_ptr_array_index (self->recoveries, 0);
  when = g_date_time_format (recovery->edited, "%c");
  detail = g_strdup_printf (_ ("The program ended without saving “%s”, last changed %s."),
                            *recovery->title != '\0' ? recovery->title : _ ("New trial"), when);
  sherd_dialog_ask (GTK_WINDOW (self), _ ("Bring back unsaved work?"), detail, answers, recovery_answer_cb, self);
}

/* Measuring. */

static void
progress_cb (SherdWindow *self, double done_frac)
{
  gtk_progress_bar_set_fraction (self->progress_bar, done_frac);
}

static void
failed_cb (SherdWindow *self, SherdPhotograph *photograph, const GError *error)
{
  g_autofree char *what =
    g_strdup_printf (_ ("“%s” was not measured"), sherd_photograph_get_original_name (photograph));

  tell (self, what, error);
}

static void
finished_cb (SherdWindow *self, guint n_measured)
{
  gtk_info_bar_set_revealed (self->progress_bar_box, FALSE);
  drop_run (self);
  refresh_actions (self);
  if (n_measured > 0 && get_comparison (self) != NULL)
    show_station (self, "results");
}

static void
measure (SherdWindow *self)
{
  self->run = sherd_measure_run_new (self->trial, sherd_trial_get_photographs (self->trial));
  g_signal_connect_swapped (self->run, "progress", G_CALLBACK (progress_cb), self);
  g_signal_connect_swapped (self->run, "failed", G_CALLBACK (failed_cb), self);
  g_signal_connect_swapped (self->run, "finished", G_CALLBACK (finished_cb), self);
  gtk_progress_bar_set_fraction (self->progress_bar, 0.0);
  gtk_info_bar_set_revealed (self->progress_bar_box, TRUE);
  refresh_actions (self);
  sherd_measure_run_start (self->run);
}

/* Results as files. */

static void
export_cb (GFile *file, gpointer user_data)
{
  SherdWindow *self = user_data;
  g_autoptr (GError) error = NULL;

  if (!sherd_results_station_export (results_station (self), file, &error))
    tell (self, _ ("The table was not written"), error);
}

static void
report_cb (GFile *file, gpointer user_data)
{
  SherdWindow *self = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = dup_local_path (file, &error);

  if (path == NULL || !sherd_report_write_pdf (self->trial, get_comparison (self), path, &error))
    tell (self, _ ("The report was not written"), error);
}

/* Actions. */

static void
new_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  after_saving_changes (user_data, start_new);
}

static void
open_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  static const char *const suffixes[] = { "sherdboard", NULL };

  sherd_dialog_open (user_data, _ ("Open a trial"), _ ("Trials"), suffixes, FALSE, open_chosen_cb, user_data);
}

static void
demo_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_window_open_demo (user_data);
}

/* Whoever saves by hand has given up what a question about changes was asked for. */
static void
save_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SHERD_WINDOW (user_data)->after_saving = NULL;
  save (user_data, SHERD_SAVE_NORMAL);
}

static void
save_as_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SHERD_WINDOW (user_data)->after_saving = NULL;
  save_as (user_data);
}

static void
undo_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_trial_undo (SHERD_WINDOW (user_data)->trial);
}

static void
redo_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_trial_redo (SHERD_WINDOW (user_data)->trial);
}

static void
measure_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  measure (user_data);
}

static void
stop_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdWindow *self = user_data;

  if (self->run != NULL)
    sherd_measure_run_cancel (self->run);
}

static void
copy_card_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdWindow *self = user_data;
  GtkWidget *paints = sherd_station_stack_ensure (self->stations, "paints", self->trial);

  sherd_paints_station_copy_card (SHERD_PAINTS_STATION (paints));
}

static void
export_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_dialog_save (user_data, _ ("Export the table"), "shifts.csv", export_cb, user_data);
}

static void
report_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_dialog_save (user_data, _ ("Print results as PDF"), "results.pdf", report_cb, user_data);
}

static void
about_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  gtk_show_about_dialog (user_data, "program-name", "Sherdboard", "version", SHERD_VERSION, "logo-icon-name",
                         SHERD_APP_ID, "license-type", GTK_LICENSE_GPL_3_0, "comments",
                         _ ("Plans and measures trials of low-fired painted pottery."), NULL);
}

static void
station_action (GSimpleAction *action, GVariant *value, gpointer user_data)
{
  show_station (user_data, g_variant_get_string (value, NULL));
}

/* Made when it is asked for: as “gtk/help-overlay.ui” every start would make it. */
static void
shortcuts_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/org/sherdboard/Sherdboard/shortcuts.ui");
  GtkWindow *shortcuts = GTK_WINDOW (gtk_builder_get_object (builder, "help_overlay"));

  gtk_window_set_transient_for (shortcuts, GTK_WINDOW (user_data));
  gtk_window_set_destroy_with_parent (shortcuts, TRUE);
  gtk_window_present (shortcuts);
}

static const GActionEntry actions[] = {
  { .name = "new", .activate = new_action },
  { .name = "open", .activate = open_action },
  { .name = "demo", .activate = demo_action },
  { .name = "save", .activate = save_action },
  { .name = "save-as", .activate = save_as_action },
  { .name = "undo", .activate = undo_action },
  { .name = "redo", .activate = redo_action },
  { .name = "measure", .activate = measure_action },
  { .name = "stop", .activate = stop_action },
  { .name = "copy-card", .activate = copy_card_action },
  { .name = "export", .activate = export_action },
  { .name = "report", .activate = report_action },
  { .name = "about", .activate = about_action },
  { .name = "show-help-overlay", .activate = shortcuts_action },
  { .name = "station", .parameter_type = "s", .state = "'piece'", .change_state = station_action },
};

static const char *const trial_actions[] = { "save",      "save-as", "undo",   "redo",   "measure",
                                             "copy-card", "export",  "report", "station" };

static void
close_now (SherdWindow *self)
{
  leave_trial (self);
  gtk_window_destroy (GTK_WINDOW (self));
}

static gboolean
sherd_window_close_request (GtkWindow *window)
{
  after_saving_changes (SHERD_WINDOW (window), close_now);
  return TRUE;
}

/**
 * sherd_window_get_trial:
 * @self: the window
 *
 * Returns: (transfer none) (nullable): the trial that is open
 */
SherdTrial *
sherd_window_get_trial (SherdWindow *self)
{
  return self->trial;
}

/**
 * sherd_window_new:
 * @application: the application
 *
 * Returns: (transfer none): a window that shows the start page
 */
GtkWidget *
sherd_window_new (GtkApplication *application)
{
  return g_object_new (SHERD_TYPE_WINDOW, "application", application, NULL);
}

static void
sherd_window_dispose (GObject *object)
{
  SherdWindow *self = SHERD_WINDOW (object);

  leave_trial (self);
  g_clear_pointer (&self->path_to_open, g_free);
  g_clear_pointer (&self->recoveries, g_ptr_array_unref);
  G_OBJECT_CLASS (sherd_window_parent_class)->dispose (object);
}

static void
sherd_window_class_init (SherdWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = sherd_window_close_request;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/window.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, title_label);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, undo_button);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, redo_button);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, main_action);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, stations);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, progress_bar_box);
  gtk_widget_class_bind_template_child (widget_class, SherdWindow, progress_bar);
}

static void
sherd_window_init (SherdWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sherd_window_size_keep (GTK_WINDOW (self));
  g_action_map_add_action_entries (G_ACTION_MAP (self), actions, G_N_ELEMENTS (actions), self);
  self->station_action = G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), "station"));
  for (guint i = 0; i < G_N_ELEMENTS (trial_actions); i++)
    enable (self, trial_actions[i], FALSE);
}
