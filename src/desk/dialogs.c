/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/dialogs.h"

#include <glib/gi18n-lib.h>

/* What a dialog does when it is answered. @user_data is a widget of the dialog's window: @window tells whether it is
 * still there, for an answer may come when the window has gone. */
typedef struct
{
  SherdFileFunc file_func;
  SherdAnswerFunc answer_func;
  gpointer user_data;
  GWeakRef window;
} Pending;

static Pending *
pending_new (GtkWindow *window, SherdFileFunc file_func, SherdAnswerFunc answer_func, gpointer user_data)
{
  Pending *pending = g_new0 (Pending, 1);

  *pending = (Pending){ .file_func = file_func, .answer_func = answer_func, .user_data = user_data };
  g_weak_ref_init (&pending->window, window);
  return pending;
}

static void
pending_free (gpointer data, GClosure *closure)
{
  Pending *pending = data;

  g_weak_ref_clear (&pending->window);
  g_free (pending);
}

/**
 * sherd_dialog_error:
 * @parent: (nullable): window it belongs to
 * @what: what failed, in a few words
 * @error: why, and what to do
 */
void
sherd_dialog_error (GtkWindow *parent, const char *what, const GError *error)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                                              GTK_MESSAGE_ERROR, GTK_BUTTONS_CLOSE, "%s", what);

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", error->message);
  g_signal_connect (dialog, "response", G_CALLBACK (gtk_window_destroy), NULL);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
answer_cb (GtkDialog *dialog, int response, gpointer user_data)
{
  Pending *pending = user_data;
  g_autoptr (GtkWindow) window = g_weak_ref_get (&pending->window);

  gtk_window_destroy (GTK_WINDOW (dialog));
  if (window != NULL)
    pending->answer_func (response >= 0 ? response : -1, pending->user_data);
}

/**
 * sherd_dialog_ask:
 * @parent: window it belongs to; nothing is called once it is gone
 * @question: the question
 * @detail: what follows from the answers
 * @answers: (array zero-terminated=1): words of the buttons; the last is the default
 * @done: called with the number of the button
 * @user_data: for @done
 */
void
sherd_dialog_ask (GtkWindow *parent,
                  const char *question,
                  const char *detail,
                  const char *const *answers,
                  SherdAnswerFunc done,
                  gpointer user_data)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                                              GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, "%s", question);
  int n_answers = 0;

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", detail);
  for (; answers[n_answers] != NULL; n_answers++)
    gtk_dialog_add_button (GTK_DIALOG (dialog), answers[n_answers], n_answers);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), n_answers - 1);
  g_signal_connect_data (dialog, "response", G_CALLBACK (answer_cb), pending_new (parent, NULL, done, user_data),
                         pending_free, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
chosen_cb (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  Pending *pending = user_data;
  g_autoptr (GtkWindow) window = g_weak_ref_get (&pending->window);

  if (response == GTK_RESPONSE_ACCEPT && window != NULL)
    {
      g_autoptr (GListModel) files = gtk_file_chooser_get_files (GTK_FILE_CHOOSER (dialog));

      for (guint i = 0; i < g_list_model_get_n_items (files); i++)
        {
          g_autoptr (GFile) file = g_list_model_get_item (files, i);

          pending->file_func (file, pending->user_data);
        }
    }
  gtk_native_dialog_destroy (dialog);
  g_object_unref (dialog);
}

static void
choose (GtkFileChooserNative *chooser, SherdFileFunc done, gpointer user_data)
{
  GtkWindow *window = gtk_native_dialog_get_transient_for (GTK_NATIVE_DIALOG (chooser));

  g_signal_connect_data (chooser, "response", G_CALLBACK (chosen_cb), pending_new (window, done, NULL, user_data),
                         pending_free, 0);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (chooser), TRUE);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

/**
 * sherd_dialog_open:
 * @parent: window it belongs to
 * @title: title
 * @kind: what kind of file is looked for, in words
 * @patterns: (array zero-terminated=1): file names of that kind
 * @several: whether more than one may be chosen
 * @done: called for every file chosen
 * @user_data: for @done
 */
void
sherd_dialog_open (GtkWindow *parent,
                   const char *title,
                   const char *kind,
                   const char *const *patterns,
                   gboolean several,
                   SherdFileFunc done,
                   gpointer user_data)
{
  GtkFileChooserNative *chooser =
    gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_OPEN, _ ("Open"), _ ("Cancel"));
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();

  gtk_file_filter_set_name (filter, kind);
  for (guint i = 0; patterns[i] != NULL; i++)
    gtk_file_filter_add_suffix (filter, patterns[i]);
  gtk_file_filter_set_name (all, _ ("All files"));
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), filter);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (chooser), all);
  gtk_file_chooser_set_select_multiple (GTK_FILE_CHOOSER (chooser), several);
  choose (chooser, done, user_data);
}

/**
 * sherd_dialog_save:
 * @parent: window it belongs to
 * @title: title
 * @suggested_name: name to begin with
 * @done: called with the file chosen; the user agreed to replace one that exists
 * @user_data: for @done
 */
void
sherd_dialog_save (GtkWindow *parent,
                   const char *title,
                   const char *suggested_name,
                   SherdFileFunc done,
                   gpointer user_data)
{
  GtkFileChooserNative *chooser =
    gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_SAVE, _ ("Save"), _ ("Cancel"));

  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), suggested_name);
  choose (chooser, done, user_data);
}
