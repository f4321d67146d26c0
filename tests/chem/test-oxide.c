/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Factors between oxides against tests/data/chem/check-values.csv; what fires to what, by hand. */

#include "config.h"

#include "chem/oxide.h"

#include <string.h>

#include "support.h"

static double
molar_mass (const char *text)
{
  g_autoptr (SherdFormula) formula = sherd_formula_new (text, -1, NULL, NULL);

  g_assert_nonnull (formula);
  return sherd_formula_molar_mass (formula).value;
}

static void
test_every_oxide_is_what_its_formula_says_and_fires_to_itself (void)
{
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    {
      g_autoptr (SherdFormula) formula = sherd_formula_new (sherd_oxide_get_formula (oxide), -1, NULL, NULL);
      SherdAtoms atoms;
      SherdFiring firing;

      sherd_oxide_get_atoms (oxide, &atoms);
      g_assert_cmpmem (&atoms, sizeof atoms, &formula->atoms, sizeof formula->atoms);
      sherd_oxides_fire (&atoms, &firing);
      g_assert_cmpfloat (firing.oxides.mol[oxide], ==, 1.0);
      g_assert_cmpfloat (firing.oxygen_taken_mol, ==, 0.0);
      g_assert_cmpfloat (sherd_atoms_molar_mass (&firing.leaving).value, ==, 0.0);
    }
}

static void
test_factors_between_manganese_oxides_are_those_of_the_list (void)
{
  g_autoptr (GHashTable) values = check_values_new ();
  const double mn2o3 = sherd_oxide_molar_mass (SHERD_OXIDE_MN2O3).value;

  assert_near (values, "F-MnO", 2.0 * molar_mass ("MnO") / mn2o3);
  assert_near (values, "F-Mn3O4", 2.0 * molar_mass ("Mn3O4") / (3.0 * mn2o3));
  assert_near (values, "Y-pyrMnO", molar_mass ("MnO") / molar_mass ("MnO2"));
  assert_near (values, "F-lan", molar_mass ("PbO·PbSO4") / (2.0 * molar_mass ("PbS")));
}

static void
test_fluxes_are_those_of_segers_rule (void)
{
  static const char *const fluxes = "Li2O Na2O K2O MgO CaO SrO BaO ZnO PbO";
  g_autoptr (GString) found = g_string_new (NULL);

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    if (sherd_oxide_is_flux (oxide))
      g_string_append_printf (found, "%s%s", found->len > 0 ? " " : "", sherd_oxide_get_formula (oxide));
  g_assert_cmpstr (found->str, ==, fluxes);
}

static void
test_an_element_of_unknown_fate_is_named (void)
{
  g_autoptr (SherdFormula) gold = sherd_formula_new ("AuTe2", -1, NULL, NULL);
  g_autoptr (SherdFormula) fluorite = sherd_formula_new ("CaF2", -1, NULL, NULL);
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_oxides_check_fate (&gold->atoms, &error));
  g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_FATE);
  g_assert_nonnull (strstr (error->message, "element Au "));
  g_assert_true (sherd_oxides_check_fate (&fluorite->atoms, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/oxide/every-oxide-is-what-its-formula-says-and-fires-to-itself",
                   test_every_oxide_is_what_its_formula_says_and_fires_to_itself);
  g_test_add_func ("/chem/oxide/factors-between-manganese-oxides-are-those-of-the-list",
                   test_factors_between_manganese_oxides_are_those_of_the_list);
  g_test_add_func ("/chem/oxide/fluxes-are-those-of-segers-rule", test_fluxes_are_those_of_segers_rule);
  g_test_add_func ("/chem/oxide/an-element-of-unknown-fate-is-named", test_an_element_of_unknown_fate_is_named);
  return g_test_run ();
}
