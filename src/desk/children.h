/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A widget that has children lets them go when it is disposed of. */
void sherd_children_drop (GtkWidget *widget);

G_END_DECLS
