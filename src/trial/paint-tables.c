/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-tables.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/material-substance.h"
#include "trial/paint-use.h"
#include "trial/recipe-words.h"

/* Coverage factor of every expanded uncertainty the program shows (JCGM 100:2008, 6.2.1). */
#define COVERAGE_FACTOR 2.0

#define PCT_DECIMALS 1
#define OXIDE_DECIMALS 2
#define GRAM_DECIMALS 2

static void
set_value (SherdTable *table, const char *key, const char *doubt_key, SherdValue value, double times)
{
  sherd_table_set_number (table, key, times * value.value);
  sherd_table_set_number (table, doubt_key, times * COVERAGE_FACTOR * value.u);
}

/* Of zones with the paint as it stands, and of all. */
static guint
count_present_zones (SherdTrial *trial, SherdPaint *paint)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);
  guint count = 0;

  for (guint i = 0; i < zones->len; i++)
    count += sherd_zone_get_paint_revision (g_array_index (zones, SherdPaintedZone, i).zone) == 0;
  return count;
}

static void
set_paint (SherdTable *table, SherdTrial *trial, SherdPaint *paint)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (paint);
  g_autofree char *words = sherd_recipe_dup_words (trial, recipe);
  g_autofree char *hazards = sherd_hazards_dup_names (sherd_trial_get_paint_hazards (trial, paint));

  sherd_table_set_text (table, "paint", sherd_paint_get_code (paint));
  sherd_table_set_text (table, "paint_name", sherd_paint_get_name (paint));
  sherd_table_set_text (table, "kind", sherd_paint_get_kind (paint) == SHERD_PAINT_SLIP ? "slip" : "paint");
  sherd_table_set_integer (table, "revision", sherd_paint_get_revision (paint));
  sherd_table_set_text (table, "basis", recipe->basis == SHERD_BASIS_VOLUME ? "volume" : "mass");
  sherd_table_set_text (table, "recipe", words);
  sherd_table_set_number (table, "batch_g", sherd_paint_get_batch_g (paint));
  sherd_table_set_integer (table, "zones", count_present_zones (trial, paint));
  sherd_table_set_number (table, "coat_area_cm2", sherd_trial_get_coat_area_mm2 (trial, paint, NULL) / 100.0);
  sherd_table_set_text (table, "hazards", hazards);
}

/**
 * sherd_paint_tables_list:
 * @trial: a trial
 *
 * Returns: (transfer full): a row a paint
 */
SherdTable *
sherd_paint_tables_list (SherdTrial *trial)
{
  const SherdColumn columns[] = {
    { "paint", _ ("Paint"), SHERD_COLUMN_TEXT, 0 },
    { "paint_name", _ ("Name"), SHERD_COLUMN_TEXT, 0 },
    { "kind", NULL, SHERD_COLUMN_TEXT, 0 },
    { "revision", _ ("Revision"), SHERD_COLUMN_INTEGER, 0 },
    { "basis", NULL, SHERD_COLUMN_TEXT, 0 },
    { "recipe", _ ("Recipe"), SHERD_COLUMN_TEXT, 0 },
    { "batch_g", NULL, SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "zones", _ ("Zones"), SHERD_COLUMN_INTEGER, 0 },
    { "coat_area_cm2", _ ("cm² × coats"), SHERD_COLUMN_NUMBER, 1 },
    { "hazards", _ ("Hazards"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  GListModel *paints = sherd_trial_get_paints (trial);

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      sherd_table_add_row (table);
      set_paint (table, trial, paint);
    }
  return table;
}

static void
set_material (SherdTable *table, SherdTrial *trial, SherdMaterial *material)
{
  const SherdMaterialRecord *record = sherd_material_get_record (material);
  g_autoptr (GPtrArray) paints = sherd_trial_list_paints_with_material (trial, material);
  g_autofree char *analysis = sherd_material_record_dup_analysis_text (record);
  g_autofree char *hazards = sherd_hazards_dup_names (sherd_material_record_get_stated_hazards (record));

  sherd_table_set_text (table, "material", record->name);
  sherd_table_set_text (table, "kind", sherd_substance_kind_get_id ((SherdSubstanceKind)record->kind));
  sherd_table_set_text (table, "formula", record->analysis != NULL ? analysis : record->formula);
  sherd_table_set_number (table, "particle_density_g_cm3", record->particle_density_g_cm3);
  sherd_table_set_number (table, "purity_pct", record->purity_pct);
  sherd_table_set_number (table, "stock_g", record->stock_g);
  sherd_table_set_integer (table, "paints", paints->len);
  sherd_table_set_text (table, "hazards", hazards);
}

/**
 * sherd_paint_tables_materials:
 * @trial: a trial
 *
 * Returns: (transfer full): a row a material
 */
SherdTable *
sherd_paint_tables_materials (SherdTrial *trial)
{
  const SherdColumn columns[] = {
    { "material", _ ("Material"), SHERD_COLUMN_TEXT, 0 },
    { "kind", NULL, SHERD_COLUMN_TEXT, 0 },
    { "formula", _ ("Formula or analysis"), SHERD_COLUMN_TEXT, 0 },
    { "particle_density_g_cm3", _ ("g/cm³"), SHERD_COLUMN_NUMBER, 2 },
    { "purity_pct", _ ("Purity %"), SHERD_COLUMN_NUMBER, 0 },
    { "stock_g", _ ("Stock g"), SHERD_COLUMN_NUMBER, 1 },
    { "paints", _ ("Paints"), SHERD_COLUMN_INTEGER, 0 },
    { "hazards", _ ("Hazards"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  GListModel *materials = sherd_trial_get_materials (trial);

  for (guint i = 0; i < g_list_model_get_n_items (materials); i++)
    {
      g_autoptr (SherdMaterial) material = g_list_model_get_item (materials, i);

      sherd_table_add_row (table);
      set_material (table, trial, material);
    }
  return table;
}

/* Shares of the dry mix by kind of material, in the order of SherdSubstanceKind. */
static const char *const kind_keys[][2] = {
  { "colourant_pct", "colourant_pct_U95" }, { "flux_pct", "flux_pct_U95" },     { "clay_pct", "clay_pct_U95" },
  { "filler_pct", "filler_pct_U95" },       { "binder_pct", "binder_pct_U95" },
};
G_STATIC_ASSERT (G_N_ELEMENTS (kind_keys) == SHERD_N_SUBSTANCE_KINDS);

static void
set_mix (SherdTable *table, const SherdPaintFacts *facts)
{
  const SherdMixFacts *mix = facts->mix;

  for (guint kind = 0; kind < SHERD_N_SUBSTANCE_KINDS; kind++)
    set_value (table, kind_keys[kind][0], kind_keys[kind][1], mix->kind_frac[kind], 100.0);
  set_value (table, "lost_pct", "lost_pct_U95", mix->lost_frac, 100.0);
  set_value (table, "sulphur_dioxide_pct", "sulphur_dioxide_pct_U95", mix->sulphur_dioxide_frac, 100.0);
  if (mix->has_density)
    set_value (table, "particle_density_g_cm3", "particle_density_g_cm3_U95", mix->particle_g_ml, 1.0);
  sherd_table_set_number (table, "water_pct", facts->recipe->mix->water_pct);
  sherd_table_set_number (table, "slip_g_l", facts->slip_g_l);
}

static void
set_outlook (SherdTable *table, const SherdPaintFacts *facts)
{
  const SherdMeltOutlook *outlook = &facts->outlook;
  g_autofree char *words = sherd_paint_facts_dup_outlook (facts);

  if (outlook->has_begin)
    {
      sherd_table_set_number (table, "melt_begin_low_c", outlook->begin_c.low);
      sherd_table_set_number (table, "melt_begin_high_c", outlook->begin_c.high);
    }
  if (outlook->has_complete)
    {
      sherd_table_set_number (table, "melt_complete_low_c", outlook->complete_c.low);
      sherd_table_set_number (table, "melt_complete_high_c", outlook->complete_c.high);
    }
  sherd_table_set_text (table, "melt_system", outlook->system);
  sherd_table_set_text (table, "melt_outlook", words);
}

static void
set_batch (SherdTable *table, const SherdPaintFacts *facts)
{
  set_value (table, "batch_g", "batch_g_U95", facts->batch->total_g, 1.0);
  sherd_table_set_number (table, "weighed_g", facts->batch->weighed_total_g);
  sherd_table_set_number (table, "rounding_pct", 100.0 * facts->batch->largest_change_frac);
  sherd_table_set_number (table, "cost", facts->cost);
  sherd_table_set_text (table, "currency", facts->currency != NULL ? facts->currency : "");
}

/**
 * sherd_paint_tables_summary:
 * @facts: facts of a paint
 *
 * Returns: (transfer full): one row: what is true of the whole paint
 */
SherdTable *
sherd_paint_tables_summary (const SherdPaintFacts *facts)
{
  const SherdColumn columns[] = {
    { "paint", _ ("Paint"), SHERD_COLUMN_TEXT, 0 },
    { "paint_name", _ ("Name"), SHERD_COLUMN_TEXT, 0 },
    { "revision", _ ("Revision"), SHERD_COLUMN_INTEGER, 0 },
    { "basis", NULL, SHERD_COLUMN_TEXT, 0 },
    { "colourant_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "colourant_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "flux_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "flux_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "clay_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "clay_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "filler_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "filler_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "binder_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "binder_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "lost_pct", _ ("Lost %"), SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "lost_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "sulphur_dioxide_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "sulphur_dioxide_pct_U95", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "particle_density_g_cm3", NULL, SHERD_COLUMN_NUMBER, 2 },
    { "particle_density_g_cm3_U95", NULL, SHERD_COLUMN_NUMBER, 2 },
    { "melt_begin_low_c", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "melt_begin_high_c", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "melt_complete_low_c", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "melt_complete_high_c", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "melt_system", NULL, SHERD_COLUMN_TEXT, 0 },
    { "melt_outlook", NULL, SHERD_COLUMN_TEXT, 0 },
    { "water_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "slip_g_l", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "batch_g", _ ("Batch g"), SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "batch_g_U95", NULL, SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "weighed_g", NULL, SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "rounding_pct", NULL, SHERD_COLUMN_NUMBER, 2 },
    { "cost", _ ("Cost"), SHERD_COLUMN_NUMBER, 2 },
    { "currency", NULL, SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  sherd_table_add_row (table);
  sherd_table_set_text (table, "paint", facts->code);
  sherd_table_set_text (table, "paint_name", facts->name);
  sherd_table_set_integer (table, "revision", facts->revision);
  sherd_table_set_text (table, "basis", facts->basis == SHERD_BASIS_VOLUME ? "volume" : "mass");
  if (facts->mix != NULL)
    {
      set_mix (table, facts);
      set_outlook (table, facts);
    }
  if (facts->batch != NULL)
    set_batch (table, facts);
  return table;
}

static void
set_weighed (SherdTable *table, const SherdBatchRow *row)
{
  set_value (table, "exact_g", "exact_g_U95", row->exact_g, 1.0);
  sherd_table_set_number (table, "weighed_g", row->weighed_g);
  sherd_table_set_number (table, "weighed_pct", 100.0 * row->share_after_frac);
}

static void
add_ingredient_row (SherdTable *table, const SherdPaintFacts *facts, guint index)
{
  const SherdPaintRow *row = &g_array_index (facts->rows, SherdPaintRow, index);

  sherd_table_add_row (table);
  sherd_table_set_text (table, "ingredient", row->name);
  sherd_table_set_number (table, "parts", row->parts);
  if (*row->parts_text != '\0')
    sherd_table_set_text (table, "parts_text", row->parts_text);
  if (facts->mix != NULL)
    {
      const SherdMixShare *share = &g_array_index (facts->mix->shares, SherdMixShare, index);

      set_value (table, "mass_pct", "mass_pct_U95", share->mass_frac, 100.0);
      if (facts->mix->has_volumes)
        set_value (table, "volume_pct", "volume_pct_U95", share->volume_frac, 100.0);
    }
  if (facts->batch != NULL)
    set_weighed (table, &g_array_index (facts->batch->rows, SherdBatchRow, index));
}

/* Binder and water are counted beside the dry powder, so they have grams and no share of it. */
static void
add_liquids (SherdTable *table, const SherdPaintFacts *facts)
{
  const SherdMix *mix = facts->recipe->mix;

  if (mix->binder != NULL)
    {
      sherd_table_add_row (table);
      sherd_table_set_text (table, "ingredient", mix->binder->name);
      set_value (table, "exact_g", "exact_g_U95", facts->batch->binder.exact_g, 1.0);
      sherd_table_set_number (table, "weighed_g", facts->batch->binder.weighed_g);
    }
  if (mix->water_pct > 0.0)
    {
      sherd_table_add_row (table);
      sherd_table_set_text (table, "ingredient", _ ("Water"));
      set_value (table, "exact_g", "exact_g_U95", facts->batch->water_g, 1.0);
    }
}

/**
 * sherd_paint_tables_ingredients:
 * @facts: facts of a paint
 *
 * `_U95` is the expanded uncertainty, k = 2. `exact_g` is the mass for the batch, `weighed_g` the same as the scale can
 * show it, `weighed_pct` the share that is had then.
 *
 * Returns: (transfer full): a row an ingredient; with a batch, binder and water too
 */
SherdTable *
sherd_paint_tables_ingredients (const SherdPaintFacts *facts)
{
  const gboolean has_batch = facts->batch != NULL;
  const SherdColumn columns[] = {
    { "ingredient", _ ("Ingredient"), SHERD_COLUMN_TEXT, 0 },
    { "parts", NULL, SHERD_COLUMN_NUMBER, 3 },
    { "parts_text", facts->basis == SHERD_BASIS_VOLUME ? _ ("Parts by volume") : _ ("Parts by mass"), SHERD_COLUMN_TEXT,
      0 },
    { "mass_pct", _ ("Mass %"), SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "mass_pct_U95", _ ("±"), SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "volume_pct", _ ("Volume %"), SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "volume_pct_U95", _ ("±"), SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "exact_g", has_batch ? _ ("g") : NULL, SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "exact_g_U95", has_batch ? _ ("±") : NULL, SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "weighed_g", has_batch ? _ ("Weigh g") : NULL, SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "weighed_pct", NULL, SHERD_COLUMN_NUMBER, PCT_DECIMALS },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < facts->rows->len; i++)
    add_ingredient_row (table, facts, i);
  if (has_batch)
    add_liquids (table, facts);
  return table;
}

/**
 * sherd_paint_tables_oxides:
 * @facts: facts of a paint
 *
 * Returns: (transfer full): a row an oxide of the fired paint, fluxes first; empty while it cannot be reckoned
 */
SherdTable *
sherd_paint_tables_oxides (const SherdPaintFacts *facts)
{
  const SherdColumn columns[] = {
    { "oxide", _ ("Oxide"), SHERD_COLUMN_TEXT, 0 },
    { "mass_pct", _ ("Mass %"), SHERD_COLUMN_NUMBER, OXIDE_DECIMALS },
    { "mass_pct_U95", _ ("±"), SHERD_COLUMN_NUMBER, OXIDE_DECIMALS },
    { "mole_pct", _ ("Mole %"), SHERD_COLUMN_NUMBER, OXIDE_DECIMALS },
    { "mole_pct_U95", _ ("±"), SHERD_COLUMN_NUMBER, OXIDE_DECIMALS },
    { "per_flux", _ ("For 1 of flux"), SHERD_COLUMN_NUMBER, 3 },
    { "per_flux_U95", _ ("±"), SHERD_COLUMN_NUMBER, 3 },
    { "is_flux", NULL, SHERD_COLUMN_BOOLEAN, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; facts->mix != NULL && i < facts->mix->oxides->len; i++)
    {
      const SherdFiredOxide *oxide = &g_array_index (facts->mix->oxides, SherdFiredOxide, i);

      sherd_table_add_row (table);
      sherd_table_set_text (table, "oxide", sherd_oxide_get_formula (oxide->oxide));
      set_value (table, "mass_pct", "mass_pct_U95", oxide->mass_pct, 1.0);
      set_value (table, "mole_pct", "mole_pct_U95", oxide->mole_pct, 1.0);
      set_value (table, "per_flux", "per_flux_U95", oxide->per_flux, 1.0);
      sherd_table_set_boolean (table, "is_flux", oxide->is_flux);
    }
  return table;
}

/**
 * sherd_paint_tables_stocks:
 * @facts: facts of a paint
 *
 * Returns: (transfer full): a row a material with what the batch needs, costs and leaves
 */
SherdTable *
sherd_paint_tables_stocks (const SherdPaintFacts *facts)
{
  const SherdColumn columns[] = {
    { "material", _ ("Material"), SHERD_COLUMN_TEXT, 0 },
    { "mass_pct", _ ("Mass %"), SHERD_COLUMN_NUMBER, PCT_DECIMALS },
    { "need_g", _ ("Need g"), SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "stock_g", _ ("Stock g"), SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "left_g", _ ("Left g"), SHERD_COLUMN_NUMBER, GRAM_DECIMALS },
    { "cost", _ ("Cost"), SHERD_COLUMN_NUMBER, 2 },
    { "currency", _ ("Currency"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < facts->stocks->len; i++)
    {
      const SherdPaintStock *stock = &g_array_index (facts->stocks, SherdPaintStock, i);

      sherd_table_add_row (table);
      sherd_table_set_text (table, "material", stock->name);
      sherd_table_set_number (table, "mass_pct", stock->mass_pct);
      sherd_table_set_number (table, "need_g", stock->need_g);
      sherd_table_set_number (table, "stock_g", stock->stock_g);
      sherd_table_set_number (table, "left_g", stock->left_g);
      sherd_table_set_number (table, "cost", stock->cost);
      sherd_table_set_text (table, "currency", stock->currency);
    }
  return table;
}

/* "Tile 1 A1, Tile 1 A2": zones that carry that revision. */
static char *
dup_zones (SherdTrial *trial, SherdPaint *paint, guint revision)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < zones->len; i++)
    {
      const SherdPaintedZone *painted = &g_array_index (zones, SherdPaintedZone, i);

      if (sherd_zone_get_paint_revision (painted->zone) == revision)
        g_string_append_printf (words, "%s%s %s", words->len > 0 ? ", " : "", sherd_piece_get_name (painted->piece),
                                sherd_zone_get_code (painted->zone));
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
add_revision (SherdTable *table,
              SherdTrial *trial,
              SherdPaint *paint,
              const SherdRecipe *before,
              const SherdRevision *revision)
{
  const SherdRecipe *recipe = revision != NULL ? revision->recipe : sherd_paint_get_recipe (paint);
  g_autofree char *words = sherd_recipe_dup_words (trial, recipe);
  g_autofree char *change = before != NULL ? sherd_recipe_dup_changes (trial, before, recipe) : NULL;
  g_autofree char *zones = dup_zones (trial, paint, revision != NULL ? revision->number : 0);

  sherd_table_add_row (table);
  sherd_table_set_integer (table, "revision", revision != NULL ? revision->number : sherd_paint_get_revision (paint));
  sherd_table_set_text (table, "recipe", words);
  sherd_table_set_text (table, "change", change != NULL ? change : "");
  sherd_table_set_text (table, "replaced", revision != NULL ? revision->replaced : "");
  sherd_table_set_text (table, "zones", zones);
}

/**
 * sherd_paint_tables_history:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: (transfer full): a row a revision, oldest first
 */
SherdTable *
sherd_paint_tables_history (SherdTrial *trial, SherdPaint *paint)
{
  const SherdColumn columns[] = {
    { "revision", _ ("Revision"), SHERD_COLUMN_INTEGER, 0 }, { "recipe", _ ("Recipe"), SHERD_COLUMN_TEXT, 0 },
    { "change", _ ("Change"), SHERD_COLUMN_TEXT, 0 },        { "replaced", _ ("Until"), SHERD_COLUMN_TEXT, 0 },
    { "zones", _ ("Zones"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  const SherdRevisions *earlier = sherd_paint_get_earlier (paint);
  const SherdRecipe *before = NULL;

  for (guint i = 0; i < earlier->n_revisions; i++)
    {
      add_revision (table, trial, paint, before, &earlier->revisions[i]);
      before = earlier->revisions[i].recipe;
    }
  add_revision (table, trial, paint, before, NULL);
  return table;
}

static const char *
row_name (const SherdPaintFacts *facts, int row)
{
  if (row >= 0 && (guint)row < facts->rows->len)
    return g_array_index (facts->rows, SherdPaintRow, row).name;
  return row == SHERD_ROW_BINDER ? _ ("Binder") : "";
}

/**
 * sherd_paint_tables_remarks:
 * @facts: facts of a paint
 *
 * Returns: (transfer full): a row a remark; the ingredient is empty where it is about the whole paint
 */
SherdTable *
sherd_paint_tables_remarks (const SherdPaintFacts *facts)
{
  static const char *const kinds[] = { "missing", "caution", "note" };
  const SherdColumn columns[] = {
    { "ingredient", _ ("Ingredient"), SHERD_COLUMN_TEXT, 0 },
    { "remark_kind", NULL, SHERD_COLUMN_TEXT, 0 },
    { "hazard", NULL, SHERD_COLUMN_TEXT, 0 },
    { "remark", _ ("Remark"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < facts->remarks->len; i++)
    {
      const SherdRemark *remark = &g_array_index (facts->remarks, SherdRemark, i);

      sherd_table_add_row (table);
      sherd_table_set_text (table, "ingredient", row_name (facts, remark->row));
      sherd_table_set_text (table, "remark_kind", kinds[remark->kind]);
      sherd_table_set_text (table, "hazard", remark->hazard != 0 ? sherd_hazard_get_id (remark->hazard) : "");
      sherd_table_set_text (table, "remark", remark->words);
    }
  return table;
}
