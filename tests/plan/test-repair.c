/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Expected repairs by hand: which exchange joins what was parted. */

#include "config.h"

#include "plan/repair.h"

#include <math.h>
#include <string.h>

/* @paints and @sides: a letter a zone; @locked: "x" for a locked one. */
static SherdLayout *
layout_new (const char *paints, const char *sides, const char *locked)
{
  const guint n_zones = (guint)strlen (paints);
  SherdLayout *layout = sherd_layout_new (n_zones);
  g_auto (GStrv) letters = g_new0 (char *, 2 * n_zones + 1);

  for (guint zone = 0; zone < n_zones; zone++)
    {
      g_autofree char *name = g_strdup_printf ("Z%u", zone + 1);

      letters[zone] = g_strndup (&paints[zone], 1);
      letters[n_zones + zone] = g_strndup (&sides[zone], 1);
      sherd_layout_name_zone (layout, zone, name, locked != NULL && locked[zone] == 'x');
    }
  sherd_layout_add_levels (layout, "paint", "paint", SHERD_ROLE_PAINT, (const char *const *)letters);
  sherd_layout_add_levels (layout, "side", "side", SHERD_ROLE_PLACE, (const char *const *)letters + n_zones);
  return layout;
}

static SherdRepair
find (const SherdLayout *layout, guint factor)
{
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);
  SherdRepair repair = sherd_repair_find (layout, design, factor, 1);
  g_autofree char *words = sherd_repair_describe (layout, &repair);

  g_test_message ("%s", words);
  return repair;
}

/* A, B inside, C, D outside: changing one of each joins them. */
static void
test_swap_joins_parted_paints (void)
{
  const char *paints = "ABABABCDCDCD", *sides = "iiiiiioooooo";
  g_autoptr (SherdLayout) layout = layout_new (paints, sides, NULL);
  const SherdRepair repair = find (layout, 1);

  g_assert_cmpint (repair.kind, ==, SHERD_REPAIR_SWAP);
  g_assert_cmpint (sides[repair.first], !=, sides[repair.second]);
  g_assert_cmpint (repair.tell, >=, SHERD_TELL_WEAKLY);
  g_assert_true (isfinite (repair.loss));
}

static void
test_repair_keeps_its_word (void)
{
  g_autoptr (SherdLayout) layout = layout_new ("ABABABCDCDCD", "iiiiiioooooo", NULL);
  const SherdRepair repair = find (layout, 1);
  char paints[] = "ABABABCDCDCD";
  const char kept = paints[repair.first];
  g_autoptr (SherdLayout) repaired = NULL;
  g_autoptr (SherdDesign) design = NULL;

  paints[repair.first] = paints[repair.second];
  paints[repair.second] = kept;
  repaired = layout_new (paints, "iiiiiioooooo", NULL);
  design = sherd_design_new (repaired, FALSE);
  g_assert_cmpint (design->verdicts[1].tell, ==, repair.tell);
  g_assert_cmpfloat_with_epsilon (design->verdicts[1].loss, repair.loss, 1e-9);
}

/* Nothing may be moved, so a zone is added: of a paint of the one side, on the other. */
static void
test_locked_zones_need_a_zone_more (void)
{
  const char *sides = "iiiiiioooooo";
  g_autoptr (SherdLayout) layout = layout_new ("ABABABCDCDCD", sides, "xxxxxxxxxxxx");
  const SherdRepair repair = find (layout, 1);

  g_assert_cmpint (repair.kind, ==, SHERD_REPAIR_ADD_ZONE);
  g_assert_cmpint (sides[repair.first], !=, sides[repair.second]);
}

static void
test_what_can_be_told_needs_nothing (void)
{
  g_autoptr (SherdLayout) layout = layout_new ("ABCDABCDABCD", "iiiioooooiii", NULL);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, FALSE);
  const SherdRepair repair = sherd_repair_find (layout, design, 0, 1);

  g_assert_cmpint (design->verdicts[0].tell, ==, SHERD_TELL_WELL);
  g_assert_cmpint (repair.kind, ==, SHERD_REPAIR_NONE);
  g_assert_null (sherd_repair_describe (layout, &repair));
}

static void
test_too_few_pieces_ask_for_one (void)
{
  static const char *const pieces[] = { "P", "P", "P", "Q", "Q", "Q" };
  const double firing[] = { 1, 1, 1, 2, 2, 2 };
  g_autoptr (SherdLayout) layout = sherd_layout_new (6);

  sherd_layout_add_levels (layout, "piece", "piece", SHERD_ROLE_PIECE, pieces);
  sherd_layout_add_numbers (layout, "firing", "firing", SHERD_ROLE_PLACE, firing);
  g_assert_cmpint (find (layout, 1).kind, ==, SHERD_REPAIR_ADD_PIECE);
}

/* A thousand zones, all in the same trouble: an answer, and the same one again. */
static void
test_large_layout_is_answered (void)
{
  g_autofree char *paints = g_strnfill (1000, 'A'), *sides = g_strnfill (1000, 'i');
  g_autoptr (SherdLayout) layout = NULL;
  g_autofree double *heights = g_new (double, 1000);
  SherdRepair repair, again;

  for (guint zone = 0; zone < 1000; zone++)
    {
      paints[zone] = (char)('A' + zone % 5 + (zone >= 500 ? 5 : 0));
      sides[zone] = zone >= 500 ? 'o' : 'i';
      heights[zone] = zone % 37;
    }
  layout = layout_new (paints, sides, NULL);
  sherd_layout_add_numbers (layout, "height", "height", SHERD_ROLE_PLACE, heights);
  repair = find (layout, 1);
  again = find (layout, 1);
  g_assert_cmpint (repair.kind, ==, SHERD_REPAIR_SWAP);
  g_assert_cmpuint (repair.first, ==, again.first);
  g_assert_cmpuint (repair.second, ==, again.second);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/repair/swap-joins-parted-paints", test_swap_joins_parted_paints);
  g_test_add_func ("/plan/repair/repair-keeps-its-word", test_repair_keeps_its_word);
  g_test_add_func ("/plan/repair/locked-zones-need-a-zone-more", test_locked_zones_need_a_zone_more);
  g_test_add_func ("/plan/repair/what-can-be-told-needs-nothing", test_what_can_be_told_needs_nothing);
  g_test_add_func ("/plan/repair/too-few-pieces-ask-for-one", test_too_few_pieces_ask_for_one);
  g_test_add_func ("/plan/repair/large-layout-is-answered", test_large_layout_is_answered);
  return g_test_run ();
}
