/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/material-substance.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Both rooms list the kinds in the same order. */
G_STATIC_ASSERT ((int)SHERD_MATERIAL_COLOURANT == (int)SHERD_SUBSTANCE_COLOURANT);
G_STATIC_ASSERT ((int)SHERD_MATERIAL_FLUX == (int)SHERD_SUBSTANCE_FLUX);
G_STATIC_ASSERT ((int)SHERD_MATERIAL_CLAY == (int)SHERD_SUBSTANCE_CLAY);
G_STATIC_ASSERT ((int)SHERD_MATERIAL_FILLER == (int)SHERD_SUBSTANCE_FILLER);
G_STATIC_ASSERT ((int)SHERD_MATERIAL_BINDER == (int)SHERD_SUBSTANCE_BINDER);

/* Here not known is NAN, there it is 0. */
static double
known_or_nought (double number)
{
  return isnan (number) ? 0.0 : number;
}

static double
known_or_nan (double number)
{
  return number > 0.0 ? number : NAN;
}

/**
 * sherd_material_record_get_stated_hazards:
 * @record: a record
 *
 * Returns: the hazards its words name
 */
SherdHazards
sherd_material_record_get_stated_hazards (const SherdMaterialRecord *record)
{
  guint hazards = 0;

  for (guint i = 0; record->hazards[i] != NULL; i++)
    hazards |= sherd_hazard_from_id (record->hazards[i]);
  return (SherdHazards)hazards;
}

static gboolean
add_analysis (SherdSubstance *substance, const SherdMaterialRecord *record, GError **error)
{
  for (gsize i = 0; i < record->analysis->n_oxides; i++)
    {
      const SherdOxideShare *share = &record->analysis->oxides[i];
      SherdFormula *content = sherd_formula_new (share->oxide, -1, NULL, error);

      if (content == NULL)
        return FALSE;
      sherd_substance_add (substance, share->oxide, content,
                           (SherdValue){ share->pct, known_or_nought (share->doubt_pct) });
    }
  if (!isnan (record->loss_pct))
    sherd_substance_add (substance, NULL, NULL,
                         (SherdValue){ record->loss_pct, known_or_nought (record->loss_doubt_pct) });
  return TRUE;
}

static gboolean
set_content (SherdSubstance *substance, const SherdMaterialRecord *record, GError **error)
{
  const SherdValue purity = { record->purity_pct / 100.0, record->purity_doubt_pct / 100.0 };

  if (record->analysis != NULL ? !add_analysis (substance, record, error)
                               : !sherd_substance_set_formula (substance, record->formula, NULL, error))
    return FALSE;
  return sherd_substance_set_purity (substance, purity, record->rest, error) &&
         sherd_substance_check (substance, error);
}

static void
set_rest (SherdSubstance *substance, const SherdMaterialRecord *record)
{
  substance->particle_g_ml.value = known_or_nought (record->particle_density_g_cm3);
  substance->bulk_g_ml.value = known_or_nought (record->bulk_density_g_cm3);
  substance->spoon_g.value = known_or_nought (record->spoon_g);
  substance->spoon_ml = known_or_nought (record->spoon_ml);
  substance->softens_c =
    (SherdBounds){ known_or_nought (record->softens_from_c), known_or_nought (record->softens_to_c) };
  substance->flows_c = (SherdBounds){ known_or_nought (record->flows_from_c), known_or_nought (record->flows_to_c) };
  substance->hazards = sherd_material_record_get_stated_hazards (record);
  substance->colour_raw = g_strdup (record->colour);
  substance->colour_fired = g_strdup (record->fired_colour);
  substance->note = g_strdup (record->note);
}

/**
 * sherd_material_record_dup_substance:
 * @record: what is known of a material
 * @id: its id, which becomes that of the substance
 * @error: place for an error
 *
 * Returns: (transfer full): the substance; NULL with SHERD_CHEM_ERROR when formula, analysis or purity cannot be used
 */
SherdSubstance *
sherd_material_record_dup_substance (const SherdMaterialRecord *record, const char *id, GError **error)
{
  g_autoptr (SherdSubstance) substance = sherd_substance_new (id, record->name, (SherdSubstanceKind)record->kind);

  set_rest (substance, record);
  if (record->analysis == NULL && *record->formula == '\0')
    {
      g_set_error (error, SHERD_CHEM_ERROR, SHERD_CHEM_ERROR_FORMULA,
                   _ ("“%s” has neither a formula nor an analysis. Write one of them to have its oxides."),
                   record->name);
      return NULL;
    }
  if (!set_content (substance, record, error))
    {
      g_prefix_error (error, "%s: ", record->name);
      return NULL;
    }
  return g_steal_pointer (&substance);
}

/* One mineral alone is a formula; all else is an analysis, with what is lost apart. */
static void
take_constituents (SherdMaterialRecord *record, GArray *constituents)
{
  const SherdConstituent *first = &g_array_index (constituents, SherdConstituent, 0);

  if (constituents->len == 1 && first->formula != NULL)
    {
      g_free (record->formula);
      record->formula = g_strdup (first->formula);
      return;
    }
  for (guint i = 0; i < constituents->len; i++)
    {
      const SherdConstituent *part = &g_array_index (constituents, SherdConstituent, i);

      if (part->formula == NULL)
        {
          record->loss_pct = part->pct.value;
          record->loss_doubt_pct = known_or_nan (part->pct.u);
          continue;
        }
      if (record->analysis == NULL)
        record->analysis = sherd_analysis_new ();
      sherd_analysis_add (record->analysis, part->formula, part->pct.value, known_or_nan (part->pct.u), NULL);
    }
}

static GStrv
dup_hazard_words (SherdHazards hazards)
{
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();

  for (guint bit = 0; bit < SHERD_N_HAZARDS; bit++)
    if ((hazards & (1u << bit)) != 0)
      g_strv_builder_add (words, sherd_hazard_get_id ((SherdHazards)(1u << bit)));
  return g_strv_builder_end (words);
}

/* "250–375 °C: water and carbon dioxide lost" a line. */
static char *
dup_heating (const SherdSubstance *substance)
{
  const GArray *steps = substance->heat_steps;
  g_autoptr (GString) heating = g_string_new (NULL);

  for (guint i = 0; i < steps->len; i++)
    {
      const SherdHeatStep *step = &g_array_index (steps, SherdHeatStep, i);

      if (i > 0)
        g_string_append_c (heating, '\n');
      if (isnan (step->from_c) && !isnan (step->to_c))
        g_string_append_printf (heating, "…%.0f °C: ", step->to_c);
      else if (!isnan (step->from_c) && isnan (step->to_c))
        g_string_append_printf (heating, "%.0f °C…: ", step->from_c);
      else if (!isnan (step->from_c))
        g_string_append_printf (heating, "%.0f–%.0f °C: ", step->from_c, step->to_c);
      g_string_append (heating, sherd_substance_text (substance, step->words));
    }
  return g_string_free (g_steal_pointer (&heating), FALSE);
}

static void
set_text (char **field, const char *text)
{
  g_free (*field);
  *field = g_strdup (text != NULL ? text : "");
}

static void
set_substance_text (char **field, const SherdSubstance *substance, const char *text)
{
  set_text (field, text != NULL ? sherd_substance_text (substance, text) : NULL);
}

static void
take_numbers (SherdMaterialRecord *record, const SherdSubstance *substance)
{
  record->particle_density_g_cm3 = known_or_nan (substance->particle_g_ml.value);
  record->bulk_density_g_cm3 = known_or_nan (substance->bulk_g_ml.value);
  record->purity_pct = 100.0 * substance->purity_frac.value;
  record->purity_doubt_pct = 100.0 * substance->purity_frac.u;
  record->rest = substance->rest;
  record->softens_from_c = known_or_nan (substance->softens_c.low);
  record->softens_to_c = known_or_nan (substance->softens_c.high);
  record->flows_from_c = known_or_nan (substance->flows_c.low);
  record->flows_to_c = known_or_nan (substance->flows_c.high);
}

/**
 * sherd_material_record_init_substance:
 * @record: (out): to be cleared by sherd_material_record_clear ()
 * @substance: a substance of the built-in table
 * @source: (nullable): where its figures come from
 *
 * What is known of it, as a material of a trial keeps it, in the user's language.
 */
void
sherd_material_record_init_substance (SherdMaterialRecord *record, const SherdSubstance *substance, const char *source)
{
  g_autofree char *heating = dup_heating (substance);

  sherd_material_record_init (record);
  set_substance_text (&record->name, substance, substance->name);
  record->kind = (SherdMaterialKind)substance->kind;
  take_constituents (record, substance->constituents);
  take_numbers (record, substance);
  set_substance_text (&record->colour, substance, substance->colour_raw);
  set_substance_text (&record->fired_colour, substance, substance->colour_fired);
  g_strfreev (record->hazards);
  record->hazards = dup_hazard_words (sherd_substance_get_hazards (substance));
  set_text (&record->heating, heating);
  set_substance_text (&record->note, substance, substance->note);
  set_text (&record->source, source);
  set_text (&record->origin, substance->id);
}

/**
 * sherd_material_record_dup_analysis_text:
 * @record: a record
 *
 * Returns: (transfer full): its analysis with the loss as one line, as sherd_material_record_set_analysis_text () reads
 * it; empty when it has none
 */
char *
sherd_material_record_dup_analysis_text (const SherdMaterialRecord *record)
{
  g_autoptr (SherdSubstance) substance = sherd_substance_new (NULL, record->name, SHERD_SUBSTANCE_COLOURANT);

  if (record->analysis == NULL || !add_analysis (substance, record, NULL))
    return g_strdup ("");
  return sherd_substance_dup_analysis (substance);
}

/**
 * sherd_material_record_set_analysis_text:
 * @record: a record
 * @text: rows such as “SiO2 54 ± 1”, parted by semicolons or new lines; “LOI” is what is lost; empty for none
 * @place: (out) (nullable): where it is wrong
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_CHEM_ERROR; the record is unchanged then
 */
gboolean
sherd_material_record_set_analysis_text (SherdMaterialRecord *record,
                                         const char *text,
                                         SherdTextPlace *place,
                                         GError **error)
{
  g_autoptr (SherdSubstance) substance = sherd_substance_new (NULL, record->name, SHERD_SUBSTANCE_COLOURANT);
  g_autofree char *formula = NULL;

  if (*text != '\0' && !sherd_substance_set_analysis (substance, text, place, error))
    return FALSE;
  g_clear_pointer (&record->analysis, sherd_analysis_free);
  record->loss_pct = NAN;
  record->loss_doubt_pct = NAN;
  if (*text == '\0')
    return TRUE;
  formula = g_strdup (record->formula);
  take_constituents (record, substance->constituents);
  if (record->analysis == NULL)
    {
      record->analysis = sherd_analysis_new ();
      sherd_analysis_add (record->analysis, record->formula, 100.0, NAN, NULL);
    }
  set_text (&record->formula, formula);
  return TRUE;
}
