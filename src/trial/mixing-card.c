/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/mixing-card.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/format.h"
#include "trial/number.h"

/* A share and a mass stand below one another in columns as wide as this. */
#define PARTS_WIDTH 8
#define GRAMS_WIDTH 10

/* Without a scale that was told, as fine as a good one. */
#define FINEST_DECIMALS 2u

static guint
decimals_of (double readability_g)
{
  if (!(readability_g > 0.0))
    return FINEST_DECIMALS;
  return (guint)CLAMP (ceil (-log10 (readability_g) - 1e-9), 0.0, 4.0);
}

/**
 * sherd_mixing_card_dup_grams:
 * @grams: a mass
 * @readability_g: of the scale; 0 when not known
 *
 * Returns: (transfer full): the mass with the scale's decimals
 */
char *
sherd_mixing_card_dup_grams (double grams, double readability_g)
{
  return sherd_format_number (grams, decimals_of (readability_g));
}

/* Padded to the right edge of a column, by letters rather than bytes. */
static void
append_right (GString *card, const char *text, glong width)
{
  for (glong i = g_utf8_strlen (text, -1); i < width; i++)
    g_string_append_c (card, ' ');
  g_string_append (card, text);
}

static void
append_title (GString *card, const SherdPaintFacts *facts)
{
  g_string_append (card, facts->code);
  if (*facts->name != '\0')
    g_string_append_printf (card, " %s", facts->name);
  if (facts->revision > 1)
    g_string_append_printf (card, _ (", revision %u"), facts->revision);
  g_string_append_printf (card, "\n%s\n\n",
                          facts->basis == SHERD_BASIS_VOLUME ? _ ("Parts by volume: level spoons of loose powder")
                                                             : _ ("Parts by mass"));
}

static void
append_row (GString *card, const char *parts, const char *grams, const char *name)
{
  append_right (card, parts, PARTS_WIDTH);
  append_right (card, grams, GRAMS_WIDTH);
  g_string_append_printf (card, "  %s\n", name);
}

static char *
dup_grams_with_unit (double grams, double readability_g)
{
  g_autofree char *number = sherd_mixing_card_dup_grams (grams, readability_g);

  return g_strdup_printf (_ ("%s g"), number);
}

static char *
dup_parts (const SherdPaintRow *row)
{
  return row->parts_text != NULL && *row->parts_text != '\0' ? g_strdup (row->parts_text)
                                                             : sherd_number_text (row->parts);
}

static void
append_ingredients (GString *card, const SherdPaintFacts *facts, double readability_g)
{
  for (guint i = 0; i < facts->rows->len; i++)
    {
      const SherdPaintRow *row = &g_array_index (facts->rows, SherdPaintRow, i);
      g_autofree char *parts = dup_parts (row);
      g_autofree char *grams =
        facts->batch != NULL
          ? dup_grams_with_unit (g_array_index (facts->batch->rows, SherdBatchRow, i).weighed_g, readability_g)
          : g_strdup ("");

      append_row (card, parts, grams, row->name);
    }
}

static void
append_wet (GString *card, const SherdPaintFacts *facts, double readability_g)
{
  const SherdBatch *batch = facts->batch;
  const SherdSubstance *binder = facts->recipe != NULL ? facts->recipe->mix->binder : NULL;
  g_autofree char *binder_g = batch != NULL ? dup_grams_with_unit (batch->binder.weighed_g, readability_g) : NULL;
  g_autofree char *water_g = batch != NULL ? dup_grams_with_unit (batch->water_g.value, readability_g) : NULL;

  if (batch != NULL && binder != NULL)
    append_row (card, "", binder_g, binder->name);
  if (batch != NULL && batch->water_g.value > 0.0)
    append_row (card, "", water_g, _ ("water"));
}

static void
append_remarks (GString *card, const SherdPaintFacts *facts)
{
  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      if (remark->row >= 0)
        g_string_append_printf (card, "\n%s: %s", g_array_index (facts->rows, SherdPaintRow, remark->row).name,
                                remark->words);
      else
        g_string_append_printf (card, "\n%s", remark->words);
    }
}

/**
 * sherd_mixing_card_new:
 * @facts: of a paint and how much of it is mixed
 * @readability_g: of the scale; 0 when not known
 *
 * Title, a line an ingredient with parts and grams, binder and water, then every remark with what causes it: nobody
 * takes a lead paint's grams away without its cautions.
 *
 * Returns: (transfer full): the card
 */
char *
sherd_mixing_card_new (const SherdPaintFacts *facts, double readability_g)
{
  g_autoptr (GString) card = g_string_new (NULL);

  append_title (card, facts);
  append_ingredients (card, facts, readability_g);
  append_wet (card, facts, readability_g);
  append_remarks (card, facts);
  g_string_append_c (card, '\n');
  return g_string_free (g_steal_pointer (&card), FALSE);
}
