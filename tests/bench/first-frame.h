/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* When the first window of @application has drawn its first frame, prints the monotonic time in µs and the CPU time of
 * the process in ms. Ends the program then, or, with a @title, after the first frame under another title, which is told
 * likewise. */
void first_frame_tell (GtkApplication *application, const char *title);

G_END_DECLS
