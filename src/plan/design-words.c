/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/design.h"

#include <glib/gi18n-lib.h>

/* "a", "a and b", "a, b and c" */
static char *
join (GPtrArray *words)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i + 1 < words->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? ", " : "", (const char *)g_ptr_array_index (words, i));
  if (words->len == 0)
    return g_strdup ("");
  if (words->len == 1)
    return g_strdup (g_ptr_array_index (words, 0));
  /* Translators: the last of a list: "ground, side" and "coats" */
  return g_strdup_printf (_ ("%s and %s"), text->str, (const char *)g_ptr_array_index (words, words->len - 1));
}

/**
 * sherd_design_list_factors:
 * @layout: a layout
 * @factors: (element-type guint): some of its factors
 *
 * Returns: (transfer full): their names, “ground, side and coats”
 */
char *
sherd_design_list_factors (const SherdLayout *layout, const GArray *factors)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < factors->len; i++)
    g_ptr_array_add (names, sherd_layout_get_factor (layout, g_array_index (factors, guint, i))->name);
  return join (names);
}

static char *
list_group (const SherdFactor *factor, const guint *groups, guint group)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint level = 0; level < factor->n_levels; level++)
    if (groups[level] == group)
      g_ptr_array_add (names, factor->levels[level]);
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **)names->pdata);
}

/* "A, B | C, D" */
static char *
list_groups (const SherdFactor *factor, const guint *groups)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint level = 0; level < factor->n_levels; level++)
    if (groups[level] == level)
      {
        g_autofree char *group = list_group (factor, groups, level);

        g_string_append_printf (text, "%s%s", text->len > 0 ? " | " : "", group);
      }
  return g_strdup (text->str);
}

static gboolean
are_all_shares (const SherdLayout *layout, const GArray *factors)
{
  for (guint i = 0; i < factors->len; i++)
    if (sherd_layout_get_factor (layout, g_array_index (factors, guint, i))->role != SHERD_ROLE_COMPOSITION)
      return FALSE;
  return TRUE;
}

static char *
describe_not (const SherdLayout *layout, const SherdVerdict *verdict)
{
  g_autofree char *names = verdict->from != NULL ? sherd_design_list_factors (layout, verdict->from) : NULL;

  if (verdict->from_piece)
    return g_strdup (_ ("cannot be told from the piece it is on: too few pieces repeat it"));
  if (verdict->from_chance)
    return g_strdup (_ ("cannot be told from chance: too little is laid twice"));
  if (are_all_shares (layout, verdict->from) &&
      sherd_layout_get_factor (layout, verdict->factor)->role == SHERD_ROLE_COMPOSITION)
    return g_strdup_printf (_ ("cannot be told from %s: in these paints they only change together"), names);
  return g_strdup_printf (_ ("cannot be told from %s"), names);
}

static char *
describe_partly (const SherdLayout *layout, const SherdVerdict *verdict)
{
  g_autofree char *groups = list_groups (sherd_layout_get_factor (layout, verdict->factor), verdict->groups);
  g_autofree char *names = sherd_design_list_factors (layout, verdict->from);

  return g_strdup_printf (_ ("can be told in part, within %s; across, it cannot be told from %s"), groups, names);
}

static char *
describe_tell (const SherdLayout *layout, const SherdVerdict *verdict)
{
  switch (verdict->tell)
    {
    case SHERD_TELL_WELL:
      return g_strdup (_ ("can be told"));
    case SHERD_TELL_WEAKLY:
      return g_strdup_printf (_ ("can be told weakly: the precision is %.1f times worse than it could be"),
                              verdict->loss);
    case SHERD_TELL_PARTLY:
      return describe_partly (layout, verdict);
    case SHERD_TELL_NOT:
      return describe_not (layout, verdict);
    case SHERD_TELL_UNKNOWN:
      return g_strdup_printf (ngettext ("cannot be told: it is not known of %u zone",
                                        "cannot be told: it is not known of %u zones", verdict->n_unknown),
                              verdict->n_unknown);
    case SHERD_TELL_SAME:
    default:
      return g_strdup (_ ("cannot be told: it is the same in all zones"));
    }
}

static char *
describe_provided (const SherdLayout *layout, const GArray *pairs)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < pairs->len; i++)
    {
      const SherdFactorPair pair = g_array_index (pairs, SherdFactorPair, i);

      g_ptr_array_add (words, g_strdup_printf ("%s × %s", sherd_layout_get_factor (layout, pair.first)->name,
                                               sherd_layout_get_factor (layout, pair.second)->name));
    }
  return join (words);
}

/**
 * sherd_design_describe:
 * @layout: the layout
 * @verdict: what was found for one of its factors
 *
 * Returns: (transfer full): whether it can be told, to follow its name: “cannot be told from side”
 */
char *
sherd_design_describe (const SherdLayout *layout, const SherdVerdict *verdict)
{
  g_autofree char *tell = describe_tell (layout, verdict);
  g_autofree char *pairs = NULL;

  if (verdict->tell < SHERD_TELL_WEAKLY || verdict->provided == NULL || verdict->provided->len == 0)
    return g_steal_pointer (&tell);
  pairs = describe_provided (layout, verdict->provided);
  return g_strdup_printf (_ ("%s; provided that these do not act together: %s"), tell, pairs);
}
