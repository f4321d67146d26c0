/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/piece.h"

#include <math.h>

#include "trial/part-private.h"

/* Numbers about the clay, in the order of their properties. */
enum
{
  BAR_LEATHER_HARD,
  BAR_DRY,
  BAR_FIRED,
  DRYING,
  DRYING_DOUBT,
  FIRING,
  FIRING_DOUBT,
  N_CLAY
};

static const struct
{
  const char *name;
  double least;
  double most;
} clay_properties[N_CLAY] = {
  { "bar-leather-hard-mm", 10.0, 1000.0 }, { "bar-dry-mm", 10.0, 1000.0 },
  { "bar-fired-mm", 10.0, 1000.0 },        { "drying-pct", -5.0, 25.0 },
  { "drying-doubt-pct", 0.0, 25.0 },       { "firing-pct", -5.0, 25.0 },
  { "firing-doubt-pct", 0.0, 25.0 },
};

/* Common practice, no source: a scribed line is a third of a millimetre wide. */
#define BAR_SD_MM 0.3

struct _SherdPiece
{
  SherdPart parent_instance;

  char *name;
  SherdPieceKind kind;
  double width_mm;
  double height_mm;
  double thickness_mm;
  SherdForm *form;
  SherdClayState state;
  SherdClayState painted_state;
  double clay[N_CLAY];
  GListStore *sides;
};

enum
{
  PROP_0,
  PROP_NAME,
  PROP_KIND,
  PROP_WIDTH_MM,
  PROP_HEIGHT_MM,
  PROP_THICKNESS_MM,
  PROP_FORM,
  PROP_STATE,
  PROP_PAINTED_STATE,
  PROP_SIDES,
  PROP_CLAY_FIRST,
  PROP_CLAY_LAST = PROP_CLAY_FIRST + N_CLAY - 1,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_ENUM_TYPE (SherdPieceKind,
                    sherd_piece_kind,
                    G_DEFINE_ENUM_VALUE (SHERD_PIECE_TILE, "tile"),
                    G_DEFINE_ENUM_VALUE (SHERD_PIECE_DISC, "disc"),
                    G_DEFINE_ENUM_VALUE (SHERD_PIECE_VESSEL, "vessel"),
                    G_DEFINE_ENUM_VALUE (SHERD_PIECE_SHERD, "sherd"))
G_DEFINE_ENUM_TYPE (SherdClayState,
                    sherd_clay_state,
                    G_DEFINE_ENUM_VALUE (SHERD_CLAY_LEATHER_HARD, "leather-hard"),
                    G_DEFINE_ENUM_VALUE (SHERD_CLAY_DRY, "dry"),
                    G_DEFINE_ENUM_VALUE (SHERD_CLAY_FIRED, "fired"))
G_DEFINE_FINAL_TYPE (SherdPiece, sherd_piece, SHERD_TYPE_PART)

static void
sherd_piece_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdPiece *self = SHERD_PIECE (object);

  switch (id)
    {
    case PROP_NAME:
      g_value_set_string (value, self->name);
      break;
    case PROP_KIND:
      g_value_set_enum (value, self->kind);
      break;
    case PROP_WIDTH_MM:
      g_value_set_double (value, self->width_mm);
      break;
    case PROP_HEIGHT_MM:
      g_value_set_double (value, self->height_mm);
      break;
    case PROP_THICKNESS_MM:
      g_value_set_double (value, self->thickness_mm);
      break;
    case PROP_FORM:
      g_value_set_boxed (value, self->form);
      break;
    case PROP_STATE:
      g_value_set_enum (value, self->state);
      break;
    case PROP_PAINTED_STATE:
      g_value_set_enum (value, self->painted_state);
      break;
    case PROP_SIDES:
      g_value_set_object (value, self->sides);
      break;
    default:
      if (id >= PROP_CLAY_FIRST && id <= PROP_CLAY_LAST)
        g_value_set_double (value, self->clay[id - PROP_CLAY_FIRST]);
      else
        G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
measure_vessel (SherdPiece *self)
{
  double widest_mm = 0.0, highest_mm = 0.0;

  for (gsize i = 0; i < self->form->n_outside; i++)
    {
      widest_mm = MAX (widest_mm, 2.0 * self->form->outside[i].r_mm);
      highest_mm = MAX (highest_mm, self->form->outside[i].z_mm);
    }
  self->width_mm = widest_mm;
  self->height_mm = highest_mm;
}

static void
measure_edge (SherdPiece *self)
{
  const SherdOutline *edge = self->form->edge;

  self->width_mm = self->height_mm = 0.0;
  for (gsize i = 0; i < edge->n_points; i++)
    {
      self->width_mm = MAX (self->width_mm, edge->points[i].x);
      self->height_mm = MAX (self->height_mm, edge->points[i].y);
    }
}

/* Width and height of what has a profile or an edge follow from it, so that they can never tell another tale. */
static void
set_form (SherdPiece *self, const SherdForm *form)
{
  g_clear_pointer (&self->form, sherd_form_free);
  self->form = form != NULL ? sherd_form_copy (form) : NULL;
  if (form != NULL && form->n_outside > 0)
    measure_vessel (self);
  if (form != NULL && form->edge != NULL)
    measure_edge (self);
}

static void
sherd_piece_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdPiece *self = SHERD_PIECE (object);

  switch (id)
    {
    case PROP_NAME:
      sherd_part_replace_text (&self->name, value);
      break;
    case PROP_KIND:
      self->kind = g_value_get_enum (value);
      break;
    case PROP_WIDTH_MM:
      self->width_mm = g_value_get_double (value);
      break;
    case PROP_HEIGHT_MM:
      self->height_mm = g_value_get_double (value);
      break;
    case PROP_THICKNESS_MM:
      self->thickness_mm = g_value_get_double (value);
      break;
    case PROP_FORM:
      set_form (self, g_value_get_boxed (value));
      break;
    case PROP_STATE:
      self->state = g_value_get_enum (value);
      break;
    case PROP_PAINTED_STATE:
      self->painted_state = g_value_get_enum (value);
      break;
    default:
      if (id >= PROP_CLAY_FIRST && id <= PROP_CLAY_LAST)
        self->clay[id - PROP_CLAY_FIRST] = g_value_get_double (value);
      else
        G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_piece_finalize (GObject *object)
{
  SherdPiece *self = SHERD_PIECE (object);

  g_free (self->name);
  g_clear_pointer (&self->form, sherd_form_free);
  g_clear_object (&self->sides);
  G_OBJECT_CLASS (sherd_piece_parent_class)->finalize (object);
}

static void
sherd_piece_class_init (SherdPieceClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_piece_get_property;
  object_class->set_property = sherd_piece_set_property;
  object_class->finalize = sherd_piece_finalize;

  properties[PROP_NAME] = g_param_spec_string ("name", NULL, NULL, "", SHERD_PART_PROPERTY);
  properties[PROP_KIND] =
    g_param_spec_enum ("kind", NULL, NULL, SHERD_TYPE_PIECE_KIND, SHERD_PIECE_TILE, SHERD_PART_PROPERTY);
  properties[PROP_WIDTH_MM] = g_param_spec_double ("width-mm", NULL, NULL, SHERD_PIECE_MIN_MM, SHERD_PIECE_MAX_MM,
                                                   SHERD_PIECE_MIN_MM, SHERD_PART_PROPERTY);
  properties[PROP_HEIGHT_MM] = g_param_spec_double ("height-mm", NULL, NULL, SHERD_PIECE_MIN_MM, SHERD_PIECE_MAX_MM,
                                                    SHERD_PIECE_MIN_MM, SHERD_PART_PROPERTY);
  properties[PROP_THICKNESS_MM] =
    g_param_spec_double ("thickness-mm", NULL, NULL, 0.0, SHERD_PIECE_MAX_MM, 0.0, SHERD_PART_PROPERTY);
  properties[PROP_FORM] = g_param_spec_boxed ("form", NULL, NULL, SHERD_TYPE_FORM, SHERD_PART_PROPERTY);
  properties[PROP_STATE] =
    g_param_spec_enum ("state", NULL, NULL, SHERD_TYPE_CLAY_STATE, SHERD_CLAY_LEATHER_HARD, SHERD_PART_PROPERTY);
  properties[PROP_PAINTED_STATE] = g_param_spec_enum ("painted-state", NULL, NULL, SHERD_TYPE_CLAY_STATE,
                                                      SHERD_CLAY_LEATHER_HARD, SHERD_PART_PROPERTY);
  properties[PROP_SIDES] =
    g_param_spec_object ("sides", NULL, NULL, G_TYPE_LIST_MODEL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  for (guint i = 0; i < N_CLAY; i++)
    properties[PROP_CLAY_FIRST + i] =
      sherd_part_new_maybe_spec (clay_properties[i].name, clay_properties[i].least, clay_properties[i].most);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_piece_init (SherdPiece *self)
{
  self->name = g_strdup ("");
  self->width_mm = SHERD_PIECE_MIN_MM;
  self->height_mm = SHERD_PIECE_MIN_MM;
  self->sides = g_list_store_new (SHERD_TYPE_SIDE);
  for (guint i = 0; i < N_CLAY; i++)
    self->clay[i] = NAN;
}

/**
 * sherd_piece_kind_get_sides:
 * @kind: a kind of piece
 *
 * Returns: (transfer none) (array zero-terminated=1): the names of its sides as the file has them, the one that is
 * painted first in front
 */
const char *const *
sherd_piece_kind_get_sides (SherdPieceKind kind)
{
  static const char *const of_slab[] = { "face", "back", NULL };
  static const char *const of_vessel[] = { "outside", "inside", NULL };

  return kind == SHERD_PIECE_VESSEL ? of_vessel : of_slab;
}

/**
 * sherd_piece_new:
 * @id: (nullable): its id in the trial
 * @name: what the potter calls it
 * @width_mm: width of the face
 * @height_mm: height of the face
 * @thickness_mm: 0 when not known
 *
 * Returns: (transfer full): a leather-hard tile without sides
 */
SherdPiece *
sherd_piece_new (const char *id, const char *name, double width_mm, double height_mm, double thickness_mm)
{
  return g_object_new (SHERD_TYPE_PIECE, "id", id, "name", name, "width-mm", width_mm, "height-mm", height_mm,
                       "thickness-mm", thickness_mm, NULL);
}

/**
 * sherd_piece_get_name:
 * @self: a piece
 *
 * Returns: what the potter calls it
 */
const char *
sherd_piece_get_name (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), NULL);
  return self->name;
}

/**
 * sherd_piece_get_kind:
 * @self: a piece
 *
 * Returns: what kind of piece it is
 */
SherdPieceKind
sherd_piece_get_kind (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), SHERD_PIECE_TILE);
  return self->kind;
}

/**
 * sherd_piece_get_width_mm:
 * @self: a piece
 *
 * Returns: width of its face, or the greatest diameter of a vessel, in the state of sherd_piece_get_state ()
 */
double
sherd_piece_get_width_mm (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), 0.0);
  return self->width_mm;
}

/**
 * sherd_piece_get_height_mm:
 * @self: a piece
 *
 * Returns: height of its face, or of a vessel, in the state of sherd_piece_get_state ()
 */
double
sherd_piece_get_height_mm (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), 0.0);
  return self->height_mm;
}

/**
 * sherd_piece_get_thickness_mm:
 * @self: a piece
 *
 * Returns: thickness of the slab or the wall, 0 when not known
 */
double
sherd_piece_get_thickness_mm (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), 0.0);
  return self->thickness_mm;
}

/**
 * sherd_piece_get_form:
 * @self: a piece
 *
 * Returns: (nullable): profile, edge and holes; %NULL for a plain tile or disc
 */
const SherdForm *
sherd_piece_get_form (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), NULL);
  return self->form;
}

/**
 * sherd_piece_is_vessel:
 * @self: a piece
 *
 * Returns: whether places on it are azimuths and distances from the lip
 */
gboolean
sherd_piece_is_vessel (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), FALSE);
  return self->kind == SHERD_PIECE_VESSEL;
}

/**
 * sherd_piece_has_own_size:
 * @self: a piece
 *
 * Returns: whether its width and height are measures of their own, as of a tile or disc, and not those of its form
 */
gboolean
sherd_piece_has_own_size (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), FALSE);
  return self->kind == SHERD_PIECE_TILE || self->kind == SHERD_PIECE_DISC;
}

/**
 * sherd_piece_get_painted_state:
 * @self: a piece
 *
 * Returns: the state of the clay in which it is to be painted
 */
SherdClayState
sherd_piece_get_painted_state (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), SHERD_CLAY_LEATHER_HARD);
  return self->painted_state;
}

/**
 * sherd_piece_get_state:
 * @self: a piece
 *
 * Returns: the state of the clay in which it was measured
 */
SherdClayState
sherd_piece_get_state (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), SHERD_CLAY_LEATHER_HARD);
  return self->state;
}

/* From a bar measured in both states, or else from what is said of the clay, or else @usual. */
static SherdShrinkage
shrinkage_between (SherdPiece *self, guint bar_before, guint pct, SherdShrinkage usual)
{
  const SherdLength before = { self->clay[bar_before], BAR_SD_MM }, after = { self->clay[bar_before + 1], BAR_SD_MM };
  const double doubt_pct = self->clay[pct + 1];
  SherdShrinkage shrinkage;

  if (!isnan (before.mm) && !isnan (after.mm) && sherd_shrinkage_from_bar (&before, &after, &shrinkage, NULL))
    return shrinkage;
  if (isnan (self->clay[pct]))
    return usual;
  return (SherdShrinkage){ self->clay[pct] / 100.0, isnan (doubt_pct) ? usual.sd_frac : doubt_pct / 100.0 };
}

/**
 * sherd_piece_get_shrinkage:
 * @self: a piece
 *
 * Returns: how its clay shrinks in drying and in firing, from the bar scribed on it or from what is said of the clay;
 * else what such clays usually do, with its doubt
 */
SherdClayShrinkage
sherd_piece_get_shrinkage (SherdPiece *self)
{
  const SherdClayShrinkage usual = sherd_shrinkage_unknown ();

  g_return_val_if_fail (SHERD_IS_PIECE (self), usual);
  return (SherdClayShrinkage){
    .drying = shrinkage_between (self, BAR_LEATHER_HARD, DRYING, usual.drying),
    .firing = shrinkage_between (self, BAR_DRY, FIRING, usual.firing),
  };
}

/**
 * sherd_piece_get_sides:
 * @self: a piece
 *
 * Returns: (transfer none): its sides (SherdSide)
 */
GListModel *
sherd_piece_get_sides (SherdPiece *self)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), NULL);
  return G_LIST_MODEL (self->sides);
}

static SherdSide *
find_side (SherdPiece *self, const char *wanted, gboolean by_name)
{
  GListModel *sides = G_LIST_MODEL (self->sides);
  const guint n_sides = g_list_model_get_n_items (sides);

  for (guint i = 0; i < n_sides; i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      if (g_strcmp0 (by_name ? sherd_side_get_name (side) : sherd_part_get_id (SHERD_PART (side)), wanted) == 0)
        return side;
    }
  return NULL;
}

/**
 * sherd_piece_find_side:
 * @self: a piece
 * @id: the id of a side
 *
 * Returns: (nullable) (transfer none): the side
 */
SherdSide *
sherd_piece_find_side (SherdPiece *self, const char *id)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), NULL);
  return find_side (self, id, FALSE);
}

/**
 * sherd_piece_find_side_by_name:
 * @self: a piece
 * @name: "face", "back", "outside" or "inside"
 *
 * Returns: (nullable) (transfer none): the side
 */
SherdSide *
sherd_piece_find_side_by_name (SherdPiece *self, const char *name)
{
  g_return_val_if_fail (SHERD_IS_PIECE (self), NULL);
  return find_side (self, name, TRUE);
}

/**
 * sherd_piece_find_zone_side:
 * @self: a piece
 * @zone: a zone
 *
 * Returns: (nullable) (transfer none): the side of the piece on which it lies
 */
SherdSide *
sherd_piece_find_zone_side (SherdPiece *self, SherdZone *zone)
{
  GListModel *sides = G_LIST_MODEL (self->sides);

  g_return_val_if_fail (SHERD_IS_PIECE (self), NULL);
  for (guint i = 0; i < g_list_model_get_n_items (sides); i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      if (g_list_store_find (G_LIST_STORE (sherd_side_get_zones (side)), zone, NULL))
        return side;
    }
  return NULL;
}
