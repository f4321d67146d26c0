/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/layout-results.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/layout.h"

const char *const sherd_tell_words[] = { "same", "unknown", "not", "partly", "weakly", "well", NULL };

static void
set_zone (SherdTable *table, const SherdLaidZone *place)
{
  SherdPaint *paint = sherd_zone_get_paint (place->zone);

  sherd_table_add_row (table);
  sherd_table_set_text (table, "piece", sherd_piece_get_name (place->piece));
  sherd_table_set_text (table, "side", sherd_side_get_name (place->side));
  sherd_table_set_integer (table, "row", place->row + 1);
  sherd_table_set_text (table, "zone", sherd_zone_get_code (place->zone));
  sherd_table_set_text (table, "paint", paint != NULL ? sherd_paint_get_code (paint) : "");
  sherd_table_set_text (table, "paint_name", paint != NULL ? sherd_paint_get_name (paint) : "");
  sherd_table_set_integer (table, "replicate", sherd_zone_get_replicate (place->zone));
  sherd_table_set_text (table, "ground", sherd_laid_zone_get_ground (place));
  sherd_table_set_boolean (table, "locked", sherd_zone_get_locked (place->zone));
}

/**
 * sherd_results_layout:
 * @trial: a trial
 * @piece: (nullable): one of its pieces, or all
 * @side: (nullable): one of its sides, or all
 *
 * Returns: (transfer full): what lies in each zone, in reading order
 */
SherdTable *
sherd_results_layout (SherdTrial *trial, SherdPiece *piece, SherdSide *side)
{
  const SherdColumn columns[] = {
    { "piece", _ ("Piece"), SHERD_COLUMN_TEXT, 0 },
    { "side", _ ("Side"), SHERD_COLUMN_TEXT, 0 },
    { "row", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "zone", _ ("Zone"), SHERD_COLUMN_TEXT, 0 },
    { "paint", _ ("Paint"), SHERD_COLUMN_TEXT, 0 },
    { "paint_name", _ ("Name"), SHERD_COLUMN_TEXT, 0 },
    { "replicate", _ ("Replicate"), SHERD_COLUMN_INTEGER, 0 },
    { "ground", _ ("Ground"), SHERD_COLUMN_TEXT, 0 },
    { "locked", NULL, SHERD_COLUMN_BOOLEAN, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, piece, side);

  for (guint i = 0; i < places->len; i++)
    set_zone (table, &g_array_index (places, SherdLaidZone, i));
  return table;
}

/* Keys with spaces between them; "piece" and "chance" stand for those. */
static char *
list_keys (const SherdLayout *layout, const SherdVerdict *verdict)
{
  g_autoptr (GString) keys = g_string_new (verdict->from_piece ? "piece" : verdict->from_chance ? "chance" : NULL);

  for (guint i = 0; verdict->from != NULL && i < verdict->from->len; i++)
    g_string_append_printf (keys, "%s%s", keys->len > 0 ? " " : "",
                            sherd_layout_get_factor (layout, g_array_index (verdict->from, guint, i))->key);
  return g_strdup (keys->str);
}

/* "coats*side ground*side" */
static char *
list_provided (const SherdLayout *layout, const SherdVerdict *verdict)
{
  g_autoptr (GString) keys = g_string_new (NULL);

  for (guint i = 0; verdict->provided != NULL && i < verdict->provided->len; i++)
    {
      const SherdFactorPair pair = g_array_index (verdict->provided, SherdFactorPair, i);

      g_string_append_printf (keys, "%s%s*%s", keys->len > 0 ? " " : "",
                              sherd_layout_get_factor (layout, pair.first)->key,
                              sherd_layout_get_factor (layout, pair.second)->key);
    }
  return g_strdup (keys->str);
}

static void
set_verdict (SherdTable *table,
             const SherdLayout *layout,
             const SherdDesign *design,
             const SherdVerdict *verdict,
             guint64 seed)
{
  const SherdFactor *factor = sherd_layout_get_factor (layout, verdict->factor);
  const SherdRepair repair = sherd_repair_find (layout, design, verdict->factor, seed);
  g_autofree char *answer = sherd_design_describe (layout, verdict);
  g_autofree char *remedy = sherd_repair_describe (layout, &repair);
  g_autofree char *from = list_keys (layout, verdict);
  g_autofree char *provided = list_provided (layout, verdict);

  sherd_table_add_row (table);
  sherd_table_set_text (table, "factor", factor->key);
  sherd_table_set_text (table, "factor_name", factor->name);
  sherd_table_set_text (table, "tell", sherd_tell_words[verdict->tell]);
  sherd_table_set_number (table, "precision_loss", isfinite (verdict->loss) ? verdict->loss : (double)NAN);
  sherd_table_set_number (table, "variance_inflation",
                          isfinite (verdict->inflation) ? verdict->inflation : (double)NAN);
  sherd_table_set_integer (table, "scatter_df", verdict->n_scatter_df);
  sherd_table_set_text (table, "told_from", from);
  sherd_table_set_text (table, "provided", provided);
  sherd_table_set_text (table, "answer", answer);
  if (remedy != NULL)
    sherd_table_set_text (table, "remedy", remedy);
}

/**
 * sherd_results_design:
 * @layout: a layout
 * @design: what sherd_design_new () said of it
 * @seed: for sherd_repair_find ()
 *
 * Returns: (transfer full): a row a factor
 */
SherdTable *
sherd_results_design (const SherdLayout *layout, const SherdDesign *design, guint64 seed)
{
  const SherdColumn columns[] = {
    { "factor", NULL, SHERD_COLUMN_TEXT, 0 },
    { "factor_name", _ ("Question"), SHERD_COLUMN_TEXT, 0 },
    { "tell", NULL, SHERD_COLUMN_TEXT, 0 },
    { "precision_loss", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "variance_inflation", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "scatter_df", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "told_from", NULL, SHERD_COLUMN_TEXT, 0 },
    { "provided", NULL, SHERD_COLUMN_TEXT, 0 },
    { "answer", _ ("Answer"), SHERD_COLUMN_TEXT, 0 },
    { "remedy", NULL, SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < design->n_verdicts; i++)
    set_verdict (table, layout, design, &design->verdicts[i], seed);
  return table;
}
