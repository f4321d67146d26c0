/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What it costs, as CPU time, to judge, repair and fill layouts of 24 to 1,000 zones: usage: bench-plan */
#include "config.h"

#include <math.h>
#include <time.h>

#include "plan/fill.h"
#include "plan/repair.h"

#define N_PAINTS 7
#define N_MATERIALS 6
#define N_COLUMNS 10

/* Tiles of 10 columns, 50 zones a piece; paints laid at random; two sides with the ground going with neither. */
static SherdLayout *
layout_new (guint n_zones, const int *paints)
{
  SherdLayout *layout = sherd_layout_new (n_zones);
  g_auto (GStrv) words = g_new0 (char *, 2 * n_zones + 1);
  g_autofree double *numbers = g_new (double, n_zones);

  for (guint zone = 0; zone < n_zones; zone++)
    {
      words[zone] = g_strdup_printf ("P%d", paints[zone]);
      words[n_zones + zone] = g_strdup_printf ("T%u", zone / 50);
      sherd_layout_name_zone (layout, zone, words[zone], FALSE);
    }
  sherd_layout_add_levels (layout, "paint", "paint", SHERD_ROLE_PAINT, (const char *const *)words);
  sherd_layout_add_levels (layout, "piece", "piece", SHERD_ROLE_PIECE, (const char *const *)words + n_zones);
  for (guint i = 0; i < N_MATERIALS; i++)
    {
      for (guint zone = 0; zone < n_zones; zone++)
        numbers[zone] = pow (sin (1.0 + 13.0 * i + 7.0 * paints[zone]), 2.0);
      sherd_layout_add_numbers (layout, "share", "share", SHERD_ROLE_COMPOSITION, numbers);
    }
  for (guint i = 0; i < 5; i++)
    {
      static const guint periods[] = { 2, 3, 5, N_COLUMNS, 25 };

      for (guint zone = 0; zone < n_zones; zone++)
        numbers[zone] = zone / (i == 4 ? 2 : 1) % periods[i];
      sherd_layout_add_numbers (layout, "place", "place", SHERD_ROLE_PLACE, numbers);
    }
  return layout;
}

static SherdAdjacency *
grid_neighbours_new (guint n_zones)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (SherdAdjacentPair));

  for (guint zone = 0; zone < n_zones; zone++)
    {
      const SherdAdjacentPair beside = { zone, zone + 1 }, below = { zone, zone + N_COLUMNS };

      if ((zone + 1) % N_COLUMNS != 0 && zone + 1 < n_zones)
        g_array_append_val (pairs, beside);
      if (zone + N_COLUMNS < n_zones)
        g_array_append_val (pairs, below);
    }
  return sherd_adjacency_new (n_zones, (const SherdAdjacentPair *)pairs->data, pairs->len);
}

/* CPU time, for others use the machine too. */
static double
cpu_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static void
run (guint n_zones)
{
  g_autofree SherdFillZone *zones = g_new0 (SherdFillZone, n_zones);
  g_autoptr (SherdAdjacency) neighbours = grid_neighbours_new (n_zones);
  const SherdFillRequest request = {
    .zones = zones, .n_zones = n_zones, .order = SHERD_FILL_RANDOM, .n_paints = N_PAINTS, .neighbours = neighbours
  };
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (SherdLayout) layout = NULL;
  g_autoptr (SherdDesign) design = NULL;
  g_autoptr (SherdDesign) with_pairs = NULL;
  double fill_ms, design_ms, pairs_ms, repair_ms;
  double start = cpu_ms ();

  sherd_fill_run (&request, &fill, NULL);
  fill_ms = cpu_ms () - start;
  layout = layout_new (n_zones, fill.paints);
  start = cpu_ms ();
  design = sherd_design_new (layout, FALSE);
  design_ms = cpu_ms () - start;
  start = cpu_ms ();
  with_pairs = sherd_design_new (layout, TRUE);
  pairs_ms = cpu_ms () - start;
  design->verdicts[0].tell = SHERD_TELL_WEAKLY;
  start = cpu_ms ();
  sherd_repair_find (layout, design, 0, 1);
  repair_ms = cpu_ms () - start;
  g_print ("%5u zones: fill apart %8.2f ms (%u touching), judge %8.2f ms, with pairs %8.2f ms, repair %8.1f ms\n",
           n_zones, fill_ms, fill.n_touching, design_ms, pairs_ms, repair_ms);
}

int
main (void)
{
  static const guint sizes[] = { 24, 50, 100, 250, 1000 };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    run (sizes[i]);
  return 0;
}
