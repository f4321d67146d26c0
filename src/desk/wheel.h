/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

void sherd_wheel_leave_numbers (GtkWidget *widget);

G_END_DECLS
