/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/profile-text.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The columns of a line, once the heading is read. */
typedef struct
{
  char separator;
  gboolean decimal_comma;
  gboolean diameters; /* the first column is across, not from the axis */
} Columns;

static gboolean G_GNUC_PRINTF (3, 4) refuse_line (guint line, GError **error, const char *format, ...)
{
  g_autofree char *what = NULL;
  va_list arguments;

  va_start (arguments, format);
  what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_TEXT, _ ("Profile, line %u: %s"), line, what);
  return FALSE;
}

/* A semicolon or a tab leaves the comma to the decimals. */
static Columns
guess_columns (const char *text)
{
  Columns columns = { ',', FALSE, FALSE };

  if (strchr (text, ';') != NULL)
    columns.separator = ';';
  else if (strchr (text, '\t') != NULL)
    columns.separator = '\t';
  columns.decimal_comma = columns.separator != ',';
  return columns;
}

static gboolean
parse_number (const Columns *columns, const char *cell, double *value)
{
  g_autofree char *plain = g_strstrip (g_strdup (cell));
  char *end = NULL;

  if (columns->decimal_comma)
    g_strdelimit (plain, ",", '.');
  *value = g_ascii_strtod (plain, &end);
  return *plain != '\0' && *end == '\0';
}

/* A first line without numbers names the columns; it may say diameters instead of radii. */
static gboolean
is_heading (Columns *columns, char **cells)
{
  double value;
  g_autofree char *first = NULL;

  if (cells[0] == NULL || parse_number (columns, cells[0], &value))
    return FALSE;
  first = g_ascii_strdown (g_strstrip (cells[0]), -1);
  columns->diameters = g_str_has_prefix (first, "d");
  return g_ascii_isalpha (first[0]);
}

static gboolean
parse_corner (const char *cell, gboolean *corner)
{
  g_autofree char *plain = g_ascii_strdown (cell, -1);

  g_strstrip (plain);
  *corner = strcmp (plain, "1") == 0 || strcmp (plain, "corner") == 0;
  return *corner || *plain == '\0' || strcmp (plain, "0") == 0;
}

static gboolean
parse_line (const Columns *columns, char **cells, guint line, SherdProfilePoint *point, GError **error)
{
  const guint n_cells = g_strv_length (cells);
  double across;

  if (n_cells < 2 || n_cells > 3)
    return refuse_line (line, error,
                        _ ("A line has a radius, a height in mm and, if the wall has an edge there, the word corner. "
                           "This one has %u columns."),
                        n_cells);
  if (!parse_number (columns, cells[0], &across))
    return refuse_line (line, error, _ ("“%s” is no number of millimetres."), cells[0]);
  if (!parse_number (columns, cells[1], &point->z_mm))
    return refuse_line (line, error, _ ("“%s” is no number of millimetres."), cells[1]);
  point->corner = FALSE;
  if (n_cells == 3 && !parse_corner (cells[2], &point->corner))
    return refuse_line (line, error, _ ("“%s” is not understood: the third column says corner or nothing."), cells[2]);
  point->r_mm = columns->diameters ? across / 2.0 : across;
  return TRUE;
}

/* Puts the line where the point came from before the message of the check. */
static gboolean
check_points (GArray *points, const guint *lines, GError **error)
{
  g_autoptr (GError) fault = NULL;
  gsize i = 0;

  if (sherd_profile_check ((const SherdProfilePoint *)(gpointer)points->data, points->len, &i, &fault))
    return TRUE;
  return points->len == 0 ? refuse_line (1, error, "%s", fault->message)
                          : refuse_line (lines[i], error, "%s", fault->message);
}

/**
 * sherd_profile_points_from_text:
 * @text: UTF-8; a line a point, radius and height in mm, then nothing or the word corner; separated by commas,
 *   semicolons or tabs (then decimals may have a comma). A first line of words names the columns; if the first name
 *   begins with d, diameters are meant. Lines that are empty or begin with # are passed over.
 * @error: SHERD_SHAPE_ERROR_TEXT, names the line
 *
 * Returns: (transfer full) (element-type SherdProfilePoint): points that make a profile, or %NULL
 */
GArray *
sherd_profile_points_from_text (const char *text, GError **error)
{
  g_autoptr (GArray) points = g_array_new (FALSE, TRUE, sizeof (SherdProfilePoint));
  g_autoptr (GArray) line_numbers = g_array_new (FALSE, FALSE, sizeof (guint));
  g_auto (GStrv) lines = g_strsplit_set (g_str_has_prefix (text, "\xef\xbb\xbf") ? text + 3 : text, "\n", -1);
  Columns columns = guess_columns (text);
  const char separator[2] = { columns.separator, '\0' };
  gboolean heading_may_come = TRUE;

  for (guint i = 0; lines[i] != NULL; i++)
    {
      const char *line = g_strstrip (lines[i]);
      g_auto (GStrv) cells = g_strsplit (line, separator, -1);
      const guint number = i + 1;
      SherdProfilePoint point;

      if (*line == '\0' || *line == '#')
        continue;
      if (heading_may_come && is_heading (&columns, cells))
        {
          heading_may_come = FALSE;
          continue;
        }
      heading_may_come = FALSE;
      if (!parse_line (&columns, cells, number, &point, error))
        return NULL;
      g_array_append_val (points, point);
      g_array_append_val (line_numbers, number);
    }
  if (!check_points (points, (const guint *)(gpointer)line_numbers->data, error))
    return NULL;
  return g_steal_pointer (&points);
}

/**
 * sherd_profile_points_to_text:
 * @points: (array length=n_points): points
 * @n_points: how many
 *
 * Returns: (transfer full): the text that sherd_profile_points_from_text () reads, with commas and decimal points
 */
char *
sherd_profile_points_to_text (const SherdProfilePoint *points, gsize n_points)
{
  GString *text = g_string_new ("r_mm,z_mm,corner\n");
  char r[G_ASCII_DTOSTR_BUF_SIZE], z[G_ASCII_DTOSTR_BUF_SIZE];

  for (gsize i = 0; i < n_points; i++)
    g_string_append_printf (text, "%s,%s,%s\n", g_ascii_dtostr (r, sizeof r, points[i].r_mm),
                            g_ascii_dtostr (z, sizeof z, points[i].z_mm), points[i].corner ? "corner" : "");
  return g_string_free (text, FALSE);
}
