/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/ingredient-row.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "desk/number-entry.h"

struct _SherdIngredientRow
{
  GtkWidget parent_instance;

  GtkBox *line;
  SherdNumberEntry *parts_entry;
  SherdMaterialPicker *picker;
  GtkLabel *grams_label;
  GtkWidget *remove_button;
  GtkLabel *remarks_label;
};

enum
{
  PARTS_EDITED,
  PICKED,
  REMOVED,
  ACTIVATED,
  LEFT,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdIngredientRow, sherd_ingredient_row, GTK_TYPE_WIDGET)

static void
parts_edited_cb (SherdIngredientRow *self, double parts)
{
  g_signal_emit (self, signals[PARTS_EDITED], 0, parts, sherd_number_entry_get_text (self->parts_entry));
}

static void
picked_cb (SherdIngredientRow *self, SherdMaterialChoice *choice)
{
  g_signal_emit (self, signals[PICKED], 0, choice);
}

static void
activated_cb (SherdIngredientRow *self)
{
  g_signal_emit (self, signals[ACTIVATED], 0);
}

static void
left_cb (SherdIngredientRow *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

static void
remove_cb (SherdIngredientRow *self)
{
  g_signal_emit (self, signals[REMOVED], 0);
}

/**
 * sherd_ingredient_row_show:
 * @self: a row
 * @name: of the material or the paint
 * @parts: how many parts of it
 *
 * Shows what the recipe holds.
 */
void
sherd_ingredient_row_show (SherdIngredientRow *self, const char *name, double parts)
{
  g_autofree char *parts_label = g_strdup_printf (_ ("Parts of %s"), name);
  g_autofree char *pick_label = g_strdup_printf (_ ("%s; choose another material"), name);
  g_autofree char *remove_label = g_strdup_printf (_ ("Remove %s"), name);

  g_object_set (self->parts_entry, "label", parts_label, NULL);
  sherd_number_entry_show (self->parts_entry, parts);
  sherd_material_picker_show (self->picker, name, pick_label);
  gtk_widget_set_tooltip_text (self->remove_button, remove_label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->remove_button), GTK_ACCESSIBLE_PROPERTY_LABEL, remove_label,
                                  -1);
}

/**
 * sherd_ingredient_row_refuse:
 * @self: a row
 * @reason: (nullable): why the parts are not taken; NULL when they are
 */
void
sherd_ingredient_row_refuse (SherdIngredientRow *self, const char *reason)
{
  sherd_number_entry_refuse (self->parts_entry, reason);
}

/**
 * sherd_ingredient_row_show_facts:
 * @self: a row
 * @grams: what to weigh, in words; may be empty
 * @remarks: (nullable): lines to stand below the row
 */
void
sherd_ingredient_row_show_facts (SherdIngredientRow *self, const char *grams, const char *remarks)
{
  gtk_label_set_text (self->grams_label, grams);
  gtk_widget_set_visible (GTK_WIDGET (self->grams_label), *grams != '\0');
  gtk_label_set_text (self->remarks_label, remarks != NULL ? remarks : "");
  gtk_widget_set_visible (GTK_WIDGET (self->remarks_label), remarks != NULL && *remarks != '\0');
}

/**
 * sherd_ingredient_row_new:
 * @get_choices: gives what the ingredient may be
 * @user_data: for @get_choices; must outlive the row
 *
 * Returns: (transfer floating): a row
 */
GtkWidget *
sherd_ingredient_row_new (SherdChoicesFunc get_choices, gpointer user_data)
{
  SherdIngredientRow *self = g_object_new (SHERD_TYPE_INGREDIENT_ROW, NULL);
  GtkWidget *picker = sherd_material_picker_new (_ ("Choose a material"), get_choices, user_data);

  self->picker = SHERD_MATERIAL_PICKER (picker);
  gtk_widget_set_hexpand (picker, TRUE);
  gtk_widget_set_valign (picker, GTK_ALIGN_START);
  gtk_box_insert_child_after (self->line, picker, GTK_WIDGET (self->parts_entry));
  g_signal_connect_swapped (picker, "picked", G_CALLBACK (picked_cb), self);
  return GTK_WIDGET (self);
}

static gboolean
sherd_ingredient_row_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (GTK_WIDGET (SHERD_INGREDIENT_ROW (widget)->parts_entry));
}

static void
sherd_ingredient_row_dispose (GObject *object)
{
  sherd_children_drop (GTK_WIDGET (object));
  G_OBJECT_CLASS (sherd_ingredient_row_parent_class)->dispose (object);
}

static void
add_signals (GType type)
{
  const GSignalFlags last = G_SIGNAL_RUN_LAST;

  signals[PARTS_EDITED] =
    g_signal_new ("parts-edited", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_DOUBLE, G_TYPE_STRING);
  signals[PICKED] =
    g_signal_new ("picked", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, SHERD_TYPE_MATERIAL_CHOICE);
  signals[REMOVED] = g_signal_new ("removed", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ACTIVATED] = g_signal_new ("activated", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LEFT] = g_signal_new ("left", type, last, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
bind_template (GtkWidgetClass *widget_class)
{
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/ingredient-row.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdIngredientRow, line);
  gtk_widget_class_bind_template_child (widget_class, SherdIngredientRow, parts_entry);
  gtk_widget_class_bind_template_child (widget_class, SherdIngredientRow, grams_label);
  gtk_widget_class_bind_template_child (widget_class, SherdIngredientRow, remove_button);
  gtk_widget_class_bind_template_child (widget_class, SherdIngredientRow, remarks_label);
  gtk_widget_class_bind_template_callback (widget_class, parts_edited_cb);
  gtk_widget_class_bind_template_callback (widget_class, activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, left_cb);
  gtk_widget_class_bind_template_callback (widget_class, remove_cb);
}

static void
sherd_ingredient_row_class_init (SherdIngredientRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sherd_ingredient_row_dispose;
  GTK_WIDGET_CLASS (klass)->grab_focus = sherd_ingredient_row_grab_focus;
  g_type_ensure (SHERD_TYPE_NUMBER_ENTRY);
  add_signals (SHERD_TYPE_INGREDIENT_ROW);
  bind_template (GTK_WIDGET_CLASS (klass));
}

static void
sherd_ingredient_row_init (SherdIngredientRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
