/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Each hazard has words; figures of limits are those of tests/data/chem/check-values.csv (L-7, L-8). */

#include "config.h"

#include "chem/hazard.h"

#include <string.h>

#include "chem/formula.h"
#include "support.h"

static SherdHazards
hazards_of (const char *text)
{
  g_autoptr (SherdFormula) formula = sherd_formula_new (text, -1, NULL, NULL);

  g_assert_nonnull (formula);
  return sherd_hazards_of_atoms (&formula->atoms);
}

static void
test_every_hazard_has_a_word_a_name_and_a_caution (void)
{
  for (guint i = 0; i < SHERD_N_HAZARDS; i++)
    {
      const SherdHazards hazard = (SherdHazards)(1u << i);

      g_assert_cmpuint (sherd_hazard_from_id (sherd_hazard_get_id (hazard)), ==, hazard);
      g_assert_cmpuint (strlen (sherd_hazard_get_name (hazard)), >, 0);
      g_assert_cmpuint (strlen (sherd_hazard_get_caution (hazard)), >, 20);
    }
  g_assert_null (sherd_hazard_get_id (SHERD_HAZARD_LEAD | SHERD_HAZARD_COPPER));
  g_assert_cmpuint (sherd_hazard_from_id ("kryptonite"), ==, 0);
}

static void
test_elements_bring_their_hazards (void)
{
  g_assert_cmpuint (hazards_of ("PbS"), ==, SHERD_HAZARD_LEAD | SHERD_HAZARD_SULPHUR_DIOXIDE);
  g_assert_cmpuint (hazards_of ("BaMn9O16(OH)4"), ==, SHERD_HAZARD_BARIUM | SHERD_HAZARD_MANGANESE);
  g_assert_cmpuint (hazards_of ("Na2B4O7·10H2O"), ==, SHERD_HAZARD_BORATE);
  g_assert_cmpuint (hazards_of ("SiO2"), ==, SHERD_HAZARD_SILICA_DUST);
  g_assert_cmpuint (hazards_of ("KAlSi3O8"), ==, 0);
  g_assert_cmpuint (hazards_of ("Fe2O3"), ==, 0);
  g_assert_cmpuint (hazards_of ("FeAsS"), ==, SHERD_HAZARD_ARSENIC | SHERD_HAZARD_SULPHUR_DIOXIDE);
}

static void
assert_holds_figure (GHashTable *values, const char *id, SherdHazards hazard)
{
  g_autofree char *figure = g_strdup_printf ("%g µg/m³", check_value (values, id)->value);

  g_assert_nonnull (strstr (sherd_hazard_get_limits (hazard), figure));
}

static void
test_limits_of_lead_and_silica_are_those_of_the_list (void)
{
  g_autoptr (GHashTable) values = check_values_new ();

  assert_holds_figure (values, "L-7", SHERD_HAZARD_LEAD);
  assert_holds_figure (values, "L-8", SHERD_HAZARD_SILICA_DUST);
}

static void
test_ten_grams_of_galena_need_a_hall_of_fresh_air (void)
{
  g_autoptr (GHashTable) values = check_values_new ();

  assert_near (values, "SO2-2", sherd_sulphur_dioxide_mg_m3 (2.0));
  assert_near (values, "SO2-3", sherd_sulphur_dioxide_air_m3 (check_value (values, "SO2-1")->value));
}

static void
test_nothing_is_called_fit_for_food (void)
{
  g_assert_nonnull (strstr (sherd_hazards_get_food_caution (0), "not for food"));
  g_assert_nonnull (strstr (sherd_hazards_get_food_caution (SHERD_HAZARD_COBALT), "Not for food"));
  g_assert_nonnull (strstr (sherd_hazards_get_food_caution (SHERD_HAZARD_LEAD), "Contains lead"));
  g_assert_nonnull (strstr (sherd_hazards_get_deference (), "local"));
  g_assert_nonnull (strstr (sherd_hazards_get_deference (), "licensed practice"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/hazard/every-hazard-has-a-word-a-name-and-a-caution",
                   test_every_hazard_has_a_word_a_name_and_a_caution);
  g_test_add_func ("/chem/hazard/elements-bring-their-hazards", test_elements_bring_their_hazards);
  g_test_add_func ("/chem/hazard/limits-of-lead-and-silica-are-those-of-the-list",
                   test_limits_of_lead_and_silica_are_those_of_the_list);
  g_test_add_func ("/chem/hazard/ten-grams-of-galena-need-a-hall-of-fresh-air",
                   test_ten_grams_of_galena_need_a_hall_of_fresh_air);
  g_test_add_func ("/chem/hazard/nothing-is-called-fit-for-food", test_nothing_is_called_fit_for_food);
  return g_test_run ();
}
