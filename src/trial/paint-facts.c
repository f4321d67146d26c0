/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-facts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/material-substance.h"
#include "trial/paint-use.h"
#include "trial/recipe-words.h"

static void
clear_row (gpointer data)
{
  SherdPaintRow *row = data;

  g_free (row->name);
  g_free (row->parts_text);
}

static void
clear_remark (gpointer data)
{
  g_free (((SherdRemark *)data)->words);
}

static void
clear_stock (gpointer data)
{
  SherdPaintStock *stock = data;

  g_free (stock->material_id);
  g_free (stock->name);
  g_free (stock->currency);
}

static GArray *
new_list (gsize size, GDestroyNotify clear)
{
  GArray *list = g_array_new (FALSE, TRUE, (guint)size);

  g_array_set_clear_func (list, clear);
  return list;
}

static void
remark (SherdPaintFacts *facts, int row, SherdRemarkKind kind, SherdHazards hazard, const char *words)
{
  const SherdRemark entry = { row, kind, hazard, g_strdup (words) };

  g_array_append_val (facts->remarks, entry);
}

static SherdHazards recipe_hazards (SherdTrial *trial, const SherdRecipe *recipe, GHashTable *seen);

/* What the words say and what the elements tell, as far as the formula can be read. */
static SherdHazards
material_hazards (SherdTrial *trial, const char *material_id)
{
  SherdMaterial *material = sherd_trial_find_material (trial, material_id);
  const SherdMaterialRecord *record = material != NULL ? sherd_material_get_record (material) : NULL;
  g_autoptr (SherdSubstance) substance =
    record != NULL ? sherd_material_record_dup_substance (record, material_id, NULL) : NULL;
  guint hazards = record != NULL ? sherd_material_record_get_stated_hazards (record) : 0;

  if (substance != NULL)
    hazards |= sherd_substance_get_hazards (substance);
  return (SherdHazards)hazards;
}

static SherdHazards
ingredient_hazards (SherdTrial *trial, const SherdIngredient *ingredient, GHashTable *seen)
{
  SherdPaint *paint = ingredient->paint_id != NULL ? sherd_trial_find_paint (trial, ingredient->paint_id) : NULL;
  const SherdRecipe *recipe = paint != NULL ? sherd_paint_find_recipe (paint, ingredient->revision) : NULL;

  if (ingredient->material_id != NULL)
    return material_hazards (trial, ingredient->material_id);
  return recipe != NULL ? recipe_hazards (trial, recipe, seen) : 0;
}

/* @seen: recipes that have told theirs; however often paints are within one another, each is asked once */
static SherdHazards
recipe_hazards (SherdTrial *trial, const SherdRecipe *recipe, GHashTable *seen)
{
  guint hazards = 0;

  if (!g_hash_table_add (seen, (gpointer)recipe))
    return (SherdHazards)hazards;
  if (recipe->binder_id != NULL)
    hazards = material_hazards (trial, recipe->binder_id);
  for (guint i = 0; i < recipe->n_ingredients; i++)
    hazards |= ingredient_hazards (trial, &recipe->ingredients[i], seen);
  return (SherdHazards)hazards;
}

static SherdHazards
whole_recipe_hazards (SherdTrial *trial, const SherdRecipe *recipe)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  return recipe_hazards (trial, recipe, seen);
}

/**
 * sherd_trial_get_paint_hazards:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: what can hurt in any of its materials, told or known from their elements
 */
SherdHazards
sherd_trial_get_paint_hazards (SherdTrial *trial, SherdPaint *paint)
{
  return whole_recipe_hazards (trial, sherd_paint_get_recipe (paint));
}

/**
 * sherd_hazards_dup_names:
 * @hazards: any
 *
 * Returns: (transfer full): their names, "lead, silica dust"; empty for none
 */
char *
sherd_hazards_dup_names (SherdHazards hazards)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint bit = 0; bit < SHERD_N_HAZARDS; bit++)
    if ((hazards & (1u << bit)) != 0)
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "",
                              sherd_hazard_get_name ((SherdHazards)(1u << bit)));
  return g_string_free (g_steal_pointer (&names), FALSE);
}

static void
caution (SherdPaintFacts *facts, int row, SherdHazards hazards)
{
  for (guint bit = 0; bit < SHERD_N_HAZARDS; bit++)
    {
      const SherdHazards hazard = (SherdHazards)(1u << bit);
      g_autofree char *words = NULL;

      if ((hazards & hazard) == 0)
        continue;
      words = g_strdup_printf ("%s: %s", sherd_hazard_get_name (hazard), sherd_hazard_get_caution (hazard));
      remark (facts, row, SHERD_REMARK_CAUTION, hazard, words);
    }
}

static void
caution_all (SherdPaintFacts *facts, SherdTrial *trial, const SherdRecipe *recipe)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    {
      g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

      caution (facts, (int)i, ingredient_hazards (trial, &recipe->ingredients[i], seen));
    }
  if (recipe->binder_id != NULL)
    caution (facts, SHERD_ROW_BINDER, material_hazards (trial, recipe->binder_id));
  if (recipe->n_ingredients == 0)
    return;
  remark (facts, SHERD_ROW_PAINT, SHERD_REMARK_CAUTION, 0,
          sherd_hazards_get_food_caution (whole_recipe_hazards (trial, recipe)));
  remark (facts, SHERD_ROW_PAINT, SHERD_REMARK_CAUTION, 0, sherd_hazards_get_deference ());
}

static void
list_rows (SherdPaintFacts *facts, SherdTrial *trial, const SherdRecipe *recipe)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    {
      const SherdIngredient *ingredient = &recipe->ingredients[i];
      const SherdPaintRow row = {
        .name = sherd_ingredient_dup_name (trial, ingredient),
        .parts = ingredient->parts,
        .parts_text = g_strdup (ingredient->parts_text),
      };

      g_array_append_val (facts->rows, row);
    }
}

/* Every material that cannot be reckoned with is told, not just the first. */
static gboolean
check_materials (SherdPaintFacts *facts, SherdTrial *trial, const SherdRecipe *recipe)
{
  gboolean is_good = TRUE;

  for (guint i = 0; i < recipe->n_ingredients; i++)
    {
      const char *id = recipe->ingredients[i].material_id;
      SherdMaterial *material = id != NULL ? sherd_trial_find_material (trial, id) : NULL;
      g_autoptr (GError) problem = NULL;
      G_GNUC_UNUSED g_autoptr (SherdSubstance) substance =
        material != NULL ? sherd_material_record_dup_substance (sherd_material_get_record (material), id, &problem)
                         : NULL;

      if (problem == NULL)
        continue;
      remark (facts, (int)i, SHERD_REMARK_MISSING, 0, problem->message);
      is_good = FALSE;
    }
  return is_good;
}

static void
reckon_mix (SherdPaintFacts *facts, SherdTrial *trial, const SherdRecipe *recipe)
{
  g_autoptr (GError) problem = NULL;
  int row = SHERD_ROW_PAINT;

  if (recipe->n_ingredients == 0)
    remark (facts, SHERD_ROW_PAINT, SHERD_REMARK_MISSING, 0,
            _ ("Nothing is in this paint yet. Add an ingredient and its parts."));
  if (recipe->n_ingredients == 0 || !check_materials (facts, trial, recipe))
    return;
  facts->recipe = sherd_paint_mix_new (trial, recipe, &row, &problem);
  if (facts->recipe != NULL)
    facts->mix = sherd_mix_facts_new (facts->recipe->mix, &row, &problem);
  if (facts->mix == NULL)
    remark (facts, row, SHERD_REMARK_MISSING, 0, problem->message);
}

static void
plan_batch (SherdPaintFacts *facts, const SherdBatchRequest *request)
{
  g_autoptr (GError) problem = NULL;
  const char *name;
  g_autofree char *words = NULL;

  facts->batch = sherd_batch_new (facts->recipe->mix, facts->mix, request, &problem);
  if (facts->batch == NULL)
    {
      remark (facts, SHERD_ROW_PAINT, SHERD_REMARK_MISSING, 0, problem->message);
      return;
    }
  if (facts->batch->rounded_away < 0)
    return;
  name = g_array_index (facts->rows, SherdPaintRow, facts->batch->rounded_away).name;
  words =
    g_strdup_printf (_ ("The scale cannot weigh so little of %s. Mix a larger batch or take a finer scale."), name);
  remark (facts, facts->batch->rounded_away, SHERD_REMARK_NOTE, 0, words);
}

/* Density of what is stirred: dry mass and water over the volume of both, water at 1 g/ml. */
static double
slip_weight_g_l (const SherdMixFacts *mix, double water_pct)
{
  const double water = water_pct / 100.0;

  return mix->has_density && !isnan (water) ? 1000.0 * (1.0 + water) / (1.0 / mix->particle_g_ml.value + water) : NAN;
}

static void
add_stock (SherdPaintFacts *facts, const SherdMixContent *content, const SherdMaterialRecord *record, double dry_g)
{
  const double need_g = content->mass_frac.value * dry_g;
  const SherdPaintStock stock = {
    .material_id = g_strdup (content->substance->id),
    .name = g_strdup (content->substance->name),
    .mass_pct = 100.0 * content->mass_frac.value,
    .need_g = need_g,
    .stock_g = record->stock_g,
    .left_g = record->stock_g - need_g,
    .cost = record->price_per_kg * need_g / 1000.0,
    .currency = g_strdup (record->currency),
  };

  g_array_append_val (facts->stocks, stock);
}

static void
warn_of_empty_stock (SherdPaintFacts *facts, const SherdPaintStock *stock)
{
  g_autofree char *words = NULL;

  if (!(stock->left_g < 0.0))
    return;
  words = g_strdup_printf (_ ("There are only %.4g g of %s; the batch needs %.4g g."), stock->stock_g, stock->name,
                           stock->need_g);
  remark (facts, SHERD_ROW_PAINT, SHERD_REMARK_NOTE, 0, words);
}

static void
sum_cost (SherdPaintFacts *facts)
{
  facts->cost = 0.0;
  for (guint i = 0; i < facts->stocks->len; i++)
    {
      const SherdPaintStock *stock = &g_array_index (facts->stocks, SherdPaintStock, i);
      const SherdPaintStock *first = &g_array_index (facts->stocks, SherdPaintStock, 0);

      facts->cost += g_str_equal (stock->currency, first->currency) ? stock->cost : NAN;
      warn_of_empty_stock (facts, stock);
    }
  if (!isnan (facts->cost) && facts->stocks->len > 0)
    facts->currency = g_strdup (g_array_index (facts->stocks, SherdPaintStock, 0).currency);
}

static void
list_stocks (SherdPaintFacts *facts, SherdTrial *trial)
{
  const SherdMix *mix = facts->recipe->mix;
  const double powder_g = facts->batch != NULL ? facts->batch->total_g.value : NAN;
  const double binder_frac = mix->binder != NULL ? mix->binder_pct / 100.0 : 0.0;

  for (guint i = 0; i < facts->mix->contents->len; i++)
    {
      const SherdMixContent *content = &g_array_index (facts->mix->contents, SherdMixContent, i);
      SherdMaterial *material = sherd_trial_find_material (trial, content->substance->id);

      add_stock (facts, content, sherd_material_get_record (material), powder_g * (1.0 + binder_frac));
    }
  if (facts->batch != NULL)
    sum_cost (facts);
}

/**
 * sherd_paint_facts_new:
 * @trial: a trial
 * @paint: one of its paints
 * @revision: which of its recipes; 0 for the present one
 * @request: (nullable): how much of it; NULL takes the planned batch, if there is one
 *
 * What follows from a recipe: shares, oxides, molar formula, what is lost, what can hurt, grams, cost and what remains
 * of each stock. What cannot be reckoned yet is left out, and a remark says why.
 *
 * Returns: (transfer full): the facts
 */
SherdPaintFacts *
sherd_paint_facts_new (SherdTrial *trial, SherdPaint *paint, guint revision, const SherdBatchRequest *request)
{
  const SherdRecipe *recipe = sherd_paint_find_recipe (paint, revision);
  const SherdBatchRequest planned = { .way = SHERD_BATCH_BY_TOTAL, .total_g = sherd_paint_get_batch_g (paint) };
  SherdPaintFacts *facts = g_new0 (SherdPaintFacts, 1);

  g_return_val_if_fail (recipe != NULL, NULL);
  facts->code = g_strdup (sherd_paint_get_code (paint));
  facts->name = g_strdup (sherd_paint_get_name (paint));
  facts->revision = revision != 0 ? revision : sherd_paint_get_revision (paint);
  facts->basis = recipe->basis;
  facts->rows = new_list (sizeof (SherdPaintRow), clear_row);
  facts->remarks = new_list (sizeof (SherdRemark), clear_remark);
  facts->stocks = new_list (sizeof (SherdPaintStock), clear_stock);
  facts->slip_g_l = NAN;
  facts->cost = NAN;

  list_rows (facts, trial, recipe);
  reckon_mix (facts, trial, recipe);
  if (facts->mix != NULL && (request != NULL || !isnan (planned.total_g)))
    plan_batch (facts, request != NULL ? request : &planned);
  if (facts->mix != NULL)
    {
      facts->slip_g_l = slip_weight_g_l (facts->mix, recipe->water_pct);
      list_stocks (facts, trial);
      sherd_paint_facts_set_heat (facts, NULL);
    }
  caution_all (facts, trial, recipe);
  return facts;
}

/**
 * sherd_paint_facts_free:
 * @facts: (transfer full): facts
 */
void
sherd_paint_facts_free (SherdPaintFacts *facts)
{
  g_clear_pointer (&facts->batch, sherd_batch_free);
  g_clear_pointer (&facts->mix, sherd_mix_facts_free);
  g_clear_pointer (&facts->recipe, sherd_paint_mix_free);
  g_clear_pointer (&facts->systems, g_ptr_array_unref);
  g_array_unref (facts->rows);
  g_array_unref (facts->remarks);
  g_array_unref (facts->stocks);
  g_free (facts->code);
  g_free (facts->name);
  g_free (facts->currency);
  g_free (facts);
}
