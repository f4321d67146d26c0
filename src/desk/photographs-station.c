/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photographs-station.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "desk/chooser.h"
#include "desk/dialogs.h"
#include "desk/photograph-marks.h"
#include "desk/photograph-outlines.h"
#include "desk/reference-panel.h"
#include "desk/side-list.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/format.h"
#include "trial/results.h"
#include "trial/stage.h"

/* A camera is placed by four. */
#define FEWEST_MARKS 4u

/* Firings offered beyond those that have photographs. */
#define STAGES_AHEAD 3

struct _SherdPhotographsStation
{
  GtkWidget parent_instance;

  GtkStack *stack;
  GtkListBox *list;
  SherdPhotoCanvas *canvas;
  GtkLabel *colour_label;
  GtkLabel *about_label;
  GtkDropDown *place_chooser;
  GtkDropDown *stage_chooser;
  GtkWidget *mark_button;
  GtkCheckButton *snap_button;
  GtkLabel *marks_label;
  SherdReferencePanel *reference_panel;
  GtkLabel *result_label;

  SherdTrial *trial;
  char *photograph_id; /* what is shown; ids survive undo and redo */
  char *picture_path;  /* of the canvas */
  SherdMarkPlan *plan;
  gboolean refreshing;
};

G_DEFINE_FINAL_TYPE (SherdPhotographsStation, sherd_photographs_station, GTK_TYPE_WIDGET)

static void refresh (SherdPhotographsStation *self);

static GtkWindow *
window_of (SherdPhotographsStation *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

static SherdPhotograph *
shown (SherdPhotographsStation *self)
{
  return self->photograph_id != NULL ? sherd_trial_find_photograph (self->trial, self->photograph_id) : NULL;
}

static void
tell_if_refused (SherdPhotographsStation *self, gboolean done, GError *error)
{
  if (done)
    return;
  sherd_dialog_error (window_of (self), _ ("That was not changed"), error);
  refresh (self);
}

/* The list of photographs. */

static const char *
measured_word (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  const SherdMarks *marks = sherd_photograph_get_marks (photograph);

  SherdMeasurement *last = sherd_trial_get_last_measurement (self->trial, photograph);

  if (sherd_trial_get_measurement (self->trial, photograph) != NULL)
    return _ ("measured");
  if (last != NULL && !sherd_measurement_is_understood (last))
    return _ ("measured by a newer program");
  if (last != NULL)
    return _ ("changed since it was measured");
  return marks != NULL && marks->n_marks >= FEWEST_MARKS ? _ ("ready to be measured") : _ ("needs its marks");
}

/* The pieces are told apart only where there are several. */
static char *
row_title (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  g_autofree char *stage = sherd_format_stage (sherd_photograph_get_stage (photograph));

  if (g_list_model_get_n_items (sherd_trial_get_pieces (self->trial)) < 2)
    return g_steal_pointer (&stage);
  return g_strdup_printf ("%s · %s", sherd_piece_get_name (sherd_photograph_get_piece (photograph)), stage);
}

static GtkWidget *
row_new (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *title = row_title (self, photograph);
  const char *lines[3] = { title, sherd_photograph_get_original_name (photograph), measured_word (self, photograph) };
  g_autofree char *spoken = g_strdup_printf ("%s, %s, %s", lines[0], lines[1], lines[2]);

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      GtkWidget *label = gtk_label_new (lines[i]);

      gtk_label_set_xalign (GTK_LABEL (label), 0.0f);
      gtk_label_set_ellipsize (GTK_LABEL (label), i < 2 ? PANGO_ELLIPSIZE_MIDDLE : PANGO_ELLIPSIZE_NONE);
      gtk_label_set_wrap (GTK_LABEL (label), i == 2);
      gtk_widget_add_css_class (label, i == 0 ? "heading" : "dim-label");
      gtk_box_append (GTK_BOX (box), label);
    }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data_full (G_OBJECT (row), "photograph", g_object_ref (photograph), g_object_unref);
  return row;
}

static void
refresh_list (SherdPhotographsStation *self)
{
  GListModel *photographs = sherd_trial_get_photographs (self->trial);
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (self->list, 0)) != NULL)
    gtk_list_box_remove (self->list, GTK_WIDGET (row));
  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      gtk_list_box_append (self->list, row_new (self, photograph));
      if (photograph == shown (self))
        gtk_list_box_select_row (self->list, gtk_list_box_get_row_at_index (self->list, (int)i));
    }
}

/* Marks that were being picked belong to the photograph shown before: picking ends. */
static void
choose (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  sherd_photo_canvas_end_marking (self->canvas);
  g_free (self->photograph_id);
  self->photograph_id = photograph != NULL ? g_strdup (sherd_part_get_id (SHERD_PART (photograph))) : NULL;
}

static void
choose_first_if_gone (SherdPhotographsStation *self)
{
  g_autoptr (SherdPhotograph) first = NULL;

  if (shown (self) != NULL)
    return;
  first = g_list_model_get_item (sherd_trial_get_photographs (self->trial), 0);
  choose (self, first);
}

/* The picture with its outlines and marks. */

static void
refresh_picture (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  g_autofree char *path = sherd_trial_dup_photo_path (self->trial, photograph);
  g_autoptr (SherdPhotoPyramid) pyramid = NULL;

  if (g_strcmp0 (path, self->picture_path) == 0)
    return;
  pyramid = sherd_photo_pyramid_new_for_file (path);
  sherd_photo_canvas_set_title (self->canvas, sherd_photograph_get_original_name (photograph));
  sherd_photo_canvas_set_pyramid (self->canvas, pyramid);
  g_free (self->picture_path);
  self->picture_path = g_steal_pointer (&path);
}

static void
refresh_outlines (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  g_autoptr (GArray) marks = sherd_mark_plan_get_placed (self->plan, SHERD_PHOTO_MARK_PIECE);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;
  SherdHomography homography;

  sherd_photo_canvas_clear_outlines (self->canvas);
  if (marks->len < FEWEST_MARKS)
    text = g_strdup_printf (_ ("Pick the four corners of the tile: %u of %u are marked."), marks->len, FEWEST_MARKS);
  else if (!sherd_homography_fit (&homography, (const SherdMark *)marks->data, marks->len,
                                  sherd_photograph_get_mark_sd_px (photograph), &error))
    text = g_strdup (error->message);
  else
    {
      g_autofree char *residual_px = sherd_format_number (homography.residual_rms_px, 2);
      g_autofree char *residual_mm = sherd_format_number (homography.residual_rms_mm, 2);

      sherd_photograph_outlines_add_zones (self->canvas, self->trial, photograph, &homography);
      text = marks->len > 4
               ? g_strdup_printf (_ ("%u marks fit within %s px (%s mm)."), marks->len, residual_px, residual_mm)
               : g_strdup (_ ("The four corners are marked. Look whether the outlines lie on the zones."));
    }
  sherd_photograph_outlines_add_patches (self->canvas, photograph, self->plan);
  gtk_label_set_text (self->marks_label, text);
}

static void
refresh_marks (SherdPhotographsStation *self, SherdPhotograph *photograph)
{

  g_clear_pointer (&self->plan, sherd_mark_plan_free);
  self->plan = sherd_mark_plan_new (photograph, sherd_reference_panel_get_marks_on (self->reference_panel));
  if (!sherd_photo_canvas_get_marking (self->canvas))
    sherd_mark_plan_show (self->plan, self->canvas);
  refresh_outlines (self, photograph);
}

/* The panel beside it. */

static GStrv
stage_words (const char *shown_stage, guint *selected)
{
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  guint n_firings = 0;
  gboolean rubbed = FALSE;
  guint n_offered;

  sherd_stage_parse (shown_stage, &n_firings, &rubbed);
  n_offered = MIN (n_firings + STAGES_AHEAD, SHERD_STAGE_MAX_FIRINGS);
  for (guint i = 0; i <= n_offered; i++)
    for (guint j = 0; j < 2; j++)
      {
        g_autofree char *stage = sherd_stage_new (i, j == 1);
        g_autofree char *word = sherd_format_stage (stage);

        if (g_str_equal (stage, shown_stage))
          *selected = 2 * i + j;
        g_strv_builder_add (words, word);
      }
  return g_strv_builder_end (words);
}

static void
refresh_stage (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  guint selected = 0;
  g_auto (GStrv) words = stage_words (sherd_photograph_get_stage (photograph), &selected);

  sherd_chooser_fill (self->stage_chooser, (const char *const *)words, selected);
}

static void
refresh_about (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  const char *camera = sherd_photograph_get_camera (photograph);
  const char *taken = sherd_photograph_get_taken (photograph);
  g_autofree char *text =
    g_strdup_printf ("%s\n%u × %u px%s%s%s%s", sherd_photograph_get_original_name (photograph),
                     sherd_photograph_get_width_px (photograph), sherd_photograph_get_height_px (photograph),
                     *camera != '\0' ? "\n" : "", camera, *taken != '\0' ? "\n" : "", taken);

  gtk_label_set_text (self->about_label, text);
}

static void
refresh_result (SherdPhotographsStation *self, SherdPhotograph *photograph)
{
  SherdMeasurement *measurement = sherd_trial_get_measurement (self->trial, photograph);
  g_auto (GStrv) notes = measurement != NULL ? sherd_results_dup_notes (measurement) : NULL;
  g_autofree char *text = notes != NULL ? g_strjoinv ("\n", notes) : g_strdup ("");

  gtk_label_set_text (self->result_label, text);
}

static void
refresh (SherdPhotographsStation *self)
{
  SherdPhotograph *photograph;
  gboolean has_piece;

  if (self->trial == NULL || self->refreshing)
    return;
  self->refreshing = TRUE;
  choose_first_if_gone (self);
  photograph = shown (self);
  has_piece = g_list_model_get_n_items (sherd_trial_get_pieces (self->trial)) > 0;
  gtk_stack_set_visible_child_name (self->stack, photograph != NULL ? "photographs" : has_piece ? "empty" : "no-piece");
  refresh_list (self);
  if (photograph != NULL)
    {
      refresh_picture (self, photograph);
      refresh_about (self, photograph);
      sherd_side_list_fill (self->place_chooser, self->trial, sherd_photograph_get_side (photograph));
      refresh_stage (self, photograph);
      sherd_reference_panel_show (self->reference_panel, self->trial, photograph);
      refresh_marks (self, photograph);
      refresh_result (self, photograph);
    }
  else
    {
      sherd_reference_panel_show (self->reference_panel, self->trial, NULL);
      g_clear_pointer (&self->plan, sherd_mark_plan_free);
    }
  self->refreshing = FALSE;
}

static void
row_selected_cb (SherdPhotographsStation *self, GtkListBoxRow *row)
{
  SherdPhotograph *photograph = row != NULL ? g_object_get_data (G_OBJECT (row), "photograph") : NULL;

  if (self->refreshing || photograph == NULL || photograph == shown (self))
    return;
  choose (self, photograph);
  refresh (self);
}

/* Adding. */

/* Unfired first, then one firing later than the latest photograph of that side. */
static char *
next_stage (SherdPhotographsStation *self, SherdSide *side)
{
  GListModel *photographs = sherd_trial_get_photographs (self->trial);
  const char *latest = NULL;
  guint n_firings = 0;
  gboolean rubbed;

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      if (sherd_photograph_get_side (photograph) != side)
        continue;
      if (latest == NULL || sherd_stage_compare (sherd_photograph_get_stage (photograph), latest) > 0)
        latest = sherd_photograph_get_stage (photograph);
    }
  if (latest == NULL)
    return g_strdup (SHERD_STAGE_UNFIRED);
  sherd_stage_parse (latest, &n_firings, &rubbed);
  return sherd_stage_new (MIN (n_firings + 1, SHERD_STAGE_MAX_FIRINGS), FALSE);
}

/* What the photograph shown shows is likely in the next one too; else the first side there is. FALSE for none. */
static gboolean
guess_place (SherdPhotographsStation *self, SherdPiece **piece, SherdSide **side)
{
  if (shown (self) == NULL)
    return sherd_side_list_get (self->trial, 0, piece, side);
  *piece = sherd_photograph_get_piece (shown (self));
  *side = sherd_photograph_get_side (shown (self));
  return TRUE;
}

static gboolean
add_photograph (SherdPhotographsStation *self, const char *path, GError **error)
{
  g_autoptr (SherdPhotograph) photograph = sherd_photograph_new_from_file (path, error);
  SherdReference *reference = shown (self) != NULL ? sherd_photograph_get_reference (shown (self)) : NULL;
  g_autofree char *stage = NULL;
  SherdPiece *piece;
  SherdSide *side;
  gboolean added;

  if (photograph == NULL || !guess_place (self, &piece, &side))
    return FALSE;
  stage = next_stage (self, side);
  sherd_trial_begin_edit (self->trial, _ ("Add photograph"));
  added = sherd_trial_add_photograph (self->trial, photograph, piece, side, stage, error);
  if (added && reference != NULL)
    sherd_trial_set_reference (self->trial, photograph, reference);
  sherd_trial_end_edit (self->trial);
  if (!added)
    return FALSE;
  choose (self, photograph);
  refresh (self);
  return TRUE;
}

/**
 * sherd_photographs_station_add_file:
 * @self: the station
 * @file: a picture
 *
 * Adds a photograph of the same side as the one shown, or of the first side there is, at the stage that comes next,
 * with the same chart or card to be marked, and shows it. All of that can be changed then.
 */
void
sherd_photographs_station_add_file (SherdPhotographsStation *self, GFile *file)
{
  g_autofree char *path = g_file_get_path (file);
  g_autoptr (GError) error = NULL;
  SherdPiece *piece;
  SherdSide *side;

  if (self->trial == NULL || !sherd_side_list_get (self->trial, 0, &piece, &side))
    g_set_error_literal (&error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE,
                         _ ("Lay out a piece first: a photograph belongs to one."));
  else if (path == NULL)
    g_set_error_literal (&error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO,
                         _ ("Only pictures on this computer can be added. Copy it here first."));
  else
    add_photograph (self, path, &error);
  if (error != NULL)
    sherd_dialog_error (window_of (self), _ ("The photograph was not added"), error);
}

static void
add_chosen_cb (GFile *file, gpointer user_data)
{
  sherd_photographs_station_add_file (user_data, file);
}

static void
add_cb (SherdPhotographsStation *self)
{
  static const char *const suffixes[] = { "jpg", "jpeg", "png", NULL };

  sherd_dialog_open (window_of (self), _ ("Add photographs"), _ ("Photographs"), suffixes, TRUE, add_chosen_cb, self);
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, SherdPhotographsStation *self)
{
  GSList *files = gdk_file_list_get_files (g_value_get_boxed (value));

  for (GSList *file = files; file != NULL; file = file->next)
    sherd_photographs_station_add_file (self, file->data);
  g_slist_free (files);
  return TRUE;
}

static void
remove_cb (SherdPhotographsStation *self)
{
  if (shown (self) != NULL)
    sherd_trial_remove_photograph (self->trial, shown (self));
}

/* Editing. */

static void
place_cb (SherdPhotographsStation *self)
{
  g_autoptr (GError) error = NULL;
  SherdPiece *piece;
  SherdSide *side;

  if (self->refreshing || self->trial == NULL || shown (self) == NULL ||
      !sherd_side_list_get (self->trial, gtk_drop_down_get_selected (self->place_chooser), &piece, &side) ||
      side == sherd_photograph_get_side (shown (self)))
    return;
  sherd_photo_canvas_end_marking (self->canvas);
  tell_if_refused (self, sherd_trial_set_photograph_side (self->trial, shown (self), piece, side, &error), error);
}

static void
stage_cb (SherdPhotographsStation *self)
{
  guint selected = gtk_drop_down_get_selected (self->stage_chooser);
  g_autofree char *stage = NULL;
  g_autoptr (GError) error = NULL;

  if (self->refreshing || self->trial == NULL || shown (self) == NULL || selected == GTK_INVALID_LIST_POSITION)
    return;
  stage = sherd_stage_new (selected / 2, selected % 2 == 1);
  tell_if_refused (self, sherd_trial_set_photograph_stage (self->trial, shown (self), stage, &error), error);
}

static void
pick_cb (SherdPhotographsStation *self)
{
  if (shown (self) == NULL)
    return;
  if (!sherd_photo_canvas_begin_marking (self->canvas))
    sherd_photo_canvas_focus_mark (self->canvas, 0);
  gtk_widget_grab_focus (GTK_WIDGET (self->canvas));
}

/* The centre of a patch is no corner: marks picked on centres stay where the hand puts them. */
static void
snap_cb (SherdPhotographsStation *self)
{
  const gboolean snaps = gtk_check_button_get_active (self->snap_button);
  const gboolean on_centres = sherd_reference_panel_get_marks_on (self->reference_panel) == SHERD_MARKS_ON_CENTRES;

  sherd_photo_canvas_set_snap (self->canvas, SHERD_PHOTO_MARK_PIECE, snaps);
  sherd_photo_canvas_set_snap (self->canvas, SHERD_PHOTO_MARK_REFERENCE, snaps && !on_centres);
}

static void
marks_on_cb (SherdPhotographsStation *self)
{
  snap_cb (self);
  refresh (self);
}

static void
store_marks (SherdPhotographsStation *self, SherdPhotoMarkKind kind, gboolean continued)
{
  g_autoptr (GArray) marks = sherd_mark_plan_get_placed (self->plan, kind);
  g_autoptr (GError) error = NULL;
  gboolean done =
    kind == SHERD_PHOTO_MARK_PIECE
      ? sherd_trial_set_marks (self->trial, shown (self), (const SherdMark *)marks->data, marks->len, continued, &error)
      : sherd_trial_set_reference_marks (self->trial, shown (self), (const SherdMark *)marks->data, marks->len,
                                         continued, &error);

  tell_if_refused (self, done, error);
}

static void
move_mark (SherdPhotographsStation *self, guint index, double x_photo_px, double y_photo_px, gboolean continued)
{
  SherdMarkPlace *place;

  if (self->plan == NULL || index >= self->plan->places->len)
    return;
  place = &g_array_index (self->plan->places, SherdMarkPlace, index);
  place->placed = TRUE;
  place->photo_px = (SherdPoint){ x_photo_px, y_photo_px };
  store_marks (self, place->kind, continued);
}

static void
mark_placed_cb (SherdPhotographsStation *self, guint index, double x_photo_px, double y_photo_px)
{
  move_mark (self, index, x_photo_px, y_photo_px, FALSE);
}

/* While a mark is dragged only the outlines follow; letting go makes the edit. */
static void
mark_moved_cb (SherdPhotographsStation *self, guint index, double x_photo_px, double y_photo_px, gboolean finished)
{
  SherdMarkPlace *place;

  if (finished)
    {
      move_mark (self, index, x_photo_px, y_photo_px, FALSE);
      return;
    }
  if (self->plan == NULL || index >= self->plan->places->len)
    return;
  place = &g_array_index (self->plan->places, SherdMarkPlace, index);
  place->photo_px = (SherdPoint){ x_photo_px, y_photo_px };
  refresh_outlines (self, shown (self));
}

static void
mark_removed_cb (SherdPhotographsStation *self, guint index)
{
  SherdMarkPlace *place;

  if (self->plan == NULL || index >= self->plan->places->len)
    return;
  place = &g_array_index (self->plan->places, SherdMarkPlace, index);
  place->placed = FALSE;
  store_marks (self, place->kind, FALSE);
}

static void
pointer_moved_cb (SherdPhotographsStation *self, double x_photo_px, double y_photo_px, gboolean inside)
{
  g_autofree char *text = NULL;

  if (inside)
    text = sherd_photo_canvas_dup_colour_text (self->canvas, (SherdPoint){ x_photo_px, y_photo_px });
  gtk_label_set_text (self->colour_label, text != NULL ? text : "");
}

/**
 * sherd_photographs_station_set_trial:
 * @self: the station
 * @trial: (nullable): what it shows and edits from now on
 */
void
sherd_photographs_station_set_trial (SherdPhotographsStation *self, SherdTrial *trial)
{
  if (self->trial != NULL)
    g_signal_handlers_disconnect_by_data (self->trial, self);
  g_set_object (&self->trial, trial);
  g_clear_pointer (&self->photograph_id, g_free);
  g_clear_pointer (&self->picture_path, g_free);
  g_clear_pointer (&self->plan, sherd_mark_plan_free);
  sherd_reference_panel_show (self->reference_panel, trial, NULL);
  if (trial == NULL)
    return;
  g_signal_connect_swapped (trial, "edited", G_CALLBACK (refresh), self);
  refresh (self);
}

static void
sherd_photographs_station_dispose (GObject *object)
{
  SherdPhotographsStation *self = SHERD_PHOTOGRAPHS_STATION (object);

  self->refreshing = TRUE;
  sherd_photographs_station_set_trial (self, NULL);
  sherd_children_drop (GTK_WIDGET (self));
  G_OBJECT_CLASS (sherd_photographs_station_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, stack);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, list);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, canvas);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, colour_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, about_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, place_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, stage_chooser);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, mark_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, snap_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, marks_label);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, reference_panel);
  gtk_widget_class_bind_template_child (widget_class, SherdPhotographsStation, result_label);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, row_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_cb);
  gtk_widget_class_bind_template_callback (widget_class, place_cb);
  gtk_widget_class_bind_template_callback (widget_class, stage_cb);
  gtk_widget_class_bind_template_callback (widget_class, pick_cb);
  gtk_widget_class_bind_template_callback (widget_class, snap_cb);
  gtk_widget_class_bind_template_callback (widget_class, marks_on_cb);
  gtk_widget_class_bind_template_callback (widget_class, mark_placed_cb);
  gtk_widget_class_bind_template_callback (widget_class, mark_moved_cb);
  gtk_widget_class_bind_template_callback (widget_class, mark_removed_cb);
  gtk_widget_class_bind_template_callback (widget_class, pointer_moved_cb);
}

static void
sherd_photographs_station_class_init (SherdPhotographsStationClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_photographs_station_dispose;
  g_type_ensure (SHERD_TYPE_PHOTO_CANVAS);
  g_type_ensure (SHERD_TYPE_REFERENCE_PANEL);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/photographs-station.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
sherd_photographs_station_init (SherdPhotographsStation *self)
{
  GtkDropTarget *target;

  gtk_widget_init_template (GTK_WIDGET (self));
  target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (target));
}
