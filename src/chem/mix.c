/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/mix.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Spoon measures repeat to ±10 to 15 %, weighing 20 g on a 0.1 g scale to ±0.5 % (common practice, no source): limits,
 * of which the standard uncertainty follows. */
#define SPOON_LIMIT_FRAC 0.125
#define WEIGHING_LIMIT_FRAC 0.005

/* Our choices: more is a slip of the pen. */
#define MOST_PARTS 100
#define MOST_PARTS_VALUE 1e6
#define MOST_BINDER_PCT 100.0
#define MOST_WATER_PCT 2000.0

/* Returns: (transfer full): a mix without parts */
SherdMix *
sherd_mix_new (SherdMixBasis basis)
{
  SherdMix *mix = g_new0 (SherdMix, 1);

  mix->basis = basis;
  mix->parts = g_array_new (FALSE, FALSE, sizeof (SherdMixPart));
  return mix;
}

void
sherd_mix_free (SherdMix *mix)
{
  if (mix == NULL)
    return;
  g_array_unref (mix->parts);
  g_free (mix);
}

/**
 * sherd_mix_add:
 * @mix: a mix
 * @substance: (transfer none): what is added; must outlive the mix
 * @parts: how many, in the mix's basis
 */
void
sherd_mix_add (SherdMix *mix, const SherdSubstance *substance, double parts)
{
  SherdMixPart part = { .substance = substance, .parts = { parts, -1.0 } };

  g_array_append_val (mix->parts, part);
}

/**
 * sherd_mix_add_mix:
 * @mix: a mix
 * @other: (transfer none): another mix, of which the dry powder is added, without binder and water; must outlive @mix
 * @parts: how many, in @mix's basis
 */
void
sherd_mix_add_mix (SherdMix *mix, const SherdMix *other, double parts)
{
  SherdMixPart part = { .mix = other, .parts = { parts, -1.0 } };

  g_array_append_val (mix->parts, part);
}

/**
 * sherd_mix_set_binder:
 * @mix: a mix
 * @binder: (nullable) (transfer none): must outlive the mix
 * @pct: dry binder in % of the dry powder's mass
 */
void
sherd_mix_set_binder (SherdMix *mix, const SherdSubstance *binder, double pct)
{
  mix->binder = binder;
  mix->binder_pct = pct;
}

/**
 * sherd_mix_part_doubt:
 * @mix: a mix
 * @part: one of its parts
 *
 * Returns: the standard uncertainty of its parts, as a share of them
 */
double
sherd_mix_part_doubt (const SherdMix *mix, const SherdMixPart *part)
{
  if (part->parts.u >= 0.0)
    return part->parts.u / part->parts.value;
  return sherd_doubt_of_limits (mix->basis == SHERD_MIX_BY_VOLUME ? SPOON_LIMIT_FRAC : WEIGHING_LIMIT_FRAC);
}

/**
 * sherd_mix_counts_spoons:
 * @mix: a mix by volume
 *
 * Returns: whether grams follow from the user's own spoon alone: it was weighed with every part, and how much it holds
 * is not known of all (else the density that follows from it is as good)
 */
gboolean
sherd_mix_counts_spoons (const SherdMix *mix)
{
  gboolean volume_missing = FALSE;

  for (guint i = 0; i < mix->parts->len; i++)
    {
      const SherdSubstance *substance = g_array_index (mix->parts, SherdMixPart, i).substance;

      if (substance == NULL || !(substance->spoon_g.value > 0.0))
        return FALSE;
      volume_missing |= !(substance->spoon_ml > 0.0);
    }
  return volume_missing;
}

/* Every mix once, those first that others need. @states: 1 while its parts are looked at, 2 afterwards. */
static gboolean
list_from (const SherdMix *mix, GHashTable *states, GPtrArray *list, GError **error)
{
  const guint state = GPOINTER_TO_UINT (g_hash_table_lookup (states, mix));

  if (state == 2)
    return TRUE;
  if (state == 1 || g_hash_table_size (states) > MOST_PARTS)
    return sherd_refuse (
      error, SHERD_CHEM_ERROR_CIRCULAR, "%s",
      _ ("This paint contains itself, by way of another paint. Take one of the two out of the other."));
  g_hash_table_insert (states, (gpointer)mix, GUINT_TO_POINTER (1));
  for (guint i = 0; i < mix->parts->len; i++)
    {
      const SherdMix *other = g_array_index (mix->parts, SherdMixPart, i).mix;

      if (other != NULL && !list_from (other, states, list, error))
        return FALSE;
    }
  g_hash_table_insert (states, (gpointer)mix, GUINT_TO_POINTER (2));
  g_ptr_array_add (list, (gpointer)mix);
  return TRUE;
}

/**
 * sherd_mix_list_mixes:
 * @mix: a mix
 * @error: SHERD_CHEM_ERROR_CIRCULAR
 *
 * Returns: (transfer container) (nullable): the mixes in it, each once and after those it needs; @mix is the last
 */
GPtrArray *
sherd_mix_list_mixes (const SherdMix *mix, GError **error)
{
  g_autoptr (GHashTable) states = g_hash_table_new (NULL, NULL);
  g_autoptr (GPtrArray) list = g_ptr_array_new ();

  return list_from (mix, states, list, error) ? g_steal_pointer (&list) : NULL;
}

static gboolean
check_part (const SherdMix *mix, const SherdMixPart *part, GError **error)
{
  SherdValue bulk_g_ml;

  if (!isfinite (part->parts.value) || part->parts.value <= 0.0)
    return sherd_refuse (error, SHERD_CHEM_ERROR_PARTS, "%s", _ ("Parts are a number above zero, like 2, 2.5 or 1/3."));
  if (part->parts.value > MOST_PARTS_VALUE || !isfinite (part->parts.u))
    return sherd_refuse (error, SHERD_CHEM_ERROR_PARTS, "%s", _ ("This is far too many parts."));
  if (part->substance == NULL)
    return part->mix != NULL || sherd_refuse (error, SHERD_CHEM_ERROR_PARTS, "%s", _ ("Choose a material."));
  if (!sherd_substance_check (part->substance, error))
    return FALSE;
  if (mix->basis == SHERD_MIX_BY_VOLUME && !sherd_mix_counts_spoons (mix) &&
      !sherd_substance_get_bulk_g_ml (part->substance, &bulk_g_ml))
    return sherd_refuse (
      error, SHERD_CHEM_ERROR_DENSITY, "%s",
      _ ("Parts by volume need the density of this material. Enter it, or weigh a level spoon of it."));
  return TRUE;
}

static gboolean
check_additions (const SherdMix *mix, GError **error)
{
  if (!(mix->binder_pct >= 0.0 && mix->binder_pct <= MOST_BINDER_PCT))
    return sherd_refuse (error, SHERD_CHEM_ERROR_PARTS, "%s", /* xgettext:no-c-format */
                         _ ("The binder lies between 0 % and 100 % of the dry powder."));
  if (!(mix->water_pct >= 0.0 && mix->water_pct <= MOST_WATER_PCT))
    return sherd_refuse (error, SHERD_CHEM_ERROR_PARTS, "%s", /* xgettext:no-c-format */
                         _ ("The water lies between 0 % and 2000 % of the dry powder."));
  return mix->binder == NULL || mix->binder_pct == 0.0 || sherd_substance_check (mix->binder, error);
}

/* @part: (out): the part at fault, or -1. */
static gboolean
check_one (const SherdMix *mix, int *part, GError **error)
{
  if (mix->parts->len == 0)
    return sherd_refuse (error, SHERD_CHEM_ERROR_EMPTY, "%s", _ ("The paint is empty. Add an ingredient."));
  if (mix->parts->len > MOST_PARTS)
    return sherd_refuse (error, SHERD_CHEM_ERROR_PARTS, "%s",
                         _ ("The paint has more ingredients than can be computed with."));
  for (guint i = 0; i < mix->parts->len; i++)
    if (!check_part (mix, &g_array_index (mix->parts, SherdMixPart, i), error))
      {
        *part = (int)i;
        return FALSE;
      }
  return check_additions (mix, error);
}

/* A paint by volume needs the loose density of a paint that is part of it. */
static gboolean
check_bulk_of_inner (const SherdMix *inner, GError **error)
{
  SherdValue bulk_g_ml;

  for (guint i = 0; i < inner->parts->len; i++)
    {
      const SherdMixPart *part = &g_array_index (inner->parts, SherdMixPart, i);

      if (part->substance != NULL && !sherd_substance_get_bulk_g_ml (part->substance, &bulk_g_ml))
        return sherd_refuse (error, SHERD_CHEM_ERROR_DENSITY, "%s",
                             _ ("Parts by volume need the density of every material in the other paint."));
    }
  return TRUE;
}

static gboolean
check_inner (const SherdMix *mix, const SherdMix *other, GError **error)
{
  g_autoptr (GPtrArray) inner = sherd_mix_list_mixes (other, error);
  int inner_part = -1;

  for (guint i = 0; inner != NULL && i < inner->len; i++)
    if (!check_one (g_ptr_array_index (inner, i), &inner_part, error) ||
        (mix->basis == SHERD_MIX_BY_VOLUME && !check_bulk_of_inner (g_ptr_array_index (inner, i), error)))
      return FALSE;
  return inner != NULL;
}

/**
 * sherd_mix_check:
 * @mix: a mix
 * @part: (out) (nullable): the index of the part at fault, or -1 when it is the whole
 * @error: SHERD_CHEM_ERROR_EMPTY, _PARTS, _DENSITY, _CIRCULAR, or what sherd_substance_check () says
 *
 * Returns: whether it can be computed with
 */
gboolean
sherd_mix_check (const SherdMix *mix, int *part, GError **error)
{
  g_autoptr (GPtrArray) all = NULL;
  int at_fault = -1;
  gboolean good = check_one (mix, &at_fault, error);

  for (guint i = 0; good && i < mix->parts->len; i++)
    {
      const SherdMix *other = g_array_index (mix->parts, SherdMixPart, i).mix;

      good = other == NULL || check_inner (mix, other, error);
      at_fault = good ? -1 : (int)i;
    }
  if (good)
    {
      all = sherd_mix_list_mixes (mix, error);
      good = all != NULL;
    }
  if (part != NULL)
    *part = at_fault;
  return good;
}
