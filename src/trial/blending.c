/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/blending.h"

#include <glib/gi18n-lib.h>

#include "trial/code.h"
#include "trial/edits.h"
#include "trial/format.h"

/**
 * sherd_trial_dup_blend_stem:
 * @paints: (array length=n_paints): the paints to be blended
 * @n_paints: how many
 *
 * Returns: (transfer full): the first letters of their codes
 */
char *
sherd_trial_dup_blend_stem (SherdPaint *const *paints, guint n_paints)
{
  g_autoptr (GString) stem = g_string_new (NULL);

  for (guint i = 0; i < n_paints; i++)
    g_string_append_unichar (stem, g_utf8_get_char (sherd_paint_get_code (paints[i])));
  return g_strdup (stem->str);
}

static guint
greatest_divisor (guint a, guint b)
{
  while (b > 0)
    {
      const guint rest = a % b;

      a = b;
      b = rest;
    }
  return a;
}

/* The parts in the smallest whole numbers: 4 and 1, not 8 and 2. */
static SherdRecipe *
recipe_of_member (SherdPaint *const *paints, const SherdBlend *blend, const SherdBlendMember *member)
{
  SherdRecipe *recipe = sherd_recipe_new ();
  guint divisor = 0;

  for (guint i = 0; i < blend->n_paints; i++)
    divisor = greatest_divisor (divisor, member->parts[i]);
  for (guint i = 0; i < blend->n_paints; i++)
    if (member->parts[i] > 0)
      sherd_recipe_insert_paint (recipe, G_MAXUINT, sherd_part_get_id (SHERD_PART (paints[i])),
                                 member->parts[i] / divisor, NULL);
  return recipe;
}

/* "HB 80 %, MN 20 %" */
static char *
name_member (SherdPaint *const *paints, const SherdBlend *blend, const SherdBlendMember *member)
{
  g_autoptr (GString) name = g_string_new (NULL);

  for (guint i = 0; i < blend->n_paints; i++)
    {
      const double share_pct = sherd_blend_share_pct (member, i);
      g_autofree char *share = sherd_format_number (share_pct, share_pct == (guint)share_pct ? 0 : 2);

      if (member->parts[i] > 0)
        g_string_append_printf (name, "%s%s %s %%", name->len > 0 ? ", " : "", sherd_paint_get_code (paints[i]), share);
    }
  return g_strdup (name->str);
}

static char **
list_codes (SherdTrial *trial)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  const guint n_paints = g_list_model_get_n_items (paints);
  char **codes = g_new0 (char *, n_paints + 1);

  for (guint i = 0; i < n_paints; i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      codes[i] = g_strdup (sherd_paint_get_code (paint));
    }
  return codes;
}

static SherdPaint *
find_single (SherdPaint *const *paints, const SherdBlendMember *member)
{
  for (guint i = 0; i < SHERD_BLEND_MOST_PAINTS; i++)
    if (member->parts[i] == member->whole)
      return paints[i];
  return NULL;
}

static SherdPaint *
add_member (SherdTrial *trial,
            SherdPaint *const *paints,
            const SherdBlend *blend,
            const SherdBlendMember *member,
            const char *code,
            GError **error)
{
  g_autofree char *name = name_member (paints, blend, member);
  g_autoptr (SherdRecipe) recipe = recipe_of_member (paints, blend, member);
  SherdPaint *paint = sherd_trial_add_paint (trial, code, name, error);

  if (paint == NULL)
    return NULL;
  sherd_trial_set_paint_kind (trial, paint, sherd_paint_get_kind (paints[0]));
  return sherd_trial_set_recipe (trial, paint, recipe, FALSE, error) ? paint : NULL;
}

static GPtrArray *
add_members (SherdTrial *trial, SherdPaint *const *paints, const SherdBlend *blend, const char *stem, GError **error)
{
  g_auto (GStrv) taken = list_codes (trial);
  g_auto (GStrv) codes = sherd_blend_codes (stem, blend->n_members, (const char *const *)taken);
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func (g_object_unref);
  guint n_codes = 0;

  for (guint i = 0; i < blend->n_members; i++)
    {
      const SherdBlendMember *member = &blend->members[i];
      SherdPaint *paint = find_single (paints, member);

      if (paint == NULL)
        paint = add_member (trial, paints, blend, member, codes[n_codes++], error);
      if (paint == NULL)
        return NULL;
      g_ptr_array_add (made, g_object_ref (paint));
    }
  return g_steal_pointer (&made);
}

/**
 * sherd_trial_add_blend:
 * @trial: a trial
 * @paints: (array): the paints of the trial that are blended, as many as @blend says, each once
 * @blend: in which parts
 * @stem: what the codes of the new paints begin with
 * @error: place for an error
 *
 * Makes a paint, mixed of parts of the others, for each member; numbered in reading order. All in one edit.
 *
 * Returns: (transfer full) (element-type SherdPaint): a paint for each member in the order of @blend; NULL with
 * SHERD_TRIAL_ERROR_VALUE, and nothing is changed
 */
GPtrArray *
sherd_trial_add_blend (SherdTrial *trial,
                       SherdPaint *const *paints,
                       const SherdBlend *blend,
                       const char *stem,
                       GError **error)
{
  g_autoptr (GPtrArray) made = NULL;
  g_autofree char *label = NULL;

  if (!sherd_code_check (stem, error))
    return NULL;
  label = g_strdup_printf (_ ("Blend %s with %s"), sherd_paint_get_code (paints[0]), sherd_paint_get_code (paints[1]));
  sherd_trial_begin_edit (trial, label);
  made = add_members (trial, paints, blend, stem, error);
  if (made != NULL)
    sherd_trial_end_edit (trial);
  else
    sherd_trial_cancel_edit (trial);
  return g_steal_pointer (&made);
}
