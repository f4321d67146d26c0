/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* Undo and redo: edits made of small steps, each of which knows how to go forth and back. */
typedef struct _SherdHistory SherdHistory;

/* @owner: what holds the history and may itself be changed; it is not held */
SherdHistory *sherd_history_new (gpointer owner);
void sherd_history_free (SherdHistory *self);

/* @key: (nullable): joins the last edit of the same key when that is not sealed */
void sherd_history_begin (SherdHistory *self, const char *label, const char *key);
/* Makes the change and remembers it. A value equal to the old one leaves no step. */
void sherd_history_set (SherdHistory *self, GObject *object, GParamSpec *pspec, const GValue *value);
void sherd_history_splice (SherdHistory *self,
                           GListStore *list,
                           guint position,
                           guint n_removed,
                           gpointer *added,
                           guint n_added);
/* TRUE when the outermost edit was closed. */
gboolean sherd_history_end (SherdHistory *self);
/* TRUE when the outermost edit was closed; the steps since the innermost begin are taken back. */
gboolean sherd_history_cancel (SherdHistory *self);
gboolean sherd_history_is_open (SherdHistory *self);
void sherd_history_seal (SherdHistory *self);

gboolean sherd_history_can_undo (SherdHistory *self);
gboolean sherd_history_can_redo (SherdHistory *self);
void sherd_history_undo (SherdHistory *self);
void sherd_history_redo (SherdHistory *self);
/* (nullable) (transfer none): the words of the edit that would be undone or redone */
const char *sherd_history_get_undo_label (SherdHistory *self);
const char *sherd_history_get_redo_label (SherdHistory *self);

/* "Modified" is the distance to the saved position, not a flag. */
void sherd_history_mark_saved (SherdHistory *self);
/* No position is saved any more: what lies in the file is not what any undo leads to. */
void sherd_history_forget_saved (SherdHistory *self);
gboolean sherd_history_is_saved (SherdHistory *self);

G_END_DECLS
