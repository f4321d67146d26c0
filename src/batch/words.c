/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static gboolean
bad_value (const char *option, const char *text, const char *form, GError **error)
{
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("“%s” does not fit --%s, which is written as %s."),
               text, option, form);
  return FALSE;
}

static gboolean
read_number (const char *word, double *number)
{
  char *end = NULL;
  double value = g_ascii_strtod (word, &end);

  if (end == word || *end != '\0' || !isfinite (value))
    return FALSE;
  *number = value;
  return TRUE;
}

/* How many of the words between @separators are numbers, stopping at the first that is not; 0 for too many. */
static guint
read_numbers (const char *text, const char *separators, double *numbers, guint n_max)
{
  g_auto (GStrv) words = g_strsplit_set (text, separators, -1);
  guint n_words = g_strv_length (words);

  if (n_words > n_max)
    return 0;
  for (guint i = 0; i < n_words; i++)
    if (!read_number (g_strstrip (words[i]), &numbers[i]))
      return 0;
  return n_words;
}

/* More is refused by those who know how many can be. */
static gboolean
is_count (double number)
{
  return number >= 1.0 && number <= 1e6 && number == floor (number);
}

/**
 * sherd_words_numbers:
 * @option: name of the option, for the message
 * @text: what was given
 * @numbers: (out) (array length=n_numbers): the numbers
 * @n_numbers: how many are wanted, at most 8
 * @one_for_all: whether one number may stand for all
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_words_numbers (const char *option,
                     const char *text,
                     double *numbers,
                     guint n_numbers,
                     gboolean one_for_all,
                     GError **error)
{
  double given[8];
  guint n_given;

  g_return_val_if_fail (n_numbers <= G_N_ELEMENTS (given), FALSE);

  n_given = read_numbers (text, ",", given, n_numbers);
  if (n_given != n_numbers && !(one_for_all && n_given == 1))
    return bad_value (option, text,
                      n_numbers == 1   ? _ ("a number, “0.5”")
                      : n_numbers == 2 ? _ ("two numbers, “12,8.5”")
                      : n_numbers == 3 ? _ ("three numbers, “50,0,0”")
                                       : _ ("numbers with commas between them"),
                      error);
  for (guint i = 0; i < n_numbers; i++)
    numbers[i] = given[n_given == 1 ? 0 : i];
  return TRUE;
}

/**
 * sherd_words_list:
 * @option: name of the option, for the message
 * @text: what was given
 * @error: G_OPTION_ERROR_BAD_VALUE
 *
 * Returns: (transfer full) (nullable) (element-type double): the numbers between commas
 */
GArray *
sherd_words_list (const char *option, const char *text, GError **error)
{
  g_auto (GStrv) words = g_strsplit (text, ",", -1);
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; words[i] != NULL; i++)
    {
      double number;

      if (!read_number (g_strstrip (words[i]), &number))
        {
          bad_value (option, text, _ ("numbers with commas between them"), error);
          return NULL;
        }
      g_array_append_val (numbers, number);
    }
  return g_steal_pointer (&numbers);
}

/**
 * sherd_words_size:
 * @option: name of the option, for the message
 * @text: what was given
 * @numbers: (inout) (array length=n_numbers): the numbers
 * @n_numbers: how many may be given
 * @n_needed: how many must be given
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_words_size (const char *option,
                  const char *text,
                  double *numbers,
                  guint n_numbers,
                  guint n_needed,
                  GError **error)
{
  double given[8];
  guint n_given;

  g_return_val_if_fail (n_numbers <= G_N_ELEMENTS (given), FALSE);

  n_given = read_numbers (text, "xX", given, n_numbers);
  if (n_given < n_needed)
    return bad_value (option, text, _ ("sizes with an x between them, “150x100”"), error);
  memcpy (numbers, given, sizeof (double) * n_given);
  return TRUE;
}

/**
 * sherd_words_rows_columns:
 * @option: name of the option, for the message
 * @text: what was given
 * @n_rows: (out): rows
 * @n_columns: (out): columns
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_words_rows_columns (const char *option, const char *text, guint *n_rows, guint *n_columns, GError **error)
{
  double given[2];

  if (read_numbers (text, "xX", given, 2) != 2 || !is_count (given[0]) || !is_count (given[1]))
    return bad_value (option, text, _ ("whole numbers, rows x columns, “3x4”"), error);
  *n_rows = (guint)given[0];
  *n_columns = (guint)given[1];
  return TRUE;
}

/**
 * sherd_words_four_points:
 * @option: name of the option, for the message
 * @text: what was given
 * @points: (out) (array fixed-size=4): the points
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_words_four_points (const char *option, const char *text, SherdPoint points[4], GError **error)
{
  g_auto (GStrv) words = g_strsplit_set (text, " ;", -1);
  guint n_points = 0;

  for (guint i = 0; words[i] != NULL; i++)
    {
      double xy[2];

      if (words[i][0] == '\0')
        continue;
      if (n_points == 4 || read_numbers (words[i], ",", xy, 2) != 2)
        return bad_value (option, text, _ ("four points, “x,y x,y x,y x,y”"), error);
      points[n_points++] = (SherdPoint){ .x = xy[0], .y = xy[1] };
    }
  return n_points == 4 || bad_value (option, text, _ ("four points, “x,y x,y x,y x,y”"), error);
}

/**
 * sherd_words_pair:
 * @option: name of the option, for the message
 * @text: what was given
 * @rest: (out) (transfer full): what stands behind the first "="
 * @error: G_OPTION_ERROR_BAD_VALUE when there is none, or nothing before it
 *
 * Returns: (transfer full) (nullable): what stands before the first "="
 */
char *
sherd_words_pair (const char *option, const char *text, char **rest, GError **error)
{
  const char *equals = strchr (text, '=');

  if (equals == NULL || equals == text)
    {
      bad_value (option, text, _ ("two parts with “=” between them"), error);
      return NULL;
    }
  *rest = g_strdup (equals + 1);
  return g_strndup (text, (gsize)(equals - text));
}

/**
 * sherd_words_mark:
 * @option: name of the option, for the message
 * @text: what was given
 * @mark: (out): the mark
 * @error: G_OPTION_ERROR_BAD_VALUE
 */
gboolean
sherd_words_mark (const char *option, const char *text, SherdMark *mark, GError **error)
{
  g_autofree char *photo = NULL;
  g_autofree char *piece = sherd_words_pair (option, text, &photo, error);
  double mm[2];
  double px[2];

  if (piece == NULL)
    return FALSE;
  if (read_numbers (piece, ",", mm, 2) != 2 || read_numbers (photo, ",", px, 2) != 2)
    return bad_value (option, text, _ ("“x_mm,y_mm=x_px,y_px”"), error);
  mark->piece_mm = (SherdPoint){ .x = mm[0], .y = mm[1] };
  mark->photo_px = (SherdPoint){ .x = px[0], .y = px[1] };
  return TRUE;
}
