/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/reference.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/error.h"
#include "trial/part-private.h"

/* Reference colours: L* may pass 100 a little on fluorescent paper, no surface leaves the rest. */
#define MAX_LIGHTNESS 110.0
#define MAX_AB 200.0

struct _SherdReference
{
  GObject parent_instance;

  SherdReferenceKind kind;
  char *description;
  double width_mm;
  double height_mm;
  GArray *patches; /* of SherdReferencePatch */
  JsonObject *unknown;
};

enum
{
  PROP_0,
  PROP_KIND,
  PROP_DESCRIPTION,
  PROP_WIDTH_MM,
  PROP_HEIGHT_MM,
  N_PROPERTIES
};

static GParamSpec *properties[N_PROPERTIES];

G_DEFINE_ENUM_TYPE (SherdReferenceKind,
                    sherd_reference_kind,
                    G_DEFINE_ENUM_VALUE (SHERD_REFERENCE_NONE, "none"),
                    G_DEFINE_ENUM_VALUE (SHERD_REFERENCE_GREY_CARD, "grey-card"),
                    G_DEFINE_ENUM_VALUE (SHERD_REFERENCE_CHART, "chart"))
G_DEFINE_FINAL_TYPE (SherdReference, sherd_reference, G_TYPE_OBJECT)

static void
sherd_reference_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdReference *self = SHERD_REFERENCE (object);

  switch (id)
    {
    case PROP_KIND:
      g_value_set_enum (value, self->kind);
      break;
    case PROP_DESCRIPTION:
      g_value_set_string (value, self->description);
      break;
    case PROP_WIDTH_MM:
      g_value_set_double (value, self->width_mm);
      break;
    case PROP_HEIGHT_MM:
      g_value_set_double (value, self->height_mm);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_reference_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdReference *self = SHERD_REFERENCE (object);

  switch (id)
    {
    case PROP_KIND:
      self->kind = g_value_get_enum (value);
      break;
    case PROP_DESCRIPTION:
      sherd_part_replace_text (&self->description, value);
      break;
    case PROP_WIDTH_MM:
      self->width_mm = g_value_get_double (value);
      break;
    case PROP_HEIGHT_MM:
      self->height_mm = g_value_get_double (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_reference_finalize (GObject *object)
{
  SherdReference *self = SHERD_REFERENCE (object);

  g_free (self->description);
  g_clear_pointer (&self->patches, g_array_unref);
  g_clear_pointer (&self->unknown, json_object_unref);
  G_OBJECT_CLASS (sherd_reference_parent_class)->finalize (object);
}

static void
sherd_reference_class_init (SherdReferenceClass *klass)
{
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_reference_get_property;
  object_class->set_property = sherd_reference_set_property;
  object_class->finalize = sherd_reference_finalize;

  properties[PROP_KIND] =
    g_param_spec_enum ("kind", NULL, NULL, SHERD_TYPE_REFERENCE_KIND, SHERD_REFERENCE_NONE, flags);
  properties[PROP_DESCRIPTION] = g_param_spec_string ("description", NULL, NULL, "", flags);
  properties[PROP_WIDTH_MM] = g_param_spec_double ("width-mm", NULL, NULL, 0.0, SHERD_CHART_MAX_MM, 0.0, flags);
  properties[PROP_HEIGHT_MM] = g_param_spec_double ("height-mm", NULL, NULL, 0.0, SHERD_CHART_MAX_MM, 0.0, flags);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);
}

static void
clear_patch (gpointer data)
{
  SherdReferencePatch *patch = data;

  g_free (patch->name);
  g_clear_pointer (&patch->unknown, json_object_unref);
}

static void
sherd_reference_init (SherdReference *self)
{
  self->patches = g_array_new (FALSE, TRUE, sizeof (SherdReferencePatch));
  g_array_set_clear_func (self->patches, clear_patch);
}

static void
append_patch (SherdReference *self, const SherdReferencePatch *patch)
{
  const SherdReferencePatch copy = {
    .name = g_strdup (patch->name),
    .rectangle_mm = patch->rectangle_mm,
    .lab = patch->lab,
    .unknown = patch->unknown != NULL ? json_object_ref (patch->unknown) : NULL,
  };

  g_array_append_val (self->patches, copy);
}

/**
 * sherd_reference_new_none:
 *
 * Returns: (transfer full): no reference: a photograph with nothing in it to compare its light by
 */
SherdReference *
sherd_reference_new_none (void)
{
  return g_object_new (SHERD_TYPE_REFERENCE, NULL);
}

/**
 * sherd_reference_check_lab:
 * @lab: a reference colour
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE for a colour that no surface has
 */
gboolean
sherd_reference_check_lab (const SherdLab *lab, GError **error)
{
  if (lab->l >= 0.0 && lab->l <= MAX_LIGHTNESS && fabs (lab->a) <= MAX_AB && fabs (lab->b) <= MAX_AB)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("The reference colour L*a*b* %g, %g, %g cannot be: L* is from 0 to %g, a* and b* from −%g to %g."),
               lab->l, lab->a, lab->b, MAX_LIGHTNESS, MAX_AB, MAX_AB);
  return FALSE;
}

/**
 * sherd_reference_new_grey_card:
 * @description: what card it is
 * @width_mm: its frame, whose corners are marked
 * @height_mm: likewise
 * @lab: its colour, D50
 * @error: place for an error
 *
 * Returns: (transfer full): a card of one colour; NULL with SHERD_TRIAL_ERROR_VALUE when no surface has that colour
 */
SherdReference *
sherd_reference_new_grey_card (const char *description,
                               double width_mm,
                               double height_mm,
                               const SherdLab *lab,
                               GError **error)
{
  const SherdReferencePatch patch = {
    .name = (char *)"A1",
    .rectangle_mm = { 0.0, 0.0, width_mm, height_mm },
    .lab = *lab,
  };

  if (!sherd_reference_check_lab (lab, error))
    return NULL;
  return sherd_reference_new_patches (SHERD_REFERENCE_GREY_CARD, description, width_mm, height_mm, &patch, 1);
}

/**
 * sherd_reference_new_chart:
 * @chart: names and colours of its patches
 * @layout: where they lie
 * @error: place for an error
 *
 * Joins colours and places by name, see sherd_chart_layout_match ().
 *
 * Returns: (transfer full): a chart whose patches are named A1, A2, … by row and column; NULL with
 * SHERD_TRIAL_ERROR_VALUE when the layout cannot be or a place has no colour or one that cannot be
 */
SherdReference *
sherd_reference_new_chart (const SherdChart *chart, const SherdChartLayout *layout, GError **error)
{
  g_autoptr (SherdReference) self = NULL;
  g_autofree guint *indices = NULL;

  if (!sherd_chart_layout_check (layout, error))
    return NULL;
  indices = sherd_chart_layout_match (layout, chart, error);
  if (indices == NULL)
    return NULL;

  self = sherd_reference_new_patches (SHERD_REFERENCE_CHART, chart->description, layout->frame_width_mm,
                                      layout->frame_height_mm, NULL, 0);
  for (guint i = 0; i < layout->n_rows * layout->n_columns; i++)
    {
      const guint row = i / layout->n_columns, column = i % layout->n_columns;
      g_autofree char *name = sherd_grid_code (row, column);
      const SherdReferencePatch patch = {
        .name = name,
        .rectangle_mm = sherd_chart_layout_patch (layout, row, column),
        .lab = g_array_index (chart->patches, SherdChartPatch, indices[i]).lab,
      };

      if (!sherd_reference_check_lab (&patch.lab, error))
        return NULL;
      append_patch (self, &patch);
    }
  return g_steal_pointer (&self);
}

/**
 * sherd_reference_new_patches:
 * @kind: chart or grey card
 * @description: what it is
 * @width_mm: the frame whose corners are marked
 * @height_mm: likewise
 * @patches: (array length=n_patches): copied
 * @n_patches: how many
 *
 * Returns: (transfer full): a reference of freely placed patches
 */
SherdReference *
sherd_reference_new_patches (SherdReferenceKind kind,
                             const char *description,
                             double width_mm,
                             double height_mm,
                             const SherdReferencePatch *patches,
                             gsize n_patches)
{
  SherdReference *self = g_object_new (SHERD_TYPE_REFERENCE, "kind", kind, "description", description, "width-mm",
                                       width_mm, "height-mm", height_mm, NULL);

  for (gsize i = 0; i < n_patches; i++)
    append_patch (self, &patches[i]);
  return self;
}

/**
 * sherd_reference_get_kind:
 * @self: a reference
 *
 * Returns: none, grey card or chart
 */
SherdReferenceKind
sherd_reference_get_kind (SherdReference *self)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), SHERD_REFERENCE_NONE);
  return self->kind;
}

/**
 * sherd_reference_get_description:
 * @self: a reference
 *
 * Returns: what it is, may be empty
 */
const char *
sherd_reference_get_description (SherdReference *self)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), NULL);
  return self->description;
}

/**
 * sherd_reference_get_width_mm:
 * @self: a reference
 *
 * Returns: width of the frame in which its marks are picked; 0 for no reference
 */
double
sherd_reference_get_width_mm (SherdReference *self)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), 0.0);
  return self->width_mm;
}

/**
 * sherd_reference_get_height_mm:
 * @self: a reference
 *
 * Returns: height of the frame in which its marks are picked; 0 for no reference
 */
double
sherd_reference_get_height_mm (SherdReference *self)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), 0.0);
  return self->height_mm;
}

static guint
count_columns (SherdReference *self)
{
  const SherdReferencePatch *patches = (const SherdReferencePatch *)(gpointer)self->patches->data;
  guint n_columns = 0;

  while (n_columns < self->patches->len && patches[n_columns].rectangle_mm.y_mm == patches[0].rectangle_mm.y_mm)
    n_columns++;
  return n_columns;
}

/* As sherd_chart_layout_init_plain () lays a chart out: so and so many mm a patch, which stand for any size. */
static gboolean
is_plain (SherdReference *self)
{
  const SherdReferencePatch *patches = (const SherdReferencePatch *)(gpointer)self->patches->data;
  const guint n_columns = count_columns (self);
  SherdChartLayout plain;
  SherdRectangle first;

  if (n_columns == 0)
    return FALSE;
  sherd_chart_layout_init_plain (&plain, self->patches->len / n_columns, n_columns);
  first = sherd_chart_layout_patch (&plain, 0, 0);
  return self->width_mm == plain.frame_width_mm && self->height_mm == plain.frame_height_mm &&
         sherd_rectangle_equal (&patches[0].rectangle_mm, &first, 0.0);
}

/**
 * sherd_reference_is_sized:
 * @self: a reference
 *
 * Returns: whether its frame has the size of the real thing, so that its size in a photograph tells how far away it is
 */
gboolean
sherd_reference_is_sized (SherdReference *self)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), FALSE);
  return self->kind == SHERD_REFERENCE_CHART && !is_plain (self);
}

/**
 * sherd_reference_get_patches:
 * @self: a reference
 * @n_patches: (out): how many
 *
 * Returns: (array length=n_patches): its patches in reading order
 */
const SherdReferencePatch *
sherd_reference_get_patches (SherdReference *self, gsize *n_patches)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), NULL);
  *n_patches = self->patches->len;
  return (const SherdReferencePatch *)(gpointer)self->patches->data;
}

static gboolean
patch_equal (const SherdReferencePatch *first, const SherdReferencePatch *second)
{
  const SherdRectangle *a = &first->rectangle_mm, *b = &second->rectangle_mm;

  return g_strcmp0 (first->name, second->name) == 0 && a->x_mm == b->x_mm && a->y_mm == b->y_mm &&
         a->width_mm == b->width_mm && a->height_mm == b->height_mm && first->lab.l == second->lab.l &&
         first->lab.a == second->lab.a && first->lab.b == second->lab.b;
}

/**
 * sherd_reference_equal:
 * @first: a reference
 * @second: another
 *
 * Tells whether the two are the same chart or card as far as the trial knows: same kind, description, frame, places and
 * colours. Errors of its values are then shared by both photographs.
 *
 * Returns: whether they are
 */
gboolean
sherd_reference_equal (SherdReference *first, SherdReference *second)
{
  if (first == second)
    return TRUE;
  if (first->kind != second->kind || !g_str_equal (first->description, second->description) ||
      first->width_mm != second->width_mm || first->height_mm != second->height_mm ||
      first->patches->len != second->patches->len)
    return FALSE;
  for (guint i = 0; i < first->patches->len; i++)
    if (!patch_equal (&g_array_index (first->patches, SherdReferencePatch, i),
                      &g_array_index (second->patches, SherdReferencePatch, i)))
      return FALSE;
  return TRUE;
}

/**
 * sherd_reference_get_unknown:
 * @self: a reference
 *
 * Returns: (nullable) (transfer none): members of the file that this program does not know
 */
JsonObject *
sherd_reference_get_unknown (SherdReference *self)
{
  g_return_val_if_fail (SHERD_IS_REFERENCE (self), NULL);
  return self->unknown;
}

/**
 * sherd_reference_set_unknown:
 * @self: a reference just read
 * @unknown: (nullable) (transfer full): members to be written back as they are
 */
void
sherd_reference_set_unknown (SherdReference *self, JsonObject *unknown)
{
  g_return_if_fail (SHERD_IS_REFERENCE (self));
  g_clear_pointer (&self->unknown, json_object_unref);
  self->unknown = unknown;
}
