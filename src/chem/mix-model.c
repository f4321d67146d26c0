/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/mix-model.h"

#include <math.h>

#include "chem/yield.h"

/* Beyond the composition's own: loose powder (or spoon), and grains. */
#define N_DENSITY_SCORES 2

/* Nothing weighs less: keeps a density that is hardly known positive when it is moved. */
#define LEAST_DENSITY_FRAC 0.05

static guint
index_of (const GPtrArray *list, gconstpointer item)
{
  guint index = G_MAXUINT;

  g_ptr_array_find ((GPtrArray *)list, item, &index);
  return index;
}

static void
add_substance (SherdMixModel *model, const SherdSubstance *substance)
{
  if (substance != NULL && index_of (model->substances, substance) == G_MAXUINT)
    g_ptr_array_add (model->substances, (gpointer)substance);
}

static void
list_substances (SherdMixModel *model)
{
  SherdValue density_g_ml;

  for (guint m = 0; m < model->mixes->len; m++)
    {
      const SherdMix *mix = g_ptr_array_index (model->mixes, m);

      for (guint i = 0; i < mix->parts->len; i++)
        add_substance (model, g_array_index (mix->parts, SherdMixPart, i).substance);
    }
  model->has_bulk = model->has_particle = TRUE;
  for (guint i = 0; i < model->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (model->substances, i);

      model->has_bulk &= sherd_substance_get_bulk_g_ml (substance, &density_g_ml);
      model->has_particle &= sherd_substance_get_particle_g_ml (substance, &density_g_ml);
    }
  model->has_bulk |= sherd_mix_counts_spoons (model->mix);
  if (model->mix->binder_pct > 0.0)
    add_substance (model, model->mix->binder);
}

static void
number_scores (SherdMixModel *model)
{
  SherdAtoms atoms = { { 0 } };

  for (guint i = 0; i < model->substances->len; i++)
    sherd_substance_add_atoms (g_ptr_array_index (model->substances, i), &atoms);
  model->n_elements = sherd_atoms_list_elements (&atoms, model->elements);
  model->n_scores = model->n_elements;
  model->substance_scores = g_new (guint, model->substances->len);
  for (guint i = 0; i < model->substances->len; i++)
    {
      model->substance_scores[i] = model->n_scores;
      model->n_scores += sherd_substance_count_scores (g_ptr_array_index (model->substances, i)) + N_DENSITY_SCORES;
    }
  model->mix_scores = g_new (guint, model->mixes->len);
  for (guint m = 0; m < model->mixes->len; m++)
    {
      model->mix_scores[m] = model->n_scores;
      model->n_scores += ((const SherdMix *)g_ptr_array_index (model->mixes, m))->parts->len;
    }
}

/**
 * sherd_mix_model_new:
 * @mix: one that sherd_mix_check () takes
 *
 * Returns: (transfer full): it borrows the mixes and substances
 */
SherdMixModel *
sherd_mix_model_new (const SherdMix *mix)
{
  SherdMixModel *model = g_new0 (SherdMixModel, 1);

  model->mix = mix;
  model->mixes = sherd_mix_list_mixes (mix, NULL);
  model->substances = g_ptr_array_new ();
  list_substances (model);
  number_scores (model);
  return model;
}

void
sherd_mix_model_free (SherdMixModel *model)
{
  if (model == NULL)
    return;
  g_ptr_array_unref (model->mixes);
  g_ptr_array_unref (model->substances);
  g_free (model->substance_scores);
  g_free (model->mix_scores);
  g_free (model);
}

static double
moved (SherdValue value, double score)
{
  return MAX (value.value + score * value.u, LEAST_DENSITY_FRAC * value.value);
}

/* The densities of a substance have their scores behind those of its composition. */
static const double *
density_scores (const SherdMixModel *model, guint substance, const double *scores)
{
  return scores + model->substance_scores[substance] +
         sherd_substance_count_scores (g_ptr_array_index (model->substances, substance));
}

/* Grams per millilitre of loose powder, or per spoon where all are counted so; 0 when not known. */
static double
moved_bulk (const SherdMixModel *model, guint index, gboolean spoons, const double *scores)
{
  const SherdSubstance *substance = g_ptr_array_index (model->substances, index);
  SherdValue bulk = substance->spoon_g;

  if (!spoons)
    sherd_substance_get_bulk_g_ml (substance, &bulk);
  return moved (bulk, density_scores (model, index, scores)[0]);
}

/* Shares of one mix: of each substance in its powder, and of its own parts. */
typedef struct
{
  double *substance_frac;
  double *mass;   /* of each part, then its share */
  double *volume; /* likewise */
} Powder;

static Powder *
powder_new (guint n_substances, guint n_parts)
{
  Powder *powder = g_new0 (Powder, 1);

  powder->substance_frac = g_new0 (double, n_substances);
  powder->mass = g_new0 (double, n_parts);
  powder->volume = g_new0 (double, n_parts);
  return powder;
}

static void
powder_free (gpointer data)
{
  Powder *powder = data;

  g_free (powder->substance_frac);
  g_free (powder->mass);
  g_free (powder->volume);
  g_free (powder);
}

/* Loose powders fill what each filled alone (our assumption). 0 where a density is missing. */
static double
bulk_of_powder (const SherdMixModel *model, const Powder *powder, const double *scores)
{
  double ml = 0.0;

  for (guint i = 0; i < model->substances->len; i++)
    if (powder->substance_frac[i] > 0.0)
      {
        const double bulk_g_ml = moved_bulk (model, i, FALSE, scores);

        if (bulk_g_ml <= 0.0)
          return 0.0;
        ml += powder->substance_frac[i] / bulk_g_ml;
      }
  return 1.0 / ml;
}

static void
to_shares (double *values, guint n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += values[i];
  for (guint i = 0; i < n && sum > 0.0; i++)
    values[i] /= sum;
}

static const Powder *
inner_powder (const SherdMixModel *model, const GPtrArray *powders, const SherdMix *mix)
{
  return g_ptr_array_index (powders, index_of (model->mixes, mix));
}

static double
bulk_of_part (const SherdMixModel *model,
              const SherdMixPart *part,
              gboolean spoons,
              const GPtrArray *powders,
              const double *scores)
{
  if (part->mix != NULL)
    return bulk_of_powder (model, inner_powder (model, powders, part->mix), scores);
  return moved_bulk (model, index_of (model->substances, part->substance), spoons, scores);
}

static void
measure_parts (const SherdMixModel *model, guint m, const GPtrArray *powders, const double *scores, Powder *powder)
{
  const SherdMix *mix = g_ptr_array_index (model->mixes, m);
  const gboolean spoons = sherd_mix_counts_spoons (mix);

  for (guint i = 0; i < mix->parts->len; i++)
    {
      const SherdMixPart *part = &g_array_index (mix->parts, SherdMixPart, i);
      const double bulk = bulk_of_part (model, part, spoons, powders, scores);
      const SherdValue doubtful = { part->parts.value, part->parts.value * sherd_mix_part_doubt (mix, part) };
      const double parts = moved (doubtful, scores[model->mix_scores[m] + i]);

      powder->mass[i] = mix->basis == SHERD_MIX_BY_VOLUME ? parts * bulk : parts;
      powder->volume[i] = mix->basis == SHERD_MIX_BY_VOLUME ? parts : bulk > 0.0 ? parts / bulk : 0.0;
    }
  to_shares (powder->mass, mix->parts->len);
  to_shares (powder->volume, mix->parts->len);
}

static Powder *
make_powder (const SherdMixModel *model, guint m, const GPtrArray *powders, const double *scores)
{
  const SherdMix *mix = g_ptr_array_index (model->mixes, m);
  Powder *powder = powder_new (model->substances->len, mix->parts->len);

  measure_parts (model, m, powders, scores, powder);
  for (guint i = 0; i < mix->parts->len; i++)
    {
      const SherdMixPart *part = &g_array_index (mix->parts, SherdMixPart, i);

      if (part->mix == NULL)
        powder->substance_frac[index_of (model->substances, part->substance)] += powder->mass[i];
      else
        for (guint s = 0; s < model->substances->len; s++)
          powder->substance_frac[s] += powder->mass[i] * inner_powder (model, powders, part->mix)->substance_frac[s];
    }
  return powder;
}

static void
add_binder (const SherdMixModel *model, SherdMixState *state)
{
  const double binder = model->mix->binder != NULL ? model->mix->binder_pct / 100.0 : 0.0;

  for (guint i = 0; i < model->substances->len; i++)
    state->content_frac[i] = state->powder_frac[i] / (1.0 + binder);
  if (binder > 0.0)
    state->content_frac[index_of (model->substances, model->mix->binder)] += binder / (1.0 + binder);
}

static void
fire (const SherdMixModel *model, const double *scores, SherdMixState *state)
{
  for (guint i = 0; i < model->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (model->substances, i);
      SherdValue particle_g_ml;
      SherdGram gram;

      sherd_substance_fire_gram (substance, state->weights, scores + model->substance_scores[i], &gram);
      sherd_firing_add (&state->firing, &gram.firing, state->content_frac[i]);
      sherd_substance_get_particle_g_ml (substance, &particle_g_ml);
      state->particle_g_ml[i] = moved (particle_g_ml, density_scores (model, i, scores)[1]);
    }
}

/**
 * sherd_mix_state_new:
 * @model: a mix, put in order
 * @scores: (array): by how many standard uncertainties each input is off
 *
 * Returns: (transfer full): what the mix is then
 */
SherdMixState *
sherd_mix_state_new (const SherdMixModel *model, const double *scores)
{
  g_autoptr (GPtrArray) powders = g_ptr_array_new_with_free_func (powder_free);
  SherdMixState *state = g_new0 (SherdMixState, 1);
  Powder *outermost;

  sherd_weights_move (state->weights, model->elements, model->n_elements, scores);
  for (guint m = 0; m < model->mixes->len; m++)
    g_ptr_array_add (powders, make_powder (model, m, powders, scores));
  outermost = g_ptr_array_index (powders, powders->len - 1);
  state->powder_frac = g_steal_pointer (&outermost->substance_frac);
  state->part_mass_frac = g_steal_pointer (&outermost->mass);
  state->part_volume_frac = g_steal_pointer (&outermost->volume);
  state->content_frac = g_new0 (double, model->substances->len);
  state->particle_g_ml = g_new0 (double, model->substances->len);
  add_binder (model, state);
  fire (model, scores, state);
  return state;
}

void
sherd_mix_state_free (SherdMixState *state)
{
  if (state == NULL)
    return;
  g_free (state->particle_g_ml);
  g_free (state->powder_frac);
  g_free (state->content_frac);
  g_free (state->part_mass_frac);
  g_free (state->part_volume_frac);
  g_free (state);
}
