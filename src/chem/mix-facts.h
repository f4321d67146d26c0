/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/mix.h"

G_BEGIN_DECLS

/* One part of a mix, as it is weighed. */
typedef struct
{
  SherdValue mass_frac;   /* of the dry powder */
  SherdValue volume_frac; /* of the loose powders' volumes; value NAN where a density is missing */
} SherdMixShare;

/* One substance in a mix, other mixes resolved through, the binder too. */
typedef struct
{
  const SherdSubstance *substance;
  SherdValue mass_frac; /* of powder and dry binder */
} SherdMixContent;

/* One oxide of the fired mix. */
typedef struct
{
  SherdOxide oxide;
  SherdValue mass_pct;
  SherdValue mole_pct;
  SherdValue per_flux; /* moles for one mole of all fluxes; value NAN with hardly any flux */
  gboolean is_flux;
} SherdFiredOxide;

/* All that follows from a mix by arithmetic. Shares as fractions; doubts are standard uncertainties. */
typedef struct
{
  GArray *shares;       /* of SherdMixShare, in the order of the parts */
  gboolean has_volumes; /* every volume_frac is known */
  GArray *contents;     /* of SherdMixContent */
  GArray *oxides;       /* of SherdFiredOxide, in the order of SherdOxide; empty when nothing is left */
  gboolean has_flux;    /* per_flux is known */
  SherdValue lost_frac; /* of powder and dry binder, in the fire; negative: gains */
  SherdValue oxygen_taken_frac;
  SherdValue sulphur_dioxide_frac; /* g given off per g, when all sulphur goes */
  SherdValue kind_frac[SHERD_N_SUBSTANCE_KINDS];
  gboolean has_density;
  SherdValue particle_g_ml; /* of the dry powder's grains */
  SherdHazards hazards;
  SherdOxides fired;    /* moles per gram */
  GArray *fired_doubts; /* of SherdOxides: change of @fired at one standard uncertainty of each independent input */
} SherdMixFacts;

SherdMixFacts *sherd_mix_facts_new (const SherdMix *mix, int *part, GError **error);
void sherd_mix_facts_free (SherdMixFacts *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMixFacts, sherd_mix_facts_free)

G_END_DECLS
