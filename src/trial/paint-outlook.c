/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/outlook-words.h"
#include "trial/paint-facts.h"

/**
 * sherd_paint_facts_set_heat:
 * @facts: facts of a paint
 * @heat: (nullable): the planned or logged firing; NULL when there is none
 *
 * Reckons the outlook on melting anew for that firing. Without a mix there is none.
 */
void
sherd_paint_facts_set_heat (SherdPaintFacts *facts, const SherdMeltHeat *heat)
{
  const SherdMeltHeat none = { .is_known = FALSE };

  if (facts->mix == NULL)
    return;
  if (facts->systems == NULL)
    facts->systems = sherd_phase_systems_new_built_in ();
  sherd_melt_outlook (facts->mix, heat != NULL ? heat : &none, facts->systems, &facts->outlook);
}

/**
 * sherd_paint_facts_dup_outlook:
 * @facts: facts of a paint
 *
 * Returns: (transfer full): the outlook on melting in plain words, a sentence a line; empty while nothing can be
 * reckoned
 */
char *
sherd_paint_facts_dup_outlook (const SherdPaintFacts *facts)
{
  return facts->mix != NULL ? sherd_outlook_dup_words (&facts->outlook) : g_strdup ("");
}
