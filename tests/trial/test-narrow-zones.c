/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Widths are worked out by hand: a tile of 100 mm with n columns and no gaps has zones 100/n mm wide; a ring on a
 * cylinder of radius 50 mm has sectors of 314.16/n mm. */
#include "config.h"

#include <string.h>

#include "trial/edits.h"
#include "trial/form-edits.h"
#include "trial/narrow-zones.h"
#include "trial/zone-shape-edits.h"

static char *
words_for_columns (guint n_columns)
{
  const SherdGrid grid = { .n_rows = 1, .n_columns = n_columns };
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPiece *tile = sherd_trial_add_tile (trial, "Tile", 100.0, 50.0, 8.0, SHERD_CLAY_DRY, NULL);
  SherdSide *face = sherd_piece_find_side_by_name (tile, "face");

  g_assert_true (sherd_trial_set_zone_grid (trial, tile, face, &grid, NULL));
  return sherd_narrow_zones_dup_words (tile, face);
}

static void
test_wide_zones_are_not_told (void)
{
  g_assert_null (words_for_columns (12)); /* 8.33 mm */
}

static void
test_narrow_zones_are_told_by_code (void)
{
  g_autofree char *words = words_for_columns (13); /* 7.69 mm */

  g_assert_nonnull (words);
  g_assert_nonnull (strstr (words, "8 mm"));
  g_assert_true (g_str_has_suffix (words, "A1, A2, A3, A4, A5, A6, …"));
}

static char *
words_for_sectors (guint n_sectors)
{
  const SherdProfilePoint wall[] = { { 50, 0, TRUE }, { 50, 100, FALSE } };
  const SherdRingGrid grid = { .n_rings = 1, .n_sectors = n_sectors, .whole = { 0, 360, 10, 90 } };
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  g_autoptr (SherdForm) form = sherd_form_new ();
  SherdPiece *cylinder;
  SherdSide *outside;

  sherd_form_set_outside (form, wall, G_N_ELEMENTS (wall));
  cylinder = sherd_trial_add_piece (trial, "Cylinder", SHERD_PIECE_VESSEL, 0, 0, 5, form, SHERD_CLAY_DRY, NULL);
  outside = sherd_piece_find_side_by_name (cylinder, "outside");
  g_assert_true (sherd_trial_set_ring_grid (trial, cylinder, outside, &grid, NULL));
  return sherd_narrow_zones_dup_words (cylinder, outside);
}

static void
test_sectors_are_measured_along_the_wall (void)
{
  g_autofree char *narrow = words_for_sectors (40); /* 7.85 mm */

  g_assert_null (words_for_sectors (38)); /* 8.27 mm */
  g_assert_nonnull (narrow);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trial/narrow-zones/wide zones are not told", test_wide_zones_are_not_told);
  g_test_add_func ("/trial/narrow-zones/narrow zones are told by code", test_narrow_zones_are_told_by_code);
  g_test_add_func ("/trial/narrow-zones/sectors are measured along the wall", test_sectors_are_measured_along_the_wall);
  return g_test_run ();
}
