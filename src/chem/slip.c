/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/slip.h"

/* At the temperatures of a workshop, to 0.3 %. */
#define WATER_G_L 1000.0

/**
 * sherd_slip_solids_g_l:
 * @slip_g_l: weight of one litre of slip or paint, above 1000
 * @particle_g_ml: density of the grains, above 1
 *
 * Brongniart's relation.
 *
 * Returns: dry solids in one litre
 */
double
sherd_slip_solids_g_l (double slip_g_l, double particle_g_ml)
{
  return (slip_g_l - WATER_G_L) * particle_g_ml / (particle_g_ml - 1.0);
}

/* Returns: the share of the slip's volume that solids take */
double
sherd_slip_solids_frac (double slip_g_l, double particle_g_ml)
{
  return sherd_slip_solids_g_l (slip_g_l, particle_g_ml) / (particle_g_ml * WATER_G_L);
}

/* Returns: water in % of the dry solids' mass that makes a slip of that weight */
double
sherd_slip_water_pct (double slip_g_l, double particle_g_ml)
{
  const double solids_g_l = sherd_slip_solids_g_l (slip_g_l, particle_g_ml);

  return 100.0 * (slip_g_l - solids_g_l) / solids_g_l;
}

/**
 * sherd_slip_dry_film_mm:
 * @wet_mm: thickness as painted
 * @solids_frac: share of the paint's volume that solids take
 * @packing_frac: share of the dry coat's volume that grains fill
 *
 * Returns: thickness when dry
 */
double
sherd_slip_dry_film_mm (double wet_mm, double solids_frac, double packing_frac)
{
  return wet_mm * solids_frac / packing_frac;
}
