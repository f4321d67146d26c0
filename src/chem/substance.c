/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/substance.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Quartz, kaolinite, calcite: lists of mineral densities for ore grinding and for identification. */
static const double rest_densities_g_ml[SHERD_N_RESTS] = { 2.65, 2.6, 2.71 };

static void
clear_constituent (gpointer data)
{
  SherdConstituent *constituent = data;

  g_free (constituent->formula);
  sherd_formula_free (constituent->content);
}

static void
clear_heat_step (gpointer data)
{
  g_free (((SherdHeatStep *)data)->words);
}

/**
 * sherd_substance_new:
 * @id: (nullable): a short name for files
 * @name: (nullable): as the potter calls it
 * @kind: what it is used for
 *
 * Returns: (transfer full): a pure substance of which nothing else is known yet
 */
SherdSubstance *
sherd_substance_new (const char *id, const char *name, SherdSubstanceKind kind)
{
  SherdSubstance *substance = g_new0 (SherdSubstance, 1);

  substance->id = g_strdup (id != NULL ? id : "");
  substance->name = g_strdup (name != NULL ? name : "");
  substance->kind = kind;
  substance->purity_frac = (SherdValue){ 1.0, 0.0 };
  substance->constituents = g_array_new (FALSE, FALSE, sizeof (SherdConstituent));
  g_array_set_clear_func (substance->constituents, clear_constituent);
  substance->heat_steps = g_array_new (FALSE, FALSE, sizeof (SherdHeatStep));
  g_array_set_clear_func (substance->heat_steps, clear_heat_step);
  return substance;
}

void
sherd_substance_free (SherdSubstance *substance)
{
  if (substance == NULL)
    return;
  g_free (substance->id);
  g_free (substance->name);
  g_free (substance->colour_raw);
  g_free (substance->colour_fired);
  g_free (substance->note);
  for (guint i = 0; i < SHERD_N_FACTS; i++)
    g_free (substance->sources[i]);
  g_array_unref (substance->constituents);
  g_array_unref (substance->heat_steps);
  g_free (substance);
}

/* Returns: (transfer full): the same again, every text its own */
SherdSubstance *
sherd_substance_copy (const SherdSubstance *substance)
{
  SherdSubstance *copy = g_memdup2 (substance, sizeof *substance);
  SherdSubstance *fresh = sherd_substance_new (substance->id, substance->name, substance->kind);

  copy->id = g_steal_pointer (&fresh->id);
  copy->name = g_steal_pointer (&fresh->name);
  copy->constituents = g_array_ref (fresh->constituents);
  copy->heat_steps = g_array_ref (fresh->heat_steps);
  for (guint i = 0; i < SHERD_N_FACTS; i++)
    copy->sources[i] = g_strdup (substance->sources[i]);
  copy->colour_raw = g_strdup (substance->colour_raw);
  copy->colour_fired = g_strdup (substance->colour_fired);
  copy->note = g_strdup (substance->note);
  sherd_substance_free (fresh);
  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdConstituent *part = &g_array_index (substance->constituents, SherdConstituent, i);

      sherd_substance_add (copy, part->formula, part->content != NULL ? sherd_formula_copy (part->content) : NULL,
                           part->pct);
    }
  for (guint i = 0; i < substance->heat_steps->len; i++)
    {
      SherdHeatStep step = g_array_index (substance->heat_steps, SherdHeatStep, i);

      step.words = g_strdup (step.words);
      g_array_append_val (copy->heat_steps, step);
    }
  return copy;
}

/**
 * sherd_substance_add:
 * @substance: a substance
 * @formula: (nullable): of one thing it is made of; NULL for the loss on ignition
 * @content: (nullable) (transfer full): the same, read
 * @pct: of its mass
 */
void
sherd_substance_add (SherdSubstance *substance, const char *formula, SherdFormula *content, SherdValue pct)
{
  SherdConstituent constituent = { g_strdup (formula), content, pct };

  g_array_append_val (substance->constituents, constituent);
}

/**
 * sherd_substance_set_formula:
 * @substance: a substance
 * @formula: what it is made of, as in sherd_formula_new ()
 * @place: (out) (nullable): where it is wrong
 * @error: SHERD_CHEM_ERROR_FORMULA or SHERD_CHEM_ERROR_FATE; the substance is unchanged then
 *
 * Returns: whether the formula is read and its fate in the fire known
 */
gboolean
sherd_substance_set_formula (SherdSubstance *substance, const char *formula, SherdTextPlace *place, GError **error)
{
  g_autoptr (SherdFormula) content = sherd_formula_new (formula, -1, place, error);

  if (content == NULL || !sherd_oxides_check_fate (&content->atoms, error))
    return FALSE;
  g_array_set_size (substance->constituents, 0);
  sherd_substance_add (substance, formula, g_steal_pointer (&content), (SherdValue){ 100.0, 0.0 });
  return TRUE;
}

/**
 * sherd_substance_set_purity:
 * @substance: a substance
 * @purity_frac: the share of what its formula or analysis says, over 0 up to 1, with its doubt
 * @rest: what the remainder is
 * @error: SHERD_CHEM_ERROR_VALUE
 *
 * A dug ore is not its formula.
 *
 * Returns: whether the values are possible
 */
gboolean
sherd_substance_set_purity (SherdSubstance *substance, SherdValue purity_frac, SherdRest rest, GError **error)
{
  if (!(purity_frac.value > 0.0 && purity_frac.value <= 1.0))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("The purity lies above 0 % and goes up to 100 %."));
  if (!(purity_frac.u >= 0.0 && purity_frac.u <= 0.5))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("The doubt of the purity lies between 0 % and 50 %."));
  if (rest >= SHERD_N_RESTS)
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("The rest of a find is quartz, clay or lime."));
  substance->purity_frac = purity_frac;
  substance->rest = rest;
  return TRUE;
}

static gboolean
check_sum (const SherdSubstance *substance, GError **error)
{
  double sum = 0.0, variance = 0.0;

  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdValue pct = g_array_index (substance->constituents, SherdConstituent, i).pct;

      if (!(pct.value >= 0.0 && pct.value <= 150.0 && pct.u >= 0.0 && pct.u <= 100.0))
        return sherd_refuse (error, SHERD_CHEM_ERROR_ANALYSIS, "%s",
                             _ ("An analysis holds a share below 0 % or far over 100 %."));
      sum += pct.value;
      variance += pct.u * pct.u;
    }
  if (fabs (sum - 100.0) <=
      CLAMP (2.0 * sqrt (variance), SHERD_ANALYSIS_TOLERANCE_PCT, SHERD_ANALYSIS_MOST_TOLERANCE_PCT))
    return TRUE;
  g_set_error (
    error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_ANALYSIS,
    _ ("The analysis sums to %.1f %%, not to 100 ± %.0f. Look for a slip, or add what is missing, such as the loss "
       "on ignition (LOI)."),
    sum, SHERD_ANALYSIS_TOLERANCE_PCT);
  return FALSE;
}

/**
 * sherd_substance_check:
 * @substance: a substance
 * @error: SHERD_CHEM_ERROR_ANALYSIS, _FATE or _VALUE
 *
 * Returns: whether it can be computed with: it has a formula or an analysis that sums to 100 % within the tolerance (or
 *   within its own doubt), of elements whose fate is known, and densities that no solid exceeds
 */
gboolean
sherd_substance_check (const SherdSubstance *substance, GError **error)
{
  if (substance->constituents->len == 0)
    return sherd_refuse (error, SHERD_CHEM_ERROR_ANALYSIS, "%s", _ ("A material needs a formula or an analysis."));
  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdFormula *content = g_array_index (substance->constituents, SherdConstituent, i).content;

      if (content != NULL && !sherd_oxides_check_fate (&content->atoms, error))
        return FALSE;
    }
  if (!(substance->particle_g_ml.value >= 0.0 && substance->particle_g_ml.value < 25.0) ||
      !(substance->bulk_g_ml.value >= 0.0 && substance->bulk_g_ml.value < 25.0))
    return sherd_refuse (error, SHERD_CHEM_ERROR_VALUE, "%s", _ ("A density is above 0 and below 25 g/ml."));
  return check_sum (substance, error);
}

/**
 * sherd_substance_get_particle_g_ml:
 * @substance: a substance
 * @particle_g_ml: (out): density of all its grains, a find's rest among them, with the doubt of both
 *
 * Returns: whether it is known
 */
gboolean
sherd_substance_get_particle_g_ml (const SherdSubstance *substance, SherdValue *particle_g_ml)
{
  const double rest_g_ml = rest_densities_g_ml[substance->rest];
  const SherdValue own = substance->particle_g_ml, purity = substance->purity_frac;
  double ml;

  *particle_g_ml = own;
  if (own.value <= 0.0)
    return FALSE;
  ml = purity.value / own.value + (1.0 - purity.value) / rest_g_ml; /* of one gram */
  particle_g_ml->value = 1.0 / ml;
  particle_g_ml->u =
    hypot (own.u * purity.value / (own.value * own.value), purity.u * (1.0 / own.value - 1.0 / rest_g_ml)) / (ml * ml);
  return TRUE;
}

/**
 * sherd_substance_get_bulk_g_ml:
 * @substance: a substance
 * @bulk_g_ml: (out): density of the loose powder, with its doubt
 *
 * From the user's own spoon where its volume is known; else as stated; else from the density of the grains and the
 * usual packing.
 *
 * Returns: whether it is known
 */
gboolean
sherd_substance_get_bulk_g_ml (const SherdSubstance *substance, SherdValue *bulk_g_ml)
{
  const double packing = (SHERD_LOOSE_PACKING_LEAST + SHERD_LOOSE_PACKING_MOST) / 2.0;
  const double doubt = sherd_doubt_of_limits ((SHERD_LOOSE_PACKING_MOST - SHERD_LOOSE_PACKING_LEAST) / 2.0);
  SherdValue grains;

  sherd_substance_get_particle_g_ml (substance, &grains);
  if (substance->spoon_g.value > 0.0 && substance->spoon_ml > 0.0)
    *bulk_g_ml =
      (SherdValue){ substance->spoon_g.value / substance->spoon_ml, substance->spoon_g.u / substance->spoon_ml };
  else if (substance->bulk_g_ml.value > 0.0)
    *bulk_g_ml = substance->bulk_g_ml;
  else
    *bulk_g_ml = (SherdValue){ packing * grains.value, hypot (packing * grains.u, doubt * grains.value) };
  return bulk_g_ml->value > 0.0;
}

/**
 * sherd_substance_get_hazards:
 * @substance: a substance
 *
 * Returns: what is stated and what follows from its elements and from the rest of a find
 */
SherdHazards
sherd_substance_get_hazards (const SherdSubstance *substance)
{
  SherdHazards hazards = substance->hazards;

  for (guint i = 0; i < substance->constituents->len; i++)
    {
      const SherdConstituent *constituent = &g_array_index (substance->constituents, SherdConstituent, i);

      if (constituent->content != NULL && constituent->pct.value > 0.0)
        hazards |= sherd_hazards_of_atoms (&constituent->content->atoms);
    }
  if (substance->purity_frac.value < 1.0 && substance->rest != SHERD_REST_LIME)
    hazards |= SHERD_HAZARD_SILICA_DUST;
  return hazards;
}

/**
 * sherd_substance_text:
 * @substance: a substance
 * @text: (nullable): one of its texts: name, colour, heat step, note
 *
 * Returns: (nullable) (transfer none): the text in the user's language, where the program knows it
 */
const char *
sherd_substance_text (const SherdSubstance *substance, const char *text)
{
  if (text == NULL || *text == '\0' || !substance->is_built_in)
    return text;
  return g_dgettext (GETTEXT_PACKAGE, text);
}

/* Returns: (transfer none): the word of screens */
const char *
sherd_fact_get_name (SherdFact fact)
{
  static const char *const names[SHERD_N_FACTS] = { N_ ("composition"), N_ ("density of the grains"),
                                                    N_ ("density of the loose powder"), N_ ("in the fire"),
                                                    N_ ("colours") };

  g_return_val_if_fail (fact < SHERD_N_FACTS, "");
  return _ (names[fact]);
}

/* Returns: (transfer none): the word of files */
const char *
sherd_substance_kind_get_id (SherdSubstanceKind kind)
{
  static const char *const ids[SHERD_N_SUBSTANCE_KINDS] = { "colourant", "flux", "clay", "filler", "binder" };

  g_return_val_if_fail (kind < SHERD_N_SUBSTANCE_KINDS, "");
  return ids[kind];
}

/* Returns: (transfer none): the word of screens */
const char *
sherd_substance_kind_get_name (SherdSubstanceKind kind)
{
  static const char *const names[SHERD_N_SUBSTANCE_KINDS] = { N_ ("colourant"), N_ ("flux"), N_ ("clay"), N_ ("filler"),
                                                              N_ ("binder") };

  g_return_val_if_fail (kind < SHERD_N_SUBSTANCE_KINDS, "");
  return _ (names[kind]);
}

/* Returns: (transfer none): the word of screens */
const char *
sherd_rest_get_name (SherdRest rest)
{
  static const char *const names[SHERD_N_RESTS] = { N_ ("quartz"), N_ ("clay"), N_ ("lime") };

  g_return_val_if_fail (rest < SHERD_N_RESTS, "");
  return _ (names[rest]);
}
