/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Published points of tests/data/chem/check-values.csv (E-, W-) and the worked look-up of batch A: 35.60 mol % PbO of
 * PbO + SiO2 gives 899 °C by straight lines. */

#include "config.h"

#include "chem/phase.h"

#include <math.h>
#include <string.h>

#include "support.h"

static const SherdPhaseSystem *
find (GPtrArray *systems, const char *name)
{
  const SherdPhaseSystem *system = sherd_phase_systems_find (systems, name);

  g_assert_nonnull (system);
  return system;
}

static double
mol_frac_of_wt (double pbo_pct)
{
  const double pbo = pbo_pct / 223.199, sio2 = (100.0 - pbo_pct) / 60.083;

  return pbo / (pbo + sio2);
}

static void
test_invariant_points_are_those_published (void)
{
  static const struct
  {
    const char *id, *system;
    double first_frac;
  } cases[] = {
    { "E-1", "PbO-SiO2", 0.3972 }, { "E-2", "PbO-SiO2", 0.5984 }, { "E-3", "PbO-SiO2", 0.50 },
    { "E-4", "PbO-SiO2", 0.6667 }, { "E-5", "PbO-SiO2", 1.0 },    { "E-6", "PbO-SiO2", 0.7857 },
    { "E-7", "PbO-SiO2", 0.8333 },
  };
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();

  g_assert_nonnull (systems);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_near (values, cases[i].id,
                 sherd_phase_liquidus_c (find (systems, cases[i].system), cases[i].first_frac, NULL));
}

static void
test_other_eutectics_are_those_published (void)
{
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();

  assert_near (values, "E-8", g_array_index (find (systems, "PbO-B2O3")->points, SherdPhasePoint, 0).temperature_c);
  assert_near (values, "E-9", g_array_index (find (systems, "PbO-CuO")->points, SherdPhasePoint, 0).temperature_c);
  assert_near (values, "E-10", g_array_index (find (systems, "Na2O-SiO2")->points, SherdPhasePoint, 1).temperature_c);
}

/* Compounds lie where their formulas say: the W- rows give their PbO in mass %. */
static void
test_compounds_lie_where_their_formulas_say (void)
{
  static const char *const phases[] = { "PbO·SiO2", "2PbO·SiO2", "11PbO·3SiO2" };
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();
  const SherdPhaseSystem *system = find (systems, "PbO-SiO2");
  guint n = 0;

  for (guint i = 0; i < system->points->len; i++)
    for (guint k = 0; k < G_N_ELEMENTS (phases); k++)
      {
        const SherdPhasePoint *point = &g_array_index (system->points, SherdPhasePoint, i);
        g_autofree char *id = g_strdup_printf ("W-%s", phases[k]);
        const double pbo = point->mol_frac[0] * 223.199, sio2 = point->mol_frac[1] * 60.083;

        if (strcmp (point->phase, phases[k]) != 0)
          continue;
        assert_near (values, id, 100.0 * pbo / (pbo + sio2));
        n++;
      }
  g_assert_cmpuint (n, ==, 3);
}

static void
test_between_the_points_the_liquidus_is_a_straight_line (void)
{
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();
  const SherdPhaseSystem *system = find (systems, "PbO-SiO2");
  double limit_c;

  g_assert_cmpfloat_with_epsilon (sherd_phase_liquidus_c (system, 0.3560, &limit_c), 899.0, 0.6);
  g_assert_cmpfloat (limit_c, ==, 50.0);
  /* Everything from 71 to 95 mass % PbO is liquid by about 765 °C. */
  for (double pct = 71.0; pct <= 95.0; pct += 0.25)
    g_assert_cmpfloat (sherd_phase_liquidus_c (system, mol_frac_of_wt (pct), NULL), <, 766.0);
  g_assert_cmpfloat (sherd_phase_liquidus_c (system, mol_frac_of_wt (65.0), &limit_c), >, 930.0);
  g_assert_cmpfloat (sherd_phase_liquidus_c (system, mol_frac_of_wt (65.0), NULL), <, 1030.0); /* 980 ± 50 */
}

static void
test_the_solidus_is_the_lowest_point_between_two_compounds (void)
{
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();
  const SherdPhaseSystem *system = find (systems, "PbO-SiO2");

  g_assert_cmpfloat (sherd_phase_solidus_c (system, 0.10, NULL), ==, 732.0);
  g_assert_cmpfloat (sherd_phase_solidus_c (system, 0.45, NULL), ==, 732.0);
  g_assert_cmpfloat (sherd_phase_solidus_c (system, 0.55, NULL), ==, 716.0);
  g_assert_cmpfloat (sherd_phase_solidus_c (system, 0.70, NULL), ==, 714.0);
  g_assert_cmpfloat (sherd_phase_solidus_c (system, 0.95, NULL), ==, 728.0);
  for (double first = 0.0; first <= 1.0; first += 0.01)
    g_assert_cmpfloat (sherd_phase_solidus_c (system, first, NULL), <=, sherd_phase_liquidus_c (system, first, NULL));
}

static void
test_the_scarcest_oxide_limits_the_liquid (void)
{
  g_autoptr (GPtrArray) systems = sherd_phase_systems_new_built_in ();
  const SherdPhaseSystem *system = find (systems, "PbO-SiO2");
  SherdOxides oxides = { { 0 } };
  SherdPhasePoint point = { .is_placed = TRUE, .mol_frac = { 0.4, 0.6 } };

  g_assert_cmpfloat (sherd_phase_most_liquid_frac (system, &point, &oxides), ==, 0.0);
  oxides.mol[SHERD_OXIDE_PBO] = 0.1;
  oxides.mol[SHERD_OXIDE_SIO2] = 0.9;
  g_assert_cmpfloat_with_epsilon (sherd_phase_most_liquid_frac (system, &point, &oxides), 0.25, 1e-12);
  oxides.mol[SHERD_OXIDE_FE2O3] = 1.0;
  g_assert_cmpfloat_with_epsilon (sherd_phase_most_liquid_frac (system, &point, &oxides), 0.125, 1e-12);
}

#define HEAD "system,use,kind,phase,first,second,t,u,source,known\n"

static void
test_refusals_name_the_line (void)
{
  static const struct
  {
    const char *text;
    guint line;
    const char *words;
  } refusals[] = {
    { "", 1, "no rows" },
    { HEAD "PbO-SiO2,liquidus,melting\n", 2, "not 10 fields" },
    { HEAD "\nPbO-Xx,liquidus,melting,PbO,100,0,887,3,A,seen\n", 3, "does not name" },
    { HEAD "PbO-SiO2,liquidus,boiling,PbO,100,0,887,3,A,seen\n", 2, "no kind of point" },
    { HEAD "PbO-SiO2,perhaps,melting,PbO,100,0,887,3,A,seen\n", 2, "no use of a point" },
    { HEAD "PbO-SiO2,liquidus,melting,PbO,hundred,0,887,3,A,seen\n", 2, "is not a number" },
    { HEAD "PbO-SiO2,liquidus,melting,PbO,100,50,887,3,A,seen\n", 2, "more than 100" },
    { HEAD "PbO-SiO2,liquidus,melting,PbO,50,50,nan,3,A,seen\n", 2, "is not a number" },
    { HEAD "PbO-SiO2,liquidus,melting,PbO,50,50,800,3,A,seen\nPbO-SiO2,liquidus,melting,PbO,60,40,800,3,A,seen\n", 3,
      "falling shares" },
    { HEAD "PbO-SiO2,liquidus,melting,PbO,100,0,887,3,A,seen\n", 3, "too few points" },
    { HEAD "PbO-SiO2,liquidus,melting,PbO,100,0,887,3,A,seen\nPbO-SiO2,bound,lowest,,,,650,3,A,seen\n", 3, "same use" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *line = g_strdup_printf ("line %u:", refusals[i].line);

      g_assert_null (sherd_phase_systems_new (refusals[i].text, -1, &error));
      g_assert_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_TABLE);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, refusals[i].words));
      g_assert_nonnull (strstr (error->message, line));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/phase/invariant-points-are-those-published", test_invariant_points_are_those_published);
  g_test_add_func ("/chem/phase/other-eutectics-are-those-published", test_other_eutectics_are_those_published);
  g_test_add_func ("/chem/phase/compounds-lie-where-their-formulas-say", test_compounds_lie_where_their_formulas_say);
  g_test_add_func ("/chem/phase/between-the-points-the-liquidus-is-a-straight-line",
                   test_between_the_points_the_liquidus_is_a_straight_line);
  g_test_add_func ("/chem/phase/the-solidus-is-the-lowest-point-between-two-compounds",
                   test_the_solidus_is_the_lowest_point_between_two_compounds);
  g_test_add_func ("/chem/phase/the-scarcest-oxide-limits-the-liquid", test_the_scarcest_oxide_limits_the_liquid);
  g_test_add_func ("/chem/phase/refusals-name-the-line", test_refusals_name_the_line);
  return g_test_run ();
}
