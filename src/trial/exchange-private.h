/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/csv.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What export and import share, and what the two kinds of list that are imported have in common. */

/* (nullable) */
const SherdRecordField *sherd_exchange_find_field (const char *name);
/* (transfer full): "1/3" as typed where it says the same, else the shortest decimal, with "." */
char *sherd_exchange_dup_parts (const SherdIngredient *ingredient);

/* Something of the list: a material, or a paint with all its rows. */
typedef struct
{
  guint line;
  char *name;      /* of the material, or the paint's code */
  GPtrArray *rows; /* of SherdCsvRow, borrowed */
  gboolean is_faulty;
  const char *fate; /* "adds", "changes", "same", "cannot" */
  char *remark;
} SherdImportItem;

/* The list as it was read. */
typedef struct
{
  SherdCsv *csv;
  GStrv header;         /* names of the columns */
  const char *mark;     /* decimal mark */
  GPtrArray *built_ins; /* of SherdMaterialRecord */
} SherdImportList;

/* (nullable) (transfer none): NULL when there is no such column, or the row is too short */
const char *sherd_import_list_get (const SherdImportList *list, const SherdCsvRow *row, const char *column);
/* NAN for an empty cell. SHERD_TRIAL_ERROR_VALUE, naming the column */
gboolean sherd_import_list_get_number (const SherdImportList *list,
                                       const SherdCsvRow *row,
                                       const char *column,
                                       double *number,
                                       GError **error);

/* Take one item into @trial and tell its fate; FALSE with an error when it cannot be. In import-material.c and
 * import-paint.c. */
gboolean sherd_import_material (const SherdImportList *list, SherdTrial *trial, SherdImportItem *item, GError **error);
gboolean sherd_import_paint (const SherdImportList *list, SherdTrial *trial, SherdImportItem *item, GError **error);

G_END_DECLS
