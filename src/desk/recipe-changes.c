/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/recipe-changes.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/edits.h"

/* Dry binder in % of the dry mass that a paint begins with; common practice, no source: gum 1 to 3 %. */
#define FIRST_BINDER_PCT 2.0

/* The material's id in the trial, or of the paint; one of the two. */
typedef struct
{
  const char *material_id;
  const char *paint_id;
} What;

static gboolean
take (SherdTrial *trial, SherdMaterialChoice *choice, What *what, GError **error)
{
  const char *id = sherd_material_choice_get_id (choice);
  SherdMaterial *material;

  *what = (What){ .material_id = id };
  switch (sherd_material_choice_get_source (choice))
    {
    case SHERD_CHOICE_PAINT:
      *what = (What){ .paint_id = id };
      return TRUE;
    case SHERD_CHOICE_BUILT_IN:
      material = sherd_trial_add_material (trial, sherd_material_choice_get_record (choice), error);
      what->material_id = material != NULL ? sherd_part_get_id (SHERD_PART (material)) : NULL;
      return material != NULL;
    case SHERD_CHOICE_OWN:
    default:
      return TRUE;
    }
}

static SherdRecipe *
dup_recipe (SherdPaint *paint)
{
  return sherd_recipe_copy (sherd_paint_get_recipe (paint));
}

/* Ends the step, or takes back what it did so far. */
static gboolean
finish (SherdTrial *trial, gboolean done)
{
  if (done)
    sherd_trial_end_edit (trial);
  else
    sherd_trial_cancel_edit (trial);
  return done;
}

/**
 * sherd_recipe_add_choice:
 * @trial: a trial
 * @paint: one of its paints
 * @choice: what to add one part of, at the end
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE, say for a paint that would hold itself
 */
gboolean
sherd_recipe_add_choice (SherdTrial *trial, SherdPaint *paint, SherdMaterialChoice *choice, GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);
  g_autofree char *label =
    g_strdup_printf (_ ("Add %s to %s"), sherd_material_choice_get_name (choice), sherd_paint_get_code (paint));
  What what;

  sherd_trial_begin_edit (trial, label);
  if (!take (trial, choice, &what, error))
    return finish (trial, FALSE);
  if (what.material_id != NULL)
    sherd_recipe_insert_material (recipe, recipe->n_ingredients, what.material_id, 1.0, NULL);
  else
    sherd_recipe_insert_paint (recipe, recipe->n_ingredients, what.paint_id, 1.0, NULL);
  return finish (trial, sherd_trial_set_recipe (trial, paint, recipe, FALSE, error));
}

/**
 * sherd_recipe_replace_choice:
 * @trial: a trial
 * @paint: one of its paints
 * @position: of the ingredient
 * @choice: what takes its place, with as many parts
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_replace_choice (SherdTrial *trial,
                             SherdPaint *paint,
                             guint position,
                             SherdMaterialChoice *choice,
                             GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);
  g_autofree char *label =
    g_strdup_printf (_ ("Take %s for %s"), sherd_material_choice_get_name (choice), sherd_paint_get_code (paint));
  What what;

  sherd_trial_begin_edit (trial, label);
  if (!take (trial, choice, &what, error))
    return finish (trial, FALSE);
  sherd_recipe_set_what (recipe, position, what.material_id, what.paint_id);
  return finish (trial, sherd_trial_set_recipe (trial, paint, recipe, FALSE, error));
}

/**
 * sherd_recipe_choose_binder:
 * @trial: a trial
 * @paint: one of its paints
 * @choice: (nullable): a material; NULL for no binder
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_choose_binder (SherdTrial *trial, SherdPaint *paint, SherdMaterialChoice *choice, GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);
  g_autofree char *label = g_strdup_printf (_ ("Binder of %s"), sherd_paint_get_code (paint));
  const double pct = recipe->binder_id != NULL ? recipe->binder_pct : FIRST_BINDER_PCT;
  What what = { NULL, NULL };

  sherd_trial_begin_edit (trial, label);
  if (choice != NULL && !take (trial, choice, &what, error))
    return finish (trial, FALSE);
  sherd_recipe_set_binder (recipe, what.material_id, what.material_id != NULL ? pct : NAN);
  return finish (trial, sherd_trial_set_recipe (trial, paint, recipe, FALSE, error));
}

/**
 * sherd_recipe_type_parts:
 * @trial: a trial
 * @paint: one of its paints
 * @position: of the ingredient
 * @parts: how many
 * @text: as typed
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_type_parts (SherdTrial *trial,
                         SherdPaint *paint,
                         guint position,
                         double parts,
                         const char *text,
                         GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);

  sherd_recipe_set_parts (recipe, position, parts, text);
  return sherd_trial_set_recipe (trial, paint, recipe, TRUE, error);
}

/**
 * sherd_recipe_type_binder_pct:
 * @trial: a trial
 * @paint: one of its paints, with a binder
 * @pct: dry binder in % of the dry mass; NAN when not known
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_type_binder_pct (SherdTrial *trial, SherdPaint *paint, double pct, GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);
  g_autofree char *binder_id = g_strdup (recipe->binder_id);

  sherd_recipe_set_binder (recipe, binder_id, pct);
  return sherd_trial_set_recipe (trial, paint, recipe, TRUE, error);
}

/**
 * sherd_recipe_type_water_pct:
 * @trial: a trial
 * @paint: one of its paints
 * @pct: water in % of the dry mass; NAN when not known
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_type_water_pct (SherdTrial *trial, SherdPaint *paint, double pct, GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);

  recipe->water_pct = pct;
  return sherd_trial_set_recipe (trial, paint, recipe, TRUE, error);
}

/**
 * sherd_recipe_remove_row:
 * @trial: a trial
 * @paint: one of its paints
 * @position: of the ingredient
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_remove_row (SherdTrial *trial, SherdPaint *paint, guint position, GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);

  sherd_recipe_remove (recipe, position);
  return sherd_trial_set_recipe (trial, paint, recipe, FALSE, error);
}

/**
 * sherd_recipe_set_basis:
 * @trial: a trial
 * @paint: one of its paints
 * @basis: how its parts are measured; the numbers stay
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_set_basis (SherdTrial *trial, SherdPaint *paint, SherdBasis basis, GError **error)
{
  g_autoptr (SherdRecipe) recipe = dup_recipe (paint);

  recipe->basis = basis;
  return sherd_trial_set_recipe (trial, paint, recipe, FALSE, error);
}
