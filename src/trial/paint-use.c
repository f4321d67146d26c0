/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-use.h"

#include <glib/gi18n-lib.h>

#include "trial/stage.h"

static void
collect_zones (SherdPiece *piece, SherdSide *side, SherdPaint *paint, GArray *found)
{
  GListModel *zones = sherd_side_get_zones (side);
  const guint n_zones = g_list_model_get_n_items (zones);

  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      const SherdPaintedZone painted = { piece, side, zone };

      if (sherd_zone_get_paint (zone) == paint)
        g_array_append_val (found, painted);
    }
}

/**
 * sherd_trial_list_painted_zones:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: (transfer full) (element-type SherdPaintedZone): the zones that carry it, whatever the revision
 */
GArray *
sherd_trial_list_painted_zones (SherdTrial *trial, SherdPaint *paint)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (SherdPaintedZone));
  GListModel *pieces = sherd_trial_get_pieces (trial);

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) piece = g_list_model_get_item (pieces, i);
      GListModel *sides = sherd_piece_get_sides (piece);

      for (guint j = 0; j < g_list_model_get_n_items (sides); j++)
        {
          g_autoptr (SherdSide) side = g_list_model_get_item (sides, j);

          collect_zones (piece, side, paint, found);
        }
    }
  return found;
}

/**
 * sherd_trial_get_coat_area_mm2:
 * @trial: a trial
 * @paint: one of its paints
 * @piece: (nullable): a piece, or all
 *
 * Returns: area to be painted with the paint as it stands: every zone times its coats, mm²
 */
double
sherd_trial_get_coat_area_mm2 (SherdTrial *trial, SherdPaint *paint, SherdPiece *piece)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);
  double area_mm2 = 0.0;

  for (guint i = 0; i < zones->len; i++)
    {
      const SherdPaintedZone *painted = &g_array_index (zones, SherdPaintedZone, i);
      g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (painted->zone);

      if ((piece == NULL || painted->piece == piece) && sherd_zone_get_paint_revision (painted->zone) == 0)
        area_mm2 += sherd_outline_area (outline) * sherd_zone_get_coats (painted->zone);
    }
  return area_mm2;
}

/**
 * sherd_trial_is_piece_fired:
 * @trial: a trial
 * @piece: one of its pieces
 *
 * Returns: whether there is a photograph of it after a firing
 */
gboolean
sherd_trial_is_piece_fired (SherdTrial *trial, SherdPiece *piece)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  const guint n_photographs = g_list_model_get_n_items (photographs);

  for (guint i = 0; i < n_photographs; i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);
      guint n_firings = 0;

      sherd_stage_parse (sherd_photograph_get_stage (photograph), &n_firings, NULL);
      if (n_firings > 0 && sherd_photograph_get_piece (photograph) == piece)
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_on_fired_zone (SherdTrial *trial, SherdPaint *paint)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);

  for (guint i = 0; i < zones->len; i++)
    {
      const SherdPaintedZone *painted = &g_array_index (zones, SherdPaintedZone, i);

      if (sherd_zone_get_paint_revision (painted->zone) == 0 && sherd_trial_is_piece_fired (trial, painted->piece))
        return TRUE;
    }
  return FALSE;
}

static gboolean
recipe_names_paint (const SherdRecipe *recipe, const char *paint_id)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (g_strcmp0 (recipe->ingredients[i].paint_id, paint_id) == 0)
      return TRUE;
  return FALSE;
}

/* An earlier, hence fired, recipe of @other that names the present revision of @paint. */
static gboolean
was_fired_within (SherdPaint *other, SherdPaint *paint)
{
  const SherdRevisions *earlier = sherd_paint_get_earlier (other);
  const char *id = sherd_part_get_id (SHERD_PART (paint));

  for (guint i = 0; i < earlier->n_revisions; i++)
    {
      const SherdRecipe *recipe = earlier->revisions[i].recipe;

      for (guint j = 0; j < recipe->n_ingredients; j++)
        if (g_strcmp0 (recipe->ingredients[j].paint_id, id) == 0 &&
            recipe->ingredients[j].revision == sherd_paint_get_revision (paint))
          return TRUE;
    }
  return FALSE;
}

/* @seen: paints that are not fired, as far as is known; each is asked once */
static gboolean
is_fired (SherdTrial *trial, SherdPaint *paint, GHashTable *seen)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  const char *id = sherd_part_get_id (SHERD_PART (paint));

  if (!g_hash_table_add (seen, paint))
    return FALSE;
  if (is_on_fired_zone (trial, paint))
    return TRUE;
  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) other = g_list_model_get_item (paints, i);

      if (was_fired_within (other, paint))
        return TRUE;
      if (recipe_names_paint (sherd_paint_get_recipe (other), id) && is_fired (trial, other, seen))
        return TRUE;
    }
  return FALSE;
}

/**
 * sherd_trial_is_paint_fired:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: whether the paint as it stands is on a zone of a fired piece, or in another paint that is
 */
gboolean
sherd_trial_is_paint_fired (SherdTrial *trial, SherdPaint *paint)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  return is_fired (trial, paint, seen);
}

typedef gboolean (*NamesPart) (const SherdRecipe *recipe, const char *id);

static gboolean
paint_names (SherdPaint *paint, NamesPart names, const char *id)
{
  const SherdRevisions *earlier = sherd_paint_get_earlier (paint);

  if (names (sherd_paint_get_recipe (paint), id))
    return TRUE;
  for (guint i = 0; i < earlier->n_revisions; i++)
    if (names (earlier->revisions[i].recipe, id))
      return TRUE;
  return FALSE;
}

static GPtrArray *
list_paints (SherdTrial *trial, NamesPart names, gpointer part)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  GPtrArray *found = g_ptr_array_new ();

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      if (paint_names (paint, names, sherd_part_get_id (part)))
        g_ptr_array_add (found, paint);
    }
  return found;
}

/**
 * sherd_trial_list_paints_with_material:
 * @trial: a trial
 * @material: one of its materials
 *
 * Returns: (transfer full) (element-type SherdPaint): the paints that name it, now or in an earlier revision
 */
GPtrArray *
sherd_trial_list_paints_with_material (SherdTrial *trial, SherdMaterial *material)
{
  return list_paints (trial, sherd_recipe_names_material, material);
}

/**
 * sherd_trial_list_paints_with_paint:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: (transfer full) (element-type SherdPaint): the other paints that hold it, now or in an earlier revision
 */
GPtrArray *
sherd_trial_list_paints_with_paint (SherdTrial *trial, SherdPaint *paint)
{
  return list_paints (trial, recipe_names_paint, paint);
}

/* A look through all recipes as they would be with one of them changed. */
typedef struct
{
  SherdTrial *trial;
  SherdPaint *changed;          /* (nullable) */
  const SherdRecipe *candidate; /* its present recipe then */
  GHashTable *heights;          /* recipe → how many levels of paints it holds */
} Walk;

/* (nullable): NULL for a material, or a revision that is not there */
static const SherdRecipe *
find_held (const Walk *walk, const SherdIngredient *ingredient)
{
  SherdPaint *paint = ingredient->paint_id != NULL ? sherd_trial_find_paint (walk->trial, ingredient->paint_id) : NULL;

  if (paint == NULL)
    return NULL;
  if (paint == walk->changed && (ingredient->revision == 0 || ingredient->revision == sherd_paint_get_revision (paint)))
    return walk->candidate;
  return sherd_paint_find_recipe (paint, ingredient->revision);
}

/* Levels of paints within @recipe; more than SHERD_PAINT_MAX_DEPTH for a circle, which has no end. */
static guint
measure_height (const Walk *walk, const SherdRecipe *recipe, guint depth)
{
  guint height = 0;
  gpointer known;

  if (depth > SHERD_PAINT_MAX_DEPTH)
    return SHERD_PAINT_MAX_DEPTH + 1;
  if (g_hash_table_lookup_extended (walk->heights, recipe, NULL, &known))
    return GPOINTER_TO_UINT (known);
  for (guint i = 0; i < recipe->n_ingredients && depth + height <= SHERD_PAINT_MAX_DEPTH; i++)
    {
      const SherdRecipe *held = find_held (walk, &recipe->ingredients[i]);

      if (held != NULL)
        height = MAX (height, 1 + measure_height (walk, held, depth + 1));
    }
  g_hash_table_insert (walk->heights, (gpointer)recipe, GUINT_TO_POINTER (height));
  return height;
}

static gboolean
holds (const Walk *walk, const SherdRecipe *recipe, const SherdRecipe *sought)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  g_autoptr (GPtrArray) waiting = g_ptr_array_new ();

  g_ptr_array_add (waiting, (gpointer)recipe);
  while (waiting->len > 0)
    {
      const SherdRecipe *next = g_ptr_array_steal_index_fast (waiting, waiting->len - 1);

      for (guint i = 0; i < next->n_ingredients; i++)
        {
          const SherdRecipe *held = find_held (walk, &next->ingredients[i]);

          if (held == sought && held != NULL)
            return TRUE;
          if (held != NULL && g_hash_table_add (seen, (gpointer)held))
            g_ptr_array_add (waiting, (gpointer)held);
        }
    }
  return FALSE;
}

/**
 * sherd_trial_recipe_holds_paint:
 * @trial: a trial
 * @recipe: a recipe
 * @paint: one of the trial's paints
 *
 * Returns: whether the recipe holds the paint as it stands, itself or in another paint
 */
gboolean
sherd_trial_recipe_holds_paint (SherdTrial *trial, const SherdRecipe *recipe, SherdPaint *paint)
{
  const Walk walk = { trial, NULL, NULL, NULL };

  return holds (&walk, recipe, sherd_paint_get_recipe (paint));
}

static gboolean
check_ingredient (SherdTrial *trial, const SherdIngredient *ingredient, guint row, GError **error)
{
  SherdPaint *paint = ingredient->paint_id != NULL ? sherd_trial_find_paint (trial, ingredient->paint_id) : NULL;
  const gboolean is_there = ingredient->material_id != NULL
                              ? sherd_trial_find_material (trial, ingredient->material_id) != NULL
                              : paint != NULL && sherd_paint_find_recipe (paint, ingredient->revision) != NULL;

  if (is_there)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("Ingredient %u is not in this trial. Add it to the trial first."), row + 1);
  return FALSE;
}

static gboolean
check_names (SherdTrial *trial, const SherdRecipe *recipe, GError **error)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (!check_ingredient (trial, &recipe->ingredients[i], i, error))
      return FALSE;
  if (recipe->binder_id == NULL || sherd_trial_find_material (trial, recipe->binder_id) != NULL)
    return TRUE;
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                       _ ("The binder is not in this trial. Add it to the trial first."));
  return FALSE;
}

static gboolean
check_height (const Walk *walk, SherdPaint *paint, const SherdRecipe *recipe, GError **error)
{
  if (measure_height (walk, recipe, 0) <= SHERD_PAINT_MAX_DEPTH)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("Paint “%s” would hold paints within paints more than %u deep. Mix it of materials instead."),
               sherd_paint_get_code (paint), SHERD_PAINT_MAX_DEPTH);
  return FALSE;
}

static gboolean
check_no_circle (const Walk *walk, SherdPaint *paint, const SherdRecipe *recipe, GError **error)
{
  if (!holds (walk, recipe, recipe))
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("Paint “%s” would be mixed of itself. Take another paint or the materials."),
               sherd_paint_get_code (paint));
  return FALSE;
}

/* The change may lift what holds the paint over the bound. */
static gboolean
check_all_heights (const Walk *walk, GError **error)
{
  GListModel *paints = sherd_trial_get_paints (walk->trial);

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);
      const SherdRecipe *recipe = paint == walk->changed ? walk->candidate : sherd_paint_get_recipe (paint);

      if (!check_height (walk, paint, recipe, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
has_paint_within (const SherdRecipe *recipe)
{
  for (guint i = 0; i < recipe->n_ingredients; i++)
    if (recipe->ingredients[i].paint_id != NULL)
      return TRUE;
  return FALSE;
}

/**
 * sherd_trial_check_recipe:
 * @trial: a trial
 * @paint: one of its paints
 * @recipe: what might become its recipe
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it names what is not there, holds the paint itself, nests too deep
 * or has impossible numbers
 */
gboolean
sherd_trial_check_recipe (SherdTrial *trial, SherdPaint *paint, const SherdRecipe *recipe, GError **error)
{
  g_autoptr (GHashTable) heights = g_hash_table_new (NULL, NULL);
  const Walk walk = { trial, paint, recipe, heights };

  if (!sherd_recipe_check (recipe, error) || !check_names (trial, recipe, error))
    return FALSE;
  return !has_paint_within (recipe) ||
         (check_no_circle (&walk, paint, recipe, error) && check_all_heights (&walk, error));
}

/**
 * sherd_trial_check_paint_circle:
 * @trial: a trial, all of whose paints have been read
 * @paint: one of its paints
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when one of its recipes, present or earlier, names a revision that is not
 * there, holds itself or nests too deep
 */
gboolean
sherd_trial_check_paint_circle (SherdTrial *trial, SherdPaint *paint, GError **error)
{
  g_autoptr (GHashTable) heights = g_hash_table_new (NULL, NULL);
  const Walk walk = { trial, NULL, NULL, heights };
  const SherdRevisions *earlier = sherd_paint_get_earlier (paint);

  for (guint i = 0; i <= earlier->n_revisions; i++)
    {
      const SherdRecipe *recipe =
        i < earlier->n_revisions ? earlier->revisions[i].recipe : sherd_paint_get_recipe (paint);

      if (!has_paint_within (recipe))
        continue;
      if (!check_names (trial, recipe, error) || !check_no_circle (&walk, paint, recipe, error) ||
          !check_height (&walk, paint, recipe, error))
        return FALSE;
    }
  return TRUE;
}
