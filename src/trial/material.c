/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/material.h"

#include <math.h>

#include "trial/part-private.h"

struct _SherdMaterial
{
  SherdPart parent_instance;

  SherdMaterialRecord record;
};

G_DEFINE_FINAL_TYPE (SherdMaterial, sherd_material, SHERD_TYPE_PART)

/* Property n is field n − 1 of the record. */
static const SherdRecordField *
field_of (guint id)
{
  return &sherd_material_record_fields[id - 1];
}

static void
sherd_material_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdMaterial *self = SHERD_MATERIAL (object);
  const SherdRecordField *field = field_of (id);

  switch (field->kind)
    {
    case SHERD_RECORD_TEXT:
      g_value_set_string (value, *SHERD_RECORD_TEXT_AT (&self->record, field));
      break;
    case SHERD_RECORD_NUMBER:
      g_value_set_double (value, *SHERD_RECORD_NUMBER_AT (&self->record, field));
      break;
    case SHERD_RECORD_CHOICE:
      g_value_set_enum (value, *SHERD_RECORD_CHOICE_AT (&self->record, field));
      break;
    case SHERD_RECORD_ANALYSIS:
      g_value_set_boxed (value, self->record.analysis);
      break;
    case SHERD_RECORD_WORDS:
      g_value_set_boxed (value, self->record.hazards);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
set_analysis (SherdMaterial *self, SherdAnalysis *analysis)
{
  g_clear_pointer (&self->record.analysis, sherd_analysis_free);
  self->record.analysis = analysis;
}

static void
set_hazards (SherdMaterial *self, GStrv hazards)
{
  g_strfreev (self->record.hazards);
  self->record.hazards = hazards != NULL ? hazards : g_new0 (char *, 1);
}

static void
sherd_material_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdMaterial *self = SHERD_MATERIAL (object);
  const SherdRecordField *field = field_of (id);

  switch (field->kind)
    {
    case SHERD_RECORD_TEXT:
      sherd_part_replace_text (SHERD_RECORD_TEXT_AT (&self->record, field), value);
      break;
    case SHERD_RECORD_NUMBER:
      *SHERD_RECORD_NUMBER_AT (&self->record, field) = g_value_get_double (value);
      break;
    case SHERD_RECORD_CHOICE:
      *SHERD_RECORD_CHOICE_AT (&self->record, field) = g_value_get_enum (value);
      break;
    case SHERD_RECORD_ANALYSIS:
      set_analysis (self, g_value_dup_boxed (value));
      break;
    case SHERD_RECORD_WORDS:
      set_hazards (self, g_value_dup_boxed (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_material_finalize (GObject *object)
{
  sherd_material_record_clear (&SHERD_MATERIAL (object)->record);
  G_OBJECT_CLASS (sherd_material_parent_class)->finalize (object);
}

static GParamSpec *
new_property (const SherdRecordField *field)
{
  g_autofree char *name = g_strdelimit (g_strdup (field->name), "_", '-');
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_NICK | G_PARAM_STATIC_BLURB;

  switch (field->kind)
    {
    case SHERD_RECORD_NUMBER:
      if (isnan (field->usual))
        return sherd_part_new_maybe_spec (name, field->least, field->most);
      return g_param_spec_double (name, NULL, NULL, field->least, field->most, field->usual, flags);
    case SHERD_RECORD_CHOICE:
      return g_param_spec_enum (name, NULL, NULL, field->get_choices (), 0, flags);
    case SHERD_RECORD_ANALYSIS:
      return g_param_spec_boxed (name, NULL, NULL, SHERD_TYPE_ANALYSIS, flags);
    case SHERD_RECORD_WORDS:
      return g_param_spec_boxed (name, NULL, NULL, G_TYPE_STRV, flags);
    case SHERD_RECORD_TEXT:
    default:
      return g_param_spec_string (name, NULL, NULL, "", flags);
    }
}

static void
sherd_material_class_init (SherdMaterialClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_material_get_property;
  object_class->set_property = sherd_material_set_property;
  object_class->finalize = sherd_material_finalize;

  for (guint i = 0; sherd_material_record_fields[i].name != NULL; i++)
    g_object_class_install_property (object_class, i + 1, new_property (&sherd_material_record_fields[i]));
}

static void
sherd_material_init (SherdMaterial *self)
{
  sherd_material_record_init (&self->record);
}

/**
 * sherd_material_new:
 * @id: (nullable): its id in the trial
 * @record: (nullable): what is known of it; copied
 *
 * Returns: (transfer full): a material
 */
SherdMaterial *
sherd_material_new (const char *id, const SherdMaterialRecord *record)
{
  SherdMaterial *self = g_object_new (SHERD_TYPE_MATERIAL, "id", id, NULL);

  if (record != NULL)
    {
      sherd_material_record_clear (&self->record);
      sherd_material_record_copy (&self->record, record);
    }
  return self;
}

/**
 * sherd_material_get_name:
 * @self: a material
 *
 * Returns: its name, unique in the trial
 */
const char *
sherd_material_get_name (SherdMaterial *self)
{
  g_return_val_if_fail (SHERD_IS_MATERIAL (self), NULL);
  return self->record.name;
}

/**
 * sherd_material_get_kind:
 * @self: a material
 *
 * Returns: what it is used for
 */
SherdMaterialKind
sherd_material_get_kind (SherdMaterial *self)
{
  g_return_val_if_fail (SHERD_IS_MATERIAL (self), SHERD_MATERIAL_COLOURANT);
  return self->record.kind;
}

/**
 * sherd_material_get_record:
 * @self: a material
 *
 * Returns: (transfer none): all that is known of it
 */
const SherdMaterialRecord *
sherd_material_get_record (SherdMaterial *self)
{
  g_return_val_if_fail (SHERD_IS_MATERIAL (self), NULL);
  return &self->record;
}
