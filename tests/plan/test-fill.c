/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Randomising is judged over the seeds 1 … 10,000, so a run always gives the same figures. When n treatments are put in
 * n positions N times at random, A = (n − 1) / n · Σ (count − N/n)² / (N/n) follows χ² with (n − 1)² degrees of freedom
 * (R. L. Anderson, Biometrics 15, 1959, 582–590; statistic and degrees of freedom from memory, and as the variance N/n
 * · (n − 1)/n of a count has it). The limit is the quantile 0.999 by GSL. */

#include "config.h"

#include "plan/fill.h"

#include <gsl/gsl_cdf.h>
#include <string.h>

#define N_SEEDS 10000
#define LIMIT 0.999

/* Four rings of five zones. */
#define N_RINGS 4
#define N_SECTORS 5
#define N_ZONES (N_RINGS * N_SECTORS)

typedef struct
{
  SherdFillZone zones[N_ZONES];
  SherdFillRequest request;
} Dish;

static const char *const ring_names[] = { "ring A", "ring B", "ring C", "ring D" };

static void
dish_init (Dish *dish, SherdFillOrder order, guint n_paints)
{
  *dish = (Dish){ .request = { .n_zones = N_ZONES,
                               .block_names = ring_names,
                               .n_blocks = N_RINGS,
                               .order = order,
                               .n_paints = n_paints,
                               .seed = 1 } };
  dish->request.zones = dish->zones;
  for (guint i = 0; i < N_ZONES; i++)
    dish->zones[i].block = i / N_SECTORS;
}

static void
run (Dish *dish, SherdFill *fill)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_fill_run (&dish->request, fill, &error));
  g_assert_no_error (error);
}

static guint
count (const SherdFill *fill, guint first, guint n, int paint)
{
  guint n_found = 0;

  for (guint i = first; i < first + n; i++)
    n_found += fill->paints[i] == paint;
  return n_found;
}

static void
test_order_goes_round (void)
{
  Dish dish;
  g_auto (SherdFill) fill = { 0 };

  dish_init (&dish, SHERD_FILL_IN_ORDER, 6);
  run (&dish, &fill);
  for (int i = 0; i < 18; i++)
    g_assert_cmpint (fill.paints[i], ==, i % 6);
  g_assert_cmpint (fill.paints[18], ==, SHERD_FILL_BARE);
  g_assert_cmpint (fill.paints[19], ==, SHERD_FILL_BARE);
  g_assert_cmpuint (fill.n_replicates, ==, 3);
  g_assert_cmpuint (fill.n_spare, ==, 2);
}

static void
test_random_lays_what_was_asked (void)
{
  Dish dish;

  dish_init (&dish, SHERD_FILL_RANDOM, 7);
  dish.request.n_replicates = 2;
  dish.request.n_controls = 3;
  for (guint64 seed = 0; seed < 200; seed++)
    {
      g_auto (SherdFill) fill = { 0 };

      dish.request.seed = seed;
      run (&dish, &fill);
      for (int paint = 0; paint < 7; paint++)
        g_assert_cmpuint (count (&fill, 0, N_ZONES, paint), ==, 2);
      g_assert_cmpuint (count (&fill, 0, N_ZONES, SHERD_FILL_BARE), ==, 6);
      g_assert_cmpuint (fill.n_spare, ==, 3);
    }
}

static void
test_same_seed_same_layout (void)
{
  Dish dish;
  g_auto (SherdFill) first = { 0 }, again = { 0 }, other = { 0 };

  dish_init (&dish, SHERD_FILL_RANDOM, 10);
  dish.request.seed = G_GUINT64_CONSTANT (0x1234567800000000);
  run (&dish, &first);
  run (&dish, &again);
  g_assert_cmpmem (first.paints, sizeof (int) * N_ZONES, again.paints, sizeof (int) * N_ZONES);
  dish.request.seed = G_GUINT64_CONSTANT (0x1234567900000000);
  run (&dish, &other);
  g_assert_cmpint (memcmp (first.paints, other.paints, sizeof (int) * N_ZONES), !=, 0);
}

/* counts[position][paint], bare as the last paint. */
static void
tally (const SherdFill *fill, guint n_paints, guint counts[N_ZONES][N_SECTORS])
{
  for (guint zone = 0; zone < N_ZONES; zone++)
    counts[zone][fill->paints[zone] >= 0 ? (guint)fill->paints[zone] : n_paints]++;
}

static double
anderson_statistic (guint counts[N_ZONES][N_SECTORS], guint ring)
{
  const double expected = (double)N_SEEDS / N_SECTORS;
  double sum = 0.0;

  for (guint position = 0; position < N_SECTORS; position++)
    for (guint paint = 0; paint < N_SECTORS; paint++)
      {
        const double off = counts[ring * N_SECTORS + position][paint] - expected;

        sum += off * off / expected;
      }
  return sum * (N_SECTORS - 1) / N_SECTORS;
}

static void
assert_every_ring_complete (const SherdFill *fill, guint n_paints)
{
  for (guint ring = 0; ring < N_RINGS; ring++)
    for (guint paint = 0; paint < n_paints; paint++)
      g_assert_cmpuint (count (fill, ring * N_SECTORS, N_SECTORS, (int)paint), ==, 1);
}

static void
test_blocks_are_complete_and_fair (void)
{
  const double limit = gsl_cdf_chisq_Pinv (LIMIT, (N_SECTORS - 1) * (N_SECTORS - 1));
  guint counts[N_ZONES][N_SECTORS] = { 0 };
  Dish dish;

  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 4);
  dish.request.n_controls = 4;
  for (guint64 seed = 1; seed <= N_SEEDS; seed++)
    {
      g_auto (SherdFill) fill = { 0 };

      dish.request.seed = seed;
      run (&dish, &fill);
      assert_every_ring_complete (&fill, 4);
      tally (&fill, 4, counts);
    }
  for (guint ring = 0; ring < N_RINGS; ring++)
    {
      g_test_message ("ring %u: %.1f, limit %.1f", ring, anderson_statistic (counts, ring), limit);
      g_assert_cmpfloat (anderson_statistic (counts, ring), <, limit);
      g_assert_cmpfloat (anderson_statistic (counts, ring), >, gsl_cdf_chisq_Pinv (1.0 - LIMIT, 16));
    }
}

/* What one ring got must not say what the next one gets: the sector of paint 0 in ring A against that in ring B. */
static void
test_blocks_are_drawn_apart_from_each_other (void)
{
  guint pairs[N_SECTORS][N_SECTORS] = { 0 };
  const double expected = (double)N_SEEDS / (N_SECTORS * N_SECTORS);
  double sum = 0.0;
  Dish dish;

  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 5);
  for (guint64 seed = 1; seed <= N_SEEDS; seed++)
    {
      g_auto (SherdFill) fill = { 0 };
      guint first = 0, second = 0;

      dish.request.seed = seed;
      run (&dish, &fill);
      while (fill.paints[first] != 0)
        first++;
      while (fill.paints[N_SECTORS + second] != 0)
        second++;
      pairs[first][second]++;
    }
  for (guint i = 0; i < N_SECTORS * N_SECTORS; i++)
    sum += (pairs[i / 5][i % 5] - expected) * (pairs[i / 5][i % 5] - expected) / expected;
  g_assert_cmpfloat (sum, <, gsl_cdf_chisq_Pinv (LIMIT, 24));
}

static void
test_sets_left_over_go_to_any_block (void)
{
  guint n_twice[N_RINGS] = { 0 };
  double sum = 0.0;
  Dish dish;

  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 2);
  dish.request.n_replicates = 5;
  for (guint64 seed = 1; seed <= N_SEEDS; seed++)
    {
      g_auto (SherdFill) fill = { 0 };

      dish.request.seed = seed;
      run (&dish, &fill);
      for (guint ring = 0; ring < N_RINGS; ring++)
        {
          const guint n = count (&fill, ring * N_SECTORS, N_SECTORS, 0);

          g_assert_cmpuint (n, ==, count (&fill, ring * N_SECTORS, N_SECTORS, 1));
          g_assert_true (n == 1 || n == 2);
          n_twice[ring] += n == 2;
        }
    }
  for (guint ring = 0; ring < N_RINGS; ring++)
    sum += (n_twice[ring] - 2500.0) * (n_twice[ring] - 2500.0) / 2500.0;
  g_assert_cmpfloat (sum, <, gsl_cdf_chisq_Pinv (LIMIT, N_RINGS - 1));
}

static void
test_locked_zones_stay_and_count (void)
{
  Dish dish;

  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 4);
  dish.zones[3] = (SherdFillZone){ .block = 0, .locked = TRUE, .paint = 2 };
  dish.zones[7] = (SherdFillZone){ .block = 1, .locked = TRUE, .paint = SHERD_FILL_OTHER };
  dish.zones[16] = (SherdFillZone){ .block = 3, .locked = TRUE, .paint = SHERD_FILL_BARE };
  for (guint64 seed = 0; seed < 500; seed++)
    {
      g_auto (SherdFill) fill = { 0 };

      dish.request.seed = seed;
      run (&dish, &fill);
      g_assert_cmpint (fill.paints[3], ==, 2);
      g_assert_cmpint (fill.paints[7], ==, SHERD_FILL_OTHER);
      g_assert_cmpint (fill.paints[16], ==, SHERD_FILL_BARE);
      assert_every_ring_complete (&fill, 4);
    }
}

/* Pairs of a grid of N_RINGS × N_SECTORS that closes round. */
static SherdAdjacency *
ring_neighbours_new (void)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (SherdAdjacentPair));

  for (guint zone = 0; zone < N_ZONES; zone++)
    {
      const guint ring = zone / N_SECTORS, sector = zone % N_SECTORS;
      const SherdAdjacentPair beside = { zone, ring * N_SECTORS + (sector + 1) % N_SECTORS };
      const SherdAdjacentPair below = { zone, zone + N_SECTORS };

      g_array_append_val (pairs, beside);
      if (ring + 1 < N_RINGS)
        g_array_append_val (pairs, below);
    }
  return sherd_adjacency_new (N_ZONES, (const SherdAdjacentPair *)pairs->data, pairs->len);
}

static guint
count_touching_by_hand (const SherdFill *fill)
{
  guint n = 0;

  for (guint zone = 0; zone < N_ZONES; zone++)
    {
      const guint next = zone / N_SECTORS * N_SECTORS + (zone % N_SECTORS + 1) % N_SECTORS;

      n += fill->paints[zone] >= 0 && fill->paints[zone] == fill->paints[next];
      n +=
        zone + N_SECTORS < N_ZONES && fill->paints[zone] >= 0 && fill->paints[zone] == fill->paints[zone + N_SECTORS];
    }
  return n;
}

static void
test_neighbours_are_kept_apart (gconstpointer order)
{
  g_autoptr (SherdAdjacency) neighbours = ring_neighbours_new ();
  Dish dish;

  dish_init (&dish, (SherdFillOrder)GPOINTER_TO_UINT (order), 5);
  dish.request.neighbours = neighbours;
  for (guint64 seed = 0; seed < 300; seed++)
    {
      g_auto (SherdFill) fill = { 0 };

      dish.request.seed = seed;
      run (&dish, &fill);
      g_assert_cmpuint (count_touching_by_hand (&fill), ==, 0);
      g_assert_cmpuint (fill.n_touching, ==, 0);
      for (int paint = 0; paint < 5; paint++)
        g_assert_cmpuint (count (&fill, 0, N_ZONES, paint), ==, 4);
    }
}

/* All sectors of a ring are alike, so each paint must still stand in each equally often. */
static void
test_keeping_apart_is_fair (void)
{
  g_autoptr (SherdAdjacency) neighbours = ring_neighbours_new ();
  guint counts[N_ZONES][N_SECTORS] = { 0 };
  Dish dish;

  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 5);
  dish.request.neighbours = neighbours;
  for (guint64 seed = 1; seed <= N_SEEDS; seed++)
    {
      g_auto (SherdFill) fill = { 0 };

      dish.request.seed = seed;
      run (&dish, &fill);
      assert_every_ring_complete (&fill, 5);
      tally (&fill, 5, counts);
    }
  for (guint ring = 0; ring < N_RINGS; ring++)
    g_assert_cmpfloat (anderson_statistic (counts, ring), <, gsl_cdf_chisq_Pinv (LIMIT, 16));
}

static void
test_what_cannot_be_parted_is_counted (void)
{
  const SherdAdjacentPair pairs[] = { { 0, 1 }, { 1, 2 }, { 2, 3 } };
  const SherdFillZone zones[4] = { 0 };
  g_autoptr (SherdAdjacency) neighbours = sherd_adjacency_new (4, pairs, 3);
  const SherdFillRequest request = {
    .zones = zones, .n_zones = 4, .order = SHERD_FILL_RANDOM, .n_paints = 1, .n_replicates = 4, .neighbours = neighbours
  };
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_fill_run (&request, &fill, &error));
  g_assert_cmpuint (fill.n_touching, ==, 3);
}

static void
assert_short (Dish *dish, guint n_missing, guint n_nearest, const char *words)
{
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_fill_run (&dish->request, &fill, &error));
  g_assert_error (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_SHORT);
  g_test_message ("%s", error->message);
  g_assert_null (fill.paints);
  g_assert_cmpuint (fill.n_missing, ==, n_missing);
  g_assert_cmpuint (fill.n_replicates, ==, n_nearest);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_too_few_zones_name_what_is_short (void)
{
  Dish dish;

  dish_init (&dish, SHERD_FILL_RANDOM, 7);
  dish.request.n_replicates = 3;
  dish.request.n_controls = 2;
  assert_short (&dish, 3, 2, "missing: 3");
  dish_init (&dish, SHERD_FILL_RANDOM, 25);
  assert_short (&dish, 5, 0, "missing: 5");
  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 4);
  dish.zones[11] = (SherdFillZone){ .block = 2, .locked = TRUE, .paint = SHERD_FILL_OTHER };
  dish.zones[12] = (SherdFillZone){ .block = 2, .locked = TRUE, .paint = SHERD_FILL_OTHER };
  assert_short (&dish, 1, 3, "ring C has too few zones (missing: 1)");
  dish_init (&dish, SHERD_FILL_IN_BLOCKS, 4);
  dish.request.n_controls = 5;
  assert_short (&dish, 1, 3, "missing: 1");
}

static void
test_nothing_to_lay_is_refused (void)
{
  Dish dish;
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (GError) error = NULL;

  dish_init (&dish, SHERD_FILL_RANDOM, 0);
  g_assert_false (sherd_fill_run (&dish.request, &fill, &error));
  g_assert_error (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/fill/order-goes-round", test_order_goes_round);
  g_test_add_func ("/plan/fill/random-lays-what-was-asked", test_random_lays_what_was_asked);
  g_test_add_func ("/plan/fill/same-seed-same-layout", test_same_seed_same_layout);
  g_test_add_func ("/plan/fill/blocks-are-complete-and-fair", test_blocks_are_complete_and_fair);
  g_test_add_func ("/plan/fill/blocks-are-drawn-apart-from-each-other", test_blocks_are_drawn_apart_from_each_other);
  g_test_add_func ("/plan/fill/sets-left-over-go-to-any-block", test_sets_left_over_go_to_any_block);
  g_test_add_func ("/plan/fill/locked-zones-stay-and-count", test_locked_zones_stay_and_count);
  g_test_add_data_func ("/plan/fill/neighbours-are-kept-apart/in-order", GUINT_TO_POINTER (SHERD_FILL_IN_ORDER),
                        test_neighbours_are_kept_apart);
  g_test_add_data_func ("/plan/fill/neighbours-are-kept-apart/random", GUINT_TO_POINTER (SHERD_FILL_RANDOM),
                        test_neighbours_are_kept_apart);
  g_test_add_data_func ("/plan/fill/neighbours-are-kept-apart/in-blocks", GUINT_TO_POINTER (SHERD_FILL_IN_BLOCKS),
                        test_neighbours_are_kept_apart);
  g_test_add_func ("/plan/fill/keeping-apart-is-fair", test_keeping_apart_is_fair);
  g_test_add_func ("/plan/fill/what-cannot-be-parted-is-counted", test_what_cannot_be_parted_is_counted);
  g_test_add_func ("/plan/fill/too-few-zones-name-what-is-short", test_too_few_zones_name_what_is_short);
  g_test_add_func ("/plan/fill/nothing-to-lay-is-refused", test_nothing_to_lay_is_refused);
  return g_test_run ();
}
