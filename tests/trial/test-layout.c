/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What plan/ reads of a trial and what it brings about in one: layouts, fillings, blends. Expected values by hand. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "plan/design.h"
#include "support.h"
#include "trial/blending.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/filling.h"
#include "trial/form-edits.h"
#include "trial/inputs.h"
#include "trial/layout.h"
#include "trial/paint-shares.h"
#include "trial/scatter.h"
#include "trial/zone-codes.h"
#include "trial/zone-shape-edits.h"

static const SherdGrid grid_3_by_4 = { .n_rows = 3,
                                       .n_columns = 4,
                                       .left_mm = 3,
                                       .top_mm = 3,
                                       .right_mm = 3,
                                       .bottom_mm = 3,
                                       .gap_x_mm = 2,
                                       .gap_y_mm = 2 };

/* A tile of three rows and four columns on the face, and paints P, Q, R, S without recipes. */
static SherdTrial *
tile_new (void)
{
  SherdTrial *trial = sherd_trial_new ();
  SherdPiece *piece = sherd_trial_add_tile (trial, "Tile", 120, 90, 8, SHERD_CLAY_DRY, NULL);
  static const char *const codes[] = { "P", "Q", "R", "S" };

  for (guint i = 0; i < G_N_ELEMENTS (codes); i++)
    sherd_trial_add_paint (trial, codes[i], NULL, NULL);
  g_assert_true (
    sherd_trial_set_zone_grid (trial, piece, sherd_piece_find_side_by_name (piece, "face"), &grid_3_by_4, NULL));
  return trial;
}

static SherdPaint *
paint (SherdTrial *trial, const char *code)
{
  SherdPaint *found = sherd_trial_find_paint_by_code (trial, code);

  g_assert_nonnull (found);
  return found;
}

static SherdFilling
filling_of (SherdPaint **paints, guint n_paints, SherdFillOrder order)
{
  return (SherdFilling){ .paints = paints, .n_paints = n_paints, .order = order, .seed = 5 };
}

/* "P Q – R …": what lies in the zones in reading order. */
static char *
dup_layout (SherdTrial *trial)
{
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, NULL, NULL);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < places->len; i++)
    {
      SherdPaint *it = sherd_zone_get_paint (g_array_index (places, SherdLaidZone, i).zone);

      g_string_append (text, it != NULL ? sherd_paint_get_code (it) : "-");
    }
  return g_strdup (text->str);
}

static SherdZone *
zone (SherdTrial *trial, const char *code)
{
  return sherd_side_find_zone_by_code (example_face (trial), code);
}

static void
test_order_is_one_edit_that_can_be_undone (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q"), paint (trial, "R") };
  const SherdFilling filling = filling_of (paints, 3, SHERD_FILL_IN_ORDER);
  g_auto (SherdFill) fill = { 0 };
  g_autofree char *laid = NULL;
  g_autofree char *undone = NULL;

  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  laid = dup_layout (trial);
  g_assert_cmpstr (laid, ==, "PQRPQRPQRPQR");
  g_assert_cmpuint (sherd_zone_get_replicate (zone (trial, "A4")), ==, 2);
  g_assert_cmpuint (sherd_zone_get_replicate (zone (trial, "C4")), ==, 4);
  g_assert_cmpuint (sherd_trial_get_seed (trial), ==, 5);
  sherd_trial_undo (trial);
  undone = dup_layout (trial);
  g_assert_cmpstr (undone, ==, "------------");
}

static void
test_every_row_holds_every_paint (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q"), paint (trial, "R") };
  const SherdFilling filling = filling_of (paints, 3, SHERD_FILL_IN_BLOCKS);
  g_auto (SherdFill) fill = { 0 };
  g_autofree char *laid = NULL;

  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  laid = dup_layout (trial);
  for (guint row = 0; row < 3; row++)
    for (const char *code = "PQR-"; *code != '\0'; code++)
      g_assert_nonnull (memchr (laid + 4 * row, *code, 4));
}

static void
test_locked_zones_stay_and_keep_their_number (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  SherdZone *locked = zone (trial, "B2");
  SherdFilling filling = filling_of (paints, 2, SHERD_FILL_IN_ORDER);
  g_auto (SherdFill) fill = { 0 };
  g_autofree char *laid = NULL;

  sherd_trial_set_zones_paint (trial, &locked, 1, "P", NULL);
  sherd_trial_set_zone_replicate (trial, locked, 2, NULL);
  sherd_trial_set_zone_locked (trial, locked, TRUE);
  filling.n_replicates = 3;
  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  laid = dup_layout (trial);
  g_assert_cmpstr (laid, ==, "PQPQQP------");
  g_assert_cmpuint (sherd_zone_get_replicate (locked), ==, 2);
  g_assert_cmpuint (sherd_zone_get_replicate (zone (trial, "A1")), ==, 1);
  g_assert_cmpuint (sherd_zone_get_replicate (zone (trial, "A3")), ==, 3);
}

static void
test_same_paint_is_kept_apart (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q"), paint (trial, "R"), paint (trial, "S") };
  SherdFilling filling = filling_of (paints, 4, SHERD_FILL_RANDOM);
  g_auto (SherdFill) fill = { 0 };
  g_autofree char *laid = NULL;

  filling.keep_apart = TRUE;
  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  laid = dup_layout (trial);
  g_assert_cmpuint (fill.n_touching, ==, 0);
  for (guint i = 0; i < 12; i++)
    {
      g_assert_true (i % 4 == 3 || laid[i] != laid[i + 1]);
      g_assert_true (i >= 8 || laid[i] != laid[i + 4]);
    }
}

/* Three rows on the face, so the back goes on with D, but for E, which a locked zone has. */
static void
test_codes_read_in_order_over_both_sides (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPiece *piece = example_piece (trial);
  SherdSide *back = sherd_piece_find_side_by_name (piece, "back");
  SherdZone *locked = zone (trial, "B4");
  g_autoptr (GArray) places = NULL;

  g_assert_true (sherd_trial_set_zone_code (trial, example_face (trial), locked, "E2", NULL));
  g_assert_true (sherd_trial_set_zone_code (trial, example_face (trial), zone (trial, "C1"), "odd", NULL));
  sherd_trial_set_zone_locked (trial, locked, TRUE);
  g_assert_true (sherd_trial_set_zone_grid (trial, piece, back, &grid_3_by_4, NULL));
  g_assert_true (sherd_trial_set_reading_codes (trial, piece, NULL));
  places = sherd_trial_list_laid_zones (trial, NULL, NULL);
  for (guint i = 0; i < 24; i++)
    {
      static const char *const expected[] = { "A1", "A2", "A3", "A4", "B1", "B2", "B3", "E2", "C1", "C2", "C3", "C4",
                                              "D1", "D2", "D3", "D4", "F1", "F2", "F3", "F4", "G1", "G2", "G3", "G4" };

      g_assert_cmpstr (sherd_zone_get_code (g_array_index (places, SherdLaidZone, i).zone), ==, expected[i]);
    }
  sherd_trial_undo (trial);
  g_assert_cmpstr (sherd_zone_get_code (g_array_index (places, SherdLaidZone, 8).zone), ==, "odd");
}

static void
assert_refused (SherdTrial *trial, const SherdFilling *filling, GQuark domain, int code)
{
  g_autofree char *before = sherd_trial_dup_text (trial, NULL);
  g_autofree char *after = NULL;
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_trial_fill_zones (trial, filling, &fill, &error));
  g_assert_error (error, domain, code);
  after = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (before, ==, after);
}

static void
test_refusals_change_nothing (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  g_autoptr (SherdTrial) empty = sherd_trial_new ();
  g_autoptr (SherdTrial) fired = example_trial_new ();
  SherdPaint *paints[] = { paint (trial, "P") };
  SherdPaint *black[] = { paint (fired, "KM") };
  SherdFilling filling = filling_of (paints, 1, SHERD_FILL_IN_ORDER);

  filling.n_replicates = 13;
  assert_refused (trial, &filling, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_SHORT);
  assert_refused (empty, &filling, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE);
  filling = filling_of (black, 1, SHERD_FILL_IN_ORDER);
  assert_refused (fired, &filling, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE);
  g_assert_false (sherd_trial_set_reading_codes (fired, example_piece (fired), NULL));
}

static SherdMaterial *
add_material (SherdTrial *trial, const char *name)
{
  g_auto (SherdMaterialRecord) record = { 0 };
  SherdMaterial *material;

  sherd_material_record_init (&record);
  g_free (record.name);
  record.name = g_strdup (name);
  material = sherd_trial_add_material (trial, &record, NULL);
  g_assert_nonnull (material);
  return material;
}

static const char *
id_of (gpointer part)
{
  return sherd_part_get_id (SHERD_PART (part));
}

static void
set_recipe (SherdTrial *trial,
            const char *code,
            SherdMaterial *first,
            double first_parts,
            SherdMaterial *second,
            double parts)
{
  g_autoptr (SherdRecipe) recipe = sherd_recipe_new ();

  sherd_recipe_insert_material (recipe, 0, id_of (first), first_parts, NULL);
  sherd_recipe_insert_material (recipe, 1, id_of (second), parts, NULL);
  g_assert_true (sherd_trial_set_recipe (trial, paint (trial, code), recipe, FALSE, NULL));
}

static void
assert_share (SherdTrial *trial, const char *code, SherdMaterial *material, double share)
{
  g_autoptr (GHashTable) shares = sherd_trial_dup_paint_shares (trial, paint (trial, code), 0);

  g_assert_nonnull (shares);
  g_assert_cmpfloat_with_epsilon (*(double *)g_hash_table_lookup (shares, id_of (material)), share, 1e-12);
}

/* P = 3 iron + 1 flux, Q = 1 iron + 1 flux; 2 P + 1 Q = (2 · 3/4 + 1/2) / 3 = 2/3 iron. */
static void
test_paints_within_paints_are_taken_apart (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdMaterial *iron = add_material (trial, "iron"), *flux = add_material (trial, "flux");
  g_autoptr (SherdRecipe) blend = sherd_recipe_new ();

  set_recipe (trial, "P", iron, 3, flux, 1);
  set_recipe (trial, "Q", iron, 1, flux, 1);
  sherd_recipe_insert_paint (blend, 0, id_of (paint (trial, "P")), 2, NULL);
  sherd_recipe_insert_paint (blend, 1, id_of (paint (trial, "Q")), 1, NULL);
  g_assert_true (sherd_trial_set_recipe (trial, paint (trial, "R"), blend, FALSE, NULL));
  assert_share (trial, "R", iron, 2.0 / 3.0);
  assert_share (trial, "R", flux, 1.0 / 3.0);
  g_assert_null (sherd_trial_dup_paint_shares (trial, paint (trial, "S"), 0));
}

static const SherdVerdict *
find_verdict (const SherdLayout *layout, const SherdDesign *design, const char *key)
{
  for (guint i = 0; i < design->n_verdicts; i++)
    if (g_str_equal (sherd_layout_get_factor (layout, i)->key, key))
      return &design->verdicts[i];
  g_error ("no question “%s”", key);
}

/* Two materials that make up all paints are one question, asked twice. */
static void
test_shares_are_asked (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdMaterial *iron = add_material (trial, "iron"), *flux = add_material (trial, "flux");
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q"), paint (trial, "R") };
  const SherdFilling filling = filling_of (paints, 3, SHERD_FILL_IN_BLOCKS);
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (SherdLayout) layout = NULL;
  g_autoptr (SherdDesign) design = NULL;
  g_autofree char *key = g_strconcat ("share:", id_of (iron), NULL);

  set_recipe (trial, "P", iron, 3, flux, 1);
  set_recipe (trial, "Q", iron, 1, flux, 1);
  set_recipe (trial, "R", iron, 1, flux, 9);
  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  layout = sherd_trial_layout_new (trial);
  design = sherd_design_new (layout, TRUE);
  g_assert_cmpint (find_verdict (layout, design, "paint")->tell, ==, SHERD_TELL_WELL);
  g_assert_cmpint (find_verdict (layout, design, key)->tell, ==, SHERD_TELL_NOT);
  g_assert_cmpint (find_verdict (layout, design, "side")->tell, ==, SHERD_TELL_SAME);
}

/* The second side on another ground: ground and side cannot be told apart. */
static void
test_ground_that_changes_with_the_side_is_found_out (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPiece *piece = example_piece (trial);
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  const SherdFilling filling = filling_of (paints, 2, SHERD_FILL_RANDOM);
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (SherdLayout) layout = NULL;
  g_autoptr (SherdDesign) design = NULL;
  const SherdVerdict *ground;

  g_assert_true (
    sherd_trial_set_zone_grid (trial, piece, sherd_piece_find_side_by_name (piece, "back"), &grid_3_by_4, NULL));
  sherd_trial_set_side_ground (trial, sherd_piece_find_side_by_name (piece, "back"), "white slip");
  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  layout = sherd_trial_layout_new (trial);
  design = sherd_design_new (layout, FALSE);
  ground = find_verdict (layout, design, "ground");
  g_assert_cmpint (ground->tell, ==, SHERD_TELL_NOT);
  g_assert_cmpuint (ground->from->len, ==, 1);
  g_assert_cmpstr (sherd_layout_get_factor (layout, g_array_index (ground->from, guint, 0))->key, ==, "side");
  g_assert_cmpstr (layout->zone_names[0], ==, "Face, A1");
}

/* A cylinder of 100 mm, 80 mm high, with two rings of six sectors outside. */
static SherdTrial *
cylinder_new (void)
{
  SherdTrial *trial = sherd_trial_new ();
  const SherdProfilePoint outside[] = { { .r_mm = 50, .z_mm = 0 }, { .r_mm = 50, .z_mm = 80 } };
  g_autoptr (SherdForm) form = sherd_form_new ();
  g_autoptr (GError) error = NULL;
  SherdPiece *piece;
  SherdSide *side;

  sherd_form_set_outside (form, outside, 2);
  piece = sherd_trial_add_piece (trial, "Cylinder", SHERD_PIECE_VESSEL, 100, 80, 6, form, SHERD_CLAY_DRY, &error);
  g_assert_no_error (error);
  side = sherd_piece_find_side_by_name (piece, "outside");
  for (guint i = 0; i < 12; i++)
    {
      const SherdZoneBox box = { .azimuth0_deg = 60.0 * (i % 6) + 2,
                                 .azimuth1_deg = 60.0 * (i % 6) + 58,
                                 .arc0_mm = i < 6 ? 5 : 45,
                                 .arc1_mm = i < 6 ? 35 : 75 };
      g_autofree char *code = sherd_grid_code (i / 6, i % 6);

      g_assert_nonnull (sherd_trial_add_zone_box (trial, piece, side, code, &box, &error));
      g_assert_no_error (error);
    }
  sherd_trial_add_paint (trial, "P", NULL, NULL);
  sherd_trial_add_paint (trial, "Q", NULL, NULL);
  return trial;
}

/* Middles of the rings lie 20 mm and 60 mm below the lip of 80 mm. */
static void
test_vessel_has_heights_and_rings (void)
{
  g_autoptr (SherdTrial) trial = cylinder_new ();
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, NULL, NULL);
  g_autoptr (SherdLayout) layout = sherd_trial_layout_new (trial);

  g_assert_cmpuint (places->len, ==, 12);
  for (guint i = 0; i < 12; i++)
    {
      const SherdLaidZone *place = &g_array_index (places, SherdLaidZone, i);

      g_assert_true (place->is_round);
      g_assert_cmpuint (place->row, ==, i / 6);
      g_assert_cmpfloat_with_epsilon (place->height_mm, i < 6 ? 60.0 : 20.0, 0.01);
    }
  for (guint i = 0; i < layout->factors->len; i++)
    g_assert_cmpstr (sherd_layout_get_factor (layout, i)->key, !=, "across");
}

/* Six sectors and two paints: only P Q P Q P Q, in both rings opposite, leaves none side by side; the seam counts. */
static void
test_vessel_keeps_paints_apart_over_the_seam (void)
{
  g_autoptr (SherdTrial) trial = cylinder_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  SherdFilling filling = filling_of (paints, 2, SHERD_FILL_RANDOM);
  g_auto (SherdFill) fill = { 0 };
  g_autofree char *laid = NULL;

  filling.keep_apart = TRUE;
  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  laid = dup_layout (trial);
  g_assert_cmpuint (fill.n_touching, ==, 0);
  g_assert_true (g_str_equal (laid, "PQPQPQQPQPQP") || g_str_equal (laid, "QPQPQPPQPQPQ"));
}

/* P all in the upper ring, Q all in the lower: paint cannot be told from height. */
static void
test_paint_that_goes_with_height_is_found_out (void)
{
  g_autoptr (SherdTrial) trial = cylinder_new ();
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, NULL, NULL);
  g_autoptr (SherdLayout) layout = NULL;
  g_autoptr (SherdDesign) design = NULL;

  for (guint i = 0; i < 12; i++)
    {
      SherdZone *it = g_array_index (places, SherdLaidZone, i).zone;

      g_assert_true (sherd_trial_set_zones_paint (trial, &it, 1, i < 6 ? "P" : "Q", NULL));
    }
  layout = sherd_trial_layout_new (trial);
  design = sherd_design_new (layout, FALSE);
  g_assert_cmpint (find_verdict (layout, design, "paint")->tell, ==, SHERD_TELL_NOT);
  g_assert_cmpint (find_verdict (layout, design, "height")->tell, ==, SHERD_TELL_NOT);
  g_assert_cmpint (find_verdict (layout, design, "around")->tell, ==, SHERD_TELL_WELL);
}

/* Two burnished tiles and two that are not, dried one and two weeks in turn: four pieces tell both; two tell neither. A
 * zone of 10 × 10 mm with 0.02 g carries 20 mg/cm². */
static void
test_work_on_sides_is_asked (void)
{
  for (guint n_tiles = 2; n_tiles <= 8; n_tiles += 6)
    {
      g_autoptr (SherdTrial) trial = sherd_trial_new ();
      g_autoptr (SherdLayout) layout = NULL;
      g_autoptr (SherdDesign) design = NULL;

      sherd_trial_add_paint (trial, "P", NULL, NULL);
      for (guint i = 0; i < n_tiles; i++)
        {
          g_autofree char *name = g_strdup_printf ("Tile %u", i);
          SherdPiece *piece = sherd_trial_add_tile (trial, name, 60, 60, 8, SHERD_CLAY_DRY, NULL);
          SherdSide *face = sherd_piece_find_side_by_name (piece, "face");
          const SherdRectangle first = { 5, 5, 10, 10 }, second = { 25, 5, 10, 10 };
          SherdZone *zones[] = { sherd_trial_add_zone (trial, piece, face, "A1", &first, NULL),
                                 sherd_trial_add_zone (trial, piece, face, "A2", &second, NULL) };

          g_assert_true (sherd_trial_set_zones_paint (trial, zones, 2, "P", NULL));
          g_assert_true (sherd_trial_set_laid (trial, zones[0], 0.02, 0.001, FALSE, NULL));
          sherd_trial_set_burnish (trial, face, i % 2 == 0 ? SHERD_BURNISH_BEFORE : SHERD_BURNISH_NONE);
          g_assert_true (sherd_trial_set_drying_days (trial, face, i / 2 % 2 == 0 ? 7 : 14, FALSE, NULL));
        }
      layout = sherd_trial_layout_new (trial);
      design = sherd_design_new (layout, TRUE);
      g_assert_cmpint (find_verdict (layout, design, "burnish")->tell, ==,
                       n_tiles == 2 ? SHERD_TELL_NOT : SHERD_TELL_WELL);
      g_assert_cmpint (find_verdict (layout, design, "drying_days")->tell, ==,
                       n_tiles == 2 ? SHERD_TELL_SAME : SHERD_TELL_WELL);
      g_assert_cmpint (find_verdict (layout, design, "laid_mg_cm2")->tell, ==, SHERD_TELL_UNKNOWN);
      g_assert_cmpuint (find_verdict (layout, design, "laid_mg_cm2")->n_unknown, ==, n_tiles);
      g_assert_cmpfloat_with_epsilon (
        sherd_layout_get_factor (layout, find_verdict (layout, design, "laid_mg_cm2")->factor)->values[0], 20.0, 1e-9);
    }
}

static void
test_line_blend_makes_paints_of_paints (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  g_autoptr (SherdBlend) blend = sherd_blend_line (4, NULL);
  g_autofree char *stem = sherd_trial_dup_blend_stem (paints, 2);
  g_autoptr (GPtrArray) made = sherd_trial_add_blend (trial, paints, blend, stem, NULL);
  const SherdRecipe *half;

  g_assert_cmpuint (made->len, ==, 5);
  g_assert_true (g_ptr_array_index (made, 0) == paints[0]);
  g_assert_true (g_ptr_array_index (made, 4) == paints[1]);
  g_assert_cmpstr (sherd_paint_get_code (g_ptr_array_index (made, 2)), ==, "PQ2");
  g_assert_cmpstr (sherd_paint_get_name (g_ptr_array_index (made, 1)), ==, "P 75 %, Q 25 %");
  half = sherd_paint_get_recipe (g_ptr_array_index (made, 2));
  g_assert_cmpuint (half->n_ingredients, ==, 2);
  g_assert_cmpfloat (half->ingredients[0].parts, ==, 1.0);
  g_assert_cmpfloat (half->ingredients[1].parts, ==, 1.0);
  g_assert_cmpstr (half->ingredients[1].paint_id, ==, id_of (paints[1]));
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (trial)), ==, 7);
  sherd_trial_undo (trial);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_trial_get_paints (trial)), ==, 4);
}

static void
test_blend_passes_over_codes_in_use (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  g_autoptr (SherdBlend) blend = sherd_blend_line (3, NULL);
  g_autoptr (GPtrArray) made = NULL;

  sherd_trial_add_paint (trial, "X1", NULL, NULL);
  made = sherd_trial_add_blend (trial, paints, blend, "X", NULL);
  g_assert_cmpstr (sherd_paint_get_code (g_ptr_array_index (made, 1)), ==, "X2");
  g_assert_cmpstr (sherd_paint_get_code (g_ptr_array_index (made, 2)), ==, "X3");
}

static void
test_blend_that_cannot_be_changes_nothing (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  g_autoptr (SherdBlend) blend = sherd_blend_line (3, NULL);
  g_autofree char *before = sherd_trial_dup_text (trial, NULL);
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_null (sherd_trial_add_blend (trial, paints, blend, "a stem of twenty-four let", &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  g_clear_error (&error);
  g_assert_null (sherd_trial_add_blend (trial, paints, blend, "a stem of 24 letters, so", &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  after = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (before, ==, after);
}

/* Nothing measured: the stated default; two paints laid 6 times each. */
static void
test_replicates_without_measurement_use_the_default (void)
{
  g_autoptr (SherdTrial) trial = tile_new ();
  SherdPaint *paints[] = { paint (trial, "P"), paint (trial, "Q") };
  const SherdFilling filling = filling_of (paints, 2, SHERD_FILL_RANDOM);
  g_auto (SherdFill) fill = { 0 };
  SherdReplicates replicates;

  g_assert_true (sherd_trial_fill_zones (trial, &filling, &fill, NULL));
  replicates = sherd_trial_judge_replicates (trial, 1.5);
  g_assert_cmpuint (replicates.n_scatter_df, ==, 0);
  g_assert_cmpfloat (replicates.scatter_de00, ==, SHERD_SCATTER_DEFAULT_DE00);
  g_assert_cmpuint (replicates.n_laid, ==, 6);
  /* Effect of one standard deviation, two groups: 17 each (Cohen's tables; R: power.t.test gives 16.7). */
  g_assert_cmpuint (replicates.n_needed, ==, 17);
}

/* One row of four zones, of which the first two carry P and the next two Q, measured once; lightness 50 and 52, 30 and
 * 30, neutral: ΔE00 from the mean of 51 is 1 / SL with SL = 1 + 0.015 (L̄ − 50)² / √(20 + (L̄ − 50)²), L̄ = 50.5 and
 * 51.5 (Sharma, Wu and Dalal 2005). */
static SherdTrial *
measured_new (guint flags_of_last)
{
  static const double lightness[] = { 50, 52, 30, 30 };
  SherdTrial *trial = example_trial_new ();
  SherdPhotograph *photograph = example_photograph (trial, 1);
  SherdSide *side = example_face (trial);
  GListModel *zones = sherd_side_get_zones (side);
  SherdPhotoMeasurement *result = g_new0 (SherdPhotoMeasurement, 1);
  const SherdGrid grid = { .n_rows = 1, .n_columns = 4, .left_mm = 1, .top_mm = 1, .right_mm = 1, .bottom_mm = 1 };
  g_autofree char *inputs = NULL;
  g_autoptr (SherdMeasurement) measurement = NULL;

  g_assert_true (sherd_trial_set_zone_grid (trial, example_piece (trial), side, &grid, NULL));
  result->n_zones = 4;
  result->zones = g_new0 (SherdZoneColour, 4);
  for (guint i = 0; i < 4; i++)
    {
      g_autoptr (SherdZone) it = g_list_model_get_item (zones, i);
      SherdZone *single = it;

      g_assert_true (sherd_trial_set_zones_paint (trial, &single, 1, i < 2 ? "P" : "Q", NULL));
      g_assert_true (sherd_trial_set_zone_coats (trial, it, 1, FALSE, NULL));
      sherd_trial_set_zone_ground (trial, it, NULL);
      result->zones[i] = (SherdZoneColour){ .id = g_strdup (id_of (it)),
                                            .code = g_strdup (sherd_zone_get_code (it)),
                                            .lab = { .l = lightness[i] },
                                            .n_pixels = 1000 };
    }
  result->zones[3].flags = flags_of_last;
  inputs = sherd_inputs_dup_sha256 (photograph);
  measurement = sherd_measurement_new ("measurement-9", photograph, inputs, "0", "2025-03-04T05:06:07Z", result);
  g_list_store_append (G_LIST_STORE (sherd_trial_get_measurements (trial)), measurement);
  return trial;
}

static void
test_scatter_is_that_of_replicates (void)
{
  g_autoptr (SherdTrial) trial = measured_new (0);
  const SherdScatter scatter = sherd_trial_measure_scatter (trial);
  const double sl[] = { 1 + 0.015 * 0.25 / sqrt (20.25), 1 + 0.015 * 2.25 / sqrt (22.25) };

  g_assert_cmpuint (scatter.n_df, ==, 2);
  g_assert_cmpfloat_with_epsilon (scatter.sd, sqrt ((1 / (sl[0] * sl[0]) + 1 / (sl[1] * sl[1])) / 2), 1e-9);
}

static void
test_zones_with_remarks_do_not_count (void)
{
  g_autoptr (SherdTrial) trial = measured_new (SHERD_ZONE_GLARE);

  g_assert_cmpuint (sherd_trial_measure_scatter (trial).n_df, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/layout/order-is-one-edit-that-can-be-undone", test_order_is_one_edit_that_can_be_undone);
  g_test_add_func ("/trial/layout/every-row-holds-every-paint", test_every_row_holds_every_paint);
  g_test_add_func ("/trial/layout/locked-zones-stay-and-keep-their-number",
                   test_locked_zones_stay_and_keep_their_number);
  g_test_add_func ("/trial/layout/same-paint-is-kept-apart", test_same_paint_is_kept_apart);
  g_test_add_func ("/trial/layout/codes-read-in-order-over-both-sides", test_codes_read_in_order_over_both_sides);
  g_test_add_func ("/trial/layout/refusals-change-nothing", test_refusals_change_nothing);
  g_test_add_func ("/trial/layout/paints-within-paints-are-taken-apart", test_paints_within_paints_are_taken_apart);
  g_test_add_func ("/trial/layout/shares-are-asked", test_shares_are_asked);
  g_test_add_func ("/trial/layout/ground-that-changes-with-the-side-is-found-out",
                   test_ground_that_changes_with_the_side_is_found_out);
  g_test_add_func ("/trial/layout/vessel-has-heights-and-rings", test_vessel_has_heights_and_rings);
  g_test_add_func ("/trial/layout/vessel-keeps-paints-apart-over-the-seam",
                   test_vessel_keeps_paints_apart_over_the_seam);
  g_test_add_func ("/trial/layout/paint-that-goes-with-height-is-found-out",
                   test_paint_that_goes_with_height_is_found_out);
  g_test_add_func ("/trial/layout/work-on-sides-is-asked", test_work_on_sides_is_asked);
  g_test_add_func ("/trial/layout/line-blend-makes-paints-of-paints", test_line_blend_makes_paints_of_paints);
  g_test_add_func ("/trial/layout/blend-passes-over-codes-in-use", test_blend_passes_over_codes_in_use);
  g_test_add_func ("/trial/layout/blend-that-cannot-be-changes-nothing", test_blend_that_cannot_be_changes_nothing);
  g_test_add_func ("/trial/layout/scatter-is-that-of-replicates", test_scatter_is_that_of_replicates);
  g_test_add_func ("/trial/layout/zones-with-remarks-do-not-count", test_zones_with_remarks_do_not_count);
  g_test_add_func ("/trial/layout/replicates-without-measurement-use-the-default",
                   test_replicates_without_measurement_use_the_default);
  return g_test_run ();
}
