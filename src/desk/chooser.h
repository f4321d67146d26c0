/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Makes @chooser offer @words and show the one at @selected; may be called while it tells of a choice. */
void sherd_chooser_fill (GtkDropDown *chooser, const char *const *words, guint selected);

G_END_DECLS
