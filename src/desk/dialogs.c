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
  char *suffix; /* (nullable): ".pdf": ending of the name suggested */
  GFile *file;  /* (nullable): which is there already */
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
  g_free (pending->suffix);
  g_clear_object (&pending->file);
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

/* (transfer none): shown already */
static GtkWidget *
present_question (GtkWindow *parent, const char *question, const char *detail, const char *const *answers)
{
  GtkWidget *dialog = gtk_message_dialog_new (parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT,
                                              GTK_MESSAGE_QUESTION, GTK_BUTTONS_NONE, "%s", question);
  int n_answers = 0;

  gtk_message_dialog_format_secondary_text (GTK_MESSAGE_DIALOG (dialog), "%s", detail);
  for (; answers[n_answers] != NULL; n_answers++)
    gtk_dialog_add_button (GTK_DIALOG (dialog), answers[n_answers], n_answers);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), n_answers - 1);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
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
  g_signal_connect_data (present_question (parent, question, detail, answers), "response", G_CALLBACK (answer_cb),
                         pending_new (parent, NULL, done, user_data), pending_free, 0);
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
choose (GtkFileChooserNative *chooser, GCallback chosen, Pending *pending)
{
  g_signal_connect_data (chooser, "response", chosen, pending, pending_free, 0);
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
  choose (chooser, G_CALLBACK (chosen_cb), pending_new (parent, done, NULL, user_data));
}

/**
 * sherd_dialog_tidy_name:
 * @name: name or path of a file to be saved, as it was typed
 * @suffix: what it ends in unless another ending was typed: ".pdf"
 *
 * The dialog keeps the ending of the name it suggests when a whole path is typed in front of it, ending and all:
 * "mine.pdf.pdf".
 *
 * Returns: (transfer full): @name with @suffix once, or with the other ending
 */
char *
sherd_dialog_tidy_name (const char *name, const char *suffix)
{
  const char *slash = strrchr (name, '/');
  const char *base = slash != NULL ? slash + 1 : name;
  g_autofree char *twice = g_strconcat (suffix, suffix, NULL);
  g_autofree char *tidy = g_strdup (name);

  if (strchr (base, '.') == NULL)
    return g_strconcat (name, suffix, NULL);
  while (g_str_has_suffix (tidy, twice))
    tidy[strlen (tidy) - strlen (suffix)] = '\0';
  return g_steal_pointer (&tidy);
}

static void
replace_cb (GtkDialog *dialog, int response, gpointer user_data)
{
  Pending *pending = user_data;
  g_autoptr (GtkWindow) window = g_weak_ref_get (&pending->window);

  if (response == 1 && window != NULL)
    pending->file_func (pending->file, pending->user_data);
  gtk_window_destroy (GTK_WINDOW (dialog));
}

/* The file chooser asked about the name that was typed, not about this one. */
static void
ask_to_replace (GtkWindow *window, GFile *file, const Pending *saving)
{
  const char *const answers[] = { _ ("Cancel"), _ ("Replace it"), NULL };
  g_autofree char *name = g_file_get_parse_name (file);
  g_autofree char *detail = g_strdup_printf (_ ("“%s” is there already."), name);
  GtkWidget *dialog = present_question (window, _ ("Replace the file?"), detail, answers);
  Pending *pending = pending_new (window, saving->file_func, NULL, saving->user_data);

  pending->file = g_object_ref (file);
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), 0);
  g_signal_connect_data (dialog, "response", G_CALLBACK (replace_cb), pending, pending_free, 0);
}

static void
save_to (GtkWindow *window, GFile *chosen, const Pending *pending)
{
  g_autofree char *uri = g_file_get_uri (chosen);
  g_autofree char *tidy_uri = sherd_dialog_tidy_name (uri, pending->suffix);
  g_autoptr (GFile) file = g_file_new_for_uri (tidy_uri);

  if (!g_file_equal (file, chosen) && g_file_query_exists (file, NULL))
    ask_to_replace (window, file, pending);
  else
    pending->file_func (file, pending->user_data);
}

static void
save_chosen_cb (GtkNativeDialog *dialog, int response, gpointer user_data)
{
  Pending *pending = user_data;
  g_autoptr (GtkWindow) window = g_weak_ref_get (&pending->window);
  g_autoptr (GFile) file = NULL;

  if (response == GTK_RESPONSE_ACCEPT && window != NULL)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog));
  if (file != NULL)
    save_to (window, file, pending);
  gtk_native_dialog_destroy (dialog);
  g_object_unref (dialog);
}

/**
 * sherd_dialog_save:
 * @parent: window it belongs to
 * @title: title
 * @suggested_name: name to begin with; its ending is given to a name that is typed without one
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
  Pending *pending = pending_new (parent, done, NULL, user_data);
  GtkFileChooserNative *chooser =
    gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_SAVE, _ ("Save"), _ ("Cancel"));

  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (chooser), suggested_name);
  pending->suffix = g_strdup (strrchr (suggested_name, '.'));
  choose (chooser, G_CALLBACK (save_chosen_cb), pending);
}
