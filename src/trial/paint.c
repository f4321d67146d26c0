/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint.h"
#include "trial/part-private.h"

struct _SherdPaint
{
  SherdPart parent_instance;

  char *code;
  char *name;
  char *note;
};

enum
{
  PROP_0,
  PROP_CODE,
  PROP_NAME,
  PROP_NOTE,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (SherdPaint, sherd_paint, SHERD_TYPE_PART)

static char **
find_text (SherdPaint *self, guint id)
{
  switch (id)
    {
    case PROP_CODE:
      return &self->code;
    case PROP_NAME:
      return &self->name;
    case PROP_NOTE:
      return &self->note;
    default:
      return NULL;
    }
}

static void
sherd_paint_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  char **text = find_text (SHERD_PAINT (object), id);

  if (text != NULL)
    g_value_set_string (value, *text);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sherd_paint_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  char **text = find_text (SHERD_PAINT (object), id);

  if (text != NULL)
    sherd_part_replace_text (text, value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sherd_paint_finalize (GObject *object)
{
  SherdPaint *self = SHERD_PAINT (object);

  g_free (self->code);
  g_free (self->name);
  g_free (self->note);
  G_OBJECT_CLASS (sherd_paint_parent_class)->finalize (object);
}

static void
sherd_paint_class_init (SherdPaintClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_paint_get_property;
  object_class->set_property = sherd_paint_set_property;
  object_class->finalize = sherd_paint_finalize;

  properties[PROP_CODE] = g_param_spec_string ("code", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_NOTE] = g_param_spec_string ("note", NULL, NULL, "", SHERD_PART_PROPERTY);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_paint_init (SherdPaint *self)
{
  self->code = g_strdup ("");
  self->name = g_strdup ("");
  self->note = g_strdup ("");
}

/**
 * sherd_paint_new:
 * @id: (nullable): its id in the trial
 * @code: what is scratched on the piece, unique among the paints
 * @name: (nullable): its name in words
 *
 * Returns: (transfer full): a paint
 */
SherdPaint *
sherd_paint_new (const char *id, const char *code, const char *name)
{
  return g_object_new (SHERD_TYPE_PAINT, "id", id, "code", code, "name", name, NULL);
}

/**
 * sherd_paint_get_code:
 * @self: a paint
 *
 * Returns: the short code scratched on the piece
 */
const char *
sherd_paint_get_code (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NULL);
  return self->code;
}

/**
 * sherd_paint_get_name:
 * @self: a paint
 *
 * Returns: its name, may be empty
 */
const char *
sherd_paint_get_name (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NULL);
  return self->name;
}

/**
 * sherd_paint_get_note:
 * @self: a paint
 *
 * Returns: what the potter noted, may be empty
 */
const char *
sherd_paint_get_note (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NULL);
  return self->note;
}
