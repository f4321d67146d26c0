/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What LittleCMS does not tell of a table: where its rows stand and which light it is for. */
typedef struct
{
  GArray *row_lines; /* of guint: line of the file, from 1, where each row of data begins */
  char *other_light; /* (nullable): the line that names another light than D50 or another observer than 2° */
} SherdCgatsTable;

/* A CGATS.17 (ISO 28178) text in the form that LittleCMS takes without guessing. */
typedef struct
{
  GString *text;     /* UTF-8, line for line as in the file, every cell of the data in quotes */
  GPtrArray *tables; /* of SherdCgatsTable, in the order of the file */
} SherdCgatsText;

SherdCgatsText *sherd_cgats_text_new (const char *bytes, gsize n_bytes, GError **error);
void sherd_cgats_text_free (SherdCgatsText *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdCgatsText, sherd_cgats_text_free)

gboolean sherd_cgats_refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

G_END_DECLS
