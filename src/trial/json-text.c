/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/json-text.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/error.h"

/* A recursive descent over the grammar of RFC 8259, one function a rule; the depth limit bounds the stack. */
typedef struct
{
  const char *at;
  const char *end;
  guint line;
  guint depth;
  GString *path;
  const char *wanted; /* (nullable): path whose line is asked for */
  guint wanted_line;
  gsize wanted_length; /* how much of the wanted path was met so far */
  GError **error;
} Scanner;

static gboolean scan_value (Scanner *scanner);

static gboolean G_GNUC_PRINTF (2, 3) fail (Scanner *scanner, const char *format, ...)
{
  g_autofree char *problem = NULL;
  va_list arguments;

  va_start (arguments, format);
  problem = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (scanner->path->len > 0)
    g_set_error (scanner->error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX, _ ("line %u, %s: %s"), scanner->line,
                 scanner->path->str, problem);
  else
    g_set_error (scanner->error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX, _ ("line %u: %s"), scanner->line,
                 problem);
  return FALSE;
}

static gboolean
at_byte (const Scanner *scanner, char byte)
{
  return scanner->at < scanner->end && *scanner->at == byte;
}

static gboolean
at_digit (const Scanner *scanner)
{
  return scanner->at < scanner->end && g_ascii_isdigit (*scanner->at);
}

static void
skip_space (Scanner *scanner)
{
  for (; scanner->at < scanner->end; scanner->at++)
    switch (*scanner->at)
      {
      case '\n':
        scanner->line++;
        break;
      case ' ':
      case '\t':
      case '\r':
        break;
      default:
        return;
      }
}

static gboolean
fail_here (Scanner *scanner)
{
  if (scanner->at >= scanner->end)
    return fail (scanner, _ ("the file ends in the middle. It was cut off."));
  if (g_ascii_isprint (*scanner->at))
    return fail (scanner, _ ("“%c” is not expected here."), *scanner->at);
  return fail (scanner, _ ("a character that JSON does not allow here."));
}

static gboolean
read_unit (Scanner *scanner, gunichar *unit)
{
  *unit = 0;
  for (guint i = 0; i < 4; i++, scanner->at++)
    {
      if (scanner->at >= scanner->end || !g_ascii_isxdigit (*scanner->at))
        return fail (scanner, _ ("“\\u” must be followed by four hexadecimal digits."));
      *unit = *unit * 16 + (gunichar)g_ascii_xdigit_value (*scanner->at);
    }
  return TRUE;
}

/* After "\u": a code unit, or two that make a surrogate pair (RFC 8259, section 7). */
static gboolean
read_escaped_unit (Scanner *scanner, GString *name)
{
  gunichar unit, low;

  if (!read_unit (scanner, &unit))
    return FALSE;
  if (unit >= 0xd800 && unit < 0xdc00 && scanner->end - scanner->at >= 2 && scanner->at[0] == '\\' &&
      scanner->at[1] == 'u')
    {
      scanner->at += 2;
      if (!read_unit (scanner, &low))
        return FALSE;
      if (low < 0xdc00 || low > 0xdfff)
        return fail (scanner, _ ("half a character (a lone surrogate) in a text."));
      unit = 0x10000 + ((unit - 0xd800) << 10) + (low - 0xdc00);
    }
  if (unit == 0)
    return fail (scanner, _ ("a NUL character in a text."));
  if (unit >= 0xd800 && unit <= 0xdfff)
    return fail (scanner, _ ("half a character (a lone surrogate) in a text."));
  if (name != NULL)
    g_string_append_unichar (name, unit);
  return TRUE;
}

static gboolean
read_escape (Scanner *scanner, GString *name)
{
  static const char letters[] = "\"\\/bfnrt", meanings[] = "\"\\/\b\f\n\r\t";
  const char *letter;

  scanner->at++;
  if (at_byte (scanner, 'u'))
    {
      scanner->at++;
      return read_escaped_unit (scanner, name);
    }
  letter = scanner->at < scanner->end && *scanner->at != '\0' ? strchr (letters, *scanner->at) : NULL;
  if (letter == NULL)
    return fail (scanner, _ ("an unknown escape after “\\”."));
  scanner->at++;
  if (name != NULL)
    g_string_append_c (name, meanings[letter - letters]);
  return TRUE;
}

/* @name: (nullable): takes the text itself, to compare member names by what they say, not by how they are escaped */
static gboolean
scan_string (Scanner *scanner, GString *name)
{
  if (!at_byte (scanner, '"'))
    return fail_here (scanner);
  scanner->at++;
  while (scanner->at < scanner->end && *scanner->at != '"')
    {
      if (*scanner->at == '\\')
        {
          if (!read_escape (scanner, name))
            return FALSE;
          continue;
        }
      if ((guchar)*scanner->at < 0x20)
        return fail (scanner, _ ("a text is not closed, or holds a control character."));
      if (name != NULL)
        g_string_append_c (name, *scanner->at);
      scanner->at++;
    }
  if (scanner->at >= scanner->end)
    return fail_here (scanner);
  scanner->at++;
  return TRUE;
}

static gboolean
skip_digits (Scanner *scanner)
{
  if (!at_digit (scanner))
    return fail (scanner, _ ("a number lacks a digit."));
  while (at_digit (scanner))
    scanner->at++;
  return TRUE;
}

/* A whole number must fit 64 bits and any other a double, or it would silently become something else. */
static gboolean
check_range (Scanner *scanner, const char *start, gboolean whole)
{
  g_autofree char *number = g_strndup (start, (gsize)(scanner->at - start));
  const gboolean fits = whole ? g_ascii_string_to_signed (number, 10, G_MININT64, G_MAXINT64, NULL, NULL)
                              : isfinite (g_ascii_strtod (number, NULL));

  return fits || fail (scanner, _ ("the number %.40s is too large."), number);
}

static gboolean
scan_number (Scanner *scanner)
{
  const char *start = scanner->at;
  gboolean whole = TRUE;

  if (at_byte (scanner, '-'))
    scanner->at++;
  if (at_byte (scanner, '0') && scanner->at + 1 < scanner->end && g_ascii_isdigit (scanner->at[1]))
    return fail (scanner, _ ("a number must not begin with 0."));
  if (!skip_digits (scanner))
    return FALSE;
  if (at_byte (scanner, '.'))
    {
      whole = FALSE;
      scanner->at++;
      if (!skip_digits (scanner))
        return FALSE;
    }
  if (at_byte (scanner, 'e') || at_byte (scanner, 'E'))
    {
      whole = FALSE;
      scanner->at++;
      if (at_byte (scanner, '+') || at_byte (scanner, '-'))
        scanner->at++;
      if (!skip_digits (scanner))
        return FALSE;
    }
  return check_range (scanner, start, whole);
}

static gboolean
scan_word (Scanner *scanner, const char *word)
{
  const gsize length = strlen (word);

  if ((gsize)(scanner->end - scanner->at) < length || memcmp (scanner->at, word, length) != 0)
    return fail_here (scanner);
  scanner->at += length;
  return TRUE;
}

/* The line of the wanted value, or of the innermost thing on the way to it. */
static void
note_line (Scanner *scanner)
{
  const gsize length = scanner->path->len;

  if (scanner->wanted == NULL || (length > 0 && length <= scanner->wanted_length))
    return;
  if (strncmp (scanner->wanted, scanner->path->str, length) == 0 && strchr (".[", scanner->wanted[length]) != NULL)
    {
      scanner->wanted_line = scanner->line;
      scanner->wanted_length = length;
    }
}

static gboolean
scan_member (Scanner *scanner, GHashTable *names)
{
  g_autoptr (GString) name = g_string_new (NULL);

  if (!scan_string (scanner, name))
    return FALSE;
  if (scanner->path->len > 0)
    g_string_append_c (scanner->path, '.');
  g_string_append (scanner->path, name->str);
  if (!g_hash_table_add (names, g_strdup (name->str)))
    return fail (scanner, _ ("this member is there twice."));
  skip_space (scanner);
  if (!at_byte (scanner, ':'))
    return fail_here (scanner);
  scanner->at++;
  return scan_value (scanner);
}

typedef gboolean (*ScanItemFunc) (Scanner *scanner, guint index, gpointer data);

/* What stands between two brackets, with commas between the items. */
static gboolean
scan_items (Scanner *scanner, char closing, ScanItemFunc scan_item, gpointer data)
{
  const gsize path_length = scanner->path->len;

  scanner->at++;
  skip_space (scanner);
  for (guint i = 0; i > 0 || !at_byte (scanner, closing); i++)
    {
      if (!scan_item (scanner, i, data))
        return FALSE;
      g_string_truncate (scanner->path, path_length);
      if (at_byte (scanner, closing))
        break;
      if (!at_byte (scanner, ','))
        return fail_here (scanner);
      scanner->at++;
    }
  scanner->at++;
  return TRUE;
}

static gboolean
scan_one_member (Scanner *scanner, guint index, gpointer names)
{
  skip_space (scanner);
  return scan_member (scanner, names);
}

static gboolean
scan_object (Scanner *scanner)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  return scan_items (scanner, '}', scan_one_member, names);
}

static gboolean
scan_one_element (Scanner *scanner, guint index, gpointer unused)
{
  g_string_append_printf (scanner->path, "[%u]", index);
  return scan_value (scanner);
}

static gboolean
scan_array (Scanner *scanner)
{
  return scan_items (scanner, ']', scan_one_element, NULL);
}

static gboolean
scan_nested (Scanner *scanner)
{
  gboolean sound;

  if (scanner->depth >= SHERD_JSON_MAX_DEPTH)
    return fail (scanner, _ ("nested more than %u deep."), SHERD_JSON_MAX_DEPTH);
  scanner->depth++;
  sound = *scanner->at == '{' ? scan_object (scanner) : scan_array (scanner);
  scanner->depth--;
  return sound;
}

static gboolean
scan_plain_value (Scanner *scanner)
{
  if (scanner->at >= scanner->end)
    return fail_here (scanner);
  switch (*scanner->at)
    {
    case '{':
    case '[':
      return scan_nested (scanner);
    case '"':
      return scan_string (scanner, NULL);
    case 't':
      return scan_word (scanner, "true");
    case 'f':
      return scan_word (scanner, "false");
    case 'n':
      return scan_word (scanner, "null");
    default:
      return *scanner->at == '-' || g_ascii_isdigit (*scanner->at) ? scan_number (scanner) : fail_here (scanner);
    }
}

static gboolean
scan_value (Scanner *scanner)
{
  skip_space (scanner);
  note_line (scanner);
  if (!scan_plain_value (scanner))
    return FALSE;
  skip_space (scanner);
  return TRUE;
}

static gboolean
scan_text (Scanner *scanner)
{
  if (!scan_value (scanner))
    return FALSE;
  return scanner->at == scanner->end || fail (scanner, _ ("something stands behind the end of the trial."));
}

static gboolean
check_utf8 (const char *text, gsize length, GError **error)
{
  const char *bad;
  guint line = 1;

  if (g_utf8_validate_len (text, length, &bad))
    return TRUE;
  for (const char *at = text; at < bad; at++)
    line += *at == '\n';
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX, _ ("line %u: this is not UTF-8 text."), line);
  return FALSE;
}

/**
 * sherd_json_skip_bom:
 * @text: (array length=length): the bytes of a file
 * @length: how many
 *
 * Some editors write a byte order mark; RFC 8259 (section 8.1) lets a reader ignore it.
 *
 * Returns: the bytes to pass over, 0 or 3
 */
gsize
sherd_json_skip_bom (const char *text, gsize length)
{
  return length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
}

/**
 * sherd_json_check:
 * @bytes: (array length=length): the bytes of a file
 * @length: how many
 * @error: place for an error
 *
 * Checks that the bytes are one JSON value by RFC 8259, in UTF-8, with every member name once per object, whole numbers
 * within 64 bits, other numbers within a double, no NUL or lone surrogate, and at most SHERD_JSON_MAX_DEPTH levels.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_SYNTAX that names the line and, inside the value, the path
 */
gboolean
sherd_json_check (const char *bytes, gsize length, GError **error)
{
  const char *text = length > 0 ? bytes : "";
  const gsize bom = sherd_json_skip_bom (text, length);
  g_autoptr (GString) path = g_string_new (NULL);
  Scanner scanner = { .at = text + bom, .end = text + length, .line = 1, .path = path, .error = error };

  return check_utf8 (text, length, error) && scan_text (&scanner);
}

/**
 * sherd_json_find_line:
 * @text: (array length=length): text that sherd_json_check () has passed
 * @length: how many bytes
 * @path: "pieces[0].sides[1].name"
 *
 * Returns: the line, from 1, on which the value at @path begins, or the innermost value on the way to it that is there
 */
guint
sherd_json_find_line (const char *text, gsize length, const char *path)
{
  const gsize bom = sherd_json_skip_bom (text, length);
  g_autoptr (GString) walked = g_string_new (NULL);
  Scanner scanner = {
    .at = text + bom, .end = text + length, .line = 1, .path = walked, .wanted = path, .wanted_line = 1
  };

  scan_text (&scanner);
  return scanner.wanted_line;
}
