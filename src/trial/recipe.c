/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/recipe.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/error.h"
#include "trial/part-private.h"

G_DEFINE_ENUM_TYPE (SherdBasis,
                    sherd_basis,
                    G_DEFINE_ENUM_VALUE (SHERD_BASIS_MASS, "mass"),
                    G_DEFINE_ENUM_VALUE (SHERD_BASIS_VOLUME, "volume"))

/* Not G_DEFINE_BOXED_TYPE: it is no ISO C. */
GType
sherd_recipe_get_type (void)
{
  static gsize type = 0;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string ("SherdRecipe"),
                                                            (GBoxedCopyFunc)sherd_recipe_copy,
                                                            (GBoxedFreeFunc)sherd_recipe_free));
  return type;
}

/**
 * sherd_recipe_new:
 *
 * Returns: (transfer full): a recipe by mass with nothing in it; binder and water are not known
 */
SherdRecipe *
sherd_recipe_new (void)
{
  SherdRecipe *recipe = g_new0 (SherdRecipe, 1);

  recipe->binder_pct = NAN;
  recipe->water_pct = NAN;
  return recipe;
}

/* @ingredient: its texts are copied, its unknown is held once more */
static SherdIngredient
dup_ingredient (const SherdIngredient *ingredient)
{
  return (SherdIngredient){
    .material_id = g_strdup (ingredient->material_id),
    .paint_id = g_strdup (ingredient->paint_id),
    .revision = ingredient->revision,
    .parts = ingredient->parts,
    .parts_text = g_strdup (ingredient->parts_text != NULL ? ingredient->parts_text : ""),
    .unknown = ingredient->unknown != NULL ? json_object_ref (ingredient->unknown) : NULL,
  };
}

static void
clear_ingredient (SherdIngredient *ingredient)
{
  g_clear_pointer (&ingredient->material_id, g_free);
  g_clear_pointer (&ingredient->paint_id, g_free);
  g_clear_pointer (&ingredient->parts_text, g_free);
  g_clear_pointer (&ingredient->unknown, json_object_unref);
}

/**
 * sherd_recipe_copy:
 * @recipe: a recipe
 *
 * Returns: (transfer full): the same recipe, to be changed
 */
SherdRecipe *
sherd_recipe_copy (const SherdRecipe *recipe)
{
  SherdRecipe *copy = sherd_recipe_new ();

  copy->basis = recipe->basis;
  copy->n_ingredients = recipe->n_ingredients;
  copy->ingredients = g_new0 (SherdIngredient, recipe->n_ingredients);
  for (guint i = 0; i < recipe->n_ingredients; i++)
    copy->ingredients[i] = dup_ingredient (&recipe->ingredients[i]);
  copy->binder_id = g_strdup (recipe->binder_id);
  copy->binder_pct = recipe->binder_pct;
  copy->water_pct = recipe->water_pct;
  return copy;
}

/**
 * sherd_recipe_free:
 * @recipe: (transfer full): a recipe
 */
void
sherd_recipe_free (SherdRecipe *recipe)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    clear_ingredient (&recipe->ingredients[i]);
  g_free (recipe->ingredients);
  g_free (recipe->binder_id);
  g_free (recipe);
}

static gboolean
ingredient_same (const SherdIngredient *first, const SherdIngredient *second)
{
  return g_strcmp0 (first->material_id, second->material_id) == 0 &&
         g_strcmp0 (first->paint_id, second->paint_id) == 0 && first->revision == second->revision &&
         first->parts == second->parts;
}

/**
 * sherd_recipe_same_mix:
 * @first: a recipe
 * @second: another
 *
 * Returns: whether both say the same, in the same order, however the parts were typed
 */
gboolean
sherd_recipe_same_mix (const SherdRecipe *first, const SherdRecipe *second)
{
  if (first->basis != second->basis || first->n_ingredients != second->n_ingredients ||
      g_strcmp0 (first->binder_id, second->binder_id) != 0 ||
      !sherd_part_same_number (first->binder_pct, second->binder_pct) ||
      !sherd_part_same_number (first->water_pct, second->water_pct))
    return FALSE;
  for (guint i = 0; i < first->n_ingredients; i++)
    if (!ingredient_same (&first->ingredients[i], &second->ingredients[i]))
      return FALSE;
  return TRUE;
}

/**
 * sherd_recipe_equal:
 * @first: a recipe
 * @second: another
 *
 * Returns: whether both say the same, to the letter
 */
gboolean
sherd_recipe_equal (const SherdRecipe *first, const SherdRecipe *second)
{
  if (!sherd_recipe_same_mix (first, second))
    return FALSE;
  for (guint i = 0; i < first->n_ingredients; i++)
    if (!g_str_equal (first->ingredients[i].parts_text, second->ingredients[i].parts_text))
      return FALSE;
  return TRUE;
}

static void
insert (SherdRecipe *recipe, guint position, const SherdIngredient *ingredient)
{
  const guint place = MIN (position, recipe->n_ingredients);

  recipe->ingredients = g_renew (SherdIngredient, recipe->ingredients, recipe->n_ingredients + 1);
  memmove (&recipe->ingredients[place + 1], &recipe->ingredients[place],
           (recipe->n_ingredients - place) * sizeof *recipe->ingredients);
  recipe->ingredients[place] = dup_ingredient (ingredient);
  recipe->n_ingredients++;
}

/**
 * sherd_recipe_insert_material:
 * @recipe: a recipe
 * @position: where; past the end is the end
 * @material_id: a material of the trial
 * @parts: how many parts
 * @parts_text: (nullable): as typed
 */
void
sherd_recipe_insert_material (SherdRecipe *recipe,
                              guint position,
                              const char *material_id,
                              double parts,
                              const char *parts_text)
{
  const SherdIngredient ingredient = {
    .material_id = (char *)material_id,
    .parts = parts,
    .parts_text = (char *)parts_text,
  };

  insert (recipe, position, &ingredient);
}

/**
 * sherd_recipe_insert_paint:
 * @recipe: a recipe
 * @position: where; past the end is the end
 * @paint_id: another paint of the trial
 * @parts: how many parts of its dry mix
 * @parts_text: (nullable): as typed
 */
void
sherd_recipe_insert_paint (SherdRecipe *recipe,
                           guint position,
                           const char *paint_id,
                           double parts,
                           const char *parts_text)
{
  const SherdIngredient ingredient = {
    .paint_id = (char *)paint_id,
    .parts = parts,
    .parts_text = (char *)parts_text,
  };

  insert (recipe, position, &ingredient);
}

/**
 * sherd_recipe_append:
 * @recipe: a recipe
 * @ingredient: copied to its end
 */
void
sherd_recipe_append (SherdRecipe *recipe, const SherdIngredient *ingredient)
{
  insert (recipe, recipe->n_ingredients, ingredient);
}

/**
 * sherd_recipe_remove:
 * @recipe: a recipe
 * @position: which ingredient
 */
void
sherd_recipe_remove (SherdRecipe *recipe, guint position)
{
  g_return_if_fail (position < recipe->n_ingredients);
  clear_ingredient (&recipe->ingredients[position]);
  recipe->n_ingredients--;
  memmove (&recipe->ingredients[position], &recipe->ingredients[position + 1],
           (recipe->n_ingredients - position) * sizeof *recipe->ingredients);
}

/**
 * sherd_recipe_move:
 * @recipe: a recipe
 * @from: which ingredient
 * @to: the place it has afterwards
 */
void
sherd_recipe_move (SherdRecipe *recipe, guint from, guint to)
{
  SherdIngredient moved;

  g_return_if_fail (from < recipe->n_ingredients && to < recipe->n_ingredients);
  moved = recipe->ingredients[from];
  if (from < to)
    memmove (&recipe->ingredients[from], &recipe->ingredients[from + 1], (to - from) * sizeof moved);
  else
    memmove (&recipe->ingredients[to + 1], &recipe->ingredients[to], (from - to) * sizeof moved);
  recipe->ingredients[to] = moved;
}

/**
 * sherd_recipe_set_parts:
 * @recipe: a recipe
 * @position: which ingredient
 * @parts: how many parts
 * @parts_text: (nullable): as typed
 */
void
sherd_recipe_set_parts (SherdRecipe *recipe, guint position, double parts, const char *parts_text)
{
  SherdIngredient *ingredient;

  g_return_if_fail (position < recipe->n_ingredients);
  ingredient = &recipe->ingredients[position];
  ingredient->parts = parts;
  g_free (ingredient->parts_text);
  ingredient->parts_text = g_strdup (parts_text != NULL ? parts_text : "");
}

/**
 * sherd_recipe_set_what:
 * @recipe: a recipe
 * @position: which ingredient
 * @material_id: (nullable): the material that takes its place
 * @paint_id: (nullable): or the paint
 *
 * The parts stay.
 */
void
sherd_recipe_set_what (SherdRecipe *recipe, guint position, const char *material_id, const char *paint_id)
{
  SherdIngredient *ingredient;
  g_autofree char *new_material = g_strdup (material_id);
  g_autofree char *new_paint = g_strdup (paint_id);

  g_return_if_fail (position < recipe->n_ingredients);
  g_return_if_fail ((material_id == NULL) != (paint_id == NULL));
  ingredient = &recipe->ingredients[position];
  g_free (ingredient->material_id);
  g_free (ingredient->paint_id);
  ingredient->material_id = g_steal_pointer (&new_material);
  ingredient->paint_id = g_steal_pointer (&new_paint);
  ingredient->revision = 0;
}

/**
 * sherd_recipe_set_binder:
 * @recipe: a recipe
 * @material_id: (nullable): a material of the trial; NULL for none
 * @pct: how much of it, per cent of the dry mass; NAN when not known
 */
void
sherd_recipe_set_binder (SherdRecipe *recipe, const char *material_id, double pct)
{
  char *binder_id = g_strdup (material_id);

  g_free (recipe->binder_id);
  recipe->binder_id = binder_id;
  recipe->binder_pct = pct;
}

static gboolean
check_parts (const SherdRecipe *recipe, guint position, GError **error)
{
  const double parts = recipe->ingredients[position].parts;

  if (parts >= SHERD_PARTS_MIN && parts <= SHERD_PARTS_MAX)
    return TRUE;
  if (parts <= 0.0)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                 _ ("Ingredient %u needs more than 0 parts. Take it out if there is none of it."), position + 1);
  else
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                 _ ("Ingredient %u has a number of parts that nobody can weigh: it must be from %g to %g."),
                 position + 1, SHERD_PARTS_MIN, SHERD_PARTS_MAX);
  return FALSE;
}

static gboolean
check_pct (double pct, const char *refusal, GError **error)
{
  if (isnan (pct) || (pct >= 0.0 && pct <= SHERD_RECIPE_MAX_PCT))
    return TRUE;
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, refusal);
  return FALSE;
}

/**
 * sherd_recipe_check:
 * @recipe: a recipe
 * @error: place for an error
 *
 * Whether its numbers are such as can be mixed; what it names is not looked up.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_recipe_check (const SherdRecipe *recipe, GError **error)
{
  if (recipe->n_ingredients > SHERD_RECIPE_MAX_INGREDIENTS)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("A recipe has at most %d ingredients."),
                   SHERD_RECIPE_MAX_INGREDIENTS);
      return FALSE;
    }
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (!check_parts (recipe, i, error))
      return FALSE;
  return check_pct (recipe->binder_pct,
                    _ ("The binder is a share of the dry mass in per cent: a number from 0 to 10000."), error) &&
         check_pct (recipe->water_pct,
                    _ ("The water is a share of the dry mass in per cent: a number from 0 to 10000."), error);
}

/**
 * sherd_recipe_names_material:
 * @recipe: a recipe
 * @material_id: id of a material
 *
 * Returns: whether it is an ingredient or the binder
 */
gboolean
sherd_recipe_names_material (const SherdRecipe *recipe, const char *material_id)
{
  if (g_strcmp0 (recipe->binder_id, material_id) == 0)
    return TRUE;
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (g_strcmp0 (recipe->ingredients[i].material_id, material_id) == 0)
      return TRUE;
  return FALSE;
}
