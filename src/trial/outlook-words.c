/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/outlook-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
append (GString *words, char *line)
{
  g_string_append_printf (words, "%s%s", words->len > 0 ? "\n" : "", line);
  g_free (line);
}

/* Nobody reads a potter's fire closer than that. */
static double
to_ten (double temperature_c)
{
  return 10.0 * round (temperature_c / 10.0) + 0.0;
}

static void
append_temperatures (GString *words, const SherdMeltOutlook *outlook)
{
  if (outlook->has_begin)
    append (words, g_strdup_printf (_ ("Melt can be expected to begin between %.0f and %.0f °C."),
                                    to_ten (outlook->begin_c.low), to_ten (outlook->begin_c.high)));
  if (outlook->has_complete)
    append (words, g_strdup_printf (_ ("It can be complete between %.0f and %.0f °C."),
                                    to_ten (outlook->complete_c.low), to_ten (outlook->complete_c.high)));
}

/* By how much the firing is hotter than what is needed, from the least to the most. */
static char *
dup_distance (double least_c, double most_c)
{
  if (least_c >= 0.0)
    return g_strdup_printf (_ ("%.0f to %.0f °C hotter"), to_ten (least_c), to_ten (most_c));
  if (most_c <= 0.0)
    return g_strdup_printf (_ ("%.0f to %.0f °C colder"), to_ten (-most_c), to_ten (-least_c));
  return g_strdup_printf (_ ("between %.0f °C colder and %.0f °C hotter"), to_ten (-least_c), to_ten (most_c));
}

static void
append_firing (GString *words, const SherdMeltOutlook *outlook)
{
  g_autofree char *begin = dup_distance (outlook->over_begin_c.low, outlook->over_begin_c.high);
  g_autofree char *complete = dup_distance (outlook->over_complete_c.low, outlook->over_complete_c.high);

  if (outlook->verdict == SHERD_MELT_NOT_ASKED)
    return;
  if (outlook->has_begin)
    append (words, g_strdup_printf (_ ("The firing is %s than where melt begins."), begin));
  if (outlook->has_complete)
    append (words, g_strdup_printf (_ ("It is %s than where melt is complete."), complete));
}

static void
append_look (GString *words, const SherdMeltOutlook *outlook)
{
  g_autofree char *look = sherd_melt_look_dup_words (outlook->look);

  if (outlook->has_begin)
    append (words, g_strdup_printf (_ ("Where it melts: %s."), look));
}

static void
append_reasons (GString *words, const SherdMeltOutlook *outlook)
{
  for (guint i = 0; i < SHERD_N_MELT_REASONS; i++)
    if ((outlook->reasons & (1u << i)) != 0)
      append (words, g_strdup (sherd_melt_reason_get_words ((SherdMeltReasons)(1u << i))));
}

/**
 * sherd_outlook_dup_words:
 * @outlook: of a paint, with or without a firing
 *
 * Temperatures are told to ten degrees, which is finer than they are known.
 *
 * Returns: (transfer full): sentences, a line each
 */
char *
sherd_outlook_dup_words (const SherdMeltOutlook *outlook)
{
  g_autoptr (GString) words = g_string_new (NULL);

  append (words, g_strdup (sherd_melt_verdict_get_words (outlook->verdict)));
  append_temperatures (words, outlook);
  append_firing (words, outlook);
  append_look (words, outlook);
  append_reasons (words, outlook);
  append (words, g_strdup_printf (_ ("How sure this is: %s."), sherd_melt_sureness_get_words (outlook->sureness)));
  append (words, g_strdup (sherd_melt_get_advice_words ()));
  return g_string_free (g_steal_pointer (&words), FALSE);
}
