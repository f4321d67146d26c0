/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The potter's edits: what each does, and one test for each refusal, on the invented trial of support.c. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/code.h"
#include "trial/file.h"
#include "trial/polygon.h"
#include "trial/stage.h"

static const SherdGrid grid_3_by_5 = {
  .n_rows = 3,
  .n_columns = 5,
  .left_mm = 3,
  .top_mm = 3,
  .right_mm = 3,
  .bottom_mm = 3,
  .gap_x_mm = 2,
  .gap_y_mm = 2,
};

/* Every refusal must leave trial, undo and file as they were. */
#define assert_refused(trial, call, code)                                                                              \
  G_STMT_START                                                                                                         \
  {                                                                                                                    \
    g_autofree char *before_ = sherd_trial_dup_text (trial, NULL);                                                     \
    g_autofree char *after_ = NULL;                                                                                    \
    GError *error = NULL;                                                                                              \
    g_assert_true (!(call));                                                                                           \
    g_assert_error (error, SHERD_TRIAL_ERROR, code);                                                                   \
    g_clear_error (&error);                                                                                            \
    after_ = sherd_trial_dup_text (trial, NULL);                                                                       \
    g_assert_cmpstr (before_, ==, after_);                                                                             \
    g_assert_false (sherd_trial_get_modified (trial));                                                                 \
  }                                                                                                                    \
  G_STMT_END

static void
test_codes_of_paints_are_unique (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPaint *black = sherd_trial_find_paint_by_code (trial, "KM");

  assert_refused (trial, sherd_trial_add_paint (trial, "KM", "", &error), SHERD_TRIAL_ERROR_DUPLICATE);
  assert_refused (trial, sherd_trial_add_paint (trial, "", "", &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_paint_code (trial, black, "RU 2", &error), SHERD_TRIAL_ERROR_DUPLICATE);
  assert_refused (trial, sherd_trial_set_paint_code (trial, black, " K", &error), SHERD_TRIAL_ERROR_VALUE);
  g_assert_true (sherd_trial_set_paint_code (trial, black, "KM", NULL));
  g_assert_true (sherd_trial_set_paint_code (trial, black, "K 1", NULL));
  g_assert_true (sherd_trial_find_paint_by_code (trial, "K 1") == black);
}

static void
test_a_paint_in_use_is_not_removed (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPaint *black = sherd_trial_find_paint_by_code (trial, "KM");
  SherdPaint *red = sherd_trial_find_paint_by_code (trial, "RU 2");

  g_assert_cmpuint (sherd_trial_count_paint_zones (trial, black), ==, 1);
  assert_refused (trial, sherd_trial_remove_paint (trial, black, &error), SHERD_TRIAL_ERROR_IN_USE);
  g_assert_true (sherd_trial_replace_paint (trial, black, red, NULL));
  g_assert_true (sherd_zone_get_paint (example_zone (trial, "A1")) == red);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (trial)), ==, 1);
  sherd_trial_undo (trial);
  g_assert_true (sherd_zone_get_paint (example_zone (trial, "A1")) == black);
}

static void
test_an_unused_paint_is_removed (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPaint *paint = sherd_trial_add_paint (trial, "N 7", "new", NULL);

  g_assert_true (sherd_trial_remove_paint (trial, paint, NULL));
  g_assert_null (sherd_trial_find_paint_by_code (trial, "N 7"));
}

static void
test_a_tile_has_a_face_and_a_back (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPiece *tile = sherd_trial_add_tile (trial, "T", 120, 80, 8, SHERD_CLAY_DRY, NULL);

  g_assert_nonnull (sherd_piece_find_side_by_name (tile, "face"));
  g_assert_nonnull (sherd_piece_find_side_by_name (tile, "back"));
  g_assert_cmpint (sherd_piece_get_state (tile), ==, SHERD_CLAY_DRY);
  g_assert_true (sherd_trial_find_piece_by_name (trial, "T") == tile);
}

static void
test_tiles_that_cannot_be_are_refused (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPiece *tile = example_piece (trial);

  assert_refused (trial, sherd_trial_add_tile (trial, "", 9, 9, 9, SHERD_CLAY_DRY, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_add_tile (trial, "T", 0, 9, 9, SHERD_CLAY_DRY, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_add_tile (trial, "T", 9, NAN, 9, SHERD_CLAY_DRY, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_add_tile (trial, "T", 9, 9, -1, SHERD_CLAY_DRY, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_piece_name (trial, tile, "  ", &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_tile_size (trial, tile, 40, 60, 8, FALSE, &error), SHERD_TRIAL_ERROR_IN_USE);
}

static void
test_a_grid_keeps_which_paint_is_where (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdSide *face = example_face (trial);
  SherdZone *first = example_zone (trial, "A1");
  SherdPaint *black = sherd_trial_find_paint_by_code (trial, "KM");
  SherdGrid wider = grid_3_by_5;

  g_assert_true (sherd_trial_set_zone_grid (trial, example_piece (trial), face, &grid_3_by_5, NULL));
  g_assert_cmpuint (g_list_model_get_n_items (sherd_side_get_zones (face)), ==, 15);
  g_assert_true (example_zone (trial, "A1") == first);
  g_assert_true (sherd_zone_get_paint (first) == black);
  g_assert_cmpuint (sherd_zone_get_coats (first), ==, 2);
  g_assert_true (sherd_zone_is_bare (example_zone (trial, "C5")));
  g_assert_null (sherd_zone_get_polygon (example_zone (trial, "A3")));

  wider.gap_x_mm = 4;
  list_watch (sherd_side_get_zones (face));
  g_assert_true (sherd_trial_set_zone_grid (trial, example_piece (trial), face, &wider, NULL));
  g_assert_true (example_zone (trial, "A1") == first);
}

static void
test_a_grid_that_does_not_fit_is_refused (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (GError) error = NULL;
  SherdGrid grid = grid_3_by_5;

  grid.left_mm = 99;
  g_assert_false (sherd_trial_set_zone_grid (trial, example_piece (trial), example_face (trial), &grid, &error));
  g_assert_nonnull (error);
  grid = grid_3_by_5;
  grid.n_columns = 0;
  g_assert_false (sherd_trial_set_zone_grid (trial, example_piece (trial), example_face (trial), &grid, NULL));
  g_assert_false (sherd_trial_get_modified (trial));
}

static void
test_zones_that_cannot_be_are_refused (void)
{
  static const SherdPoint crossing[] = { { 0, 0 }, { 9, 9 }, { 9, 0 }, { 0, 9 } };
  static const SherdPoint beyond[] = { { 0, 0 }, { 101, 0 }, { 50, 50 } };
  g_autoptr (SherdOutline) crossed = sherd_outline_new (crossing, 4);
  g_autoptr (SherdOutline) outside = sherd_outline_new (beyond, 3);
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPiece *tile = example_piece (trial);
  SherdSide *face = example_face (trial);
  SherdZone *zone = example_zone (trial, "A1");
  const SherdRectangle fits = { 1, 1, 5, 5 }, outside_right = { 96, 1, 5, 5 }, tiny = { 1, 1, 0.1, 5 };

  assert_refused (trial, sherd_trial_add_zone (trial, tile, face, "A1", &fits, &error), SHERD_TRIAL_ERROR_DUPLICATE);
  assert_refused (trial, sherd_trial_add_zone (trial, tile, face, "", &fits, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_add_zone (trial, tile, face, "N", &tiny, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_zone_code (trial, face, zone, "A2", &error), SHERD_TRIAL_ERROR_DUPLICATE);
  assert_refused (trial, sherd_trial_set_zone_rectangle (trial, tile, zone, &outside_right, FALSE, &error),
                  SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_zone_polygon (trial, tile, zone, crossed, FALSE, &error),
                  SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_zone_polygon (trial, tile, zone, outside, FALSE, &error),
                  SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_zone_coats (trial, zone, 0, FALSE, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_zone_replicate (trial, zone, 10000, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_zones_paint (trial, &zone, 1, "bad\ncode", &error), SHERD_TRIAL_ERROR_VALUE);
}

static void
test_painting_makes_a_paint_that_is_not_known_yet (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdZone *zones[] = { example_zone (trial, "A1"), example_zone (trial, "A3") };

  g_assert_true (sherd_trial_set_zones_paint (trial, zones, 2, "OC 4", NULL));
  g_assert_cmpuint (sherd_trial_count_paint_zones (trial, sherd_trial_find_paint_by_code (trial, "OC 4")), ==, 2);
  g_assert_true (sherd_trial_set_zones_paint (trial, zones, 2, NULL, NULL));
  g_assert_true (sherd_zone_is_bare (zones[1]));
  sherd_trial_undo (trial);
  sherd_trial_undo (trial);
  g_assert_null (sherd_trial_find_paint_by_code (trial, "OC 4"));
}

static void
test_removing_a_piece_takes_its_photographs_along (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  sherd_trial_remove_piece (trial, example_piece (trial));
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_photographs (trial)), ==, 0);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_measurements (trial)), ==, 0);
  sherd_trial_undo (trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_photographs (trial)), ==, 2);
  g_assert_false (sherd_trial_get_modified (trial));
}

static void
test_another_reference_drops_marks_that_do_not_fit (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPhotograph *photograph = example_photograph (trial, 0);
  g_autoptr (SherdReference) card = sherd_reference_new_grey_card ("card", 100, 70, &(SherdLab){ 50, 0, 0 }, NULL);

  g_assert_nonnull (sherd_photograph_get_reference_marks (photograph));
  sherd_trial_set_reference (trial, photograph, card);
  g_assert_null (sherd_photograph_get_reference_marks (photograph));
  g_assert_true (sherd_photograph_get_reference (photograph) == card);
  sherd_trial_undo (trial);
  g_assert_nonnull (sherd_photograph_get_reference_marks (photograph));
}

static void
test_marks_and_stages_that_cannot_be_are_refused (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPhotograph *photograph = example_photograph (trial, 0);
  const SherdMark nowhere = { { 0, 0 }, { NAN, 1 } }, far_px = { { 0, 0 }, { 1e300, 1 } },
                  far_mm = { { 1e9, 0 }, { 1, 1 } };
  g_autoptr (SherdSide) foreign = sherd_side_new ("side-9", "face");

  assert_refused (trial, sherd_trial_set_marks (trial, photograph, &nowhere, 1, FALSE, &error),
                  SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_reference_marks (trial, photograph, &nowhere, 1, FALSE, &error),
                  SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_marks (trial, photograph, &far_px, 1, FALSE, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_marks (trial, photograph, &far_mm, 1, FALSE, &error), SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_photograph_stage (trial, photograph, "later", &error),
                  SHERD_TRIAL_ERROR_VALUE);
  assert_refused (trial, sherd_trial_set_photograph_side (trial, photograph, example_piece (trial), foreign, &error),
                  SHERD_TRIAL_ERROR_VALUE);
}

/* What an edit takes, the file must give back. */
static void
test_reference_colours_that_no_surface_has_are_refused (void)
{
  static const SherdLab impossible[] = { { 500, 0, 0 }, { -1, 0, 0 }, { 50, 900, 0 }, { 50, 0, -201 }, { NAN, 0, 0 } };

  for (guint i = 0; i < G_N_ELEMENTS (impossible); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_null (sherd_reference_new_grey_card ("card", 100, 70, &impossible[i], &error));
      g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
    }
}

static void
test_turning_a_spin_button_makes_one_step (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPiece *tile = example_piece (trial);
  const double before_mm = sherd_piece_get_width_mm (tile);

  for (guint i = 1; i <= 5; i++)
    g_assert_true (
      sherd_trial_set_tile_size (trial, tile, before_mm + i, sherd_piece_get_height_mm (tile), 8, TRUE, NULL));
  sherd_trial_undo (trial);
  g_assert_cmpfloat (sherd_piece_get_width_mm (tile), ==, before_mm);
  g_assert_false (sherd_trial_can_undo (trial));
}

/* The tile turns out 151 × 99 mm: its corners are still marked on its corners, a point in the middle stays in place. */
static void
test_marks_on_corners_follow_the_size_of_a_tile (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPiece *tile = example_piece (trial);
  SherdPhotograph *photograph = example_photograph (trial, 0);
  const double width_mm = sherd_piece_get_width_mm (tile), height_mm = sherd_piece_get_height_mm (tile);
  const SherdMark marks[] = {
    { { 0, 0 }, { 1, 1 } },         { { width_mm, 0 }, { 9, 1 } }, { { width_mm, height_mm }, { 9, 9 } },
    { { 0, height_mm }, { 1, 9 } }, { { width_mm, 5 }, { 9, 5 } },
  };
  const SherdMark *moved;

  g_assert_true (sherd_trial_set_marks (trial, photograph, marks, G_N_ELEMENTS (marks), FALSE, NULL));
  g_assert_true (sherd_trial_set_tile_size (trial, tile, width_mm + 1.0, height_mm + 2.0, 8, FALSE, NULL));
  moved = sherd_photograph_get_marks (photograph)->marks;
  for (guint i = 0; i < 4; i++)
    {
      g_assert_cmpfloat (moved[i].piece_mm.x, ==, marks[i].piece_mm.x > 0.0 ? width_mm + 1.0 : 0.0);
      g_assert_cmpfloat (moved[i].piece_mm.y, ==, marks[i].piece_mm.y > 0.0 ? height_mm + 2.0 : 0.0);
      g_assert_cmpfloat (moved[i].photo_px.x, ==, marks[i].photo_px.x);
    }
  g_assert_cmpfloat (moved[4].piece_mm.x, ==, width_mm);
  sherd_trial_undo (trial);
  g_assert_cmpfloat (sherd_photograph_get_marks (photograph)->marks[2].piece_mm.x, ==, width_mm);
}

static void
test_marks_stay_on_a_piece_of_the_same_size (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdPiece *tile = example_piece (trial);
  SherdPhotograph *photograph = example_photograph (trial, 0);
  SherdPiece *twin = sherd_trial_add_tile (trial, "Twin", sherd_piece_get_width_mm (tile),
                                           sherd_piece_get_height_mm (tile), 0, SHERD_CLAY_DRY, NULL);
  SherdPiece *other = sherd_trial_add_tile (trial, "Other", 50, 50, 0, SHERD_CLAY_DRY, NULL);
  SherdSide *back = sherd_piece_find_side_by_name (twin, "back");

  g_assert_true (sherd_trial_set_photograph_side (trial, photograph, twin, back, NULL));
  g_assert_true (sherd_photograph_get_piece (photograph) == twin && sherd_photograph_get_side (photograph) == back);
  g_assert_nonnull (sherd_photograph_get_marks (photograph));
  g_assert_true (
    sherd_trial_set_photograph_side (trial, photograph, other, sherd_piece_find_side_by_name (other, "face"), NULL));
  g_assert_null (sherd_photograph_get_marks (photograph));
}

/* Edges and gaps that differ, whose cells are no short decimals. */
static const SherdGrid uneven_grid = {
  .n_rows = 2,
  .n_columns = 3,
  .left_mm = 3.1,
  .top_mm = 4.7,
  .right_mm = 5.3,
  .bottom_mm = 2.9,
  .gap_x_mm = 1.7,
  .gap_y_mm = 3.3,
};

static void
test_laying_out_the_grid_that_is_there_changes_nothing (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPiece *tile = sherd_trial_add_tile (trial, "Tile", 100, 70, 8, SHERD_CLAY_DRY, NULL);
  SherdSide *face = sherd_piece_find_side_by_name (tile, "face");
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  SherdGrid found;

  g_assert_true (sherd_trial_set_zone_grid (trial, tile, face, &uneven_grid, NULL));
  before = sherd_trial_dup_text (trial, NULL);
  g_assert_true (sherd_side_find_grid (face, 100, 70, &found));
  g_assert_cmpuint (found.n_rows, ==, 2);
  g_assert_cmpuint (found.n_columns, ==, 3);
  g_assert_cmpfloat_with_epsilon (found.right_mm, 5.3, 1e-9);
  g_assert_cmpfloat_with_epsilon (found.gap_x_mm, 1.7, 1e-9);
  g_assert_cmpfloat_with_epsilon (found.gap_y_mm, 3.3, 1e-9);
  g_assert_true (sherd_trial_set_zone_grid (trial, tile, face, &found, NULL));
  after = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (before, ==, after);
}

static void
test_zones_moved_one_by_one_are_no_grid (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPiece *tile = sherd_trial_add_tile (trial, "Tile", 100, 70, 8, SHERD_CLAY_DRY, NULL);
  SherdSide *face = sherd_piece_find_side_by_name (tile, "face");
  SherdRectangle box;
  SherdGrid found;
  SherdZone *zone;

  g_assert_false (sherd_side_find_grid (face, 100, 70, &found));
  g_assert_true (sherd_trial_set_zone_grid (trial, tile, face, &uneven_grid, NULL));
  zone = sherd_side_find_zone_by_code (face, "B2");
  sherd_zone_get_rectangle (zone, &box);
  box.x_mm += 0.1;
  g_assert_true (sherd_trial_set_zone_rectangle (trial, tile, zone, &box, FALSE, NULL));
  g_assert_false (sherd_side_find_grid (face, 100, 70, &found));
  sherd_trial_undo (trial);
  sherd_trial_remove_zone (trial, face, zone);
  g_assert_false (sherd_side_find_grid (face, 100, 70, &found));
}

static void
test_stages_have_one_spelling_each (void)
{
  static const char *const good[] = { "unfired", "unfired, after rubbing", "after firing 1", "after firing 99",
                                      "after firing 12, after rubbing" };
  static const char *const bad[] = { "",
                                     "Unfired",
                                     "after firing",
                                     "after firing 0",
                                     "after firing 01",
                                     "after firing 100",
                                     "after firing +1",
                                     "after rubbing",
                                     "after firing 1 ",
                                     "unfired, after rubbing, after rubbing" };

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      guint n_firings;
      gboolean rubbed;
      g_autofree char *again = NULL;

      g_assert_true (sherd_stage_parse (good[i], &n_firings, &rubbed));
      again = sherd_stage_new (n_firings, rubbed);
      g_assert_cmpstr (again, ==, good[i]);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (sherd_stage_parse (bad[i], NULL, NULL));
  g_assert_cmpint (sherd_stage_compare ("unfired", "after firing 1"), <, 0);
  g_assert_cmpint (sherd_stage_compare ("after firing 2", "after firing 10"), <, 0);
  g_assert_cmpint (sherd_stage_compare ("after firing 1, after rubbing", "after firing 1"), >, 0);
  g_assert_cmpint (sherd_stage_compare ("after firing 1", "after firing 1"), ==, 0);
}

static void
test_codes_can_be_scratched_and_read_back (void)
{
  static const char *const bad[] = { "", " A", "A ", "A\tB\x01", "\xff", "ABCDEFGHIJKLMNOPQRSTUVWXY", NULL };

  g_assert_true (sherd_code_check ("A1", NULL));
  g_assert_true (sherd_code_check ("Żółć 3/4", NULL));
  g_assert_false (sherd_code_check (NULL, NULL));
  for (guint i = 0; bad[i] != NULL; i++)
    g_assert_false (sherd_code_check (bad[i], NULL));
}

static void
assert_polygon (gsize n_points, const SherdPoint *points, gboolean sound)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (points, n_points);

  g_assert_cmpint (sherd_polygon_check (outline, NULL), ==, sound);
}

static void
test_polygons_enclose_an_area_without_crossing (void)
{
  assert_polygon (3, (SherdPoint[]){ { 0, 0 }, { 9, 0 }, { 0, 9 } }, TRUE);
  assert_polygon (3, (SherdPoint[]){ { 0, 0 }, { 0, 9 }, { 9, 0 } }, TRUE);
  assert_polygon (4, (SherdPoint[]){ { 0, 0 }, { 9, 0 }, { 2, 2 }, { 0, 9 } }, TRUE);
  assert_polygon (2, (SherdPoint[]){ { 0, 0 }, { 9, 0 } }, FALSE);
  assert_polygon (3, (SherdPoint[]){ { 0, 0 }, { 9, 0 }, { 4, 0 } }, FALSE);
  assert_polygon (3, (SherdPoint[]){ { 0, 0 }, { 9, 0 }, { 9, 0 } }, FALSE);
  assert_polygon (4, (SherdPoint[]){ { 0, 0 }, { 9, 9 }, { 9, 0 }, { 0, 9 } }, FALSE);
  /* A corner that touches another edge pinches the zone in two. */
  assert_polygon (5, (SherdPoint[]){ { 0, 0 }, { 9, 0 }, { 9, 9 }, { 4, 0 }, { 0, 9 } }, FALSE);
  assert_polygon (3, (SherdPoint[]){ { 0, 0 }, { INFINITY, 0 }, { 0, 9 } }, FALSE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/edits/reference-colours-that-no-surface-has-are-refused",
                   test_reference_colours_that_no_surface_has_are_refused);
  g_test_add_func ("/trial/edits/turning-a-spin-button-makes-one-step", test_turning_a_spin_button_makes_one_step);
  g_test_add_func ("/trial/edits/codes-of-paints-are-unique", test_codes_of_paints_are_unique);
  g_test_add_func ("/trial/edits/a-paint-in-use-is-not-removed", test_a_paint_in_use_is_not_removed);
  g_test_add_func ("/trial/edits/an-unused-paint-is-removed", test_an_unused_paint_is_removed);
  g_test_add_func ("/trial/edits/a-tile-has-a-face-and-a-back", test_a_tile_has_a_face_and_a_back);
  g_test_add_func ("/trial/edits/tiles-that-cannot-be-are-refused", test_tiles_that_cannot_be_are_refused);
  g_test_add_func ("/trial/edits/a-grid-keeps-which-paint-is-where", test_a_grid_keeps_which_paint_is_where);
  g_test_add_func ("/trial/edits/a-grid-that-does-not-fit-is-refused", test_a_grid_that_does_not_fit_is_refused);
  g_test_add_func ("/trial/edits/zones-that-cannot-be-are-refused", test_zones_that_cannot_be_are_refused);
  g_test_add_func ("/trial/edits/painting-makes-a-paint-that-is-not-known-yet",
                   test_painting_makes_a_paint_that_is_not_known_yet);
  g_test_add_func ("/trial/edits/removing-a-piece-takes-its-photographs-along",
                   test_removing_a_piece_takes_its_photographs_along);
  g_test_add_func ("/trial/edits/another-reference-drops-marks-that-do-not-fit",
                   test_another_reference_drops_marks_that_do_not_fit);
  g_test_add_func ("/trial/edits/marks-and-stages-that-cannot-be-are-refused",
                   test_marks_and_stages_that_cannot_be_are_refused);
  g_test_add_func ("/trial/edits/marks-on-corners-follow-the-size-of-a-tile",
                   test_marks_on_corners_follow_the_size_of_a_tile);
  g_test_add_func ("/trial/edits/marks-stay-on-a-piece-of-the-same-size", test_marks_stay_on_a_piece_of_the_same_size);
  g_test_add_func ("/trial/edits/laying-out-the-grid-that-is-there-changes-nothing",
                   test_laying_out_the_grid_that_is_there_changes_nothing);
  g_test_add_func ("/trial/edits/zones-moved-one-by-one-are-no-grid", test_zones_moved_one_by_one_are_no_grid);
  g_test_add_func ("/trial/stage/has-one-spelling-each", test_stages_have_one_spelling_each);
  g_test_add_func ("/trial/code/can-be-scratched-and-read-back", test_codes_can_be_scratched_and_read_back);
  g_test_add_func ("/trial/polygon/encloses-an-area-without-crossing", test_polygons_enclose_an_area_without_crossing);
  return g_test_run ();
}
