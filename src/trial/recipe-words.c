/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/recipe-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/format.h"
#include "trial/number.h"

/**
 * sherd_ingredient_dup_name:
 * @trial: the trial
 * @ingredient: of one of its recipes
 *
 * Returns: (transfer full): name of the material, or code and name of the paint
 */
char *
sherd_ingredient_dup_name (SherdTrial *trial, const SherdIngredient *ingredient)
{
  SherdMaterial *material =
    ingredient->material_id != NULL ? sherd_trial_find_material (trial, ingredient->material_id) : NULL;
  SherdPaint *paint = ingredient->paint_id != NULL ? sherd_trial_find_paint (trial, ingredient->paint_id) : NULL;

  if (material != NULL)
    return g_strdup (sherd_material_get_name (material));
  return paint != NULL ? sherd_format_paint (paint) : g_strdup (_ ("something that is no longer in the trial"));
}

static char *
dup_parts (const SherdIngredient *ingredient)
{
  if (ingredient->parts_text != NULL && *ingredient->parts_text != '\0')
    return g_strdup (ingredient->parts_text);
  return sherd_number_text (ingredient->parts);
}

static void
append (GString *words, const char *separator, char *more)
{
  g_string_append_printf (words, "%s%s", words->len > 0 ? separator : "", more);
  g_free (more);
}

/**
 * sherd_recipe_dup_words:
 * @trial: the trial
 * @recipe: of one of its paints
 *
 * Returns: (transfer full): "2 Malachite, 1 Kaolin"
 */
char *
sherd_recipe_dup_words (SherdTrial *trial, const SherdRecipe *recipe)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < recipe->n_ingredients; i++)
    {
      g_autofree char *parts = dup_parts (&recipe->ingredients[i]);
      g_autofree char *name = sherd_ingredient_dup_name (trial, &recipe->ingredients[i]);

      append (words, ", ", g_strdup_printf ("%s %s", parts, name));
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

/* (nullable): the ingredient of @recipe that is of the same thing */
static const SherdIngredient *
find_same (const SherdRecipe *recipe, const SherdIngredient *wanted)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (g_strcmp0 (recipe->ingredients[i].material_id, wanted->material_id) == 0 &&
        g_strcmp0 (recipe->ingredients[i].paint_id, wanted->paint_id) == 0)
      return &recipe->ingredients[i];
  return NULL;
}

static void
append_ingredients (GString *words, SherdTrial *trial, const SherdRecipe *before, const SherdRecipe *after)
{
  for (guint i = 0; i < after->n_ingredients; i++)
    {
      const SherdIngredient *now = &after->ingredients[i], *then = find_same (before, now);
      g_autofree char *name = sherd_ingredient_dup_name (trial, now);
      g_autofree char *parts = dup_parts (now);
      g_autofree char *parts_then = then != NULL ? dup_parts (then) : NULL;

      if (then == NULL)
        append (words, "; ", g_strdup_printf (_ ("with %s, %s"), name, parts));
      else if (then->parts != now->parts)
        append (words, "; ", g_strdup_printf ("%s %s → %s", name, parts_then, parts));
    }
}

static void
append_removed (GString *words, SherdTrial *trial, const SherdRecipe *before, const SherdRecipe *after)
{
  for (guint i = 0; i < before->n_ingredients; i++)
    if (find_same (after, &before->ingredients[i]) == NULL)
      {
        g_autofree char *name = sherd_ingredient_dup_name (trial, &before->ingredients[i]);

        append (words, "; ", g_strdup_printf (_ ("without %s"), name));
      }
}

static void
append_pct (GString *words, const char *what, double before, double after)
{
  g_autofree char *then = isfinite (before) ? sherd_number_text (before) : g_strdup (_ ("not known"));
  g_autofree char *now = isfinite (after) ? sherd_number_text (after) : g_strdup (_ ("not known"));

  if (before != after && (isfinite (before) || isfinite (after)))
    append (words, "; ", g_strdup_printf (_ ("%s %s → %s %%"), what, then, now));
}

static void
append_basis (GString *words, SherdBasis before, SherdBasis after)
{
  if (before != after)
    append (words, "; ",
            g_strdup (after == SHERD_BASIS_VOLUME ? _ ("parts by volume instead of mass")
                                                  : _ ("parts by mass instead of volume")));
}

/**
 * sherd_recipe_dup_changes:
 * @trial: the trial
 * @before: a recipe
 * @after: what became of it
 *
 * Returns: (transfer full): the changes, "; " between them; empty when there are none
 */
char *
sherd_recipe_dup_changes (SherdTrial *trial, const SherdRecipe *before, const SherdRecipe *after)
{
  g_autoptr (GString) words = g_string_new (NULL);

  append_basis (words, before->basis, after->basis);
  append_ingredients (words, trial, before, after);
  append_removed (words, trial, before, after);
  if (g_strcmp0 (before->binder_id, after->binder_id) != 0)
    append (words, "; ", g_strdup (_ ("another binder")));
  append_pct (words, _ ("binder"), before->binder_pct, after->binder_pct);
  append_pct (words, _ ("water"), before->water_pct, after->water_pct);
  return g_string_free (g_steal_pointer (&words), FALSE);
}
