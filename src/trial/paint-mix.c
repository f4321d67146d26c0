/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-mix.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/material-substance.h"
#include "trial/paint-use.h"

typedef struct
{
  SherdTrial *trial;
  SherdPaintMix *made;
  GHashTable *substances; /* id of the material → SherdSubstance, borrowed */
  GHashTable *mixes;      /* recipe → SherdMix, borrowed */
} Building;

static SherdMix *build_mix (Building *building, const SherdRecipe *recipe, guint depth, int *row, GError **error);

/* (nullable) (transfer none) */
static const SherdSubstance *
find_substance (Building *building, const char *material_id, GError **error)
{
  SherdMaterial *material = sherd_trial_find_material (building->trial, material_id);
  SherdSubstance *substance = g_hash_table_lookup (building->substances, material_id);

  if (substance != NULL)
    return substance;
  if (material == NULL)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("The material “%s” is not in this trial."),
                   material_id);
      return NULL;
    }
  substance = sherd_material_record_dup_substance (sherd_material_get_record (material), material_id, error);
  if (substance == NULL)
    return NULL;
  g_ptr_array_add (building->made->substances, substance);
  g_hash_table_insert (building->substances, substance->id, substance);
  return substance;
}

static const SherdMix *
find_inner_mix (Building *building, const SherdIngredient *ingredient, guint depth, GError **error)
{
  SherdPaint *paint = sherd_trial_find_paint (building->trial, ingredient->paint_id);
  const SherdRecipe *recipe = paint != NULL ? sherd_paint_find_recipe (paint, ingredient->revision) : NULL;
  SherdMix *mix = recipe != NULL ? g_hash_table_lookup (building->mixes, recipe) : NULL;

  if (mix != NULL)
    return mix;
  if (recipe == NULL)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("The paint “%s” is not in this trial."),
                   ingredient->paint_id);
      return NULL;
    }
  mix = build_mix (building, recipe, depth + 1, NULL, error);
  if (mix == NULL)
    {
      g_prefix_error (error, "%s: ", sherd_paint_get_code (paint));
      return NULL;
    }
  g_ptr_array_add (building->made->inner, mix);
  g_hash_table_insert (building->mixes, (gpointer)recipe, mix);
  return mix;
}

static gboolean
add_ingredient (Building *building, SherdMix *mix, const SherdIngredient *ingredient, guint depth, GError **error)
{
  const SherdSubstance *substance = NULL;
  const SherdMix *inner = NULL;

  if (ingredient->material_id != NULL)
    substance = find_substance (building, ingredient->material_id, error);
  else
    inner = find_inner_mix (building, ingredient, depth, error);
  if (substance != NULL)
    sherd_mix_add (mix, substance, ingredient->parts);
  else if (inner != NULL)
    sherd_mix_add_mix (mix, inner, ingredient->parts);
  return substance != NULL || inner != NULL;
}

static gboolean
add_binder (Building *building, SherdMix *mix, const SherdRecipe *recipe, GError **error)
{
  const SherdSubstance *binder;

  mix->water_pct = isnan (recipe->water_pct) ? 0.0 : recipe->water_pct;
  if (recipe->binder_id == NULL || isnan (recipe->binder_pct) || recipe->binder_pct == 0.0)
    return TRUE;
  binder = find_substance (building, recipe->binder_id, error);
  if (binder != NULL)
    sherd_mix_set_binder (mix, binder, recipe->binder_pct);
  return binder != NULL;
}

static void
note_row (int *row, int value)
{
  if (row != NULL)
    *row = value;
}

static SherdMix *
build_mix (Building *building, const SherdRecipe *recipe, guint depth, int *row, GError **error)
{
  g_autoptr (SherdMix) mix =
    sherd_mix_new (recipe->basis == SHERD_BASIS_VOLUME ? SHERD_MIX_BY_VOLUME : SHERD_MIX_BY_MASS);

  note_row (row, SHERD_ROW_PAINT);
  if (depth > SHERD_PAINT_MAX_DEPTH)
    {
      g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                           _ ("Paints are mixed of paints too deep."));
      return NULL;
    }
  for (guint i = 0; i < recipe->n_ingredients; i++)
    {
      note_row (row, (int)i);
      if (!add_ingredient (building, mix, &recipe->ingredients[i], depth, error))
        return NULL;
    }
  note_row (row, SHERD_ROW_BINDER);
  if (!add_binder (building, mix, recipe, error))
    return NULL;
  note_row (row, SHERD_ROW_PAINT);
  return g_steal_pointer (&mix);
}

/**
 * sherd_paint_mix_new:
 * @trial: a trial
 * @recipe: a recipe of its materials and paints
 * @row: (out): the ingredient that is wrong, SHERD_ROW_BINDER or SHERD_ROW_PAINT
 * @error: place for an error
 *
 * Returns: (transfer full): the recipe with all that it is mixed of; NULL with SHERD_CHEM_ERROR or SHERD_TRIAL_ERROR
 */
SherdPaintMix *
sherd_paint_mix_new (SherdTrial *trial, const SherdRecipe *recipe, int *row, GError **error)
{
  g_autoptr (SherdPaintMix) made = g_new0 (SherdPaintMix, 1);
  g_autoptr (GHashTable) substances = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) mixes = g_hash_table_new (NULL, NULL);
  Building building = { trial, made, substances, mixes };

  made->inner = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_mix_free);
  made->substances = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_substance_free);
  made->mix = build_mix (&building, recipe, 0, row, error);
  return made->mix != NULL && sherd_mix_check (made->mix, row, error) ? g_steal_pointer (&made) : NULL;
}

/**
 * sherd_paint_mix_free:
 * @mix: (transfer full): a recipe with all that it is mixed of
 */
void
sherd_paint_mix_free (SherdPaintMix *mix)
{
  g_clear_pointer (&mix->mix, sherd_mix_free);
  g_clear_pointer (&mix->inner, g_ptr_array_unref);
  g_clear_pointer (&mix->substances, g_ptr_array_unref);
  g_free (mix);
}
