/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/mix.h"

G_BEGIN_DECLS

/* A mix, its inner mixes and substances put in order, so that it can be computed again and again with every doubtful
 * input moved. The inputs (“scores”): atomic weights; for each substance its own, then its bulk and its grains' density
 * (or spoon); for each mix the parts it measures. For mix-facts.c. */
typedef struct
{
  const SherdMix *mix;
  GPtrArray *mixes;        /* each after those it needs; the last is @mix */
  GPtrArray *substances;   /* each once; the binder too */
  guint *substance_scores; /* where each substance's scores begin */
  guint *mix_scores;       /* where each mix's scores begin */
  guint elements[SHERD_N_ATOMIC_NUMBERS];
  guint n_elements;
  guint n_scores;
  gboolean has_bulk; /* of every substance but the binder */
  gboolean has_particle;
} SherdMixModel;

/* One state of all that is in doubt. Arrays run along @substances, or along the parts of the outermost mix. */
typedef struct
{
  double weights[SHERD_N_ATOMIC_NUMBERS];
  double *particle_g_ml;
  double *powder_frac;  /* of the dry powder */
  double *content_frac; /* of powder and dry binder */
  double *part_mass_frac;
  double *part_volume_frac;
  SherdFiring firing; /* moles per gram of powder and dry binder */
} SherdMixState;

SherdMixModel *sherd_mix_model_new (const SherdMix *mix);
void sherd_mix_model_free (SherdMixModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMixModel, sherd_mix_model_free)

SherdMixState *sherd_mix_state_new (const SherdMixModel *model, const double *scores);
void sherd_mix_state_free (SherdMixState *state);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMixState, sherd_mix_state_free)

G_END_DECLS
