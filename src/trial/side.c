/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/side.h"

#include <math.h>

#include "trial/part-private.h"

struct _SherdSide
{
  SherdPart parent_instance;

  char *name;
  char *ground;
  SherdBurnish burnish;
  double drying_days;
  GListStore *zones;
};

enum
{
  PROP_0,
  PROP_NAME,
  PROP_GROUND,
  PROP_BURNISH,
  PROP_DRYING_DAYS,
  PROP_ZONES,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_ENUM_TYPE (SherdBurnish,
                    sherd_burnish,
                    G_DEFINE_ENUM_VALUE (SHERD_BURNISH_NONE, "none"),
                    G_DEFINE_ENUM_VALUE (SHERD_BURNISH_BEFORE, "before"),
                    G_DEFINE_ENUM_VALUE (SHERD_BURNISH_OVER, "over"))
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
    case PROP_BURNISH:
      g_value_set_enum (value, self->burnish);
      break;
    case PROP_DRYING_DAYS:
      g_value_set_double (value, self->drying_days);
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
    case PROP_BURNISH:
      self->burnish = g_value_get_enum (value);
      break;
    case PROP_DRYING_DAYS:
      self->drying_days = g_value_get_double (value);
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
  properties[PROP_BURNISH] =
    g_param_spec_enum ("burnish", NULL, NULL, SHERD_TYPE_BURNISH, SHERD_BURNISH_NONE, SHERD_PART_PROPERTY);
  properties[PROP_DRYING_DAYS] = sherd_part_new_maybe_spec ("drying-days", 0.0, 10000.0);
  properties[PROP_ZONES] =
    g_param_spec_object ("zones", NULL, NULL, G_TYPE_LIST_MODEL, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
sherd_side_init (SherdSide *self)
{
  self->name = g_strdup ("");
  self->ground = g_strdup ("");
  self->drying_days = NAN;
  self->zones = g_list_store_new (SHERD_TYPE_ZONE);
}

/**
 * sherd_side_new:
 * @id: (nullable): its id, unique within the piece
 * @name: "face", "back", "outside" or "inside"
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
 * Returns: "face", "back", "outside" or "inside"; sherd_format_side () has the word for the user
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
 * sherd_side_get_burnish:
 * @self: a side
 *
 * Returns: whether it was burnished, before it was painted or over the paint
 */
SherdBurnish
sherd_side_get_burnish (SherdSide *self)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), SHERD_BURNISH_NONE);
  return self->burnish;
}

/**
 * sherd_side_get_drying_days:
 * @self: a side
 *
 * Returns: how long it dried between painting and firing; NAN when not known
 */
double
sherd_side_get_drying_days (SherdSide *self)
{
  g_return_val_if_fail (SHERD_IS_SIDE (self), NAN);
  return self->drying_days;
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

static gboolean
has_cell (SherdSide *self, guint row, guint column, SherdRectangle *cell)
{
  g_autofree char *code = sherd_grid_code (row, column);
  SherdZone *zone = sherd_side_find_zone_by_code (self, code);

  if (zone == NULL || sherd_zone_get_polygon (zone) != NULL)
    return FALSE;
  sherd_zone_get_rectangle (zone, cell);
  return TRUE;
}

/* A gap that no two zones show is taken to be the other one. */
static void
read_gaps (SherdSide *self, SherdGrid *grid)
{
  SherdRectangle first, beside, below;
  const gboolean has_beside = has_cell (self, 0, 0, &first) && has_cell (self, 0, 1, &beside);
  const gboolean has_below = has_cell (self, 1, 0, &below);

  grid->gap_x_mm = has_beside ? beside.x_mm - first.x_mm - first.width_mm : 0.0;
  grid->gap_y_mm = has_below ? below.y_mm - first.y_mm - first.height_mm : grid->gap_x_mm;
  if (!has_beside)
    grid->gap_x_mm = grid->gap_y_mm;
}

static gboolean
cells_lie_on (SherdSide *self, double width_mm, double height_mm, const SherdGrid *grid)
{
  for (guint row = 0; row < grid->n_rows; row++)
    for (guint column = 0; column < grid->n_columns; column++)
      {
        const SherdRectangle wanted = sherd_grid_cell (grid, width_mm, height_mm, row, column);
        SherdRectangle cell;

        if (!has_cell (self, row, column, &cell) || !sherd_rectangle_equal (&cell, &wanted, SHERD_ZONE_SAME_PLACE_MM))
          return FALSE;
      }
  return TRUE;
}

/**
 * sherd_side_find_grid:
 * @self: a side
 * @width_mm: width of the face
 * @height_mm: height of the face
 * @grid: (out): rows, columns, margins and gaps of its zones
 *
 * The grid that sherd_trial_set_zone_grid () would have to be given for the zones to stay where they are.
 *
 * Returns: FALSE when the zones are not such a grid: moved, added or removed one by one
 */
gboolean
sherd_side_find_grid (SherdSide *self, double width_mm, double height_mm, SherdGrid *grid)
{
  SherdRectangle first, last;

  g_return_val_if_fail (SHERD_IS_SIDE (self), FALSE);
  *grid = (SherdGrid){ 0 };
  while (has_cell (self, grid->n_rows, 0, &last))
    grid->n_rows++;
  while (has_cell (self, 0, grid->n_columns, &last))
    grid->n_columns++;
  if (grid->n_rows * grid->n_columns != g_list_model_get_n_items (G_LIST_MODEL (self->zones)) ||
      !has_cell (self, 0, 0, &first) || !has_cell (self, grid->n_rows - 1, grid->n_columns - 1, &last))
    return FALSE;
  grid->left_mm = first.x_mm;
  grid->top_mm = first.y_mm;
  grid->right_mm = fmax (width_mm - last.x_mm - last.width_mm, 0.0);
  grid->bottom_mm = fmax (height_mm - last.y_mm - last.height_mm, 0.0);
  read_gaps (self, grid);
  return sherd_grid_check (grid, width_mm, height_mm, NULL) && cells_lie_on (self, width_mm, height_mm, grid);
}
