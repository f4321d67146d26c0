/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/comparison.h"

#include <glib/gi18n-lib.h>

#include "trial/format.h"
#include "trial/stage.h"

struct _SherdZoneShift
{
  GObject parent_instance;

  SherdZone *zone;
  SherdMeasurement *before_measurement; /* they own the colours */
  SherdMeasurement *after_measurement;
  const SherdZoneColour *before;
  const SherdZoneColour *after;
  SherdShift shift;
};

G_DEFINE_FINAL_TYPE (SherdZoneShift, sherd_zone_shift, G_TYPE_OBJECT)

static void
sherd_zone_shift_finalize (GObject *object)
{
  SherdZoneShift *self = SHERD_ZONE_SHIFT (object);

  g_clear_object (&self->zone);
  g_clear_object (&self->before_measurement);
  g_clear_object (&self->after_measurement);
  G_OBJECT_CLASS (sherd_zone_shift_parent_class)->finalize (object);
}

static void
sherd_zone_shift_class_init (SherdZoneShiftClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sherd_zone_shift_finalize;
}

static void
sherd_zone_shift_init (SherdZoneShift *self)
{
}

/**
 * sherd_zone_shift_get_zone:
 * @self: one zone compared
 *
 * Returns: (transfer none): the zone
 */
SherdZone *
sherd_zone_shift_get_zone (SherdZoneShift *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE_SHIFT (self), NULL);
  return self->zone;
}

/**
 * sherd_zone_shift_get_before:
 * @self: one zone compared
 *
 * Returns: (nullable): its colour in the first photograph
 */
const SherdZoneColour *
sherd_zone_shift_get_before (SherdZoneShift *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE_SHIFT (self), NULL);
  return self->before;
}

/**
 * sherd_zone_shift_get_after:
 * @self: one zone compared
 *
 * Returns: (nullable): its colour in the second photograph
 */
const SherdZoneColour *
sherd_zone_shift_get_after (SherdZoneShift *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE_SHIFT (self), NULL);
  return self->after;
}

/**
 * sherd_zone_shift_get_shift:
 * @self: one zone compared
 *
 * Returns: the shift, after minus before; not measured where one of the two is missing
 */
const SherdShift *
sherd_zone_shift_get_shift (SherdZoneShift *self)
{
  g_return_val_if_fail (SHERD_IS_ZONE_SHIFT (self), NULL);
  return &self->shift;
}

struct _SherdComparison
{
  GObject parent_instance;

  SherdMeasurement *before;
  SherdMeasurement *after;
  gboolean same_reference;
  GPtrArray *shifts; /* of SherdZoneShift */
};

static GType
sherd_comparison_get_item_type (GListModel *list)
{
  return SHERD_TYPE_ZONE_SHIFT;
}

static guint
sherd_comparison_get_n_items (GListModel *list)
{
  return SHERD_COMPARISON (list)->shifts->len;
}

static gpointer
sherd_comparison_get_item (GListModel *list, guint position)
{
  GPtrArray *shifts = SHERD_COMPARISON (list)->shifts;

  return position < shifts->len ? g_object_ref (g_ptr_array_index (shifts, position)) : NULL;
}

static void
list_model_init (GListModelInterface *iface)
{
  iface->get_item_type = sherd_comparison_get_item_type;
  iface->get_n_items = sherd_comparison_get_n_items;
  iface->get_item = sherd_comparison_get_item;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (SherdComparison,
                               sherd_comparison,
                               G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (G_TYPE_LIST_MODEL, list_model_init))

static void
sherd_comparison_finalize (GObject *object)
{
  SherdComparison *self = SHERD_COMPARISON (object);

  g_clear_object (&self->before);
  g_clear_object (&self->after);
  g_ptr_array_unref (self->shifts);
  G_OBJECT_CLASS (sherd_comparison_parent_class)->finalize (object);
}

static void
sherd_comparison_class_init (SherdComparisonClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sherd_comparison_finalize;
}

static void
sherd_comparison_init (SherdComparison *self)
{
  self->shifts = g_ptr_array_new_with_free_func (g_object_unref);
}

/**
 * sherd_comparison_get_before:
 * @self: a comparison
 *
 * Returns: (transfer none): the first measurement
 */
SherdMeasurement *
sherd_comparison_get_before (SherdComparison *self)
{
  g_return_val_if_fail (SHERD_IS_COMPARISON (self), NULL);
  return self->before;
}

/**
 * sherd_comparison_get_after:
 * @self: a comparison
 *
 * Returns: (transfer none): the second measurement
 */
SherdMeasurement *
sherd_comparison_get_after (SherdComparison *self)
{
  g_return_val_if_fail (SHERD_IS_COMPARISON (self), NULL);
  return self->after;
}

/**
 * sherd_comparison_get_same_reference:
 * @self: a comparison
 *
 * Returns: whether one and the same chart or card stands in both photographs, so that its errors cancel
 */
gboolean
sherd_comparison_get_same_reference (SherdComparison *self)
{
  g_return_val_if_fail (SHERD_IS_COMPARISON (self), FALSE);
  return self->same_reference;
}

static gsize
index_of (const SherdPhotoMeasurement *result, const SherdZoneColour *zone)
{
  return (gsize)(zone - result->zones);
}

static SherdZoneShift *
zone_shift_new (SherdComparison *comparison, SherdZone *zone, gulong seed)
{
  const char *id = sherd_part_get_id (SHERD_PART (zone));
  const SherdPhotoMeasurement *before = sherd_measurement_get_result (comparison->before);
  const SherdPhotoMeasurement *after = sherd_measurement_get_result (comparison->after);
  SherdZoneShift *self = g_object_new (SHERD_TYPE_ZONE_SHIFT, NULL);

  self->zone = g_object_ref (zone);
  self->before_measurement = g_object_ref (comparison->before);
  self->after_measurement = g_object_ref (comparison->after);
  self->before = sherd_measurement_find_zone (comparison->before, id);
  self->after = sherd_measurement_find_zone (comparison->after, id);
  if (self->before != NULL && self->after != NULL)
    sherd_shift_between (before, index_of (before, self->before), after, index_of (after, self->after),
                         comparison->same_reference, seed, &self->shift);
  return self;
}

static gboolean
share_reference (SherdPhotograph *before, SherdPhotograph *after)
{
  SherdReference *reference = sherd_photograph_get_reference (before);

  return sherd_reference_get_kind (reference) != SHERD_REFERENCE_NONE &&
         sherd_reference_equal (reference, sherd_photograph_get_reference (after));
}

static SherdComparison *
comparison_new (SherdTrial *trial, SherdMeasurement *before, SherdMeasurement *after)
{
  SherdPhotograph *photographs[2] = { sherd_measurement_get_photograph (before),
                                      sherd_measurement_get_photograph (after) };
  GListModel *zones = sherd_side_get_zones (sherd_photograph_get_side (photographs[0]));
  const guint n_zones = g_list_model_get_n_items (zones);
  SherdComparison *self = g_object_new (SHERD_TYPE_COMPARISON, NULL);

  self->before = g_object_ref (before);
  self->after = g_object_ref (after);
  self->same_reference = share_reference (photographs[0], photographs[1]);
  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      g_ptr_array_add (self->shifts, zone_shift_new (self, zone, (gulong)sherd_trial_get_seed (trial)));
    }
  return self;
}

static SherdMeasurement *
need_measurement (SherdTrial *trial, SherdPhotograph *photograph, GError **error)
{
  SherdMeasurement *measurement = sherd_trial_get_measurement (trial, photograph);
  const char *name = sherd_photograph_get_original_name (photograph);

  if (measurement != NULL)
    return measurement;
  if (sherd_trial_get_last_measurement (trial, photograph) != NULL)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE,
                 _ ("“%s” has changed since it was measured (marks, zones or reference). Measure it again."), name);
  else
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE,
                 _ ("“%s” has not been measured yet. Measure it first."), name);
  return NULL;
}

/**
 * sherd_trial_compare_photographs:
 * @trial: a trial
 * @before: a photograph
 * @after: another of the same side
 * @error: place for an error
 *
 * Pairs the zones of both measurements by id and gives the shift of each.
 *
 * Returns: (transfer full): the comparison; NULL with SHERD_TRIAL_ERROR_INCOMPLETE when one is not measured or stale,
 * or SHERD_TRIAL_ERROR_VALUE when they show different sides
 */
SherdComparison *
sherd_trial_compare_photographs (SherdTrial *trial, SherdPhotograph *before, SherdPhotograph *after, GError **error)
{
  SherdMeasurement *before_measurement, *after_measurement;

  if (sherd_photograph_get_side (before) != sherd_photograph_get_side (after))
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("“%s” and “%s” show different sides and cannot be compared."),
                   sherd_photograph_get_original_name (before), sherd_photograph_get_original_name (after));
      return NULL;
    }
  before_measurement = need_measurement (trial, before, error);
  after_measurement = before_measurement != NULL ? need_measurement (trial, after, error) : NULL;
  if (after_measurement == NULL)
    return NULL;
  return comparison_new (trial, before_measurement, after_measurement);
}

static gboolean
shows (SherdPhotograph *photograph, SherdSide *side, const char *stage)
{
  return sherd_photograph_get_side (photograph) == side &&
         (stage == NULL || g_str_equal (sherd_photograph_get_stage (photograph), stage));
}

/* Of several, the last one whose measurement holds; else the last one, whose lack the message will name. */
static SherdPhotograph *
choose_photograph (SherdTrial *trial, SherdSide *side, const char *stage)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  const guint n_photographs = g_list_model_get_n_items (photographs);
  SherdPhotograph *last = NULL, *measured = NULL;

  for (guint i = 0; i < n_photographs; i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      if (!shows (photograph, side, stage))
        continue;
      last = photograph;
      if (sherd_trial_get_measurement (trial, photograph) != NULL)
        measured = photograph;
    }
  return measured != NULL ? measured : last;
}

static SherdPhotograph *
need_photograph (SherdTrial *trial, SherdPiece *piece, SherdSide *side, const char *stage, GError **error)
{
  SherdPhotograph *photograph = choose_photograph (trial, side, stage);
  g_autofree char *stage_words = sherd_format_stage (stage);
  g_autofree char *side_words = sherd_format_side (sherd_side_get_name (side));

  if (photograph == NULL)
    /* Translators: piece, side and stage, such as “Tile 1”, “Face”, “After firing 1”. */
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE, _ ("There is no photograph of %s, %s: %s."),
                 sherd_piece_get_name (piece), side_words, stage_words);
  return photograph;
}

/**
 * sherd_trial_compare:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @stage_before: a stage
 * @stage_after: another
 * @error: place for an error
 *
 * Compares two stages of a side. Of several photographs of a stage the last one that is measured is taken.
 *
 * Returns: (transfer full): the comparison; NULL with SHERD_TRIAL_ERROR_INCOMPLETE, or SHERD_TRIAL_ERROR_VALUE when
 * both are the same
 */
SherdComparison *
sherd_trial_compare (SherdTrial *trial,
                     SherdPiece *piece,
                     SherdSide *side,
                     const char *stage_before,
                     const char *stage_after,
                     GError **error)
{
  SherdPhotograph *before, *after;

  if (!sherd_stage_check (stage_before, error) || !sherd_stage_check (stage_after, error))
    return NULL;
  if (sherd_stage_compare (stage_before, stage_after) == 0)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("A stage is compared with another one; “%s” was given for both."), stage_before);
      return NULL;
    }
  before = need_photograph (trial, piece, side, stage_before, error);
  after = before != NULL ? need_photograph (trial, piece, side, stage_after, error) : NULL;
  return after != NULL ? sherd_trial_compare_photographs (trial, before, after, error) : NULL;
}

static int
compare_stages (gconstpointer a, gconstpointer b)
{
  return sherd_stage_compare (*(const char *const *)a, *(const char *const *)b);
}

/**
 * sherd_trial_dup_stages:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 *
 * Returns: (transfer full): the stages of which the side has photographs, each once, in the order of the piece's life
 */
GStrv
sherd_trial_dup_stages (SherdTrial *trial, SherdPiece *piece, SherdSide *side)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  const guint n_photographs = g_list_model_get_n_items (photographs);
  g_autoptr (GPtrArray) stages = g_ptr_array_new ();

  for (guint i = 0; i < n_photographs; i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);
      const char *stage = sherd_photograph_get_stage (photograph);

      if (shows (photograph, side, NULL) && !g_ptr_array_find_with_equal_func (stages, stage, g_str_equal, NULL))
        g_ptr_array_add (stages, g_strdup (stage));
    }
  g_ptr_array_sort (stages, compare_stages);
  g_ptr_array_add (stages, NULL);
  return (GStrv)g_ptr_array_steal (stages, NULL);
}
