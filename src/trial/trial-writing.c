/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <math.h>

#include "trial/file.h"
#include "trial/measurement-private.h"
#include "trial/members.h"
#include "trial/trial-private.h"
#include "trial/writer.h"

typedef void (*WritePart) (SherdWriter *writer, gpointer part);

static void
begin_part (SherdWriter *writer, gpointer part)
{
  sherd_writer_begin_object (writer, NULL);
  sherd_writer_text (writer, "id", sherd_part_get_id (SHERD_PART (part)));
}

static void
end_part (SherdWriter *writer, gpointer part)
{
  sherd_writer_unknown (writer, sherd_part_get_unknown (SHERD_PART (part)));
  sherd_writer_end_object (writer);
}

static void
write_list (SherdWriter *writer, const char *member, GListModel *parts, WritePart write_part)
{
  const guint n_parts = g_list_model_get_n_items (parts);

  sherd_writer_begin_list (writer, member);
  for (guint i = 0; i < n_parts; i++)
    {
      g_autoptr (GObject) part = g_list_model_get_item (parts, i);

      begin_part (writer, part);
      write_part (writer, part);
      end_part (writer, part);
    }
  sherd_writer_end_list (writer);
}

static void
write_number_if_known (SherdWriter *writer, const char *member, double number)
{
  if (!isnan (number))
    sherd_writer_number (writer, member, number);
}

static void
write_analysis (SherdWriter *writer, const SherdAnalysis *analysis)
{
  if (analysis == NULL)
    return;
  sherd_writer_begin_list (writer, "analysis");
  for (gsize i = 0; i < analysis->n_oxides; i++)
    {
      const SherdOxideShare *share = &analysis->oxides[i];

      sherd_writer_begin_object (writer, NULL);
      sherd_writer_text (writer, "oxide", share->oxide);
      sherd_writer_number (writer, "pct", share->pct);
      write_number_if_known (writer, "doubt_pct", share->doubt_pct);
      sherd_writer_unknown (writer, share->unknown);
      sherd_writer_end_object (writer);
    }
  sherd_writer_end_list (writer);
}

static void
write_hazards (SherdWriter *writer, const char *const *hazards)
{
  if (*hazards == NULL)
    return;
  sherd_writer_begin_list (writer, "hazards");
  for (; *hazards != NULL; hazards++)
    sherd_writer_text (writer, NULL, *hazards);
  sherd_writer_end_list (writer);
}

static void
write_material (SherdWriter *writer, gpointer part)
{
  const SherdMaterialRecord *record = sherd_material_get_record (part);

  for (const SherdRecordField *field = sherd_material_record_fields; field->name != NULL; field++)
    {
      g_autofree char *property = g_strdelimit (g_strdup (field->name), "_", '-');
      const gboolean is_first = field == sherd_material_record_fields;

      if (field->kind == SHERD_RECORD_ANALYSIS)
        write_analysis (writer, record->analysis);
      else if (field->kind == SHERD_RECORD_WORDS)
        write_hazards (writer, (const char *const *)record->hazards);
      else
        sherd_writer_property (writer, part, property, is_first ? SHERD_REQUIRED : SHERD_OPTIONAL);
    }
}

static void
write_ingredient (SherdWriter *writer, const SherdIngredient *ingredient)
{
  sherd_writer_begin_object (writer, NULL);
  if (ingredient->material_id != NULL)
    sherd_writer_text (writer, "material", ingredient->material_id);
  else
    sherd_writer_text (writer, "paint", ingredient->paint_id);
  if (ingredient->revision != 0)
    sherd_writer_whole (writer, "revision", ingredient->revision);
  sherd_writer_number (writer, "parts", ingredient->parts);
  if (*ingredient->parts_text != '\0')
    sherd_writer_text (writer, "parts_text", ingredient->parts_text);
  sherd_writer_unknown (writer, ingredient->unknown);
  sherd_writer_end_object (writer);
}

static void
write_recipe (SherdWriter *writer, const SherdRecipe *recipe)
{
  if (recipe->basis == SHERD_BASIS_VOLUME)
    sherd_writer_text (writer, "basis", "volume");
  if (recipe->n_ingredients > 0)
    {
      sherd_writer_begin_list (writer, "ingredients");
      for (guint i = 0; i < recipe->n_ingredients; i++)
        write_ingredient (writer, &recipe->ingredients[i]);
      sherd_writer_end_list (writer);
    }
  if (recipe->binder_id != NULL)
    sherd_writer_text (writer, "binder", recipe->binder_id);
  write_number_if_known (writer, "binder_pct", recipe->binder_pct);
  write_number_if_known (writer, "water_pct", recipe->water_pct);
}

static void
write_revision (SherdWriter *writer, const SherdRevision *revision)
{
  sherd_writer_begin_object (writer, NULL);
  sherd_writer_whole (writer, "revision", revision->number);
  if (*revision->replaced != '\0')
    sherd_writer_text (writer, "replaced", revision->replaced);
  write_recipe (writer, revision->recipe);
  sherd_writer_unknown (writer, revision->unknown);
  sherd_writer_end_object (writer);
}

static void
write_paint (SherdWriter *writer, gpointer part)
{
  const SherdRevisions *earlier = sherd_paint_get_earlier (part);

  sherd_writer_properties (writer, part, sherd_paint_members);
  write_recipe (writer, sherd_paint_get_recipe (part));
  if (earlier->n_revisions == 0)
    return;
  sherd_writer_begin_list (writer, "earlier");
  for (guint i = 0; i < earlier->n_revisions; i++)
    write_revision (writer, &earlier->revisions[i]);
  sherd_writer_end_list (writer);
}

static void
write_corners (SherdWriter *writer, const char *member, const SherdOutline *outline)
{
  sherd_writer_begin_list (writer, member);
  for (gsize i = 0; i < outline->n_points; i++)
    {
      const double pair[2] = { outline->points[i].x, outline->points[i].y };

      sherd_writer_numbers (writer, NULL, pair, 2);
    }
  sherd_writer_end_list (writer);
}

/* A polygon on a vessel is told from one in mm by the name of its member. */
static void
write_shape (SherdWriter *writer, SherdZone *zone)
{
  const SherdOutline *polygon = sherd_zone_get_polygon (zone);
  const gboolean on_vessel = sherd_zone_get_range (zone, NULL);

  if (polygon != NULL)
    write_corners (writer, on_vessel ? "polygon_deg_mm" : "polygon_mm", polygon);
  else
    sherd_writer_properties (writer, zone, on_vessel ? sherd_zone_range_members : sherd_zone_rectangle_members);
}

static void
write_zone (SherdWriter *writer, gpointer part)
{
  SherdZone *zone = SHERD_ZONE (part);
  SherdPaint *paint = sherd_zone_get_paint (zone);

  sherd_writer_properties (writer, zone, sherd_zone_members);
  if (paint != NULL)
    sherd_writer_text (writer, "paint", sherd_part_get_id (SHERD_PART (paint)));
  sherd_writer_property (writer, zone, "paint-revision", SHERD_OPTIONAL);
  write_shape (writer, zone);
}

static void
write_side (SherdWriter *writer, gpointer part)
{
  sherd_writer_properties (writer, part, sherd_side_members);
  write_list (writer, "zones", sherd_side_get_zones (SHERD_SIDE (part)), write_zone);
}

static void
write_profile (SherdWriter *writer, const char *member, const SherdProfilePoint *points, gsize n_points)
{
  if (n_points == 0)
    return;
  sherd_writer_begin_list (writer, member);
  for (gsize i = 0; i < n_points; i++)
    {
      const double numbers[3] = { points[i].r_mm, points[i].z_mm, points[i].corner ? 1.0 : 0.0 };

      sherd_writer_numbers (writer, NULL, numbers, 3);
    }
  sherd_writer_end_list (writer);
}

static void
write_holes (SherdWriter *writer, const SherdForm *form)
{
  if (form->n_holes == 0)
    return;
  sherd_writer_begin_list (writer, "holes_mm");
  for (gsize i = 0; i < form->n_holes; i++)
    {
      const double numbers[3] = { form->holes[i].x_mm, form->holes[i].y_mm, form->holes[i].diameter_mm };

      sherd_writer_numbers (writer, NULL, numbers, 3);
    }
  sherd_writer_end_list (writer);
}

static void
write_form (SherdWriter *writer, const SherdForm *form)
{
  write_profile (writer, "profile_mm", form->outside, form->n_outside);
  write_profile (writer, "inside_profile_mm", form->inside, form->n_inside);
  if (form->floor_mm > 0.0)
    sherd_writer_number (writer, "floor_mm", form->floor_mm);
  if (form->edge != NULL)
    write_corners (writer, "edge_mm", form->edge);
  write_holes (writer, form);
}

static void
write_piece (SherdWriter *writer, gpointer part)
{
  const SherdForm *form = sherd_piece_get_form (SHERD_PIECE (part));

  sherd_writer_properties (writer, part, sherd_piece_members);
  if (sherd_piece_has_own_size (SHERD_PIECE (part)))
    sherd_writer_properties (writer, part, sherd_piece_size_members);
  if (form != NULL)
    write_form (writer, form);
  write_list (writer, "sides", sherd_piece_get_sides (SHERD_PIECE (part)), write_side);
}

static void
write_marks (SherdWriter *writer, const char *member, const char *place_member, const SherdMarks *marks)
{
  if (marks == NULL)
    return;
  sherd_writer_begin_list (writer, member);
  for (gsize i = 0; i < marks->n_marks; i++)
    {
      const SherdMark *mark = &marks->marks[i];
      const double place[2] = { mark->piece_mm.x, mark->piece_mm.y };
      const double photo[2] = { mark->photo_px.x, mark->photo_px.y };

      sherd_writer_begin_object (writer, NULL);
      sherd_writer_numbers (writer, place_member, place, 2);
      sherd_writer_numbers (writer, "photo_px", photo, 2);
      sherd_writer_unknown (writer, marks->unknown != NULL ? marks->unknown[i] : NULL);
      sherd_writer_end_object (writer);
    }
  sherd_writer_end_list (writer);
}

static void
write_patch (SherdWriter *writer, const SherdReferencePatch *patch)
{
  const double lab[3] = { patch->lab.l, patch->lab.a, patch->lab.b };

  sherd_writer_begin_object (writer, NULL);
  sherd_writer_text (writer, "name", patch->name);
  sherd_writer_number (writer, "x_mm", patch->rectangle_mm.x_mm);
  sherd_writer_number (writer, "y_mm", patch->rectangle_mm.y_mm);
  sherd_writer_number (writer, "width_mm", patch->rectangle_mm.width_mm);
  sherd_writer_number (writer, "height_mm", patch->rectangle_mm.height_mm);
  sherd_writer_numbers (writer, "lab", lab, 3);
  sherd_writer_unknown (writer, patch->unknown);
  sherd_writer_end_object (writer);
}

static void
write_reference (SherdWriter *writer, SherdReference *reference)
{
  gsize n_patches;
  const SherdReferencePatch *patches = sherd_reference_get_patches (reference, &n_patches);

  sherd_writer_begin_object (writer, "reference");
  sherd_writer_property (writer, reference, "kind", SHERD_REQUIRED);
  sherd_writer_property (writer, reference, "description", SHERD_OPTIONAL);
  sherd_writer_property (writer, reference, "width-mm", SHERD_OPTIONAL);
  sherd_writer_property (writer, reference, "height-mm", SHERD_OPTIONAL);
  if (n_patches > 0)
    {
      sherd_writer_begin_list (writer, "patches");
      for (gsize i = 0; i < n_patches; i++)
        write_patch (writer, &patches[i]);
      sherd_writer_end_list (writer);
    }
  sherd_writer_unknown (writer, sherd_reference_get_unknown (reference));
  sherd_writer_end_object (writer);
}

static void
write_photograph (SherdWriter *writer, gpointer part)
{
  SherdPhotograph *photograph = SHERD_PHOTOGRAPH (part);

  sherd_writer_text (writer, "piece", sherd_part_get_id (SHERD_PART (sherd_photograph_get_piece (photograph))));
  sherd_writer_text (writer, "side", sherd_part_get_id (SHERD_PART (sherd_photograph_get_side (photograph))));
  sherd_writer_properties (writer, photograph, sherd_photograph_members);
  write_marks (writer, "marks", "piece_mm", sherd_photograph_get_marks (photograph));
  write_reference (writer, sherd_photograph_get_reference (photograph));
  write_marks (writer, "reference_marks", "frame_mm", sherd_photograph_get_reference_marks (photograph));
}

static void
write_fields (SherdWriter *writer, const void *record, const SherdField *fields)
{
  for (; fields->name != NULL; fields++)
    {
      const void *field = G_STRUCT_MEMBER_P (record, fields->offset);

      switch (fields->kind)
        {
        case SHERD_FIELD_NUMBER:
          sherd_writer_number (writer, fields->name, *(const double *)field);
          break;
        case SHERD_FIELD_NUMBERS:
          sherd_writer_numbers (writer, fields->name, field, fields->n);
          break;
        case SHERD_FIELD_COUNT:
          sherd_writer_whole (writer, fields->name, *(const guint *)field);
          break;
        case SHERD_FIELD_FLAG:
        default:
          sherd_writer_flag (writer, fields->name, *(const gboolean *)field);
        }
    }
}

static void
write_flags (SherdWriter *writer, guint flags, char **unknown)
{
  sherd_writer_begin_list (writer, "flags");
  for (guint bit = 0; sherd_zone_flag_words[bit] != NULL; bit++)
    if ((flags & (1u << bit)) != 0)
      sherd_writer_text (writer, NULL, sherd_zone_flag_words[bit]);
  for (guint i = 0; unknown != NULL && unknown[i] != NULL; i++)
    sherd_writer_text (writer, NULL, unknown[i]);
  sherd_writer_end_list (writer);
}

static void
write_zone_colour (SherdWriter *writer, const SherdZoneColour *zone, char **unknown_flags, JsonObject *unknown)
{
  sherd_writer_begin_object (writer, NULL);
  sherd_writer_text (writer, "zone", zone->id);
  sherd_writer_text (writer, "code", zone->code);
  write_flags (writer, zone->flags, unknown_flags);
  write_fields (writer, zone, sherd_zone_colour_fields);
  sherd_writer_unknown (writer, unknown);
  sherd_writer_end_object (writer);
}

static gpointer
unknown_at (GPtrArray *unknown, gsize index)
{
  return index < unknown->len ? g_ptr_array_index (unknown, index) : NULL;
}

static void
write_patch_errors (SherdWriter *writer, const SherdPhotoMeasurement *result, GPtrArray *unknown)
{
  sherd_writer_begin_list (writer, "patches");
  for (gsize i = 0; i < result->n_patches; i++)
    {
      sherd_writer_begin_object (writer, NULL);
      write_fields (writer, &result->patches[i], sherd_patch_error_fields);
      sherd_writer_unknown (writer, unknown_at (unknown, i));
      sherd_writer_end_object (writer);
    }
  sherd_writer_end_list (writer);
}

static void
write_correction (SherdWriter *writer, const SherdCorrection *correction, const SherdMeasurementUnknown *unknown)
{
  sherd_writer_begin_object (writer, "correction");
  sherd_writer_text (writer, "model",
                     unknown->model != NULL ? unknown->model : sherd_correction_model_words[correction->model]);
  write_fields (writer, correction, sherd_correction_fields);
  sherd_writer_unknown (writer, unknown->correction);
  sherd_writer_end_object (writer);
}

static void
write_measurement (SherdWriter *writer, SherdMeasurement *measurement)
{
  const SherdPhotoMeasurement *result = sherd_measurement_get_result (measurement);
  const SherdMeasurementUnknown *unknown = sherd_measurement_get_inner_unknown (measurement);
  SherdPart *photograph = SHERD_PART (sherd_measurement_get_photograph (measurement));

  sherd_writer_text (writer, "photograph", sherd_part_get_id (photograph));
  sherd_writer_properties (writer, measurement, sherd_measurement_members);
  write_fields (writer, result, sherd_photo_measurement_fields);
  sherd_writer_begin_list (writer, "warnings");
  for (guint i = 0; result->warnings != NULL && result->warnings[i] != NULL; i++)
    sherd_writer_text (writer, NULL, result->warnings[i]);
  sherd_writer_end_list (writer);
  write_correction (writer, &result->correction, unknown);
  write_patch_errors (writer, result, unknown->patches);
  sherd_writer_begin_list (writer, "zones");
  for (gsize i = 0; i < result->n_zones; i++)
    write_zone_colour (writer, &result->zones[i], unknown_at (unknown->flags, i), unknown_at (unknown->zones, i));
  sherd_writer_end_list (writer);
}

static void
write_measurements (SherdWriter *writer, GListModel *measurements)
{
  const guint n_measurements = g_list_model_get_n_items (measurements);

  sherd_writer_begin_list (writer, "measurements");
  for (guint i = 0; i < n_measurements; i++)
    {
      g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (measurements, i);

      if (sherd_measurement_get_text (measurement) == NULL)
        {
          SherdWriter *item = sherd_writer_new_item (sherd_writer_get_depth (writer));

          begin_part (item, measurement);
          write_measurement (item, measurement);
          end_part (item, measurement);
          sherd_measurement_set_text (measurement, sherd_writer_finish_item (item));
        }
      sherd_writer_item (writer, sherd_measurement_get_text (measurement));
    }
  sherd_writer_end_list (writer);
}

/**
 * sherd_trial_dup_text:
 * @trial: a trial
 * @length: (out) (optional): bytes
 *
 * Writes the trial as its file holds it.
 *
 * Returns: (transfer full): UTF-8 JSON, see data/trial.schema.json
 */
char *
sherd_trial_dup_text (SherdTrial *trial, gsize *length)
{
  SherdWriter *writer = sherd_writer_new ();

  sherd_writer_begin_object (writer, NULL);
  sherd_writer_text (writer, "format", SHERD_TRIAL_FORMAT);
  sherd_writer_whole (writer, "version", SHERD_TRIAL_FORMAT_VERSION);
  sherd_writer_properties (writer, trial, sherd_trial_members);
  write_list (writer, "materials", sherd_trial_get_materials (trial), write_material);
  write_list (writer, "paints", sherd_trial_get_paints (trial), write_paint);
  write_list (writer, "pieces", sherd_trial_get_pieces (trial), write_piece);
  write_list (writer, "photographs", sherd_trial_get_photographs (trial), write_photograph);
  write_measurements (writer, sherd_trial_get_measurements (trial));
  sherd_writer_unknown (writer, sherd_trial_get_unknown (trial));
  sherd_writer_end_object (writer);
  return sherd_writer_finish (writer, length);
}
