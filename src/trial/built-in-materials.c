/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/built-in-materials.h"

#include "chem/substance-table.h"
#include "trial/edits.h"
#include "trial/material-substance.h"

static void
record_free (gpointer data)
{
  sherd_material_record_clear (data);
  g_free (data);
}

/* A line a kind of figure; one that says the same as the line before is left out. */
static char *
dup_sources (const SherdSubstanceTable *table, const SherdSubstance *substance)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);

  for (guint fact = 0; fact < SHERD_N_FACTS; fact++)
    {
      char *line = sherd_substance_table_dup_sources (table, substance, (SherdFact)fact);
      const char *last = lines->len > 0 ? g_ptr_array_index (lines, lines->len - 1) : "";

      if (*line == '\0' || g_str_equal (line, last))
        g_free (line);
      else
        g_ptr_array_add (lines, line);
    }
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **)lines->pdata);
}

/**
 * sherd_built_in_materials_new:
 *
 * Returns: (transfer full) (element-type SherdMaterialRecord): the built-in materials in the order of their table
 */
GPtrArray *
sherd_built_in_materials_new (void)
{
  g_autoptr (SherdSubstanceTable) table = sherd_substance_table_new_built_in ();
  GPtrArray *materials = g_ptr_array_new_with_free_func (record_free);

  for (guint i = 0; i < table->substances->len; i++)
    {
      const SherdSubstance *substance = g_ptr_array_index (table->substances, i);
      g_autofree char *source = dup_sources (table, substance);
      SherdMaterialRecord *record = g_new0 (SherdMaterialRecord, 1);

      sherd_material_record_init_substance (record, substance, source);
      g_ptr_array_add (materials, record);
    }
  return materials;
}

/* "Cu ore": words of the table's id are parted by "-" or "_", as people may part them by spaces. */
static char *
dup_key (const char *text)
{
  return g_strdelimit (g_utf8_casefold (text, -1), "-_ ", '-');
}

/**
 * sherd_built_in_materials_find:
 * @materials: (element-type SherdMaterialRecord): from sherd_built_in_materials_new ()
 * @id_or_name: what the user wrote
 *
 * Returns: (nullable) (transfer none): the material of that id, or of that name whatever its capitals
 */
const SherdMaterialRecord *
sherd_built_in_materials_find (GPtrArray *materials, const char *id_or_name)
{
  g_autofree char *wanted = dup_key (id_or_name);

  for (guint i = 0; i < materials->len; i++)
    {
      const SherdMaterialRecord *record = g_ptr_array_index (materials, i);
      g_autofree char *id = dup_key (record->origin);
      g_autofree char *name = dup_key (record->name);

      if (g_str_equal (id, wanted) || g_str_equal (name, wanted))
        return record;
    }
  return NULL;
}

/* (nullable) (transfer none): the one that was copied from a built-in material */
static SherdMaterial *
find_by_origin (SherdTrial *trial, const char *origin)
{
  GListModel *materials = sherd_trial_get_materials (trial);

  for (guint i = 0; i < g_list_model_get_n_items (materials); i++)
    {
      g_autoptr (SherdMaterial) material = g_list_model_get_item (materials, i);

      if (g_str_equal (sherd_material_get_record (material)->origin, origin))
        return material;
    }
  return NULL;
}

/**
 * sherd_trial_find_or_add_material:
 * @trial: a trial
 * @built_ins: from sherd_built_in_materials_new ()
 * @name: what the user wrote
 *
 * Returns: (nullable) (transfer none): the trial's material of that name, or the one that was copied from the built-in
 * material of that name or id, or such a copy, added now; NULL when nothing has that name
 */
SherdMaterial *
sherd_trial_find_or_add_material (SherdTrial *trial, GPtrArray *built_ins, const char *name)
{
  SherdMaterial *there = sherd_trial_find_material_by_name (trial, name);
  const SherdMaterialRecord *record = there == NULL ? sherd_built_in_materials_find (built_ins, name) : NULL;

  if (record != NULL)
    there = find_by_origin (trial, record->origin);
  return there != NULL || record == NULL ? there : sherd_trial_add_material (trial, record, NULL);
}
