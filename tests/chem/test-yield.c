/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Losses on ignition, oxide yields and the sulphur dioxide of galena against tests/data/chem/check-values.csv; the mass
 * balance as a property of many formulas; doubts by hand. */

#include "config.h"

#include "chem/yield.h"

#include <math.h>
#include <string.h>

#include "pantry.h"
#include "support.h"

#define ROUNDING 1e-12

static SherdYield
yield_of (const char *formula)
{
  g_autoptr (SherdSubstance) substance = pantry_new (formula, SHERD_SUBSTANCE_COLOURANT, 0.0);
  g_autoptr (GError) error = NULL;
  SherdYield yield;

  sherd_substance_get_yield (substance, &yield, &error);
  g_assert_no_error (error);
  return yield;
}

static void
test_losses_on_ignition_are_those_of_the_list (void)
{
  g_autoptr (GHashTable) values = check_values_new ();
  GHashTableIter iter;
  gpointer id, value;
  guint n = 0;

  g_hash_table_iter_init (&iter, values);
  while (g_hash_table_iter_next (&iter, &id, &value))
    if (g_str_has_prefix (id, "LOI-"))
      {
        const char *start = ((CheckValue *)value)->quantity + strlen ("loss on ignition ");
        g_autofree char *formula = g_strndup (start, strcspn (start, ","));

        assert_near (values, id, 100.0 * yield_of (formula).lost_frac.value);
        n++;
      }
  g_assert_cmpuint (n, ==, 13);
}

static void
test_oxide_yields_are_those_of_the_list (void)
{
  static const struct
  {
    const char *id, *formula;
    SherdOxide oxide;
  } cases[] = {
    { "Y-mal", "Cu2CO3(OH)2", SHERD_OXIDE_CUO },
    { "Y-azu", "Cu3(CO3)2(OH)2", SHERD_OXIDE_CUO },
    { "Y-gal", "PbS", SHERD_OXIDE_PBO },
    { "Y-cer", "PbCO3", SHERD_OXIDE_PBO },
    { "Y-goe", "FeO(OH)", SHERD_OXIDE_FE2O3 },
    { "Y-pyr", "MnO2", SHERD_OXIDE_MN2O3 },
    { "Y-kaoA", "Al2Si2O5(OH)4", SHERD_OXIDE_AL2O3 },
    { "Y-kaoS", "Al2Si2O5(OH)4", SHERD_OXIDE_SIO2 },
    { "Y-ilm", "FeTiO3", SHERD_OXIDE_TIO2 },
  };
  g_autoptr (GHashTable) values = check_values_new ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_near (values, cases[i].id, yield_of (cases[i].formula).oxide_frac[cases[i].oxide].value);
}

static void
test_galena_gives_the_sulphur_dioxide_of_the_list (void)
{
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (SherdSubstance) galena = pantry_new ("PbS", SHERD_SUBSTANCE_FLUX, 7.58);
  double weights[SHERD_N_ATOMIC_NUMBERS], scores[8] = { 0 };
  SherdGram gram;

  sherd_element_weights (weights);
  sherd_substance_fire_gram (galena, weights, scores, &gram);
  assert_near (values, "SO2-1", 10.0 * gram.firing.leaving.count[SHERD_SULPHUR] * (32.06 + 2.0 * 15.999));
}

/* In + oxygen from the air = oxides + what leaves. */
static void
assert_balance (const SherdSubstance *substance)
{
  double weights[SHERD_N_ATOMIC_NUMBERS];
  g_autofree double *scores = g_new0 (double, sherd_substance_count_scores (substance));
  SherdGram gram;
  double out_g;

  sherd_element_weights (weights);
  sherd_substance_fire_gram (substance, weights, scores, &gram);
  out_g = sherd_oxides_mass_g (&gram.firing.oxides, weights) + sherd_atoms_mass_g (&gram.firing.leaving, weights) +
          gram.ignition_frac;
  g_assert_cmpfloat_with_epsilon (out_g, 1.0 + gram.firing.oxygen_taken_mol * weights[SHERD_OXYGEN], ROUNDING);
}

static void
test_nothing_is_lost_or_made (void)
{
  static const char *const parts[] = { "Fe2O3",        "PbS",           "Cu2CO3(OH)2", "MnO2", "Fe3O4", "C",
                                       "(Mg,Fe)2SiO4", "Na2B4O7·10H2O", "Ca5(PO4)3F",  "FeS2", "U3O8" };

  for (guint run = 0; run < 300; run++)
    {
      g_autoptr (SherdSubstance) find = NULL;
      g_autoptr (GString) text = g_string_new (NULL);
      const guint n = (guint)g_test_rand_int_range (1, 5);

      for (guint i = 0; i < n; i++)
        g_string_append_printf (text, "%s %.4f\n", parts[g_test_rand_int_range (0, G_N_ELEMENTS (parts))], 95.0 / n);
      g_string_append (text, "LOI 5\n");
      find = pantry_new_from_analysis (text->str, SHERD_SUBSTANCE_COLOURANT, 3.0);
      sherd_substance_set_purity (find, (SherdValue){ g_test_rand_double_range (0.2, 1.0), 0.1 },
                                  (SherdRest)g_test_rand_int_range (0, SHERD_N_RESTS), NULL);
      assert_balance (find);
    }
}

static void
test_magnetite_gains_and_charcoal_leaves_nothing (void)
{
  const SherdYield magnetite = yield_of ("Fe3O4"), charcoal = yield_of ("C");

  g_assert_cmpfloat (magnetite.lost_frac.value, <, 0.0);
  g_assert_cmpfloat_with_epsilon (magnetite.oxygen_taken_frac.value, -magnetite.lost_frac.value, ROUNDING);
  g_assert_cmpfloat (charcoal.lost_frac.value, ==, 1.0);
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    g_assert_cmpfloat (charcoal.oxide_frac[oxide].value, ==, 0.0);
}

static void
test_a_find_is_its_mineral_and_its_rest_with_their_doubt (void)
{
  g_autoptr (SherdSubstance) ore = pantry_new ("PbS", SHERD_SUBSTANCE_FLUX, 7.58);
  SherdYield yield;

  g_assert_true (sherd_substance_set_purity (ore, (SherdValue){ 0.8, 0.05 }, SHERD_REST_QUARTZ, NULL));
  g_assert_true (sherd_substance_get_yield (ore, &yield, NULL));
  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_PBO].value, 0.8 * 0.932872, 1e-5);
  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_SIO2].value, 0.2, ROUNDING);
  /* 0.05 × 0.9329; the weight of lead adds 2e-5 in squares. */
  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_PBO].u, 0.05 * 0.932872, 1e-4);
  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_SIO2].u, 0.05, ROUNDING);
  g_assert_true (sherd_substance_set_purity (ore, (SherdValue){ 0.8, 0.0 }, SHERD_REST_LIME, NULL));
  g_assert_true (sherd_substance_get_yield (ore, &yield, NULL));
  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_CAO].value, 0.2 * 0.5603, 1e-4);
}

static void
test_the_weight_of_lead_reaches_the_yield (void)
{
  const SherdYield yield = yield_of ("PbS");
  /* d/dM of (M + O) / (M + S) at M = 207.2 ± 1.1/√3. */
  const double slope = (32.06 - 15.999) / pow (207.2 + 32.06, 2.0);

  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_PBO].u, slope * 1.1 / sqrt (3.0), 5e-5);
}

static void
test_the_same_rock_as_minerals_or_as_oxides_yields_the_same (void)
{
  g_autoptr (SherdSubstance) minerals =
    pantry_new_from_analysis ("Al2Si2O5(OH)4 45; FeO(OH) 25; SiO2 30", SHERD_SUBSTANCE_COLOURANT, 2.9);
  g_autoptr (SherdSubstance) oxides =
    pantry_new_from_analysis ("SiO2 50.946; Al2O3 17.773; Fe2O3 22.466; LOI 8.815", SHERD_SUBSTANCE_COLOURANT, 2.9);
  SherdYield first, second;

  g_assert_true (sherd_substance_get_yield (minerals, &first, NULL));
  g_assert_true (sherd_substance_get_yield (oxides, &second, NULL));
  g_assert_cmpfloat_with_epsilon (first.lost_frac.value, second.lost_frac.value, 1e-4);
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    g_assert_cmpfloat_with_epsilon (first.oxide_frac[oxide].value, second.oxide_frac[oxide].value, 1e-4);
}

static void
test_a_doubt_larger_than_the_share_keeps_every_yield_finite (void)
{
  g_autoptr (SherdSubstance) rough = pantry_new_from_analysis ("Fe2O3 100 ± 100", SHERD_SUBSTANCE_COLOURANT, 3.0);
  g_autoptr (SherdSubstance) refused = sherd_substance_new (NULL, NULL, SHERD_SUBSTANCE_COLOURANT);
  SherdYield yield;

  g_assert_true (sherd_substance_get_yield (rough, &yield, NULL));
  g_assert_true (isfinite (yield.lost_frac.u));
  g_assert_cmpfloat_with_epsilon (yield.oxide_frac[SHERD_OXIDE_FE2O3].value, 1.0, ROUNDING);
  g_assert_false (sherd_substance_set_analysis (refused, "Fe2O3 30 ± 41", NULL, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/yield/losses-on-ignition-are-those-of-the-list",
                   test_losses_on_ignition_are_those_of_the_list);
  g_test_add_func ("/chem/yield/oxide-yields-are-those-of-the-list", test_oxide_yields_are_those_of_the_list);
  g_test_add_func ("/chem/yield/galena-gives-the-sulphur-dioxide-of-the-list",
                   test_galena_gives_the_sulphur_dioxide_of_the_list);
  g_test_add_func ("/chem/yield/nothing-is-lost-or-made", test_nothing_is_lost_or_made);
  g_test_add_func ("/chem/yield/magnetite-gains-and-charcoal-leaves-nothing",
                   test_magnetite_gains_and_charcoal_leaves_nothing);
  g_test_add_func ("/chem/yield/a-find-is-its-mineral-and-its-rest-with-their-doubt",
                   test_a_find_is_its_mineral_and_its_rest_with_their_doubt);
  g_test_add_func ("/chem/yield/the-weight-of-lead-reaches-the-yield", test_the_weight_of_lead_reaches_the_yield);
  g_test_add_func ("/chem/yield/the-same-rock-as-minerals-or-as-oxides-yields-the-same",
                   test_the_same_rock_as_minerals_or_as_oxides_yields_the_same);
  g_test_add_func ("/chem/yield/a-doubt-larger-than-the-share-keeps-every-yield-finite",
                   test_a_doubt_larger_than_the_share_keeps_every_yield_finite);
  return g_test_run ();
}
