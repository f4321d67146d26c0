/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paint-names.h"

#include <glib/gi18n-lib.h>

#include "desk/children.h"
#include "trial/edits.h"

struct _SherdPaintNames
{
  GtkWidget parent_instance;

  GtkWidget *no_paints;
  GtkBox *rows;

  SherdTrial *trial; /* (nullable) */
  gboolean refreshing;
};

G_DEFINE_FINAL_TYPE (SherdPaintNames, sherd_paint_names, GTK_TYPE_WIDGET)

static guint refused_signal;

static void
take_name (SherdPaintNames *self, GtkWidget *entry)
{
  SherdPaint *paint = g_object_get_data (G_OBJECT (entry), "paint");
  const char *name = gtk_editable_get_text (GTK_EDITABLE (entry));

  if (!self->refreshing && self->trial != NULL && !g_str_equal (name, sherd_paint_get_name (paint)))
    sherd_trial_set_paint_name (self->trial, paint, name);
}

static void
activate_cb (GtkEntry *entry, SherdPaintNames *self)
{
  take_name (self, GTK_WIDGET (entry));
}

static void
left_cb (GtkEventController *focus, SherdPaintNames *self)
{
  take_name (self, gtk_event_controller_get_widget (focus));
}

static void
remove_cb (GtkButton *button, SherdPaintNames *self)
{
  SherdPaint *paint = g_object_get_data (G_OBJECT (button), "paint");
  g_autoptr (GError) error = NULL;

  if (!sherd_trial_remove_paint (self->trial, paint, &error))
    g_signal_emit (self, refused_signal, 0, error->message);
}

static GtkWidget *
row_new (SherdPaintNames *self, SherdPaint *paint)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *code = gtk_label_new (sherd_paint_get_code (paint));
  GtkWidget *name = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkWidget *remove = gtk_button_new_from_icon_name ("user-trash-symbolic");
  g_autofree char *name_label = g_strdup_printf (_ ("Name of paint %s"), sherd_paint_get_code (paint));
  g_autofree char *remove_label = g_strdup_printf (_ ("Remove paint %s"), sherd_paint_get_code (paint));

  gtk_label_set_width_chars (GTK_LABEL (code), 4);
  gtk_label_set_xalign (GTK_LABEL (code), 0.0f);
  gtk_editable_set_text (GTK_EDITABLE (name), sherd_paint_get_name (paint));
  gtk_entry_set_placeholder_text (GTK_ENTRY (name), _ ("what it is"));
  gtk_widget_set_hexpand (name, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (name), GTK_ACCESSIBLE_PROPERTY_LABEL, name_label, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (remove), GTK_ACCESSIBLE_PROPERTY_LABEL, remove_label, -1);
  gtk_widget_set_tooltip_text (remove, remove_label);
  g_object_set_data_full (G_OBJECT (name), "paint", g_object_ref (paint), g_object_unref);
  g_object_set_data_full (G_OBJECT (remove), "paint", g_object_ref (paint), g_object_unref);
  g_signal_connect (focus, "leave", G_CALLBACK (left_cb), self);
  gtk_widget_add_controller (name, focus);
  g_signal_connect (name, "activate", G_CALLBACK (activate_cb), self);
  g_signal_connect (remove, "clicked", G_CALLBACK (remove_cb), self);
  gtk_box_append (GTK_BOX (row), code);
  gtk_box_append (GTK_BOX (row), name);
  gtk_box_append (GTK_BOX (row), remove);
  return row;
}

/* Rows that tell the truth already are left alone, so that the focus in one of them survives an edit elsewhere. */
static gboolean
rows_show_paints (SherdPaintNames *self, GListModel *paints)
{
  GtkWidget *row = gtk_widget_get_first_child (GTK_WIDGET (self->rows));

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++, row = gtk_widget_get_next_sibling (row))
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);
      GtkWidget *code = row != NULL ? gtk_widget_get_first_child (row) : NULL;
      GtkWidget *name = code != NULL ? gtk_widget_get_next_sibling (code) : NULL;

      if (name == NULL || g_object_get_data (G_OBJECT (name), "paint") != paint ||
          !g_str_equal (gtk_label_get_text (GTK_LABEL (code)), sherd_paint_get_code (paint)) ||
          !g_str_equal (gtk_editable_get_text (GTK_EDITABLE (name)), sherd_paint_get_name (paint)))
        return FALSE;
    }
  return row == NULL;
}

static void
fill_rows (SherdPaintNames *self, GListModel *paints)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (self->rows))) != NULL)
    gtk_box_remove (self->rows, row);
  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      gtk_box_append (self->rows, row_new (self, paint));
    }
}

/**
 * sherd_paint_names_show:
 * @self: the rows
 * @trial: (nullable): whose paints they show
 *
 * Shows the paints as they are now.
 */
void
sherd_paint_names_show (SherdPaintNames *self, SherdTrial *trial)
{
  GListModel *paints;

  g_set_object (&self->trial, trial);
  if (trial == NULL)
    return;
  paints = sherd_trial_get_paints (trial);
  self->refreshing = TRUE;
  gtk_widget_set_visible (self->no_paints, g_list_model_get_n_items (paints) == 0);
  if (!rows_show_paints (self, paints))
    fill_rows (self, paints);
  self->refreshing = FALSE;
}

static void
sherd_paint_names_dispose (GObject *object)
{
  SherdPaintNames *self = SHERD_PAINT_NAMES (object);

  self->refreshing = TRUE;
  sherd_children_drop (GTK_WIDGET (self));
  g_clear_object (&self->trial);
  G_OBJECT_CLASS (sherd_paint_names_parent_class)->dispose (object);
}

static void
sherd_paint_names_class_init (SherdPaintNamesClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sherd_paint_names_dispose;

  /**
   * SherdPaintNames::refused:
   * @message: what cannot be, and why
   */
  refused_signal = g_signal_new ("refused", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 1, G_TYPE_STRING);

  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/paint-names.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdPaintNames, no_paints);
  gtk_widget_class_bind_template_child (widget_class, SherdPaintNames, rows);
}

static void
sherd_paint_names_init (SherdPaintNames *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
