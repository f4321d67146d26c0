/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/melt.h"

/* How much of an oxide dissolves in a low-fired glass, in mass % of the fired paint, and what the rest does: grains
 * that stay black, that dull the surface, or that make it white. */
typedef struct
{
  SherdOxide oxide;
  SherdBounds dissolves_pct;
  SherdLook beyond;
} Solubility;

static const Solubility solubilities[] = {
  { SHERD_OXIDE_FE2O3, { 5.0, 8.0 }, SHERD_LOOK_DULL },   /* common practice, no source */
  { SHERD_OXIDE_MN2O3, { 9.0, 11.0 }, SHERD_LOOK_BLACK }, /* 8 to 10 % as MnO: common practice, no source */
  { SHERD_OXIDE_CUO, { 4.0, 6.0 }, SHERD_LOOK_BLACK },    /* from memory, like the following */
  { SHERD_OXIDE_CO3O4, { 2.0, 4.0 }, SHERD_LOOK_BLACK },  { SHERD_OXIDE_CR2O3, { 0.5, 1.5 }, SHERD_LOOK_DULL },
  { SHERD_OXIDE_NIO, { 2.0, 4.0 }, SHERD_LOOK_DULL },     { SHERD_OXIDE_TIO2, { 4.0, 8.0 }, SHERD_LOOK_OPAQUE },
  { SHERD_OXIDE_SNO2, { 2.0, 4.0 }, SHERD_LOOK_OPAQUE },  { SHERD_OXIDE_ZRO2, { 3.0, 6.0 }, SHERD_LOOK_OPAQUE },
};

/* Less colours nothing to speak of (our choice). */
#define COLOURS_FROM_PCT 0.5

static const Solubility *
find_solubility (SherdOxide oxide)
{
  for (guint i = 0; i < G_N_ELEMENTS (solubilities); i++)
    if (solubilities[i].oxide == oxide)
      return &solubilities[i];
  return NULL;
}

/**
 * sherd_melt_look:
 * @facts: of a mix
 *
 * Lead with silica alone gives a clear glass; more copper than dissolves turns it black, more iron dull (common
 * practice, no source): the same comparison for every oxide.
 *
 * Returns: how the paint can be expected to look where it has melted in clear air; 0 is clear
 */
SherdLook
sherd_melt_look (const SherdMixFacts *facts)
{
  SherdLook look = 0;

  for (guint i = 0; i < facts->oxides->len; i++)
    {
      const SherdFiredOxide *fired = &g_array_index (facts->oxides, SherdFiredOxide, i);
      const Solubility *solubility = find_solubility (fired->oxide);
      const double least_pct = fired->mass_pct.value - 2.0 * fired->mass_pct.u;
      const double most_pct = fired->mass_pct.value + 2.0 * fired->mass_pct.u;

      if (solubility == NULL || fired->mass_pct.value < COLOURS_FROM_PCT)
        continue;
      if (solubility->beyond != SHERD_LOOK_OPAQUE)
        look |= SHERD_LOOK_TINTED;
      if (most_pct > solubility->dissolves_pct.low)
        look |= solubility->beyond;
      if (most_pct > solubility->dissolves_pct.low && least_pct < solubility->dissolves_pct.high)
        look |= SHERD_LOOK_UNSURE;
    }
  return look;
}
