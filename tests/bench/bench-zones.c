/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an edit of the layout costs, as CPU time: 200 jars with 1,000 zones each on their outside. An edit changes one
 * piece; the figures are for all of its zones, for one of them, and for all 200,000. A frame at 60 Hz lasts 16.7 ms. */
#include "config.h"

#include <stdio.h>
#include <time.h>

#include "shape/preset.h"
#include "shape/solid.h"
#include "shape/vessel.h"
#include "shape/zoning.h"

#define N_PIECES 200u
#define N_RINGS 25u
#define N_SECTORS 40u
#define N_ZONES (N_RINGS * N_SECTORS)

/* What the screen shows of an edge that is off by this is nothing. */
#define FOLLOWING_MM 0.1
#define FACET_MM 4.0

static double
cpu_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static SherdVessel *
new_jar (void)
{
  const SherdMeasures measures = sherd_preset_example (SHERD_PRESET_JAR);
  const SherdWall wall = { 6.0, 7.0 };
  g_autoptr (GArray) points = sherd_preset_points (SHERD_PRESET_JAR, &measures, NULL);

  return sherd_vessel_new ((const SherdProfilePoint *)(gpointer)points->data, points->len, &wall, NULL);
}

static SherdOutline *
new_zone (guint i, double length_mm)
{
  const double ring_mm = length_mm / N_RINGS, sector_deg = 360.0 / N_SECTORS;
  const guint ring = i / N_SECTORS, sector = i % N_SECTORS;
  const SherdRange range = { sector * sector_deg, (sector + 0.9) * sector_deg, ring * ring_mm, (ring + 0.8) * ring_mm };

  return sherd_range_outline (&range);
}

/* Outline in space and area of each zone: what a redrawn piece needs. */
static double
draw_piece (const SherdSurface *surface, SherdOutline *const *zones)
{
  double sum = 0.0;

  for (guint i = 0; i < N_ZONES; i++)
    {
      g_autoptr (SherdOutline) curve = sherd_surface_curve (surface, zones[i], FOLLOWING_MM);
      g_autofree double *positions = g_new (double, 3 * curve->n_points);

      sherd_surface_positions (surface, curve->points, curve->n_points, (double (*)[3]) (gpointer)positions);
      sum += sherd_surface_area_mm2 (surface, zones[i]) + positions[0];
    }
  return sum;
}

static void
report (const char *what, double ms)
{
  printf ("%-44s %9.2f ms a piece, %7.2f µs a zone\n", what, ms, 1e3 * ms / N_ZONES);
}

int
main (void)
{
  double start = cpu_ms (), sum = 0.0;
  g_autoptr (SherdVessel) vessel = new_jar ();
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = vessel->outside };
  SherdOutline *zones[N_ZONES];
  g_autoptr (GArray) faults = NULL;
  g_autoptr (GArray) neighbours = NULL;
  g_autoptr (GArray) facets = NULL;
  const SherdPinhole pinhole = sherd_solid_view (vessel, 30, 30, 600, 600);

  report ("profile, wall and sides anew", cpu_ms () - start);
  for (guint i = 0; i < N_ZONES; i++)
    zones[i] = new_zone (i, sherd_profile_length_mm (vessel->outside));
  start = cpu_ms ();
  for (guint i = 0; i < N_PIECES; i++)
    sum += draw_piece (&surface, zones);
  report ("outlines in space and areas", (cpu_ms () - start) / N_PIECES);
  start = cpu_ms ();
  faults = sherd_zoning_faults (&surface, (const SherdOutline *const *)zones, N_ZONES);
  report ("overlaps and zones outside", cpu_ms () - start);
  start = cpu_ms ();
  neighbours = sherd_zoning_neighbours (&surface, (const SherdOutline *const *)zones, N_ZONES, 3.0);
  report ("neighbours", cpu_ms () - start);
  start = cpu_ms ();
  facets = sherd_solid_facets (vessel, &pinhole, FACET_MM);
  report ("facets of a shaded view", cpu_ms () - start);
  printf ("%u facets, %u faults, %u pairs of neighbours, %.0f mm² in all\n", facets->len, faults->len, neighbours->len,
          sum / N_PIECES);
  for (guint i = 0; i < N_ZONES; i++)
    sherd_outline_free (zones[i]);
  return 0;
}
