/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/exchange.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/built-in-materials.h"
#include "trial/edits.h"
#include "trial/exchange-private.h"
#include "trial/file.h"
#include "trial/format.h"
#include "trial/number.h"

struct _SherdImport
{
  SherdTrial *trial;
  SherdImportList list;
  gboolean is_of_paints;
  GPtrArray *items;    /* of SherdImportItem */
  GHashTable *by_name; /* code, or name whatever its capitals → SherdImportItem, borrowed */
  SherdTable *table;
};

/* Our choice: a longer list is no pantry of one potter, and would take minutes. */
#define MOST_ROWS 10000u

static const char *const paint_columns[] = { "paint",       "name",  "kind",   "basis",      "material",
                                             "other_paint", "parts", "binder", "binder_pct", "water_pct",
                                             "batch_g",     "note",  NULL };

/**
 * sherd_exchange_dup_parts:
 * @ingredient: an ingredient
 *
 * Returns: (transfer full): its parts as typed where that says the same everywhere, else as a decimal
 */
char *
sherd_exchange_dup_parts (const SherdIngredient *ingredient)
{
  double typed;

  if (strchr (ingredient->parts_text, ',') == NULL &&
      sherd_number_parse_marked (ingredient->parts_text, ".", &typed, NULL) && typed == ingredient->parts)
    return g_strdup (ingredient->parts_text);
  return sherd_format_exact (ingredient->parts);
}

/**
 * sherd_import_list_get:
 * @list: a list
 * @row: one of its rows
 * @column: name of a column
 *
 * Returns: (nullable) (transfer none): what stands there; NULL when there is no such column or the row is too short
 */
const char *
sherd_import_list_get (const SherdImportList *list, const SherdCsvRow *row, const char *column)
{
  for (guint i = 0; list->header[i] != NULL && row->fields[i] != NULL; i++)
    if (g_str_equal (list->header[i], column))
      return row->fields[i];
  return NULL;
}

/**
 * sherd_import_list_get_number:
 * @list: a list
 * @row: one of its rows
 * @column: name of a column
 * @number: (out): NAN for an empty cell
 * @error: SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_import_list_get_number (const SherdImportList *list,
                              const SherdCsvRow *row,
                              const char *column,
                              double *number,
                              GError **error)
{
  const char *text = sherd_import_list_get (list, row, column);

  *number = NAN;
  if (text == NULL || *text == '\0' || sherd_number_parse_marked (text, list->mark, number, error))
    return TRUE;
  g_prefix_error (error, "%s: ", column);
  return FALSE;
}

static gboolean
is_decimal_with (const char *text, char mark)
{
  const gsize whole = strspn (text, "0123456789");
  const gsize part = text[whole] == mark ? strspn (text + whole + 1, "0123456789") : 0;

  return whole > 0 && part > 0 && text[whole + 1 + part] == '\0';
}

/* A list that writes decimals with a comma and never with a point means it so: "1,250" is no thousands there. */
static const char *
find_mark (const SherdCsv *csv)
{
  guint n_commas = 0, n_points = 0;

  for (guint i = 1; i < csv->rows->len; i++)
    for (char **field = ((SherdCsvRow *)g_ptr_array_index (csv->rows, i))->fields; *field != NULL; field++)
      {
        n_commas += is_decimal_with (*field, ',');
        n_points += is_decimal_with (*field, '.');
      }
  return n_commas > 0 && n_points == 0 ? "," : ".";
}

/* "Stock_g " → "stock_g" */
static GStrv
dup_header (const SherdCsvRow *row)
{
  GStrv header = g_strdupv (row->fields);

  for (char **name = header; *name != NULL; name++)
    {
      char *folded = g_utf8_strdown (*name, -1);

      g_free (*name);
      *name = folded;
    }
  return header;
}

static gboolean
has_column (const SherdImport *self, const char *column)
{
  return g_strv_contains ((const char *const *)self->list.header, column);
}

static gboolean
check_length (const SherdImport *self, GError **error)
{
  if (self->list.csv->rows->len <= MOST_ROWS)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CONTENT,
               _ ("line %u: at most %u lines are taken in at once. Import the list in parts."),
               ((const SherdCsvRow *)g_ptr_array_index (self->list.csv->rows, MOST_ROWS))->line, MOST_ROWS);
  return FALSE;
}

static gboolean
read_header (SherdImport *self, GError **error)
{
  if (self->list.csv->rows->len > 0)
    self->list.header = dup_header (g_ptr_array_index (self->list.csv->rows, 0));
  self->is_of_paints = self->list.header != NULL && has_column (self, "paint");
  if (self->is_of_paints || (self->list.header != NULL && has_column (self, "name")))
    return TRUE;
  g_set_error_literal (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CONTENT,
    _ ("line 1: a list of materials has a column “name”, a list of paints a column “paint”. Write the "
       "names of the columns into the first line."));
  return FALSE;
}

static void
item_free (gpointer data)
{
  SherdImportItem *item = data;

  g_free (item->name);
  g_free (item->remark);
  g_ptr_array_unref (item->rows);
  g_free (item);
}

static void
fault (SherdImportItem *item, const char *remark)
{
  item->is_faulty = TRUE;
  item->fate = "cannot";
  g_free (item->remark);
  item->remark = g_strdup (remark);
}

/* The rows of a paint are one item; a material that comes twice is a fault. */
static SherdImportItem *
find_or_add_item (SherdImport *self, SherdCsvRow *row)
{
  const char *name = sherd_import_list_get (&self->list, row, self->is_of_paints ? "paint" : "name");
  g_autofree char *key = self->is_of_paints ? g_strdup (name) : g_utf8_casefold (name != NULL ? name : "", -1);
  SherdImportItem *there = name != NULL && *name != '\0' ? g_hash_table_lookup (self->by_name, key) : NULL;
  SherdImportItem *item;

  if (there != NULL && self->is_of_paints)
    return there;
  item = g_new0 (SherdImportItem, 1);
  item->line = row->line;
  item->name = g_strdup (name != NULL ? name : "");
  item->fate = "same";
  item->rows = g_ptr_array_new ();
  g_ptr_array_add (self->items, item);
  if (*item->name == '\0')
    fault (item, self->is_of_paints ? _ ("The code of the paint is missing.") : _ ("The name is missing."));
  else if (there != NULL)
    fault (item, _ ("This material is in the list twice."));
  else
    g_hash_table_insert (self->by_name, g_steal_pointer (&key), item);
  return item;
}

/* "5,2" without quotes is two cells in a list with commas, and what follows it stands one column too far. */
static gboolean
is_too_long (const SherdImport *self, const SherdCsvRow *row)
{
  const guint n_columns = g_strv_length (self->list.header);

  for (guint i = n_columns; i < g_strv_length (row->fields); i++)
    if (*row->fields[i] != '\0')
      return TRUE;
  return FALSE;
}

static void
take_row (SherdImport *self, SherdCsvRow *row)
{
  SherdImportItem *item = find_or_add_item (self, row);
  g_autofree char *too_long =
    g_strdup_printf (_ ("line %u: it has more cells than there are columns. A cell that holds “%c” belongs in quotes."),
                     row->line, self->list.csv->separator);

  if (!item->is_faulty && is_too_long (self, row))
    fault (item, too_long);
  g_ptr_array_add (item->rows, row);
}

/* Paints first get all their codes, because recipes name paints that may come later. */
static void
add_codes (SherdImport *self, SherdTrial *trial)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      SherdImportItem *item = g_ptr_array_index (self->items, i);
      g_autoptr (GError) problem = NULL;

      if (item->is_faulty)
        continue;
      item->fate = sherd_trial_find_paint_by_code (trial, item->name) != NULL ? "changes" : "adds";
      if (g_str_equal (item->fate, "adds") && sherd_trial_add_paint (trial, item->name, NULL, &problem) == NULL)
        fault (item, problem->message);
    }
}

/* Takes all into @trial that is not known to be faulty; TRUE when no new fault was met. */
static gboolean
take_in (SherdImport *self, SherdTrial *trial)
{
  gboolean is_good = TRUE;

  if (self->is_of_paints)
    add_codes (self, trial);
  for (guint i = 0; i < self->items->len; i++)
    {
      SherdImportItem *item = g_ptr_array_index (self->items, i);
      g_autoptr (GError) problem = NULL;

      if (item->is_faulty || (self->is_of_paints ? sherd_import_paint (&self->list, trial, item, &problem)
                                                 : sherd_import_material (&self->list, trial, item, &problem)))
        continue;
      fault (item, problem->message);
      is_good = FALSE;
    }
  return is_good;
}

/* On a copy of the trial, until what is left over goes in whole: a paint may be mixed of one that cannot be taken in.
 */
static gboolean
rehearse (SherdImport *self, GError **error)
{
  gsize length;
  g_autofree char *text = sherd_trial_dup_text (self->trial, &length);
  gboolean is_good = FALSE;

  while (!is_good)
    {
      g_autoptr (SherdTrial) copy = sherd_trial_new_from_text (text, length, "", error);

      if (copy == NULL)
        return FALSE;
      is_good = take_in (self, copy);
    }
  return TRUE;
}

static void
add_table_row (SherdTable *table, guint line, const char *name, const char *fate, const char *remark)
{
  sherd_table_add_row (table);
  sherd_table_set_integer (table, "line", line);
  sherd_table_set_text (table, "name", name);
  sherd_table_set_text (table, "fate", fate);
  sherd_table_set_text (table, "remark", remark != NULL ? remark : "");
}

static void
list_strange_columns (SherdImport *self)
{
  for (char **name = self->list.header; *name != NULL; name++)
    if (**name != '\0' &&
        (self->is_of_paints ? !g_strv_contains (paint_columns, *name) : sherd_exchange_find_field (*name) == NULL))
      add_table_row (self->table, 1, *name, "left-out", _ ("No column has this name: it is left out."));
}

static void
make_table (SherdImport *self)
{
  const SherdColumn columns[] = {
    { "line", _ ("Line"), SHERD_COLUMN_INTEGER, 0 },
    { "name", _ ("Name"), SHERD_COLUMN_TEXT, 0 },
    { "fate", _ ("What happens"), SHERD_COLUMN_TEXT, 0 },
    { "remark", _ ("Remark"), SHERD_COLUMN_TEXT, 0 },
  };

  self->table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  list_strange_columns (self);
  for (guint i = 0; i < self->items->len; i++)
    {
      const SherdImportItem *item = g_ptr_array_index (self->items, i);

      add_table_row (self->table, item->line, item->name, item->fate, item->remark);
    }
}

/**
 * sherd_import_new:
 * @trial: a trial
 * @text: (array length=length): bytes of a CSV file: a list of materials or of paints, told by its columns
 * @length: how many
 * @error: place for an error
 *
 * Reads the list and finds out what it would change. Nothing is changed yet.
 *
 * Returns: (transfer full) (nullable): the import; NULL with SHERD_TRIAL_ERROR_SYNTAX or SHERD_TRIAL_ERROR_CONTENT when
 * the whole cannot be read
 */
SherdImport *
sherd_import_new (SherdTrial *trial, const char *text, gsize length, GError **error)
{
  g_autoptr (SherdImport) self = g_new0 (SherdImport, 1);

  self->trial = g_object_ref (trial);
  self->items = g_ptr_array_new_with_free_func (item_free);
  self->by_name = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->list.built_ins = sherd_built_in_materials_new ();
  self->list.csv = sherd_csv_new (text, length, error);
  if (self->list.csv == NULL || !check_length (self, error) || !read_header (self, error))
    return NULL;
  self->list.mark = find_mark (self->list.csv);
  for (guint i = 1; i < self->list.csv->rows->len; i++)
    take_row (self, g_ptr_array_index (self->list.csv->rows, i));
  if (!rehearse (self, error))
    return NULL;
  make_table (self);
  return g_steal_pointer (&self);
}

/**
 * sherd_import_free:
 * @import: (transfer full): an import
 */
void
sherd_import_free (SherdImport *import)
{
  g_clear_object (&import->trial);
  g_clear_pointer (&import->table, sherd_table_free);
  g_clear_pointer (&import->by_name, g_hash_table_unref);
  g_clear_pointer (&import->items, g_ptr_array_unref);
  g_clear_pointer (&import->list.csv, sherd_csv_free);
  g_clear_pointer (&import->list.built_ins, g_ptr_array_unref);
  g_strfreev (import->list.header);
  g_free (import);
}

/**
 * sherd_import_get_table:
 * @import: an import
 *
 * Returns: (transfer none): what happens to each material or paint of the list
 */
const SherdTable *
sherd_import_get_table (const SherdImport *import)
{
  return import->table;
}

/**
 * sherd_import_count_faults:
 * @import: an import
 *
 * Returns: how many materials or paints of the list cannot be taken in
 */
guint
sherd_import_count_faults (const SherdImport *import)
{
  guint count = 0;

  for (guint i = 0; i < import->items->len; i++)
    count += ((const SherdImportItem *)g_ptr_array_index (import->items, i))->is_faulty;
  return count;
}

/**
 * sherd_import_count_changes:
 * @import: an import
 *
 * Returns: how many materials or paints would be added or changed
 */
guint
sherd_import_count_changes (const SherdImport *import)
{
  guint count = 0;

  for (guint i = 0; i < import->items->len; i++)
    {
      const SherdImportItem *item = g_ptr_array_index (import->items, i);

      count += g_str_equal (item->fate, "adds") || g_str_equal (item->fate, "changes");
    }
  return count;
}

/**
 * sherd_import_apply:
 * @import: an import
 * @error: place for an error
 *
 * Takes in what can be, as one undoable edit.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_CHANGED, and nothing changed, when the trial has become another since
 */
gboolean
sherd_import_apply (SherdImport *import, GError **error)
{
  sherd_trial_begin_edit (import->trial, import->is_of_paints ? _ ("Import paints") : _ ("Import materials"));
  if (take_in (import, import->trial))
    {
      sherd_trial_end_edit (import->trial);
      return TRUE;
    }
  sherd_trial_cancel_edit (import->trial);
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_CHANGED,
                       _ ("The trial was changed since the list was read. Read it again."));
  return FALSE;
}
