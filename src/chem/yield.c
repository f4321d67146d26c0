/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/yield.h"

#include <math.h>

/* Our choice. */
#define LEAST_MOVED_FRAC 0.01

/* Outputs of the model: lost, oxygen taken, then the oxides. */
enum
{
  OUTPUT_LOST,
  OUTPUT_OXYGEN,
  OUTPUT_OXIDES,
  N_OUTPUTS = OUTPUT_OXIDES + SHERD_N_OXIDES
};

/* What a find is besides its mineral, per formula unit. */
static void
rest_atoms (SherdRest rest, SherdAtoms *atoms)
{
  static const SherdAtoms rests[SHERD_N_RESTS] = {
    [SHERD_REST_QUARTZ] = { .count = { [14] = 1, [8] = 2 } },
    [SHERD_REST_CLAY] = { .count = { [13] = 2, [14] = 2, [8] = 9, [1] = 4 } },
    [SHERD_REST_LIME] = { .count = { [20] = 1, [6] = 1, [8] = 3 } },
  };

  *atoms = rests[rest];
}

/**
 * sherd_substance_count_scores:
 * @substance: a substance
 *
 * Returns: how many independent inputs of its own are in doubt: purity, each row of the analysis, each unwritten share
 */
guint
sherd_substance_count_scores (const SherdSubstance *substance)
{
  guint n = 1 + substance->constituents->len;

  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdFormula *content = g_array_index (substance->constituents, SherdConstituent, i).content;

      n += content != NULL ? content->deviations->len : 0;
    }
  return n;
}

static void
fire_mass (const SherdAtoms *atoms, const double weights[SHERD_N_ATOMIC_NUMBERS], double mass_g, SherdGram *gram)
{
  SherdFiring firing;

  sherd_oxides_fire (atoms, &firing);
  sherd_firing_add (&gram->firing, &firing, mass_g / sherd_atoms_mass_g (atoms, weights));
}

/* Returns the scores that follow. */
static const double *
moved_atoms (const SherdFormula *content, const double *scores, SherdAtoms *atoms)
{
  *atoms = content->atoms;
  for (guint i = 0; i < content->deviations->len; i++)
    if (scores[i] != 0.0)
      sherd_atoms_add (atoms, &g_array_index (content->deviations, SherdAtoms, i), scores[i]);
  return scores + content->deviations->len;
}

/* A share that is less sure than it is large stays above zero: an analysis never becomes empty. */
static double
moved_pct (const SherdConstituent *constituent, double score)
{
  return MAX (LEAST_MOVED_FRAC * constituent->pct.value, constituent->pct.value + score * constituent->pct.u);
}

/**
 * sherd_substance_fire_gram:
 * @substance: one that sherd_substance_check () takes
 * @weights: g/mol, by atomic number
 * @scores: by how many standard uncertainties each input is off; sherd_substance_count_scores () of them
 * @gram: (out caller-allocates): what one gram becomes
 *
 * An analysis is taken as shares of its own sum. Each mineral reacts with the air for itself.
 */
void
sherd_substance_fire_gram (const SherdSubstance *substance,
                           const double weights[SHERD_N_ATOMIC_NUMBERS],
                           const double *scores,
                           SherdGram *gram)
{
  const guint n = substance->constituents->len;
  const double purity = CLAMP (substance->purity_frac.value + scores[0] * substance->purity_frac.u, 0.0, 1.0);
  const double *row_scores = scores + 1, *rest_scores = scores + 1 + n;
  double sum = 0.0;
  SherdAtoms atoms;

  *gram = (SherdGram){ .ignition_frac = 0.0 };
  for (guint i = 0; i < n; i++)
    sum += moved_pct (&g_array_index (substance->constituents, SherdConstituent, i), row_scores[i]);
  for (guint i = 0; i < n; i++)
    {
      const SherdConstituent *constituent = &g_array_index (substance->constituents, SherdConstituent, i);
      const double mass_g = purity * moved_pct (constituent, row_scores[i]) / sum;

      if (constituent->content == NULL)
        gram->ignition_frac += mass_g;
      else
        {
          rest_scores = moved_atoms (constituent->content, rest_scores, &atoms);
          fire_mass (&atoms, weights, mass_g, gram);
        }
    }
  rest_atoms (substance->rest, &atoms);
  fire_mass (&atoms, weights, 1.0 - purity, gram);
}

/**
 * sherd_substance_add_atoms:
 * @substance: a substance
 * @atoms: to which one formula unit of everything in it is added, to see which elements there are
 */
void
sherd_substance_add_atoms (const SherdSubstance *substance, SherdAtoms *atoms)
{
  SherdAtoms rest;

  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdFormula *content = g_array_index (substance->constituents, SherdConstituent, i).content;

      if (content != NULL)
        sherd_atoms_add (atoms, &content->atoms, 1.0);
    }
  rest_atoms (substance->rest, &rest);
  if (substance->purity_frac.value < 1.0 || substance->purity_frac.u > 0.0)
    sherd_atoms_add (atoms, &rest, 1.0);
  atoms->count[SHERD_OXYGEN] += 1.0; /* from the air */
}

/**
 * sherd_atoms_list_elements:
 * @atoms: some atoms
 * @elements: (out caller-allocates): the atomic numbers of those that are there
 *
 * Returns: how many there are
 */
guint
sherd_atoms_list_elements (const SherdAtoms *atoms, guint elements[SHERD_N_ATOMIC_NUMBERS])
{
  guint n = 0;

  for (guint i = 0; i < SHERD_N_ATOMIC_NUMBERS; i++)
    if (atoms->count[i] != 0.0)
      elements[n++] = i;
  return n;
}

/**
 * sherd_weights_move:
 * @weights: (out caller-allocates): g/mol, by atomic number
 * @elements: (array length=n_elements): the elements in doubt
 * @n_elements: how many
 * @scores: (array length=n_elements): by how many standard uncertainties each is off
 */
void
sherd_weights_move (double weights[SHERD_N_ATOMIC_NUMBERS],
                    const guint *elements,
                    guint n_elements,
                    const double *scores)
{
  sherd_element_weights (weights);
  for (guint i = 0; i < n_elements; i++)
    if (scores[i] != 0.0)
      weights[elements[i]] += scores[i] * sherd_element_molar_mass (elements[i]).u;
}

typedef struct
{
  const SherdSubstance *substance;
  guint elements[SHERD_N_ATOMIC_NUMBERS];
  guint n_elements;
} YieldModel;

static void
compute_yield (const double *scores, double *outputs, gpointer data)
{
  const YieldModel *model = data;
  double weights[SHERD_N_ATOMIC_NUMBERS];
  SherdGram gram;

  sherd_weights_move (weights, model->elements, model->n_elements, scores);
  sherd_substance_fire_gram (model->substance, weights, scores + model->n_elements, &gram);
  outputs[OUTPUT_LOST] = 1.0 - sherd_oxides_mass_g (&gram.firing.oxides, weights);
  outputs[OUTPUT_OXYGEN] = gram.firing.oxygen_taken_mol * weights[SHERD_OXYGEN];
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    outputs[OUTPUT_OXIDES + oxide] = gram.firing.oxides.mol[oxide] * sherd_oxide_mass_g (oxide, weights);
}

/**
 * sherd_substance_get_yield:
 * @substance: a substance
 * @yield: (out caller-allocates): what one gram becomes in the fire
 * @error: as in sherd_substance_check ()
 *
 * Returns: whether it can be computed
 */
gboolean
sherd_substance_get_yield (const SherdSubstance *substance, SherdYield *yield, GError **error)
{
  YieldModel model = { .substance = substance };
  SherdAtoms atoms = { { 0 } };
  SherdValue outputs[N_OUTPUTS];

  if (!sherd_substance_check (substance, error))
    return FALSE;
  sherd_substance_add_atoms (substance, &atoms);
  model.n_elements = sherd_atoms_list_elements (&atoms, model.elements);
  sherd_doubt_propagate (compute_yield, &model, model.n_elements + sherd_substance_count_scores (substance), N_OUTPUTS,
                         outputs, NULL);
  yield->lost_frac = outputs[OUTPUT_LOST];
  yield->oxygen_taken_frac = outputs[OUTPUT_OXYGEN];
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    yield->oxide_frac[oxide] = outputs[OUTPUT_OXIDES + oxide];
  return TRUE;
}
