/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Opens @window as large as the last one was, and remembers how it is left. */
void sherd_window_size_keep (GtkWindow *window);

G_END_DECLS
