/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Numbers by hand: a face of 150 × 100 mm with margins 5, 6, 7, 8 mm (left, top, right, bottom) and gaps of 3 and 2 mm
 * leaves 150 − 12 − 4 · 3 = 126 mm for five columns and 100 − 14 − 2 · 2 = 82 mm for three rows. */

#include "config.h"

#include "shape/grid.h"

#include <math.h>
#include <string.h>

#define FACE_WIDTH_MM 150.0
#define FACE_HEIGHT_MM 100.0

#define ROUNDING_MM 1e-12

static const SherdGrid five_by_three = { .n_rows = 3,
                                         .n_columns = 5,
                                         .left_mm = 5,
                                         .top_mm = 6,
                                         .right_mm = 7,
                                         .bottom_mm = 8,
                                         .gap_x_mm = 3,
                                         .gap_y_mm = 2 };

static void
test_cell_sizes (void)
{
  const SherdRectangle cell = sherd_grid_cell (&five_by_three, FACE_WIDTH_MM, FACE_HEIGHT_MM, 1, 2);

  g_assert_cmpfloat_with_epsilon (cell.width_mm, 126.0 / 5, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (cell.height_mm, 82.0 / 3, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (cell.x_mm, 5 + 2 * (126.0 / 5 + 3), ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (cell.y_mm, 6 + 82.0 / 3 + 2, ROUNDING_MM);
}

static void
test_last_cell_ends_at_the_margin (void)
{
  const SherdRectangle cell = sherd_grid_cell (&five_by_three, FACE_WIDTH_MM, FACE_HEIGHT_MM, 2, 4);

  g_assert_cmpfloat_with_epsilon (cell.x_mm + cell.width_mm, FACE_WIDTH_MM - 7, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (cell.y_mm + cell.height_mm, FACE_HEIGHT_MM - 8, ROUNDING_MM);
}

static void
assert_code (guint row, guint column, const char *expected)
{
  g_autofree char *code = sherd_grid_code (row, column);

  g_assert_cmpstr (code, ==, expected);
}

static void
test_codes_run_on_after_z (void)
{
  assert_code (0, 0, "A1");
  assert_code (2, 4, "C5");
  assert_code (25, 9, "Z10");
  assert_code (26, 0, "AA1");
  assert_code (51, 0, "AZ1");
  assert_code (52, 0, "BA1");
  assert_code (26 * 27 - 1, 0, "ZZ1");
  assert_code (26 * 27, 0, "AAA1");
}

static void
test_accepts_a_grid_that_fits (void)
{
  const SherdGrid whole_face = { .n_rows = 1, .n_columns = 1 };
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_grid_check (&five_by_three, FACE_WIDTH_MM, FACE_HEIGHT_MM, &error));
  g_assert_no_error (error);
  g_assert_true (sherd_grid_check (&whole_face, 1.0, 1.0, &error));
  g_assert_no_error (error);
}

static void
assert_refused (const SherdGrid *grid, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_grid_check (grid, FACE_WIDTH_MM, FACE_HEIGHT_MM, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_refuses_no_rows (void)
{
  SherdGrid grid = five_by_three;

  grid.n_rows = 0;
  assert_refused (&grid, "0 × 5");
}

static void
test_refuses_too_many_columns (void)
{
  SherdGrid grid = five_by_three;

  grid.n_columns = 201;
  assert_refused (&grid, "3 × 201");
}

static void
test_refuses_margins_that_are_no_lengths (void)
{
  SherdGrid grid = five_by_three;
  double *margins[] = { &grid.left_mm, &grid.top_mm, &grid.right_mm, &grid.bottom_mm, &grid.gap_x_mm, &grid.gap_y_mm };
  const double wrong[] = { -0.1, NAN, INFINITY };

  for (guint i = 0; i < G_N_ELEMENTS (margins); i++)
    for (guint k = 0; k < G_N_ELEMENTS (wrong); k++)
      {
        const double right = *margins[i];

        *margins[i] = wrong[k];
        assert_refused (&grid, "lengths of 0 mm or more");
        *margins[i] = right;
      }
}

static void
test_refuses_columns_that_do_not_fit (void)
{
  SherdGrid grid = five_by_three;

  grid.gap_x_mm = 34.0; /* leaves 2 mm for five columns */
  assert_refused (&grid, "columns do not fit");
}

static void
test_refuses_rows_that_do_not_fit (void)
{
  SherdGrid grid = five_by_three;

  grid.top_mm = 90.0; /* less than nothing is left */
  assert_refused (&grid, "rows do not fit");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/grid/cell-sizes", test_cell_sizes);
  g_test_add_func ("/shape/grid/last-cell-ends-at-the-margin", test_last_cell_ends_at_the_margin);
  g_test_add_func ("/shape/grid/codes-run-on-after-z", test_codes_run_on_after_z);
  g_test_add_func ("/shape/grid/accepts-a-grid-that-fits", test_accepts_a_grid_that_fits);
  g_test_add_func ("/shape/grid/refuses-no-rows", test_refuses_no_rows);
  g_test_add_func ("/shape/grid/refuses-too-many-columns", test_refuses_too_many_columns);
  g_test_add_func ("/shape/grid/refuses-margins-that-are-no-lengths", test_refuses_margins_that_are_no_lengths);
  g_test_add_func ("/shape/grid/refuses-columns-that-do-not-fit", test_refuses_columns_that_do_not_fit);
  g_test_add_func ("/shape/grid/refuses-rows-that-do-not-fit", test_refuses_rows_that_do_not_fit);
  return g_test_run ();
}
