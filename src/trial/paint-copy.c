/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-copy.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/edits.h"
#include "trial/file.h"
#include "trial/paint-use.h"

typedef struct
{
  SherdTrial *to;
  SherdTrial *from;
  GHashTable *paints; /* SherdPaint of @from → the one of @to, borrowed */
} Copying;

static SherdPaint *copy_paint (Copying *copying, SherdPaint *paint, gboolean may_be_there);

/* (nullable) (transfer none) */
static SherdMaterial *
find_same_material (SherdTrial *trial, const SherdMaterialRecord *record)
{
  SherdMaterial *found = sherd_trial_find_material_by_name (trial, record->name);

  return found != NULL && sherd_material_record_equal (sherd_material_get_record (found), record) ? found : NULL;
}

/**
 * sherd_trial_copy_material:
 * @to: a trial
 * @material: a material of another trial
 *
 * A material of which the same is known, name and all, is the same. One of another content under the same name gets a
 * number behind its name.
 *
 * Returns: (transfer none): the material of @to
 */
SherdMaterial *
sherd_trial_copy_material (SherdTrial *to, SherdMaterial *material)
{
  const SherdMaterialRecord *source = sherd_material_get_record (material);
  SherdMaterial *same = find_same_material (to, source);
  g_auto (SherdMaterialRecord) record = { 0 };
  JsonObject *unknown = sherd_part_get_unknown (SHERD_PART (material));

  if (same != NULL)
    return same;
  sherd_material_record_copy (&record, source);
  g_free (record.name);
  record.name = sherd_trial_dup_free_material_name (to, source->name);
  same = sherd_trial_add_material (to, &record, NULL);
  if (unknown != NULL)
    sherd_part_set_unknown (SHERD_PART (same), json_object_ref (unknown));
  return same;
}

/* (transfer full): id of the material of @to; NULL for none */
static char *
dup_copied_material_id (Copying *copying, const char *id)
{
  SherdMaterial *material = id != NULL ? sherd_trial_find_material (copying->from, id) : NULL;

  if (material == NULL)
    return NULL;
  if (copying->from == copying->to)
    return g_strdup (id);
  return g_strdup (sherd_part_get_id (SHERD_PART (sherd_trial_copy_material (copying->to, material))));
}

/* The present recipe with the ids of @to. */
static SherdRecipe *
copy_recipe (Copying *copying, const SherdRecipe *recipe)
{
  SherdRecipe *copy = sherd_recipe_copy (recipe);
  g_autofree char *binder_id = dup_copied_material_id (copying, recipe->binder_id);

  for (guint i = 0; i < copy->n_ingredients; i++)
    {
      const SherdIngredient *ingredient = &recipe->ingredients[i];
      g_autofree char *material_id = dup_copied_material_id (copying, ingredient->material_id);
      SherdPaint *held =
        ingredient->paint_id != NULL ? sherd_trial_find_paint (copying->from, ingredient->paint_id) : NULL;
      SherdPaint *copied = held != NULL ? copy_paint (copying, held, TRUE) : NULL;

      sherd_recipe_set_what (copy, i, material_id, copied != NULL ? sherd_part_get_id (SHERD_PART (copied)) : NULL);
    }
  sherd_recipe_set_binder (copy, binder_id, recipe->binder_pct);
  return copy;
}

static gboolean
is_same_paint (SherdPaint *there, SherdPaint *paint, const SherdRecipe *recipe)
{
  return there != NULL && g_str_equal (sherd_paint_get_name (there), sherd_paint_get_name (paint)) &&
         sherd_paint_get_kind (there) == sherd_paint_get_kind (paint) &&
         sherd_recipe_same_mix (sherd_paint_get_recipe (there), recipe);
}

static SherdPaint *
add_copy (Copying *copying, SherdPaint *paint, const SherdRecipe *recipe)
{
  g_autofree char *id = sherd_trial_new_id (copying->to, "paint");
  g_autofree char *code = sherd_trial_dup_free_code (copying->to, sherd_paint_get_code (paint));
  g_autoptr (SherdPaint) copy = sherd_paint_new (id, code, sherd_paint_get_name (paint));
  JsonObject *unknown = sherd_part_get_unknown (SHERD_PART (paint));

  g_object_set (copy, "note", sherd_paint_get_note (paint), "kind", sherd_paint_get_kind (paint), "batch-g",
                sherd_paint_get_batch_g (paint), "recipe", recipe, NULL);
  if (unknown != NULL)
    sherd_part_set_unknown (SHERD_PART (copy), json_object_ref (unknown));
  sherd_trial_append (copying->to, sherd_trial_get_paints (copying->to), copy);
  return copy;
}

/* @may_be_there: one of the same code, name and recipe is taken instead */
static SherdPaint *
copy_paint (Copying *copying, SherdPaint *paint, gboolean may_be_there)
{
  SherdPaint *copy = g_hash_table_lookup (copying->paints, paint);
  SherdPaint *there = sherd_trial_find_paint_by_code (copying->to, sherd_paint_get_code (paint));
  g_autoptr (SherdRecipe) recipe = NULL;

  if (copy != NULL)
    return copy;
  recipe = copy_recipe (copying, sherd_paint_get_recipe (paint));
  copy = may_be_there && is_same_paint (there, paint, recipe) ? there : add_copy (copying, paint, recipe);
  g_hash_table_insert (copying->paints, paint, copy);
  return copy;
}

/**
 * sherd_trial_copy_paints:
 * @to: a trial
 * @from: the trial that has them, may be the same
 * @paints: (array length=n_paints): paints of @from
 * @n_paints: how many
 *
 * Copies paints as they stand, with the materials and paints they are mixed of as far as @to has not the same already.
 * A code in use gets a number behind. Earlier revisions stay where they were fired.
 *
 * Returns: (transfer full) (element-type SherdPaint): the copies, borrowed from @to
 */
GPtrArray *
sherd_trial_copy_paints (SherdTrial *to, SherdTrial *from, SherdPaint *const *paints, gsize n_paints)
{
  g_autofree char *label =
    n_paints == 1 ? g_strdup_printf (_ ("Copy paint %s"), sherd_paint_get_code (paints[0]))
                  : g_strdup_printf (ngettext ("Copy %u paint", "Copy %u paints", (gulong)n_paints), (guint)n_paints);
  g_autoptr (GHashTable) copied = g_hash_table_new (NULL, NULL);
  Copying copying = { to, from, copied };
  GPtrArray *copies = g_ptr_array_new ();

  sherd_trial_begin_edit (to, label);
  for (gsize i = 0; i < n_paints; i++)
    g_ptr_array_add (copies, copy_paint (&copying, paints[i], FALSE));
  sherd_trial_end_edit (to);
  return copies;
}

/**
 * sherd_trial_dup_paints_text:
 * @trial: a trial
 * @paints: (array length=n_paints): some of its paints
 * @n_paints: how many
 *
 * Returns: (transfer full): a trial's text with these paints and what they are mixed of
 */
char *
sherd_trial_dup_paints_text (SherdTrial *trial, SherdPaint *const *paints, gsize n_paints)
{
  g_autoptr (SherdTrial) clipping = sherd_trial_new ();
  G_GNUC_UNUSED g_autoptr (GPtrArray) copies = sherd_trial_copy_paints (clipping, trial, paints, n_paints);

  return sherd_trial_dup_text (clipping, NULL);
}

/* Those that no other paint of the clipping holds: what was chosen when it was made. */
static GPtrArray *
list_outer_paints (SherdTrial *clipping)
{
  GListModel *paints = sherd_trial_get_paints (clipping);
  GPtrArray *outer = g_ptr_array_new ();

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);
      g_autoptr (GPtrArray) holders = sherd_trial_list_paints_with_paint (clipping, paint);

      if (holders->len == 0)
        g_ptr_array_add (outer, paint);
    }
  return outer;
}

/**
 * sherd_trial_paste_paints:
 * @trial: a trial
 * @text: from sherd_trial_dup_paints_text (), or any trial's text
 * @error: place for an error
 *
 * Returns: (transfer full) (nullable) (element-type SherdPaint): the copies; NULL with SHERD_TRIAL_ERROR when @text is
 * no trial or holds no paint
 */
GPtrArray *
sherd_trial_paste_paints (SherdTrial *trial, const char *text, GError **error)
{
  g_autoptr (SherdTrial) clipping = sherd_trial_new_from_text (text, strlen (text), _ ("the clipboard"), error);
  g_autoptr (GPtrArray) paints = clipping != NULL ? list_outer_paints (clipping) : NULL;

  if (clipping == NULL)
    return NULL;
  if (paints->len > 0)
    return sherd_trial_copy_paints (trial, clipping, (SherdPaint *const *)paints->pdata, paints->len);
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                       _ ("There are no paints on the clipboard. Copy some in a trial first."));
  return NULL;
}
