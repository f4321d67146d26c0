/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* All dialogs of the program in one place, so that newer toolkit calls have one place to go. */

typedef void (*SherdFileFunc) (GFile *file, gpointer user_data);
/* @answer: which button, from 0; −1 when the dialog was closed */
typedef void (*SherdAnswerFunc) (int answer, gpointer user_data);

/* Tells that something failed: what was done, then the error in words. */
void sherd_dialog_error (GtkWindow *parent, const char *what, const GError *error);
/* Asks; the last of @answers (NULL at the end) is the default. */
void sherd_dialog_ask (GtkWindow *parent,
                       const char *question,
                       const char *detail,
                       const char *const *answers,
                       SherdAnswerFunc done,
                       gpointer user_data);
/* @patterns: endings without dot: "jpg"; @done is not called when nothing was chosen */
void sherd_dialog_open (GtkWindow *parent,
                        const char *title,
                        const char *kind,
                        const char *const *patterns,
                        gboolean several,
                        SherdFileFunc done,
                        gpointer user_data);
void sherd_dialog_save (GtkWindow *parent,
                        const char *title,
                        const char *suggested_name,
                        SherdFileFunc done,
                        gpointer user_data);
/* (transfer full): what a file is saved as, when @name was typed: with an ending, once */
char *sherd_dialog_tidy_name (const char *name, const char *suffix);

G_END_DECLS
