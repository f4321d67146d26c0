/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/ring-grid.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define DEGREES_PER_RADIAN (180.0 / G_PI)

/* Our choice: more rings or sectors than this are a slip of the finger. */
#define MAX_RINGS 200u

/* A brush cannot keep to less. Common practice, no source. */
#define LEAST_CELL_MM 1.0

/* A hair for sums of decimals. */
#define HAIR 1e-6

static double
ring_arc_mm (const SherdRingGrid *grid)
{
  return (grid->whole.arc1_mm - grid->whole.arc0_mm - (grid->n_rings - 1.0) * grid->gap_mm) / grid->n_rings;
}

static double
ring_start_mm (const SherdRingGrid *grid, guint ring)
{
  return grid->whole.arc0_mm + ring * (ring_arc_mm (grid) + grid->gap_mm);
}

static double
middle_r_mm (const SherdRingGrid *grid, const SherdSurface *surface, guint ring)
{
  return sherd_surface_r_mm (surface, ring_start_mm (grid, ring) + ring_arc_mm (grid) / 2.0);
}

static double
gap_deg (const SherdRingGrid *grid, const SherdSurface *surface, guint ring)
{
  return grid->gap_mm / middle_r_mm (grid, surface, ring) * DEGREES_PER_RADIAN;
}

static double
sweep_deg (const SherdRingGrid *grid)
{
  return grid->whole.azimuth1_deg - grid->whole.azimuth0_deg;
}

/* All round there are as many gaps as sectors, else one less. */
static guint
n_gaps (const SherdRingGrid *grid)
{
  return sweep_deg (grid) >= 360.0 - HAIR ? grid->n_sectors : grid->n_sectors - 1;
}

static double
sector_deg (const SherdRingGrid *grid, const SherdSurface *surface, guint ring)
{
  return (sweep_deg (grid) - n_gaps (grid) * gap_deg (grid, surface, ring)) / grid->n_sectors;
}

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE, message);
  return FALSE;
}

static gboolean
check_whole (const SherdRange *whole, double length_mm, GError **error)
{
  if (!isfinite (whole->azimuth0_deg) || !isfinite (whole->azimuth1_deg) || !isfinite (whole->arc0_mm) ||
      !isfinite (whole->arc1_mm))
    return refuse (error, _ ("Azimuths and distances from the lip must be numbers."));
  if (!(whole->azimuth1_deg > whole->azimuth0_deg && whole->azimuth1_deg <= whole->azimuth0_deg + 360.0 + HAIR))
    return refuse (error, _ ("The zones run from one azimuth to a greater one, once round at most."));
  if (whole->arc0_mm >= 0.0 && whole->arc1_mm > whole->arc0_mm && whole->arc1_mm <= length_mm + HAIR)
    return TRUE;
  g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
               _ ("The rings run along the wall from 0 mm at the lip to %.1f mm at most; %g to %g mm is not on it."),
               length_mm, whole->arc0_mm, whole->arc1_mm);
  return FALSE;
}

/**
 * sherd_ring_grid_check:
 * @grid: rings and sectors
 * @surface: a vessel's side
 * @error: SHERD_SHAPE_ERROR_SIZE, in words
 *
 * Returns: whether the grid has cells and they fit on the side
 */
gboolean
sherd_ring_grid_check (const SherdRingGrid *grid, const SherdSurface *surface, GError **error)
{
  if (grid->n_rings < 1 || grid->n_sectors < 1 || grid->n_rings > MAX_RINGS || grid->n_sectors > MAX_RINGS)
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
                   _ ("A vessel is divided into 1 to %u rings and sectors; these are %u × %u."), MAX_RINGS,
                   grid->n_rings, grid->n_sectors);
      return FALSE;
    }
  if (!check_whole (&grid->whole, sherd_profile_length_mm (surface->profile), error))
    return FALSE;
  if (!(isfinite (grid->gap_mm) && grid->gap_mm >= 0.0))
    return refuse (error, _ ("A gap is a length of 0 mm or more."));
  if (!(ring_arc_mm (grid) >= LEAST_CELL_MM))
    return refuse (error, _ ("The rings do not fit: less than 1 mm is left for each. Take fewer rings or a smaller "
                             "gap."));
  for (guint ring = 0; ring < grid->n_rings; ring++)
    if (!(sector_deg (grid, surface, ring) / DEGREES_PER_RADIAN * middle_r_mm (grid, surface, ring) >= LEAST_CELL_MM))
      return refuse (error, _ ("The sectors do not fit: less than 1 mm is left for each. Take fewer sectors or a "
                               "smaller gap, or stay farther from the middle of the floor."));
  return TRUE;
}

/**
 * sherd_ring_grid_cell:
 * @grid: a grid that passed sherd_ring_grid_check ()
 * @surface: a vessel's side
 * @ring: from 0, away from the lip
 * @sector: from 0, with growing azimuth
 *
 * Returns: the cell. All round, gaps lie half on either side of equal sectors, so that sectors of all rings have the
 * same middles.
 */
SherdRange
sherd_ring_grid_cell (const SherdRingGrid *grid, const SherdSurface *surface, guint ring, guint sector)
{
  const double width_deg = sector_deg (grid, surface, ring), between_deg = gap_deg (grid, surface, ring);
  const double first_deg = n_gaps (grid) == grid->n_sectors ? between_deg / 2.0 : 0.0;
  const double azimuth_deg = grid->whole.azimuth0_deg + first_deg + sector * (width_deg + between_deg);
  const double arc_mm = ring_start_mm (grid, ring);

  return (SherdRange){ .azimuth0_deg = azimuth_deg,
                       .azimuth1_deg = azimuth_deg + width_deg,
                       .arc0_mm = arc_mm,
                       .arc1_mm = arc_mm + ring_arc_mm (grid) };
}
