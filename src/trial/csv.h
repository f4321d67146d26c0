/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Comma-separated values as spreadsheets write them: RFC 4180 quoting; “,”, “;” or tab between fields; any kind of line
 * end; UTF-8 with or without a byte order mark. */

typedef struct
{
  guint line; /* on which it begins, from 1 */
  GStrv fields;
} SherdCsvRow;

typedef struct
{
  char separator;
  GPtrArray *rows; /* of SherdCsvRow; empty lines are left out */
} SherdCsv;

/* (transfer full) (nullable): SHERD_TRIAL_ERROR_SYNTAX, naming the line */
SherdCsv *sherd_csv_new (const char *text, gsize length, GError **error);
void sherd_csv_free (SherdCsv *csv);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdCsv, sherd_csv_free)

G_END_DECLS
