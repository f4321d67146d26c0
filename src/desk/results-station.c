/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/results-station.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "desk/chooser.h"
#include "desk/dialogs.h"
#include "desk/photo-canvas.h"
#include "desk/results-table.h"
#include "desk/side-list.h"
#include "trial/file.h"
#include "trial/format.h"
#include "trial/results.h"

struct _SherdResultsStation
{
  GtkWidget parent_instance;

  GtkStack *stack;
  GtkLabel *empty_label;
  GtkWidget *choosers;
  GtkDropDown *side_chooser;
  GtkWidget *stage_choosers;
  GtkDropDown *before_chooser;
  GtkDropDown *after_chooser;
  GtkLabel *light_label;
  SherdPhotoCanvas *before_canvas;
  SherdPhotoCanvas *after_canvas;
  GtkColumnView *table;

  SherdTrial *trial;
  SherdComparison *comparison;
  GtkSingleSelection *selection;
  char *side_id; /* that was chosen; ids and stages survive undo and redo */
  char *before;
  char *after;
  char *before_path; /* pictures shown */
  char *after_path;
  gboolean refreshing;
};

G_DEFINE_FINAL_TYPE (SherdResultsStation, sherd_results_station, GTK_TYPE_WIDGET)

static gboolean
can_be_compared (SherdResultsStation *self, SherdPiece *piece, SherdSide *side)
{
  g_auto (GStrv) stages = sherd_trial_dup_stages (self->trial, piece, side);

  return g_strv_length (stages) >= 2;
}

/* The side that was chosen; else the first that has photographs of two stages, or the first of all. FALSE for none. */
static gboolean
find_shown (SherdResultsStation *self, SherdPiece **piece, SherdSide **side)
{
  SherdPiece *candidate_piece;
  SherdSide *candidate;
  gboolean found = FALSE;

  for (guint i = 0; sherd_side_list_get (self->trial, i, &candidate_piece, &candidate); i++)
    {
      gboolean chosen = g_strcmp0 (self->side_id, sherd_part_get_id (SHERD_PART (candidate))) == 0;

      if (found && !chosen)
        continue;
      *piece = candidate_piece;
      *side = candidate;
      if (chosen)
        return TRUE;
      found = can_be_compared (self, candidate_piece, candidate);
    }
  if (!found)
    return sherd_side_list_get (self->trial, 0, piece, side);
  return TRUE;
}

static void
set_stages (GtkDropDown *chooser, GStrv stages, const char *shown)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) words = NULL;
  guint selected = 0;

  for (guint i = 0; stages[i] != NULL; i++)
    {
      g_autofree char *word = sherd_format_stage (stages[i]);

      g_strv_builder_add (builder, word);
      if (g_str_equal (stages[i], shown))
        selected = i;
    }
  words = g_strv_builder_end (builder);
  sherd_chooser_fill (chooser, (const char *const *)words, selected);
}

/* The first and the last stage, unless the ones chosen are still there. */
static gboolean
refresh_stages (SherdResultsStation *self, GStrv stages)
{
  guint n_stages = g_strv_length (stages);

  gtk_widget_set_visible (self->stage_choosers, n_stages >= 2);
  if (n_stages < 2)
    return FALSE;
  if (self->before == NULL || !g_strv_contains ((const char *const *)stages, self->before))
    {
      g_free (self->before);
      self->before = g_strdup (stages[0]);
    }
  if (self->after == NULL || !g_strv_contains ((const char *const *)stages, self->after))
    {
      g_free (self->after);
      self->after = g_strdup (stages[n_stages - 1]);
    }
  set_stages (self->before_chooser, stages, self->before);
  set_stages (self->after_chooser, stages, self->after);
  return TRUE;
}

static void
show_outlines (SherdResultsStation *self, SherdPhotoCanvas *canvas, SherdPhotograph *photograph)
{
  const SherdMarks *marks = sherd_photograph_get_marks (photograph);
  GListModel *rows = G_LIST_MODEL (self->comparison);
  SherdHomography homography;

  sherd_photo_canvas_clear_outlines (canvas);
  if (marks == NULL || !sherd_homography_fit (&homography, marks->marks, marks->n_marks,
                                              sherd_photograph_get_mark_sd_px (photograph), NULL))
    return;
  sherd_photo_canvas_set_alignment (canvas, &homography);
  for (guint i = 0; i < g_list_model_get_n_items (rows); i++)
    {
      g_autoptr (SherdZoneShift) row = g_list_model_get_item (rows, i);
      SherdZone *zone = sherd_zone_shift_get_zone (row);
      g_autoptr (SherdOutline) outline_mm = sherd_zone_dup_outline (zone);
      g_autoptr (SherdOutline) outline_px = sherd_outline_to_photo (outline_mm, &homography);

      sherd_photo_canvas_add_outline (canvas, outline_px, sherd_zone_get_code (zone));
    }
}

static void
show_photograph (SherdResultsStation *self, SherdPhotoCanvas *canvas, SherdMeasurement *measurement, char **shown_path)
{
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);
  g_autofree char *path = sherd_trial_dup_photo_path (self->trial, photograph);
  g_autofree char *stage = sherd_format_stage (sherd_photograph_get_stage (photograph));

  if (g_strcmp0 (path, *shown_path) != 0)
    {
      g_autoptr (SherdPhotoPyramid) pyramid = sherd_photo_pyramid_new_for_file (path);

      sherd_photo_canvas_set_pyramid (canvas, pyramid);
      g_free (*shown_path);
      *shown_path = g_steal_pointer (&path);
    }
  sherd_photo_canvas_set_title (canvas, stage);
  show_outlines (self, canvas, photograph);
}

static void
selection_changed_cb (SherdResultsStation *self)
{
  SherdZoneShift *row = gtk_single_selection_get_selected_item (self->selection);
  GListModel *rows = G_LIST_MODEL (self->comparison);

  for (guint i = 0; row != NULL && i < g_list_model_get_n_items (rows); i++)
    {
      g_autoptr (SherdZoneShift) candidate = g_list_model_get_item (rows, i);

      if (candidate == row)
        {
          sherd_photo_canvas_select_outline (self->before_canvas, (int)i);
          sherd_photo_canvas_select_outline (self->after_canvas, (int)i);
        }
    }
}

static void
show_table (SherdResultsStation *self)
{
  GtkSortListModel *sorted = gtk_sort_list_model_new (g_object_ref (G_LIST_MODEL (self->comparison)),
                                                      g_object_ref (gtk_column_view_get_sorter (self->table)));

  g_clear_object (&self->selection);
  self->selection = gtk_single_selection_new (G_LIST_MODEL (sorted));
  gtk_single_selection_set_autoselect (self->selection, FALSE);
  gtk_single_selection_set_can_unselect (self->selection, TRUE);
  gtk_single_selection_set_selected (self->selection, GTK_INVALID_LIST_POSITION);
  g_signal_connect_swapped (self->selection, "notify::selected-item", G_CALLBACK (selection_changed_cb), self);
  gtk_column_view_set_model (self->table, GTK_SELECTION_MODEL (self->selection));
}

static void
show_light (SherdResultsStation *self)
{
  gtk_label_set_text (self->light_label, sherd_comparison_get_same_reference (self->comparison)
                                           ? _ ("the same reference stands in both photographs")
                                           : _ ("no common reference: the intervals are wide"));
}

static void
show_comparison (SherdResultsStation *self)
{
  show_photograph (self, self->before_canvas, sherd_comparison_get_before (self->comparison), &self->before_path);
  show_photograph (self, self->after_canvas, sherd_comparison_get_after (self->comparison), &self->after_path);
  show_table (self);
  show_light (self);
}

static void
show_nothing (SherdResultsStation *self, const char *what_to_do)
{
  gtk_column_view_set_model (self->table, NULL);
  g_clear_object (&self->selection);
  g_clear_object (&self->comparison);
  gtk_label_set_text (self->empty_label, what_to_do);
  gtk_stack_set_visible_child_name (self->stack, "empty");
}

static void
refresh (SherdResultsStation *self)
{
  SherdPiece *piece = NULL;
  SherdSide *side = NULL;
  g_auto (GStrv) stages = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdComparison) comparison = NULL;
  gboolean has_side;

  if (self->trial == NULL || self->refreshing)
    return;
  self->refreshing = TRUE;
  has_side = find_shown (self, &piece, &side);
  gtk_widget_set_visible (self->choosers, has_side);
  sherd_side_list_fill (self->side_chooser, self->trial, side);
  stages = has_side ? sherd_trial_dup_stages (self->trial, piece, side) : g_new0 (char *, 1);
  if (!refresh_stages (self, stages))
    show_nothing (self, _ ("Results compare two stages of a piece: add a photograph taken before firing and one taken "
                           "after it."));
  else
    {
      comparison = sherd_trial_compare (self->trial, piece, side, self->before, self->after, &error);
      if (comparison == NULL)
        show_nothing (self, error->message);
      else
        {
          g_set_object (&self->comparison, comparison);
          show_comparison (self);
          gtk_stack_set_visible_child_name (self->stack, "results");
        }
    }
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "results.copy", self->comparison != NULL);
  self->refreshing = FALSE;
}

static void
side_cb (SherdResultsStation *self)
{
  SherdPiece *piece;
  SherdSide *side;

  if (self->refreshing || self->trial == NULL ||
      !sherd_side_list_get (self->trial, gtk_drop_down_get_selected (self->side_chooser), &piece, &side))
    return;
  g_free (self->side_id);
  self->side_id = g_strdup (sherd_part_get_id (SHERD_PART (side)));
  refresh (self);
}

static void
take_stage (char **stage, GStrv stages, GtkDropDown *chooser)
{
  guint selected = gtk_drop_down_get_selected (chooser);

  if (selected >= g_strv_length (stages))
    return;
  g_free (*stage);
  *stage = g_strdup (stages[selected]);
}

static void
stage_cb (SherdResultsStation *self)
{
  SherdPiece *piece;
  SherdSide *side;
  g_auto (GStrv) stages = NULL;

  if (self->refreshing || self->trial == NULL || !find_shown (self, &piece, &side))
    return;
  stages = sherd_trial_dup_stages (self->trial, piece, side);
  take_stage (&self->before, stages, self->before_chooser);
  take_stage (&self->after, stages, self->after_chooser);
  refresh (self);
}

/* The row of the zone that was clicked in a photograph. */
static void
outline_cb (SherdResultsStation *self, guint index)
{
  g_autoptr (SherdZoneShift) wanted = NULL;
  GListModel *sorted = G_LIST_MODEL (self->selection);

  if (self->comparison == NULL)
    return;
  wanted = g_list_model_get_item (G_LIST_MODEL (self->comparison), index);
  for (guint i = 0; i < g_list_model_get_n_items (sorted); i++)
    {
      g_autoptr (SherdZoneShift) row = g_list_model_get_item (sorted, i);

      if (row == wanted)
        gtk_single_selection_set_selected (self->selection, i);
    }
}

static void
copy_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  SherdResultsStation *self = SHERD_RESULTS_STATION (widget);
  g_autoptr (SherdTable) table = NULL;
  g_autofree char *text = NULL;

  if (self->comparison == NULL)
    return;
  table = sherd_results_shifts (self->comparison);
  text = sherd_table_to_text (table);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}

/**
 * sherd_results_station_get_comparison:
 * @self: the station
 *
 * Returns: (transfer none) (nullable): what is shown
 */
SherdComparison *
sherd_results_station_get_comparison (SherdResultsStation *self)
{
  return self->comparison;
}

/**
 * sherd_results_station_export:
 * @self: the station, with a comparison
 * @file: where to
 * @error: of the file system
 *
 * Writes the table as comma-separated values, the same as the command line prints.
 */
gboolean
sherd_results_station_export (SherdResultsStation *self, GFile *file, GError **error)
{
  g_autoptr (SherdTable) table = sherd_results_shifts (self->comparison);
  g_autofree char *csv = sherd_table_to_csv (table);

  return g_file_replace_contents (file, csv, strlen (csv), NULL, FALSE, G_FILE_CREATE_NONE, NULL, NULL, error);
}

/**
 * sherd_results_station_set_trial:
 * @self: the station
 * @trial: (nullable): whose results it shows from now on
 */
void
sherd_results_station_set_trial (SherdResultsStation *self, SherdTrial *trial)
{
  if (self->trial != NULL)
    g_signal_handlers_disconnect_by_data (self->trial, self);
  g_set_object (&self->trial, trial);
  g_clear_pointer (&self->side_id, g_free);
  g_clear_pointer (&self->before, g_free);
  g_clear_pointer (&self->after, g_free);
  g_clear_pointer (&self->before_path, g_free);
  g_clear_pointer (&self->after_path, g_free);
  if (trial == NULL)
    return;
  g_signal_connect_swapped (trial, "edited", G_CALLBACK (refresh), self);
  refresh (self);
}

static void
sherd_results_station_dispose (GObject *object)
{
  SherdResultsStation *self = SHERD_RESULTS_STATION (object);

  self->refreshing = TRUE;
  sherd_results_station_set_trial (self, NULL);
  if (self->selection != NULL)
    g_signal_handlers_disconnect_by_data (self->selection, self);
  g_clear_object (&self->selection);
  g_clear_object (&self->comparison);
  sherd_children_drop (GTK_WIDGET (self));
  G_OBJECT_CLASS (sherd_results_station_parent_class)->dispose (object);
}

static void
sherd_results_station_class_init (SherdResultsStationClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_results_station_dispose;
  g_type_ensure (SHERD_TYPE_PHOTO_CANVAS);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/results-station.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, stack);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, empty_label);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, choosers);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, side_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, stage_choosers);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, before_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, after_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, light_label);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, before_canvas);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, after_canvas);
  gtk_widget_class_bind_template_child (widget_class, SherdResultsStation, table);
  gtk_widget_class_bind_template_callback (widget_class, side_cb);
  gtk_widget_class_bind_template_callback (widget_class, stage_cb);
  gtk_widget_class_bind_template_callback (widget_class, outline_cb);
  gtk_widget_class_install_action (widget_class, "results.copy", NULL, copy_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "results.copy",
                                       NULL);
}

static void
sherd_results_station_init (SherdResultsStation *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sherd_results_table_add_columns (self->table);
  sherd_photo_canvas_link (self->before_canvas, self->after_canvas);
}
