/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paints-station.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "desk/columns.h"
#include "desk/dialogs.h"
#include "desk/material-editor.h"
#include "desk/material-list.h"
#include "desk/paint-batch.h"
#include "desk/paint-compare.h"
#include "desk/paint-editor.h"
#include "desk/paint-facts-view.h"
#include "desk/paint-list.h"
#include "desk/paints-exchange.h"
#include "trial/edits.h"
#include "trial/exchange.h"
#include "trial/paint-facts.h"

/* Our choice: shorter than anybody looks from the field to the list. */
#define LIST_DELAY_MS 120

struct _SherdPaintsStation
{
  GtkWidget parent_instance;

  GtkToggleButton *paints_button;
  GtkToggleButton *materials_button;
  GtkStack *lists;
  SherdPaintList *paint_list;
  SherdMaterialList *material_list;
  GtkStack *stack;
  SherdPaintEditor *editor;
  SherdPaintBatch *batch;
  SherdPaintFactsView *facts_view;
  SherdMaterialEditor *material_editor;
  SherdPaintCompare *compare;

  SherdTrial *trial;
  GSimpleActionGroup *actions;
  char *paint_id; /* what is shown; ids survive undo and redo */
  char *material_id;
  gboolean is_comparing;
  guint list_timeout;
};

G_DEFINE_FINAL_TYPE (SherdPaintsStation, sherd_paints_station, GTK_TYPE_WIDGET)

static void refresh (SherdPaintsStation *self);

static GtkWindow *
window_of (SherdPaintsStation *self)
{
  return GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self)));
}

/* The button of the paints tells: it changes first. */
static gboolean
shows_materials (SherdPaintsStation *self)
{
  return !gtk_toggle_button_get_active (self->paints_button);
}

static SherdPaint *
shown_paint (SherdPaintsStation *self)
{
  return self->paint_id != NULL ? sherd_trial_find_paint (self->trial, self->paint_id) : NULL;
}

static void
tell_if_refused (SherdPaintsStation *self, gboolean done, const GError *error)
{
  if (!done)
    sherd_dialog_error (window_of (self), _ ("That was not changed"), error);
}

static void
set_shown_paint (SherdPaintsStation *self, SherdPaint *paint)
{
  g_free (self->paint_id);
  self->paint_id = paint != NULL ? g_strdup (sherd_part_get_id (SHERD_PART (paint))) : NULL;
}

static void
choose_first_paint_if_gone (SherdPaintsStation *self)
{
  g_autoptr (SherdPaint) first = NULL;

  if (shown_paint (self) != NULL)
    return;
  first = g_list_model_get_item (sherd_trial_get_paints (self->trial), 0);
  set_shown_paint (self, first);
}

static void
refresh_facts (SherdPaintsStation *self)
{
  SherdPaint *paint = shown_paint (self);
  g_autoptr (SherdPaintFacts) facts = NULL;

  if (paint == NULL)
    return;
  facts = sherd_paint_facts_new (self->trial, paint, 0, sherd_paint_batch_get_request (self->batch));
  sherd_paint_editor_show_facts (self->editor, facts, sherd_paint_batch_get_readability_g (self->batch));
  sherd_paint_batch_show_facts (self->batch, facts);
  sherd_paint_facts_view_show (self->facts_view, self->trial, paint, facts);
}

static gboolean
show_list_cb (gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  self->list_timeout = 0;
  sherd_paint_list_show (self->paint_list, self->trial, shown_paint (self));
  return G_SOURCE_REMOVE;
}

/* Hazards and colours of every paint: not at every keystroke, but when the typing rests. */
static void
show_list_soon (SherdPaintsStation *self)
{
  g_clear_handle_id (&self->list_timeout, g_source_remove);
  self->list_timeout = g_timeout_add (LIST_DELAY_MS, show_list_cb, self);
}

static void
refresh_paint (SherdPaintsStation *self)
{
  SherdPaint *paint = shown_paint (self);

  show_list_soon (self);
  sherd_paint_editor_show (self->editor, self->trial, paint);
  sherd_paint_batch_show (self->batch, self->trial, paint);
  refresh_facts (self);
}

static void
refresh_materials (SherdPaintsStation *self)
{
  g_autoptr (GListModel) choices = sherd_material_choices_new (self->trial, NULL, FALSE);

  sherd_material_list_set_choices (self->material_list, choices);
  sherd_material_list_select (self->material_list, self->material_id);
  sherd_material_editor_show (self->material_editor, self->trial, self->material_id);
}

static const char *
page_to_show (SherdPaintsStation *self)
{
  if (shows_materials (self))
    return sherd_material_editor_has_material (self->material_editor) ? "material" : "no-material";
  if (shown_paint (self) == NULL)
    return "empty";
  return self->is_comparing ? "compare" : "paint";
}

static void
enable (SherdPaintsStation *self, const char *action, gboolean enabled)
{
  g_simple_action_set_enabled (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self->actions), action)),
                               enabled);
}

static void
refresh_actions (SherdPaintsStation *self)
{
  const guint n_paints = g_list_model_get_n_items (sherd_trial_get_paints (self->trial));

  enable (self, "duplicate", n_paints > 0);
  enable (self, "remove", n_paints > 0);
  enable (self, "copy", n_paints > 0);
  enable (self, "compare", n_paints > 1);
  enable (self, "export-paints", n_paints > 0);
  enable (self, "export-materials", g_list_model_get_n_items (sherd_trial_get_materials (self->trial)) > 0);
}

static void
refresh (SherdPaintsStation *self)
{
  choose_first_paint_if_gone (self);
  refresh_paint (self);
  if (shows_materials (self))
    refresh_materials (self);
  if (self->is_comparing)
    sherd_paint_compare_show (self->compare, self->trial, shown_paint (self));
  refresh_actions (self);
  gtk_stack_set_visible_child_name (self->stack, page_to_show (self));
}

static void
view_cb (SherdPaintsStation *self)
{
  gtk_stack_set_visible_child_name (self->lists, shows_materials (self) ? "materials" : "paints");
  if (self->trial != NULL)
    refresh (self);
}

static void
paint_selected_cb (SherdPaintsStation *self, SherdPaint *paint)
{
  sherd_trial_seal_edit (self->trial);
  set_shown_paint (self, paint);
  refresh (self);
}

static void
batch_changed_cb (SherdPaintsStation *self)
{
  if (self->trial != NULL)
    refresh_facts (self);
}

static void
show_material (SherdPaintsStation *self, const char *id)
{
  char *shown = g_strdup (id);

  g_free (self->material_id);
  self->material_id = shown;
  sherd_material_editor_show (self->material_editor, self->trial, shown);
  gtk_stack_set_visible_child_name (self->stack, page_to_show (self));
}

static void
material_selected_cb (SherdPaintsStation *self, SherdMaterialChoice *choice)
{
  show_material (self, sherd_material_choice_get_id (choice));
}

static void
material_created_cb (SherdPaintsStation *self, const char *id)
{
  show_material (self, id);
  refresh (self);
}

static void
compare_closed_cb (SherdPaintsStation *self)
{
  self->is_comparing = FALSE;
  refresh (self);
}

/* Actions. */

static void
show_paint (SherdPaintsStation *self, SherdPaint *paint)
{
  set_shown_paint (self, paint);
  self->is_comparing = FALSE;
  refresh (self);
  sherd_paint_editor_start (self->editor);
}

static void
new_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;
  g_autofree char *code = sherd_trial_dup_free_code (self->trial, _ ("P1"));
  g_autoptr (GError) error = NULL;
  SherdPaint *paint = sherd_trial_add_paint (self->trial, code, NULL, &error);

  tell_if_refused (self, paint != NULL, error);
  if (paint != NULL)
    show_paint (self, paint);
}

static void
duplicate_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  show_paint (self, sherd_trial_duplicate_paint (self->trial, shown_paint (self)));
}

static void
remove_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;
  g_autoptr (GError) error = NULL;

  tell_if_refused (self, sherd_trial_remove_paint (self->trial, shown_paint (self), &error), error);
}

static void
compare_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  self->is_comparing = TRUE;
  refresh (self);
}

static void
copy_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  sherd_paints_copy (GTK_WIDGET (self), self->trial, shown_paint (self));
}

static void
paste_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  sherd_paints_paste (GTK_WIDGET (self), self->trial);
}

static void
import_cb (GFile *file, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  sherd_paints_import (window_of (self), self->trial, file);
}

static void
import_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  static const char *const suffixes[] = { "csv", "txt", NULL };

  sherd_dialog_open (window_of (user_data), _ ("Import paints or materials"), _ ("Tables"), suffixes, FALSE, import_cb,
                     user_data);
}

static void
export_paints_cb (GFile *file, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  sherd_paints_export (window_of (self), sherd_exchange_paints (self->trial), file);
}

static void
export_paints_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_dialog_save (window_of (user_data), _ ("Export the paints"), "paints.csv", export_paints_cb, user_data);
}

static void
export_materials_cb (GFile *file, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  sherd_paints_export (window_of (self), sherd_exchange_materials (self->trial), file);
}

static void
export_materials_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  sherd_dialog_save (window_of (user_data), _ ("Export the materials"), "materials.csv", export_materials_cb,
                     user_data);
}

static void
new_material_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  SherdPaintsStation *self = user_data;

  gtk_toggle_button_set_active (self->materials_button, TRUE);
  sherd_material_editor_create (self->material_editor);
}

static const GActionEntry actions[] = {
  { .name = "new", .activate = new_action },
  { .name = "duplicate", .activate = duplicate_action },
  { .name = "remove", .activate = remove_action },
  { .name = "compare", .activate = compare_action },
  { .name = "copy", .activate = copy_action },
  { .name = "paste", .activate = paste_action },
  { .name = "import", .activate = import_action },
  { .name = "export-paints", .activate = export_paints_action },
  { .name = "export-materials", .activate = export_materials_action },
  { .name = "new-material", .activate = new_material_action },
};

/**
 * sherd_paints_station_copy_card:
 * @self: the station
 *
 * Puts the mixing card of the paint that is shown on the clipboard, as text.
 */
void
sherd_paints_station_copy_card (SherdPaintsStation *self)
{
  SherdPaint *paint = shown_paint (self);

  if (paint != NULL)
    sherd_paints_copy_card (GTK_WIDGET (self), self->trial, paint, sherd_paint_batch_get_request (self->batch),
                            sherd_paint_batch_get_readability_g (self->batch));
}

/**
 * sherd_paints_station_set_trial:
 * @self: the station
 * @trial: the trial that is open
 *
 * Shows another trial.
 */
void
sherd_paints_station_set_trial (SherdPaintsStation *self, SherdTrial *trial)
{
  if (self->trial != NULL)
    g_signal_handlers_disconnect_by_data (self->trial, self);
  g_set_object (&self->trial, trial);
  g_clear_pointer (&self->paint_id, g_free);
  g_clear_pointer (&self->material_id, g_free);
  self->is_comparing = FALSE;
  g_signal_connect_swapped (trial, "edited", G_CALLBACK (refresh), self);
  refresh (self);
}

static void
sherd_paints_station_dispose (GObject *object)
{
  SherdPaintsStation *self = SHERD_PAINTS_STATION (object);

  if (self->trial != NULL)
    g_signal_handlers_disconnect_by_data (self->trial, self);
  g_clear_handle_id (&self->list_timeout, g_source_remove);
  g_clear_object (&self->trial);
  g_clear_object (&self->actions);
  g_clear_pointer (&self->paint_id, g_free);
  g_clear_pointer (&self->material_id, g_free);
  sherd_children_drop (GTK_WIDGET (self));
  G_OBJECT_CLASS (sherd_paints_station_parent_class)->dispose (object);
}

static void
ensure_types (void)
{
  g_type_ensure (SHERD_TYPE_COLUMNS);
  g_type_ensure (SHERD_TYPE_MATERIAL_EDITOR);
  g_type_ensure (SHERD_TYPE_MATERIAL_LIST);
  g_type_ensure (SHERD_TYPE_PAINT_BATCH);
  g_type_ensure (SHERD_TYPE_PAINT_COMPARE);
  g_type_ensure (SHERD_TYPE_PAINT_EDITOR);
  g_type_ensure (SHERD_TYPE_PAINT_FACTS_VIEW);
  g_type_ensure (SHERD_TYPE_PAINT_LIST);
}

static void
bind_template (GtkWidgetClass *widget_class)
{
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/paints-station.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, paints_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, materials_button);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, lists);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, paint_list);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, material_list);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, stack);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, editor);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, batch);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, facts_view);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, material_editor);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintsStation, compare);
  gtk_widget_class_bind_template_callback (widget_class, view_cb);
  gtk_widget_class_bind_template_callback (widget_class, paint_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, batch_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, material_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, material_created_cb);
  gtk_widget_class_bind_template_callback (widget_class, compare_closed_cb);
}

static void
add_keys (GtkWidgetClass *widget_class)
{
  const GdkModifierType shifted = GDK_CONTROL_MASK | GDK_SHIFT_MASK;

  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_d, GDK_CONTROL_MASK, "paints.duplicate", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_C, shifted, "paints.copy", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_V, shifted, "paints.paste", NULL);
}

static void
sherd_paints_station_class_init (SherdPaintsStationClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sherd_paints_station_dispose;
  ensure_types ();
  bind_template (GTK_WIDGET_CLASS (klass));
  add_keys (GTK_WIDGET_CLASS (klass));
}

static void
sherd_paints_station_init (SherdPaintsStation *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), actions, G_N_ELEMENTS (actions), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "paints", G_ACTION_GROUP (self->actions));
}
