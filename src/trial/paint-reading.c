/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/members.h"
#include "trial/paint-use.h"
#include "trial/reading-private.h"

#define MAX_HAZARDS 50u

static gboolean
is_sound (const SherdReading *reading)
{
  return sherd_reader_is_sound (reading->reader);
}

/* NAN when absent, for numbers that need not be known. */
static double
read_number_if_known (SherdReader *reader, const char *member, double min, double max)
{
  return sherd_reader_has (reader, member) ? sherd_reader_number (reader, member, min, max, SHERD_REQUIRED) : NAN;
}

static void
read_oxide (SherdReader *reader, SherdAnalysis *analysis)
{
  const char *oxide = sherd_reader_text (reader, "oxide", SHERD_REQUIRED);
  const double pct = sherd_reader_number (reader, "pct", 0.0, 100.0, SHERD_REQUIRED);
  const double doubt_pct = read_number_if_known (reader, "doubt_pct", 0.0, 100.0);

  sherd_analysis_add (analysis, oxide, pct, doubt_pct, sherd_reader_leave (reader));
}

static void
read_analysis (const SherdReading *reading, SherdMaterial *material)
{
  g_autoptr (SherdAnalysis) analysis = sherd_analysis_new ();
  const guint n_oxides = sherd_reader_enter_list (reading->reader, "analysis", SHERD_ANALYSIS_MAX_OXIDES);

  for (guint i = 0; i < n_oxides && is_sound (reading); i++)
    {
      sherd_reader_enter_item (reading->reader, i);
      read_oxide (reading->reader, analysis);
    }
  sherd_reader_leave_list (reading->reader);
  if (n_oxides > 0)
    g_object_set (material, "analysis", analysis, NULL);
}

static void
read_hazards (const SherdReading *reading, SherdMaterial *material)
{
  g_auto (GStrv) hazards = sherd_reader_texts (reading->reader, "hazards", MAX_HAZARDS);

  g_object_set (material, "hazards", hazards, NULL);
}

static void
check_material (const SherdReading *reading, SherdMaterial *material, GHashTable *names)
{
  g_autoptr (GError) problem = NULL;
  const char *name = sherd_material_get_name (material);

  if (!is_sound (reading))
    return;
  if (!sherd_material_record_check (sherd_material_get_record (material), &problem))
    sherd_reader_fail (reading->reader, NULL, "%s", problem->message);
  else if (!g_hash_table_add (names, g_utf8_casefold (name, -1)))
    sherd_reader_fail (reading->reader, "name", _ ("two materials are named “%s”."), name);
}

static void
read_material (const SherdReading *reading, SherdMaterial *material)
{
  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    {
      g_autofree char *property = g_strdelimit (g_strdup (field->name), "_", '-');
      const gboolean is_needed = field->offset == G_STRUCT_OFFSET (SherdMaterialRecord, name);

      if (field->kind == SHERD_RECORD_ANALYSIS)
        read_analysis (reading, material);
      else if (field->kind == SHERD_RECORD_WORDS)
        read_hazards (reading, material);
      else
        sherd_reader_property (reading->reader, material, property, is_needed ? SHERD_REQUIRED : SHERD_OPTIONAL);
    }
}

/**
 * sherd_reading_materials:
 * @reading: at the trial's object
 */
void
sherd_reading_materials (const SherdReading *reading)
{
  g_autoptr (GHashTable) ids = sherd_reading_new_name_set ();
  g_autoptr (GHashTable) names = sherd_reading_new_name_set ();
  const guint n_materials = sherd_reader_enter_list (reading->reader, "materials", SHERD_READING_MAX_ITEMS);

  for (guint i = 0; i < n_materials && is_sound (reading); i++)
    {
      g_autoptr (SherdMaterial) material = sherd_material_new (NULL, NULL);

      sherd_reader_enter_item (reading->reader, i);
      sherd_reading_id (reading, SHERD_PART (material), ids);
      read_material (reading, material);
      check_material (reading, material, names);
      sherd_reading_leave_part (reading, material, sherd_trial_get_materials (reading->trial));
    }
  sherd_reader_leave_list (reading->reader);
}

static const char *
read_material_id (const SherdReading *reading, const char *member)
{
  const char *id = sherd_reader_text (reading->reader, member, SHERD_OPTIONAL);

  if (id != NULL && sherd_trial_find_material (reading->trial, id) == NULL)
    sherd_reader_fail (reading->reader, member, _ ("there is no material with the id “%s”."), id);
  return id;
}

static const char *
read_paint_id (const SherdReading *reading, const char *member)
{
  const char *id = sherd_reader_text (reading->reader, member, SHERD_OPTIONAL);

  if (id != NULL && sherd_trial_find_paint (reading->trial, id) == NULL)
    sherd_reader_fail (reading->reader, member, _ ("there is no paint with the id “%s”."), id);
  return id;
}

static void
read_ingredient (const SherdReading *reading, SherdRecipe *recipe, gboolean is_earlier)
{
  SherdReader *reader = reading->reader;
  SherdIngredient ingredient = { 0 };

  ingredient.material_id = (char *)read_material_id (reading, "material");
  ingredient.paint_id = (char *)read_paint_id (reading, "paint");
  if ((ingredient.material_id == NULL) == (ingredient.paint_id == NULL))
    sherd_reader_fail (reader, NULL, _ ("an ingredient is either a material or a paint."));
  if (is_earlier && ingredient.paint_id != NULL)
    ingredient.revision = (guint)sherd_reader_whole (reader, "revision", 1, SHERD_REVISIONS_MAX, SHERD_REQUIRED);
  ingredient.parts = sherd_reader_number (reader, "parts", SHERD_PARTS_MIN, SHERD_PARTS_MAX, SHERD_REQUIRED);
  ingredient.parts_text = (char *)sherd_reader_text (reader, "parts_text", SHERD_OPTIONAL);
  ingredient.unknown = sherd_reader_leave (reader);
  sherd_recipe_append (recipe, &ingredient);
  g_clear_pointer (&ingredient.unknown, json_object_unref);
}

static SherdBasis
read_basis (const SherdReading *reading)
{
  g_autoptr (GEnumClass) bases = g_type_class_ref (SHERD_TYPE_BASIS);
  const char *basis = sherd_reader_text (reading->reader, "basis", SHERD_OPTIONAL);
  const GEnumValue *found = basis != NULL ? g_enum_get_value_by_nick (bases, basis) : NULL;

  if (basis != NULL && found == NULL)
    sherd_reader_fail (reading->reader, "basis", _ ("“%s” is not one of “mass”, “volume”."), basis);
  return found != NULL ? (SherdBasis)found->value : SHERD_BASIS_MASS;
}

/* The members of a recipe, of a paint or of its earlier revision. */
static SherdRecipe *
read_recipe (const SherdReading *reading, gboolean is_earlier)
{
  SherdReader *reader = reading->reader;
  SherdRecipe *recipe = sherd_recipe_new ();
  guint n_ingredients;

  recipe->basis = read_basis (reading);
  n_ingredients = sherd_reader_enter_list (reader, "ingredients", SHERD_RECIPE_MAX_INGREDIENTS);
  for (guint i = 0; i < n_ingredients && is_sound (reading); i++)
    {
      sherd_reader_enter_item (reader, i);
      read_ingredient (reading, recipe, is_earlier);
    }
  sherd_reader_leave_list (reader);
  recipe->binder_id = g_strdup (read_material_id (reading, "binder"));
  recipe->binder_pct = read_number_if_known (reader, "binder_pct", 0.0, SHERD_RECIPE_MAX_PCT);
  recipe->water_pct = read_number_if_known (reader, "water_pct", 0.0, SHERD_RECIPE_MAX_PCT);
  return recipe;
}

static void
read_revision (const SherdReading *reading, SherdPaint *paint, SherdRevisions *earlier)
{
  SherdReader *reader = reading->reader;
  const guint number = (guint)sherd_reader_whole (reader, "revision", 1, SHERD_REVISIONS_MAX, SHERD_REQUIRED);
  const guint last = earlier->n_revisions > 0 ? earlier->revisions[earlier->n_revisions - 1].number : 0;
  const char *replaced = sherd_reader_text (reader, "replaced", SHERD_OPTIONAL);
  g_autoptr (SherdRecipe) recipe = read_recipe (reading, TRUE);

  if (is_sound (reading) && (number <= last || number >= sherd_paint_get_revision (paint)))
    sherd_reader_fail (reader, "revision",
                       _ ("earlier revisions have rising numbers below that of the paint as it stands, %u."),
                       sherd_paint_get_revision (paint));
  sherd_revisions_append (earlier, number, replaced, recipe, sherd_reader_leave (reader));
}

static void
read_earlier (const SherdReading *reading, SherdPaint *paint)
{
  g_autoptr (SherdRevisions) earlier = sherd_revisions_new ();
  const guint n_revisions = sherd_reader_enter_list (reading->reader, "earlier", SHERD_REVISIONS_MAX);

  for (guint i = 0; i < n_revisions && is_sound (reading); i++)
    {
      sherd_reader_enter_item (reading->reader, i);
      read_revision (reading, paint, earlier);
    }
  sherd_reader_leave_list (reading->reader);
  g_object_set (paint, "earlier", earlier, NULL);
}

static void
read_paint (const SherdReading *reading, SherdPaint *paint, GHashTable *codes)
{
  g_autoptr (SherdRecipe) recipe = NULL;

  sherd_reader_has (reading->reader, "id"); /* read before */
  sherd_reader_properties (reading->reader, paint, sherd_paint_members);
  sherd_reading_code (reading, sherd_paint_get_code (paint), codes);
  recipe = read_recipe (reading, FALSE);
  g_object_set (paint, "recipe", recipe, NULL);
  read_earlier (reading, paint);
}

/* First all ids, because recipes name paints that may come later. */
static void
read_paint_ids (const SherdReading *reading, guint n_paints)
{
  g_autoptr (GHashTable) ids = sherd_reading_new_name_set ();

  for (guint i = 0; i < n_paints && is_sound (reading); i++)
    {
      g_autoptr (SherdPaint) paint = g_object_new (SHERD_TYPE_PAINT, NULL);

      sherd_reader_enter_item (reading->reader, i);
      sherd_reading_id (reading, SHERD_PART (paint), ids);
      sherd_reading_leave_part (reading, paint, sherd_trial_get_paints (reading->trial));
    }
}

/* What only shows when all paints are read. */
static void
check_recipes (const SherdReading *reading, guint n_paints)
{
  for (guint i = 0; i < n_paints && is_sound (reading); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (sherd_trial_get_paints (reading->trial), i);
      g_autoptr (GError) problem = NULL;

      sherd_reader_enter_item (reading->reader, i);
      if (!sherd_trial_check_paint_circle (reading->trial, paint, &problem))
        sherd_reader_fail (reading->reader, "ingredients", "%s", problem->message);
      G_GNUC_UNUSED g_autoptr (JsonObject) known = sherd_reader_leave (reading->reader);
    }
}

/**
 * sherd_reading_paints:
 * @reading: at the trial's object, its materials read
 */
void
sherd_reading_paints (const SherdReading *reading)
{
  g_autoptr (GHashTable) codes = sherd_reading_new_name_set ();
  const guint n_paints = sherd_reader_enter_list (reading->reader, "paints", SHERD_READING_MAX_ITEMS);

  read_paint_ids (reading, n_paints);
  for (guint i = 0; i < n_paints && is_sound (reading); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (sherd_trial_get_paints (reading->trial), i);

      sherd_reader_enter_item (reading->reader, i);
      read_paint (reading, paint, codes);
      sherd_part_set_unknown (SHERD_PART (paint), sherd_reader_leave (reading->reader));
    }
  check_recipes (reading, n_paints);
  sherd_reader_leave_list (reading->reader);
}
