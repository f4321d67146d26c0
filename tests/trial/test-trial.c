/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits, undo and redo. What must hold is stated by the bytes of the file: undoing all gives the bytes of the
 * beginning, redoing all those of the end. The random edits repeat with the seed that the test prints. */
#include "config.h"

#include <string.h>

#include "support.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/trial-private.h"
#include "trial/zone-shape-edits.h"

static void
test_an_edit_is_one_step_in_words (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdZone *zone = example_zone (trial, "A1");
  g_autofree char *undo = NULL;
  g_autofree char *redo = NULL;
  SherdRectangle rectangle;

  sherd_trial_begin_edit (trial, "Move zone A1");
  sherd_trial_set (trial, zone, "x-mm", 7.5);
  sherd_trial_set (trial, zone, "y-mm", 8.5);
  sherd_trial_end_edit (trial);
  undo = sherd_trial_dup_undo_label (trial);
  g_assert_cmpstr (undo, ==, "Undo Move zone A1");
  g_assert_null (sherd_trial_dup_redo_label (trial));

  sherd_trial_undo (trial);
  redo = sherd_trial_dup_redo_label (trial);
  g_assert_cmpstr (redo, ==, "Redo Move zone A1");
  sherd_zone_get_rectangle (zone, &rectangle);
  g_assert_cmpfloat (rectangle.x_mm, ==, 5.1);
  g_assert_cmpfloat (rectangle.y_mm, ==, 5.2);
  g_assert_false (sherd_trial_can_undo (trial));
}

static void
test_an_edit_that_changes_nothing_leaves_no_trace (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdZone *polygon = example_zone (trial, "A3");

  sherd_trial_begin_edit (trial, "Nothing");
  sherd_trial_set (trial, example_zone (trial, "A1"), "coats", 2u);
  sherd_trial_set (trial, polygon, "polygon", sherd_zone_get_polygon (polygon));
  sherd_trial_set (trial, trial, "title", sherd_trial_get_title (trial));
  sherd_trial_end_edit (trial);
  g_assert_false (sherd_trial_can_undo (trial));
  g_assert_false (sherd_trial_get_modified (trial));
}

static void
test_nested_edits_are_one_with_the_outer_words (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autofree char *undo = NULL;

  sherd_trial_begin_edit (trial, "Outer");
  g_assert_nonnull (sherd_trial_add_paint (trial, "ZZ", "", NULL));
  g_assert_nonnull (sherd_trial_add_paint (trial, "ZY", "", NULL));
  sherd_trial_end_edit (trial);
  undo = sherd_trial_dup_undo_label (trial);
  g_assert_cmpstr (undo, ==, "Undo Outer");
  sherd_trial_undo (trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (trial)), ==, 2);
}

static void
test_a_cancelled_edit_is_taken_back (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autofree char *before = sherd_trial_dup_text (trial, NULL);
  g_autofree char *after = NULL;

  sherd_trial_begin_edit (trial, "Give up");
  sherd_trial_set (trial, trial, "title", "other");
  sherd_trial_remove (trial, sherd_trial_get_measurements (trial), 0);
  g_assert_nonnull (sherd_trial_add_paint (trial, "ZZ", "", NULL));
  sherd_trial_cancel_edit (trial);
  after = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (after, ==, before);
  g_assert_false (sherd_trial_can_undo (trial));
}

static void
nudge (SherdTrial *trial, double x_mm)
{
  const SherdRectangle place = { x_mm, 5.2, 20.1, 12.3 };

  g_assert_true (
    sherd_trial_set_zone_rectangle (trial, example_piece (trial), example_zone (trial, "A1"), &place, TRUE, NULL));
}

static double
x_of_a1 (SherdTrial *trial)
{
  SherdRectangle rectangle;

  sherd_zone_get_rectangle (example_zone (trial, "A1"), &rectangle);
  return rectangle.x_mm;
}

static void
test_continued_edits_join_into_one (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  nudge (trial, 6);
  nudge (trial, 7);
  nudge (trial, 8);
  sherd_trial_undo (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 5.1);
  g_assert_false (sherd_trial_can_undo (trial));
  sherd_trial_redo (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 8);
}

static void
test_sealing_saving_and_other_edits_end_joining (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  nudge (trial, 6);
  sherd_trial_seal_edit (trial);
  nudge (trial, 7);
  sherd_trial_set_saved (trial, TRUE);
  nudge (trial, 8);
  g_assert_nonnull (sherd_trial_add_paint (trial, "ZZ", "", NULL));
  nudge (trial, 9);

  sherd_trial_undo (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 8);
  sherd_trial_undo (trial);
  sherd_trial_undo (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 7);
  g_assert_false (sherd_trial_get_modified (trial));
  sherd_trial_undo (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 6);
}

static void
test_a_cancelled_continuation_keeps_what_went_before (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  nudge (trial, 6);
  sherd_trial_begin_continued_edit (trial, "Move zone A1", "shape zone-1");
  sherd_trial_set (trial, example_zone (trial, "A1"), "x-mm", 9.0);
  sherd_trial_cancel_edit (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 6);
  sherd_trial_undo (trial);
  g_assert_cmpfloat (x_of_a1 (trial), ==, 5.1);
}

static void
test_modified_is_the_distance_to_the_saved_state (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  g_assert_false (sherd_trial_get_modified (trial));
  g_assert_nonnull (sherd_trial_add_paint (trial, "X1", "", NULL));
  g_assert_true (sherd_trial_get_modified (trial));
  sherd_trial_undo (trial);
  g_assert_false (sherd_trial_get_modified (trial));
  sherd_trial_redo (trial);
  sherd_trial_set_saved (trial, TRUE);
  g_assert_false (sherd_trial_get_modified (trial));
  sherd_trial_undo (trial);
  g_assert_true (sherd_trial_get_modified (trial));
  /* The saved state lay ahead; another edit cuts the way to it. */
  g_assert_nonnull (sherd_trial_add_paint (trial, "X2", "", NULL));
  sherd_trial_undo (trial);
  g_assert_true (sherd_trial_get_modified (trial));
  g_assert_true (sherd_trial_can_redo (trial));
}

static void
count_cb (GObject *object, GParamSpec *pspec, guint *count)
{
  (*count)++;
}

static void
test_only_what_changed_is_notified (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  SherdZone *zone = example_zone (trial, "A1");
  guint all = 0, x = 0, modified = 0;

  g_signal_connect (zone, "notify", G_CALLBACK (count_cb), &all);
  g_signal_connect (zone, "notify::x-mm", G_CALLBACK (count_cb), &x);
  g_signal_connect (trial, "notify::modified", G_CALLBACK (count_cb), &modified);
  nudge (trial, 6);
  nudge (trial, 6);
  nudge (trial, 7);
  g_assert_cmpuint (x, ==, 2);
  g_assert_cmpuint (all, ==, 2);
  g_assert_cmpuint (modified, ==, 1);
}

static void
watch_all (SherdTrial *trial)
{
  GListModel *sides = sherd_piece_get_sides (example_piece (trial));

  list_watch (sherd_trial_get_materials (trial));
  list_watch (sherd_trial_get_paints (trial));
  list_watch (sherd_trial_get_pieces (trial));
  list_watch (sherd_trial_get_photographs (trial));
  list_watch (sherd_trial_get_measurements (trial));
  list_watch (sides);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      list_watch (sherd_side_get_zones (side));
    }
}

static gpointer
any_of (GListModel *list)
{
  const guint n = g_list_model_get_n_items (list);
  g_autoptr (GObject) item = n > 0 ? g_list_model_get_item (list, (guint)g_test_rand_int_range (0, (gint)n)) : NULL;

  return item;
}

static SherdSide *
any_side (SherdTrial *trial)
{
  SherdPiece *piece = any_of (sherd_trial_get_pieces (trial));

  return piece != NULL ? any_of (sherd_piece_get_sides (piece)) : NULL;
}

static void
random_paint_edit (SherdTrial *trial, guint which)
{
  SherdPaint *paint = any_of (sherd_trial_get_paints (trial));
  g_autofree char *code = g_strdup_printf ("P%d", g_test_rand_int_range (0, 30));

  if (which == 0 || paint == NULL)
    sherd_trial_add_paint (trial, code, "random", NULL);
  else if (which == 1)
    sherd_trial_set_paint_code (trial, paint, code, NULL);
  else if (which == 2)
    sherd_trial_remove_paint (trial, paint, NULL);
  else if (paint != any_of (sherd_trial_get_paints (trial)))
    sherd_trial_replace_paint (trial, paint, NULL, NULL);
}

static void
random_recipe_edit (SherdTrial *trial, guint which)
{
  SherdPaint *paint = any_of (sherd_trial_get_paints (trial));
  SherdPaint *other = any_of (sherd_trial_get_paints (trial));
  SherdMaterial *material = any_of (sherd_trial_get_materials (trial));
  g_autoptr (SherdRecipe) recipe = paint != NULL ? sherd_recipe_copy (sherd_paint_get_recipe (paint)) : NULL;

  if (paint == NULL)
    return;
  if (which == 0 && material != NULL)
    sherd_recipe_insert_material (recipe, 0, sherd_part_get_id (SHERD_PART (material)), 1.5, "1 1/2");
  else if (which == 1)
    sherd_recipe_insert_paint (recipe, 1, sherd_part_get_id (SHERD_PART (other)), 0.5, NULL);
  else if (recipe->n_ingredients > 0)
    sherd_recipe_remove (recipe, 0);
  sherd_trial_set_recipe (trial, paint, recipe, g_test_rand_bit (), NULL);
}

static void
random_material_edit (SherdTrial *trial, guint which)
{
  SherdMaterial *material = any_of (sherd_trial_get_materials (trial));
  g_auto (SherdMaterialRecord) record = { 0 };

  sherd_material_record_init (&record);
  g_free (record.name);
  record.name = g_strdup_printf ("M%d", g_test_rand_int_range (0, 10));
  if (which == 0 || material == NULL)
    sherd_trial_add_material (trial, &record, NULL);
  else if (which == 1)
    sherd_trial_remove_material (trial, material, NULL);
  else if (which == 2)
    sherd_trial_duplicate_material (trial, material);
  else
    sherd_trial_set_material (trial, material, &record, g_test_rand_bit (), NULL);
}

static void
random_zone_edit (SherdTrial *trial, guint which)
{
  SherdPiece *piece = any_of (sherd_trial_get_pieces (trial));
  SherdSide *side = piece != NULL ? any_of (sherd_piece_get_sides (piece)) : NULL;
  SherdZone *zone = side != NULL ? any_of (sherd_side_get_zones (side)) : NULL;
  const SherdRectangle place = { g_test_rand_double_range (0, 70), g_test_rand_double_range (0, 40), 10, 10 };
  const SherdGrid grid = { .n_rows = (guint)g_test_rand_int_range (1, 5),
                           .n_columns = (guint)g_test_rand_int_range (1, 5),
                           .left_mm = 2,
                           .top_mm = 2,
                           .right_mm = 2,
                           .bottom_mm = 2,
                           .gap_x_mm = 1,
                           .gap_y_mm = 1 };
  g_autofree char *code = g_strdup_printf ("P%d", g_test_rand_int_range (0, 30));

  if (side == NULL)
    return;
  if (which == 0)
    sherd_trial_set_zone_grid (trial, piece, side, &grid, NULL);
  else if (zone == NULL)
    sherd_trial_add_zone (trial, piece, side, code, &place, NULL);
  else if (which == 1)
    sherd_trial_set_zone_rectangle (trial, piece, zone, &place, g_test_rand_bit (), NULL);
  else if (which == 2)
    sherd_trial_set_zones_paint (trial, &zone, 1, code, NULL);
  else
    sherd_trial_remove_zone (trial, side, zone);
}

static void
random_shape_edit (SherdTrial *trial, guint which)
{
  SherdPiece *piece = any_of (sherd_trial_get_pieces (trial));
  SherdSide *side = piece != NULL ? any_of (sherd_piece_get_sides (piece)) : NULL;
  SherdZone *zone = side != NULL ? any_of (sherd_side_get_zones (side)) : NULL;
  const double azimuth_deg = g_test_rand_double_range (-200, 400), arc_mm = g_test_rand_double_range (0, 60);
  const SherdZoneBox box = { azimuth_deg, azimuth_deg + 30, arc_mm, arc_mm + 10 };
  const SherdRingGrid grid = { (guint)g_test_rand_int_range (1, 4),
                               (guint)g_test_rand_int_range (1, 9),
                               { 0, 360, 2, g_test_rand_double_range (20, 60) },
                               1.5 };

  if (side == NULL)
    return;
  if (zone == NULL)
    sherd_trial_set_ring_grid (trial, piece, side, &grid, NULL);
  else if (which == 0)
    sherd_trial_set_zone_box (trial, piece, side, zone, &box, g_test_rand_bit (), NULL);
  else if (which == 1)
    sherd_trial_split_zone (trial, piece, side, zone, 2, g_test_rand_bit (), NULL);
  else if (which == 2)
    sherd_trial_move_zone_edge (trial, piece, side, zone, SHERD_ZONE_EDGE_Y1, arc_mm, TRUE, FALSE, NULL);
  else
    sherd_trial_mirror_side (trial, piece, side, NULL);
}

static void
random_photograph_edit (SherdTrial *trial, guint which)
{
  SherdPhotograph *photograph = any_of (sherd_trial_get_photographs (trial));
  const SherdMark mark = { { 1, 2 }, { g_test_rand_double_range (0, 1000), 4 } };
  g_autoptr (SherdReference) card = sherd_reference_new_grey_card ("card", 10, 10, &(SherdLab){ 50, 0, 0 }, NULL);

  if (photograph == NULL)
    return;
  if (which == 0)
    sherd_trial_set_marks (trial, photograph, &mark, 1, g_test_rand_bit (), NULL);
  else if (which == 1)
    sherd_trial_set_reference (trial, photograph, card);
  else if (which == 2)
    sherd_trial_set_photograph_stage (trial, photograph, "after firing 3", NULL);
  else if (g_test_rand_int_range (0, 8) == 0)
    sherd_trial_remove_photograph (trial, photograph);
}

static void
random_piece_edit (SherdTrial *trial, guint which)
{
  SherdPiece *piece = any_of (sherd_trial_get_pieces (trial));
  SherdSide *side = any_side (trial);

  if (which == 0 || piece == NULL)
    sherd_trial_add_tile (trial, "another", 80, 50, 0, SHERD_CLAY_DRY, NULL);
  else if (which == 1)
    sherd_trial_set_tile_size (trial, piece, 90 + g_test_rand_int_range (0, 30), 60, 7, FALSE, NULL);
  else if (which == 2)
    sherd_trial_set_side_ground (trial, side, g_test_rand_bit () ? "slip" : "body");
  else if (g_test_rand_int_range (0, 8) == 0)
    sherd_trial_remove_piece (trial, piece);
}

static void
random_edit (SherdTrial *trial)
{
  const guint which = (guint)g_test_rand_int_range (0, 4);

  switch (g_test_rand_int_range (0, 8))
    {
    case 0:
      random_paint_edit (trial, which);
      break;
    case 1:
      random_zone_edit (trial, which);
      break;
    case 2:
      random_photograph_edit (trial, which);
      break;
    case 3:
      random_piece_edit (trial, which);
      break;
    case 4:
      random_recipe_edit (trial, which);
      break;
    case 5:
      random_material_edit (trial, which);
      break;
    case 6:
      random_shape_edit (trial, which);
      break;
    default:
      if (g_test_rand_int_range (0, 3) == 0)
        sherd_trial_undo (trial);
      else
        random_zone_edit (trial, which);
    }
}

static void
assert_readable (const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (text, strlen (text), "random", &error);
  g_autofree char *again = NULL;

  g_assert_no_error (error);
  again = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (again, ==, text);
}

static void
test_undoing_all_and_redoing_all_give_the_same_bytes (void)
{
  for (guint round = 0; round < 20; round++)
    {
      g_autoptr (SherdTrial) trial = example_trial_new ();
      g_autofree char *start = sherd_trial_dup_text (trial, NULL);
      g_autofree char *end = NULL;
      g_autofree char *undone = NULL;
      g_autofree char *redone = NULL;

      watch_all (trial);
      for (guint i = 0; i < 120; i++)
        random_edit (trial);
      while (sherd_trial_can_redo (trial))
        sherd_trial_redo (trial);
      end = sherd_trial_dup_text (trial, NULL);
      assert_readable (end);
      while (sherd_trial_can_undo (trial))
        sherd_trial_undo (trial);
      undone = sherd_trial_dup_text (trial, NULL);
      g_assert_cmpstr (undone, ==, start);
      g_assert_false (sherd_trial_get_modified (trial));
      while (sherd_trial_can_redo (trial))
        sherd_trial_redo (trial);
      redone = sherd_trial_dup_text (trial, NULL);
      g_assert_cmpstr (redone, ==, end);
    }
}

static void
test_a_measurement_is_stale_while_its_inputs_differ (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (sherd_trial_get_measurements (trial), 0);
  guint n_notified = 0;

  g_signal_connect (measurement, "notify::stale", G_CALLBACK (count_cb), &n_notified);
  sherd_trial_set_paint_name (trial, sherd_trial_find_paint (trial, "paint-1"), "renamed");
  g_assert_false (sherd_measurement_get_stale (measurement));
  nudge (trial, 6);
  g_assert_true (sherd_measurement_get_stale (measurement));
  sherd_trial_undo (trial);
  g_assert_false (sherd_measurement_get_stale (measurement));
  g_assert_cmpuint (n_notified, ==, 2);
}

static void
test_ids_are_never_given_twice (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();
  g_autofree char *first = NULL;

  first = g_strdup (sherd_part_get_id (SHERD_PART (sherd_trial_add_paint (trial, "Q1", "", NULL))));
  g_assert_cmpstr (first, ==, "paint-3");
  sherd_trial_undo (trial);
  g_assert_cmpstr (sherd_part_get_id (SHERD_PART (sherd_trial_add_paint (trial, "Q2", "", NULL))), ==, "paint-4");
}

static void
test_text_that_is_not_utf8_is_made_so (void)
{
  g_autoptr (SherdTrial) trial = example_trial_new ();

  sherd_trial_begin_edit (trial, "Title");
  sherd_trial_set (trial, trial, "title", "caf\xe9");
  sherd_trial_end_edit (trial);
  g_assert_true (g_utf8_validate (sherd_trial_get_title (trial), -1, NULL));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/edit/is-one-step-in-words", test_an_edit_is_one_step_in_words);
  g_test_add_func ("/trial/edit/that-changes-nothing-leaves-no-trace",
                   test_an_edit_that_changes_nothing_leaves_no_trace);
  g_test_add_func ("/trial/edit/nested-is-one-with-the-outer-words", test_nested_edits_are_one_with_the_outer_words);
  g_test_add_func ("/trial/edit/cancelled-is-taken-back", test_a_cancelled_edit_is_taken_back);
  g_test_add_func ("/trial/edit/continued-joins-into-one", test_continued_edits_join_into_one);
  g_test_add_func ("/trial/edit/sealing-saving-and-others-end-joining",
                   test_sealing_saving_and_other_edits_end_joining);
  g_test_add_func ("/trial/edit/cancelled-continuation-keeps-what-went-before",
                   test_a_cancelled_continuation_keeps_what_went_before);
  g_test_add_func ("/trial/edit/modified-is-the-distance-to-the-saved-state",
                   test_modified_is_the_distance_to_the_saved_state);
  g_test_add_func ("/trial/edit/only-what-changed-is-notified", test_only_what_changed_is_notified);
  g_test_add_func ("/trial/edit/undoing-all-and-redoing-all-give-the-same-bytes",
                   test_undoing_all_and_redoing_all_give_the_same_bytes);
  g_test_add_func ("/trial/measurement/is-stale-while-its-inputs-differ",
                   test_a_measurement_is_stale_while_its_inputs_differ);
  g_test_add_func ("/trial/id/is-never-given-twice", test_ids_are_never_given_twice);
  g_test_add_func ("/trial/text/that-is-not-utf8-is-made-so", test_text_that_is_not_utf8_is_made_so);
  return g_test_run ();
}
