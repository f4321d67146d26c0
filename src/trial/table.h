/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* A results table with typed cells, so that text, CSV, JSON and a printed page all say the same. */
typedef struct _SherdTable SherdTable;

typedef enum
{
  SHERD_COLUMN_TEXT,
  SHERD_COLUMN_NUMBER,
  SHERD_COLUMN_INTEGER,
  SHERD_COLUMN_BOOLEAN
} SherdColumnKind;

typedef struct
{
  const char *key;     /* name in CSV and JSON, never translated, unit at the end */
  const char *heading; /* translated, for people; NULL keeps the column out of the text form */
  SherdColumnKind kind;
  guint decimals; /* of a number in the text form; CSV and JSON are written in full */
} SherdColumn;

SherdTable *sherd_table_new (const SherdColumn *columns, guint n_columns);
void sherd_table_free (SherdTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdTable, sherd_table_free)

void sherd_table_add_row (SherdTable *table);
void sherd_table_set_text (SherdTable *table, const char *key, const char *text);
void sherd_table_set_number (SherdTable *table, const char *key, double value);
void sherd_table_set_integer (SherdTable *table, const char *key, gint64 value);
void sherd_table_set_boolean (SherdTable *table, const char *key, gboolean value);

guint sherd_table_get_n_rows (const SherdTable *table);
guint sherd_table_get_n_columns (const SherdTable *table);
const SherdColumn *sherd_table_get_column (const SherdTable *table, guint column);
char *sherd_table_dup_cell (const SherdTable *table, guint row, guint column);

char *sherd_table_to_text (const SherdTable *table);
char *sherd_table_to_csv (const SherdTable *table);
JsonNode *sherd_table_to_json (const SherdTable *table);

G_END_DECLS
