/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/edits.h"
#include "trial/exchange-private.h"
#include "trial/material-substance.h"

static gboolean
assign_choice (SherdMaterialRecord *record, const SherdRecordField *field, const char *text, GError **error)
{
  g_autoptr (GEnumClass) choices = g_type_class_ref (field->get_choices ());
  const GEnumValue *found = g_enum_get_value_by_nick (choices, *text != '\0' ? text : choices->values[0].value_nick);

  if (found != NULL)
    *SHERD_RECORD_CHOICE_AT (record, field) = found->value;
  else
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("%s: “%s” is not among the words for it."),
                 field->name, text);
  return found != NULL;
}

static gboolean
assign_hazards (SherdMaterialRecord *record, const char *text, GError **error)
{
  g_auto (GStrv) words = g_strsplit_set (text, ";,", -1);
  g_autoptr (GStrvBuilder) hazards = g_strv_builder_new ();

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_strstrip (words[i]);
      if (*words[i] == '\0')
        continue;
      if (sherd_hazard_from_id (words[i]) == 0)
        {
          g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                       _ ("hazards: “%s” is no hazard that this program knows."), words[i]);
          return FALSE;
        }
      g_strv_builder_add (hazards, words[i]);
    }
  g_strfreev (record->hazards);
  record->hazards = g_strv_builder_end (hazards);
  return TRUE;
}

static gboolean
assign_number (const SherdImportList *list,
               const SherdCsvRow *row,
               SherdMaterialRecord *record,
               const SherdRecordField *field,
               GError **error)
{
  double number;

  if (!sherd_import_list_get_number (list, row, field->name, &number, error))
    return FALSE;
  *SHERD_RECORD_NUMBER_AT (record, field) = isnan (number) ? field->usual : number;
  return TRUE;
}

static gboolean
assign (const SherdImportList *list,
        const SherdCsvRow *row,
        SherdMaterialRecord *record,
        const SherdRecordField *field,
        GError **error)
{
  const char *text = sherd_import_list_get (list, row, field->name);
  char **place = SHERD_RECORD_TEXT_AT (record, field);

  switch (field->kind)
    {
    case SHERD_RECORD_NUMBER:
      return assign_number (list, row, record, field, error);
    case SHERD_RECORD_CHOICE:
      return assign_choice (record, field, text, error);
    case SHERD_RECORD_ANALYSIS:
      return sherd_material_record_set_analysis_text (record, text, NULL, error);
    case SHERD_RECORD_WORDS:
      return assign_hazards (record, text, error);
    case SHERD_RECORD_TEXT:
    default:
      g_free (*place);
      *place = g_strdup (text);
      return TRUE;
    }
}

/* Columns that the list has not leave the material as it is. */
static gboolean
fill (const SherdImportList *list, const SherdCsvRow *row, SherdMaterialRecord *record, GError **error)
{
  g_autoptr (SherdFormula) formula = NULL;

  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (sherd_exchange_find_field (field->name) != NULL && sherd_import_list_get (list, row, field->name) != NULL &&
        !assign (list, row, record, field, error))
      return FALSE;
  if (*record->formula == '\0')
    return TRUE;
  formula = sherd_formula_new (record->formula, -1, NULL, error);
  return formula != NULL;
}

/* "stock_g, price_per_kg": columns that differ. */
static char *
dup_differences (const SherdImportList *list, const SherdMaterialRecord *before, const SherdMaterialRecord *after)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; list->header[i] != NULL; i++)
    {
      const SherdRecordField *field = sherd_exchange_find_field (list->header[i]);

      if (field != NULL && !sherd_material_record_same_field (before, after, field))
        g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", field->name);
    }
  return g_string_free (g_steal_pointer (&names), FALSE);
}

/**
 * sherd_import_material:
 * @list: a list of materials
 * @trial: a trial
 * @item: one of the list
 * @error: place for an error
 *
 * Adds the material, or changes the one of its name in what the list says of it.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR or SHERD_CHEM_ERROR
 */
gboolean
sherd_import_material (const SherdImportList *list, SherdTrial *trial, SherdImportItem *item, GError **error)
{
  const SherdCsvRow *row = g_ptr_array_index (item->rows, 0);
  SherdMaterial *there = sherd_trial_find_material_by_name (trial, item->name);
  g_auto (SherdMaterialRecord) record = { 0 };

  if (there != NULL)
    sherd_material_record_copy (&record, sherd_material_get_record (there));
  else
    sherd_material_record_init (&record);
  if (!fill (list, row, &record, error))
    return FALSE;
  g_clear_pointer (&item->remark, g_free);
  if (there == NULL)
    {
      item->fate = "adds";
      return sherd_trial_add_material (trial, &record, error) != NULL;
    }
  item->remark = dup_differences (list, sherd_material_get_record (there), &record);
  item->fate = *item->remark != '\0' ? "changes" : "same";
  return sherd_trial_set_material (trial, there, &record, FALSE, error);
}
