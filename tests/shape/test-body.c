/* SPDX-License-Identifier: GPL-3.0-or-later */

/* A beaker and a tile by hand. */

#include "config.h"

#include "shape/body.h"

#include <math.h>

static void
test_mass_of_a_tile (void)
{
  const SherdLength thickness = { 8.0, 0.4 };
  const SherdVolume volume = sherd_body_of_slab (120.0 * 90.0, 0.01, &thickness);
  const SherdDensity density = { 1.8, 0.09 };
  const SherdMass mass = sherd_body_mass (&volume, &density);

  /* 86.4 cm³ of 1.8: 155.52 g; shares of doubt 2 %, 5 % and 5 %. */
  g_assert_cmpfloat_with_epsilon (mass.g, 155.52, 1e-9);
  g_assert_cmpfloat_with_epsilon (mass.sd_g / mass.g, sqrt (0.02 * 0.02 + 0.05 * 0.05 + 0.05 * 0.05), 1e-9);
}

/* The doubt of the wall is what a wall thicker by it adds; the rounded lip, 5 % of the inside, adds less. */
static void
test_doubt_of_the_wall (void)
{
  const SherdProfilePoint points[] = { { 40, 0, FALSE }, { 40, 100, FALSE } };
  const SherdWall wall = { 5.0, 5.0 }, thicker = { 5.1, 5.1 };
  g_autoptr (SherdVessel) vessel = sherd_vessel_new (points, 2, &wall, NULL);
  g_autoptr (SherdVessel) other = sherd_vessel_new (points, 2, &thicker, NULL);
  const SherdVolume volume = sherd_body_of_vessel (vessel, 0.0, 0.1);

  g_assert_cmpfloat_with_epsilon (volume.sd_mm3, sherd_vessel_clay_mm3 (other) - volume.mm3, 0.06 * volume.sd_mm3);
}

static void
test_every_state_has_a_density (void)
{
  for (guint state = SHERD_CLAY_LEATHER_HARD; state <= SHERD_CLAY_FIRED; state++)
    {
      const SherdDensity density = sherd_body_density (state);

      g_assert_cmpfloat (density.g_cm3, >, 1.4);
      g_assert_cmpfloat (density.g_cm3, <, 2.3);
      g_assert_cmpfloat (density.sd_g_cm3, >=, 0.05 * density.g_cm3);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/body/mass-of-a-tile", test_mass_of_a_tile);
  g_test_add_func ("/shape/body/doubt-of-the-wall", test_doubt_of_the_wall);
  g_test_add_func ("/shape/body/every-state-has-a-density", test_every_state_has_a_density);
  return g_test_run ();
}
