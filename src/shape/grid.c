/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/grid.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: more rows or columns than this are a slip of the finger. */
#define MAX_ROWS 200u

/* A brush cannot keep to less. Common practice, no source. */
#define LEAST_CELL_MM 1.0

static double
cell_width_mm (const SherdGrid *grid, double width_mm)
{
  return (width_mm - grid->left_mm - grid->right_mm - (grid->n_columns - 1.0) * grid->gap_x_mm) / grid->n_columns;
}

static double
cell_height_mm (const SherdGrid *grid, double height_mm)
{
  return (height_mm - grid->top_mm - grid->bottom_mm - (grid->n_rows - 1.0) * grid->gap_y_mm) / grid->n_rows;
}

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE, message);
  return FALSE;
}

static gboolean
is_length (double length_mm)
{
  return isfinite (length_mm) && length_mm >= 0.0;
}

/**
 * sherd_rectangle_equal:
 * @first: a rectangle
 * @second: another
 * @tolerance_mm: how far each number may differ
 *
 * Returns: whether they lie in the same place
 */
gboolean
sherd_rectangle_equal (const SherdRectangle *first, const SherdRectangle *second, double tolerance_mm)
{
  return fabs (first->x_mm - second->x_mm) <= tolerance_mm && fabs (first->y_mm - second->y_mm) <= tolerance_mm &&
         fabs (first->width_mm - second->width_mm) <= tolerance_mm &&
         fabs (first->height_mm - second->height_mm) <= tolerance_mm;
}

/**
 * sherd_grid_check:
 * @grid: a grid
 * @width_mm: width of the face
 * @height_mm: height of the face
 * @error: SHERD_SHAPE_ERROR_SIZE, in words
 *
 * Returns: whether the grid has cells and they fit on the face
 */
gboolean
sherd_grid_check (const SherdGrid *grid, double width_mm, double height_mm, GError **error)
{
  if (grid->n_rows < 1 || grid->n_columns < 1 || grid->n_rows > MAX_ROWS || grid->n_columns > MAX_ROWS)
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
                   _ ("A grid has 1 to %u rows and columns; this one has %u × %u."), MAX_ROWS, grid->n_rows,
                   grid->n_columns);
      return FALSE;
    }
  if (!is_length (grid->left_mm) || !is_length (grid->top_mm) || !is_length (grid->right_mm) ||
      !is_length (grid->bottom_mm) || !is_length (grid->gap_x_mm) || !is_length (grid->gap_y_mm))
    return refuse (error, _ ("Margins and gaps are lengths of 0 mm or more."));
  if (!(cell_width_mm (grid, width_mm) >= LEAST_CELL_MM))
    return refuse (error,
                   _ ("The columns do not fit: less than 1 mm is left for a zone. Take fewer columns, or smaller "
                      "margins and gaps."));
  if (!(cell_height_mm (grid, height_mm) >= LEAST_CELL_MM))
    return refuse (error, _ ("The rows do not fit: less than 1 mm is left for a zone. Take fewer rows, or smaller "
                             "margins and gaps."));
  return TRUE;
}

/**
 * sherd_grid_cell:
 * @grid: a grid that passed sherd_grid_check ()
 * @width_mm: width of the face
 * @height_mm: height of the face
 * @row: from 0, downwards
 * @column: from 0, to the right
 *
 * Returns: the cell; origin at the top left corner of the face, y down
 */
SherdRectangle
sherd_grid_cell (const SherdGrid *grid, double width_mm, double height_mm, guint row, guint column)
{
  double cell_width = cell_width_mm (grid, width_mm);
  double cell_height = cell_height_mm (grid, height_mm);

  return (SherdRectangle){ .x_mm = grid->left_mm + column * (cell_width + grid->gap_x_mm),
                           .y_mm = grid->top_mm + row * (cell_height + grid->gap_y_mm),
                           .width_mm = cell_width,
                           .height_mm = cell_height };
}

/**
 * sherd_grid_code:
 * @row: from 0
 * @column: from 0
 *
 * Returns: (transfer full): "A1" for the first cell of the first row; after row Z comes AA
 */
char *
sherd_grid_code (guint row, guint column)
{
  g_autoptr (GString) letters = g_string_new (NULL);

  for (guint rest = row + 1; rest > 0; rest = (rest - 1) / 26)
    g_string_prepend_c (letters, (char)('A' + (rest - 1) % 26));
  return g_strdup_printf ("%s%u", letters->str, column + 1);
}
