/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/built-in-materials.h"
#include "trial/edits.h"
#include "trial/exchange-private.h"
#include "trial/number.h"
#include "trial/recipe-words.h"

/* The one word that the rows of a paint say in @column; rows may leave it empty. */
static gboolean
get_common (const SherdImportList *list,
            const SherdImportItem *item,
            const char *column,
            const char **text,
            GError **error)
{
  *text = NULL;
  for (guint i = 0; i < item->rows->len; i++)
    {
      const SherdCsvRow *row = g_ptr_array_index (item->rows, i);
      const char *cell = sherd_import_list_get (list, row, column);

      if (cell == NULL || *cell == '\0')
        continue;
      if (*text != NULL && !g_str_equal (*text, cell))
        {
          g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                       _ ("line %u: %s is “%s” here and “%s” before."), row->line, column, cell, *text);
          return FALSE;
        }
      *text = cell;
    }
  return TRUE;
}

static gboolean
get_common_number (const SherdImportList *list,
                   const SherdImportItem *item,
                   const char *column,
                   double *number,
                   GError **error)
{
  const char *text;

  *number = NAN;
  if (!get_common (list, item, column, &text, error))
    return FALSE;
  if (text == NULL || sherd_number_parse_marked (text, list->mark, number, error))
    return TRUE;
  g_prefix_error (error, "%s: ", column);
  return FALSE;
}

static gboolean
get_word (const SherdImportList *list,
          const SherdImportItem *item,
          const char *column,
          GType type,
          int *value,
          GError **error)
{
  g_autoptr (GEnumClass) choices = g_type_class_ref (type);
  const GEnumValue *found;
  const char *text;

  if (!get_common (list, item, column, &text, error))
    return FALSE;
  if (text == NULL)
    return TRUE;
  found = g_enum_get_value_by_nick (choices, text);
  if (found != NULL)
    *value = found->value;
  else
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("%s: “%s” is not among the words for it."),
                 column, text);
  return found != NULL;
}

static gboolean
refuse (const SherdCsvRow *row, const char *name, GError **error)
{
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("line %u: there is no material or paint “%s”. Import materials before paints."), row->line, name);
  return FALSE;
}

static gboolean
add_named_part (const SherdImportList *list,
                SherdTrial *trial,
                const SherdCsvRow *row,
                SherdRecipe *recipe,
                double parts,
                GError **error)
{
  const char *name = sherd_import_list_get (list, row, "material");
  const char *code = sherd_import_list_get (list, row, "other_paint");
  const char *typed = sherd_import_list_get (list, row, "parts");
  const gboolean is_material = name != NULL && *name != '\0';
  SherdMaterial *material = is_material ? sherd_trial_find_or_add_material (trial, list->built_ins, name) : NULL;
  SherdPaint *paint = is_material ? NULL : sherd_trial_find_paint_by_code (trial, code);

  if (material != NULL)
    sherd_recipe_insert_material (recipe, G_MAXUINT, sherd_part_get_id (SHERD_PART (material)), parts, typed);
  else if (paint != NULL)
    sherd_recipe_insert_paint (recipe, G_MAXUINT, sherd_part_get_id (SHERD_PART (paint)), parts, typed);
  else
    return refuse (row, is_material ? name : code, error);
  return TRUE;
}

/* A row without an ingredient says only something of the whole paint. */
static gboolean
add_part (const SherdImportList *list, SherdTrial *trial, const SherdCsvRow *row, SherdRecipe *recipe, GError **error)
{
  const char *name = sherd_import_list_get (list, row, "material");
  const char *code = sherd_import_list_get (list, row, "other_paint");
  const gboolean has_name = name != NULL && *name != '\0', has_code = code != NULL && *code != '\0';
  double parts;

  if (!has_name && !has_code)
    return TRUE;
  if (has_name && has_code)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("line %u: an ingredient is either a material or another paint."), row->line);
      return FALSE;
    }
  if (!sherd_import_list_get_number (list, row, "parts", &parts, error))
    {
      g_prefix_error (error, _ ("line %u: "), row->line);
      return FALSE;
    }
  return add_named_part (list, trial, row, recipe, parts, error);
}

static gboolean
fill_binder (const SherdImportList *list,
             SherdTrial *trial,
             const SherdImportItem *item,
             SherdRecipe *recipe,
             GError **error)
{
  SherdMaterial *binder;
  const char *name;
  double pct;

  if (!get_common (list, item, "binder", &name, error) || !get_common_number (list, item, "binder_pct", &pct, error) ||
      !get_common_number (list, item, "water_pct", &recipe->water_pct, error))
    return FALSE;
  binder = name != NULL ? sherd_trial_find_or_add_material (trial, list->built_ins, name) : NULL;
  if (name != NULL && binder == NULL)
    return refuse (g_ptr_array_index (item->rows, 0), name, error);
  sherd_recipe_set_binder (recipe, binder != NULL ? sherd_part_get_id (SHERD_PART (binder)) : NULL, pct);
  return TRUE;
}

/* (nullable) (transfer full) */
static SherdRecipe *
read_recipe (const SherdImportList *list, SherdTrial *trial, const SherdImportItem *item, GError **error)
{
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();
  int basis = SHERD_BASIS_MASS;

  if (!get_word (list, item, "basis", SHERD_TYPE_BASIS, &basis, error))
    return NULL;
  recipe->basis = (SherdBasis)basis;
  for (guint i = 0; i < item->rows->len; i++)
    if (!add_part (list, trial, g_ptr_array_index (item->rows, i), recipe, error))
      return NULL;
  return fill_binder (list, trial, item, recipe, error) ? g_steal_pointer (&recipe) : NULL;
}

/* Name, note, kind and batch as one text, to be compared. */
static char *
dup_whole (SherdPaint *paint)
{
  return g_strdup_printf ("%s\n%s\n%d\n%g", sherd_paint_get_name (paint), sherd_paint_get_note (paint),
                          (int)sherd_paint_get_kind (paint), sherd_paint_get_batch_g (paint));
}

static gboolean
set_whole (const SherdImportList *list,
           SherdTrial *trial,
           const SherdImportItem *item,
           SherdPaint *paint,
           GError **error)
{
  int kind = (int)sherd_paint_get_kind (paint);
  const char *name, *note;
  double batch_g;

  if (!get_common (list, item, "name", &name, error) || !get_common (list, item, "note", &note, error) ||
      !get_word (list, item, "kind", SHERD_TYPE_PAINT_KIND, &kind, error) ||
      !get_common_number (list, item, "batch_g", &batch_g, error))
    return FALSE;
  if (name != NULL)
    sherd_trial_set_paint_name (trial, paint, name);
  if (note != NULL)
    sherd_trial_set_paint_note (trial, paint, note);
  sherd_trial_set_paint_kind (trial, paint, (SherdPaintKind)kind);
  return isnan (batch_g) || sherd_trial_set_paint_batch_g (trial, paint, batch_g, FALSE, error);
}

/**
 * sherd_import_paint:
 * @list: a list of paints
 * @trial: a trial that has a paint of the item's code
 * @item: one of the list
 * @error: place for an error
 *
 * Gives the paint name, kind, batch and recipe of the list. Materials that are only built in are added.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR
 */
gboolean
sherd_import_paint (const SherdImportList *list, SherdTrial *trial, SherdImportItem *item, GError **error)
{
  SherdPaint *paint = sherd_trial_find_paint_by_code (trial, item->name);
  g_autoptr (SherdRecipe) before = sherd_recipe_copy (sherd_paint_get_recipe (paint));
  g_autoptr (SherdRecipe) recipe = read_recipe (list, trial, item, error);
  g_autofree char *whole_before = dup_whole (paint);
  g_autofree char *whole = NULL;

  if (recipe == NULL || !set_whole (list, trial, item, paint, error) ||
      !sherd_trial_set_recipe (trial, paint, recipe, FALSE, error))
    return FALSE;
  g_free (item->remark);
  item->remark = g_str_equal (item->fate, "adds") ? sherd_recipe_dup_words (trial, recipe)
                                                  : sherd_recipe_dup_changes (trial, before, recipe);
  whole = dup_whole (paint);
  if (g_str_equal (item->fate, "changes") && *item->remark == '\0' && g_str_equal (whole, whole_before))
    item->fate = "same";
  return TRUE;
}
