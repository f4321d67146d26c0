/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/results.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/format.h"
#include "trial/members.h"

/* Coverage factor of every expanded uncertainty the program shows (JCGM 100:2008, 6.2.1). */
#define COVERAGE_FACTOR 2.0

/* Below what arithmetic leaves of an exact fit, far below what a hand can mark. */
#define EXACT_FIT_PX 1e-6

#define LAB_DECIMALS 1
#define SHIFT_DECIMALS 1

static double
expanded (const double covariance[3][3], guint axis)
{
  return COVERAGE_FACTOR * sqrt (covariance[axis][axis]);
}

static void
set_paint (SherdTable *table, SherdZone *zone)
{
  SherdPaint *paint = zone != NULL ? sherd_zone_get_paint (zone) : NULL;

  sherd_table_set_text (table, "paint", paint != NULL ? sherd_paint_get_code (paint) : "");
  sherd_table_set_text (table, "paint_name", paint != NULL ? sherd_paint_get_name (paint) : "");
  if (paint != NULL)
    sherd_table_set_integer (table, "paint_revision", sherd_zone_find_paint_revision (zone));
}

/* The same twice: for programs in the words of the trial file, for people in their language. */
static void
set_flags (SherdTable *table, const char *key, const char *remark_key, guint flags)
{
  g_autofree char *remark = sherd_format_zone_flags (flags);
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint bit = 0; sherd_zone_flag_words[bit] != NULL; bit++)
    if ((flags & (1u << bit)) != 0)
      g_string_append_printf (words, "%s%s", words->len > 0 ? " " : "", sherd_zone_flag_words[bit]);
  sherd_table_set_text (table, key, words->str);
  sherd_table_set_text (table, remark_key, remark);
}

static void
set_colour (SherdTable *table, const SherdZoneColour *zone)
{
  SherdLab pixel_sd = zone->pixel_sd;

  sherd_table_set_number (table, "L", zone->lab.l);
  sherd_table_set_number (table, "a", zone->lab.a);
  sherd_table_set_number (table, "b", zone->lab.b);
  sherd_table_set_number (table, "L_U95", expanded (zone->covariance, 0));
  sherd_table_set_number (table, "a_U95", expanded (zone->covariance, 1));
  sherd_table_set_number (table, "b_U95", expanded (zone->covariance, 2));
  sherd_table_set_number (table, "L_low95", zone->lower_95.l);
  sherd_table_set_number (table, "L_high95", zone->upper_95.l);
  sherd_table_set_number (table, "a_low95", zone->lower_95.a);
  sherd_table_set_number (table, "a_high95", zone->upper_95.a);
  sherd_table_set_number (table, "b_low95", zone->lower_95.b);
  sherd_table_set_number (table, "b_high95", zone->upper_95.b);
  sherd_table_set_number (table, "L_scatter", pixel_sd.l);
  sherd_table_set_number (table, "a_scatter", pixel_sd.a);
  sherd_table_set_number (table, "b_scatter", pixel_sd.b);
}

static void
set_counts (SherdTable *table, const SherdZoneColour *zone)
{
  sherd_table_set_integer (table, "pixels", zone->n_pixels);
  sherd_table_set_integer (table, "pixels_glare", zone->n_glare);
  sherd_table_set_integer (table, "pixels_shadow", zone->n_shadow);
  sherd_table_set_integer (table, "pixels_clipped", zone->n_clipped);
  sherd_table_set_integer (table, "pixels_ground", zone->n_ground);
  sherd_table_set_number (table, "retained_frac", zone->retained_frac >= 0.0 ? zone->retained_frac : NAN);
}

/**
 * sherd_results_zones:
 * @trial: the trial
 * @measurement: one of its measurements
 *
 * Colour of every zone in one photograph (CIELAB, D50, 2°). `_U95` is the expanded uncertainty, k = 2; `_low95` and
 * `_high95` are the stated 95 % limits, wider toward dark where glare is possible; `_scatter` is the standard deviation
 * of single pixels; `flags` are those of the trial file with spaces between them, `remark` says the same in words.
 *
 * Returns: (transfer full): a row a zone, in the order measured
 */
SherdTable *
sherd_results_zones (SherdTrial *trial, SherdMeasurement *measurement)
{
  const SherdColumn columns[] = {
    { "photograph", NULL, SHERD_COLUMN_TEXT, 0 },
    { "stage", NULL, SHERD_COLUMN_TEXT, 0 },
    { "zone", _ ("Zone"), SHERD_COLUMN_TEXT, 0 },
    { "paint", _ ("Paint"), SHERD_COLUMN_TEXT, 0 },
    { "paint_name", NULL, SHERD_COLUMN_TEXT, 0 },
    { "paint_revision", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "L", _ ("L*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "L_low95", _ ("from"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "L_high95", _ ("to"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "L_U95", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "a", _ ("a*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "a_low95", _ ("from"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "a_high95", _ ("to"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "a_U95", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "b", _ ("b*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "b_low95", _ ("from"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "b_high95", _ ("to"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "b_U95", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "L_scatter", _ ("Scatter L*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "a_scatter", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "b_scatter", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "pixels", _ ("Pixels"), SHERD_COLUMN_INTEGER, 0 },
    { "pixels_glare", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "pixels_shadow", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "pixels_clipped", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "pixels_ground", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "retained_frac", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "flags", NULL, SHERD_COLUMN_TEXT, 0 },
    { "remark", _ ("Remark"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  const SherdPhotoMeasurement *result = sherd_measurement_get_result (measurement);
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);

  for (gsize i = 0; i < result->n_zones; i++)
    {
      const SherdZoneColour *zone = &result->zones[i];

      sherd_table_add_row (table);
      sherd_table_set_text (table, "photograph", sherd_part_get_id (SHERD_PART (photograph)));
      sherd_table_set_text (table, "stage", sherd_photograph_get_stage (photograph));
      sherd_table_set_text (table, "zone", zone->code);
      set_paint (table, sherd_trial_find_zone (trial, zone->id, NULL, NULL));
      if (sherd_zone_colour_is_measured (zone))
        set_colour (table, zone);
      set_counts (table, zone);
      set_flags (table, "flags", "remark", zone->flags);
    }
  return table;
}

static void
set_side_colour (SherdTable *table, const char *keys[3], const SherdZoneColour *zone)
{
  if (!sherd_zone_colour_is_measured (zone))
    return;
  sherd_table_set_number (table, keys[0], zone->lab.l);
  sherd_table_set_number (table, keys[1], zone->lab.a);
  sherd_table_set_number (table, keys[2], zone->lab.b);
}

static void
set_shift (SherdTable *table, const SherdShift *shift)
{
  const SherdDifference *difference = &shift->difference;
  g_autofree char *verdict = sherd_format_shift_verdict (shift);

  sherd_table_set_text (table, "verdict", verdict);
  if (!shift->measured)
    return;
  sherd_table_set_boolean (table, "changed", shift->real);
  sherd_table_set_number (table, "dE00", difference->de00);
  sherd_table_set_number (table, "dE00_U95", COVERAGE_FACTOR * shift->de00_u);
  sherd_table_set_number (table, "dE00_low95", shift->de00_low);
  sherd_table_set_number (table, "dE00_high95", shift->de00_high);
  sherd_table_set_number (table, "dE00_noise95", shift->de00_noise);
  sherd_table_set_number (table, "dL", difference->delta_l);
  sherd_table_set_number (table, "da", difference->delta_a);
  sherd_table_set_number (table, "db", difference->delta_b);
  sherd_table_set_number (table, "dC", difference->delta_c);
  sherd_table_set_number (table, "dH", difference->delta_h);
  sherd_table_set_number (table, "dE76", difference->de76);
  sherd_table_set_number (table, "dE94", difference->de94);
  sherd_table_set_number (table, "dE00_no_lightness", difference->de00_no_lightness);
}

static void
add_shift_row (SherdTable *table, SherdZoneShift *zone_shift)
{
  static const char *before_keys[3] = { "L_before", "a_before", "b_before" };
  static const char *after_keys[3] = { "L_after", "a_after", "b_after" };
  const SherdZoneColour *before = sherd_zone_shift_get_before (zone_shift);
  const SherdZoneColour *after = sherd_zone_shift_get_after (zone_shift);
  SherdZone *zone = sherd_zone_shift_get_zone (zone_shift);

  sherd_table_add_row (table);
  sherd_table_set_text (table, "zone", sherd_zone_get_code (zone));
  set_paint (table, zone);
  set_side_colour (table, before_keys, before);
  set_side_colour (table, after_keys, after);
  set_shift (table, sherd_zone_shift_get_shift (zone_shift));
  if (before != NULL)
    set_flags (table, "flags_before", "remark_before", before->flags);
  if (after != NULL)
    set_flags (table, "flags_after", "remark_after", after->flags);
}

/**
 * sherd_results_shifts:
 * @comparison: two photographs of one side
 *
 * Colour shift of every zone, after minus before (CIELAB, D50, 2°). `dE00_U95` is the expanded uncertainty, k = 2;
 * `dE00_low95` and `dE00_high95` are the 95 % limits by random draws; `dE00_noise95` is what ΔE00 would stay below in
 * 95 % of repeats if nothing had changed; `changed` is whether it is above that noise, `verdict` says so in words.
 *
 * Returns: (transfer full): a row a zone of the side
 */
SherdTable *
sherd_results_shifts (SherdComparison *comparison)
{
  const SherdColumn columns[] = {
    { "zone", _ ("Zone"), SHERD_COLUMN_TEXT, 0 },
    { "paint", _ ("Paint"), SHERD_COLUMN_TEXT, 0 },
    { "paint_name", NULL, SHERD_COLUMN_TEXT, 0 },
    { "paint_revision", NULL, SHERD_COLUMN_INTEGER, 0 },
    { "L_before", _ ("L* before"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "a_before", _ ("a*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "b_before", _ ("b*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "L_after", _ ("L* after"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "a_after", _ ("a*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "b_after", _ ("b*"), SHERD_COLUMN_NUMBER, LAB_DECIMALS },
    { "dE00", _ ("ΔE00"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "dE00_U95", _ ("±"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "dE00_low95", _ ("from"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "dE00_high95", _ ("to"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "dE00_noise95", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "dL", _ ("ΔL*"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "da", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "db", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "dC", _ ("ΔC*"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "dH", _ ("ΔH*"), SHERD_COLUMN_NUMBER, SHIFT_DECIMALS },
    { "dE76", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "dE94", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "dE00_no_lightness", NULL, SHERD_COLUMN_NUMBER, 0 },
    { "changed", NULL, SHERD_COLUMN_BOOLEAN, 0 },
    { "flags_before", NULL, SHERD_COLUMN_TEXT, 0 },
    { "flags_after", NULL, SHERD_COLUMN_TEXT, 0 },
    { "verdict", _ ("Verdict"), SHERD_COLUMN_TEXT, 0 },
    { "remark_before", _ ("Remark before"), SHERD_COLUMN_TEXT, 0 },
    { "remark_after", _ ("Remark after"), SHERD_COLUMN_TEXT, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  GListModel *zones = G_LIST_MODEL (comparison);
  guint n_zones = g_list_model_get_n_items (zones);

  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZoneShift) zone_shift = g_list_model_get_item (zones, i);

      add_shift_row (table, zone_shift);
    }
  return table;
}

static void
append_remark (GString *remarks, const char *when, guint flags)
{
  g_autofree char *words = sherd_format_zone_flags (flags);

  if (flags == 0)
    return;
  g_string_append (remarks, "; ");
  if (when != NULL)
    g_string_append_printf (remarks, "%s: ", when);
  g_string_append (remarks, words);
}

/**
 * sherd_results_dup_remarks:
 * @zone_shift: one zone in two photographs
 *
 * Returns: (transfer full): for people: whether it changed, then the remarks of both measurements, those that hold for
 * both once
 */
char *
sherd_results_dup_remarks (SherdZoneShift *zone_shift)
{
  const SherdZoneColour *before = sherd_zone_shift_get_before (zone_shift);
  const SherdZoneColour *after = sherd_zone_shift_get_after (zone_shift);
  guint flags_before = before != NULL ? before->flags : 0;
  guint flags_after = after != NULL ? after->flags : 0;
  g_autofree char *verdict = sherd_format_shift_verdict (sherd_zone_shift_get_shift (zone_shift));
  GString *remarks = g_string_new (verdict);

  append_remark (remarks, NULL, flags_before & flags_after);
  append_remark (remarks, _ ("before"), flags_before & ~flags_after);
  append_remark (remarks, _ ("after"), flags_after & ~flags_before);
  return g_string_free (remarks, FALSE);
}

static char *
correction_note (const SherdCorrection *correction)
{
  g_autofree char *mean = sherd_format_number (correction->loo_mean_de00, 2);
  g_autofree char *worst = sherd_format_number (correction->loo_max_de00, 2);

  switch (correction->model)
    {
    case SHERD_CORRECTION_GREY:
      return g_strdup (_ ("Light: balanced by a grey card alone; colours are only as good as the camera."));
    case SHERD_CORRECTION_LINEAR:
      return g_strdup_printf (_ ("Light: chart of %u patches, 3×3 fit, leave-one-out ΔE00 %s mean, %s worst."),
                              correction->n_pairs, mean, worst);
    case SHERD_CORRECTION_ROOT_POLYNOMIAL:
      return g_strdup_printf (
        _ ("Light: chart of %u patches, root-polynomial fit, leave-one-out ΔE00 %s mean, %s worst."),
        correction->n_pairs, mean, worst);
    case SHERD_CORRECTION_NONE:
    default:
      return g_strdup (
        _ ("Light: no reference in the photograph; colours are the camera's own and their uncertainty is wide."));
    }
}

/* Four marks fit any view exactly, which says nothing. */
static char *
registration_note (const SherdPhotoMeasurement *result)
{
  g_autofree char *px = sherd_format_number (result->residual_rms_px, 2);
  g_autofree char *mm = sherd_format_number (result->residual_rms_mm, 2);

  if (result->residual_rms_px < EXACT_FIT_PX)
    return g_strdup (_ ("Marks: only four, so their fit is not checked; a fifth would."));
  return g_strdup_printf (_ ("Marks: fit within %s px, %s mm."), px, mm);
}

/**
 * sherd_results_dup_notes:
 * @measurement: a measurement
 *
 * Returns: (transfer full): how the photograph was placed and lit, then its warnings, each a line for people
 */
GStrv
sherd_results_dup_notes (SherdMeasurement *measurement)
{
  const SherdPhotoMeasurement *result = sherd_measurement_get_result (measurement);
  g_autoptr (GStrvBuilder) notes = g_strv_builder_new ();
  g_autofree char *light = correction_note (&result->correction);
  g_autofree char *marks = registration_note (result);

  g_strv_builder_add (notes, marks);
  g_strv_builder_add (notes, light);
  if (result->warnings != NULL)
    g_strv_builder_addv (notes, (const char **)result->warnings);
  return g_strv_builder_end (notes);
}
