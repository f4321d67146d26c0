/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/paint-print.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "batch/batch.h"
#include "trial/format.h"
#include "trial/paint-tables.h"

/* Coverage factor of every expanded uncertainty the program shows (JCGM 100:2008, 6.2.1). */
#define COVERAGE_FACTOR 2.0

/* Below this the change that rounding makes is shown as nothing. */
#define LEAST_CHANGE_FRAC 5e-5

static void
print_table (const char *heading, const SherdTable *table)
{
  g_autofree char *text = sherd_table_to_text (table);

  if (sherd_table_get_n_rows (table) > 0)
    g_print ("%s\n%s\n", heading, text);
}

/**
 * sherd_paint_print_list:
 * @trial: a trial
 * @form: as text, CSV (paints only) or JSON
 *
 * Its paints and its materials.
 */
void
sherd_paint_print_list (SherdTrial *trial, SherdPrintForm form)
{
  g_autoptr (SherdTable) paints = sherd_paint_tables_list (trial);
  g_autoptr (SherdTable) materials = sherd_paint_tables_materials (trial);
  g_autofree char *csv = form == SHERD_PRINT_CSV ? sherd_table_to_csv (paints) : NULL;

  if (csv != NULL)
    g_print ("%s", csv);
  else if (form == SHERD_PRINT_JSON)
    {
      JsonObject *document = json_object_new ();

      json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
      json_object_set_member (document, "paints", sherd_table_to_json (paints));
      json_object_set_member (document, "materials", sherd_table_to_json (materials));
      sherd_verb_print_json ("sherd-paints", document);
    }
  else if (sherd_table_get_n_rows (paints) + sherd_table_get_n_rows (materials) == 0)
    g_print ("%s\n", _ ("There are no paints yet. “sherd paint FILE --add CODE=NAME” adds one."));
  else
    {
      print_table (_ ("Paints"), paints);
      print_table (_ ("Materials"), materials);
    }
}

/**
 * sherd_paint_print_import:
 * @table: what an import does, a row an entry
 * @form: as text, CSV or JSON
 */
void
sherd_paint_print_import (const SherdTable *table, SherdPrintForm form)
{
  g_autofree char *text = form == SHERD_PRINT_CSV ? sherd_table_to_csv (table) : sherd_table_to_text (table);
  JsonObject *document;

  if (form != SHERD_PRINT_JSON)
    {
      g_print ("%s", text);
      return;
    }
  document = json_object_new ();
  json_object_set_member (document, "entries", sherd_table_to_json (table));
  sherd_verb_print_json ("sherd-paint-import", document);
}

static void
print_uncertain (const char *name, SherdValue value, double times, const char *unit)
{
  g_autofree char *text = sherd_format_uncertain (times * value.value, times * COVERAGE_FACTOR * value.u);

  g_print ("%s: %s %s\n", name, text, unit);
}

static void
print_kinds (const SherdMixFacts *mix)
{
  for (guint kind = 0; kind < SHERD_N_SUBSTANCE_KINDS; kind++)
    if (mix->kind_frac[kind].value > 0.0)
      print_uncertain (sherd_substance_kind_get_name ((SherdSubstanceKind)kind), mix->kind_frac[kind], 100.0, "%");
}

static void
print_batch (const SherdPaintFacts *facts)
{
  g_autofree char *cost = sherd_format_number (facts->cost, 2);

  print_uncertain (_ ("Batch, dry"), facts->batch->total_g, 1.0, "g");
  if (facts->batch->largest_change_frac >= LEAST_CHANGE_FRAC)
    g_print (_ ("Rounding to the scale changes a share by up to %.2f %%.\n"),
             100.0 * facts->batch->largest_change_frac);
  if (!isnan (facts->cost))
    sherd_verb_say ("%s: %s %s", _ ("Cost"), cost, facts->currency);
}

static void
print_summary (const SherdPaintFacts *facts)
{
  const SherdMixFacts *mix = facts->mix;

  print_kinds (mix);
  print_uncertain (_ ("Lost in the fire"), mix->lost_frac, 100.0, "%");
  if (mix->sulphur_dioxide_frac.value > 0.0)
    print_uncertain (_ ("Sulphur dioxide given off"), mix->sulphur_dioxide_frac, 100.0, "%");
  if (mix->has_density)
    print_uncertain (_ ("Density of the grains"), mix->particle_g_ml, 1.0, "g/cm³");
  if (!isnan (facts->slip_g_l))
    g_print ("%s: %.0f g/l\n", _ ("Stirred with its water"), facts->slip_g_l);
  if (facts->batch != NULL)
    print_batch (facts);
}

static const char *
row_name (const SherdPaintFacts *facts, int row)
{
  return row >= 0 ? g_array_index (facts->rows, SherdPaintRow, row).name : _ ("binder");
}

/* Each hazard once, with all that causes it. */
static void
print_hazard (const SherdPaintFacts *facts, SherdHazards hazard)
{
  g_autoptr (GString) causes = g_string_new (NULL);

  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      if (remark->hazard == hazard)
        g_string_append_printf (causes, "%s%s", causes->len > 0 ? ", " : "", row_name (facts, remark->row));
    }
  if (causes->len > 0)
    sherd_verb_say ("  %s (%s): %s", sherd_hazard_get_name (hazard), causes->str, sherd_hazard_get_caution (hazard));
}

static void
print_remarks (const SherdPaintFacts *facts)
{
  g_print ("%s\n", _ ("Remarks and cautions"));
  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      if (remark->kind != SHERD_REMARK_CAUTION)
        sherd_verb_say ("  %s", remark->words);
    }
  for (guint bit = 0; bit < SHERD_N_HAZARDS; bit++)
    print_hazard (facts, (SherdHazards)(1u << bit));
  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      if (remark->kind == SHERD_REMARK_CAUTION && remark->hazard == 0)
        sherd_verb_say ("  %s", remark->words);
    }
  g_print ("\n");
}

static void
print_text (SherdTrial *trial, SherdPaint *paint, const SherdPaintFacts *facts)
{
  g_autoptr (SherdTable) ingredients = sherd_paint_tables_ingredients (facts);
  g_autoptr (SherdTable) oxides = sherd_paint_tables_oxides (facts);
  g_autoptr (SherdTable) stocks = sherd_paint_tables_stocks (facts);
  g_autoptr (SherdTable) history = sherd_paint_tables_history (trial, paint);
  g_autofree char *name = sherd_format_paint (paint);
  g_autofree char *outlook = sherd_paint_facts_dup_outlook (facts);

  sherd_verb_say (_ ("%s · revision %u"), name, facts->revision);
  g_print ("\n");
  print_table (_ ("Ingredients"), ingredients);
  if (facts->mix != NULL)
    {
      print_summary (facts);
      g_print ("\n");
    }
  print_table (_ ("After firing in air"), oxides);
  if (facts->mix != NULL)
    g_print ("%s\n%s\n\n", _ ("Melt outlook"), outlook);
  if (facts->batch != NULL)
    print_table (_ ("Stock"), stocks);
  if (sherd_table_get_n_rows (history) > 1)
    print_table (_ ("Revisions"), history);
  print_remarks (facts);
  g_print ("%s\n", _ ("± is the expanded uncertainty, k = 2."));
}

static void
print_json (SherdTrial *trial, SherdPaint *paint, const SherdPaintFacts *facts)
{
  JsonObject *document = json_object_new ();
  g_autoptr (SherdTable) summary = sherd_paint_tables_summary (facts);
  g_autoptr (SherdTable) ingredients = sherd_paint_tables_ingredients (facts);
  g_autoptr (SherdTable) oxides = sherd_paint_tables_oxides (facts);
  g_autoptr (SherdTable) stocks = sherd_paint_tables_stocks (facts);
  g_autoptr (SherdTable) history = sherd_paint_tables_history (trial, paint);
  g_autoptr (SherdTable) remarks = sherd_paint_tables_remarks (facts);

  json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
  json_object_set_member (document, "summary", sherd_table_to_json (summary));
  json_object_set_member (document, "ingredients", sherd_table_to_json (ingredients));
  json_object_set_member (document, "oxides", sherd_table_to_json (oxides));
  json_object_set_member (document, "stocks", sherd_table_to_json (stocks));
  json_object_set_member (document, "revisions", sherd_table_to_json (history));
  json_object_set_member (document, "remarks", sherd_table_to_json (remarks));
  sherd_verb_print_json ("sherd-paint", document);
}

/**
 * sherd_paint_print_facts:
 * @trial: a trial
 * @paint: one of its paints
 * @facts: its facts
 * @form: as text, CSV (the ingredients) or JSON (all)
 */
void
sherd_paint_print_facts (SherdTrial *trial, SherdPaint *paint, const SherdPaintFacts *facts, SherdPrintForm form)
{
  g_autoptr (SherdTable) ingredients = sherd_paint_tables_ingredients (facts);
  g_autofree char *csv = form == SHERD_PRINT_CSV ? sherd_table_to_csv (ingredients) : NULL;

  if (csv != NULL)
    g_print ("%s", csv);
  else if (form == SHERD_PRINT_JSON)
    print_json (trial, paint, facts);
  else
    print_text (trial, paint, facts);
}
