/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/paints-exchange.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "desk/dialogs.h"
#include "desk/import-dialog.h"
#include "trial/exchange.h"
#include "trial/mixing-card.h"
#include "trial/paint-copy.h"

static void
set_clipboard (GtkWidget *widget, const char *text)
{
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
}

/**
 * sherd_paints_copy_card:
 * @widget: on the display whose clipboard is meant
 * @trial: the trial
 * @paint: one of its paints
 * @request: (nullable): how much of it
 * @readability_g: of the scale
 *
 * Puts the mixing card on the clipboard.
 */
void
sherd_paints_copy_card (GtkWidget *widget,
                        SherdTrial *trial,
                        SherdPaint *paint,
                        const SherdBatchRequest *request,
                        double readability_g)
{
  g_autoptr (SherdPaintFacts) facts = sherd_paint_facts_new (trial, paint, 0, request);
  g_autofree char *card = sherd_mixing_card_new (facts, readability_g);

  set_clipboard (widget, card);
}

/**
 * sherd_paints_copy:
 * @widget: on the display whose clipboard is meant
 * @trial: the trial
 * @paint: one of its paints
 *
 * Puts the paint, with all that it is mixed of, on the clipboard, to be pasted into another trial.
 */
void
sherd_paints_copy (GtkWidget *widget, SherdTrial *trial, SherdPaint *paint)
{
  g_autofree char *text = sherd_trial_dup_paints_text (trial, &paint, 1);

  set_clipboard (widget, text);
}

typedef struct
{
  GtkWidget *widget;
  SherdTrial *trial;
} Pasting;

static void
pasting_free (Pasting *pasting)
{
  g_object_unref (pasting->widget);
  g_object_unref (pasting->trial);
  g_free (pasting);
}

static void
tell (GtkWidget *widget, const char *what, const GError *error)
{
  if (gtk_widget_get_root (widget) != NULL)
    sherd_dialog_error (GTK_WINDOW (gtk_widget_get_root (widget)), what, error);
}

static void
pasted_cb (GObject *clipboard, GAsyncResult *result, gpointer user_data)
{
  Pasting *pasting = user_data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, &error);
  g_autoptr (GPtrArray) paints = text != NULL ? sherd_trial_paste_paints (pasting->trial, text, &error) : NULL;

  if (paints == NULL)
    tell (pasting->widget, _ ("Nothing was pasted"), error);
  pasting_free (pasting);
}

/**
 * sherd_paints_paste:
 * @widget: on the display whose clipboard is meant
 * @trial: the trial that paints come into, in one undoable step
 */
void
sherd_paints_paste (GtkWidget *widget, SherdTrial *trial)
{
  Pasting *pasting = g_new (Pasting, 1);

  *pasting = (Pasting){ g_object_ref (widget), g_object_ref (trial) };
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (widget), NULL, pasted_cb, pasting);
}

/**
 * sherd_paints_import:
 * @window: the window
 * @trial: the trial that is to have them
 * @file: a table of paints or materials
 *
 * Reads the table and shows what it would do.
 */
void
sherd_paints_import (GtkWindow *window, SherdTrial *trial, GFile *file)
{
  g_autofree char *text = NULL;
  gsize length;
  g_autoptr (GError) error = NULL;
  SherdImport *import = NULL;

  if (g_file_load_contents (file, NULL, &text, &length, NULL, &error))
    import = sherd_import_new (trial, text, length, &error);
  if (import != NULL)
    gtk_window_present (GTK_WINDOW (sherd_import_dialog_new (window, import)));
  else
    sherd_dialog_error (window, _ ("The table was not read"), error);
}

/**
 * sherd_paints_export:
 * @window: the window
 * @table: (transfer full): of paints or materials
 * @file: where to
 *
 * Writes the table as comma-separated values that can be imported again.
 */
void
sherd_paints_export (GtkWindow *window, SherdTable *table, GFile *file)
{
  g_autofree char *csv = sherd_table_to_csv (table);
  g_autoptr (GError) error = NULL;

  if (!g_file_replace_contents (file, csv, strlen (csv), NULL, FALSE, G_FILE_CREATE_NONE, NULL, NULL, &error))
    sherd_dialog_error (window, _ ("The table was not written"), error);
  sherd_table_free (table);
}
