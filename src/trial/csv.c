/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/csv.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/error.h"
#include "trial/json-text.h"

/* Our choice: a larger file is no list of paints. */
#define MAX_BYTES (16u * 1024u * 1024u)

typedef struct
{
  const char *at;
  const char *end;
  char separator;
  guint line;
} Scanner;

static void
row_free (gpointer data)
{
  SherdCsvRow *row = data;

  g_strfreev (row->fields);
  g_free (row);
}

/**
 * sherd_csv_free:
 * @csv: (transfer full): rows
 */
void
sherd_csv_free (SherdCsv *csv)
{
  g_ptr_array_unref (csv->rows);
  g_free (csv);
}

static gboolean
refuse (guint line, const char *problem, GError **error)
{
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX, _ ("line %u: %s"), line, problem);
  return FALSE;
}

static gboolean
at_line_end (const Scanner *scanner)
{
  return scanner->at == scanner->end || *scanner->at == '\n' || *scanner->at == '\r';
}

static void
skip_line_end (Scanner *scanner)
{
  if (scanner->at < scanner->end && *scanner->at == '\r')
    scanner->at++;
  if (scanner->at < scanner->end && *scanner->at == '\n')
    scanner->at++;
  scanner->line++;
}

/* Counts line ends within quotes: "\r\n" once. */
static void
take_quoted_char (Scanner *scanner, GString *field)
{
  if (*scanner->at == '\n' || (*scanner->at == '\r' && (scanner->at + 1 == scanner->end || scanner->at[1] != '\n')))
    scanner->line++;
  g_string_append_c (field, *scanner->at++);
}

/* Behind the opening quote; two quotes stand for one (RFC 4180, 2.7). */
static gboolean
read_quoted (Scanner *scanner, GString *field, GError **error)
{
  const guint first_line = scanner->line;

  while (scanner->at < scanner->end)
    {
      if (*scanner->at != '"')
        take_quoted_char (scanner, field);
      else if (scanner->at + 1 < scanner->end && scanner->at[1] == '"')
        {
          g_string_append_c (field, '"');
          scanner->at += 2;
        }
      else
        {
          scanner->at++;
          if (at_line_end (scanner) || *scanner->at == scanner->separator)
            return TRUE;
          return refuse (scanner->line, _ ("something follows a closing quote."), error);
        }
    }
  return refuse (first_line, _ ("a quote is opened here and never closed."), error);
}

static gboolean
read_field (Scanner *scanner, GStrvBuilder *fields, GError **error)
{
  g_autoptr (GString) field = g_string_new (NULL);

  if (scanner->at < scanner->end && *scanner->at == '"')
    {
      scanner->at++;
      if (!read_quoted (scanner, field, error))
        return FALSE;
    }
  while (!at_line_end (scanner) && *scanner->at != scanner->separator)
    g_string_append_c (field, *scanner->at++);
  g_strstrip (field->str);
  g_strv_builder_add (fields, field->str);
  return TRUE;
}

static gboolean
read_row (Scanner *scanner, GPtrArray *rows, GError **error)
{
  g_autoptr (GStrvBuilder) fields = g_strv_builder_new ();
  SherdCsvRow *row = g_new0 (SherdCsvRow, 1);
  gboolean is_empty = TRUE;

  g_ptr_array_add (rows, row);
  row->line = scanner->line;
  while (TRUE)
    {
      if (!read_field (scanner, fields, error))
        return FALSE;
      if (at_line_end (scanner))
        break;
      scanner->at++;
    }
  skip_line_end (scanner);
  row->fields = g_strv_builder_end (fields);
  for (guint i = 0; row->fields[i] != NULL; i++)
    is_empty = is_empty && *row->fields[i] == '\0';
  if (is_empty)
    g_ptr_array_set_size (rows, (gint)rows->len - 1);
  return TRUE;
}

/* What occurs most in the first line, outside quotes; a comma when none does. */
static char
find_separator (const char *text, const char *end)
{
  static const char candidates[] = { ',', ';', '\t' };
  guint counts[G_N_ELEMENTS (candidates)] = { 0 };
  gboolean is_quoted = FALSE;
  guint best = 0;

  for (const char *c = text; c < end && (is_quoted || (*c != '\n' && *c != '\r')); c++)
    {
      if (*c == '"')
        is_quoted = !is_quoted;
      for (guint i = 0; i < G_N_ELEMENTS (candidates) && !is_quoted; i++)
        counts[i] += *c == candidates[i];
    }
  for (guint i = 1; i < G_N_ELEMENTS (candidates); i++)
    if (counts[i] > counts[best])
      best = i;
  return candidates[best];
}

static guint
count_lines (const char *text, const char *end)
{
  guint line = 1;

  for (; text < end; text++)
    line += *text == '\n';
  return line;
}

static gboolean
check_bytes (const char *text, gsize length, GError **error)
{
  const char *bad;

  if (length > MAX_BYTES)
    return refuse (1, _ ("the file is too large for a list of paints or materials."), error);
  if (g_utf8_validate_len (text, length, &bad))
    return TRUE;
  return refuse (count_lines (text, bad), _ ("this is not UTF-8 text. Save it from the spreadsheet as CSV in UTF-8."),
                 error);
}

/**
 * sherd_csv_new:
 * @text: (array length=length): bytes of a file
 * @length: how many
 * @error: place for an error
 *
 * Returns: (transfer full) (nullable): its rows; NULL with SHERD_TRIAL_ERROR_SYNTAX
 */
SherdCsv *
sherd_csv_new (const char *text, gsize length, GError **error)
{
  const gsize bom = sherd_json_skip_bom (text, length);
  const char *start = text + bom, *end = text + length;
  Scanner scanner = { .at = start, .end = end, .separator = find_separator (start, end), .line = 1 };
  g_autoptr (SherdCsv) csv = NULL;

  if (!check_bytes (text, length, error))
    return NULL;
  csv = g_new0 (SherdCsv, 1);
  csv->separator = scanner.separator;
  csv->rows = g_ptr_array_new_with_free_func (row_free);
  while (scanner.at < scanner.end)
    if (!read_row (&scanner, csv->rows, error))
      return NULL;
  return g_steal_pointer (&csv);
}
