/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A small table of words and numbers to be read, filled anew row by row; labels are kept, so that nothing flickers
 * while one types. The first column is words, the others are numbers. */
#define SHERD_TYPE_FACT_TABLE (sherd_fact_table_get_type ())
G_DECLARE_FINAL_TYPE (SherdFactTable, sherd_fact_table, SHERD, FACT_TABLE, GtkWidget)

/* Begins at the top again. @label: what a screen reader calls the table */
void sherd_fact_table_begin (SherdFactTable *self, const char *label);
/* Cells of a row up to NULL; a heading is dim. */
void sherd_fact_table_add_heading (SherdFactTable *self, ...) G_GNUC_NULL_TERMINATED;
void sherd_fact_table_add_row (SherdFactTable *self, ...) G_GNUC_NULL_TERMINATED;
/* Takes away what is left of before. */
void sherd_fact_table_end (SherdFactTable *self);

G_END_DECLS
