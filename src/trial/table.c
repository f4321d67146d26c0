/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/format.h"

/* Two spaces between columns of the text form: our choice. */
#define COLUMN_GAP "  "

typedef struct
{
  gboolean filled;
  char *text;
  double number;
  gint64 integer;
} Cell;

struct _SherdTable
{
  SherdColumn *columns;
  guint n_columns;
  GPtrArray *rows; /* of Cell[n_columns] */
};

static void
free_cells (Cell *cells, guint n_cells)
{
  for (guint i = 0; i < n_cells; i++)
    g_free (cells[i].text);
  g_free (cells);
}

/**
 * sherd_table_new:
 * @columns: (array length=n_columns): the columns; copied, the strings must outlive the table
 * @n_columns: their number
 *
 * Returns: (transfer full): an empty table
 */
SherdTable *
sherd_table_new (const SherdColumn *columns, guint n_columns)
{
  SherdTable *table = g_new0 (SherdTable, 1);

  table->columns = g_memdup2 (columns, sizeof (SherdColumn) * n_columns);
  table->n_columns = n_columns;
  table->rows = g_ptr_array_new ();
  return table;
}

void
sherd_table_free (SherdTable *table)
{
  if (table == NULL)
    return;
  for (guint i = 0; i < table->rows->len; i++)
    free_cells (g_ptr_array_index (table->rows, i), table->n_columns);
  g_ptr_array_unref (table->rows);
  g_free (table->columns);
  g_free (table);
}

/**
 * sherd_table_add_row:
 * @table: a table
 *
 * Begins a new last row; its cells are empty until they are set.
 */
void
sherd_table_add_row (SherdTable *table)
{
  g_ptr_array_add (table->rows, g_new0 (Cell, table->n_columns));
}

static Cell *
last_row_cell (SherdTable *table, const char *key)
{
  g_return_val_if_fail (table->rows->len > 0, NULL);

  for (guint i = 0; i < table->n_columns; i++)
    if (g_str_equal (table->columns[i].key, key))
      return &((Cell *)g_ptr_array_index (table->rows, table->rows->len - 1))[i];
  g_return_val_if_reached (NULL);
}

/**
 * sherd_table_set_text:
 * @table: a table with at least one row
 * @key: a column of kind text
 * @text: (nullable): the cell of the last row; %NULL leaves it empty
 */
void
sherd_table_set_text (SherdTable *table, const char *key, const char *text)
{
  Cell *cell = last_row_cell (table, key);

  g_return_if_fail (cell != NULL);
  g_free (cell->text);
  cell->text = g_strdup (text);
  cell->filled = text != NULL;
}

/**
 * sherd_table_set_number:
 * @table: a table with at least one row
 * @key: a column of kind number
 * @value: the cell of the last row; what is not finite leaves it empty, since not measured is not zero
 */
void
sherd_table_set_number (SherdTable *table, const char *key, double value)
{
  Cell *cell = last_row_cell (table, key);

  g_return_if_fail (cell != NULL);
  cell->number = value;
  cell->filled = isfinite (value);
}

/**
 * sherd_table_set_integer:
 * @table: a table with at least one row
 * @key: a column of kind integer or boolean
 * @value: the cell of the last row
 */
void
sherd_table_set_integer (SherdTable *table, const char *key, gint64 value)
{
  Cell *cell = last_row_cell (table, key);

  g_return_if_fail (cell != NULL);
  cell->integer = value;
  cell->filled = TRUE;
}

/**
 * sherd_table_set_boolean:
 * @table: a table with at least one row
 * @key: a column of kind boolean
 * @value: the cell of the last row
 */
void
sherd_table_set_boolean (SherdTable *table, const char *key, gboolean value)
{
  sherd_table_set_integer (table, key, value ? 1 : 0);
}

guint
sherd_table_get_n_rows (const SherdTable *table)
{
  return table->rows->len;
}

guint
sherd_table_get_n_columns (const SherdTable *table)
{
  return table->n_columns;
}

const SherdColumn *
sherd_table_get_column (const SherdTable *table, guint column)
{
  g_return_val_if_fail (column < table->n_columns, NULL);
  return &table->columns[column];
}

static const Cell *
cell_at (const SherdTable *table, guint row, guint column)
{
  return &((const Cell *)g_ptr_array_index (table->rows, row))[column];
}

/**
 * sherd_table_dup_cell:
 * @table: a table
 * @row: from 0
 * @column: from 0
 *
 * Returns: (transfer full): the cell as people read it, in the locale; “–” when nothing was measured
 */
char *
sherd_table_dup_cell (const SherdTable *table, guint row, guint column)
{
  const Cell *cell = cell_at (table, row, column);
  const SherdColumn *description = &table->columns[column];

  if (!cell->filled)
    return g_strdup (description->kind == SHERD_COLUMN_TEXT ? "" : "–");
  switch (description->kind)
    {
    case SHERD_COLUMN_NUMBER:
      return sherd_format_number (cell->number, description->decimals);
    case SHERD_COLUMN_INTEGER:
      return g_strdup_printf ("%" G_GINT64_FORMAT, cell->integer);
    case SHERD_COLUMN_BOOLEAN:
      return g_strdup (cell->integer ? _ ("yes") : _ ("no"));
    case SHERD_COLUMN_TEXT:
    default:
      return g_strdup (cell->text);
    }
}

/* (transfer full): a cell of the text form */
static char *
dup_visible_cell (const SherdTable *table, guint row, guint column)
{
  g_autofree char *cell = sherd_table_dup_cell (table, row, column);

  return sherd_format_visible (cell);
}

static glong
display_width (const char *text)
{
  glong width = 0;

  for (const char *at = text; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (!g_unichar_iszerowidth (c))
        width += g_unichar_iswide (c) ? 2 : 1;
    }
  return width;
}

static void
append_padded (GString *line, const char *text, glong width, gboolean to_the_right)
{
  glong missing = width - display_width (text);

  if (!to_the_right)
    g_string_append (line, text);
  for (glong i = 0; i < missing; i++)
    g_string_append_c (line, ' ');
  if (to_the_right)
    g_string_append (line, text);
}

static glong
column_width (const SherdTable *table, guint column)
{
  glong width = display_width (table->columns[column].heading);

  for (guint row = 0; row < table->rows->len; row++)
    {
      g_autofree char *cell = dup_visible_cell (table, row, column);

      width = MAX (width, display_width (cell));
    }
  return width;
}

static void
end_line (GString *text)
{
  while (text->len > 0 && text->str[text->len - 1] == ' ')
    g_string_truncate (text, text->len - 1);
  g_string_append_c (text, '\n');
}

/**
 * sherd_table_to_text:
 * @table: a table
 *
 * Returns: (transfer full): aligned text, a heading line and a line a row; columns without a heading are left out
 */
char *
sherd_table_to_text (const SherdTable *table)
{
  GString *text = g_string_new (NULL);
  g_autofree glong *widths = g_new0 (glong, table->n_columns);

  for (guint column = 0; column < table->n_columns; column++)
    if (table->columns[column].heading != NULL)
      {
        widths[column] = column_width (table, column);
        append_padded (text, table->columns[column].heading, widths[column],
                       table->columns[column].kind != SHERD_COLUMN_TEXT);
        g_string_append (text, COLUMN_GAP);
      }
  end_line (text);

  for (guint row = 0; row < table->rows->len; row++)
    {
      for (guint column = 0; column < table->n_columns; column++)
        if (table->columns[column].heading != NULL)
          {
            g_autofree char *cell = dup_visible_cell (table, row, column);

            append_padded (text, cell, widths[column], table->columns[column].kind != SHERD_COLUMN_TEXT);
            g_string_append (text, COLUMN_GAP);
          }
      end_line (text);
    }
  return g_string_free (text, FALSE);
}

/* RFC 4180: a field with a comma, a quote or a line break stands in quotes, quotes inside are doubled. */
static void
append_csv_field (GString *csv, const char *field)
{
  if (strpbrk (field, ",\"\r\n") == NULL)
    {
      g_string_append (csv, field);
      return;
    }
  g_string_append_c (csv, '"');
  for (const char *c = field; *c != '\0'; c++)
    {
      if (*c == '"')
        g_string_append_c (csv, '"');
      g_string_append_c (csv, *c);
    }
  g_string_append_c (csv, '"');
}

static void
append_csv_cell (GString *csv, const Cell *cell, SherdColumnKind kind)
{
  g_autofree char *number = NULL;

  if (!cell->filled)
    return;
  if (kind == SHERD_COLUMN_TEXT)
    append_csv_field (csv, cell->text);
  else if (kind == SHERD_COLUMN_INTEGER)
    g_string_append_printf (csv, "%" G_GINT64_FORMAT, cell->integer);
  else if (kind == SHERD_COLUMN_BOOLEAN)
    g_string_append (csv, cell->integer ? "true" : "false");
  else
    {
      number = sherd_format_exact (cell->number);
      g_string_append (csv, number);
    }
}

/**
 * sherd_table_to_csv:
 * @table: a table
 *
 * Writes the table as RFC 4180 text: a first line of keys, UTF-8, decimal points, CR LF; an empty field was not
 * measured.
 *
 * Returns: (transfer full): the text
 */
char *
sherd_table_to_csv (const SherdTable *table)
{
  GString *csv = g_string_new (NULL);

  for (guint column = 0; column < table->n_columns; column++)
    g_string_append_printf (csv, "%s%s", column > 0 ? "," : "", table->columns[column].key);
  g_string_append (csv, "\r\n");

  for (guint row = 0; row < table->rows->len; row++)
    {
      for (guint column = 0; column < table->n_columns; column++)
        {
          if (column > 0)
            g_string_append_c (csv, ',');
          append_csv_cell (csv, cell_at (table, row, column), table->columns[column].kind);
        }
      g_string_append (csv, "\r\n");
    }
  return g_string_free (csv, FALSE);
}

static void
add_json_cell (JsonObject *object, const SherdColumn *column, const Cell *cell)
{
  if (!cell->filled)
    json_object_set_null_member (object, column->key);
  else if (column->kind == SHERD_COLUMN_TEXT)
    json_object_set_string_member (object, column->key, cell->text);
  else if (column->kind == SHERD_COLUMN_INTEGER)
    json_object_set_int_member (object, column->key, cell->integer);
  else if (column->kind == SHERD_COLUMN_BOOLEAN)
    json_object_set_boolean_member (object, column->key, cell->integer != 0);
  else
    json_object_set_double_member (object, column->key, cell->number);
}

/**
 * sherd_table_to_json:
 * @table: a table
 *
 * Returns: (transfer full): an array of objects, a member a column; null was not measured
 */
JsonNode *
sherd_table_to_json (const SherdTable *table)
{
  JsonNode *node = json_node_alloc ();
  g_autoptr (JsonArray) rows = json_array_sized_new (table->rows->len);

  for (guint row = 0; row < table->rows->len; row++)
    {
      JsonObject *object = json_object_new ();

      for (guint column = 0; column < table->n_columns; column++)
        add_json_cell (object, &table->columns[column], cell_at (table, row, column));
      json_array_add_object_element (rows, object);
    }
  return json_node_init_array (node, rows);
}
