/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/paint-use.h"

static gboolean
check_record (SherdTrial *trial, SherdMaterial *except, const SherdMaterialRecord *record, GError **error)
{
  SherdMaterial *other;

  if (!sherd_material_record_check (record, error))
    return FALSE;
  other = sherd_trial_find_material_by_name (trial, record->name);
  if (other == NULL || other == except)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DUPLICATE,
               _ ("There is a material “%s” already. Choose another name."), record->name);
  return FALSE;
}

/**
 * sherd_trial_add_material:
 * @trial: a trial
 * @record: what is known of it
 * @error: place for an error
 *
 * Returns: (transfer none): the new material; NULL with SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 */
SherdMaterial *
sherd_trial_add_material (SherdTrial *trial, const SherdMaterialRecord *record, GError **error)
{
  g_autofree char *id = NULL;
  g_autofree char *label = NULL;
  g_autoptr (SherdMaterial) material = NULL;

  if (!check_record (trial, NULL, record, error))
    return NULL;
  id = sherd_trial_new_id (trial, "material");
  label = g_strdup_printf (_ ("Add material %s"), record->name);
  material = sherd_material_new (id, record);
  sherd_trial_begin_edit (trial, label);
  sherd_trial_append (trial, sherd_trial_get_materials (trial), material);
  sherd_trial_end_edit (trial);
  return material;
}

static void
set_field (SherdTrial *trial, SherdMaterial *material, const SherdRecordField *field, const SherdMaterialRecord *record)
{
  g_autofree char *property = g_strdelimit (g_strdup (field->name), "_", '-');

  switch (field->kind)
    {
    case SHERD_RECORD_TEXT:
      sherd_trial_set (trial, material, property, *SHERD_RECORD_TEXT_AT (record, field));
      break;
    case SHERD_RECORD_NUMBER:
      sherd_trial_set (trial, material, property, *SHERD_RECORD_NUMBER_AT (record, field));
      break;
    case SHERD_RECORD_CHOICE:
      sherd_trial_set (trial, material, property, *SHERD_RECORD_CHOICE_AT (record, field));
      break;
    case SHERD_RECORD_ANALYSIS:
      sherd_trial_set (trial, material, property, record->analysis);
      break;
    case SHERD_RECORD_WORDS:
    default:
      sherd_trial_set (trial, material, property, record->hazards);
    }
}

/**
 * sherd_trial_set_material:
 * @trial: a trial
 * @material: one of its materials
 * @record: what is known of it now
 * @continued: joins the edit before it when that changed the same material
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 */
gboolean
sherd_trial_set_material (SherdTrial *trial,
                          SherdMaterial *material,
                          const SherdMaterialRecord *record,
                          gboolean continued,
                          GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change material %s"), sherd_material_get_name (material));
  g_autofree char *key = g_strdup_printf ("change %s", sherd_part_get_id (SHERD_PART (material)));

  if (!check_record (trial, material, record, error))
    return FALSE;
  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    set_field (trial, material, field, record);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/* "HB, LG and 3 more" would help nobody: all codes, as they are short. */
static char *
join_codes (GPtrArray *paints)
{
  g_autoptr (GString) codes = g_string_new (NULL);

  for (guint i = 0; i < paints->len; i++)
    g_string_append_printf (codes, "%s%s", i > 0 ? ", " : "", sherd_paint_get_code (g_ptr_array_index (paints, i)));
  return g_string_free (g_steal_pointer (&codes), FALSE);
}

/**
 * sherd_trial_remove_material:
 * @trial: a trial
 * @material: one of its materials
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_IN_USE while a paint names it, be it in an earlier revision
 */
gboolean
sherd_trial_remove_material (SherdTrial *trial, SherdMaterial *material, GError **error)
{
  GListModel *materials = sherd_trial_get_materials (trial);
  g_autoptr (GPtrArray) paints = sherd_trial_list_paints_with_material (trial, material);
  g_autofree char *codes = join_codes (paints);
  g_autofree char *label = g_strdup_printf (_ ("Remove material %s"), sherd_material_get_name (material));
  guint position;

  if (paints->len > 0)
    {
      g_set_error (
        error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE,
        _ ("“%s” is in use: paints with it, now or before they were changed: %s. Take it out of them first; what "
           "was fired stays."),
        sherd_material_get_name (material), codes);
      return FALSE;
    }
  if (!g_list_store_find (G_LIST_STORE (materials), material, &position))
    return TRUE;
  sherd_trial_begin_edit (trial, label);
  sherd_trial_remove (trial, materials, position);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_dup_free_material_name:
 * @trial: a trial
 * @name: the name wished for
 *
 * Returns: (transfer full): the name, or "name (2)", "name (3)", …: the first that no material has
 */
char *
sherd_trial_dup_free_material_name (SherdTrial *trial, const char *name)
{
  g_autofree char *stem =
    g_utf8_substring (name, 0, MIN (g_utf8_strlen (name, -1), SHERD_MATERIAL_NAME_MAX_LETTERS - 8));
  char *candidate = g_strdup (name);

  for (guint n = 2; sherd_trial_find_material_by_name (trial, candidate) != NULL; n++)
    {
      g_free (candidate);
      candidate = g_strdup_printf ("%s (%u)", stem, n);
    }
  return candidate;
}

/**
 * sherd_trial_duplicate_material:
 * @trial: a trial
 * @material: one of its materials
 *
 * For another lot of the same: what was weighed, stocked and noted of the first is not taken over.
 *
 * Returns: (transfer none): the new material
 */
SherdMaterial *
sherd_trial_duplicate_material (SherdTrial *trial, SherdMaterial *material)
{
  g_auto (SherdMaterialRecord) record = { 0 };
  g_autofree char *label = g_strdup_printf (_ ("Duplicate material %s"), sherd_material_get_name (material));
  SherdMaterial *copy;

  sherd_material_record_copy (&record, sherd_material_get_record (material));
  g_free (record.name);
  record.name = sherd_trial_dup_free_material_name (trial, sherd_material_get_name (material));
  g_free (record.lot);
  record.lot = g_strdup ("");
  record.spoon_g = NAN;
  record.stock_g = NAN;
  sherd_trial_begin_edit (trial, label);
  copy = sherd_trial_add_material (trial, &record, NULL);
  sherd_trial_end_edit (trial);
  return copy;
}
