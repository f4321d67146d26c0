/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/substance.h"

G_BEGIN_DECLS

typedef struct _SherdMix SherdMix;

typedef enum
{
  SHERD_MIX_BY_MASS,
  SHERD_MIX_BY_VOLUME /* level spoons of loose powder */
} SherdMixBasis;

/* So many parts of a substance, or of another mix. */
typedef struct
{
  const SherdSubstance *substance; /* (nullable) */
  const SherdMix *mix;             /* (nullable): its dry powder; one of the two is set */
  SherdValue parts;                /* u < 0: as the basis has it, sherd_mix_part_doubt () */
} SherdMixPart;

/* A paint or a slip as it is mixed. It borrows substances and other mixes, which must outlive it. */
struct _SherdMix
{
  SherdMixBasis basis;
  GArray *parts;                /* of SherdMixPart */
  const SherdSubstance *binder; /* (nullable) */
  double binder_pct;            /* dry binder in % of the dry powder's mass */
  double water_pct;             /* in % of the dry powder's mass */
};

SherdMix *sherd_mix_new (SherdMixBasis basis);
void sherd_mix_free (SherdMix *mix);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMix, sherd_mix_free)

void sherd_mix_add (SherdMix *mix, const SherdSubstance *substance, double parts);
void sherd_mix_add_mix (SherdMix *mix, const SherdMix *other, double parts);
void sherd_mix_set_binder (SherdMix *mix, const SherdSubstance *binder, double pct);

gboolean sherd_mix_check (const SherdMix *mix, int *part, GError **error);
GPtrArray *sherd_mix_list_mixes (const SherdMix *mix, GError **error);
double sherd_mix_part_doubt (const SherdMix *mix, const SherdMixPart *part);
gboolean sherd_mix_counts_spoons (const SherdMix *mix);

G_END_DECLS
