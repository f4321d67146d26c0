/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/cgats-text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "colour/chart.h"

/* Our choice: a chart's text file stays far below. */
#define MAX_BYTES (4u * 1024u * 1024u)

/* Our choice: no name or number is longer, and LittleCMS cuts longer ones in two. */
#define MAX_CELL_BYTES 255u

/* A word of a line; the text is not ended by a zero. */
typedef struct
{
  const char *text;
  gsize length;
  char quote; /* '"', '\'' or 0 */
} Word;

typedef enum
{
  SECTION_KEYWORDS,
  SECTION_FORMAT,
  SECTION_DATA
} Section;

typedef struct
{
  SherdCgatsText *result;
  SherdCgatsTable *table;
  GRegex *light;
  GRegex *observer;
  Section section;
  guint n_fields;
  guint n_cells; /* of the row so far */
  guint n_rows;  /* of all tables */
  guint line;
  gboolean sheet_seen;
} Scan;

/**
 * sherd_cgats_refuse:
 * @error: place for an error
 * @format: what is wrong and what to do, a sentence without a capital
 *
 * Sets SHERD_COLOUR_ERROR_CGATS.
 *
 * Returns: %FALSE
 */
gboolean
sherd_cgats_refuse (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *reason = NULL;

  va_start (arguments, format);
  reason = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, SHERD_COLOUR_ERROR, SHERD_COLOUR_ERROR_CGATS, _ ("The chart's text file cannot be used: %s"),
               reason);
  return FALSE;
}

static void
table_free (gpointer data)
{
  SherdCgatsTable *table = data;

  g_array_unref (table->row_lines);
  g_free (table->other_light);
  g_free (table);
}

static SherdCgatsTable *
add_table (SherdCgatsText *self)
{
  SherdCgatsTable *table = g_new0 (SherdCgatsTable, 1);

  table->row_lines = g_array_new (FALSE, FALSE, sizeof (guint));
  g_ptr_array_add (self->tables, table);
  return table;
}

static gboolean
starts_with (const char *bytes, gsize n_bytes, const char *mark)
{
  return n_bytes >= strlen (mark) && memcmp (bytes, mark, strlen (mark)) == 0;
}

/* Spreadsheets save UTF-8 or UTF-16 with a byte-order mark, older programs of instruments the Windows code page. NULL
 * for what is not text. */
static char *
to_utf8 (const char *bytes, gsize n_bytes)
{
  const gboolean utf16 = starts_with (bytes, n_bytes, "\xff\xfe") || starts_with (bytes, n_bytes, "\xfe\xff");
  const gsize n_mark = starts_with (bytes, n_bytes, "\xef\xbb\xbf") ? 3 : 0;
  const char *charset = "UTF-8";
  g_autofree char *utf8 = NULL;
  gsize n_utf8 = 0;

  if (utf16)
    charset = "UTF-16";
  else if (!g_utf8_validate (bytes, (gssize)n_bytes, NULL))
    charset = "WINDOWS-1252";
  utf8 = g_convert (bytes + n_mark, (gssize)(n_bytes - n_mark), "UTF-8", charset, NULL, &n_utf8, NULL);
  return utf8 != NULL && strlen (utf8) == n_utf8 ? g_steal_pointer (&utf8) : NULL;
}

/* Lines end in LF, CR LF or CR. */
static GStrv
split_lines (char *text)
{
  const char *from = text;
  char *to = text;

  for (; *from != '\0'; from++)
    if (*from == '\r')
      {
        if (from[1] != '\n')
          *to++ = '\n';
      }
    else
      *to++ = *from;
  *to = '\0';
  return g_strsplit (text, "\n", -1);
}

/* The next word of a line, as LittleCMS cuts them; a comment ends the line. */
static gboolean
next_word (const char **cursor, Word *word)
{
  const char *at = *cursor + strspn (*cursor, " \t");

  if (*at == '\0' || *at == '#')
    return FALSE;
  word->quote = *at == '"' || *at == '\'' ? *at : '\0';
  if (word->quote != '\0')
    {
      const char *end = strchrnul (at + 1, word->quote);

      word->text = at + 1;
      word->length = (gsize)(end - word->text);
      *cursor = *end != '\0' ? end + 1 : end;
      return TRUE;
    }
  word->text = at;
  word->length = strcspn (at, " \t#\"'");
  *cursor = at + word->length;
  return TRUE;
}

static gboolean
is_keyword (const Word *word, const char *keyword)
{
  return word->quote == '\0' && word->length == strlen (keyword) &&
         g_ascii_strncasecmp (word->text, keyword, word->length) == 0;
}

/* LittleCMS would open the file named after it. */
static gboolean
is_include (const Word *word)
{
  g_autofree char *upper = g_ascii_strup (word->text, (gssize)word->length);

  return word->quote == '\0' && strstr (upper, ".INCLUDE") != NULL;
}

static void
append_word (GString *text, const Word *word, char quote)
{
  if (quote != '\0')
    g_string_append_c (text, quote);
  g_string_append_len (text, word->text, (gssize)word->length);
  if (quote != '\0')
    g_string_append_c (text, quote);
  g_string_append_c (text, ' ');
}

/* A row begins on a line of its own and may go on over the next. */
static gboolean
end_row (Scan *scan, gboolean at_end_of_data, GError **error)
{
  const GArray *lines = scan->table->row_lines;

  if (scan->n_cells == scan->n_fields)
    scan->n_cells = 0;
  if (scan->n_cells <= scan->n_fields && !(at_end_of_data && scan->n_cells > 0))
    return TRUE;
  return sherd_cgats_refuse (
    error, _ ("the row that begins in line %u does not have %u values, one for each column. Fill in what is missing."),
    g_array_index (lines, guint, lines->len - 1), scan->n_fields);
}

/* In quotes LittleCMS leaves a cell as it is; bare it would make 1 of 01 and 16 of 0x10. Of nothing in quotes it would
 * make the cell before. */
static void
add_cell (Scan *scan, const Word *word)
{
  static const Word blank = { .text = " ", .length = 1 };

  if (scan->n_cells == 0)
    {
      g_array_append_val (scan->table->row_lines, scan->line);
      scan->n_rows++;
    }
  scan->n_cells++;
  append_word (scan->result->text, word->length > 0 ? word : &blank, word->quote == '\'' ? '\'' : '"');
}

static gboolean
begin_data (Scan *scan, GError **error)
{
  if (scan->n_fields == 0)
    return sherd_cgats_refuse (error,
                               _ ("line %u: data begin, but no line between BEGIN_DATA_FORMAT and "
                                  "END_DATA_FORMAT tells what its columns are."),
                               scan->line);
  scan->section = SECTION_DATA;
  scan->n_cells = 0;
  return TRUE;
}

static gboolean
take_outside_data (Scan *scan, const Word *word, GError **error)
{
  append_word (scan->result->text, word, word->quote);
  if (is_keyword (word, "BEGIN_DATA_FORMAT"))
    {
      scan->section = SECTION_FORMAT;
      scan->n_fields = 0;
    }
  else if (is_keyword (word, "END_DATA_FORMAT"))
    scan->section = SECTION_KEYWORDS;
  else if (is_keyword (word, "BEGIN_DATA"))
    return begin_data (scan, error);
  else if (scan->section == SECTION_FORMAT)
    scan->n_fields++;
  return TRUE;
}

static gboolean
take_in_data (Scan *scan, const Word *word, GError **error)
{
  if (!is_keyword (word, "END_DATA"))
    {
      add_cell (scan, word);
      return TRUE;
    }
  append_word (scan->result->text, word, '\0');
  if (!end_row (scan, TRUE, error))
    return FALSE;
  scan->section = SECTION_KEYWORDS;
  scan->n_fields = 0;
  scan->table = add_table (scan->result);
  return TRUE;
}

static gboolean
take_word (Scan *scan, const Word *word, GError **error)
{
  if (word->length > MAX_CELL_BYTES)
    return sherd_cgats_refuse (error, _ ("line %u: a value is longer than %u letters. Is this the right file?"),
                               scan->line, MAX_CELL_BYTES);
  if (is_include (word))
    return sherd_cgats_refuse (
      error, _ ("line %u: it asks for another file by .INCLUDE. Put all values into one file."), scan->line);
  if (scan->section == SECTION_DATA)
    return take_in_data (scan, word, error);
  return take_outside_data (scan, word, error);
}

static char *
find (GRegex *regex, const char *line)
{
  g_autoptr (GMatchInfo) found = NULL;

  return g_regex_match (regex, line, 0, &found) ? g_match_info_fetch (found, 1) : NULL;
}

/* Another light or observer would make every colour another number. */
static void
look_for_light (Scan *scan, const char *line)
{
  g_autofree char *light = find (scan->light, line);
  g_autofree char *observer = find (scan->observer, line);
  const gboolean other_light = light != NULL && g_ascii_strcasecmp (light, "D50") != 0;
  const gboolean other_observer = observer != NULL && strcmp (observer, "2") != 0 && strcmp (observer, "1931") != 0;

  if ((other_light || other_observer) && scan->table->other_light == NULL)
    scan->table->other_light = g_strstrip (g_strdup (line));
}

static gboolean
take_words (Scan *scan, const char *line, GError **error)
{
  const gboolean keywords = scan->section == SECTION_KEYWORDS;
  const gsize start = scan->result->text->len;
  Word word;

  while (next_word (&line, &word))
    {
      if (!scan->sheet_seen)
        {
          scan->sheet_seen = TRUE;
          return TRUE;
        }
      if (!take_word (scan, &word, error))
        return FALSE;
    }
  if (keywords)
    look_for_light (scan, scan->result->text->str + start);
  return scan->section != SECTION_DATA || end_row (scan, FALSE, error);
}

/* The first line with words on it is the kind of sheet, whatever it says: LittleCMS knows only short ones. */
static gboolean
take_lines (Scan *scan, GStrv lines, GError **error)
{
  g_string_append (scan->result->text, "CGATS.17");
  for (scan->line = 1; lines[scan->line - 1] != NULL; scan->line++)
    {
      if (!take_words (scan, lines[scan->line - 1], error))
        return FALSE;
      g_string_append_c (scan->result->text, '\n');
    }
  if (scan->section == SECTION_DATA && !end_row (scan, TRUE, error))
    return FALSE;
  if (scan->n_rows == 0)
    return sherd_cgats_refuse (error, _ ("it holds no rows between BEGIN_DATA and END_DATA. Choose the CGATS.17 text "
                                         "file with the chart's values."));
  return TRUE;
}

static gboolean
scan_text (SherdCgatsText *self, char *utf8, GError **error)
{
  g_auto (GStrv) lines = split_lines (utf8);
  g_autoptr (GRegex) light = g_regex_new ("(?i:ILLUMIN(?:ANT|ATION)(?:_NAME)?)[\"'\\s,:=]+"
                                          "([Dd]\\d\\d|[ABCE]|FL?\\d{1,2}|TL\\d\\d)\\b",
                                          0, 0, NULL);
  g_autoptr (GRegex) observer = g_regex_new ("(?i:OBSERVER(?:_?ANGLE)?)[\"'\\s,:=]+(\\d+)", 0, 0, NULL);
  Scan scan = { .result = self, .table = add_table (self), .light = light, .observer = observer };

  return take_lines (&scan, lines, error);
}

/**
 * sherd_cgats_text_new:
 * @bytes: (array length=n_bytes): the file; need not end with a zero
 * @n_bytes: its length
 * @error: SHERD_COLOUR_ERROR_CGATS, naming the line
 *
 * Makes a CGATS.17 (ISO 28178) text ready for LittleCMS: UTF-8 without byte-order mark (UTF-16 with a mark and the
 * Windows code page are converted), every cell of the data in quotes so that it comes back as it was written, and no
 * .INCLUDE, by which LittleCMS would open other files. Rows with too few or too many values are refused.
 *
 * Returns: (transfer full): the text and what it says of its tables
 */
SherdCgatsText *
sherd_cgats_text_new (const char *bytes, gsize n_bytes, GError **error)
{
  g_autoptr (SherdCgatsText) self = NULL;
  g_autofree char *utf8 = NULL;

  if (n_bytes == 0)
    {
      sherd_cgats_refuse (error, _ ("it is empty."));
      return NULL;
    }
  if (n_bytes > MAX_BYTES)
    {
      sherd_cgats_refuse (error, _ ("it is far too large for a chart's values. Is this the right file?"));
      return NULL;
    }
  utf8 = to_utf8 (bytes, n_bytes);
  if (utf8 == NULL)
    {
      sherd_cgats_refuse (error, _ ("it is not text. Choose the CGATS.17 text file with the chart's values."));
      return NULL;
    }
  self = g_new0 (SherdCgatsText, 1);
  self->text = g_string_new (NULL);
  self->tables = g_ptr_array_new_with_free_func (table_free);
  return scan_text (self, utf8, error) ? g_steal_pointer (&self) : NULL;
}

void
sherd_cgats_text_free (SherdCgatsText *self)
{
  if (self == NULL)
    return;
  g_string_free (self->text, TRUE);
  g_ptr_array_unref (self->tables);
  g_free (self);
}
