/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/substance.h"

G_BEGIN_DECLS

/* Per gram of a substance, fired in air until nothing changes any more. */
typedef struct
{
  SherdValue lost_frac;         /* loss on ignition; negative: it gains */
  SherdValue oxygen_taken_frac; /* from the air, into the oxides */
  SherdValue oxide_frac[SHERD_N_OXIDES];
} SherdYield;

gboolean sherd_substance_get_yield (const SherdSubstance *substance, SherdYield *yield, GError **error);

/* For mix-facts.c: the same for one state of all that is in doubt. */
typedef struct
{
  SherdFiring firing;   /* moles per gram */
  double ignition_frac; /* loss given as such, by no formula */
} SherdGram;

guint sherd_substance_count_scores (const SherdSubstance *substance);
void sherd_substance_fire_gram (const SherdSubstance *substance,
                                const double weights[SHERD_N_ATOMIC_NUMBERS],
                                const double *scores,
                                SherdGram *gram);
void sherd_weights_move (double weights[SHERD_N_ATOMIC_NUMBERS],
                         const guint *elements,
                         guint n_elements,
                         const double *scores);
guint sherd_atoms_list_elements (const SherdAtoms *atoms, guint elements[SHERD_N_ATOMIC_NUMBERS]);
void sherd_substance_add_atoms (const SherdSubstance *substance, SherdAtoms *atoms);

G_END_DECLS
