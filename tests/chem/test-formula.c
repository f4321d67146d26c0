/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Molar masses against tests/data/chem/check-values.csv; atoms by hand. The doubt of shares that are not written is
 * that of the uniform distribution on the simplex, in closed form. */

#include "config.h"

#include "chem/formula.h"

#include <math.h>
#include <string.h>

#include "support.h"

#define ROUNDING 1e-9

static SherdFormula *
read_good (const char *text)
{
  g_autoptr (GError) error = NULL;
  SherdFormula *formula = sherd_formula_new (text, -1, NULL, &error);

  g_assert_no_error (error);
  return formula;
}

/* “Pb 3 C 2 O 8 H 2”, exactly. */
static void
assert_atoms (const char *text, const char *wanted)
{
  g_autoptr (SherdFormula) formula = read_good (text);
  g_auto (GStrv) words = g_strsplit (wanted, " ", 0);
  SherdAtoms rest = formula->atoms;

  for (guint i = 0; words[i] != NULL; i += 2)
    rest.count[sherd_element_find (words[i], strlen (words[i]))->number] -= g_ascii_strtod (words[i + 1], NULL);
  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    if (fabs (rest.count[i]) > ROUNDING)
      g_error ("%s: off by %g of element %u", text, rest.count[i], i);
}

static void
test_molar_masses_are_those_of_the_list (void)
{
  g_autoptr (GHashTable) values = check_values_new ();
  GHashTableIter iter;
  gpointer id, value;
  guint n = 0;

  g_hash_table_iter_init (&iter, values);
  while (g_hash_table_iter_next (&iter, &id, &value))
    if (g_str_has_prefix (id, "M-"))
      {
        const char *start = ((CheckValue *)value)->quantity + strlen ("molar mass ");
        g_autofree char *text = g_strndup (start, strcspn (start, " "));
        g_autoptr (SherdFormula) formula = read_good (text);

        assert_near (values, id, sherd_formula_molar_mass (formula).value);
        n++;
      }
  g_assert_cmpuint (n, ==, 17);
}

/* Weights have changed since 2001 by up to 0.05 % (zinc). */
#define OLD_WEIGHTS_FRAC 5e-4

static void
test_molar_masses_are_those_of_another_reader (void)
{
  g_auto (GStrv) rows = rows_of_file ("molar-masses.csv");
  guint n = 0;

  for (guint i = 1; rows[i] != NULL; i++, n++)
    {
      g_auto (GStrv) fields = split_row (rows[i]);
      g_autoptr (SherdFormula) formula = read_good (fields[0]);
      const double other = g_ascii_strtod (fields[1], NULL);

      g_assert_cmpfloat_with_epsilon (sherd_formula_molar_mass (formula).value, other, OLD_WEIGHTS_FRAC * other);
    }
  g_assert_cmpuint (n, ==, 74);
}

static void
test_brackets_dots_and_numbers_are_read (void)
{
  assert_atoms ("Fe2O3", "Fe 2 O 3");
  assert_atoms (" Fe₂O₃ ", "Fe 2 O 3");
  assert_atoms ("2PbCO3·Pb(OH)2", "Pb 3 C 2 O 8 H 2");
  assert_atoms ("2PbCO₃ • Pb(OH)₂", "Pb 3 C 2 O 8 H 2");
  assert_atoms ("2PbCO3*Pb(OH)2", "Pb 3 C 2 O 8 H 2");
  assert_atoms ("2 PbCO3.Pb(OH)2", "Pb 3 C 2 O 8 H 2");
  assert_atoms ("CuAl6(PO4)4(OH)8·4H2O", "Cu 1 Al 6 P 4 O 28 H 16");
  assert_atoms ("Ca2[Al(SiO4)2]{OH}3", "Ca 2 Al 1 Si 2 O 11 H 3");
  assert_atoms ("((((Na))))2O", "Na 2 O 1");
  assert_atoms ("Na0.33Al1.67Mg0.33Si4O10(OH)2·H2O", "Na 0.33 Al 1.67 Mg 0.33 Si 4 O 13 H 4");
  assert_atoms ("Na₀.₃₃Al₁.₆₇Mg₀,₃₃Si₄O₁₀(OH)₂", "Na 0.33 Al 1.67 Mg 0.33 Si 4 O 12 H 2");
  assert_atoms ("Na1/3Al5/3", "Na 0.3333333333333333 Al 1.6666666666666667");
  assert_atoms ("CaSO4·1/2H2O", "Ca 1 S 1 O 4.5 H 1");
  assert_atoms ("COCo", "C 1 O 1 Co 1");
}

static void
test_a_point_is_a_decimal_point_or_parts_two_formulas (void)
{
  assert_atoms ("Na2B4O7.10H2O", "Na 2 B 4 O 17 H 20");
  assert_atoms ("CaCl2.2H2O", "Ca 1 Cl 2 H 4 O 2");
  assert_atoms ("CaSO4.0.5H2O", "Ca 1 S 1 O 4.5 H 1");
  assert_atoms ("Al2O3.2SiO2.2H2O", "Al 2 Si 2 O 9 H 4");
  assert_atoms ("MnO1.97", "Mn 1 O 1.97");
  assert_atoms ("Fe0.95O", "Fe 0.95 O 1");
  assert_atoms ("K0.65Al2.65Si3.35O10(OH)2", "K 0.65 Al 2.65 Si 3.35 O 12 H 2");
  assert_atoms ("CuCO3.Cu(OH)2", "Cu 2 C 1 O 5 H 2");
}

static void
test_shares_of_a_solid_solution_are_taken_as_written (void)
{
  g_autoptr (SherdFormula) formula = read_good ("(Mg0.9,Fe0.1)2SiO4");

  g_assert_cmpuint (formula->deviations->len, ==, 0);
  assert_atoms ("(Mg0.9,Fe0.1)2SiO4", "Mg 1.8 Fe 0.2 Si 1 O 4");
  assert_atoms ("(Mg0.9,Fe)2SiO4", "Mg 1.8 Fe 0.2 Si 1 O 4");
  assert_atoms ("(Mg0.9Fe0.1)2SiO4", "Mg 1.8 Fe 0.2 Si 1 O 4");
  assert_atoms ("Ca((CO3)0.25,(SO4)0.75)", "Ca 1 C 0.25 S 0.75 O 3.75");
}

static void
test_shares_that_are_not_written_are_equal_and_in_doubt (void)
{
  g_autoptr (SherdFormula) two = read_good ("(Mg,Fe)2SiO4");
  g_autoptr (SherdFormula) pure = read_good ("Mg2SiO4");
  g_autoptr (SherdFormula) three = read_good ("Ca5(PO4)3(F,Cl,OH)");
  const double span = 2.0 * (55.845 - 24.305);
  double variance = 0.0;

  assert_atoms ("(Mg,Fe)2SiO4", "Mg 1 Fe 1 Si 1 O 4");
  assert_atoms ("Ca5(PO4)3(F,Cl,OH)", "Ca 5 P 3 O 12.333333333333334 F 0.3333333333333333 Cl 0.3333333333333333 H "
                                      "0.3333333333333333");
  /* A share uniform between 0 and 1 has a standard deviation of 1/√12. */
  g_assert_cmpfloat_with_epsilon (sherd_formula_molar_mass (two).u, span / sqrt (12.0), 0.01);
  g_assert_cmpfloat (sherd_formula_molar_mass (pure).u, <, 0.01);
  /* Of three: var = (n - 1) / (n² (n + 1)) = 2 / 36. */
  for (guint i = 0; i < three->deviations->len; i++)
    variance += pow (g_array_index (three->deviations, SherdAtoms, i).count[9], 2.0);
  g_assert_cmpfloat_with_epsilon (variance, 2.0 / 36.0, ROUNDING);
}

typedef struct
{
  const char *text;
  gsize byte;
  gsize character;
  const char *words;
} Refusal;

static void
test_refusals_point_at_the_character (void)
{
  static const Refusal refusals[] = {
    { "", 0, 0, "an element is expected" },
    { "   ", 3, 3, "an element is expected" },
    { "Fe2O3·", 7, 6, "an element is expected" },
    { "Xx2O3", 0, 0, "“Xx” is not an element" },
    { "Fe2O3·Qz", 7, 6, "“Qz” is not an element" },
    { "Fe2J3", 3, 3, "“J” is not an element" },
    { "sio2", 0, 0, "write “Si”" },
    { "Fe2o3", 3, 3, "write “O”" },
    { "CaSO4·nH2O", 7, 6, "“n” is not a number" },
    { "Ca2+", 3, 3, "charges do not belong" },
    { "Ca²⁺", 2, 2, "charges do not belong" },
    { "SO4^2-", 3, 3, "charges do not belong" },
    { "Fe(OH", 2, 2, "is not closed by “)”" },
    { "Fe(OH]2", 5, 5, "is not closed by “)”" },
    { "FeOH)2", 4, 4, "is closed but was not opened" },
    { "Fe()", 3, 3, "an element is expected" },
    { "(Mg0.9,Fe,Mn)O", 0, 0, "give every share" },
    { "(Mg1.5,Fe)O", 0, 0, "give every share" },
    { "Fe0O", 2, 2, "zero or far too large" },
    { "Fe1/0O", 2, 2, "zero or far too large" },
    { "Fe99999999O", 2, 2, "zero or far too large" },
    { "((((Fe9999)9999)9999)9999)O", 15, 15, "far too many atoms" },
    { "Fe 2O3", 3, 3, "follows a space" },
    { "Fe2O3!", 5, 5, "does not belong" },
    { "Fe2O3·□", 7, 6, "an element is expected" },
    { "Fe\xff", 0, 0, "not the text of a formula" },
    { "((((((((((((((((((((((Fe))))))))))))))))))))))", 20, 20, "too deeply" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr (GError) error = NULL;
      SherdTextPlace place = { 99, 99 };
      g_autofree char *number = g_strdup_printf ("character %" G_GSIZE_FORMAT ":", refusals[i].character + 1);

      g_assert_null (sherd_formula_new (refusals[i].text, -1, &place, &error));
      g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_FORMULA);
      g_assert_nonnull (strstr (error->message, refusals[i].words));
      g_assert_nonnull (strstr (error->message, number));
      g_assert_cmpuint (place.byte, ==, refusals[i].byte);
      g_assert_cmpuint (place.character, ==, refusals[i].character);
    }
}

static void
test_a_copy_has_the_same_atoms_and_doubt (void)
{
  g_autoptr (SherdFormula) formula = read_good ("(Mg,Fe)2SiO4");
  g_autoptr (SherdFormula) copy = sherd_formula_copy (formula);

  g_assert_cmpmem (&copy->atoms, sizeof copy->atoms, &formula->atoms, sizeof formula->atoms);
  g_assert_cmpfloat (sherd_formula_molar_mass (copy).u, ==, sherd_formula_molar_mass (formula).u);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/formula/molar-masses-are-those-of-the-list", test_molar_masses_are_those_of_the_list);
  g_test_add_func ("/chem/formula/molar-masses-are-those-of-another-reader",
                   test_molar_masses_are_those_of_another_reader);
  g_test_add_func ("/chem/formula/brackets-dots-and-numbers-are-read", test_brackets_dots_and_numbers_are_read);
  g_test_add_func ("/chem/formula/a-point-is-a-decimal-point-or-parts-two-formulas",
                   test_a_point_is_a_decimal_point_or_parts_two_formulas);
  g_test_add_func ("/chem/formula/shares-of-a-solid-solution-are-taken-as-written",
                   test_shares_of_a_solid_solution_are_taken_as_written);
  g_test_add_func ("/chem/formula/shares-that-are-not-written-are-equal-and-in-doubt",
                   test_shares_that_are_not_written_are_equal_and_in_doubt);
  g_test_add_func ("/chem/formula/refusals-point-at-the-character", test_refusals_point_at_the_character);
  g_test_add_func ("/chem/formula/a-copy-has-the-same-atoms-and-doubt", test_a_copy_has_the_same_atoms_and_doubt);
  return g_test_run ();
}
