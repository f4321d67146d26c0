/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/side.h"
#include "trial/part-private.h"

struct _SherdSide
{
  SherdPart parent_instance;

  char *name;
  char *ground;
  GListStore *zones;
};

enum
{
  PROP_0,
  PROP_NAME,
  PROP_GROUND,
  PROP_ZONES,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_FINAL_TYPE (SherdSide, sherd_side, SHERD_TYPE_PART)

static void
sherd_side_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdSide *self = SHERD_SIDE (object);

  switch (id)
    {
    case PROP_NAME:
      g_value_set_string (value, self->name);
      break;
    case PROP_GROUND:
      g_value_set_string (value, self->ground);
      break;
    case PROP_ZONES:
      g_value_set_object (value, self->zones);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_side_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdSide *self = SHERD_SIDE (object);

  switch (id)
    {
    case PROP_NAME:
      sherd_part_replace_text (&self->name, value);
      break;
    case PROP_GROUND:
      sherd_part_replace_text (&self->ground, value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_side_finalize (GObject *object)
{
  SherdSide *self = SHERD_SIDE (object);

  g_free (self->name);
  g_free (self->ground);
  g_clear_object (&self->zones);
  G_OBJECT_CLASS (sherd_side_parent_class)->finalize (object);
}

static void
sherd_side_class_init (SherdSideClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_side_get_property;
  object_class->set_property = sherd_side_set_property;
  object_class->finalize = sherd_side_finalize;

  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_GROUND] = g_param_spec_string ("ground", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_ZONES] =
    g_param_spec_object ("zones", NULL, NULL, G_TYPE_LIST_MODEL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_side_init (SherdSide *self)
{
  self->name = g_strdup ("");
  self->ground = g_strdup ("");
  self->zones = g_list_store_new (SHERD_TYPE_ZONE);
}

/**
 * sherd_side_new:
 * @id: (nullable): its id, unique within the piece
 * @name: "face" or "back"
 *
 * Returns: (transfer full): a side without zones
 */
SherdSide *
sherd_side_new (const char *id, const char *name)
{
  return g_object_new (SHERD_TYPE_SIDE, "id", id, "name", name, NULL);
}

/**
 * sherd_side_get_name:
 * @self: a side
 *
 * Returns: "face" or "back"; sherd_format_side () has the word for the user
 */
const char *
sherd_side_get_name (SherdSide *self)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), NULL);
  return self->name;
}

/**
 * sherd_side_get_ground:
 * @self: a side
 *
 * Returns: what lies under the paint: a slip or the bare body; may be empty
 */
const char *
sherd_side_get_ground (SherdSide *self)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), NULL);
  return self->ground;
}

/**
 * sherd_side_get_zones:
 * @self: a side
 *
 * Returns: (transfer none): its zones (SherdZone), in the order of the layout
 */
GListModel *
sherd_side_get_zones (SherdSide *self)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), NULL);
  return G_LIST_MODEL (self->zones);
}

static SherdZone *
find_zone (SherdSide *self, const char *wanted, gboolean by_code)
{
  GListModel *zones = G_LIST_MODEL (self->zones);
  const guint n_zones = g_list_model_get_n_items (zones);

  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      if (g_strcmp0 (by_code ? sherd_zone_get_code (zone) : sherd_part_get_id (SHERD_PART (zone)), wanted) == 0)
        return zone;
    }
  return NULL;
}

/**
 * sherd_side_find_zone:
 * @self: a side
 * @id: the id of a zone
 *
 * Returns: (nullable) (transfer none): the zone
 */
SherdZone *
sherd_side_find_zone (SherdSide *self, const char *id)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), NULL);
  return find_zone (self, id, FALSE);
}

/**
 * sherd_side_find_zone_by_code:
 * @self: a side
 * @code: the code of a zone
 *
 * Returns: (nullable) (transfer none): the zone
 */
SherdZone *
sherd_side_find_zone_by_code (SherdSide *self, const char *code)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), NULL);
  return find_zone (self, code, TRUE);
}
