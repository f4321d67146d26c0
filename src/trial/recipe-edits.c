/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/code.h"
#include "trial/paint-use.h"

/* Zones that were fired with the paint as it stands keep that revision. */
static void
pin_fired_zones (SherdTrial *trial, SherdPaint *paint)
{
  g_autoptr (GArray) zones = sherd_trial_list_painted_zones (trial, paint);

  for (guint i = 0; i < zones->len; i++)
    {
      const SherdPaintedZone *painted = &g_array_index (zones, SherdPaintedZone, i);

      if (sherd_zone_get_paint_revision (painted->zone) == 0 && sherd_trial_is_piece_fired (trial, painted->piece))
        sherd_trial_set (trial, painted->zone, "paint-revision", sherd_paint_get_revision (paint));
    }
}

/* What is kept names the revisions of the paints it holds, which may change too. */
static SherdRecipe *
dup_pinned (SherdTrial *trial, const SherdRecipe *recipe)
{
  SherdRecipe *pinned = sherd_recipe_copy (recipe);

  for (guint i = 0; i < pinned->n_ingredients; i++)
    {
      SherdIngredient *ingredient = &pinned->ingredients[i];
      SherdPaint *held = ingredient->paint_id != NULL ? sherd_trial_find_paint (trial, ingredient->paint_id) : NULL;

      if (held != NULL && ingredient->revision == 0)
        ingredient->revision = sherd_paint_get_revision (held);
    }
  return pinned;
}

static void
make_revision (SherdTrial *trial, SherdPaint *paint, const SherdRecipe *pinned)
{
  const guint number = sherd_paint_get_revision (paint);
  g_autoptr (SherdRevisions) earlier = sherd_revisions_copy (sherd_paint_get_earlier (paint));
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *replaced = g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");

  pin_fired_zones (trial, paint);
  sherd_revisions_append (earlier, number, replaced, pinned, NULL);
  sherd_trial_set (trial, paint, "earlier", earlier);
  sherd_trial_set (trial, paint, "revision", number + 1);
}

/* (transfer full): the paint and all that hold it now, as far as they were fired: what holds it changes with it */
static GPtrArray *
list_to_be_revised (SherdTrial *trial, SherdPaint *paint)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  GPtrArray *revised = g_ptr_array_new ();

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) other = g_list_model_get_item (paints, i);

      if ((other == paint || sherd_trial_recipe_holds_paint (trial, sherd_paint_get_recipe (other), paint)) &&
          sherd_trial_is_paint_fired (trial, other))
        g_ptr_array_add (revised, other);
    }
  return revised;
}

/* All recipes are kept with the numbers of before; then the numbers rise. */
static void
make_revisions (SherdTrial *trial, GPtrArray *paints)
{
  g_autoptr (GPtrArray) pinned = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_recipe_free);

  for (guint i = 0; i < paints->len; i++)
    g_ptr_array_add (pinned, dup_pinned (trial, sherd_paint_get_recipe (g_ptr_array_index (paints, i))));
  for (guint i = 0; i < paints->len; i++)
    make_revision (trial, g_ptr_array_index (paints, i), g_ptr_array_index (pinned, i));
}

static gboolean
check_room_for_revisions (GPtrArray *paints, GError **error)
{
  for (guint i = 0; i < paints->len; i++)
    if (sherd_paint_get_revision (g_ptr_array_index (paints, i)) >= SHERD_REVISIONS_MAX)
      {
        g_set_error (
          error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
          _ ("Paint “%s” has been changed %d times since it was first fired. Duplicate it and change the copy."),
          sherd_paint_get_code (g_ptr_array_index (paints, i)), SHERD_REVISIONS_MAX - 1);
        return FALSE;
      }
  return TRUE;
}

static void
begin (SherdTrial *trial, const char *label, const char *action, gpointer part, gboolean continued)
{
  g_autofree char *key = g_strdup_printf ("%s %s", action, sherd_part_get_id (part));

  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
}

/**
 * sherd_trial_set_recipe:
 * @trial: a trial
 * @paint: one of its paints
 * @recipe: what it is mixed of from now on
 * @continued: joins the edit before it when that changed the same recipe
 * @error: place for an error
 *
 * A recipe that was fired is kept as an earlier revision: zones of fired pieces stay with it, and so do paints that
 * held it when they were fired. Another spelling of the same parts is no change.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE, see sherd_trial_check_recipe ()
 */
gboolean
sherd_trial_set_recipe (SherdTrial *trial,
                        SherdPaint *paint,
                        const SherdRecipe *recipe,
                        gboolean continued,
                        GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change recipe of %s"), sherd_paint_get_code (paint));
  g_autoptr (GPtrArray) revised = NULL;

  if (!sherd_trial_check_recipe (trial, paint, recipe, error))
    return FALSE;
  if (!sherd_recipe_same_mix (sherd_paint_get_recipe (paint), recipe))
    revised = list_to_be_revised (trial, paint);
  if (revised != NULL && !check_room_for_revisions (revised, error))
    return FALSE;
  begin (trial, label, "recipe", paint, continued);
  if (revised != NULL)
    make_revisions (trial, revised);
  sherd_trial_set (trial, paint, "recipe", recipe);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_paint_kind:
 * @trial: a trial
 * @paint: one of its paints
 * @kind: whether it is painted on a ground or makes one
 */
void
sherd_trial_set_paint_kind (SherdTrial *trial, SherdPaint *paint, SherdPaintKind kind)
{
  g_autofree char *label = g_strdup_printf (_ ("Change kind of %s"), sherd_paint_get_code (paint));

  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, paint, "kind", kind);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_paint_batch_g:
 * @trial: a trial
 * @paint: one of its paints
 * @batch_g: dry mass planned to be mixed, g; NAN for none
 * @continued: joins the edit before it when that changed the same batch
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_trial_set_paint_batch_g (SherdTrial *trial, SherdPaint *paint, double batch_g, gboolean continued, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change batch of %s"), sherd_paint_get_code (paint));

  if (!isnan (batch_g) && !(batch_g >= SHERD_BATCH_MIN_G && batch_g <= SHERD_BATCH_MAX_G))
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("A batch is from %g to %g g."),
                   SHERD_BATCH_MIN_G, SHERD_BATCH_MAX_G);
      return FALSE;
    }
  begin (trial, label, "batch", paint, continued);
  sherd_trial_set (trial, paint, "batch-g", batch_g);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/* "HB3" → "HB", and "HB" stays. */
static char *
dup_stem (const char *code)
{
  gsize length = strlen (code);

  while (length > 1 && g_ascii_isdigit (code[length - 1]))
    length--;
  return g_strndup (code, length);
}

/**
 * sherd_trial_dup_free_code:
 * @trial: a trial
 * @code: the code wished for
 *
 * Returns: (transfer full): the code, or its letters with the lowest number from 2 that no paint has: "HB2"
 */
char *
sherd_trial_dup_free_code (SherdTrial *trial, const char *code)
{
  g_autofree char *stem = dup_stem (code);
  g_autofree char *short_stem = g_utf8_substring (stem, 0, MIN (g_utf8_strlen (stem, -1), SHERD_CODE_MAX_LETTERS - 6));
  char *candidate = g_strdup (code);

  for (guint n = 2; sherd_trial_find_paint_by_code (trial, candidate) != NULL; n++)
    {
      g_free (candidate);
      candidate = g_strdup_printf ("%s%u", short_stem, n);
    }
  return candidate;
}

/**
 * sherd_trial_duplicate_paint:
 * @trial: a trial
 * @paint: one of its paints
 *
 * Returns: (transfer none): a new paint with the same present recipe under a code of its own, placed behind it
 */
SherdPaint *
sherd_trial_duplicate_paint (SherdTrial *trial, SherdPaint *paint)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  g_autofree char *label = g_strdup_printf (_ ("Duplicate %s"), sherd_paint_get_code (paint));
  g_autofree char *code = sherd_trial_dup_free_code (trial, sherd_paint_get_code (paint));
  g_autofree char *id = sherd_trial_new_id (trial, "paint");
  g_autoptr (SherdPaint) copy = sherd_paint_new (id, code, sherd_paint_get_name (paint));
  guint position = g_list_model_get_n_items (paints) - 1;

  g_object_set (copy, "note", sherd_paint_get_note (paint), "kind", sherd_paint_get_kind (paint), "recipe",
                sherd_paint_get_recipe (paint), NULL);
  g_list_store_find (G_LIST_STORE (paints), paint, &position);
  sherd_trial_begin_edit (trial, label);
  sherd_trial_insert (trial, paints, position + 1, copy);
  sherd_trial_end_edit (trial);
  return copy;
}
