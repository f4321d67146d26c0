/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone.h"

#include <math.h>

#include "trial/part-private.h"
#include "trial/piece.h"

struct _SherdZone
{
  SherdPart parent_instance;

  char *code;
  SherdRectangle rectangle;
  SherdRange range;
  SherdOutline *polygon;
  SherdPaint *paint;
  guint paint_revision;
  guint coats;
  guint replicate;
  char *ground;
  gboolean locked;
  double laid_g;
  double laid_doubt_g;
};

enum
{
  PROP_0,
  PROP_CODE,
  PROP_X_MM,
  PROP_Y_MM,
  PROP_WIDTH_MM,
  PROP_HEIGHT_MM,
  PROP_AZIMUTH0_DEG,
  PROP_AZIMUTH1_DEG,
  PROP_ARC0_MM,
  PROP_ARC1_MM,
  PROP_POLYGON,
  PROP_PAINT,
  PROP_PAINT_REVISION,
  PROP_COATS,
  PROP_REPLICATE,
  PROP_GROUND,
  PROP_LOCKED,
  PROP_LAID_G,
  PROP_LAID_DOUBT_G,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

/* Not G_DEFINE_BOXED_TYPE: it is no ISO C. */
GType
sherd_outline_get_type (void)
{
  static gsize type = 0;

  if (g_once_init_enter (&type))
    g_once_init_leave (&type, g_boxed_type_register_static (g_intern_static_string ("SherdOutline"),
                                                            (GBoxedCopyFunc)sherd_outline_copy,
                                                            (GBoxedFreeFunc)sherd_outline_free));
  return type;
}
G_DEFINE_FINAL_TYPE (SherdZone, sherd_zone, SHERD_TYPE_PART)

static double *
find_measure (SherdZone *self, guint id)
{
  switch (id)
    {
    case PROP_X_MM:
      return &self->rectangle.x_mm;
    case PROP_Y_MM:
      return &self->rectangle.y_mm;
    case PROP_WIDTH_MM:
      return &self->rectangle.width_mm;
    case PROP_HEIGHT_MM:
      return &self->rectangle.height_mm;
    case PROP_AZIMUTH0_DEG:
      return &self->range.azimuth0_deg;
    case PROP_AZIMUTH1_DEG:
      return &self->range.azimuth1_deg;
    case PROP_ARC0_MM:
      return &self->range.arc0_mm;
    case PROP_ARC1_MM:
      return &self->range.arc1_mm;
    case PROP_LAID_G:
      return &self->laid_g;
    case PROP_LAID_DOUBT_G:
      return &self->laid_doubt_g;
    default:
      return NULL;
    }
}

static void
sherd_zone_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdZone *self = SHERD_ZONE (object);

  switch (id)
    {
    case PROP_CODE:
      g_value_set_string (value, self->code);
      break;
    case PROP_X_MM:
    case PROP_Y_MM:
    case PROP_WIDTH_MM:
    case PROP_HEIGHT_MM:
    case PROP_AZIMUTH0_DEG:
    case PROP_AZIMUTH1_DEG:
    case PROP_ARC0_MM:
    case PROP_ARC1_MM:
    case PROP_LAID_G:
    case PROP_LAID_DOUBT_G:
      g_value_set_double (value, *find_measure (self, id));
      break;
    case PROP_POLYGON:
      g_value_set_boxed (value, self->polygon);
      break;
    case PROP_PAINT:
      g_value_set_object (value, self->paint);
      break;
    case PROP_PAINT_REVISION:
      g_value_set_uint (value, self->paint_revision);
      break;
    case PROP_COATS:
      g_value_set_uint (value, self->coats);
      break;
    case PROP_REPLICATE:
      g_value_set_uint (value, self->replicate);
      break;
    case PROP_GROUND:
      g_value_set_string (value, self->ground);
      break;
    case PROP_LOCKED:
      g_value_set_boolean (value, self->locked);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_zone_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdZone *self = SHERD_ZONE (object);

  switch (id)
    {
    case PROP_CODE:
      sherd_part_replace_text (&self->code, value);
      break;
    case PROP_X_MM:
    case PROP_Y_MM:
    case PROP_WIDTH_MM:
    case PROP_HEIGHT_MM:
    case PROP_AZIMUTH0_DEG:
    case PROP_AZIMUTH1_DEG:
    case PROP_ARC0_MM:
    case PROP_ARC1_MM:
    case PROP_LAID_G:
    case PROP_LAID_DOUBT_G:
      *find_measure (self, id) = g_value_get_double (value);
      break;
    case PROP_POLYGON:
      g_clear_pointer (&self->polygon, sherd_outline_free);
      self->polygon = g_value_dup_boxed (value);
      break;
    case PROP_PAINT:
      g_set_object (&self->paint, g_value_get_object (value));
      break;
    case PROP_PAINT_REVISION:
      self->paint_revision = g_value_get_uint (value);
      break;
    case PROP_COATS:
      self->coats = g_value_get_uint (value);
      break;
    case PROP_REPLICATE:
      self->replicate = g_value_get_uint (value);
      break;
    case PROP_GROUND:
      g_free (self->ground);
      self->ground = g_value_dup_string (value);
      break;
    case PROP_LOCKED:
      self->locked = g_value_get_boolean (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_zone_finalize (GObject *object)
{
  SherdZone *self = SHERD_ZONE (object);

  g_free (self->code);
  g_free (self->ground);
  g_clear_pointer (&self->polygon, sherd_outline_free);
  g_clear_object (&self->paint);
  G_OBJECT_CLASS (sherd_zone_parent_class)->finalize (object);
}

static void
install_range (void)
{
  properties[PROP_AZIMUTH0_DEG] = g_param_spec_double ("azimuth0-deg", NULL, NULL, SHERD_ZONE_MIN_AZIMUTH_DEG,
                                                       SHERD_ZONE_MAX_AZIMUTH_DEG, 0.0, SHERD_PART_PROPERTY);
  properties[PROP_AZIMUTH1_DEG] = g_param_spec_double ("azimuth1-deg", NULL, NULL, SHERD_ZONE_MIN_AZIMUTH_DEG,
                                                       SHERD_ZONE_MAX_AZIMUTH_DEG, 0.0, SHERD_PART_PROPERTY);
  properties[PROP_ARC0_MM] =
    g_param_spec_double ("arc0-mm", NULL, NULL, 0.0, SHERD_PIECE_MAX_MM, 0.0, SHERD_PART_PROPERTY);
  properties[PROP_ARC1_MM] =
    g_param_spec_double ("arc1-mm", NULL, NULL, 0.0, SHERD_PIECE_MAX_MM, 0.0, SHERD_PART_PROPERTY);
}

static void
sherd_zone_class_init (SherdZoneClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_zone_get_property;
  object_class->set_property = sherd_zone_set_property;
  object_class->finalize = sherd_zone_finalize;

  properties[PROP_CODE] = g_param_spec_string ("code", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_X_MM] = g_param_spec_double ("x-mm", NULL, NULL, 0.0, SHERD_PIECE_MAX_MM, 0.0, SHERD_PART_PROPERTY);
  properties[PROP_Y_MM] = g_param_spec_double ("y-mm", NULL, NULL, 0.0, SHERD_PIECE_MAX_MM, 0.0, SHERD_PART_PROPERTY);
  properties[PROP_WIDTH_MM] =
    g_param_spec_double ("width-mm", NULL, NULL, SHERD_ZONE_MIN_MM, SHERD_PIECE_MAX_MM, 1.0, SHERD_PART_PROPERTY);
  properties[PROP_HEIGHT_MM] =
    g_param_spec_double ("height-mm", NULL, NULL, SHERD_ZONE_MIN_MM, SHERD_PIECE_MAX_MM, 1.0, SHERD_PART_PROPERTY);
  install_range ();
  properties[PROP_POLYGON] = g_param_spec_boxed ("polygon", NULL, NULL, SHERD_TYPE_OUTLINE, SHERD_PART_PROPERTY);
  properties[PROP_PAINT] = g_param_spec_object ("paint", NULL, NULL, SHERD_TYPE_PAINT, SHERD_PART_PROPERTY);
  properties[PROP_PAINT_REVISION] =
    g_param_spec_uint ("paint-revision", NULL, NULL, 0, SHERD_REVISIONS_MAX, 0, SHERD_PART_PROPERTY);
  properties[PROP_COATS] = g_param_spec_uint ("coats", NULL, NULL, 1, 99, 1, SHERD_PART_PROPERTY);
  properties[PROP_REPLICATE] = g_param_spec_uint ("replicate", NULL, NULL, 1, 9999, 1, SHERD_PART_PROPERTY);
  properties[PROP_GROUND] = g_param_spec_string ("ground", NULL, NULL, NULL, SHERD_PART_PROPERTY);
  properties[PROP_LOCKED] = g_param_spec_boolean ("locked", NULL, NULL, FALSE, SHERD_PART_PROPERTY);
  properties[PROP_LAID_G] = sherd_part_new_maybe_spec ("laid-g", 0.0, 10000.0);
  properties[PROP_LAID_DOUBT_G] = sherd_part_new_maybe_spec ("laid-doubt-g", 0.0, 10000.0);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_zone_init (SherdZone *self)
{
  self->code = g_strdup ("");
  self->rectangle = (SherdRectangle){ .width_mm = 1.0, .height_mm = 1.0 };
  self->coats = 1;
  self->replicate = 1;
  self->laid_g = NAN;
  self->laid_doubt_g = NAN;
}

/**
 * sherd_zone_new:
 * @id: (nullable): its id in the trial
 * @code: what the zone is called on its side, "A1"
 * @rectangle: where it lies on the side, mm
 *
 * Returns: (transfer full): a bare zone of one coat
 */
SherdZone *
sherd_zone_new (const char *id, const char *code, const SherdRectangle *rectangle)
{
  return g_object_new (SHERD_TYPE_ZONE, "id", id, "code", code, "x-mm", rectangle->x_mm, "y-mm", rectangle->y_mm,
                       "width-mm", rectangle->width_mm, "height-mm", rectangle->height_mm, NULL);
}

/**
 * sherd_zone_new_range:
 * @id: (nullable): its id in the trial
 * @code: what the zone is called on its side, "A1"
 * @range: where it lies on a vessel's side
 *
 * Returns: (transfer full): a bare zone of one coat
 */
SherdZone *
sherd_zone_new_range (const char *id, const char *code, const SherdRange *range)
{
  return g_object_new (SHERD_TYPE_ZONE, "id", id, "code", code, "azimuth0-deg", range->azimuth0_deg, "azimuth1-deg",
                       range->azimuth1_deg, "arc0-mm", range->arc0_mm, "arc1-mm", range->arc1_mm, NULL);
}

/**
 * sherd_zone_get_code:
 * @self: a zone
 *
 * Returns: its code, unique on its side
 */
const char *
sherd_zone_get_code (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), NULL);
  return self->code;
}

/**
 * sherd_zone_get_rectangle:
 * @self: a zone
 * @rectangle: (out): its rectangle on the side in mm; not its shape where sherd_zone_get_polygon () gives one
 */
void
sherd_zone_get_rectangle (SherdZone *self, SherdRectangle *rectangle)
{
  g_return_if_fail (SHERD_IS_ZONE (self));
  *rectangle = self->rectangle;
}

/**
 * sherd_zone_get_range:
 * @self: a zone
 * @range: (out) (optional): its azimuths and distances from the lip; not its shape where sherd_zone_get_polygon ()
 * gives one
 *
 * Returns: FALSE when it lies on a flat side
 */
gboolean
sherd_zone_get_range (SherdZone *self, SherdRange *range)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), FALSE);
  if (range != NULL)
    *range = self->range;
  return self->range.azimuth1_deg > self->range.azimuth0_deg;
}

/**
 * sherd_zone_get_polygon:
 * @self: a zone
 *
 * Returns: (nullable): the polygon on the side that takes the place of the rectangle or range
 */
const SherdOutline *
sherd_zone_get_polygon (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), NULL);
  return self->polygon;
}

/**
 * sherd_zone_dup_outline:
 * @self: a zone
 *
 * Returns: (transfer full): its shape on the side, whether polygon, rectangle or range
 */
SherdOutline *
sherd_zone_dup_outline (SherdZone *self)
{
  const SherdRectangle *rectangle = &self->rectangle;

  g_return_val_if_fail (SHERD_IS_ZONE (self), NULL);
  if (self->polygon != NULL)
    return sherd_outline_copy (self->polygon);
  if (sherd_zone_get_range (self, NULL))
    return sherd_range_outline (&self->range);
  return sherd_outline_new_rectangle (rectangle->x_mm, rectangle->y_mm, rectangle->width_mm, rectangle->height_mm);
}

/**
 * sherd_zone_get_paint:
 * @self: a zone
 *
 * Returns: (nullable) (transfer none): its paint, NULL for a bare control
 */
SherdPaint *
sherd_zone_get_paint (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), NULL);
  return self->paint;
}

/**
 * sherd_zone_get_paint_revision:
 * @self: a zone
 *
 * Returns: the revision of its paint with which it was fired, when the paint was changed since; else 0
 */
guint
sherd_zone_get_paint_revision (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), 0);
  return self->paint_revision;
}

/**
 * sherd_zone_find_paint_revision:
 * @self: a zone
 *
 * Returns: the number of the revision of its paint that it carries, from 1; 0 for a bare control
 */
guint
sherd_zone_find_paint_revision (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), 0);
  if (self->paint == NULL || self->paint_revision != 0)
    return self->paint != NULL ? self->paint_revision : 0;
  return sherd_paint_get_revision (self->paint);
}

/**
 * sherd_zone_is_bare:
 * @self: a zone
 *
 * Returns: whether it is a control without paint
 */
gboolean
sherd_zone_is_bare (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), FALSE);
  return self->paint == NULL;
}

/**
 * sherd_zone_get_coats:
 * @self: a zone
 *
 * Returns: how many coats of the paint, 1…99
 */
guint
sherd_zone_get_coats (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), 0);
  return self->coats;
}

/**
 * sherd_zone_get_replicate:
 * @self: a zone
 *
 * Returns: which repetition of the same treatment this is, from 1
 */
guint
sherd_zone_get_replicate (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), 0);
  return self->replicate;
}

/**
 * sherd_zone_get_ground:
 * @self: a zone
 *
 * Returns: (nullable): the ground under this zone, NULL where that of the side goes on
 */
const char *
sherd_zone_get_ground (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), NULL);
  return self->ground;
}

/**
 * sherd_zone_get_locked:
 * @self: a zone
 *
 * Returns: whether layout must leave it where it is
 */
gboolean
sherd_zone_get_locked (SherdZone *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), FALSE);
  return self->locked;
}

/**
 * sherd_zone_get_laid_g:
 * @self: a zone
 * @doubt_g: (out) (optional): standard uncertainty, NAN when not known
 *
 * Returns: dry paint laid on it in g, weighed; NAN when nobody did
 */
double
sherd_zone_get_laid_g (SherdZone *self, double *doubt_g)
{
  g_return_val_if_fail (SHERD_IS_ZONE (self), NAN);
  if (doubt_g != NULL)
    *doubt_g = self->laid_doubt_g;
  return self->laid_g;
}
