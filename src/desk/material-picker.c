/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/material-picker.h"

#include "desk/material-list.h"

/* Our choice: some ten materials are seen at once. */
#define LIST_WIDTH_PX 380
#define LIST_HEIGHT_PX 420

struct _SherdMaterialPicker
{
  GtkWidget parent_instance;

  GtkWidget *button;
  GtkLabel *name;
  GtkPopover *popover;
  SherdMaterialList *list; /* made when it is first opened */

  SherdChoicesFunc get_choices;
  gpointer user_data;
};

static guint picked_signal;

G_DEFINE_FINAL_TYPE (SherdMaterialPicker, sherd_material_picker, GTK_TYPE_WIDGET)

static void
chosen_cb (SherdMaterialPicker *self, SherdMaterialChoice *choice)
{
  g_autoptr (SherdMaterialPicker) held = g_object_ref (self);

  gtk_popover_popdown (self->popover);
  g_signal_emit (held, picked_signal, 0, choice);
}

static void
make_list (SherdMaterialPicker *self)
{
  self->list = g_object_new (SHERD_TYPE_MATERIAL_LIST, NULL);
  gtk_widget_set_size_request (GTK_WIDGET (self->list), LIST_WIDTH_PX, LIST_HEIGHT_PX);
  sherd_material_list_set_single_click (self->list, TRUE);
  g_signal_connect_swapped (self->list, "chosen", G_CALLBACK (chosen_cb), self);
  gtk_popover_set_child (self->popover, GTK_WIDGET (self->list));
}

static void
opened_cb (SherdMaterialPicker *self)
{
  g_autoptr (GListModel) choices = self->get_choices (self->user_data);

  if (self->list == NULL)
    make_list (self);
  sherd_material_list_set_choices (self->list, choices);
  sherd_material_list_start_search (self->list);
}

/**
 * sherd_material_picker_show:
 * @self: a picker
 * @name: what the button says: the material, or what to do
 * @label: what a screen reader says
 */
void
sherd_material_picker_show (SherdMaterialPicker *self, const char *name, const char *label)
{
  gtk_label_set_text (self->name, name);
  gtk_widget_set_tooltip_text (self->button, name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/**
 * sherd_material_picker_open:
 * @self: a picker
 *
 * Opens the list, with the focus in its search.
 */
void
sherd_material_picker_open (SherdMaterialPicker *self)
{
  gtk_popover_popup (self->popover);
}

/**
 * sherd_material_picker_new:
 * @label: what the button says while no material is shown
 * @get_choices: called when the list opens
 * @user_data: for @get_choices; must outlive the picker
 *
 * Returns: (transfer floating): a picker
 */
GtkWidget *
sherd_material_picker_new (const char *label, SherdChoicesFunc get_choices, gpointer user_data)
{
  SherdMaterialPicker *self = g_object_new (SHERD_TYPE_MATERIAL_PICKER, NULL);

  self->get_choices = get_choices;
  self->user_data = user_data;
  sherd_material_picker_show (self, label, label);
  return GTK_WIDGET (self);
}

static gboolean
sherd_material_picker_grab_focus (GtkWidget *widget)
{
  return gtk_widget_grab_focus (SHERD_MATERIAL_PICKER (widget)->button);
}

static void
sherd_material_picker_dispose (GObject *object)
{
  SherdMaterialPicker *self = SHERD_MATERIAL_PICKER (object);

  if (self->button != NULL)
    {
      gtk_widget_unparent (GTK_WIDGET (self->popover));
      gtk_widget_unparent (self->button);
    }
  self->button = NULL;
  G_OBJECT_CLASS (sherd_material_picker_parent_class)->dispose (object);
}

static void
sherd_material_picker_class_init (SherdMaterialPickerClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_material_picker_dispose;
  widget_class->grab_focus = sherd_material_picker_grab_focus;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  picked_signal = g_signal_new ("picked", SHERD_TYPE_MATERIAL_PICKER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, SHERD_TYPE_MATERIAL_CHOICE);
}

static void
sherd_material_picker_init (SherdMaterialPicker *self)
{
  GtkWidget *inside = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->name = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (self->name, 0.0f);
  gtk_widget_set_hexpand (GTK_WIDGET (self->name), TRUE);
  gtk_label_set_ellipsize (self->name, PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (inside), GTK_WIDGET (self->name));
  gtk_box_append (GTK_BOX (inside), gtk_image_new_from_icon_name ("pan-down-symbolic"));
  self->button = gtk_button_new ();
  gtk_button_set_child (GTK_BUTTON (self->button), inside);
  gtk_widget_set_parent (self->button, GTK_WIDGET (self));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_HAS_POPUP, TRUE, -1);
  g_signal_connect_object (self->button, "clicked", G_CALLBACK (sherd_material_picker_open), self, G_CONNECT_SWAPPED);
  self->popover = GTK_POPOVER (gtk_popover_new ());
  gtk_widget_set_parent (GTK_WIDGET (self->popover), GTK_WIDGET (self));
  g_signal_connect_object (self->popover, "show", G_CALLBACK (opened_cb), self, G_CONNECT_SWAPPED);
}
