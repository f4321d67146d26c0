/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/material-record.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/error.h"
#include "trial/part-private.h"

G_DEFINE_ENUM_TYPE (SherdMaterialKind,
                    sherd_material_kind,
                    G_DEFINE_ENUM_VALUE (SHERD_MATERIAL_COLOURANT, "colourant"),
                    G_DEFINE_ENUM_VALUE (SHERD_MATERIAL_FLUX, "flux"),
                    G_DEFINE_ENUM_VALUE (SHERD_MATERIAL_CLAY, "clay"),
                    G_DEFINE_ENUM_VALUE (SHERD_MATERIAL_FILLER, "filler"),
                    G_DEFINE_ENUM_VALUE (SHERD_MATERIAL_BINDER, "binder"))
G_DEFINE_ENUM_TYPE (SherdRest,
                    sherd_rest,
                    G_DEFINE_ENUM_VALUE (SHERD_REST_QUARTZ, "quartz"),
                    G_DEFINE_ENUM_VALUE (SHERD_REST_CLAY, "clay"),
                    G_DEFINE_ENUM_VALUE (SHERD_REST_LIME, "lime"))

#define TEXT(field)                                                                                                    \
  {                                                                                                                    \
#field, SHERD_RECORD_TEXT, G_STRUCT_OFFSET(SherdMaterialRecord, field), 0.0, 0.0, 0.0, NULL                        \
  }
#define NUMBER(field, least, most, usual)                                                                              \
  {                                                                                                                    \
#field, SHERD_RECORD_NUMBER, G_STRUCT_OFFSET(SherdMaterialRecord, field), least, most, usual, NULL                 \
  }
#define CHOICE(field, type)                                                                                            \
  {                                                                                                                    \
#field, SHERD_RECORD_CHOICE, G_STRUCT_OFFSET(SherdMaterialRecord, field), 0.0, 0.0, 0.0, type                      \
  }
#define OTHER(field, kind)                                                                                             \
  {                                                                                                                    \
#field, kind, G_STRUCT_OFFSET(SherdMaterialRecord, field), 0.0, 0.0, 0.0, NULL                                     \
  }

/* Bounds are our choice, wide of anything that can be weighed, ground or paid; nothing solid is denser than osmium,
 * 22.6 g/cm³ (handbook value, from memory). */
const SherdRecordField sherd_material_record_fields[] = {
  TEXT (name),
  CHOICE (kind, sherd_material_kind_get_type),
  TEXT (formula),
  OTHER (analysis, SHERD_RECORD_ANALYSIS),
  NUMBER (loss_pct, -50.0, 100.0, NAN),
  NUMBER (loss_doubt_pct, 0.0, 100.0, NAN),
  NUMBER (particle_density_g_cm3, 0.05, 23.0, NAN),
  NUMBER (bulk_density_g_cm3, 0.01, 23.0, NAN),
  NUMBER (spoon_g, 0.001, 10000.0, NAN),
  NUMBER (spoon_ml, 0.01, 1000.0, NAN),
  TEXT (colour),
  TEXT (fired_colour),
  OTHER (hazards, SHERD_RECORD_WORDS),
  NUMBER (purity_pct, 0.0, 100.0, 100.0),
  NUMBER (purity_doubt_pct, 0.0, 100.0, 0.0),
  CHOICE (rest, sherd_rest_get_type),
  NUMBER (softens_from_c, 0.0, 3000.0, NAN),
  NUMBER (softens_to_c, 0.0, 3000.0, NAN),
  NUMBER (flows_from_c, 0.0, 3000.0, NAN),
  NUMBER (flows_to_c, 0.0, 3000.0, NAN),
  TEXT (heating),
  TEXT (place),
  TEXT (lot),
  NUMBER (grinding_min, 0.0, 100000.0, NAN),
  NUMBER (sieve_um, 1.0, 10000.0, NAN),
  TEXT (washing),
  NUMBER (price_per_kg, 0.0, 1e9, NAN),
  TEXT (currency),
  NUMBER (stock_g, 0.0, 1e9, NAN),
  TEXT (note),
  TEXT (source),
  TEXT (origin),
  { NULL, SHERD_RECORD_TEXT, 0, 0.0, 0.0, 0.0, NULL },
};

/**
 * sherd_material_record_init:
 * @record: (out): nothing known, to be cleared by sherd_material_record_clear ()
 */
void
sherd_material_record_init (SherdMaterialRecord *record)
{
  memset (record, 0, sizeof *record);
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (field->kind == SHERD_RECORD_TEXT)
      *SHERD_RECORD_TEXT_AT (record, field) = g_strdup ("");
    else if (field->kind == SHERD_RECORD_NUMBER)
      *SHERD_RECORD_NUMBER_AT (record, field) = field->usual;
  record->hazards = g_new0 (char *, 1);
}

/**
 * sherd_material_record_copy:
 * @record: (out): to be cleared by sherd_material_record_clear ()
 * @source: what it becomes a copy of
 */
void
sherd_material_record_copy (SherdMaterialRecord *record, const SherdMaterialRecord *source)
{
  *record = *source;
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (field->kind == SHERD_RECORD_TEXT)
      *SHERD_RECORD_TEXT_AT (record, field) = g_strdup (*SHERD_RECORD_TEXT_AT (record, field));
  record->analysis = source->analysis != NULL ? sherd_analysis_copy (source->analysis) : NULL;
  record->hazards = g_strdupv (source->hazards);
}

/**
 * sherd_material_record_clear:
 * @record: a record; not to be used before it is filled anew
 */
void
sherd_material_record_clear (SherdMaterialRecord *record)
{
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (field->kind == SHERD_RECORD_TEXT)
      g_clear_pointer (SHERD_RECORD_TEXT_AT (record, field), g_free);
  g_clear_pointer (&record->analysis, sherd_analysis_free);
  g_clear_pointer (&record->hazards, g_strfreev);
}

/**
 * sherd_material_record_same_field:
 * @first: a record
 * @second: another
 * @field: one of the fields
 *
 * Returns: whether both say the same there
 */
gboolean
sherd_material_record_same_field (const SherdMaterialRecord *first,
                                  const SherdMaterialRecord *second,
                                  const SherdRecordField *field)
{
  switch (field->kind)
    {
    case SHERD_RECORD_TEXT:
      return g_str_equal (*SHERD_RECORD_TEXT_AT (first, field), *SHERD_RECORD_TEXT_AT (second, field));
    case SHERD_RECORD_NUMBER:
      return sherd_part_same_number (*SHERD_RECORD_NUMBER_AT (first, field), *SHERD_RECORD_NUMBER_AT (second, field));
    case SHERD_RECORD_CHOICE:
      return *SHERD_RECORD_CHOICE_AT (first, field) == *SHERD_RECORD_CHOICE_AT (second, field);
    case SHERD_RECORD_ANALYSIS:
      return sherd_analysis_equal (first->analysis, second->analysis);
    case SHERD_RECORD_WORDS:
    default:
      return g_strv_equal ((const char *const *)first->hazards, (const char *const *)second->hazards);
    }
}

/**
 * sherd_material_record_equal:
 * @first: a record
 * @second: another
 *
 * Returns: whether both say the same
 */
gboolean
sherd_material_record_equal (const SherdMaterialRecord *first, const SherdMaterialRecord *second)
{
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (!sherd_material_record_same_field (first, second, field))
      return FALSE;
  return TRUE;
}

static gboolean
check_number (const SherdRecordField *field, double number, GError **error)
{
  if (isnan (number) ? isnan (field->usual) : number >= field->least && number <= field->most)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("%s: the number %g is out of range; it must be from %g to %g."), field->name, number, field->least,
               field->most);
  return FALSE;
}

static gboolean
check_analysis (const SherdAnalysis *analysis, GError **error)
{
  for (gsize i = 0; analysis != NULL && i < analysis->n_oxides; i++)
    {
      const SherdOxideShare *share = &analysis->oxides[i];

      if (share->pct >= 0.0 && share->pct <= 100.0 && !(share->doubt_pct < 0.0 || share->doubt_pct > 100.0))
        continue;
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("The share of %s must be from 0 to 100 per cent, and so its doubt."), share->oxide);
      return FALSE;
    }
  return TRUE;
}

/**
 * sherd_material_record_check:
 * @record: a record
 * @error: place for an error
 *
 * Whether it can be a material: it has a name, and its numbers are possible. Formula and analysis may be unfinished;
 * what is wrong with them is told where they are used.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_material_record_check (const SherdMaterialRecord *record, GError **error)
{
  if (*record->name == '\0' || g_utf8_strlen (record->name, -1) > SHERD_MATERIAL_NAME_MAX_LETTERS ||
      g_ascii_isspace (record->name[0]) || g_ascii_isspace (record->name[strlen (record->name) - 1]))
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("A material needs a name of at most %d letters, without spaces at the ends."),
                   SHERD_MATERIAL_NAME_MAX_LETTERS);
      return FALSE;
    }
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (field->kind == SHERD_RECORD_NUMBER && !check_number (field, *SHERD_RECORD_NUMBER_AT (record, field), error))
      return FALSE;
  return check_analysis (record->analysis, error);
}

/**
 * sherd_material_record_get_bulk_density_g_cm3:
 * @record: a record
 *
 * Returns: density of the loose powder: of the own spoon where it was weighed, else as stated; NAN when neither is
 * known
 */
double
sherd_material_record_get_bulk_density_g_cm3 (const SherdMaterialRecord *record)
{
  const double spoon_g_cm3 = record->spoon_g / record->spoon_ml;

  return isnan (spoon_g_cm3) ? record->bulk_density_g_cm3 : spoon_g_cm3;
}
