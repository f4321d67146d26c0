/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Gives @view the columns of the table of shifts; its rows are SherdZoneShift. */
void sherd_results_table_add_columns (GtkColumnView *view);

G_END_DECLS
