/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/measurement.h"
#include "trial/measurement-private.h"

#include "trial/part-private.h"

struct _SherdMeasurement
{
  SherdPart parent_instance;

  SherdPhotograph *photograph;
  char *inputs_sha256;
  char *program;
  char *made;
  gboolean stale;
  SherdPhotoMeasurement *result;
  SherdMeasurementUnknown unknown;
  char *text;
};

enum
{
  PROP_0,
  PROP_PHOTOGRAPH,
  PROP_INPUTS_SHA256,
  PROP_PROGRAM,
  PROP_MADE,
  PROP_STALE,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (SherdMeasurement, sherd_measurement, SHERD_TYPE_PART)

static void
sherd_measurement_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdMeasurement *self = SHERD_MEASUREMENT (object);

  switch (id)
    {
    case PROP_PHOTOGRAPH:
      g_value_set_object (value, self->photograph);
      break;
    case PROP_INPUTS_SHA256:
      g_value_set_string (value, self->inputs_sha256);
      break;
    case PROP_PROGRAM:
      g_value_set_string (value, self->program);
      break;
    case PROP_MADE:
      g_value_set_string (value, self->made);
      break;
    case PROP_STALE:
      g_value_set_boolean (value, self->stale);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_measurement_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdMeasurement *self = SHERD_MEASUREMENT (object);

  switch (id)
    {
    case PROP_PHOTOGRAPH:
      g_set_object (&self->photograph, g_value_get_object (value));
      break;
    case PROP_INPUTS_SHA256:
      sherd_part_replace_text (&self->inputs_sha256, value);
      break;
    case PROP_PROGRAM:
      sherd_part_replace_text (&self->program, value);
      break;
    case PROP_MADE:
      sherd_part_replace_text (&self->made, value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
free_unknown (gpointer unknown)
{
  if (unknown != NULL)
    json_object_unref (unknown);
}

static void
sherd_measurement_finalize (GObject *object)
{
  SherdMeasurement *self = SHERD_MEASUREMENT (object);

  g_clear_object (&self->photograph);
  g_free (self->inputs_sha256);
  g_free (self->program);
  g_free (self->made);
  g_free (self->text);
  g_clear_pointer (&self->result, sherd_photo_measurement_free);
  g_free (self->unknown.model);
  g_clear_pointer (&self->unknown.flags, g_ptr_array_unref);
  g_clear_pointer (&self->unknown.correction, json_object_unref);
  g_clear_pointer (&self->unknown.patches, g_ptr_array_unref);
  g_clear_pointer (&self->unknown.zones, g_ptr_array_unref);
  G_OBJECT_CLASS (sherd_measurement_parent_class)->finalize (object);
}

static void
sherd_measurement_class_init (SherdMeasurementClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_measurement_get_property;
  object_class->set_property = sherd_measurement_set_property;
  object_class->finalize = sherd_measurement_finalize;

  properties[PROP_PHOTOGRAPH] =
    g_param_spec_object ("photograph", NULL, NULL, SHERD_TYPE_PHOTOGRAPH, SHERD_PART_PROPERTY);
  properties[PROP_INPUTS_SHA256] = g_param_spec_string ("inputs-sha256", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_PROGRAM] = g_param_spec_string ("program", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_MADE] = g_param_spec_string ("made", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_STALE] = g_param_spec_boolean ("stale", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_measurement_init (SherdMeasurement *self)
{
  self->inputs_sha256 = g_strdup ("");
  self->program = g_strdup ("");
  self->made = g_strdup ("");
  self->unknown.flags = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  self->unknown.patches = g_ptr_array_new_with_free_func (free_unknown);
  self->unknown.zones = g_ptr_array_new_with_free_func (free_unknown);
}

/**
 * sherd_measurement_new:
 * @id: (nullable): its id in the trial
 * @photograph: what was measured
 * @inputs_sha256: hash of all it rests on, see sherd_trial_dup_inputs_sha256 ()
 * @program: version of the program that measured
 * @made: when, UTC, ISO 8601
 * @result: (transfer full): what came out
 *
 * Returns: (transfer full): a measurement, taken as fresh until the trial compares its inputs
 */
SherdMeasurement *
sherd_measurement_new (const char *id,
                       SherdPhotograph *photograph,
                       const char *inputs_sha256,
                       const char *program,
                       const char *made,
                       SherdPhotoMeasurement *result)
{
  SherdMeasurement *self = g_object_new (SHERD_TYPE_MEASUREMENT, "id", id, "photograph", photograph, "inputs-sha256",
                                         inputs_sha256, "program", program, "made", made, NULL);

  self->result = result;
  return self;
}

/**
 * sherd_measurement_get_photograph:
 * @self: a measurement
 *
 * Returns: (transfer none): what was measured
 */
SherdPhotograph *
sherd_measurement_get_photograph (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), NULL);
  return self->photograph;
}

/**
 * sherd_measurement_get_inputs_sha256:
 * @self: a measurement
 *
 * Returns: hash of all it rests on
 */
const char *
sherd_measurement_get_inputs_sha256 (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), NULL);
  return self->inputs_sha256;
}

/**
 * sherd_measurement_get_program:
 * @self: a measurement
 *
 * Returns: version of the program that measured
 */
const char *
sherd_measurement_get_program (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), NULL);
  return self->program;
}

/**
 * sherd_measurement_get_made:
 * @self: a measurement
 *
 * Returns: when it was measured, UTC, ISO 8601
 */
const char *
sherd_measurement_get_made (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), NULL);
  return self->made;
}

/**
 * sherd_measurement_get_stale:
 * @self: a measurement
 *
 * Returns: whether photograph, marks, zones, reference or settings are no longer those it was made from
 */
gboolean
sherd_measurement_get_stale (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), TRUE);
  return self->stale;
}

/**
 * sherd_measurement_set_stale:
 * @self: a measurement
 * @stale: whether its inputs have changed
 *
 * For the trial alone.
 */
void
sherd_measurement_set_stale (SherdMeasurement *self, gboolean stale)
{
  if (self->stale == stale)
    return;
  self->stale = stale;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_STALE]);
}

/**
 * sherd_measurement_get_result:
 * @self: a measurement
 *
 * Returns: (transfer none): all numbers
 */
const SherdPhotoMeasurement *
sherd_measurement_get_result (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), NULL);
  return self->result;
}

/**
 * sherd_measurement_find_zone:
 * @self: a measurement
 * @zone_id: id of a zone
 *
 * Returns: (nullable): what was measured of it; NULL when it was not there then
 */
const SherdZoneColour *
sherd_measurement_find_zone (SherdMeasurement *self, const char *zone_id)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), NULL);
  for (gsize i = 0; i < self->result->n_zones; i++)
    if (g_strcmp0 (self->result->zones[i].id, zone_id) == 0)
      return &self->result->zones[i];
  return NULL;
}

/**
 * sherd_measurement_is_understood:
 * @self: a measurement
 *
 * Returns: FALSE when its light correction or a flag of a zone is one that only a newer program knows; its numbers may
 * then mean less than they seem to, so it is kept as it is and not trusted
 */
gboolean
sherd_measurement_is_understood (SherdMeasurement *self)
{
  g_return_val_if_fail (SHERD_IS_MEASUREMENT (self), FALSE);
  for (guint i = 0; i < self->unknown.flags->len; i++)
    if (g_strv_length (g_ptr_array_index (self->unknown.flags, i)) > 0)
      return FALSE;
  return self->unknown.model == NULL;
}

/**
 * sherd_measurement_get_inner_unknown:
 * @self: a measurement
 *
 * Returns: (transfer none): what the file held inside it that this program does not know
 */
SherdMeasurementUnknown *
sherd_measurement_get_inner_unknown (SherdMeasurement *self)
{
  return &self->unknown;
}

/**
 * sherd_measurement_get_text:
 * @self: a measurement
 *
 * Returns: (nullable): how the file writes it, kept since it was last written
 */
const char *
sherd_measurement_get_text (SherdMeasurement *self)
{
  return self->text;
}

/**
 * sherd_measurement_set_text:
 * @self: a measurement
 * @text: (transfer full): how the file writes it
 */
void
sherd_measurement_set_text (SherdMeasurement *self, char *text)
{
  g_free (self->text);
  self->text = text;
}
