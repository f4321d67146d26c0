/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/number.h"

#include <glib/gi18n-lib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "trial/error.h"
#include "trial/format.h"

/* Our choice: a double holds 15 to 17 digits, nobody weighs with more than a few. */
#define MAX_LETTERS 40

/* What "½" and "1⁄2" have between their digits. */
#define FRACTION_SLASH 0x2044u
#define MINUS_SIGN 0x2212u

/* Thirds to twelfths are how spoons are divided; finer ones are written as decimals. */
#define LARGEST_DENOMINATOR 12
#define SAME_NUMBER 1e-12

static const char *
locale_mark (void)
{
  const char *mark = localeconv ()->decimal_point;

  return mark != NULL && *mark != '\0' ? mark : ".";
}

static gboolean
refuse (const char *text, const char *remedy, GError **error)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("“%.60s” is not a number. %s"), valid, remedy);
  return FALSE;
}

static gboolean
refuse_spelling (const char *text, const char *mark, GError **error)
{
  g_autofree char *remedy = g_strdup_printf (_ ("Write it as 2, as 2%s5 or as 1/3."), mark);

  return refuse (text, remedy, error);
}

/* "½" stands for " 1/2", so that "1½" becomes "1 1/2". */
static void
append_plain (GString *plain, gunichar c)
{
  gunichar parts[8];
  const gsize n_parts = g_unichar_fully_decompose (c, TRUE, parts, G_N_ELEMENTS (parts));

  if (n_parts > 2 && g_unichar_type (c) == G_UNICODE_OTHER_NUMBER)
    g_string_append_c (plain, ' ');
  for (gsize i = 0; i < n_parts; i++)
    if (g_unichar_isspace (parts[i]))
      g_string_append_c (plain, ' ');
    else if (parts[i] == FRACTION_SLASH)
      g_string_append_c (plain, '/');
    else if (parts[i] == MINUS_SIGN)
      g_string_append_c (plain, '-');
    else if (g_unichar_digit_value (parts[i]) >= 0)
      g_string_append_c (plain, (char)('0' + g_unichar_digit_value (parts[i])));
    else
      g_string_append_unichar (plain, parts[i]);
}

/* Digits of any script as 0…9, every kind of space, slash and minus as the plain one. */
static char *
dup_plain (const char *text)
{
  g_autoptr (GString) plain = g_string_new (NULL);

  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    append_plain (plain, g_utf8_get_char (c));
  return g_strstrip (g_string_free (g_steal_pointer (&plain), FALSE));
}

/* "1.000" where the comma is the mark, "1,000" where the point is: one, or a thousand? "0.125" is clear. */
static gboolean
may_be_thousands (const char *digits, const char *mark)
{
  const char *place = strpbrk (digits, ".,");
  const gsize before = place != NULL ? (gsize)(place - digits) : 0;

  return before >= 1 && before <= 3 && digits[0] != '0' && !g_str_has_prefix (place, mark) &&
         strspn (place + 1, "0123456789") == 3;
}

/* With "." in place of every decimal mark. */
static char *
dup_pointed (const char *digits, const char *mark)
{
  g_autoptr (GString) pointed = g_string_new (digits);

  g_string_replace (pointed, mark, ".", 0);
  g_string_replace (pointed, ",", ".", 0);
  return g_string_free (g_steal_pointer (&pointed), FALSE);
}

/* Digits with one mark at most, which does not stand alone. */
static gboolean
read_decimal (const char *digits, const char *mark, double *value)
{
  g_autofree char *pointed = dup_pointed (digits, mark);
  const gsize whole = strspn (pointed, "0123456789");
  const gboolean has_mark = pointed[whole] == '.';
  const gsize part = has_mark ? strspn (pointed + whole + 1, "0123456789") : 0;

  if (whole + part == 0 || pointed[whole + part + (has_mark ? 1 : 0)] != '\0')
    return FALSE;
  *value = g_ascii_strtod (pointed, NULL);
  return TRUE;
}

/* "1/3", or a plain decimal. */
static gboolean
read_fraction (const char *text, const char *mark, double *value)
{
  g_auto (GStrv) parts = g_strsplit (text, "/", 3);
  const guint n_parts = g_strv_length (parts);
  double below = 1.0;

  if (n_parts < 1 || n_parts > 2 || !read_decimal (g_strstrip (parts[0]), mark, value))
    return FALSE;
  if (n_parts == 2 && !read_decimal (g_strstrip (parts[1]), mark, &below))
    return FALSE;
  *value /= below;
  return TRUE;
}

/* "1 1/2": a whole number, spaces, a fraction. */
static gboolean
read_mixed (const char *text, const char *mark, double *value)
{
  const char *space = strchr (text, ' ');
  g_autofree char *whole_text = space != NULL ? g_strndup (text, (gsize)(space - text)) : NULL;
  const char *rest = space != NULL ? space + strspn (space, " ") : NULL;
  double whole;

  if (space == NULL || !g_ascii_isdigit (*rest) || !g_ascii_isdigit (space[-1]))
    return read_fraction (text, mark, value);
  if (strchr (rest, '/') == NULL || strspn (whole_text, "0123456789") != strlen (whole_text))
    return FALSE;
  whole = g_ascii_strtod (whole_text, NULL);
  if (!read_fraction (rest, mark, value))
    return FALSE;
  *value += whole;
  return TRUE;
}

/**
 * sherd_number_parse_marked:
 * @text: what was written
 * @mark: decimal mark that is taken beside "." and ","
 * @value: (out): the number, finite; negative ones are read too
 * @error: place for an error
 *
 * Decimals, fractions and mixed numbers, with any kind of space around. No marks between thousands and no powers: a
 * text that could be read in two ways ("1,000" where the mark is ".") is refused rather than guessed.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_number_parse_marked (const char *text, const char *mark, double *value, GError **error)
{
  g_autofree char *plain = NULL;
  const char *digits;
  double read;

  if (!g_utf8_validate (text, -1, NULL) || g_utf8_strlen (text, -1) > MAX_LETTERS)
    return refuse_spelling (text, mark, error);
  plain = dup_plain (text);
  digits = plain[0] == '-' ? plain + 1 + strspn (plain + 1, " ") : plain;
  if (may_be_thousands (digits, mark))
    return refuse (
      text, _ ("It could mean a decimal or thousands. Leave out marks between thousands, and noughts at the end."),
      error);
  if (!read_mixed (digits, mark, &read))
    return refuse_spelling (text, mark, error);
  if (!isfinite (read))
    return refuse (text, _ ("There must be more than 0 below the line."), error);
  *value = plain[0] == '-' ? -read : read;
  return TRUE;
}

/**
 * sherd_number_parse:
 * @text: what was written
 * @value: (out): the number
 * @error: place for an error
 *
 * sherd_number_parse_marked () with the decimal mark of the user's locale.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_number_parse (const char *text, double *value, GError **error)
{
  return sherd_number_parse_marked (text, locale_mark (), value, error);
}

/* (nullable): "1/3" or "2 1/3" for what has no short decimal but is such a fraction */
static char *
dup_fraction (double size)
{
  const double whole = floor (size);

  for (int below = 3; below <= LARGEST_DENOMINATOR; below++)
    {
      const double above = (size - whole) * below;

      if (fabs (above - round (above)) > SAME_NUMBER * (1.0 + size) || round (above) <= 0.0)
        continue;
      return whole > 0.0 ? g_strdup_printf ("%.0f %.0f/%d", whole, round (above), below)
                         : g_strdup_printf ("%.0f/%d", round (above), below);
    }
  return NULL;
}

static gboolean
has_short_decimal (const char *digits)
{
  const char *point = strchr (digits, '.');

  return point == NULL || strlen (point + 1) <= 4;
}

/* Never "1e-07", which nobody writes: a decimal with as many places as it takes. */
static char *
dup_decimal (double size)
{
  g_autofree char *exact = sherd_format_exact (size);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  if (strpbrk (exact, "eE") == NULL)
    return g_steal_pointer (&exact);
  g_ascii_formatd (digits, sizeof digits, "%.12f", size);
  return g_strdup (digits);
}

/**
 * sherd_number_text_marked:
 * @value: a number
 * @mark: the decimal mark
 *
 * Returns: (transfer full): the number as it would be written; empty when it is not finite
 */
char *
sherd_number_text_marked (double value, const char *mark)
{
  g_autofree char *decimal = NULL;
  g_autofree char *fraction = NULL;
  g_auto (GStrv) halves = NULL;
  g_autofree char *size = NULL;

  if (!isfinite (value))
    return g_strdup ("");
  decimal = dup_decimal (fabs (value));
  fraction = has_short_decimal (decimal) ? NULL : dup_fraction (fabs (value));
  halves = g_strsplit (decimal, ".", 2);
  size = fraction != NULL ? g_strdup (fraction) : g_strjoinv (mark, halves);
  return g_strconcat (value < 0.0 ? "−" : "", size, NULL);
}

/**
 * sherd_number_text:
 * @value: a number
 *
 * Returns: (transfer full): the number as the user would write it, with the locale's decimal mark
 */
char *
sherd_number_text (double value)
{
  return sherd_number_text_marked (value, locale_mark ());
}
