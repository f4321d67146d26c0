/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Places children beside one another where they fit, else below one another: a narrow window and large text lose
 * nothing. Property: "spacing" (px). */
#define SHERD_TYPE_COLUMNS (sherd_columns_get_type ())
G_DECLARE_FINAL_TYPE (SherdColumns, sherd_columns, SHERD, COLUMNS, GtkWidget)

G_END_DECLS
