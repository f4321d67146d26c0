/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/exchange.h"

#include "trial/exchange-private.h"
#include "trial/material-substance.h"

static gboolean
is_loss (const SherdRecordField *field)
{
  return field->offset == G_STRUCT_OFFSET (SherdMaterialRecord, loss_pct) ||
         field->offset == G_STRUCT_OFFSET (SherdMaterialRecord, loss_doubt_pct);
}

/**
 * sherd_exchange_find_field:
 * @name: name of a column
 *
 * Returns: (nullable): the field of a material that it holds; the loss goes with the analysis and has no column
 */
const SherdRecordField *
sherd_exchange_find_field (const char *name)
{
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    if (g_str_equal (field->name, name) && !is_loss (field))
      return field;
  return NULL;
}

static void
set_cell (SherdTable *table, const SherdMaterialRecord *record, const SherdRecordField *field)
{
  g_autofree char *text = NULL;
  g_autoptr (GEnumClass) choices = NULL;

  switch (field->kind)
    {
    case SHERD_RECORD_TEXT:
      sherd_table_set_text (table, field->name, *SHERD_RECORD_TEXT_AT (record, field));
      break;
    case SHERD_RECORD_NUMBER:
      sherd_table_set_number (table, field->name, *SHERD_RECORD_NUMBER_AT (record, field));
      break;
    case SHERD_RECORD_CHOICE:
      choices = g_type_class_ref (field->get_choices ());
      sherd_table_set_text (table, field->name,
                            g_enum_get_value (choices, *SHERD_RECORD_CHOICE_AT (record, field))->value_nick);
      break;
    case SHERD_RECORD_ANALYSIS:
      text = sherd_material_record_dup_analysis_text (record);
      sherd_table_set_text (table, field->name, text);
      break;
    case SHERD_RECORD_WORDS:
    default:
      text = g_strjoinv ("; ", record->hazards);
      sherd_table_set_text (table, field->name, text);
    }
}

/**
 * sherd_exchange_materials:
 * @trial: a trial
 *
 * Returns: (transfer full): a row a material, a column a field, named as in the trial file
 */
SherdTable *
sherd_exchange_materials (SherdTrial *trial)
{
  g_autoptr (GArray) columns = g_array_new (FALSE, FALSE, sizeof (SherdColumn));
  GListModel *materials = sherd_trial_get_materials (trial);
  SherdTable *table;

  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    {
      const SherdColumn column = {
        .key = field->name,
        .kind = field->kind == SHERD_RECORD_NUMBER ? SHERD_COLUMN_NUMBER : SHERD_COLUMN_TEXT,
      };

      if (!is_loss (field))
        g_array_append_val (columns, column);
    }
  table = sherd_table_new ((const SherdColumn *)(gpointer)columns->data, columns->len);
  for (guint i = 0; i < g_list_model_get_n_items (materials); i++)
    {
      g_autoptr (SherdMaterial) material = g_list_model_get_item (materials, i);

      sherd_table_add_row (table);
      for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
        if (!is_loss (field))
          set_cell (table, sherd_material_get_record (material), field);
    }
  return table;
}

static void
set_paint (SherdTable *table, SherdTrial *trial, SherdPaint *paint)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (paint);
  SherdMaterial *binder = recipe->binder_id != NULL ? sherd_trial_find_material (trial, recipe->binder_id) : NULL;

  sherd_table_set_text (table, "name", sherd_paint_get_name (paint));
  sherd_table_set_text (table, "kind", sherd_paint_get_kind (paint) == SHERD_PAINT_SLIP ? "slip" : "paint");
  sherd_table_set_text (table, "basis", recipe->basis == SHERD_BASIS_VOLUME ? "volume" : "mass");
  sherd_table_set_text (table, "binder", binder != NULL ? sherd_material_get_name (binder) : "");
  sherd_table_set_number (table, "binder_pct", recipe->binder_pct);
  sherd_table_set_number (table, "water_pct", recipe->water_pct);
  sherd_table_set_number (table, "batch_g", sherd_paint_get_batch_g (paint));
  sherd_table_set_text (table, "note", sherd_paint_get_note (paint));
}

static void
set_ingredient (SherdTable *table, SherdTrial *trial, const SherdIngredient *ingredient)
{
  SherdMaterial *material =
    ingredient->material_id != NULL ? sherd_trial_find_material (trial, ingredient->material_id) : NULL;
  SherdPaint *paint = ingredient->paint_id != NULL ? sherd_trial_find_paint (trial, ingredient->paint_id) : NULL;
  g_autofree char *exact = sherd_exchange_dup_parts (ingredient);

  sherd_table_set_text (table, "material", material != NULL ? sherd_material_get_name (material) : "");
  sherd_table_set_text (table, "other_paint", paint != NULL ? sherd_paint_get_code (paint) : "");
  sherd_table_set_text (table, "parts", exact);
}

static void
add_paint_rows (SherdTable *table, SherdTrial *trial, SherdPaint *paint)
{
  const SherdRecipe *recipe = sherd_paint_get_recipe (paint);

  for (guint i = 0; i < MAX (recipe->n_ingredients, 1); i++)
    {
      sherd_table_add_row (table);
      sherd_table_set_text (table, "paint", sherd_paint_get_code (paint));
      if (i == 0)
        set_paint (table, trial, paint);
      if (i < recipe->n_ingredients)
        set_ingredient (table, trial, &recipe->ingredients[i]);
    }
}

/**
 * sherd_exchange_paints:
 * @trial: a trial
 *
 * Returns: (transfer full): a row an ingredient
 */
SherdTable *
sherd_exchange_paints (SherdTrial *trial)
{
  const SherdColumn columns[] = {
    { "paint", NULL, SHERD_COLUMN_TEXT, 0 },        { "name", NULL, SHERD_COLUMN_TEXT, 0 },
    { "kind", NULL, SHERD_COLUMN_TEXT, 0 },         { "basis", NULL, SHERD_COLUMN_TEXT, 0 },
    { "material", NULL, SHERD_COLUMN_TEXT, 0 },     { "other_paint", NULL, SHERD_COLUMN_TEXT, 0 },
    { "parts", NULL, SHERD_COLUMN_TEXT, 0 },        { "binder", NULL, SHERD_COLUMN_TEXT, 0 },
    { "binder_pct", NULL, SHERD_COLUMN_NUMBER, 0 }, { "water_pct", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "batch_g", NULL, SHERD_COLUMN_NUMBER, 0 },    { "note", NULL, SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  GListModel *paints = sherd_trial_get_paints (trial);

  for (guint i = 0; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      add_paint_rows (table, trial, paint);
    }
  return table;
}
