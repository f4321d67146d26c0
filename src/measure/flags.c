/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/measure.h"

#include <glib/gi18n-lib.h>

static const struct
{
  SherdZoneFlags flag;
  const char *words;
} reasons[] = {
  { SHERD_ZONE_FEW_PIXELS, N_ ("too little of it in the photograph to measure") },
  { SHERD_ZONE_CLIPPED, N_ ("over-exposed") },
  { SHERD_ZONE_GLARE, N_ ("the lamp may be mirrored here: it may be darker than it looks") },
  { SHERD_ZONE_LITTLE_PAINT, N_ ("hardly any paint is left") },
  { SHERD_ZONE_OUTSIDE, N_ ("not wholly within the photograph") },
  { SHERD_ZONE_TWO_COLOURS, N_ ("paint and ground could not be told apart") },
  { SHERD_ZONE_DARK, N_ ("too dark for the file to resolve") },
};

/**
 * sherd_zone_flags_to_text:
 * @flags: of SherdZoneFlags
 *
 * Returns: (transfer full) (nullable): why a zone's number is missing or doubtful, in words; NULL when nothing is
 */
char *
sherd_zone_flags_to_text (guint flags)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (reasons); i++)
    if (flags & reasons[i].flag)
      g_string_append_printf (text, "%s%s", text->len ? "; " : "", _ (reasons[i].words));
  return text->len ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

/**
 * sherd_zone_colour_is_measured:
 * @zone: (nullable): one zone in one photograph; %NULL when the measurement does not have it
 *
 * Returns: whether its colour is there to be shown
 */
gboolean
sherd_zone_colour_is_measured (const SherdZoneColour *zone)
{
  return zone != NULL && (zone->flags & SHERD_ZONE_NOT_MEASURED) == 0;
}
