/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layouts worked by hand. The rendered scene's chart (tile_a, 6 rows × 4 columns) is an outside check: its patch places
 * are written in truth.json by the renderer's script. */
#include "config.h"

#include <json-glib/json-glib.h>
#include <string.h>

#include "support.h"
#include "trial/chart-file.h"
#include "trial/reference.h"

/* Places are sums of a few decimals of the same size. */
#define ROUNDING_MM 1e-9

static const SherdChartLayout portrait = {
  .n_rows = 6,
  .n_columns = 4,
  .frame_width_mm = 93,
  .frame_height_mm = 137,
  .left_mm = 4,
  .top_mm = 4,
  .patch_width_mm = 19,
  .patch_height_mm = 19,
  .gap_x_mm = 3,
  .gap_y_mm = 3,
};

static void
test_patches_lie_at_margin_pitch_and_size (void)
{
  const SherdRectangle patch = sherd_chart_layout_patch (&portrait, 5, 3);

  g_assert_cmpfloat_with_epsilon (patch.x_mm, 4 + 3 * 22, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (patch.y_mm, 4 + 5 * 22, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (patch.width_mm, 19, ROUNDING_MM);
}

static void
assert_corners (SherdChartMarks kind, double left, double top, double right, double bottom)
{
  SherdPoint points[4];

  sherd_chart_layout_marks (&portrait, kind, points);
  g_assert_cmpfloat_with_epsilon (points[0].x, left, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[0].y, top, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[1].x, right, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[1].y, top, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[2].x, right, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[2].y, bottom, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[3].x, left, ROUNDING_MM);
  g_assert_cmpfloat_with_epsilon (points[3].y, bottom, ROUNDING_MM);
}

static void
test_marks_go_round_from_the_top_left (void)
{
  assert_corners (SHERD_CHART_MARKS_FRAME, 0, 0, 93, 137);
  assert_corners (SHERD_CHART_MARKS_FIELD, 4, 4, 89, 133);
  assert_corners (SHERD_CHART_MARKS_PATCH_CENTRES, 13.5, 13.5, 79.5, 123.5);
}

static void
test_a_plain_layout_keeps_inside_each_cell (void)
{
  SherdChartLayout plain;
  SherdRectangle last;

  sherd_chart_layout_init_plain (&plain, 4, 6);
  g_assert_true (sherd_chart_layout_check (&plain, NULL));
  last = sherd_chart_layout_patch (&plain, 3, 5);
  /* The sixth cell of the row reaches from 5/6 to 6/6 of the frame; the patch is the middle of it. */
  g_assert_cmpfloat_with_epsilon (last.x_mm + last.width_mm / 2, plain.frame_width_mm * 5.5 / 6, ROUNDING_MM);
  g_assert_cmpfloat (last.x_mm, >, plain.frame_width_mm * 5 / 6);
  g_assert_cmpfloat (last.x_mm + last.width_mm, <, plain.frame_width_mm);
}

static void
assert_refused (SherdChartLayout layout)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_chart_layout_check (&layout, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
}

static void
test_layouts_that_cannot_be_are_refused (void)
{
  SherdChartLayout layout = portrait;

  layout.n_rows = 0;
  assert_refused (layout);
  layout.n_rows = 70000;
  layout.n_columns = 70000;
  assert_refused (layout);
  layout = portrait;
  layout.patch_width_mm = 0;
  assert_refused (layout);
  layout = portrait;
  layout.gap_x_mm = -1;
  assert_refused (layout);
  layout = portrait;
  layout.frame_width_mm = 88;
  assert_refused (layout);
  layout = portrait;
  layout.top_mm = 0.0 / 0.0;
  assert_refused (layout);
}

static SherdChart *
chart_named (const char *const *names)
{
  SherdChart *chart = sherd_chart_new ("named");

  for (guint i = 0; names[i] != NULL; i++)
    sherd_chart_add (chart, names[i], &(SherdLab){ 10.0 * i, 0, 0 });
  return chart;
}

/* Expected L* of the places in reading order, two rows of three. */
static void
assert_matched (const char *const *names, const double *lightness)
{
  g_autoptr (SherdChart) chart = chart_named (names);
  SherdChartLayout layout;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdReference) reference = NULL;
  const SherdReferencePatch *patches;
  gsize n_patches;

  sherd_chart_layout_init_plain (&layout, 2, 3);
  reference = sherd_reference_new_chart (chart, &layout, &error);
  g_assert_no_error (error);
  patches = sherd_reference_get_patches (reference, &n_patches);
  g_assert_cmpuint (n_patches, ==, 6);
  g_assert_cmpstr (patches[3].name, ==, "B1");
  for (gsize i = 0; i < n_patches; i++)
    g_assert_cmpfloat (patches[i].lab.l, ==, lightness[i]);
}

static void
test_patches_are_matched_by_name (void)
{
  static const double in_order[] = { 0, 10, 20, 30, 40, 50 }, by_column[] = { 0, 20, 40, 10, 30, 50 };
  static const double reversed[] = { 50, 40, 30, 20, 10, 0 };

  assert_matched ((const char *[]){ "A1", "A2", "A3", "B1", "B2", "B3", NULL }, in_order);
  assert_matched ((const char *[]){ "a01", "A02", " A3 ", "B01", "B02", "B03", NULL }, in_order);
  assert_matched ((const char *[]){ "B3", "B2", "B1", "A3", "A2", "A1", NULL }, reversed);
  assert_matched ((const char *[]){ "1", "2", "3", "04", "005", "6", NULL }, in_order);
  assert_matched ((const char *[]){ "A1", "A2", "B1", "B2", "C1", "C2", NULL }, by_column);
  assert_matched ((const char *[]){ "A1", "A2", "A3", "B1", "B2", "B3", "white", NULL }, in_order);
}

static void
test_a_chart_that_does_not_fit_is_refused (void)
{
  g_autoptr (SherdChart) few = chart_named ((const char *[]){ "A1", "A2", "A3", "B1", "B2", NULL });
  g_autoptr (SherdChart) twice = chart_named ((const char *[]){ "A1", "A2", "A3", "B1", "B2", "B3", "A01", NULL });
  g_autoptr (GError) error = NULL;
  SherdChartLayout layout;

  sherd_chart_layout_init_plain (&layout, 2, 3);
  g_assert_null (sherd_reference_new_chart (few, &layout, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  g_assert_nonnull (strstr (error->message, "“B3”"));
  g_clear_error (&error);
  g_assert_null (sherd_reference_new_chart (twice, &layout, &error));
  g_assert_nonnull (strstr (error->message, "two patches named “A01”"));
}

/* Nine places of a chart of twelve: rows and columns were counted wrongly, whatever way the patches are named. */
static void
test_a_chart_of_more_rows_or_columns_is_refused (void)
{
  static const char *const names[][13] = {
    { "A1", "A2", "A3", "A4", "B1", "B2", "B3", "B4", "C1", "C2", "C3", "C4" },
    { "A1", "B1", "C1", "D1", "A2", "B2", "C2", "D2", "A3", "B3", "C3", "D3" },
    { "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (SherdChart) chart = chart_named (names[i]);
      g_autoptr (GError) error = NULL;
      SherdChartLayout layout;

      sherd_chart_layout_init_plain (&layout, 3, 3);
      g_assert_null (sherd_reference_new_chart (chart, &layout, &error));
      g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
      g_assert_nonnull (strstr (error->message, "12 patches"));
    }
}

static void
assert_guessed (const char *const *names, guint n_rows, guint n_columns)
{
  g_autoptr (SherdChart) chart = chart_named (names);
  guint rows = 0, columns = 0;

  g_assert_cmpint (sherd_chart_layout_guess (chart, &rows, &columns), ==, n_rows > 0);
  g_assert_cmpuint (rows, ==, n_rows);
  g_assert_cmpuint (columns, ==, n_columns);
}

static void
test_names_tell_rows_and_columns (void)
{
  assert_guessed ((const char *[]){ "A1", "A2", "A3", "B1", "B2", "B3", NULL }, 2, 3);
  assert_guessed ((const char *[]){ "b02", "a1", "A02", "B1", "C1", "C2", NULL }, 3, 2);
  assert_guessed ((const char *[]){ "A1", NULL }, 1, 1);
  assert_guessed ((const char *[]){ "1", "2", "3", "4", NULL }, 0, 0);
  assert_guessed ((const char *[]){ "A1", "A2", "B1", NULL }, 0, 0);
  assert_guessed ((const char *[]){ "A1", "A2", "B1", "white", NULL }, 0, 0);
  assert_guessed ((const char *[]){ "A1", "A01", NULL }, 0, 0);
  assert_guessed ((const char *[]){ NULL }, 0, 0);
}

static void
test_a_plain_layout_has_no_size (void)
{
  g_autoptr (SherdChart) chart = example_chart_new (6, 4);
  g_autoptr (SherdReference) sized = sherd_reference_new_chart (chart, &portrait, NULL);
  g_autoptr (SherdReference) card = sherd_reference_new_grey_card ("card", 93, 137, &(SherdLab){ 50, 0, 0 }, NULL);
  g_autoptr (SherdReference) unsized = NULL;
  SherdChartLayout plain;

  sherd_chart_layout_init_plain (&plain, 6, 4);
  unsized = sherd_reference_new_chart (chart, &plain, NULL);
  g_assert_true (sherd_reference_is_sized (sized));
  g_assert_false (sherd_reference_is_sized (unsized));
  g_assert_false (sherd_reference_is_sized (card));
}

static void
test_references_are_equal_by_what_they_hold (void)
{
  g_autoptr (SherdChart) chart = example_chart_new (6, 4);
  g_autoptr (SherdReference) first = sherd_reference_new_chart (chart, &portrait, NULL);
  g_autoptr (SherdReference) same = sherd_reference_new_chart (chart, &portrait, NULL);
  g_autoptr (SherdReference) card = sherd_reference_new_grey_card ("card", 93, 137, &(SherdLab){ 50, 0, 0 }, NULL);
  g_autoptr (SherdReference) other = NULL;

  g_array_index (chart->patches, SherdChartPatch, 7).lab.b += 0.01;
  other = sherd_reference_new_chart (chart, &portrait, NULL);
  g_assert_true (sherd_reference_equal (first, same));
  g_assert_false (sherd_reference_equal (first, other));
  g_assert_false (sherd_reference_equal (first, card));
}

static JsonArray *
load_scene_patches (const char *path, JsonParser *parser)
{
  JsonObject *chart;

  g_assert_true (json_parser_load_from_file (parser, path, NULL));
  chart = json_object_get_object_member (json_node_get_object (json_parser_get_root (parser)), "chart");
  return json_object_get_array_member (chart, "patches");
}

static void
test_a_rendered_chart_is_laid_out_as_it_was_rendered (void)
{
  g_autofree char *truth = shared_path_or_skip ("scenes/tile_a/truth.json");
  g_autofree char *cgats = truth != NULL ? shared_path_or_skip ("scenes/tile_a/chart.cgats") : NULL;
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autofree char *text = NULL;
  g_autoptr (SherdChart) chart = NULL;
  g_autoptr (SherdReference) reference = NULL;
  const SherdReferencePatch *patches;
  JsonArray *rendered;
  gsize length, n_patches;

  if (cgats == NULL)
    return;
  rendered = load_scene_patches (truth, parser);
  g_assert_true (g_file_get_contents (cgats, &text, &length, NULL));
  chart = sherd_chart_new_from_cgats (text, (gssize)length, NULL);
  reference = sherd_reference_new_chart (chart, &portrait, NULL);
  patches = sherd_reference_get_patches (reference, &n_patches);
  g_assert_cmpuint (n_patches, ==, json_array_get_length (rendered));
  for (guint i = 0; i < n_patches; i++)
    {
      JsonObject *patch = json_array_get_object_element (rendered, i);
      JsonArray *place = json_object_get_array_member (patch, "rect_mm");
      JsonArray *lab = json_object_get_array_member (patch, "lab_d50");

      g_assert_cmpstr (patches[i].name, ==, json_object_get_string_member (patch, "id"));
      g_assert_cmpfloat_with_epsilon (patches[i].rectangle_mm.x_mm, json_array_get_double_element (place, 0),
                                      ROUNDING_MM);
      /* The renderer's y grows upward from the bottom of the frame. */
      g_assert_cmpfloat_with_epsilon (patches[i].rectangle_mm.y_mm, 137 - json_array_get_double_element (place, 3),
                                      ROUNDING_MM);
      /* Printed to three or four places in the two files. */
      g_assert_cmpfloat_with_epsilon (patches[i].lab.l, json_array_get_double_element (lab, 0), 2e-3);
    }
}

/* A device is no file: reading it would have no end. */
static void
test_what_is_no_text_file_of_a_chart_is_refused (void)
{
  static const char *const paths[] = { "/dev/zero", "/" };

  for (guint i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      g_autoptr (GFile) file = g_file_new_for_path (paths[i]);
      g_autoptr (GError) error = NULL;

      g_assert_null (sherd_chart_file_load (file, &error));
      g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_OPEN);
      g_assert_nonnull (strstr (error->message, paths[i]));
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/chart-file/what-is-no-text-file-of-a-chart-is-refused",
                   test_what_is_no_text_file_of_a_chart_is_refused);
  g_test_add_func ("/trial/chart-layout/patches-lie-at-margin-pitch-and-size",
                   test_patches_lie_at_margin_pitch_and_size);
  g_test_add_func ("/trial/chart-layout/marks-go-round-from-the-top-left", test_marks_go_round_from_the_top_left);
  g_test_add_func ("/trial/chart-layout/a-plain-layout-keeps-inside-each-cell",
                   test_a_plain_layout_keeps_inside_each_cell);
  g_test_add_func ("/trial/chart-layout/layouts-that-cannot-be-are-refused", test_layouts_that_cannot_be_are_refused);
  g_test_add_func ("/trial/chart-layout/patches-are-matched-by-name", test_patches_are_matched_by_name);
  g_test_add_func ("/trial/chart-layout/a-chart-that-does-not-fit-is-refused",
                   test_a_chart_that_does_not_fit_is_refused);
  g_test_add_func ("/trial/chart-layout/a-chart-of-more-rows-or-columns-is-refused",
                   test_a_chart_of_more_rows_or_columns_is_refused);
  g_test_add_func ("/trial/chart-layout/names-tell-rows-and-columns", test_names_tell_rows_and_columns);
  g_test_add_func ("/trial/chart-layout/a-plain-layout-has-no-size", test_a_plain_layout_has_no_size);
  g_test_add_func ("/trial/chart-layout/references-are-equal-by-what-they-hold",
                   test_references_are_equal_by_what_they_hold);
  g_test_add_func ("/trial/chart-layout/a-rendered-chart-is-laid-out-as-it-was-rendered",
                   test_a_rendered_chart_is_laid_out_as_it_was_rendered);
  return g_test_run ();
}
