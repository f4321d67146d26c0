/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A flat picture drawn here: a buff tile with four zones and a bare one beside a 24-patch chart, every colour an exact
 * sRGB code, with a few codes of noise. What must come out is the CIELAB of those codes by the colour room, which is
 * itself tested against LittleCMS. The chart's values are those of its own codes, so the light correction is the
 * identity. */
#include "config.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <math.h>
#include <png.h>
#include <string.h>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "support.h"
#include "trial/comparison.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/inputs.h"
#include "trial/measure-job.h"

#define WIDTH_PX 1200
#define HEIGHT_PX 700
#define PX_PER_MM 6.0
#define TILE_LEFT_PX 40.0
#define TILE_TOP_PX 60.0
#define TILE_WIDTH_MM 100.0
#define TILE_HEIGHT_MM 60.0
#define CHART_LEFT_PX 720.0
#define CHART_TOP_PX 60.0

/* Noise of ±2 codes averages out over a zone's tens of thousands of pixels; what is left is the light model's freedom.
 */
#define COLOUR_TOLERANCE_DE00 0.5

typedef struct
{
  guint8 code[3];
} Paint;

typedef struct
{
  char *folder;
  char *before;
  char *after;
  SherdTrial *trial;
  SherdPiece *tile;
  SherdSide *face;
  SherdPhotograph *photographs[2];
} Bench;

static const Paint ground = { { 190, 165, 135 } };
static const Paint before_paints[] = { { { 60, 50, 45 } },
                                       { { 150, 70, 50 } },
                                       { { 230, 225, 210 } },
                                       { { 120, 110, 60 } } };
static const Paint after_paints[] = { { { 40, 36, 34 } },
                                      { { 130, 50, 40 } },
                                      { { 230, 225, 210 } },
                                      { { 90, 95, 80 } } };

static SherdLab
lab_of (const Paint *paint)
{
  const SherdRgb linear = { sherd_srgb_decode (paint->code[0] / 255.0), sherd_srgb_decode (paint->code[1] / 255.0),
                            sherd_srgb_decode (paint->code[2] / 255.0) };
  const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&linear);

  return sherd_lab_from_xyz (&xyz);
}

static Paint
chart_paint (guint index)
{
  static const guint8 levels[] = { 30, 100, 170, 235 };

  if (index >= 18)
    return (Paint){ { (guint8)(35 + 40 * (index - 18)), (guint8)(35 + 40 * (index - 18)),
                      (guint8)(35 + 40 * (index - 18)) } };
  return (Paint){ { levels[index % 4], levels[(index / 4) % 4], levels[(index * 7 / 3) % 4] } };
}

static SherdRectangle
zone_place (guint index)
{
  return (SherdRectangle){ 4.0 + 19.0 * index, 8.0, 15.0, 40.0 };
}

static SherdChartLayout
chart_layout (void)
{
  return (SherdChartLayout){ .n_rows = 6,
                             .n_columns = 4,
                             .frame_width_mm = 64,
                             .frame_height_mm = 94,
                             .left_mm = 2,
                             .top_mm = 2,
                             .patch_width_mm = 12,
                             .patch_height_mm = 12,
                             .gap_x_mm = 4,
                             .gap_y_mm = 3.6 };
}

static void
fill (guint8 *pixels, double left_px, double top_px, const SherdRectangle *place, const Paint *paint, GRand *rand)
{
  const guint x0 = (guint)(left_px + place->x_mm * PX_PER_MM), y0 = (guint)(top_px + place->y_mm * PX_PER_MM);
  const guint x1 = (guint)(left_px + (place->x_mm + place->width_mm) * PX_PER_MM);
  const guint y1 = (guint)(top_px + (place->y_mm + place->height_mm) * PX_PER_MM);

  for (guint y = y0; y < y1; y++)
    for (guint x = x0; x < x1; x++)
      for (guint channel = 0; channel < 3; channel++)
        pixels[3 * (y * WIDTH_PX + x) + channel] = (guint8)(paint->code[channel] + g_rand_int_range (rand, -2, 3));
}

static void
draw (const char *path, const Paint *paints)
{
  const SherdChartLayout layout = chart_layout ();
  const SherdRectangle tile = { 0, 0, TILE_WIDTH_MM, TILE_HEIGHT_MM };
  g_autofree guint8 *pixels = g_malloc (3u * WIDTH_PX * HEIGHT_PX);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  png_image image = { .version = PNG_IMAGE_VERSION, .width = WIDTH_PX, .height = HEIGHT_PX, .format = PNG_FORMAT_RGB };

  memset (pixels, 90, 3u * WIDTH_PX * HEIGHT_PX);
  fill (pixels, TILE_LEFT_PX, TILE_TOP_PX, &tile, &ground, rand);
  for (guint i = 0; i < G_N_ELEMENTS (before_paints); i++)
    {
      const SherdRectangle place = zone_place (i);

      fill (pixels, TILE_LEFT_PX, TILE_TOP_PX, &place, &paints[i], rand);
    }
  for (guint i = 0; i < 24; i++)
    {
      const SherdRectangle place = sherd_chart_layout_patch (&layout, i / 4, i % 4);
      const Paint paint = chart_paint (i);

      fill (pixels, CHART_LEFT_PX, CHART_TOP_PX, &place, &paint, rand);
    }
  g_assert_true (png_image_write_to_file (&image, path, 0, pixels, 0, NULL));
}

static SherdReference *
chart_reference (void)
{
  const SherdChartLayout layout = chart_layout ();
  g_autoptr (SherdChart) chart = sherd_chart_new ("drawn chart");
  SherdReference *reference;

  for (guint i = 0; i < 24; i++)
    {
      g_autofree char *name = sherd_grid_code (i / 4, i % 4);
      const Paint paint = chart_paint (i);
      const SherdLab lab = lab_of (&paint);

      sherd_chart_add (chart, name, &lab);
    }
  reference = sherd_reference_new_chart (chart, &layout, NULL);
  g_assert_nonnull (reference);
  return reference;
}

static void
mark (double left_px, double top_px, double width_mm, double height_mm, SherdMark marks[4])
{
  const SherdPoint corners[4] = { { 0, 0 }, { width_mm, 0 }, { width_mm, height_mm }, { 0, height_mm } };

  for (guint i = 0; i < 4; i++)
    {
      marks[i].piece_mm = corners[i];
      marks[i].photo_px = (SherdPoint){ left_px + corners[i].x * PX_PER_MM, top_px + corners[i].y * PX_PER_MM };
    }
}

static SherdPhotograph *
add_photograph (Bench *bench, const char *path, const char *stage)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhotograph) photograph = sherd_photograph_new_from_file (path, &error);
  g_autoptr (SherdReference) reference = chart_reference ();
  SherdMark marks[4], chart_marks[4];

  g_assert_no_error (error);
  mark (TILE_LEFT_PX, TILE_TOP_PX, TILE_WIDTH_MM, TILE_HEIGHT_MM, marks);
  mark (CHART_LEFT_PX, CHART_TOP_PX, 64, 94, chart_marks);
  g_assert_true (sherd_trial_add_photograph (bench->trial, photograph, bench->tile, bench->face, stage, NULL));
  g_assert_true (sherd_trial_set_marks (bench->trial, photograph, marks, 4, FALSE, NULL));
  sherd_trial_set_reference (bench->trial, photograph, reference);
  g_assert_true (sherd_trial_set_reference_marks (bench->trial, photograph, chart_marks, 4, FALSE, NULL));
  return photograph;
}

static void
lay_out_zones (Bench *bench)
{
  static const char *const codes[] = { "A1", "A2", "A3", "A4" };
  static const char *const paints[] = { "KM", "RU", "BI", "OC" };

  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    {
      const SherdRectangle place = zone_place (i);
      SherdZone *zone = sherd_trial_add_zone (bench->trial, bench->tile, bench->face, codes[i], &place, NULL);

      g_assert_true (sherd_trial_set_zones_paint (bench->trial, &zone, 1, paints[i], NULL));
    }
}

static void
set_up (Bench *bench, gconstpointer data)
{
  bench->folder = scratch_new ();
  bench->before = scratch_path (bench->folder, "before.png");
  bench->after = scratch_path (bench->folder, "after.png");
  draw (bench->before, before_paints);
  draw (bench->after, after_paints);
  bench->trial = sherd_trial_new ();
  bench->tile = sherd_trial_add_tile (bench->trial, "Tile", TILE_WIDTH_MM, TILE_HEIGHT_MM, 8, SHERD_CLAY_DRY, NULL);
  bench->face = sherd_piece_find_side_by_name (bench->tile, "face");
  lay_out_zones (bench);
  bench->photographs[0] = add_photograph (bench, bench->before, "unfired");
  bench->photographs[1] = add_photograph (bench, bench->after, "after firing 1");
}

static void
tear_down (Bench *bench, gconstpointer data)
{
  scratch_remove (bench->folder);
  g_clear_object (&bench->trial);
  g_free (bench->folder);
  g_free (bench->before);
  g_free (bench->after);
}

static SherdMeasurement *
measure (Bench *bench, guint which)
{
  g_autoptr (GError) error = NULL;
  SherdMeasurement *measurement =
    sherd_trial_measure (bench->trial, bench->photographs[which], NULL, NULL, NULL, &error);

  g_assert_no_error (error);
  return measurement;
}

static void
assert_colour (SherdMeasurement *measurement, const char *zone_id, const Paint *paint)
{
  const SherdZoneColour *zone = sherd_measurement_find_zone (measurement, zone_id);
  const SherdLab truth = lab_of (paint);

  g_assert_nonnull (zone);
  g_assert_cmpuint (zone->flags & SHERD_ZONE_NOT_MEASURED, ==, 0);
  g_assert_cmpfloat (sherd_difference_de00 (&zone->lab, &truth), <, COLOUR_TOLERANCE_DE00);
}

static void
test_zones_have_the_colour_they_were_drawn_in (Bench *bench, gconstpointer data)
{
  SherdMeasurement *before = measure (bench, 0);

  for (guint i = 0; i < G_N_ELEMENTS (before_paints); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (sherd_side_get_zones (bench->face), i);

      assert_colour (before, sherd_part_get_id (SHERD_PART (zone)), &before_paints[i]);
    }
  g_assert_cmpstr (sherd_measurement_get_program (before), ==, SHERD_VERSION);
  g_assert_false (sherd_measurement_get_stale (before));
}

static void
test_a_comparison_has_the_shift_that_was_drawn (Bench *bench, gconstpointer data)
{
  g_autoptr (SherdComparison) comparison = NULL;
  g_autoptr (GError) error = NULL;

  measure (bench, 0);
  measure (bench, 1);
  comparison = sherd_trial_compare (bench->trial, bench->tile, bench->face, "unfired", "after firing 1", &error);
  g_assert_no_error (error);
  g_assert_true (sherd_comparison_get_same_reference (comparison));
  g_assert_cmpuint (g_list_model_get_n_items (G_LIST_MODEL (comparison)), ==, G_N_ELEMENTS (before_paints));
  for (guint i = 0; i < G_N_ELEMENTS (before_paints); i++)
    {
      g_autoptr (SherdZoneShift) row = g_list_model_get_item (G_LIST_MODEL (comparison), i);
      const SherdLab first = lab_of (&before_paints[i]), second = lab_of (&after_paints[i]);
      const double truth_de00 = sherd_difference_de00 (&first, &second);
      const SherdShift *shift = sherd_zone_shift_get_shift (row);

      g_assert_true (shift->measured);
      g_assert_cmpfloat_with_epsilon (shift->difference.de00, truth_de00, COLOUR_TOLERANCE_DE00);
      g_assert_cmpint (shift->real, ==, truth_de00 > 0.0);
    }
}

static void
assert_same_shift (const SherdShift *first, const SherdShift *second)
{
  g_assert_cmpfloat (first->difference.de00, ==, second->difference.de00);
  g_assert_cmpfloat (first->de00_u, ==, second->de00_u);
  g_assert_cmpfloat (first->de00_low, ==, second->de00_low);
  g_assert_cmpfloat (first->de00_high, ==, second->de00_high);
}

static void
test_a_measurement_survives_the_file (Bench *bench, gconstpointer data)
{
  g_autofree char *file = scratch_path (bench->folder, "t.sherdboard");
  g_autoptr (SherdTrial) again = NULL;
  g_autoptr (SherdComparison) first = NULL;
  g_autoptr (SherdComparison) second = NULL;
  g_autoptr (SherdZoneShift) a = NULL;
  g_autoptr (SherdZoneShift) b = NULL;
  SherdPiece *tile;

  measure (bench, 0);
  measure (bench, 1);
  g_assert_true (sherd_trial_save_as (bench->trial, file, NULL, NULL));
  again = sherd_trial_load (file, NULL);
  tile = sherd_trial_find_piece_by_name (again, "Tile");
  first = sherd_trial_compare (bench->trial, bench->tile, bench->face, "unfired", "after firing 1", NULL);
  second =
    sherd_trial_compare (again, tile, sherd_piece_find_side_by_name (tile, "face"), "unfired", "after firing 1", NULL);
  a = g_list_model_get_item (G_LIST_MODEL (first), 1);
  b = g_list_model_get_item (G_LIST_MODEL (second), 1);
  assert_same_shift (sherd_zone_shift_get_shift (a), sherd_zone_shift_get_shift (b));
}

static gpointer
run_job (gpointer data)
{
  return GINT_TO_POINTER (sherd_measure_job_run (data, NULL, NULL, NULL, NULL));
}

static void
test_a_job_runs_in_a_thread_while_the_trial_changes (Bench *bench, gconstpointer data)
{
  g_autoptr (SherdMeasureJob) job = sherd_measure_job_new (bench->trial, bench->photographs[0], NULL);
  g_autoptr (SherdZone) zone = g_list_model_get_item (sherd_side_get_zones (bench->face), 0);
  g_autofree char *zone_id = g_strdup (sherd_part_get_id (SHERD_PART (zone)));
  GThread *thread = g_thread_new ("measure", run_job, job);
  SherdMeasurement *measurement;

  sherd_trial_remove_zone (bench->trial, bench->face, zone);
  g_clear_object (&zone);
  g_assert_true (GPOINTER_TO_INT (g_thread_join (thread)));
  measurement = sherd_measure_job_apply (job, bench->trial);
  g_assert_true (sherd_measurement_get_stale (measurement));
  assert_colour (measurement, zone_id, &before_paints[0]);
  sherd_trial_undo (bench->trial);
  sherd_trial_undo (bench->trial);
  sherd_trial_redo (bench->trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_measurements (bench->trial)), ==, 0);
}

static void
test_a_job_whose_photograph_has_gone_is_dropped (Bench *bench, gconstpointer data)
{
  g_autoptr (SherdMeasureJob) job = sherd_measure_job_new (bench->trial, bench->photographs[0], NULL);

  g_assert_true (sherd_measure_job_run (job, NULL, NULL, NULL, NULL));
  sherd_trial_remove_photograph (bench->trial, bench->photographs[0]);
  g_assert_null (sherd_measure_job_apply (job, bench->trial));
}

static void
test_measuring_again_takes_the_place_of_the_same_inputs (Bench *bench, gconstpointer data)
{
  GListModel *measurements = sherd_trial_get_measurements (bench->trial);
  SherdMark marks[4];

  list_watch (measurements);
  measure (bench, 0);
  measure (bench, 0);
  g_assert_cmpuint (g_list_model_get_n_items (measurements), ==, 1);
  mark (TILE_LEFT_PX + 1, TILE_TOP_PX, TILE_WIDTH_MM, TILE_HEIGHT_MM, marks);
  g_assert_true (sherd_trial_set_marks (bench->trial, bench->photographs[0], marks, 4, FALSE, NULL));
  g_assert_null (sherd_trial_get_measurement (bench->trial, bench->photographs[0]));
  measure (bench, 0);
  g_assert_cmpuint (g_list_model_get_n_items (measurements), ==, 2);
  g_assert_nonnull (sherd_trial_get_measurement (bench->trial, bench->photographs[0]));
}

static void
assert_incomplete (Bench *bench, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_measure_job_new (bench->trial, bench->photographs[0], &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_what_is_missing_is_told (Bench *bench, gconstpointer data)
{
  GListModel *zones = sherd_side_get_zones (bench->face);

  g_assert_true (sherd_trial_set_reference_marks (bench->trial, bench->photographs[0], NULL, 0, FALSE, NULL));
  assert_incomplete (bench, "chart or card");
  g_assert_true (sherd_trial_set_marks (bench->trial, bench->photographs[0], NULL, 0, FALSE, NULL));
  assert_incomplete (bench, "corners of the piece");
  while (g_list_model_get_n_items (zones) > 0)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, 0);

      sherd_trial_remove_zone (bench->trial, bench->face, zone);
    }
  assert_incomplete (bench, "no zones");
}

static void
test_a_picture_that_is_gone_or_replaced_is_told (Bench *bench, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents (bench->before, "short", -1, NULL));
  g_assert_null (sherd_trial_measure (bench->trial, bench->photographs[0], NULL, NULL, NULL, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO);
  g_clear_error (&error);
  g_unlink (bench->before);
  g_assert_null (sherd_trial_measure (bench->trial, bench->photographs[0], NULL, NULL, NULL, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_PHOTO);
}

static void
test_a_cancelled_measurement_leaves_nothing (Bench *bench, gconstpointer data)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (sherd_trial_measure (bench->trial, bench->photographs[0], NULL, NULL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_measurements (bench->trial)), ==, 0);
}

static void
assert_not_compared (Bench *bench, const char *before, const char *after, int code, const char *words)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_trial_compare (bench->trial, bench->tile, bench->face, before, after, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, code);
  g_assert_nonnull (strstr (error->message, words));
}

static void
test_comparisons_that_cannot_be_are_refused (Bench *bench, gconstpointer data)
{
  SherdZone *zone;

  assert_not_compared (bench, "unfired", "after firing 1", SHERD_TRIAL_ERROR_INCOMPLETE, "not been measured");
  assert_not_compared (bench, "unfired", "after firing 4", SHERD_TRIAL_ERROR_INCOMPLETE, "After firing 4");
  assert_not_compared (bench, "unfired", "soon", SHERD_TRIAL_ERROR_VALUE, "soon");
  measure (bench, 0);
  measure (bench, 1);
  zone = sherd_side_find_zone_by_code (bench->face, "A1");
  g_assert_true (
    sherd_trial_set_zone_rectangle (bench->trial, bench->tile, zone, &(SherdRectangle){ 4, 8, 15, 41 }, FALSE, NULL));
  assert_not_compared (bench, "unfired", "after firing 1", SHERD_TRIAL_ERROR_INCOMPLETE, "has changed since");
  g_assert_null (sherd_trial_get_measurement (bench->trial, bench->photographs[1]));
}

static void
test_stages_are_listed_in_the_order_of_life (Bench *bench, gconstpointer data)
{
  g_auto (GStrv) stages = NULL;

  add_photograph (bench, bench->before, "unfired, after rubbing");
  add_photograph (bench, bench->after, "after firing 1");
  stages = sherd_trial_dup_stages (bench->trial, bench->tile, bench->face);
  g_assert_cmpuint (g_strv_length (stages), ==, 3);
  g_assert_cmpstr (stages[0], ==, "unfired");
  g_assert_cmpstr (stages[1], ==, "unfired, after rubbing");
  g_assert_cmpstr (stages[2], ==, "after firing 1");
}

static void
add (const char *name, void (*test) (Bench *bench, gconstpointer data))
{
  g_autofree char *path = g_strconcat ("/trial/measure-job/", name, NULL);

  g_test_add (path, Bench, NULL, set_up, test, tear_down);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  add ("zones-have-the-colour-they-were-drawn-in", test_zones_have_the_colour_they_were_drawn_in);
  add ("a-comparison-has-the-shift-that-was-drawn", test_a_comparison_has_the_shift_that_was_drawn);
  add ("a-measurement-survives-the-file", test_a_measurement_survives_the_file);
  add ("a-job-runs-in-a-thread-while-the-trial-changes", test_a_job_runs_in_a_thread_while_the_trial_changes);
  add ("a-job-whose-photograph-has-gone-is-dropped", test_a_job_whose_photograph_has_gone_is_dropped);
  add ("measuring-again-takes-the-place-of-the-same-inputs", test_measuring_again_takes_the_place_of_the_same_inputs);
  add ("what-is-missing-is-told", test_what_is_missing_is_told);
  add ("a-picture-that-is-gone-or-replaced-is-told", test_a_picture_that_is_gone_or_replaced_is_told);
  add ("a-cancelled-measurement-leaves-nothing", test_a_cancelled_measurement_leaves_nothing);
  add ("comparisons-that-cannot-be-are-refused", test_comparisons_that_cannot_be_are_refused);
  add ("stages-are-listed-in-the-order-of-life", test_stages_are_listed_in_the_order_of_life);
  return g_test_run ();
}
