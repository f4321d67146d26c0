/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint.h"

#include <math.h>

#include "trial/part-private.h"

struct _SherdPaint
{
  SherdPart parent_instance;

  char *code;
  char *name;
  char *note;
  SherdPaintKind kind;
  double batch_g;
  SherdRecipe *recipe;
  guint revision;
  SherdRevisions *earlier;
};

enum
{
  PROP_0,
  PROP_CODE,
  PROP_NAME,
  PROP_NOTE,
  PROP_KIND,
  PROP_BATCH_G,
  PROP_RECIPE,
  PROP_REVISION,
  PROP_EARLIER,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_ENUM_TYPE (SherdPaintKind,
                    sherd_paint_kind,
                    G_DEFINE_ENUM_VALUE (SHERD_PAINT_PAINT, "paint"),
                    G_DEFINE_ENUM_VALUE (SHERD_PAINT_SLIP, "slip"))
G_DEFINE_FINAL_TYPE (SherdPaint, sherd_paint, SHERD_TYPE_PART)

static void
sherd_paint_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdPaint *self = SHERD_PAINT (object);

  switch (id)
    {
    case PROP_CODE:
      g_value_set_string (value, self->code);
      break;
    case PROP_NAME:
      g_value_set_string (value, self->name);
      break;
    case PROP_NOTE:
      g_value_set_string (value, self->note);
      break;
    case PROP_KIND:
      g_value_set_enum (value, self->kind);
      break;
    case PROP_BATCH_G:
      g_value_set_double (value, self->batch_g);
      break;
    case PROP_RECIPE:
      g_value_set_boxed (value, self->recipe);
      break;
    case PROP_REVISION:
      g_value_set_uint (value, self->revision);
      break;
    case PROP_EARLIER:
      g_value_set_boxed (value, self->earlier);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
set_recipe (SherdPaint *self, const SherdRecipe *recipe)
{
  sherd_recipe_free (self->recipe);
  self->recipe = recipe != NULL ? sherd_recipe_copy (recipe) : sherd_recipe_new ();
}

static void
set_earlier (SherdPaint *self, const SherdRevisions *earlier)
{
  sherd_revisions_free (self->earlier);
  self->earlier = earlier != NULL ? sherd_revisions_copy (earlier) : sherd_revisions_new ();
}

static void
sherd_paint_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdPaint *self = SHERD_PAINT (object);

  switch (id)
    {
    case PROP_CODE:
      sherd_part_replace_text (&self->code, value);
      break;
    case PROP_NAME:
      sherd_part_replace_text (&self->name, value);
      break;
    case PROP_NOTE:
      sherd_part_replace_text (&self->note, value);
      break;
    case PROP_KIND:
      self->kind = (SherdPaintKind)g_value_get_enum (value);
      break;
    case PROP_BATCH_G:
      self->batch_g = g_value_get_double (value);
      break;
    case PROP_RECIPE:
      set_recipe (self, g_value_get_boxed (value));
      break;
    case PROP_REVISION:
      self->revision = g_value_get_uint (value);
      break;
    case PROP_EARLIER:
      set_earlier (self, g_value_get_boxed (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_paint_finalize (GObject *object)
{
  SherdPaint *self = SHERD_PAINT (object);

  g_free (self->code);
  g_free (self->name);
  g_free (self->note);
  sherd_recipe_free (self->recipe);
  sherd_revisions_free (self->earlier);
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
  properties[PROP_KIND] =
    g_param_spec_enum ("kind", NULL, NULL, SHERD_TYPE_PAINT_KIND, SHERD_PAINT_PAINT, SHERD_PART_PROPERTY);
  properties[PROP_BATCH_G] = sherd_part_new_maybe_spec ("batch-g", SHERD_BATCH_MIN_G, SHERD_BATCH_MAX_G);
  properties[PROP_RECIPE] = g_param_spec_boxed ("recipe", NULL, NULL, SHERD_TYPE_RECIPE, SHERD_PART_PROPERTY);
  properties[PROP_REVISION] =
    g_param_spec_uint ("revision", NULL, NULL, 1, SHERD_REVISIONS_MAX, 1, SHERD_PART_PROPERTY);
  properties[PROP_EARLIER] = g_param_spec_boxed ("earlier", NULL, NULL, SHERD_TYPE_REVISIONS, SHERD_PART_PROPERTY);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_paint_init (SherdPaint *self)
{
  self->code = g_strdup ("");
  self->name = g_strdup ("");
  self->note = g_strdup ("");
  self->batch_g = NAN;
  self->recipe = sherd_recipe_new ();
  self->revision = 1;
  self->earlier = sherd_revisions_new ();
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

/**
 * sherd_paint_get_kind:
 * @self: a paint
 *
 * Returns: whether it is painted on a ground or makes one
 */
SherdPaintKind
sherd_paint_get_kind (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), SHERD_PAINT_PAINT);
  return self->kind;
}

/**
 * sherd_paint_get_batch_g:
 * @self: a paint
 *
 * Returns: the dry mass that is planned to be mixed, g; NAN when none is planned
 */
double
sherd_paint_get_batch_g (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NAN);
  return self->batch_g;
}

/**
 * sherd_paint_get_recipe:
 * @self: a paint
 *
 * Returns: (transfer none): what it is mixed of, as it stands
 */
const SherdRecipe *
sherd_paint_get_recipe (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NULL);
  return self->recipe;
}

/**
 * sherd_paint_get_revision:
 * @self: a paint
 *
 * Returns: the number of the present recipe, from 1
 */
guint
sherd_paint_get_revision (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), 0);
  return self->revision;
}

/**
 * sherd_paint_get_earlier:
 * @self: a paint
 *
 * Returns: (transfer none): the recipes that were fired and changed since, oldest first
 */
const SherdRevisions *
sherd_paint_get_earlier (SherdPaint *self)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NULL);
  return self->earlier;
}

/**
 * sherd_paint_find_recipe:
 * @self: a paint
 * @revision: number of a revision; 0 stands for the present one
 *
 * Returns: (transfer none) (nullable): the recipe of that revision
 */
const SherdRecipe *
sherd_paint_find_recipe (SherdPaint *self, guint revision)
{
  g_return_val_if_fail (SHERD_IS_PAINT (self), NULL);
  if (revision == 0 || revision == self->revision)
    return self->recipe;
  for (guint i = 0; i < self->earlier->n_revisions; i++)
    if (self->earlier->revisions[i].number == revision)
      return self->earlier->revisions[i].recipe;
  return NULL;
}
