/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/import-dialog.h"

#include <glib/gi18n-lib.h>

#include "desk/dialogs.h"

struct _SherdImportDialog
{
  GtkWindow parent_instance;

  GtkLabel *summary_label;
  GtkListView *view;
  GtkWidget *take_button;

  SherdImport *import;
};

G_DEFINE_FINAL_TYPE (SherdImportDialog, sherd_import_dialog, GTK_TYPE_WINDOW)

/* The words of sherd_import_get_table () in the user's language. */
static const char *
fate_words (const char *fate)
{
  static const struct
  {
    const char *fate;
    const char *words;
  } fates[] = { { "adds", N_ ("is new") },
                { "changes", N_ ("is changed") },
                { "same", N_ ("is there already") },
                { "cannot", N_ ("cannot be read") },
                { "left-out", N_ ("is left out") } };

  for (guint i = 0; i < G_N_ELEMENTS (fates); i++)
    if (g_str_equal (fate, fates[i].fate))
      return _ (fates[i].words);
  return fate;
}

/* “Line 4: Malachite is new” */
static char *
dup_line (const SherdTable *table, guint row)
{
  g_autofree char *line = sherd_table_dup_cell (table, row, 0);
  g_autofree char *name = sherd_table_dup_cell (table, row, 1);
  g_autofree char *fate = sherd_table_dup_cell (table, row, 2);
  g_autofree char *remark = sherd_table_dup_cell (table, row, 3);

  if (*remark == '\0')
    return g_strdup_printf (_ ("Line %s: %s %s"), line, name, fate_words (fate));
  return g_strdup_printf (_ ("Line %s: %s %s. %s"), line, name, fate_words (fate), remark);
}

static void
show_lines (SherdImportDialog *self)
{
  const SherdTable *table = sherd_import_get_table (self->import);
  g_autoptr (GtkStringList) lines = gtk_string_list_new (NULL);
  GtkSelectionModel *selection;

  for (guint row = 0; row < sherd_table_get_n_rows (table); row++)
    gtk_string_list_take (lines, dup_line (table, row));
  selection = GTK_SELECTION_MODEL (gtk_no_selection_new (G_LIST_MODEL (g_steal_pointer (&lines))));
  gtk_list_view_set_model (self->view, selection);
  g_object_unref (selection);
}

static void
show_summary (SherdImportDialog *self)
{
  const guint n_changes = sherd_import_count_changes (self->import);
  const guint n_faults = sherd_import_count_faults (self->import);
  g_autofree char *changes = g_strdup_printf (
    ngettext ("%u thing would be added or changed.", "%u things would be added or changed.", n_changes), n_changes);
  g_autofree char *faults = g_strdup_printf (
    ngettext ("%u cannot be read and is left out.", "%u cannot be read and are left out.", n_faults), n_faults);
  g_autofree char *summary = n_faults > 0 ? g_strdup_printf ("%s %s", changes, faults) : g_strdup (changes);

  gtk_label_set_text (self->summary_label, summary);
  gtk_widget_set_sensitive (self->take_button, n_changes > 0);
}

static void
take_cb (SherdImportDialog *self)
{
  g_autoptr (GError) error = NULL;

  if (!sherd_import_apply (self->import, &error))
    sherd_dialog_error (gtk_window_get_transient_for (GTK_WINDOW (self)), _ ("Nothing was taken in"), error);
  gtk_window_destroy (GTK_WINDOW (self));
}

/**
 * sherd_import_dialog_new:
 * @parent: window it belongs to
 * @import: (transfer full): what was read
 *
 * Returns: (transfer none): a window that asks whether to take it in
 */
GtkWidget *
sherd_import_dialog_new (GtkWindow *parent, SherdImport *import)
{
  SherdImportDialog *self = g_object_new (SHERD_TYPE_IMPORT_DIALOG, "transient-for", parent, NULL);

  self->import = import;
  show_lines (self);
  show_summary (self);
  return GTK_WIDGET (self);
}

static void
sherd_import_dialog_finalize (GObject *object)
{
  g_clear_pointer (&SHERD_IMPORT_DIALOG (object)->import, sherd_import_free);
  G_OBJECT_CLASS (sherd_import_dialog_parent_class)->finalize (object);
}

static void
sherd_import_dialog_class_init (SherdImportDialogClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sherd_import_dialog_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/sherdboard/Sherdboard/import-dialog.ui");
  gtk_widget_class_bind_template_child (widget_class, SherdImportDialog, summary_label);
  gtk_widget_class_bind_template_child (widget_class, SherdImportDialog, view);
  gtk_widget_class_bind_template_child (widget_class, SherdImportDialog, take_button);
  gtk_widget_class_bind_template_callback (widget_class, take_cb);
}

static void
sherd_import_dialog_init (SherdImportDialog *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
