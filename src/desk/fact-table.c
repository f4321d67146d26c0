/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/fact-table.h"

struct _SherdFactTable
{
  GtkWidget parent_instance;

  GtkGrid *grid;
  int n_rows; /* filled since begin */
};

G_DEFINE_FINAL_TYPE (SherdFactTable, sherd_fact_table, GTK_TYPE_WIDGET)

static GtkWidget *
cell_new (gboolean is_number)
{
  GtkWidget *cell = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (cell), is_number ? 1.0f : 0.0f);
  gtk_label_set_yalign (GTK_LABEL (cell), 0.0f);
  gtk_label_set_wrap (GTK_LABEL (cell), !is_number);
  gtk_label_set_wrap_mode (GTK_LABEL (cell), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (cell, !is_number);
  if (is_number)
    gtk_widget_add_css_class (cell, "numeric");
  return cell;
}

static void
set_cell (SherdFactTable *self, int column, const char *text, gboolean is_heading)
{
  GtkWidget *cell = gtk_grid_get_child_at (self->grid, column, self->n_rows);

  if (cell == NULL)
    {
      cell = cell_new (column > 0);
      gtk_grid_attach (self->grid, cell, column, self->n_rows, 1, 1);
    }
  if (is_heading)
    gtk_widget_add_css_class (cell, "dim-label");
  else
    gtk_widget_remove_css_class (cell, "dim-label");
  gtk_label_set_text (GTK_LABEL (cell), text);
}

/* Cells of an earlier filling that this row does not have. */
static void
clear_row (SherdFactTable *self, int column)
{
  GtkWidget *cell;

  while ((cell = gtk_grid_get_child_at (self->grid, column++, self->n_rows)) != NULL)
    gtk_grid_remove (self->grid, cell);
}

static void
add_cells (SherdFactTable *self, gboolean is_heading, va_list cells)
{
  int column = 0;

  for (const char *text = va_arg (cells, const char *); text != NULL; text = va_arg (cells, const char *))
    set_cell (self, column++, text, is_heading);
  clear_row (self, column);
  self->n_rows++;
}

/**
 * sherd_fact_table_begin:
 * @self: a table
 * @label: what a screen reader calls it
 *
 * Begins at the top again.
 */
void
sherd_fact_table_begin (SherdFactTable *self, const char *label)
{
  self->n_rows = 0;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->grid), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/**
 * sherd_fact_table_add_heading:
 * @self: a table
 * @...: words of the columns, up to NULL
 */
void
sherd_fact_table_add_heading (SherdFactTable *self, ...)
{
  va_list cells;

  va_start (cells, self);
  add_cells (self, TRUE, cells);
  va_end (cells);
}

/**
 * sherd_fact_table_add_row:
 * @self: a table
 * @...: the cells, up to NULL
 */
void
sherd_fact_table_add_row (SherdFactTable *self, ...)
{
  va_list cells;

  va_start (cells, self);
  add_cells (self, FALSE, cells);
  va_end (cells);
}

/**
 * sherd_fact_table_end:
 * @self: a table
 *
 * Takes away rows of an earlier filling that were not filled again.
 */
void
sherd_fact_table_end (SherdFactTable *self)
{
  for (; gtk_grid_get_child_at (self->grid, 0, self->n_rows) != NULL; self->n_rows++)
    clear_row (self, 0);
}

static void
sherd_fact_table_dispose (GObject *object)
{
  SherdFactTable *self = SHERD_FACT_TABLE (object);

  if (self->grid != NULL)
    gtk_widget_unparent (GTK_WIDGET (self->grid));
  self->grid = NULL;
  G_OBJECT_CLASS (sherd_fact_table_parent_class)->dispose (object);
}

static void
sherd_fact_table_class_init (SherdFactTableClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sherd_fact_table_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
sherd_fact_table_init (SherdFactTable *self)
{
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_row_spacing (self->grid, 2);
  gtk_grid_set_column_spacing (self->grid, 12);
  gtk_widget_set_parent (GTK_WIDGET (self->grid), GTK_WIDGET (self));
}
