/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The two worked batches and the mix by volume of tests/data/chem/check-values.csv (BA-, BB-, P-); properties: order
 * and scale do not matter, a mix of a mix is the mix written out, nothing is ever not a number. */

#include "config.h"

#include "chem/mix-facts.h"

#include <math.h>
#include <string.h>

#include "chem/mix-model.h"
#include "pantry.h"
#include "support.h"

#define ROUNDING 1e-9

typedef struct
{
  const char *formula;
  SherdSubstanceKind kind;
  double particle_g_ml;
  double parts;
} Line;

static const Line batch_a[] = {
  { "PbS", SHERD_SUBSTANCE_FLUX, 7.58, 55.0 },
  { "SiO2", SHERD_SUBSTANCE_FILLER, 2.65, 18.0 },
  { "Cu2CO3(OH)2", SHERD_SUBSTANCE_COLOURANT, 4.0, 12.0 },
  { "Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6, 15.0 },
};

static const Line batch_b[] = {
  { "Fe2O3", SHERD_SUBSTANCE_COLOURANT, 5.26, 30.0 }, { "Na2B4O7·10H2O", SHERD_SUBSTANCE_FLUX, 1.71, 20.0 },
  { "SiO2", SHERD_SUBSTANCE_FILLER, 2.65, 20.0 },     { "Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6, 20.0 },
  { "CaCO3", SHERD_SUBSTANCE_FLUX, 2.71, 10.0 },
};

/* Owns its substances. */
typedef struct
{
  GPtrArray *substances;
  SherdMix *mix;
} Kettle;

static Kettle *
kettle_new (SherdMixBasis basis, const Line *lines, guint n, double scale)
{
  Kettle *kettle = g_new0 (Kettle, 1);

  kettle->substances = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_substance_free);
  kettle->mix = sherd_mix_new (basis);
  for (guint i = 0; i < n; i++)
    {
      SherdSubstance *substance = pantry_new (lines[i].formula, lines[i].kind, lines[i].particle_g_ml);

      g_ptr_array_add (kettle->substances, substance);
      sherd_mix_add (kettle->mix, substance, scale * lines[i].parts);
    }
  return kettle;
}

static void
kettle_free (Kettle *kettle)
{
  sherd_mix_free (kettle->mix);
  g_ptr_array_unref (kettle->substances);
  g_free (kettle);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Kettle, kettle_free)

static SherdMixFacts *
facts_of (const SherdMix *mix)
{
  g_autoptr (GError) error = NULL;
  SherdMixFacts *facts = sherd_mix_facts_new (mix, NULL, &error);

  g_assert_no_error (error);
  return facts;
}

static void
assert_worked_batch (const Line *lines, guint n, const char *prefix)
{
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_MASS, lines, n, 1.0);
  g_autoptr (SherdMixFacts) facts = facts_of (kettle->mix);
  g_autofree char *loss = g_strdup_printf ("%s-loss", prefix);

  assert_near (values, loss, 100.0 * facts->lost_frac.value);
  g_assert_true (facts->has_flux);
  for (guint i = 0; i < facts->oxides->len; i++)
    {
      const SherdFiredOxide *fired = &g_array_index (facts->oxides, SherdFiredOxide, i);
      g_autofree char *mass = g_strdup_printf ("%s-w-%s", prefix, sherd_oxide_get_formula (fired->oxide));
      g_autofree char *unity = g_strdup_printf ("%s-u-%s", prefix, sherd_oxide_get_formula (fired->oxide));

      assert_near (values, mass, fired->mass_pct.value);
      assert_near (values, unity, fired->per_flux.value);
    }
}

static void
test_worked_batches_come_out (void)
{
  assert_worked_batch (batch_a, G_N_ELEMENTS (batch_a), "BA");
  assert_worked_batch (batch_b, G_N_ELEMENTS (batch_b), "BB");
}

static void
test_parts_by_volume_become_mass_as_worked (void)
{
  static const Line lines[] = { { "Cu2CO3(OH)2", SHERD_SUBSTANCE_COLOURANT, 4.0, 2.0 },
                                { "Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6, 1.0 } };
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_VOLUME, lines, 2, 1.0);
  g_autoptr (SherdMixFacts) facts = facts_of (kettle->mix);
  const SherdMixShare *malachite = &g_array_index (facts->shares, SherdMixShare, 0);
  const double per_part = hypot (0.1 / 0.35, 0.125) / sqrt (3.0); /* packing and spoon, as limits */
  const double p = malachite->mass_frac.value;

  assert_near (values, "P-1", p / (1.0 - p));
  assert_near (values, "P-2", 100.0 * p);
  assert_near (values, "P-3", 100.0 * facts->fired.mol[SHERD_OXIDE_CUO] * 79.545);
  g_assert_cmpfloat_with_epsilon (malachite->volume_frac.value, 2.0 / 3.0, ROUNDING);
  /* The ratio of two such parts, put through p = r / (1 + r): curvature of 18 % doubts costs up to a tenth. */
  g_assert_cmpfloat_with_epsilon (malachite->mass_frac.u, p * (1.0 - p) * sqrt (2.0) * per_part, 0.005);
}

static void
test_weighed_spoons_need_no_density (void)
{
  static const Line lines[] = { { "Cu2CO3(OH)2", SHERD_SUBSTANCE_COLOURANT, 0.0, 2.0 },
                                { "Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 0.0, 1.0 } };
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_VOLUME, lines, 2, 1.0);
  g_autoptr (SherdMixFacts) facts = NULL;

  ((SherdSubstance *)g_ptr_array_index (kettle->substances, 0))->spoon_g = (SherdValue){ 3.0, 0.1 };
  ((SherdSubstance *)g_ptr_array_index (kettle->substances, 1))->spoon_g = (SherdValue){ 1.5, 0.1 };
  facts = facts_of (kettle->mix);
  g_assert_cmpfloat_with_epsilon (g_array_index (facts->shares, SherdMixShare, 0).mass_frac.value, 6.0 / 7.5, ROUNDING);
  g_assert_false (facts->has_density);
}

static void
test_spoons_of_different_size_count_by_what_they_hold (void)
{
  static const Line lines[] = { { "Cu2CO3(OH)2", SHERD_SUBSTANCE_COLOURANT, 4.0, 1.0 },
                                { "Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6, 1.0 } };
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_VOLUME, lines, 2, 1.0);
  SherdSubstance *malachite = g_ptr_array_index (kettle->substances, 0);
  SherdSubstance *clay = g_ptr_array_index (kettle->substances, 1);
  g_autoptr (SherdMixFacts) facts = NULL;

  malachite->spoon_g.value = 6.0;
  malachite->spoon_ml = 5.0;
  clay->spoon_g.value = 6.0;
  clay->spoon_ml = 15.0;
  facts = facts_of (kettle->mix);
  g_assert_cmpfloat_with_epsilon (g_array_index (facts->shares, SherdMixShare, 0).mass_frac.value, 1.2 / 1.6, ROUNDING);
}

static void
test_without_flux_there_is_no_molar_formula_and_no_division (void)
{
  static const Line lines[] = { { "MnO2", SHERD_SUBSTANCE_COLOURANT, 5.06, 2.0 },
                                { "Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6, 1.0 } };
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_MASS, lines, 2, 1.0);
  g_autoptr (SherdMixFacts) facts = facts_of (kettle->mix);

  g_assert_false (facts->has_flux);
  g_assert_cmpuint (facts->oxides->len, ==, 3);
}

/* One part of lime on sixty of silica is 1.8 mole % of flux, five are 8.2 (by hand, from 56.08 and 60.08 g/mol). */
static void
test_a_trace_of_flux_makes_no_molar_formula (void)
{
  static const Line trace[] = { { "SiO2", SHERD_SUBSTANCE_FILLER, 2.65, 60.0 },
                                { "CaO", SHERD_SUBSTANCE_FLUX, 3.3, 1.0 } };
  static const Line some[] = { { "SiO2", SHERD_SUBSTANCE_FILLER, 2.65, 60.0 },
                               { "CaO", SHERD_SUBSTANCE_FLUX, 3.3, 5.0 } };
  g_autoptr (Kettle) first = kettle_new (SHERD_MIX_BY_MASS, trace, 2, 1.0);
  g_autoptr (Kettle) second = kettle_new (SHERD_MIX_BY_MASS, some, 2, 1.0);
  g_autoptr (SherdMixFacts) with_trace = facts_of (first->mix);
  g_autoptr (SherdMixFacts) with_some = facts_of (second->mix);

  g_assert_false (with_trace->has_flux);
  g_assert_true (with_some->has_flux);
}

static void
test_charcoal_alone_leaves_nothing_and_no_shares (void)
{
  static const Line lines[] = { { "C", SHERD_SUBSTANCE_COLOURANT, 1.8, 1.0 } };
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_MASS, lines, 1, 1.0);
  g_autoptr (SherdMixFacts) facts = facts_of (kettle->mix);

  g_assert_cmpuint (facts->oxides->len, ==, 0);
  g_assert_cmpfloat (facts->lost_frac.value, ==, 1.0);
  g_assert_false (facts->has_flux);
}

static double
moles (const SherdMixFacts *facts, SherdOxide oxide)
{
  return facts->fired.mol[oxide];
}

static void
assert_same_fired (const SherdMixFacts *first, const SherdMixFacts *second)
{
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    g_assert_cmpfloat_with_epsilon (moles (first, oxide), moles (second, oxide), ROUNDING);
  g_assert_cmpfloat_with_epsilon (first->lost_frac.value, second->lost_frac.value, ROUNDING);
  g_assert_cmpfloat_with_epsilon (first->lost_frac.u, second->lost_frac.u, ROUNDING);
}

static void
test_scale_and_order_do_not_matter (void)
{
  for (guint basis = SHERD_MIX_BY_MASS; basis <= SHERD_MIX_BY_VOLUME; basis++)
    {
      Line backwards[G_N_ELEMENTS (batch_b)];
      g_autoptr (Kettle) kettle = kettle_new (basis, batch_b, G_N_ELEMENTS (batch_b), 1.0);
      g_autoptr (Kettle) larger = kettle_new (basis, batch_b, G_N_ELEMENTS (batch_b), 37.5);
      g_autoptr (Kettle) other = NULL;
      g_autoptr (SherdMixFacts) facts = facts_of (kettle->mix);
      g_autoptr (SherdMixFacts) facts_larger = facts_of (larger->mix);
      g_autoptr (SherdMixFacts) facts_other = NULL;

      for (guint i = 0; i < G_N_ELEMENTS (batch_b); i++)
        backwards[i] = batch_b[G_N_ELEMENTS (batch_b) - 1 - i];
      other = kettle_new (basis, backwards, G_N_ELEMENTS (batch_b), 1.0);
      facts_other = facts_of (other->mix);
      assert_same_fired (facts, facts_larger);
      assert_same_fired (facts, facts_other);
    }
}

static void
test_a_part_of_another_mix_is_that_mix_written_out (void)
{
  g_autoptr (Kettle) base = kettle_new (SHERD_MIX_BY_MASS, batch_a, G_N_ELEMENTS (batch_a), 1.0);
  g_autoptr (SherdSubstance) iron = pantry_new ("Fe2O3", SHERD_SUBSTANCE_COLOURANT, 5.26);
  g_autoptr (SherdMix) outer = sherd_mix_new (SHERD_MIX_BY_MASS);
  g_autoptr (SherdMix) written = sherd_mix_new (SHERD_MIX_BY_MASS);
  g_autoptr (SherdMixFacts) facts = NULL, facts_written = NULL;

  sherd_mix_add_mix (outer, base->mix, 3.0);
  sherd_mix_add (outer, iron, 1.0);
  for (guint i = 0; i < G_N_ELEMENTS (batch_a); i++)
    sherd_mix_add (written, g_ptr_array_index (base->substances, i), 3.0 * batch_a[i].parts / 100.0);
  sherd_mix_add (written, iron, 1.0);
  facts = facts_of (outer);
  facts_written = facts_of (written);
  g_assert_cmpuint (facts->shares->len, ==, 2);
  g_assert_cmpuint (facts->contents->len, ==, 5);
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    g_assert_cmpfloat_with_epsilon (moles (facts, oxide), moles (facts_written, oxide), ROUNDING);
  /* 3 parts of which 55 of 100 are galena, to 1. */
  g_assert_cmpfloat_with_epsilon (facts->kind_frac[SHERD_SUBSTANCE_FLUX].value, 0.75 * 0.55, ROUNDING);
}

static void
test_a_part_of_another_mix_by_volume_takes_its_loose_density (void)
{
  static const Line lines[] = { { "SiO2", SHERD_SUBSTANCE_FILLER, 2.0, 1.0 },
                                { "Fe2O3", SHERD_SUBSTANCE_COLOURANT, 4.0, 1.0 } };
  g_autoptr (Kettle) inner = kettle_new (SHERD_MIX_BY_MASS, lines, 2, 1.0);
  g_autoptr (SherdSubstance) clay = pantry_new ("Al2Si2O5(OH)4", SHERD_SUBSTANCE_CLAY, 2.6);
  g_autoptr (SherdMix) outer = sherd_mix_new (SHERD_MIX_BY_VOLUME);
  g_autoptr (SherdMixFacts) facts = NULL;
  const double inner_g_ml = 0.35 / (0.5 / 2.0 + 0.5 / 4.0);

  sherd_mix_add_mix (outer, inner->mix, 1.0);
  sherd_mix_add (outer, clay, 1.0);
  facts = facts_of (outer);
  g_assert_cmpfloat_with_epsilon (g_array_index (facts->shares, SherdMixShare, 0).mass_frac.value,
                                  inner_g_ml / (inner_g_ml + 0.35 * 2.6), ROUNDING);
}

static void
test_purity_of_a_find_reaches_the_molar_formula (void)
{
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_MASS, batch_a, G_N_ELEMENTS (batch_a), 1.0);
  g_autoptr (SherdMixFacts) doubtful = NULL;
  SherdSubstance *galena = g_ptr_array_index (kettle->substances, 0);
  SherdValue silica;

  sherd_substance_set_purity (galena, (SherdValue){ 0.85, 0.05 }, SHERD_REST_QUARTZ, NULL);
  doubtful = facts_of (kettle->mix);
  silica = g_array_index (doubtful->oxides, SherdFiredOxide, 2).per_flux;
  g_assert_cmpint (g_array_index (doubtful->oxides, SherdFiredOxide, 2).oxide, ==, SHERD_OXIDE_SIO2);
  /* Si / Pb = (24.9821 + 55 (1 - p)) / 60.083 over 55 p / 239.26; and its slope over p. */
  g_assert_cmpfloat_with_epsilon (silica.value, (24.9821 + 55.0 * 0.15) / 60.083 / (55.0 * 0.85 / 239.26), 1e-3);
  g_assert_cmpfloat_with_epsilon (silica.u, 0.05 * (24.9821 + 55.0) / 60.083 / (55.0 / 239.26) / (0.85 * 0.85), 5e-3);
}

/* A normal number by the sum of twelve uniform ones. */
static double
normal_number (void)
{
  double sum = -6.0;

  for (guint i = 0; i < 12; i++)
    sum += g_test_rand_double ();
  return sum;
}

/* Supplement 1 to the GUM: the spread of many draws of everything at once. 3000 draws know a standard deviation to 1.3
 * % of itself; doubts of a tenth bend the result by some per cent more. */
#define DRAWS 3000
#define DRAW_FRAC 0.10

static void
test_doubts_are_those_of_drawing_everything_at_random (void)
{
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_VOLUME, batch_a, G_N_ELEMENTS (batch_a), 1.0);
  g_autoptr (SherdMixFacts) facts = NULL;
  g_autoptr (SherdMixModel) model = NULL;
  g_autofree double *scores = NULL;
  double sum = 0.0, squares = 0.0, wanted = 0.0, found;

  sherd_substance_set_purity (g_ptr_array_index (kettle->substances, 0), (SherdValue){ 0.8, 0.06 }, SHERD_REST_QUARTZ,
                              NULL);
  facts = facts_of (kettle->mix);
  model = sherd_mix_model_new (kettle->mix);
  scores = g_new0 (double, model->n_scores);
  for (guint draw = 0; draw < DRAWS; draw++)
    {
      g_autoptr (SherdMixState) state = NULL;
      double lead;

      for (guint i = 0; i < model->n_scores; i++)
        scores[i] = normal_number ();
      state = sherd_mix_state_new (model, scores);
      lead = state->firing.oxides.mol[SHERD_OXIDE_PBO];
      sum += lead;
      squares += lead * lead;
    }
  found = sqrt (squares / DRAWS - (sum / DRAWS) * (sum / DRAWS));
  for (guint i = 0; i < facts->fired_doubts->len; i++)
    wanted = hypot (wanted, g_array_index (facts->fired_doubts, SherdOxides, i).mol[SHERD_OXIDE_PBO]);
  g_assert_cmpfloat_with_epsilon (found, wanted, DRAW_FRAC * wanted);
  g_assert_cmpfloat_with_epsilon (sum / DRAWS, moles (facts, SHERD_OXIDE_PBO), wanted / 4.0);
}

static void
test_binder_counts_in_what_is_fired_and_lost (void)
{
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_MASS, batch_a, G_N_ELEMENTS (batch_a), 1.0);
  g_autoptr (SherdSubstance) gum = pantry_new_from_analysis ("LOI 97; CaO 3", SHERD_SUBSTANCE_BINDER, 1.4);
  g_autoptr (SherdMixFacts) without = facts_of (kettle->mix), with = NULL;

  sherd_mix_set_binder (kettle->mix, gum, 2.0);
  with = facts_of (kettle->mix);
  g_assert_cmpfloat_with_epsilon (with->lost_frac.value, (without->lost_frac.value + 0.02 * 0.97) / 1.02, ROUNDING);
  g_assert_cmpfloat_with_epsilon (with->kind_frac[SHERD_SUBSTANCE_BINDER].value, 0.02 / 1.02, ROUNDING);
  g_assert_cmpfloat_with_epsilon (moles (with, SHERD_OXIDE_CAO), 0.02 / 1.02 * 0.03 / 56.077, ROUNDING);
  g_assert_cmpfloat_with_epsilon (g_array_index (with->shares, SherdMixShare, 0).mass_frac.value, 0.55, ROUNDING);
}

static void
test_shares_sum_to_one_and_nothing_is_not_a_number (void)
{
  static const char *const formulas[] = { "PbS", "SiO2", "Fe3O4", "C", "(Mg,Fe)SiO3", "Na2CO3", "CaF2", "H2O" };

  for (guint run = 0; run < 200; run++)
    {
      Line lines[4];
      double mass = 0.0, fired = 0.0, moles_pct = 0.0;
      g_autoptr (Kettle) kettle = NULL;
      g_autoptr (SherdMixFacts) facts = NULL;

      for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
        lines[i] = (Line){ formulas[g_test_rand_int_range (0, G_N_ELEMENTS (formulas))], SHERD_SUBSTANCE_FLUX,
                           g_test_rand_double_range (0.1, 9.0), pow (10.0, g_test_rand_double_range (-6.0, 5.0)) };
      kettle = kettle_new (run % 2 == 0 ? SHERD_MIX_BY_MASS : SHERD_MIX_BY_VOLUME, lines, G_N_ELEMENTS (lines), 1.0);
      facts = facts_of (kettle->mix);
      for (guint i = 0; i < facts->shares->len; i++)
        mass += g_array_index (facts->shares, SherdMixShare, i).mass_frac.value;
      for (guint i = 0; i < facts->oxides->len; i++)
        {
          const SherdFiredOxide *oxide = &g_array_index (facts->oxides, SherdFiredOxide, i);

          fired += oxide->mass_pct.value;
          moles_pct += oxide->mole_pct.value;
          g_assert_true (isfinite (oxide->mass_pct.u) && isfinite (oxide->mole_pct.u));
          g_assert_true (!facts->has_flux || (isfinite (oxide->per_flux.value) && isfinite (oxide->per_flux.u)));
        }
      g_assert_cmpfloat_with_epsilon (mass, 1.0, ROUNDING);
      g_assert_true (facts->oxides->len == 0 || fabs (fired - 100.0) < 1e-6);
      g_assert_true (facts->oxides->len == 0 || fabs (moles_pct - 100.0) < 1e-6);
      g_assert_true (isfinite (facts->lost_frac.value) && isfinite (facts->lost_frac.u));
      g_assert_true (isfinite (facts->particle_g_ml.value) && isfinite (facts->particle_g_ml.u));
    }
}

static void
test_sulphur_dioxide_of_galena_is_given (void)
{
  static const Line lines[] = { { "PbS", SHERD_SUBSTANCE_FLUX, 7.58, 1.0 } };
  g_autoptr (GHashTable) values = check_values_new ();
  g_autoptr (Kettle) kettle = kettle_new (SHERD_MIX_BY_MASS, lines, 1, 1.0);
  g_autoptr (SherdMixFacts) facts = facts_of (kettle->mix);

  assert_near (values, "SO2-1", 10.0 * facts->sulphur_dioxide_frac.value);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chem/mix-facts/worked-batches-come-out", test_worked_batches_come_out);
  g_test_add_func ("/chem/mix-facts/parts-by-volume-become-mass-as-worked", test_parts_by_volume_become_mass_as_worked);
  g_test_add_func ("/chem/mix-facts/weighed-spoons-need-no-density", test_weighed_spoons_need_no_density);
  g_test_add_func ("/chem/mix-facts/spoons-of-different-size-count-by-what-they-hold",
                   test_spoons_of_different_size_count_by_what_they_hold);
  g_test_add_func ("/chem/mix-facts/without-flux-there-is-no-molar-formula-and-no-division",
                   test_without_flux_there_is_no_molar_formula_and_no_division);
  g_test_add_func ("/chem/mix-facts/a-trace-of-flux-makes-no-molar-formula",
                   test_a_trace_of_flux_makes_no_molar_formula);
  g_test_add_func ("/chem/mix-facts/charcoal-alone-leaves-nothing-and-no-shares",
                   test_charcoal_alone_leaves_nothing_and_no_shares);
  g_test_add_func ("/chem/mix-facts/scale-and-order-do-not-matter", test_scale_and_order_do_not_matter);
  g_test_add_func ("/chem/mix-facts/a-part-of-another-mix-is-that-mix-written-out",
                   test_a_part_of_another_mix_is_that_mix_written_out);
  g_test_add_func ("/chem/mix-facts/a-part-of-another-mix-by-volume-takes-its-loose-density",
                   test_a_part_of_another_mix_by_volume_takes_its_loose_density);
  g_test_add_func ("/chem/mix-facts/purity-of-a-find-reaches-the-molar-formula",
                   test_purity_of_a_find_reaches_the_molar_formula);
  g_test_add_func ("/chem/mix-facts/doubts-are-those-of-drawing-everything-at-random",
                   test_doubts_are_those_of_drawing_everything_at_random);
  g_test_add_func ("/chem/mix-facts/binder-counts-in-what-is-fired-and-lost",
                   test_binder_counts_in_what_is_fired_and_lost);
  g_test_add_func ("/chem/mix-facts/shares-sum-to-one-and-nothing-is-not-a-number",
                   test_shares_sum_to_one_and_nothing_is_not_a_number);
  g_test_add_func ("/chem/mix-facts/sulphur-dioxide-of-galena-is-given", test_sulphur_dioxide_of_galena_is_given);
  return g_test_run ();
}
