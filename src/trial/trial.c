/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/trial.h"
#include "trial/trial-private.h"

#include <glib/gi18n-lib.h>
#include <gobject/gvaluecollector.h>
#include <math.h>
#include <string.h>

#include "trial/file.h"
#include "trial/history.h"
#include "trial/inputs.h"
#include "trial/measurement-private.h"

/* Our choice: whole numbers up to here survive every JSON reader. */
#define MAX_SEED (G_GUINT64_CONSTANT (1) << 53)

struct _SherdTrial
{
  GObject parent_instance;

  char *title;
  char *notes;
  guint64 seed;
  GListStore *materials;
  GListStore *paints;
  GListStore *pieces;
  GListStore *photographs;
  GListStore *measurements;
  JsonObject *unknown;

  SherdHistory *history;
  GHashTable *last_numbers; /* kind → the highest number given to an id */
  gboolean was_modified;

  char *path;
  char *disk_sha256;
  GPtrArray *earlier_photo_folders;
};

enum
{
  PROP_0,
  PROP_TITLE,
  PROP_NOTES,
  PROP_SEED,
  PROP_PATH,
  PROP_MODIFIED,
  PROP_UNDO_LABEL,
  PROP_REDO_LABEL,
  N_PROPERTIES
};

enum
{
  EDITED,
  RECOVERY_FAILED,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPERTIES];
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (SherdTrial, sherd_trial, G_TYPE_OBJECT)

static void
sherd_trial_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SherdTrial *self = SHERD_TRIAL (object);

  switch (id)
    {
    case PROP_TITLE:
      g_value_set_string (value, self->title);
      break;
    case PROP_NOTES:
      g_value_set_string (value, self->notes);
      break;
    case PROP_SEED:
      g_value_set_uint64 (value, self->seed);
      break;
    case PROP_PATH:
      g_value_set_string (value, self->path);
      break;
    case PROP_MODIFIED:
      g_value_set_boolean (value, sherd_trial_get_modified (self));
      break;
    case PROP_UNDO_LABEL:
      g_value_take_string (value, sherd_trial_dup_undo_label (self));
      break;
    case PROP_REDO_LABEL:
      g_value_take_string (value, sherd_trial_dup_redo_label (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
replace_text (char **field, const GValue *value)
{
  const char *text = g_value_get_string (value);

  g_free (*field);
  *field = g_strdup (text != NULL ? text : "");
}

static void
sherd_trial_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SherdTrial *self = SHERD_TRIAL (object);

  switch (id)
    {
    case PROP_TITLE:
      replace_text (&self->title, value);
      break;
    case PROP_NOTES:
      replace_text (&self->notes, value);
      break;
    case PROP_SEED:
      self->seed = g_value_get_uint64 (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
sherd_trial_finalize (GObject *object)
{
  SherdTrial *self = SHERD_TRIAL (object);

  sherd_history_free (self->history);
  g_hash_table_unref (self->last_numbers);
  g_clear_object (&self->measurements);
  g_clear_object (&self->photographs);
  g_clear_object (&self->pieces);
  g_clear_object (&self->paints);
  g_clear_object (&self->materials);
  g_clear_pointer (&self->unknown, json_object_unref);
  g_free (self->title);
  g_free (self->notes);
  g_free (self->path);
  g_free (self->disk_sha256);
  g_ptr_array_unref (self->earlier_photo_folders);
  G_OBJECT_CLASS (sherd_trial_parent_class)->finalize (object);
}

static void
sherd_trial_class_init (SherdTrialClass *klass)
{
  const GParamFlags read_only = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  const GParamFlags read_write = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->get_property = sherd_trial_get_property;
  object_class->set_property = sherd_trial_set_property;
  object_class->finalize = sherd_trial_finalize;

  properties[PROP_TITLE] = g_param_spec_string ("title", NULL, NULL, "", read_write);
  properties[PROP_NOTES] = g_param_spec_string ("notes", NULL, NULL, "", read_write);
  properties[PROP_SEED] = g_param_spec_uint64 ("seed", NULL, NULL, 0, MAX_SEED, 1, read_write);
  properties[PROP_PATH] = g_param_spec_string ("path", NULL, NULL, NULL, read_only);
  properties[PROP_MODIFIED] = g_param_spec_boolean ("modified", NULL, NULL, FALSE, read_only);
  properties[PROP_UNDO_LABEL] = g_param_spec_string ("undo-label", NULL, NULL, NULL, read_only);
  properties[PROP_REDO_LABEL] = g_param_spec_string ("redo-label", NULL, NULL, NULL, read_only);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);

  signals[EDITED] = g_signal_new ("edited", SHERD_TYPE_TRIAL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[RECOVERY_FAILED] = g_signal_new ("recovery-failed", SHERD_TYPE_TRIAL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                           G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
sherd_trial_init (SherdTrial *self)
{
  self->title = g_strdup ("");
  self->notes = g_strdup ("");
  self->seed = 1;
  self->materials = g_list_store_new (SHERD_TYPE_MATERIAL);
  self->paints = g_list_store_new (SHERD_TYPE_PAINT);
  self->pieces = g_list_store_new (SHERD_TYPE_PIECE);
  self->photographs = g_list_store_new (SHERD_TYPE_PHOTOGRAPH);
  self->measurements = g_list_store_new (SHERD_TYPE_MEASUREMENT);
  self->history = sherd_history_new (self);
  self->earlier_photo_folders = g_ptr_array_new_with_free_func (g_free);
  self->last_numbers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

/**
 * sherd_trial_new:
 *
 * Returns: (transfer full): an empty trial without a file
 */
SherdTrial *
sherd_trial_new (void)
{
  return g_object_new (SHERD_TYPE_TRIAL, NULL);
}

/**
 * sherd_trial_get_title:
 * @self: a trial
 *
 * Returns: what the potter calls it, may be empty
 */
const char *
sherd_trial_get_title (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return self->title;
}

/**
 * sherd_trial_get_notes:
 * @self: a trial
 *
 * Returns: what the potter noted, may be empty
 */
const char *
sherd_trial_get_notes (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return self->notes;
}

/**
 * sherd_trial_get_seed:
 * @self: a trial
 *
 * Returns: the seed of its random draws, so that a result repeats
 */
guint64
sherd_trial_get_seed (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), 0);
  return self->seed;
}

/**
 * sherd_trial_get_materials:
 * @self: a trial
 *
 * Returns: (transfer none): its materials (SherdMaterial)
 */
GListModel *
sherd_trial_get_materials (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return G_LIST_MODEL (self->materials);
}

/**
 * sherd_trial_get_paints:
 * @self: a trial
 *
 * Returns: (transfer none): its paints (SherdPaint)
 */
GListModel *
sherd_trial_get_paints (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return G_LIST_MODEL (self->paints);
}

/**
 * sherd_trial_get_pieces:
 * @self: a trial
 *
 * Returns: (transfer none): its pieces (SherdPiece)
 */
GListModel *
sherd_trial_get_pieces (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return G_LIST_MODEL (self->pieces);
}

/**
 * sherd_trial_get_photographs:
 * @self: a trial
 *
 * Returns: (transfer none): its photographs (SherdPhotograph)
 */
GListModel *
sherd_trial_get_photographs (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return G_LIST_MODEL (self->photographs);
}

/**
 * sherd_trial_get_measurements:
 * @self: a trial
 *
 * Returns: (transfer none): its measurements (SherdMeasurement), oldest first, stale ones among them
 */
GListModel *
sherd_trial_get_measurements (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return G_LIST_MODEL (self->measurements);
}

static gpointer
find_part (GListStore *list, const char *id)
{
  GListModel *model = G_LIST_MODEL (list);
  const guint n_items = g_list_model_get_n_items (model);

  for (guint i = 0; i < n_items; i++)
    {
      g_autoptr (SherdPart) part = g_list_model_get_item (model, i);

      if (g_strcmp0 (sherd_part_get_id (part), id) == 0)
        return part;
    }
  return NULL;
}

/**
 * sherd_trial_find_material:
 * @self: a trial
 * @id: id of a material
 *
 * Returns: (nullable) (transfer none): the material
 */
SherdMaterial *
sherd_trial_find_material (SherdTrial *self, const char *id)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return find_part (self->materials, id);
}

/**
 * sherd_trial_find_material_by_name:
 * @self: a trial
 * @name: name of a material; capital and small letters are the same
 *
 * Returns: (nullable) (transfer none): the material
 */
SherdMaterial *
sherd_trial_find_material_by_name (SherdTrial *self, const char *name)
{
  GListModel *materials = G_LIST_MODEL (self->materials);
  g_autofree char *wanted = g_utf8_casefold (name, -1);

  for (guint i = 0; i < g_list_model_get_n_items (materials); i++)
    {
      g_autoptr (SherdMaterial) material = g_list_model_get_item (materials, i);
      g_autofree char *found = g_utf8_casefold (sherd_material_get_name (material), -1);

      if (g_str_equal (found, wanted))
        return material;
    }
  return NULL;
}

/**
 * sherd_trial_find_paint:
 * @self: a trial
 * @id: id of a paint
 *
 * Returns: (nullable) (transfer none): the paint
 */
SherdPaint *
sherd_trial_find_paint (SherdTrial *self, const char *id)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return find_part (self->paints, id);
}

/**
 * sherd_trial_find_paint_by_code:
 * @self: a trial
 * @code: code of a paint
 *
 * Returns: (nullable) (transfer none): the paint
 */
SherdPaint *
sherd_trial_find_paint_by_code (SherdTrial *self, const char *code)
{
  GListModel *paints = G_LIST_MODEL (self->paints);
  const guint n_paints = g_list_model_get_n_items (paints);

  for (guint i = 0; i < n_paints; i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      if (g_strcmp0 (sherd_paint_get_code (paint), code) == 0)
        return paint;
    }
  return NULL;
}

/**
 * sherd_trial_find_piece:
 * @self: a trial
 * @id: id of a piece
 *
 * Returns: (nullable) (transfer none): the piece
 */
SherdPiece *
sherd_trial_find_piece (SherdTrial *self, const char *id)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return find_part (self->pieces, id);
}

/**
 * sherd_trial_find_piece_by_name:
 * @self: a trial
 * @id_or_name: what the user typed
 *
 * Returns: (nullable) (transfer none): the piece of that id, else the only piece of that name; NULL when there is none
 * or more than one
 */
SherdPiece *
sherd_trial_find_piece_by_name (SherdTrial *self, const char *id_or_name)
{
  SherdPiece *found = sherd_trial_find_piece (self, id_or_name);
  const guint n_pieces = g_list_model_get_n_items (G_LIST_MODEL (self->pieces));
  guint n_found = 0;

  if (found != NULL)
    return found;
  for (guint i = 0; i < n_pieces; i++)
    {
      g_autoptr (SherdPiece) piece = g_list_model_get_item (G_LIST_MODEL (self->pieces), i);

      if (g_strcmp0 (sherd_piece_get_name (piece), id_or_name) != 0)
        continue;
      found = piece;
      n_found++;
    }
  return n_found == 1 ? found : NULL;
}

static SherdZone *
find_zone_of_piece (SherdPiece *piece, const char *id, SherdSide **side)
{
  GListModel *sides = sherd_piece_get_sides (piece);
  const guint n_sides = g_list_model_get_n_items (sides);

  for (guint i = 0; i < n_sides; i++)
    {
      g_autoptr (SherdSide) candidate = g_list_model_get_item (sides, i);
      SherdZone *zone = sherd_side_find_zone (candidate, id);

      if (zone == NULL)
        continue;
      if (side != NULL)
        *side = candidate;
      return zone;
    }
  return NULL;
}

/**
 * sherd_trial_find_zone:
 * @self: a trial
 * @id: id of a zone
 * @piece: (out) (optional) (transfer none): the piece it is on
 * @side: (out) (optional) (transfer none): the side it is on
 *
 * Returns: (nullable) (transfer none): the zone; nothing is set when there is none
 */
SherdZone *
sherd_trial_find_zone (SherdTrial *self, const char *id, SherdPiece **piece, SherdSide **side)
{
  const guint n_pieces = g_list_model_get_n_items (G_LIST_MODEL (self->pieces));

  for (guint i = 0; i < n_pieces; i++)
    {
      g_autoptr (SherdPiece) candidate = g_list_model_get_item (G_LIST_MODEL (self->pieces), i);
      SherdZone *zone = find_zone_of_piece (candidate, id, side);

      if (zone == NULL)
        continue;
      if (piece != NULL)
        *piece = candidate;
      return zone;
    }
  return NULL;
}

/**
 * sherd_trial_find_photograph:
 * @self: a trial
 * @id: id of a photograph
 *
 * Returns: (nullable) (transfer none): the photograph
 */
SherdPhotograph *
sherd_trial_find_photograph (SherdTrial *self, const char *id)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return find_part (self->photographs, id);
}

static SherdMeasurement *
last_measurement (SherdTrial *self, SherdPhotograph *photograph, gboolean stale_too)
{
  GListModel *measurements = G_LIST_MODEL (self->measurements);

  for (guint i = g_list_model_get_n_items (measurements); i > 0; i--)
    {
      g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (measurements, i - 1);

      if (sherd_measurement_get_photograph (measurement) == photograph &&
          (stale_too || !sherd_measurement_get_stale (measurement)))
        return measurement;
    }
  return NULL;
}

/**
 * sherd_trial_get_measurement:
 * @self: a trial
 * @photograph: one of its photographs
 *
 * Returns: (nullable) (transfer none): the newest measurement of it that still holds
 */
SherdMeasurement *
sherd_trial_get_measurement (SherdTrial *self, SherdPhotograph *photograph)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return last_measurement (self, photograph, FALSE);
}

/**
 * sherd_trial_get_last_measurement:
 * @self: a trial
 * @photograph: one of its photographs
 *
 * Returns: (nullable) (transfer none): the newest measurement of it, which may be stale
 */
SherdMeasurement *
sherd_trial_get_last_measurement (SherdTrial *self, SherdPhotograph *photograph)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return last_measurement (self, photograph, TRUE);
}

/* A measurement holds as long as its inputs are what they were; undo can make a stale one hold again. */
static void
refresh_stale (SherdTrial *self)
{
  g_autoptr (GHashTable) hashes = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  GListModel *measurements = G_LIST_MODEL (self->measurements);
  const guint n_measurements = g_list_model_get_n_items (measurements);

  for (guint i = 0; i < n_measurements; i++)
    {
      g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (measurements, i);
      SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);

      if (!g_hash_table_contains (hashes, photograph))
        g_hash_table_insert (hashes, photograph, sherd_inputs_dup_sha256 (photograph));
      sherd_measurement_set_stale (measurement, !sherd_measurement_is_understood (measurement) ||
                                                  !g_str_equal (sherd_measurement_get_inputs_sha256 (measurement),
                                                                g_hash_table_lookup (hashes, photograph)));
    }
}

static void
notify_modified (SherdTrial *self)
{
  const gboolean modified = sherd_trial_get_modified (self);

  if (modified == self->was_modified)
    return;
  self->was_modified = modified;
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_MODIFIED]);
}

static void
after_edit (SherdTrial *self)
{
  refresh_stale (self);
  notify_modified (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_UNDO_LABEL]);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_REDO_LABEL]);
  g_signal_emit (self, signals[EDITED], 0);
}

/**
 * sherd_trial_begin_edit:
 * @self: a trial
 * @label: what the user does, translated: "Move zone B3"
 *
 * Opens an edit. Within an open edit it only goes one level deeper, and the outer words stay.
 */
void
sherd_trial_begin_edit (SherdTrial *self, const char *label)
{
  g_return_if_fail (SHERD_IS_TRIAL (self));
  sherd_history_begin (self->history, label, NULL);
}

/**
 * sherd_trial_begin_continued_edit:
 * @self: a trial
 * @label: what the user does, translated
 * @key: action and object, "move zone-7"
 *
 * Opens an edit that joins the last one when that had the same key, has not been sealed, saved or undone. Dragging and
 * arrow keys so make one step of undo.
 */
void
sherd_trial_begin_continued_edit (SherdTrial *self, const char *label, const char *key)
{
  g_return_if_fail (SHERD_IS_TRIAL (self));
  sherd_history_begin (self->history, label, key);
}

/**
 * sherd_trial_seal_edit:
 * @self: a trial
 *
 * Ends joining: the button was released, or the focus left.
 */
void
sherd_trial_seal_edit (SherdTrial *self)
{
  g_return_if_fail (SHERD_IS_TRIAL (self));
  sherd_history_seal (self->history);
}

/**
 * sherd_trial_end_edit:
 * @self: a trial with an open edit
 *
 * Closes the edit. When it was the outermost, "edited" is emitted.
 */
void
sherd_trial_end_edit (SherdTrial *self)
{
  g_return_if_fail (SHERD_IS_TRIAL (self));
  g_return_if_fail (sherd_history_is_open (self->history));
  if (sherd_history_end (self->history))
    after_edit (self);
}

/**
 * sherd_trial_cancel_edit:
 * @self: a trial with an open edit
 *
 * Takes back what was changed since the innermost begin and closes it.
 */
void
sherd_trial_cancel_edit (SherdTrial *self)
{
  g_return_if_fail (SHERD_IS_TRIAL (self));
  g_return_if_fail (sherd_history_is_open (self->history));
  if (sherd_history_cancel (self->history))
    after_edit (self);
}

/* Nothing but UTF-8 may reach the file. */
static void
make_text_valid (GValue *value)
{
  const char *text = G_VALUE_HOLDS_STRING (value) ? g_value_get_string (value) : NULL;

  if (text != NULL && !g_utf8_validate (text, -1, NULL))
    g_value_take_string (value, g_utf8_make_valid (text, -1));
}

static gboolean
is_valid (GParamSpec *pspec, const GValue *value)
{
  /* GLib 2.74 calls no object at all invalid, and NAN too. */
  if (G_IS_PARAM_SPEC_OBJECT (pspec))
    return TRUE;
  if (G_IS_PARAM_SPEC_DOUBLE (pspec) && isnan (g_value_get_double (value)))
    return isnan (G_PARAM_SPEC_DOUBLE (pspec)->default_value);
  return g_param_value_is_valid (pspec, value);
}

/**
 * sherd_trial_set_value:
 * @self: a trial with an open edit
 * @object: the trial or one of its parts
 * @property: name of a property
 * @value: its new value, of the property's type and range
 *
 * The one way by which a property of a trial changes.
 */
void
sherd_trial_set_value (SherdTrial *self, gpointer object, const char *property, const GValue *value)
{
  GParamSpec *pspec = g_object_class_find_property (G_OBJECT_GET_CLASS (object), property);
  g_auto (GValue) valid = G_VALUE_INIT;

  g_return_if_fail (SHERD_IS_TRIAL (self));
  g_return_if_fail (sherd_history_is_open (self->history));
  g_return_if_fail (pspec != NULL && (pspec->flags & G_PARAM_WRITABLE) != 0);
  g_return_if_fail (is_valid (pspec, value));

  g_value_init (&valid, pspec->value_type);
  g_value_copy (value, &valid);
  make_text_valid (&valid);
  sherd_history_set (self->history, G_OBJECT (object), pspec, &valid);
}

/**
 * sherd_trial_set:
 * @self: a trial with an open edit
 * @object: the trial or one of its parts
 * @property: name of a property
 * @...: its new value, as for g_object_set ()
 *
 * sherd_trial_set_value () for a value written out: sherd_trial_set (trial, zone, "x-mm", 12.5).
 */
void
sherd_trial_set (SherdTrial *self, gpointer object, const char *property, ...)
{
  GParamSpec *pspec = g_object_class_find_property (G_OBJECT_GET_CLASS (object), property);
  g_auto (GValue) value = G_VALUE_INIT;
  g_autofree char *problem = NULL;
  va_list arguments;

  g_return_if_fail (pspec != NULL);
  va_start (arguments, property);
  G_VALUE_COLLECT_INIT (&value, pspec->value_type, arguments, 0, &problem);
  va_end (arguments);
  g_return_if_fail (problem == NULL);
  sherd_trial_set_value (self, object, property, &value);
}

/* "zone-12" → "zone", 12 */
static gboolean
split_id (const char *id, char **kind, guint *number)
{
  const char *dash = strrchr (id, '-');
  guint64 value;

  if (dash == NULL || !g_ascii_string_to_unsigned (dash + 1, 10, 1, G_MAXINT32, &value, NULL))
    return FALSE;
  *kind = g_strndup (id, (gsize)(dash - id));
  *number = (guint)value;
  return TRUE;
}

static void
note_id (SherdTrial *self, const char *id)
{
  g_autofree char *kind = NULL;
  guint number;

  if (id == NULL || !split_id (id, &kind, &number))
    return;
  if (GPOINTER_TO_UINT (g_hash_table_lookup (self->last_numbers, kind)) < number)
    g_hash_table_insert (self->last_numbers, g_steal_pointer (&kind), GUINT_TO_POINTER (number));
}

static void
note_ids (SherdTrial *self, GListModel *parts)
{
  const guint n_parts = g_list_model_get_n_items (parts);

  for (guint i = 0; i < n_parts; i++)
    {
      g_autoptr (SherdPart) part = g_list_model_get_item (parts, i);

      note_id (self, sherd_part_get_id (part));
      if (SHERD_IS_PIECE (part))
        note_ids (self, sherd_piece_get_sides (SHERD_PIECE (part)));
      if (SHERD_IS_SIDE (part))
        note_ids (self, sherd_side_get_zones (SHERD_SIDE (part)));
    }
}

/**
 * sherd_trial_new_id:
 * @self: a trial
 * @kind: what it is for: "material", "paint", "piece", "side", "zone", "photograph", "measurement"
 *
 * Returns: (transfer full): an id that this trial has not given before, not even to what was undone or removed since it
 * was opened
 */
char *
sherd_trial_new_id (SherdTrial *self, const char *kind)
{
  const guint number = GPOINTER_TO_UINT (g_hash_table_lookup (self->last_numbers, kind)) + 1;

  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  g_hash_table_insert (self->last_numbers, g_strdup (kind), GUINT_TO_POINTER (number));
  return g_strdup_printf ("%s-%u", kind, number);
}

/**
 * sherd_trial_splice:
 * @self: a trial with an open edit
 * @list: one of its lists, or the sides of a piece, or the zones of a side
 * @position: where
 * @n_removed: how many go
 * @added: (array length=n_added) (nullable): what comes
 * @n_added: how many
 *
 * The one way by which a list of a trial changes.
 */
void
sherd_trial_splice (SherdTrial *self, GListModel *list, guint position, guint n_removed, gpointer *added, guint n_added)
{
  g_return_if_fail (SHERD_IS_TRIAL (self));
  g_return_if_fail (sherd_history_is_open (self->history));
  g_return_if_fail (G_IS_LIST_STORE (list));
  g_return_if_fail (position + n_removed <= g_list_model_get_n_items (list));

  for (guint i = 0; i < n_added; i++)
    note_id (self, sherd_part_get_id (SHERD_PART (added[i])));
  sherd_history_splice (self->history, G_LIST_STORE (list), position, n_removed, added, n_added);
}

/**
 * sherd_trial_insert:
 * @self: a trial with an open edit
 * @list: one of its lists
 * @position: where
 * @part: what comes
 */
void
sherd_trial_insert (SherdTrial *self, GListModel *list, guint position, gpointer part)
{
  sherd_trial_splice (self, list, position, 0, &part, 1);
}

/**
 * sherd_trial_append:
 * @self: a trial with an open edit
 * @list: one of its lists
 * @part: what comes at its end
 */
void
sherd_trial_append (SherdTrial *self, GListModel *list, gpointer part)
{
  sherd_trial_insert (self, list, g_list_model_get_n_items (list), part);
}

/**
 * sherd_trial_remove:
 * @self: a trial with an open edit
 * @list: one of its lists
 * @position: what goes
 */
void
sherd_trial_remove (SherdTrial *self, GListModel *list, guint position)
{
  sherd_trial_splice (self, list, position, 1, NULL, 0);
}

/**
 * sherd_trial_can_undo:
 * @self: a trial
 *
 * Returns: whether there is an edit to undo
 */
gboolean
sherd_trial_can_undo (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), FALSE);
  return sherd_history_can_undo (self->history);
}

/**
 * sherd_trial_can_redo:
 * @self: a trial
 *
 * Returns: whether there is an edit to redo
 */
gboolean
sherd_trial_can_redo (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), FALSE);
  return sherd_history_can_redo (self->history);
}

/**
 * sherd_trial_undo:
 * @self: a trial
 *
 * Takes the last edit back, if there is one.
 */
void
sherd_trial_undo (SherdTrial *self)
{
  if (!sherd_trial_can_undo (self))
    return;
  sherd_history_undo (self->history);
  after_edit (self);
}

/**
 * sherd_trial_redo:
 * @self: a trial
 *
 * Makes the edit again that was undone last, if there is one.
 */
void
sherd_trial_redo (SherdTrial *self)
{
  if (!sherd_trial_can_redo (self))
    return;
  sherd_history_redo (self->history);
  after_edit (self);
}

/**
 * sherd_trial_dup_undo_label:
 * @self: a trial
 *
 * Returns: (transfer full) (nullable): "Undo Move zone B3", translated
 */
char *
sherd_trial_dup_undo_label (SherdTrial *self)
{
  const char *label = sherd_history_get_undo_label (self->history);

  /* Translators: %s is an edit in words, such as “Move zone B3”. */
  return label != NULL ? g_strdup_printf (_ ("Undo %s"), label) : NULL;
}

/**
 * sherd_trial_dup_redo_label:
 * @self: a trial
 *
 * Returns: (transfer full) (nullable): "Redo Move zone B3", translated
 */
char *
sherd_trial_dup_redo_label (SherdTrial *self)
{
  const char *label = sherd_history_get_redo_label (self->history);

  /* Translators: %s is an edit in words, such as “Move zone B3”. */
  return label != NULL ? g_strdup_printf (_ ("Redo %s"), label) : NULL;
}

/**
 * sherd_trial_get_modified:
 * @self: a trial
 *
 * Returns: whether it stands elsewhere than at the state that was saved or opened; a new trial is not modified
 */
gboolean
sherd_trial_get_modified (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), FALSE);
  return !sherd_history_is_saved (self->history);
}

/**
 * sherd_trial_get_path:
 * @self: a trial
 *
 * Returns: (nullable): its file; NULL before the first save
 */
const char *
sherd_trial_get_path (SherdTrial *self)
{
  g_return_val_if_fail (SHERD_IS_TRIAL (self), NULL);
  return self->path;
}

/**
 * sherd_trial_get_unknown:
 * @self: a trial
 *
 * Returns: (nullable) (transfer none): members of its file that this program does not know
 */
JsonObject *
sherd_trial_get_unknown (SherdTrial *self)
{
  return self->unknown;
}

/**
 * sherd_trial_set_unknown:
 * @self: a trial being read
 * @unknown: (nullable) (transfer full): members to be written back as they are
 */
void
sherd_trial_set_unknown (SherdTrial *self, JsonObject *unknown)
{
  g_clear_pointer (&self->unknown, json_object_unref);
  self->unknown = unknown;
}

/**
 * sherd_trial_settle:
 * @self: a trial that was filled without edits
 *
 * Notes the ids in use and marks measurements whose inputs have changed.
 */
void
sherd_trial_settle (SherdTrial *self)
{
  note_ids (self, G_LIST_MODEL (self->materials));
  note_ids (self, G_LIST_MODEL (self->paints));
  note_ids (self, G_LIST_MODEL (self->pieces));
  note_ids (self, G_LIST_MODEL (self->photographs));
  note_ids (self, G_LIST_MODEL (self->measurements));
  refresh_stale (self);
}

/**
 * sherd_trial_set_file:
 * @self: a trial
 * @path: (nullable): its file
 * @disk_sha256: (nullable): hash of what lies there
 */
void
sherd_trial_set_file (SherdTrial *self, const char *path, const char *disk_sha256)
{
  const gboolean moved = g_strcmp0 (self->path, path) != 0;
  char *new_path = g_strdup (path), *new_sha256 = g_strdup (disk_sha256);

  /* Either may be the trial's own text. */
  g_free (self->path);
  g_free (self->disk_sha256);
  self->path = new_path;
  self->disk_sha256 = new_sha256;
  if (moved)
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_PATH]);
}

/**
 * sherd_trial_get_disk_sha256:
 * @self: a trial
 *
 * Returns: (nullable): hash of its file when it was last read or written here
 */
const char *
sherd_trial_get_disk_sha256 (SherdTrial *self)
{
  return self->disk_sha256;
}

/**
 * sherd_trial_get_earlier_photo_folders:
 * @self: a trial
 *
 * Returns: (transfer none): folders of photographs under earlier names of its file, latest last
 */
GPtrArray *
sherd_trial_get_earlier_photo_folders (SherdTrial *self)
{
  return self->earlier_photo_folders;
}

/**
 * sherd_trial_set_saved:
 * @self: a trial
 * @saved: whether it lies in its file as it stands
 */
void
sherd_trial_set_saved (SherdTrial *self, gboolean saved)
{
  if (saved)
    sherd_history_mark_saved (self->history);
  else
    sherd_history_forget_saved (self->history);
  notify_modified (self);
}

/**
 * sherd_trial_report_recovery_failure:
 * @self: a trial
 * @message: what went wrong, for the user
 */
void
sherd_trial_report_recovery_failure (SherdTrial *self, const char *message)
{
  g_signal_emit (self, signals[RECOVERY_FAILED], 0, message);
}
