/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/file.h"
#include "trial/measurement-private.h"
#include "trial/members.h"
#include "trial/reader.h"
#include "trial/stage.h"
#include "trial/photo-file.h"
#include "trial/reading-private.h"
#include "trial/trial-private.h"

#define MAX_WARNINGS 1000u

/* A zone may touch the edge; a hair more for sums of decimals. */
#define EDGE_HAIR_MM 1e-6

static gboolean
is_sound (const SherdReading *reading)
{
  return sherd_reader_is_sound (reading->reader);
}

/* Reports what another check of the room found wrong with @member. */
static void
fail_with (const SherdReading *reading, const char *member, GError *problem)
{
  sherd_reader_fail (reading->reader, member, "%s", problem->message);
  g_error_free (problem);
}

static void
read_mark (const SherdReading *reading, const char *place_member, SherdMark *mark)
{
  double place[2] = { 0.0, 0.0 }, photo[2] = { 0.0, 0.0 };

  sherd_reader_numbers (reading->reader, place_member, -SHERD_MARK_MAX_MM, SHERD_MARK_MAX_MM, place, 2, NULL);
  sherd_reader_numbers (reading->reader, "photo_px", -SHERD_MARK_MAX_PX, SHERD_MARK_MAX_PX, photo, 2, NULL);
  mark->piece_mm = (SherdPoint){ place[0], place[1] };
  mark->photo_px = (SherdPoint){ photo[0], photo[1] };
}

static void
read_marks (const SherdReading *reading,
            SherdPhotograph *photograph,
            const char *member,
            const char *property,
            const char *place_member)
{
  const guint n_marks = sherd_reader_enter_list (reading->reader, member, SHERD_MARKS_MAX);
  g_autoptr (SherdMarks) marks = g_new0 (SherdMarks, 1);

  marks->marks = g_new0 (SherdMark, n_marks);
  marks->unknown = g_new0 (JsonObject *, n_marks);
  for (marks->n_marks = 0; marks->n_marks < n_marks && is_sound (reading); marks->n_marks++)
    {
      sherd_reader_enter_item (reading->reader, (guint)marks->n_marks);
      read_mark (reading, place_member, &marks->marks[marks->n_marks]);
      marks->unknown[marks->n_marks] = sherd_reader_leave (reading->reader);
    }
  sherd_reader_leave_list (reading->reader);
  if (sherd_reader_has (reading->reader, member))
    g_object_set (photograph, property, marks, NULL);
}

static void
clear_patch (gpointer data)
{
  SherdReferencePatch *patch = data;

  g_free (patch->name);
  g_clear_pointer (&patch->unknown, json_object_unref);
}

static void
read_lab (const SherdReading *reading, const char *member, SherdLab *lab)
{
  double numbers[3] = { 0.0, 0.0, 0.0 };
  GError *problem = NULL;

  sherd_reader_numbers (reading->reader, member, -G_MAXDOUBLE, G_MAXDOUBLE, numbers, 3, NULL);
  *lab = (SherdLab){ numbers[0], numbers[1], numbers[2] };
  if (!sherd_reference_check_lab (lab, &problem))
    fail_with (reading, member, problem);
}

static void
read_patch (const SherdReading *reading,
            SherdReferencePatch *patch,
            GHashTable *names,
            double width_mm,
            double height_mm)
{
  SherdReader *reader = reading->reader;
  const char *name = sherd_reader_text (reader, "name", SHERD_REQUIRED);
  SherdRectangle *place = &patch->rectangle_mm;

  patch->name = g_strdup (name);
  place->x_mm = sherd_reader_number (reader, "x_mm", 0.0, SHERD_CHART_MAX_MM, SHERD_REQUIRED);
  place->y_mm = sherd_reader_number (reader, "y_mm", 0.0, SHERD_CHART_MAX_MM, SHERD_REQUIRED);
  place->width_mm = sherd_reader_number (reader, "width_mm", 1e-3, SHERD_CHART_MAX_MM, SHERD_REQUIRED);
  place->height_mm = sherd_reader_number (reader, "height_mm", 1e-3, SHERD_CHART_MAX_MM, SHERD_REQUIRED);
  read_lab (reading, "lab", &patch->lab);
  if (name != NULL && !g_hash_table_add (names, g_strdup (name)))
    sherd_reader_fail (reader, "name", _ ("two patches are named “%s”."), name);
  if (place->x_mm + place->width_mm > width_mm + EDGE_HAIR_MM ||
      place->y_mm + place->height_mm > height_mm + EDGE_HAIR_MM)
    sherd_reader_fail (reader, NULL, _ ("the patch reaches beyond the frame of %g × %g mm."), width_mm, height_mm);
}

static GArray *
read_patches (const SherdReading *reading, double width_mm, double height_mm)
{
  g_autoptr (GHashTable) names = sherd_reading_new_name_set ();
  GArray *patches = g_array_new (FALSE, TRUE, sizeof (SherdReferencePatch));
  const guint n_patches = sherd_reader_enter_list (reading->reader, "patches", SHERD_CHART_MAX_PATCHES);

  g_array_set_clear_func (patches, clear_patch);
  for (guint i = 0; i < n_patches && is_sound (reading); i++)
    {
      SherdReferencePatch patch = { 0 };

      sherd_reader_enter_item (reading->reader, i);
      read_patch (reading, &patch, names, width_mm, height_mm);
      patch.unknown = sherd_reader_leave (reading->reader);
      g_array_append_val (patches, patch);
    }
  sherd_reader_leave_list (reading->reader);
  return patches;
}

static void
check_patch_count (const SherdReading *reading, SherdReferenceKind kind, guint n_patches)
{
  if (kind == SHERD_REFERENCE_NONE && n_patches != 0)
    sherd_reader_fail (reading->reader, "patches", _ ("a reference of kind “none” has no patches."));
  if (kind == SHERD_REFERENCE_GREY_CARD && n_patches != 1)
    sherd_reader_fail (reading->reader, "patches", _ ("a grey card has exactly one patch."));
  if (kind == SHERD_REFERENCE_CHART && n_patches == 0)
    sherd_reader_fail (reading->reader, "patches", _ ("a chart has at least one patch."));
}

static SherdReferenceKind
read_reference_kind (const SherdReading *reading)
{
  g_autoptr (GEnumClass) kinds = g_type_class_ref (SHERD_TYPE_REFERENCE_KIND);
  const char *kind = sherd_reader_text (reading->reader, "kind", SHERD_REQUIRED);
  const GEnumValue *found = kind != NULL ? g_enum_get_value_by_nick (kinds, kind) : NULL;

  if (kind != NULL && found == NULL)
    sherd_reader_fail (reading->reader, "kind", _ ("“%s” is not one of “none”, “grey-card”, “chart”."), kind);
  return found != NULL ? found->value : SHERD_REFERENCE_NONE;
}

/* A reference's properties are set when it is made, so they are read one by one. */
static void
read_reference (const SherdReading *reading, SherdPhotograph *photograph)
{
  SherdReader *reader = reading->reader;
  g_autoptr (SherdReference) reference = NULL;
  g_autoptr (GArray) patches = NULL;
  SherdReferenceKind kind;
  const char *description;
  double width_mm, height_mm;

  sherd_reader_enter (reader, "reference");
  kind = read_reference_kind (reading);
  description = sherd_reader_text (reader, "description", SHERD_OPTIONAL);
  width_mm = sherd_reader_number (reader, "width_mm", 0.0, SHERD_CHART_MAX_MM, SHERD_OPTIONAL);
  height_mm = sherd_reader_number (reader, "height_mm", 0.0, SHERD_CHART_MAX_MM, SHERD_OPTIONAL);
  patches = read_patches (reading, width_mm, height_mm);
  if (is_sound (reading))
    check_patch_count (reading, kind, patches->len);
  reference = sherd_reference_new_patches (kind, description, width_mm, height_mm,
                                           (const SherdReferencePatch *)(gpointer)patches->data, patches->len);
  sherd_reference_set_unknown (reference, sherd_reader_leave (reader));
  g_object_set (photograph, "reference", reference, NULL);
}

static gboolean
is_sha256 (const char *text)
{
  return strlen (text) == 64 && strspn (text, "0123456789abcdef") == 64;
}

static void
check_sha256 (const SherdReading *reading, const char *member, const char *text)
{
  if (is_sound (reading) && !is_sha256 (text))
    sherd_reader_fail (reading->reader, member, _ ("a SHA-256 is 64 digits 0 to 9 and a to f."));
}

static void
read_photograph_place (const SherdReading *reading, SherdPhotograph *photograph)
{
  const char *piece_id = sherd_reader_text (reading->reader, "piece", SHERD_REQUIRED);
  const char *side_id = sherd_reader_text (reading->reader, "side", SHERD_REQUIRED);
  SherdPiece *piece = piece_id != NULL ? sherd_trial_find_piece (reading->trial, piece_id) : NULL;
  SherdSide *side = piece != NULL && side_id != NULL ? sherd_piece_find_side (piece, side_id) : NULL;

  if (piece_id != NULL && piece == NULL)
    sherd_reader_fail (reading->reader, "piece", _ ("there is no piece with the id “%s”."), piece_id);
  else if (side_id != NULL && side == NULL)
    sherd_reader_fail (reading->reader, "side", _ ("the piece has no side with the id “%s”."), side_id);
  g_object_set (photograph, "piece", piece, "side", side, NULL);
}

static void
check_photograph (const SherdReading *reading, SherdPhotograph *photograph)
{
  g_autoptr (GError) problem = NULL;

  check_sha256 (reading, "sha256", sherd_photograph_get_sha256 (photograph));
  if (is_sound (reading) && !sherd_stage_check (sherd_photograph_get_stage (photograph), &problem))
    fail_with (reading, "stage", g_steal_pointer (&problem));
  if (is_sound (reading) && !sherd_photo_file_name_is_safe (sherd_photograph_get_file (photograph)))
    sherd_reader_fail (reading->reader, "file",
                       _ ("this must be the plain name of a file in the folder of photographs."));
}

static void
read_photographs (const SherdReading *reading)
{
  g_autoptr (GHashTable) ids = sherd_reading_new_name_set ();
  const guint n_photographs = sherd_reader_enter_list (reading->reader, "photographs", SHERD_READING_MAX_ITEMS);

  for (guint i = 0; i < n_photographs && is_sound (reading); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_object_new (SHERD_TYPE_PHOTOGRAPH, NULL);

      sherd_reader_enter_item (reading->reader, i);
      sherd_reading_id (reading, SHERD_PART (photograph), ids);
      read_photograph_place (reading, photograph);
      sherd_reader_properties (reading->reader, photograph, sherd_photograph_members);
      check_photograph (reading, photograph);
      read_marks (reading, photograph, "marks", "marks", "piece_mm");
      read_marks (reading, photograph, "reference_marks", "reference-marks", "frame_mm");
      if (sherd_reader_has (reading->reader, "reference"))
        read_reference (reading, photograph);
      sherd_reading_leave_part (reading, photograph, sherd_trial_get_photographs (reading->trial));
    }
  sherd_reader_leave_list (reading->reader);
}

static void
read_field_numbers (const SherdReading *reading, const SherdField *field, double *numbers)
{
  gboolean absent = FALSE;

  sherd_reader_numbers (reading->reader, field->name, -G_MAXDOUBLE, G_MAXDOUBLE, numbers, field->n, &absent);
  for (guint i = 0; absent && i < field->n; i++)
    numbers[i] = NAN;
}

static void
read_fields (const SherdReading *reading, void *record, const SherdField *fields)
{
  SherdReader *reader = reading->reader;

  for (; fields->name != NULL; fields++)
    {
      void *field = G_STRUCT_MEMBER_P (record, fields->offset);

      switch (fields->kind)
        {
        case SHERD_FIELD_NUMBER:
          *(double *)field = sherd_reader_number_or_null (reader, fields->name);
          break;
        case SHERD_FIELD_NUMBERS:
          read_field_numbers (reading, fields, field);
          break;
        case SHERD_FIELD_COUNT:
          *(guint *)field = (guint)sherd_reader_whole (reader, fields->name, 0, G_MAXUINT, SHERD_REQUIRED);
          break;
        case SHERD_FIELD_FLAG:
        default:
          *(gboolean *)field = sherd_reader_flag (reader, fields->name, SHERD_REQUIRED);
        }
    }
}

/* Index of @word, or the length of @words when it is not among them. */
static guint
find_word (const char *const *words, const char *word)
{
  guint i = 0;

  while (words[i] != NULL && g_strcmp0 (words[i], word) != 0)
    i++;
  return i;
}

/* A model that only a newer program knows is kept as its word. */
static void
read_correction (const SherdReading *reading, SherdCorrection *correction, SherdMeasurementUnknown *unknown)
{
  const char *model;
  guint which;

  sherd_reader_enter (reading->reader, "correction");
  model = sherd_reader_text (reading->reader, "model", SHERD_REQUIRED);
  which = find_word (sherd_correction_model_words, model);
  if (sherd_correction_model_words[which] != NULL)
    correction->model = which;
  else
    unknown->model = g_strdup (model);
  read_fields (reading, correction, sherd_correction_fields);
  unknown->correction = sherd_reader_leave (reading->reader);
}

static void
read_patch_errors (const SherdReading *reading, SherdPhotoMeasurement *result, GPtrArray *unknown)
{
  const guint n_patches = sherd_reader_enter_list (reading->reader, "patches", SHERD_CHART_MAX_PATCHES);

  result->patches = g_new0 (SherdPatchError, n_patches);
  for (result->n_patches = 0; result->n_patches < n_patches && is_sound (reading); result->n_patches++)
    {
      sherd_reader_enter_item (reading->reader, (guint)result->n_patches);
      read_fields (reading, &result->patches[result->n_patches], sherd_patch_error_fields);
      g_ptr_array_add (unknown, sherd_reader_leave (reading->reader));
    }
  sherd_reader_leave_list (reading->reader);
}

/* Flags that only a newer program knows are added to @unknown as their words. */
static guint
read_flags (const SherdReading *reading, GPtrArray *unknown)
{
  g_auto (GStrv) words = sherd_reader_texts (reading->reader, "flags", 32);
  g_autoptr (GStrvBuilder) unknown_words = g_strv_builder_new ();
  guint flags = 0;

  for (guint i = 0; words[i] != NULL; i++)
    {
      const guint bit = find_word (sherd_zone_flag_words, words[i]);

      if (sherd_zone_flag_words[bit] == NULL)
        g_strv_builder_add (unknown_words, words[i]);
      else
        flags |= 1u << bit;
    }
  g_ptr_array_add (unknown, g_strv_builder_end (unknown_words));
  return flags;
}

static void
read_zone_colours (const SherdReading *reading, SherdPhotoMeasurement *result, SherdMeasurementUnknown *unknown)
{
  const guint n_zones = sherd_reader_enter_list (reading->reader, "zones", SHERD_READING_MAX_ITEMS);

  result->zones = g_new0 (SherdZoneColour, n_zones);
  for (result->n_zones = 0; result->n_zones < n_zones && is_sound (reading); result->n_zones++)
    {
      SherdZoneColour *zone = &result->zones[result->n_zones];

      sherd_reader_enter_item (reading->reader, (guint)result->n_zones);
      zone->id = g_strdup (sherd_reader_text (reading->reader, "zone", SHERD_REQUIRED));
      zone->code = g_strdup (sherd_reader_text (reading->reader, "code", SHERD_REQUIRED));
      zone->flags = read_flags (reading, unknown->flags);
      read_fields (reading, zone, sherd_zone_colour_fields);
      g_ptr_array_add (unknown->zones, sherd_reader_leave (reading->reader));
    }
  sherd_reader_leave_list (reading->reader);
}

static SherdPhotograph *
read_measured_photograph (const SherdReading *reading)
{
  const char *id = sherd_reader_text (reading->reader, "photograph", SHERD_REQUIRED);
  SherdPhotograph *photograph = id != NULL ? sherd_trial_find_photograph (reading->trial, id) : NULL;

  if (id != NULL && photograph == NULL)
    sherd_reader_fail (reading->reader, "photograph", _ ("there is no photograph with the id “%s”."), id);
  return photograph;
}

static void
read_measurement (const SherdReading *reading, SherdMeasurement *measurement, SherdPhotoMeasurement *result)
{
  SherdMeasurementUnknown *unknown = sherd_measurement_get_inner_unknown (measurement);

  sherd_reader_properties (reading->reader, measurement, sherd_measurement_members);
  check_sha256 (reading, "inputs_sha256", sherd_measurement_get_inputs_sha256 (measurement));
  read_fields (reading, result, sherd_photo_measurement_fields);
  result->warnings = sherd_reader_texts (reading->reader, "warnings", MAX_WARNINGS);
  read_correction (reading, &result->correction, unknown);
  read_patch_errors (reading, result, unknown->patches);
  read_zone_colours (reading, result, unknown);
}

static void
read_measurements (const SherdReading *reading)
{
  g_autoptr (GHashTable) ids = sherd_reading_new_name_set ();
  const guint n_measurements = sherd_reader_enter_list (reading->reader, "measurements", SHERD_READING_MAX_ITEMS);

  for (guint i = 0; i < n_measurements && is_sound (reading); i++)
    {
      SherdPhotoMeasurement *result = g_new0 (SherdPhotoMeasurement, 1);
      g_autoptr (SherdMeasurement) measurement = NULL;

      sherd_reader_enter_item (reading->reader, i);
      measurement = sherd_measurement_new (NULL, read_measured_photograph (reading), NULL, NULL, NULL, result);
      sherd_reading_id (reading, SHERD_PART (measurement), ids);
      read_measurement (reading, measurement, result);
      sherd_reading_leave_part (reading, measurement, sherd_trial_get_measurements (reading->trial));
    }
  sherd_reader_leave_list (reading->reader);
}

static void
read_head (const SherdReading *reading)
{
  SherdReader *reader = reading->reader;
  const char *format = sherd_reader_text (reader, "format", SHERD_REQUIRED);
  gint64 version;

  if (format != NULL && !g_str_equal (format, SHERD_TRIAL_FORMAT))
    sherd_reader_fail (reader, "format", _ ("“%s” is not a trial of this program."), format);
  version = sherd_reader_whole (reader, "version", 1, G_MAXINT32, SHERD_REQUIRED);
  if (is_sound (reading) && version > SHERD_TRIAL_FORMAT_VERSION)
    {
      sherd_reader_set_error_code (reader, SHERD_TRIAL_ERROR_VERSION);
      sherd_reader_fail (reader, "version",
                         _ ("a newer program wrote this trial (format version %d). Update this program to open it."),
                         (int)version);
    }
  sherd_reader_properties (reader, reading->trial, sherd_trial_members);
}

/**
 * sherd_trial_new_from_text:
 * @text: (array length=length): the bytes of a trial file
 * @length: how many
 * @name: what to call it in messages, a file's name
 * @error: place for an error
 *
 * Reads a trial whole or not at all. Everything is checked: syntax, types, ranges, ids and codes that occur twice, and
 * that what is referred to is there. Members that this program does not know are kept and written back.
 *
 * Returns: (transfer full): the trial; NULL with SHERD_TRIAL_ERROR_SYNTAX, _CONTENT or _VERSION, whose message names
 * file, line and path
 */
SherdTrial *
sherd_trial_new_from_text (const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (GHashTable) zone_ids = sherd_reading_new_name_set ();
  g_autoptr (SherdReader) reader = sherd_reader_new (text, length, error);
  const SherdReading reading = { reader, trial, zone_ids };

  if (reader == NULL)
    {
      g_prefix_error (error, _ ("“%s”, "), name);
      return NULL;
    }
  read_head (&reading);
  sherd_reading_materials (&reading);
  sherd_reading_paints (&reading);
  sherd_reading_pieces (&reading);
  read_photographs (&reading);
  read_measurements (&reading);
  sherd_trial_set_unknown (trial, sherd_reader_leave (reader));
  if (!sherd_reader_finish (reader, error))
    {
      g_prefix_error (error, _ ("“%s”, "), name);
      return NULL;
    }
  sherd_trial_settle (trial);
  return g_steal_pointer (&trial);
}
