/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Numbers by hand: a grid of r × c zones has r (c − 1) + c (r − 1) pairs side by side; where it closes round, r more.
 */

#include "config.h"

#include "plan/adjacency.h"

#define N_ROWS 3
#define N_COLUMNS 5

static const SherdGrid grid = { .n_rows = N_ROWS,
                                .n_columns = N_COLUMNS,
                                .left_mm = 2,
                                .top_mm = 2,
                                .right_mm = 2,
                                .bottom_mm = 2,
                                .gap_x_mm = 4,
                                .gap_y_mm = 4 };

static GArray *
find_in_grid (double round_mm)
{
  GArray *pairs = g_array_new (FALSE, FALSE, sizeof (SherdAdjacentPair));
  SherdRectangle places[N_ROWS * N_COLUMNS];

  for (guint i = 0; i < G_N_ELEMENTS (places); i++)
    places[i] = sherd_grid_cell (&grid, 150, 100, i / N_COLUMNS, i % N_COLUMNS);
  sherd_adjacency_find (pairs, places, G_N_ELEMENTS (places), 0, round_mm);
  return pairs;
}

static void
test_grid_has_its_pairs (void)
{
  g_autoptr (GArray) pairs = find_in_grid (0.0);

  g_assert_cmpuint (pairs->len, ==, 22);
  for (guint i = 0; i < pairs->len; i++)
    {
      const SherdAdjacentPair pair = g_array_index (pairs, SherdAdjacentPair, i);
      const guint step = pair.second - pair.first;

      g_assert_true (step == N_COLUMNS || (step == 1 && pair.second % N_COLUMNS != 0));
    }
}

static void
test_ring_closes (void)
{
  g_autoptr (GArray) pairs = find_in_grid (150.0);

  g_assert_cmpuint (pairs->len, ==, 22 + N_ROWS);
}

static void
test_wide_gap_parts (void)
{
  const SherdRectangle places[] = { { 0, 0, 10, 10 }, { 16, 0, 10, 10 }, { 30, 0, 10, 10 } };
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (SherdAdjacentPair));

  sherd_adjacency_find (pairs, places, 3, 7, 0.0);
  g_assert_cmpuint (pairs->len, ==, 1);
  g_assert_cmpuint (g_array_index (pairs, SherdAdjacentPair, 0).first, ==, 8);
  g_assert_cmpuint (g_array_index (pairs, SherdAdjacentPair, 0).second, ==, 9);
}

static void
test_both_know_each_other (void)
{
  const SherdAdjacentPair pairs[] = { { 0, 2 }, { 2, 1 } };
  g_autoptr (SherdAdjacency) neighbours = sherd_adjacency_new (4, pairs, 2);
  guint n;

  g_assert_cmpuint (sherd_adjacency_get (neighbours, 0, &n)[0], ==, 2);
  g_assert_cmpuint (n, ==, 1);
  g_assert_cmpuint (sherd_adjacency_get (neighbours, 1, &n)[0], ==, 2);
  g_assert_cmpuint (n, ==, 1);
  sherd_adjacency_get (neighbours, 2, &n);
  g_assert_cmpuint (n, ==, 2);
  sherd_adjacency_get (neighbours, 3, &n);
  g_assert_cmpuint (n, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/adjacency/grid-has-its-pairs", test_grid_has_its_pairs);
  g_test_add_func ("/plan/adjacency/ring-closes", test_ring_closes);
  g_test_add_func ("/plan/adjacency/wide-gap-parts", test_wide_gap_parts);
  g_test_add_func ("/plan/adjacency/both-know-each-other", test_both_know_each_other);
  return g_test_run ();
}
