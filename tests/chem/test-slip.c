/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Worked values P-4 to P-7 of tests/data/chem/check-values.csv. */

#include "config.h"

#include "chem/slip.h"

#include "support.h"

static void
test_a_slip_of_1400_g_per_litre_has_the_worked_values (void)
{
  g_autoptr (GHashTable) values = check_values_new ();
  const double solids_frac = sherd_slip_solids_frac (1400.0, 2.6);
  const double dry_mm = sherd_slip_dry_film_mm (0.20, solids_frac, 0.50);

  assert_near (values, "P-4", sherd_slip_solids_g_l (1400.0, 2.6));
  assert_near (values, "P-5", solids_frac);
  assert_near (values, "P-6", dry_mm);
  assert_near (values, "P-7", dry_mm / 10.0 * 0.50 * 2.6 * 1000.0);
}

static void
test_water_and_solids_make_the_slip (void)
{
  /* 650 g solids and 750 g water. */
  g_assert_cmpfloat_with_epsilon (sherd_slip_water_pct (1400.0, 2.6), 100.0 * 750.0 / 650.0, 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/slip/a-slip-of-1400-g-per-litre-has-the-worked-values",
                   test_a_slip_of_1400_g_per_litre_has_the_worked_values);
  g_test_add_func ("/chem/slip/water-and-solids-make-the-slip", test_water_and_solids_make_the_slip);
  return g_test_run ();
}
