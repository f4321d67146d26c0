/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/codes.h"

static double
middle_y_mm (const SherdRectangle *place)
{
  return place->y_mm + 0.5 * place->height_mm;
}

static int
compare_from_top (gconstpointer a, gconstpointer b, gpointer places)
{
  const SherdRectangle *first = (const SherdRectangle *)places + *(const guint *)a;
  const SherdRectangle *second = (const SherdRectangle *)places + *(const guint *)b;
  const double difference_mm = middle_y_mm (first) - middle_y_mm (second);

  return (difference_mm > 0.0) - (difference_mm < 0.0);
}

static int
compare_from_left (gconstpointer a, gconstpointer b, gpointer places)
{
  const SherdRectangle *first = (const SherdRectangle *)places + *(const guint *)a;
  const SherdRectangle *second = (const SherdRectangle *)places + *(const guint *)b;

  return (first->x_mm > second->x_mm) - (first->x_mm < second->x_mm);
}

static gboolean
is_in_row_of (const SherdRectangle *place, const SherdRectangle *first)
{
  return middle_y_mm (place) < first->y_mm + first->height_mm;
}

/**
 * sherd_codes_reading_order:
 * @places: (array length=n_places): zones of one side in mm, y down; of a polygon the box around it
 * @n_places: how many
 * @rows: (out caller-allocates) (array length=n_places): the row of each zone of @places, from 0
 *
 * Rows from the top, each from the left. A row begins with the topmost zone left over; whatever has its middle above
 * the lower edge of that one belongs to it.
 *
 * Returns: (transfer full) (array length=n_places): the numbers of the zones in reading order
 */
guint *
sherd_codes_reading_order (const SherdRectangle *places, guint n_places, guint *rows)
{
  guint *order = g_new (guint, n_places + 1);
  guint row = 0;

  for (guint i = 0; i < n_places; i++)
    order[i] = i;
  g_qsort_with_data (order, (int)n_places, sizeof (guint), compare_from_top, (gpointer)places);
  for (guint start = 0, end; start < n_places; start = end, row++)
    {
      rows[order[start]] = row;
      for (end = start + 1; end < n_places && is_in_row_of (&places[order[end]], &places[order[start]]); end++)
        rows[order[end]] = row;
      g_qsort_with_data (&order[start], (int)(end - start), sizeof (guint), compare_from_left, (gpointer)places);
    }
  return order;
}

static gboolean
is_free (const char *const *taken, guint row, guint n_columns)
{
  for (guint column = 0; taken != NULL && column < n_columns; column++)
    {
      g_autofree char *code = sherd_grid_code (row, column);

      if (g_strv_contains (taken, code))
        return FALSE;
    }
  return TRUE;
}

static guint
count_in_row (const guint *order, const guint *rows, guint n_places, guint start)
{
  guint end = start;

  while (end < n_places && rows[order[end]] == rows[order[start]])
    end++;
  return end - start;
}

/**
 * sherd_codes_new:
 * @places: (array length=n_places): zones of one side in mm, unrolled where it is round
 * @n_places: how many
 * @taken: (nullable): codes that other zones of the piece keep; ended by NULL
 * @first_row: (inout): the row to begin with, 0 for A; then the one to go on with on the next side, so that codes are
 * unique over the whole piece
 *
 * Codes that read in order: A1, A2, … B1, …; a letter is passed over when one of its codes is taken.
 *
 * Returns: (transfer full): a code for each zone, in the order of @places; ended by NULL
 */
char **
sherd_codes_new (const SherdRectangle *places, guint n_places, const char *const *taken, guint *first_row)
{
  g_autofree guint *rows = g_new (guint, n_places + 1);
  g_autofree guint *order = sherd_codes_reading_order (places, n_places, rows);
  char **codes = g_new0 (char *, n_places + 1);
  guint letter = *first_row;

  for (guint start = 0; start < n_places; letter++)
    {
      const guint n_columns = count_in_row (order, rows, n_places, start);

      if (!is_free (taken, letter, n_columns))
        continue;
      for (guint column = 0; column < n_columns; column++)
        codes[order[start + column]] = sherd_grid_code (letter, column);
      start += n_columns;
    }
  *first_row = letter;
  return codes;
}
