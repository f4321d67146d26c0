/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Expected codes by hand. */

#include "config.h"

#include "plan/codes.h"

static void
assert_codes (char **codes, const char *expected)
{
  g_autofree char *joined = g_strjoinv (" ", codes);

  g_assert_cmpstr (joined, ==, expected);
}

/* Two rows drawn by hand, neither straight nor in order. */
static const SherdRectangle by_hand[] = {
  { 40, 31, 10, 10 }, { 0, 2, 10, 10 }, { 20, 0, 10, 10 }, { 2, 28, 10, 10 }, { 41, 4, 10, 10 },
};

static void
test_zones_are_read_in_order (void)
{
  guint row = 0;
  g_auto (GStrv) codes = sherd_codes_new (by_hand, G_N_ELEMENTS (by_hand), NULL, &row);

  assert_codes (codes, "B2 A1 A2 B1 A3");
  g_assert_cmpuint (row, ==, 2);
}

static void
test_next_side_goes_on (void)
{
  guint row = 2;
  g_auto (GStrv) codes = sherd_codes_new (by_hand, G_N_ELEMENTS (by_hand), NULL, &row);

  assert_codes (codes, "D2 C1 C2 D1 C3");
  g_assert_cmpuint (row, ==, 4);
}

static void
test_taken_letter_is_passed_over (void)
{
  const char *const taken[] = { "A3", "D9", "HB", NULL };
  guint row = 0;
  g_auto (GStrv) codes = sherd_codes_new (by_hand, G_N_ELEMENTS (by_hand), taken, &row);

  assert_codes (codes, "C2 B1 B2 C1 B3");
}

static void
test_grid_gets_the_codes_of_a_grid (void)
{
  const SherdGrid grid = { .n_rows = 28, .n_columns = 12, .gap_x_mm = 1, .gap_y_mm = 1 };
  SherdRectangle places[28 * 12];
  guint row = 0;
  g_auto (GStrv) codes = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    places[i] = sherd_grid_cell (&grid, 600, 600, i / 12, i % 12);
  codes = sherd_codes_new (places, G_N_ELEMENTS (places), NULL, &row);
  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    {
      g_autofree char *expected = sherd_grid_code (i / 12, i % 12);

      g_assert_cmpstr (codes[i], ==, expected);
    }
}

static void
test_no_zones_no_codes (void)
{
  guint row = 3;
  g_auto (GStrv) codes = sherd_codes_new (NULL, 0, NULL, &row);

  g_assert_cmpuint (g_strv_length (codes), ==, 0);
  g_assert_cmpuint (row, ==, 3);
}

/* A file may hold a polygon whose corners are all the same. */
static void
test_a_zone_without_height_is_a_row (void)
{
  const SherdRectangle places[] = { { 10, 10, 5, 0 }, { 10, 30, 0, 0 } };
  guint rows[2];
  g_autofree guint *order = sherd_codes_reading_order (places, 2, rows);

  g_assert_cmpuint (order[0], ==, 0);
  g_assert_cmpuint (order[1], ==, 1);
  g_assert_cmpuint (rows[0], ==, 0);
  g_assert_cmpuint (rows[1], ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/codes/zones-are-read-in-order", test_zones_are_read_in_order);
  g_test_add_func ("/plan/codes/next-side-goes-on", test_next_side_goes_on);
  g_test_add_func ("/plan/codes/taken-letter-is-passed-over", test_taken_letter_is_passed_over);
  g_test_add_func ("/plan/codes/grid-gets-the-codes-of-a-grid", test_grid_gets_the_codes_of_a_grid);
  g_test_add_func ("/plan/codes/no-zones-no-codes", test_no_zones_no_codes);
  g_test_add_func ("/plan/codes/a-zone-without-height-is-a-row", test_a_zone_without_height_is_a_row);
  return g_test_run ();
}
