/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/body.h"

#include <math.h>

#define MM3_PER_CM3 1000.0

/* Bulk densities of low-fired clay with its pores; common practice, no source. Leather-hard clay still holds water. */
static const SherdDensity DENSITIES[] = {
  [SHERD_CLAY_LEATHER_HARD] = { 2.0, 0.1 },
  [SHERD_CLAY_DRY] = { 1.8, 0.1 },
  [SHERD_CLAY_FIRED] = { 1.75, 0.15 },
};

/**
 * sherd_body_of_vessel:
 * @vessel: a vessel
 * @length_sd_frac: standard uncertainty of all its measures together, as of shrinkage, as a share
 * @wall_sd_mm: standard uncertainty of the thickness of wall and floor
 *
 * Returns: the volume of its clay (Pappus' second theorem). A thicker wall adds the area of the inside times the
 * difference; lengths go in with their cube.
 */
SherdVolume
sherd_body_of_vessel (const SherdVessel *vessel, double length_sd_frac, double wall_sd_mm)
{
  const double mm3 = sherd_vessel_clay_mm3 (vessel);
  const double inside_mm2 =
    sherd_profile_area_mm2 (vessel->inside, 0.0, sherd_profile_length_mm (vessel->inside), 360.0);

  return (SherdVolume){ mm3, hypot (3.0 * length_sd_frac * mm3, inside_mm2 * wall_sd_mm) };
}

/**
 * sherd_body_of_slab:
 * @area_mm2: of the face, without holes
 * @length_sd_frac: standard uncertainty of the face's measures together, as a share
 * @thickness: of tile or sherd
 *
 * Returns: the volume of its clay
 */
SherdVolume
sherd_body_of_slab (double area_mm2, double length_sd_frac, const SherdLength *thickness)
{
  const double mm3 = area_mm2 * thickness->mm;

  return (SherdVolume){ mm3, hypot (2.0 * length_sd_frac * mm3, area_mm2 * thickness->sd_mm) };
}

/**
 * sherd_body_density:
 * @state: of the clay
 *
 * Returns: what to assume when nobody has weighed a piece
 */
SherdDensity
sherd_body_density (SherdClayState state)
{
  return DENSITIES[state];
}

/**
 * sherd_body_mass:
 * @volume: of the clay
 * @density: of the clay with its pores
 *
 * Returns: the mass; the doubts are independent
 */
SherdMass
sherd_body_mass (const SherdVolume *volume, const SherdDensity *density)
{
  const double g = volume->mm3 / MM3_PER_CM3 * density->g_cm3;

  return (SherdMass){ g, hypot (volume->sd_mm3 / MM3_PER_CM3 * density->g_cm3,
                                volume->mm3 / MM3_PER_CM3 * density->sd_g_cm3) };
}
