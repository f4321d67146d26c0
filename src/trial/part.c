/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/part.h"
#include "trial/part-private.h"

#include <math.h>

typedef struct
{
  char *id;
  JsonObject *unknown;
} SherdPartPrivate;

enum
{
  PROP_0,
  PROP_ID,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (SherdPart, sherd_part, G_TYPE_OBJECT)

/**
 * sherd_part_replace_text:
 * @field: (inout): a string owned by a part
 * @value: a GValue with a string, NULL counts as empty
 *
 * Sets a text that is never NULL from a property's value.
 */
void
sherd_part_replace_text (char **field, const GValue *value)
{
  const char *text = g_value_get_string (value);

  g_free (*field);
  *field = g_strdup (text != NULL ? text : "");
}

/**
 * sherd_part_same_number:
 * @first: a number, NAN when not known
 * @second: another
 *
 * Returns: whether both are equal, or both not known
 */
gboolean
sherd_part_same_number (double first, double second)
{
  return isnan (first) || isnan (second) ? isnan (first) && isnan (second) : first == second;
}

/**
 * sherd_part_new_maybe_spec:
 * @name: of the property; copied
 * @least: the least the number may be when it is known
 * @most: the most
 *
 * Returns: (transfer floating): a number that is NAN until it is known
 */
GParamSpec *
sherd_part_new_maybe_spec (const char *name, double least, double most)
{
  GParamSpec *pspec =
    g_param_spec_double (name, NULL, NULL, least, most, least,
                         G_PARAM_READWRITE | G_PARAM_STATIC_NICK | G_PARAM_STATIC_BLURB | G_PARAM_LAX_VALIDATION);

  /* GLib takes no default beyond the bounds, and calls NAN invalid unless validation is lax. */
  G_PARAM_SPEC_DOUBLE (pspec)->default_value = NAN;
  return pspec;
}

static void
sherd_part_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdPartPrivate *priv = sherd_part_get_instance_private (SHERD_PART (object));

  if (id == PROP_ID)
    g_value_set_string (value, priv->id);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sherd_part_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  if (id == PROP_ID)
    sherd_part_set_id (SHERD_PART (object), g_value_get_string (value));
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sherd_part_finalize (GObject *object)
{
  SherdPartPrivate *priv = sherd_part_get_instance_private (SHERD_PART (object));

  g_free (priv->id);
  g_clear_pointer (&priv->unknown, json_object_unref);
  G_OBJECT_CLASS (sherd_part_parent_class)->finalize (object);
}

static void
sherd_part_class_init (SherdPartClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_part_get_property;
  object_class->set_property = sherd_part_set_property;
  object_class->finalize = sherd_part_finalize;

  properties[PROP_ID] =
    g_param_spec_string ("id", NULL, NULL, NULL, G_PARAM_READWRITE | G_PARAM_CONSTRUCT | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_part_init (SherdPart *self)
{
}

/**
 * sherd_part_get_id:
 * @self: a part
 *
 * Returns: (nullable): the id by which the file's other parts name it; NULL before it has entered a trial
 */
const char *
sherd_part_get_id (SherdPart *self)
{
  SherdPartPrivate *priv = sherd_part_get_instance_private (self);

  return priv->id;
}

/**
 * sherd_part_set_id:
 * @self: a part that is not yet referred to by others
 * @id: (nullable): its id
 *
 * Gives the id when the part enters a trial.
 */
void
sherd_part_set_id (SherdPart *self, const char *id)
{
  SherdPartPrivate *priv = sherd_part_get_instance_private (self);

  g_free (priv->id);
  priv->id = g_strdup (id);
}

/**
 * sherd_part_get_unknown:
 * @self: a part
 *
 * Returns: (nullable) (transfer none): the members of its object in the file that this program does not know
 */
JsonObject *
sherd_part_get_unknown (SherdPart *self)
{
  SherdPartPrivate *priv = sherd_part_get_instance_private (self);

  return priv->unknown;
}

/**
 * sherd_part_set_unknown:
 * @self: a part
 * @unknown: (nullable) (transfer full): members to be written back as they are
 */
void
sherd_part_set_unknown (SherdPart *self, JsonObject *unknown)
{
  SherdPartPrivate *priv = sherd_part_get_instance_private (self);

  g_clear_pointer (&priv->unknown, json_object_unref);
  priv->unknown = unknown;
}
