/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

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

/* "716 to 740 °C", or one temperature where both ends round to it. */
static char *
dup_bounds (SherdBounds bounds_c)
{
  const double low = round (bounds_c.low), high = round (bounds_c.high);

  return low == high ? g_strdup_printf (_ ("about %.0f °C"), low) : g_strdup_printf (_ ("%.0f to %.0f °C"), low, high);
}

static void
add_line (GString *lines, const char *line)
{
  g_string_append_printf (lines, "%s%s", lines->len > 0 ? "\n" : "", line);
}

static void
add_temperatures (GString *lines, const SherdMeltOutlook *outlook)
{
  g_autofree char *begin = outlook->has_begin ? dup_bounds (outlook->begin_c) : NULL;
  g_autofree char *complete = outlook->has_complete ? dup_bounds (outlook->complete_c) : NULL;
  g_autofree char *first = begin != NULL ? g_strdup_printf (_ ("Melt can be expected to begin at %s."), begin) : NULL;
  g_autofree char *last =
    complete != NULL ? g_strdup_printf (_ ("All but undissolved grains is melted at %s."), complete) : NULL;

  if (first != NULL)
    add_line (lines, first);
  if (last != NULL)
    add_line (lines, last);
}

static void
add_reasons (GString *lines, const SherdMeltOutlook *outlook)
{
  g_autofree char *sure =
    g_strdup_printf (_ ("How sure that is: %s."), sherd_melt_sureness_get_words (outlook->sureness));

  if (outlook->sureness != SHERD_MELT_CANNOT_SAY)
    add_line (lines, sure);
  else if (outlook->verdict == SHERD_MELT_NOT_ASKED)
    add_line (lines, _ ("When it melts cannot be said."));
  for (guint i = 0; i < SHERD_N_MELT_REASONS; i++)
    if ((outlook->reasons & (1u << i)) != 0)
      add_line (lines, sherd_melt_reason_get_words ((SherdMeltReasons)(1u << i)));
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
  const SherdMeltOutlook *outlook = &facts->outlook;
  g_autoptr (GString) lines = g_string_new (NULL);
  g_autofree char *look = NULL;
  g_autofree char *look_line = NULL;

  if (facts->mix == NULL)
    return g_strdup ("");
  add_temperatures (lines, outlook);
  if (outlook->verdict != SHERD_MELT_NOT_ASKED)
    add_line (lines, sherd_melt_verdict_get_words (outlook->verdict));
  look = sherd_melt_look_dup_words (outlook->look);
  look_line = g_strdup_printf (_ ("Where it melts it looks: %s."), look);
  if (outlook->has_begin)
    add_line (lines, look_line);
  add_reasons (lines, outlook);
  add_line (lines, sherd_melt_get_advice_words ());
  return g_string_free (g_steal_pointer (&lines), FALSE);
}
