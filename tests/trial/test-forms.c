/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of every kind and the zones on them, as a potter draws them; areas against closed formulas of the cylinder. */
#include "config.h"

#include <math.h>

#include "shape/preset.h"
#include "trial/edits.h"
#include "trial/file.h"
#include "trial/form-edits.h"
#include "trial/zone-faults.h"
#include "trial/zone-shape-edits.h"

#define RADIUS_MM 50.0
#define HEIGHT_MM 120.0

/* Curves are followed by chords within a hundredth of a millimetre. */
#define AREA_FRAC 1e-4

typedef struct
{
  SherdTrial *trial;
  SherdPiece *piece;
  SherdSide *outside;
} Beaker;

static void
beaker_set_up (Beaker *beaker, gconstpointer data)
{
  const SherdProfilePoint wall[] = { { RADIUS_MM, 0, TRUE }, { RADIUS_MM, HEIGHT_MM, FALSE } };
  g_autoptr (SherdForm) form = sherd_form_new ();
  g_autoptr (GError) error = NULL;

  sherd_form_set_outside (form, wall, G_N_ELEMENTS (wall));
  beaker->trial = sherd_trial_new ();
  beaker->piece =
    sherd_trial_add_piece (beaker->trial, "Beaker", SHERD_PIECE_VESSEL, 0, 0, 5, form, SHERD_CLAY_LEATHER_HARD, &error);
  g_assert_no_error (error);
  beaker->outside = sherd_piece_find_side_by_name (beaker->piece, "outside");
}

static void
beaker_tear_down (Beaker *beaker, gconstpointer data)
{
  g_clear_object (&beaker->trial);
}

/* The outside begins on the lip's highest circle; the lip is round, so the wall's straight part begins below it. */
static void
lay_rings (Beaker *beaker, guint n_rings, guint n_sectors, double gap_mm)
{
  const SherdRingGrid grid = { n_rings, n_sectors, { 0, 360, 20, 80 }, gap_mm };
  g_autoptr (GError) error = NULL;

  sherd_trial_set_ring_grid (beaker->trial, beaker->piece, beaker->outside, &grid, &error);
  g_assert_no_error (error);
}

static SherdZone *
zone_of (Beaker *beaker, const char *code)
{
  SherdZone *zone = sherd_side_find_zone_by_code (beaker->outside, code);

  g_assert_nonnull (zone);
  return zone;
}

static double
area_mm2 (Beaker *beaker, const char *code)
{
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (beaker->piece, "outside", NULL);
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone_of (beaker, code));

  return sherd_surface_area_mm2 (sherd_piece_surface_get (surface), outline);
}

static guint
n_zones (Beaker *beaker)
{
  return g_list_model_get_n_items (sherd_side_get_zones (beaker->outside));
}

static void
assert_near (double value, double expected)
{
  g_assert_cmpfloat_with_epsilon (value, expected, AREA_FRAC * fabs (expected));
}

static void
test_a_vessel_measures_what_its_profile_says (Beaker *beaker, gconstpointer data)
{
  assert_near (sherd_piece_get_width_mm (beaker->piece), 2 * RADIUS_MM);
  assert_near (sherd_piece_get_height_mm (beaker->piece), HEIGHT_MM);
  g_assert_nonnull (sherd_piece_find_side_by_name (beaker->piece, "inside"));
  g_assert_null (sherd_piece_find_side_by_name (beaker->piece, "face"));
}

static void
test_rings_without_gaps_share_the_wall (Beaker *beaker, gconstpointer data)
{
  lay_rings (beaker, 2, 6, 0);
  g_assert_cmpuint (n_zones (beaker), ==, 12);
  assert_near (area_mm2 (beaker, "A1"), 2 * G_PI * RADIUS_MM * 60 / 12);
  assert_near (area_mm2 (beaker, "B6"), 2 * G_PI * RADIUS_MM * 60 / 12);
}

static void
test_gaps_are_as_wide_as_asked (Beaker *beaker, gconstpointer data)
{
  SherdRange first, second, below;

  lay_rings (beaker, 2, 6, 3);
  sherd_zone_get_range (zone_of (beaker, "A1"), &first);
  sherd_zone_get_range (zone_of (beaker, "A2"), &second);
  sherd_zone_get_range (zone_of (beaker, "B1"), &below);
  assert_near ((second.azimuth0_deg - first.azimuth1_deg) / 180.0 * G_PI * RADIUS_MM, 3);
  assert_near (below.arc0_mm - first.arc1_mm, 3);
  assert_near (first.azimuth0_deg + first.azimuth1_deg, 60);
}

static void
test_relaying_keeps_what_is_painted_where (Beaker *beaker, gconstpointer data)
{
  SherdZone *zone;

  lay_rings (beaker, 1, 6, 2);
  zone = zone_of (beaker, "A4");
  g_assert_true (sherd_trial_set_zones_paint (beaker->trial, &zone, 1, "HB", NULL));
  lay_rings (beaker, 2, 4, 2);
  g_assert_true (zone_of (beaker, "A4") == zone);
  g_assert_cmpstr (sherd_paint_get_code (sherd_zone_get_paint (zone)), ==, "HB");
  sherd_trial_undo (beaker->trial);
  g_assert_cmpuint (n_zones (beaker), ==, 6);
}

static void
test_zones_do_not_come_to_lie_on_one_another (Beaker *beaker, gconstpointer data)
{
  SherdRange range;
  g_autoptr (GError) error = NULL;

  lay_rings (beaker, 1, 6, 2);
  sherd_zone_get_range (zone_of (beaker, "A1"), &range);
  range.azimuth1_deg += 20;
  g_assert_false (sherd_trial_set_zone_box (beaker->trial, beaker->piece, beaker->outside, zone_of (beaker, "A1"),
                                            &range, FALSE, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
  g_assert_nonnull (strstr (error->message, "A2"));
}

/* The last sector meets the first over the zero mark. */
static void
test_the_zero_mark_is_no_border (Beaker *beaker, gconstpointer data)
{
  SherdRange range;

  lay_rings (beaker, 1, 6, 2);
  sherd_zone_get_range (zone_of (beaker, "A6"), &range);
  range.azimuth1_deg += 20;
  g_assert_false (sherd_trial_set_zone_box (beaker->trial, beaker->piece, beaker->outside, zone_of (beaker, "A6"),
                                            &range, FALSE, NULL));
}

static void
test_splitting_and_joining_give_back_the_zone (Beaker *beaker, gconstpointer data)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_object_unref);
  double whole_mm2;

  lay_rings (beaker, 1, 6, 2);
  whole_mm2 = area_mm2 (beaker, "A1");
  g_assert_true (
    sherd_trial_split_zone (beaker->trial, beaker->piece, beaker->outside, zone_of (beaker, "A1"), 3, FALSE, NULL));
  g_assert_cmpuint (n_zones (beaker), ==, 8);
  assert_near (area_mm2 (beaker, "A1"), whole_mm2 / 3);
  for (guint i = 0; i < 3; i++)
    g_ptr_array_add (parts, g_list_model_get_item (sherd_side_get_zones (beaker->outside), i));
  g_assert_true (
    sherd_trial_join_zones (beaker->trial, beaker->piece, beaker->outside, (SherdZone **)parts->pdata, 3, NULL));
  g_assert_cmpuint (n_zones (beaker), ==, 6);
  assert_near (area_mm2 (beaker, "A1"), whole_mm2);
}

static void
test_joining_over_another_zone_is_refused (Beaker *beaker, gconstpointer data)
{
  SherdZone *zones[2];

  lay_rings (beaker, 1, 6, 2);
  zones[0] = zone_of (beaker, "A1");
  zones[1] = zone_of (beaker, "A3");
  g_assert_false (sherd_trial_join_zones (beaker->trial, beaker->piece, beaker->outside, zones, 2, NULL));
  g_assert_cmpuint (n_zones (beaker), ==, 6);
}

/* Both rings' edges move, and the gap between them stays. */
static void
test_the_border_of_a_whole_ring_moves_at_once (Beaker *beaker, gconstpointer data)
{
  SherdRange above, below;

  lay_rings (beaker, 2, 6, 3);
  sherd_zone_get_range (zone_of (beaker, "A1"), &above);
  g_assert_true (sherd_trial_move_zone_edge (beaker->trial, beaker->piece, beaker->outside, zone_of (beaker, "A1"),
                                             SHERD_ZONE_EDGE_Y1, above.arc1_mm + 7, TRUE, FALSE, NULL));
  sherd_zone_get_range (zone_of (beaker, "A5"), &above);
  sherd_zone_get_range (zone_of (beaker, "B2"), &below);
  assert_near (above.arc1_mm, 48.5 + 7);
  assert_near (below.arc0_mm, 51.5 + 7);
  sherd_trial_undo (beaker->trial);
  sherd_zone_get_range (zone_of (beaker, "B2"), &below);
  assert_near (below.arc0_mm, 51.5);
}

static void
test_mirroring_twice_changes_nothing (Beaker *beaker, gconstpointer data)
{
  SherdRange before, mirrored, after;

  lay_rings (beaker, 1, 5, 2);
  sherd_zone_get_range (zone_of (beaker, "A2"), &before);
  g_assert_true (sherd_trial_mirror_side (beaker->trial, beaker->piece, beaker->outside, NULL));
  sherd_zone_get_range (zone_of (beaker, "A2"), &mirrored);
  assert_near (mirrored.azimuth0_deg, 360 - before.azimuth1_deg);
  g_assert_true (sherd_trial_mirror_side (beaker->trial, beaker->piece, beaker->outside, NULL));
  sherd_zone_get_range (zone_of (beaker, "A2"), &after);
  assert_near (after.azimuth0_deg, before.azimuth0_deg);
}

static void
test_a_side_is_copied_with_its_paints (Beaker *beaker, gconstpointer data)
{
  SherdSide *inside = sherd_piece_find_side_by_name (beaker->piece, "inside");
  SherdZone *zone;

  lay_rings (beaker, 1, 6, 2);
  zone = zone_of (beaker, "A2");
  g_assert_true (sherd_trial_set_zones_paint (beaker->trial, &zone, 1, "HB", NULL));
  g_assert_true (sherd_trial_copy_side (beaker->trial, beaker->piece, beaker->outside, beaker->piece, inside, NULL));
  g_assert_cmpuint (g_list_model_get_n_items (sherd_side_get_zones (inside)), ==, 6);
  g_assert_true (sherd_zone_get_paint (sherd_side_find_zone_by_code (inside, "A2")) == sherd_zone_get_paint (zone));
}

static void
test_a_vessel_does_not_shrink_away_under_its_zones (Beaker *beaker, gconstpointer data)
{
  const SherdProfilePoint shorter[] = { { RADIUS_MM, 0, TRUE }, { RADIUS_MM, 50, FALSE } };
  g_autoptr (SherdForm) form = sherd_form_copy (sherd_piece_get_form (beaker->piece));
  g_autoptr (GError) error = NULL;

  lay_rings (beaker, 2, 6, 2);
  sherd_form_set_outside (form, shorter, G_N_ELEMENTS (shorter));
  g_assert_false (sherd_trial_set_form (beaker->trial, beaker->piece, 5, form, FALSE, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE);
}

static void
test_rows_and_columns_do_not_fit_a_vessel (Beaker *beaker, gconstpointer data)
{
  const SherdGrid grid = { .n_rows = 2, .n_columns = 2 };
  g_autoptr (GError) error = NULL;

  g_assert_false (sherd_trial_set_zone_grid (beaker->trial, beaker->piece, beaker->outside, &grid, &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE);
}

static void
test_a_vessel_survives_saving (Beaker *beaker, gconstpointer data)
{
  g_autofree char *text = NULL;
  g_autofree char *again = NULL;
  g_autoptr (SherdTrial) read = NULL;
  g_autoptr (GError) error = NULL;

  lay_rings (beaker, 2, 6, 2);
  text = sherd_trial_dup_text (beaker->trial, NULL);
  read = sherd_trial_new_from_text (text, strlen (text), "x", &error);
  g_assert_no_error (error);
  again = sherd_trial_dup_text (read, NULL);
  g_assert_cmpstr (again, ==, text);
}

static void
test_every_preset_makes_a_piece (void)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();

  for (SherdPreset preset = SHERD_PRESET_BOWL; preset <= SHERD_PRESET_JAR; preset++)
    {
      const SherdMeasures measures = sherd_preset_example (preset);
      g_autoptr (GArray) points = sherd_preset_points (preset, &measures, NULL);
      g_autoptr (SherdForm) form = sherd_form_new ();
      g_autoptr (GError) error = NULL;

      sherd_form_set_outside (form, (const SherdProfilePoint *)(gpointer)points->data, points->len);
      sherd_trial_add_piece (trial, "P", SHERD_PIECE_VESSEL, 0, 0, 5, form, SHERD_CLAY_DRY, &error);
      g_assert_no_error (error);
    }
}

static void
test_a_hole_takes_no_zone (void)
{
  const SherdHole hole = { 50, 10, 8 };
  const SherdZoneBox over = { 40, 60, 5, 25 }, beside = { 60, 80, 5, 25 };
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdForm) form = sherd_form_new ();
  SherdPiece *tile;
  SherdSide *face;

  sherd_form_set_holes (form, &hole, 1);
  tile = sherd_trial_add_piece (trial, "T", SHERD_PIECE_TILE, 100, 60, 8, form, SHERD_CLAY_DRY, NULL);
  face = sherd_piece_find_side_by_name (tile, "face");
  g_assert_null (sherd_trial_add_zone_box (trial, tile, face, "A1", &over, NULL));
  g_assert_nonnull (sherd_trial_add_zone_box (trial, tile, face, "A1", &beside, NULL));
}

static void
test_a_round_tile_has_no_corners (void)
{
  const SherdZoneBox corner = { 0, 20, 0, 20 }, middle = { 30, 50, 30, 50 };
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPiece *disc = sherd_trial_add_piece (trial, "D", SHERD_PIECE_DISC, 80, 80, 8, NULL, SHERD_CLAY_DRY, NULL);
  SherdSide *face = sherd_piece_find_side_by_name (disc, "face");

  g_assert_null (sherd_trial_add_zone_box (trial, disc, face, "A1", &corner, NULL));
  g_assert_nonnull (sherd_trial_add_zone_box (trial, disc, face, "A1", &middle, NULL));
  g_assert_null (sherd_trial_add_piece (trial, "O", SHERD_PIECE_DISC, 80, 60, 8, NULL, SHERD_CLAY_DRY, NULL));
  g_assert_false (sherd_trial_set_tile_size (trial, disc, 80, 60, 8, FALSE, NULL));
}

/* Such files come from other hands; they open, and nothing of them is lost. */
static void
test_faults_of_a_file_are_told_and_kept (void)
{
  static const char text[] =
    "{\"format\": \"sherdboard-trial\", \"version\": 1, \"title\": \"T\", \"seed\": 1, \"pieces\": [{\"id\": \"p\","
    "\"name\": \"Tile\", \"kind\": \"tile\", \"width_mm\": 100, \"height_mm\": 60, \"state\": \"dry\", \"sides\": ["
    "{\"id\": \"s\", \"name\": \"face\", \"zones\": ["
    "{\"id\": \"z1\", \"code\": \"A1\", \"x_mm\": 10, \"y_mm\": 10, \"width_mm\": 30, \"height_mm\": 20},"
    "{\"id\": \"z2\", \"code\": \"A2\", \"x_mm\": 35, \"y_mm\": 10, \"width_mm\": 30, \"height_mm\": 20},"
    "{\"id\": \"z3\", \"code\": \"A3\", \"x_mm\": 90, \"y_mm\": 10, \"width_mm\": 30, \"height_mm\": 20},"
    "{\"id\": \"z4\", \"code\": \"A4\", \"polygon_mm\": [[10, 40], [30, 55], [30, 40], [10, 55]]}]}]}]}";
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (text, strlen (text), "x", &error);
  SherdPiece *piece = NULL;
  SherdSide *face = NULL;
  g_autoptr (GArray) faults = NULL;
  g_autofree char *words = NULL;

  g_assert_no_error (error);
  piece = sherd_trial_find_piece (trial, "p");
  face = sherd_piece_find_side_by_name (piece, "face");
  faults = sherd_zone_faults_new (piece, face);
  g_assert_cmpuint (g_list_model_get_n_items (sherd_side_get_zones (face)), ==, 4);
  g_assert_cmpuint (faults->len, ==, 3);
  g_assert_cmpint (g_array_index (faults, SherdZoneFault, 0).kind, ==, SHERD_ZONING_OVERLAP);
  assert_near (g_array_index (faults, SherdZoneFault, 0).area_mm2, 5 * 20);
  g_assert_cmpint (g_array_index (faults, SherdZoneFault, 1).kind, ==, SHERD_ZONING_OUTSIDE);
  assert_near (g_array_index (faults, SherdZoneFault, 1).area_mm2, 20 * 20);
  g_assert_cmpint (g_array_index (faults, SherdZoneFault, 2).kind, ==, SHERD_ZONING_CROSSED);
  words = sherd_zone_fault_dup_words (&g_array_index (faults, SherdZoneFault, 0));
  g_assert_nonnull (strstr (words, "A1"));
  g_assert_nonnull (strstr (words, "A2"));
}

/* What is left is 95 of 100 mm in drying and 94 of 95 in firing. */
static void
test_a_scribed_bar_tells_the_shrinkage (Beaker *beaker, gconstpointer data)
{
  SherdClayShrinkage shrinkage = sherd_piece_get_shrinkage (beaker->piece);

  assert_near (shrinkage.drying.frac, sherd_shrinkage_unknown ().drying.frac);
  g_assert_true (sherd_trial_set_clay (beaker->trial, beaker->piece, "drying-pct", 6, FALSE, NULL));
  assert_near (sherd_piece_get_shrinkage (beaker->piece).drying.frac, 0.06);
  g_assert_true (sherd_trial_set_clay (beaker->trial, beaker->piece, "bar-leather-hard-mm", 100, FALSE, NULL));
  g_assert_true (sherd_trial_set_clay (beaker->trial, beaker->piece, "bar-dry-mm", 95, FALSE, NULL));
  g_assert_true (sherd_trial_set_clay (beaker->trial, beaker->piece, "bar-fired-mm", 94, FALSE, NULL));
  shrinkage = sherd_piece_get_shrinkage (beaker->piece);
  assert_near (shrinkage.drying.frac, 0.05);
  assert_near (shrinkage.firing.frac, 1.0 / 95.0);
  g_assert_false (sherd_trial_set_clay (beaker->trial, beaker->piece, "bar-dry-mm", 5, FALSE, NULL));
}

static void
test_what_was_weighed_is_kept_with_its_doubt (Beaker *beaker, gconstpointer data)
{
  double doubt_g;
  SherdZone *zone;

  lay_rings (beaker, 1, 6, 2);
  zone = zone_of (beaker, "A1");
  g_assert_true (isnan (sherd_zone_get_laid_g (zone, NULL)));
  g_assert_true (sherd_trial_set_laid (beaker->trial, zone, 0.8, 0.1, FALSE, NULL));
  g_assert_cmpfloat (sherd_zone_get_laid_g (zone, &doubt_g), ==, 0.8);
  g_assert_cmpfloat (doubt_g, ==, 0.1);
  g_assert_false (sherd_trial_set_laid (beaker->trial, zone, -1, 0.1, FALSE, NULL));
  sherd_trial_undo (beaker->trial);
  g_assert_true (isnan (sherd_zone_get_laid_g (zone, NULL)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define BEAKER(name, function)                                                                                         \
  g_test_add ("/trial/forms/" name, Beaker, NULL, beaker_set_up, function, beaker_tear_down)
  BEAKER ("a-vessel-measures-what-its-profile-says", test_a_vessel_measures_what_its_profile_says);
  BEAKER ("rings-without-gaps-share-the-wall", test_rings_without_gaps_share_the_wall);
  BEAKER ("gaps-are-as-wide-as-asked", test_gaps_are_as_wide_as_asked);
  BEAKER ("relaying-keeps-what-is-painted-where", test_relaying_keeps_what_is_painted_where);
  BEAKER ("zones-do-not-come-to-lie-on-one-another", test_zones_do_not_come_to_lie_on_one_another);
  BEAKER ("the-zero-mark-is-no-border", test_the_zero_mark_is_no_border);
  BEAKER ("splitting-and-joining-give-back-the-zone", test_splitting_and_joining_give_back_the_zone);
  BEAKER ("joining-over-another-zone-is-refused", test_joining_over_another_zone_is_refused);
  BEAKER ("the-border-of-a-whole-ring-moves-at-once", test_the_border_of_a_whole_ring_moves_at_once);
  BEAKER ("mirroring-twice-changes-nothing", test_mirroring_twice_changes_nothing);
  BEAKER ("a-side-is-copied-with-its-paints", test_a_side_is_copied_with_its_paints);
  BEAKER ("a-vessel-does-not-shrink-away-under-its-zones", test_a_vessel_does_not_shrink_away_under_its_zones);
  BEAKER ("rows-and-columns-do-not-fit-a-vessel", test_rows_and_columns_do_not_fit_a_vessel);
  BEAKER ("a-scribed-bar-tells-the-shrinkage", test_a_scribed_bar_tells_the_shrinkage);
  BEAKER ("what-was-weighed-is-kept-with-its-doubt", test_what_was_weighed_is_kept_with_its_doubt);
  BEAKER ("a-vessel-survives-saving", test_a_vessel_survives_saving);
#undef BEAKER
  g_test_add_func ("/trial/forms/every-preset-makes-a-piece", test_every_preset_makes_a_piece);
  g_test_add_func ("/trial/forms/a-hole-takes-no-zone", test_a_hole_takes_no_zone);
  g_test_add_func ("/trial/forms/a-round-tile-has-no-corners", test_a_round_tile_has_no_corners);
  g_test_add_func ("/trial/forms/faults-of-a-file-are-told-and-kept", test_faults_of_a_file_are_told_and_kept);
  return g_test_run ();
}
