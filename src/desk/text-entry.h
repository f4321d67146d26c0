/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A field for words, with the reason below it when the model refuses them; what was typed stays.
 *
 * Properties: "label" (what a screen reader says), "placeholder" (shown while it is empty), "width-chars". Signals:
 * "edited" (string): while typing; "activated" (): Enter; "left" (): the focus went elsewhere. */
#define SHERD_TYPE_TEXT_ENTRY (sherd_text_entry_get_type ())
G_DECLARE_FINAL_TYPE (SherdTextEntry, sherd_text_entry, SHERD, TEXT_ENTRY, GtkWidget)

/* What the model holds; a text that was refused stays while that stays what it was. */
void sherd_text_entry_show (SherdTextEntry *self, const char *text);
void sherd_text_entry_refuse (SherdTextEntry *self, const char *reason);

G_END_DECLS
