/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-shares.h"

#include <math.h>

#include "trial/paint-use.h"

static void
add_share (GHashTable *shares, const char *material_id, double share)
{
  double *sum = g_hash_table_lookup (shares, material_id);

  if (sum == NULL)
    {
      sum = g_new0 (double, 1);
      g_hash_table_insert (shares, g_strdup (material_id), sum);
    }
  *sum += share;
}

/* Parts by mass; NAN where volumes cannot be weighed: no bulk density, or a paint by the spoon. */
static double
get_mass_parts (SherdTrial *trial, const SherdRecipe *recipe, const SherdIngredient *ingredient)
{
  SherdMaterial *material =
    ingredient->material_id != NULL ? sherd_trial_find_material (trial, ingredient->material_id) : NULL;

  if (recipe->basis == SHERD_BASIS_MASS)
    return ingredient->parts;
  if (material == NULL)
    return NAN;
  return ingredient->parts * sherd_material_record_get_bulk_density_g_cm3 (sherd_material_get_record (material));
}

static double
sum_mass_parts (SherdTrial *trial, const SherdRecipe *recipe)
{
  double sum = 0.0;

  for (guint i = 0; i < recipe->n_ingredients; i++)
    sum += get_mass_parts (trial, recipe, &recipe->ingredients[i]);
  return sum;
}

/* Taking paints apart, each once however often it is within others. */
typedef struct
{
  SherdTrial *trial;
  GHashTable *known; /* recipe → its shares, owned */
} Taking;

static GHashTable *find_shares (const Taking *taking, const SherdRecipe *recipe, guint depth);

static gboolean
add_ingredient (const Taking *taking, const SherdIngredient *ingredient, double share, guint depth, GHashTable *shares)
{
  SherdPaint *paint =
    ingredient->paint_id != NULL ? sherd_trial_find_paint (taking->trial, ingredient->paint_id) : NULL;
  GHashTable *inner =
    paint != NULL ? find_shares (taking, sherd_paint_find_recipe (paint, ingredient->revision), depth + 1) : NULL;
  GHashTableIter within;
  gpointer material_id, inner_share;

  if (ingredient->material_id != NULL)
    add_share (shares, ingredient->material_id, share);
  else if (inner == NULL)
    return FALSE;
  if (inner != NULL)
    for (g_hash_table_iter_init (&within, inner); g_hash_table_iter_next (&within, &material_id, &inner_share);)
      add_share (shares, material_id, share * *(const double *)inner_share);
  return TRUE;
}

/* (nullable) (transfer none) */
static GHashTable *
find_shares (const Taking *taking, const SherdRecipe *recipe, guint depth)
{
  const double sum = recipe != NULL ? sum_mass_parts (taking->trial, recipe) : 0.0;
  GHashTable *found = recipe != NULL ? g_hash_table_lookup (taking->known, recipe) : NULL;
  g_autoptr (GHashTable) shares = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  if (found != NULL || !(sum > 0.0) || depth > SHERD_PAINT_MAX_DEPTH)
    return found;
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (!add_ingredient (taking, &recipe->ingredients[i],
                         get_mass_parts (taking->trial, recipe, &recipe->ingredients[i]) / sum, depth, shares))
      return NULL;
  found = shares;
  g_hash_table_insert (taking->known, (gpointer)recipe, g_steal_pointer (&shares));
  return found;
}

/**
 * sherd_trial_dup_paint_shares:
 * @trial: a trial
 * @paint: one of its paints
 * @revision: of its recipe; 0 for the present one
 *
 * What it is mixed of, paints within it taken apart, without binder and water.
 *
 * Returns: (transfer full) (nullable): by id of the material, shares of the dry mass that add up to 1; NULL when a
 * recipe is not written down, or measures by volume what has no known bulk density
 */
GHashTable *
sherd_trial_dup_paint_shares (SherdTrial *trial, SherdPaint *paint, guint revision)
{
  g_autoptr (GHashTable) known = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify)g_hash_table_unref);
  const Taking taking = { trial, known };
  GHashTable *shares = find_shares (&taking, sherd_paint_find_recipe (paint, revision), 0);

  return shares != NULL ? g_hash_table_ref (shares) : NULL;
}
