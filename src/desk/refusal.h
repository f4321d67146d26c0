/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What a field says when the model does not take its text: the reason below it, a frame around it, and both told to a
 * screen reader. @reason: (nullable): NULL when it was taken */
void sherd_refusal_show (GtkWidget *entry, GtkLabel *label, const char *reason);

G_END_DECLS
