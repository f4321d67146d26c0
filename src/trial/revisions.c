/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/revisions.h"

/* Not G_DEFINE_BOXED_TYPE: it is no ISO C. */
GType
sherd_revisions_get_type (void)
{
  static gsize type = 0;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string ("SherdRevisions"),
                                                            (GBoxedCopyFunc)sherd_revisions_copy,
                                                            (GBoxedFreeFunc)sherd_revisions_free));
  return type;
}

/**
 * sherd_revisions_new:
 *
 * Returns: (transfer full): none yet
 */
SherdRevisions *
sherd_revisions_new (void)
{
  return g_new0 (SherdRevisions, 1);
}

/**
 * sherd_revisions_append:
 * @revisions: revisions being made
 * @number: its number, from 1
 * @replaced: UTC, ISO 8601: when it ceased to be the present one
 * @recipe: what the paint was; copied
 * @unknown: (nullable) (transfer full): members of the file that this program does not know
 */
void
sherd_revisions_append (SherdRevisions *revisions,
                        guint number,
                        const char *replaced,
                        const SherdRecipe *recipe,
                        JsonObject *unknown)
{
  revisions->revisions = g_renew (SherdRevision, revisions->revisions, revisions->n_revisions + 1);
  revisions->revisions[revisions->n_revisions++] = (SherdRevision){
    .number = number,
    .replaced = g_strdup (replaced != NULL ? replaced : ""),
    .recipe = sherd_recipe_copy (recipe),
    .unknown = unknown,
  };
}

/**
 * sherd_revisions_copy:
 * @revisions: revisions
 *
 * Returns: (transfer full): the same revisions
 */
SherdRevisions *
sherd_revisions_copy (const SherdRevisions *revisions)
{
  SherdRevisions *copy = sherd_revisions_new ();

  for (guint i = 0; i < revisions->n_revisions; i++)
    {
      const SherdRevision *revision = &revisions->revisions[i];

      sherd_revisions_append (copy, revision->number, revision->replaced, revision->recipe,
                              revision->unknown != NULL ? json_object_ref (revision->unknown) : NULL);
    }
  return copy;
}

/**
 * sherd_revisions_free:
 * @revisions: (transfer full): revisions
 */
void
sherd_revisions_free (SherdRevisions *revisions)
{
  for (guint i = 0; i < revisions->n_revisions; i++)
    {
      g_free (revisions->revisions[i].replaced);
      sherd_recipe_free (revisions->revisions[i].recipe);
      g_clear_pointer (&revisions->revisions[i].unknown, json_object_unref);
    }
  g_free (revisions->revisions);
  g_free (revisions);
}

/**
 * sherd_revisions_equal:
 * @first: revisions
 * @second: others
 *
 * Returns: whether both are the same recipes under the same numbers
 */
gboolean
sherd_revisions_equal (const SherdRevisions *first, const SherdRevisions *second)
{
  if (first->n_revisions != second->n_revisions)
    return FALSE;
  for (guint i = 0; i < first->n_revisions; i++)
    if (first->revisions[i].number != second->revisions[i].number ||
        !g_str_equal (first->revisions[i].replaced, second->revisions[i].replaced) ||
        !sherd_recipe_equal (first->revisions[i].recipe, second->revisions[i].recipe))
      return FALSE;
  return TRUE;
}
