/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/mix-facts.h"

#include <math.h>
#include <string.h>

#include "chem/mix-model.h"
#include "chem/yield.h"

/* Less than this share of the mass left in the fire is nothing: rounding. */
#define NOTHING_LEFT 1e-9

/* Our choice: brought to one, less flux than this (mole %), as the ash of a gum, makes the rest of the formula figures
 * of a hundred and more that tell nothing. Glazes that melt have 10 and more. */
#define LEAST_FLUX_MOLE_PCT 2.0

/* The outputs of the model, one behind the other. */
typedef struct
{
  guint mass;     /* share of each part */
  guint volume;   /* of each part */
  guint contents; /* share of each substance */
  guint kinds;
  guint losses; /* lost, oxygen taken, sulphur dioxide, density of the grains */
  guint mass_pct;
  guint mole_pct;
  guint per_flux;
  guint moles;
  guint n;
} Layout;

enum
{
  LOSS_LOST,
  LOSS_OXYGEN,
  LOSS_SULPHUR_DIOXIDE,
  LOSS_DENSITY,
  N_LOSSES
};

typedef struct
{
  const SherdMixModel *model;
  Layout layout;
  gboolean has_density;
} Facts;

static Layout
lay_out (const SherdMixModel *model)
{
  const guint n_parts = model->mix->parts->len;
  Layout layout = { .mass = 0 };

  layout.volume = layout.mass + n_parts;
  layout.contents = layout.volume + n_parts;
  layout.kinds = layout.contents + model->substances->len;
  layout.losses = layout.kinds + SHERD_N_SUBSTANCE_KINDS;
  layout.mass_pct = layout.losses + N_LOSSES;
  layout.mole_pct = layout.mass_pct + SHERD_N_OXIDES;
  layout.per_flux = layout.mole_pct + SHERD_N_OXIDES;
  layout.moles = layout.per_flux + SHERD_N_OXIDES;
  layout.n = layout.moles + SHERD_N_OXIDES;
  return layout;
}

static void
compute_oxides (const SherdOxides *oxides, const double *weights, const Layout *layout, double *outputs)
{
  const double mass_g = sherd_oxides_mass_g (oxides, weights);
  double mol = 0.0, flux_mol = 0.0;

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    {
      mol += oxides->mol[oxide];
      flux_mol += sherd_oxide_is_flux (oxide) ? oxides->mol[oxide] : 0.0;
    }
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    {
      const double part = oxides->mol[oxide];

      outputs[layout->moles + oxide] = part;
      outputs[layout->mass_pct + oxide] =
        mass_g > NOTHING_LEFT ? 100.0 * part * sherd_oxide_mass_g (oxide, weights) / mass_g : 0.0;
      outputs[layout->mole_pct + oxide] = mass_g > NOTHING_LEFT ? 100.0 * part / mol : 0.0;
      outputs[layout->per_flux + oxide] = flux_mol > 0.0 ? part / flux_mol : 0.0;
    }
}

/* By the grains' own densities, without air between them; the binder is left out. */
static double
density_of_grains (const SherdMixState *state, const SherdMixModel *model)
{
  double ml = 0.0;

  for (guint i = 0; i < model->substances->len; i++)
    ml += state->powder_frac[i] > 0.0 ? state->powder_frac[i] / state->particle_g_ml[i] : 0.0;
  return 1.0 / ml;
}

static void
compute_facts (const double *scores, double *outputs, gpointer data)
{
  const Facts *facts = data;
  const SherdMixModel *model = facts->model;
  const Layout *layout = &facts->layout;
  g_autoptr (SherdMixState) state = sherd_mix_state_new (model, scores);
  double *losses = outputs + layout->losses;

  memset (outputs, 0, layout->n * sizeof *outputs);
  for (guint i = 0; i < model->mix->parts->len; i++)
    {
      outputs[layout->mass + i] = state->part_mass_frac[i];
      outputs[layout->volume + i] = state->part_volume_frac[i];
    }
  for (guint i = 0; i < model->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (model->substances, i);

      outputs[layout->contents + i] = state->content_frac[i];
      outputs[layout->kinds + substance->kind] += state->content_frac[i];
    }
  losses[LOSS_LOST] = 1.0 - sherd_oxides_mass_g (&state->firing.oxides, state->weights);
  losses[LOSS_OXYGEN] = state->firing.oxygen_taken_mol * state->weights[SHERD_OXYGEN];
  losses[LOSS_SULPHUR_DIOXIDE] =
    state->firing.leaving.count[SHERD_SULPHUR] * (state->weights[SHERD_SULPHUR] + 2.0 * state->weights[SHERD_OXYGEN]);
  losses[LOSS_DENSITY] = facts->has_density ? density_of_grains (state, model) : 0.0;
  compute_oxides (&state->firing.oxides, state->weights, layout, outputs);
}

static void
take_shares (SherdMixFacts *facts, const SherdMixModel *model, const Layout *layout, const SherdValue *outputs)
{
  facts->has_volumes = model->has_bulk;
  for (guint i = 0; i < model->mix->parts->len; i++)
    {
      SherdMixShare share = { outputs[layout->mass + i], outputs[layout->volume + i] };

      if (!facts->has_volumes)
        share.volume_frac = (SherdValue){ NAN, NAN };
      g_array_append_val (facts->shares, share);
    }
  for (guint i = 0; i < model->substances->len; i++)
    {
      SherdMixContent content = { g_ptr_array_index (model->substances, i), outputs[layout->contents + i] };

      if (content.mass_frac.value <= 0.0)
        continue;
      g_array_append_val (facts->contents, content);
      facts->hazards |= sherd_substance_get_hazards (content.substance);
    }
  memcpy (facts->kind_frac, outputs + layout->kinds, sizeof facts->kind_frac);
}

static void
take_oxides (SherdMixFacts *facts, const Layout *layout, const SherdValue *outputs)
{
  double flux_pct = 0.0;

  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    flux_pct += sherd_oxide_is_flux (oxide) ? outputs[layout->mole_pct + oxide].value : 0.0;
  facts->has_flux = flux_pct >= LEAST_FLUX_MOLE_PCT;
  for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
    {
      const gboolean is_flux = sherd_oxide_is_flux (oxide);
      SherdFiredOxide fired = { oxide, outputs[layout->mass_pct + oxide], outputs[layout->mole_pct + oxide],
                                outputs[layout->per_flux + oxide], is_flux };

      facts->fired.mol[oxide] = outputs[layout->moles + oxide].value;
      if (!facts->has_flux)
        fired.per_flux = (SherdValue){ NAN, NAN };
      if (fired.mass_pct.value > 0.0)
        g_array_append_val (facts->oxides, fired);
    }
}

/* Inputs that move no oxide are left out. */
static void
take_doubts (SherdMixFacts *facts, const Layout *layout, const double *effects, guint n_scores)
{
  for (guint score = 0; score < n_scores; score++)
    {
      SherdOxides moved;
      gboolean moves = FALSE;

      memcpy (moved.mol, effects + (gsize)score * layout->n + layout->moles, sizeof moved.mol);
      for (guint oxide = 0; oxide < SHERD_N_OXIDES; oxide++)
        moves |= moved.mol[oxide] != 0.0;
      if (moves)
        g_array_append_val (facts->fired_doubts, moved);
    }
}

/**
 * sherd_mix_facts_new:
 * @mix: a mix
 * @part: (out) (nullable): the index of the part at fault, or -1
 * @error: as in sherd_mix_check ()
 *
 * Computes all that follows from a mix by arithmetic, fired in air until nothing changes any more, with the doubts of
 * atomic weights, analyses, purities, unwritten shares, densities and of measuring the parts.
 *
 * Returns: (transfer full) (nullable): the facts; they borrow the substances of the mix
 */
SherdMixFacts *
sherd_mix_facts_new (const SherdMix *mix, int *part, GError **error)
{
  g_autoptr (SherdMixModel) model = sherd_mix_check (mix, part, error) ? sherd_mix_model_new (mix) : NULL;
  g_autofree SherdValue *outputs = NULL;
  g_autofree double *effects = NULL;
  SherdMixFacts *facts;
  Facts input;

  if (model == NULL)
    return NULL;
  input = (Facts){ model, lay_out (model), model->has_particle };
  outputs = g_new0 (SherdValue, input.layout.n);
  effects = g_new0 (double, (gsize)model->n_scores *input.layout.n);
  sherd_doubt_propagate (compute_facts, &input, model->n_scores, input.layout.n, outputs, effects);

  facts = g_new0 (SherdMixFacts, 1);
  facts->shares = g_array_new (FALSE, FALSE, sizeof (SherdMixShare));
  facts->contents = g_array_new (FALSE, FALSE, sizeof (SherdMixContent));
  facts->oxides = g_array_new (FALSE, FALSE, sizeof (SherdFiredOxide));
  facts->fired_doubts = g_array_new (FALSE, FALSE, sizeof (SherdOxides));
  take_shares (facts, model, &input.layout, outputs);
  take_oxides (facts, &input.layout, outputs);
  take_doubts (facts, &input.layout, effects, model->n_scores);
  facts->lost_frac = outputs[input.layout.losses + LOSS_LOST];
  facts->oxygen_taken_frac = outputs[input.layout.losses + LOSS_OXYGEN];
  facts->sulphur_dioxide_frac = outputs[input.layout.losses + LOSS_SULPHUR_DIOXIDE];
  facts->has_density = input.has_density;
  facts->particle_g_ml = outputs[input.layout.losses + LOSS_DENSITY];
  return facts;
}

void
sherd_mix_facts_free (SherdMixFacts *facts)
{
  if (facts == NULL)
    return;
  g_array_unref (facts->shares);
  g_array_unref (facts->contents);
  g_array_unref (facts->oxides);
  g_array_unref (facts->fired_doubts);
  g_free (facts);
}
