/* SPDX-License-Identifier: GPL-3.0-or-later */
/* “sherd piece” as a potter types it. Areas and masses by closed formulas in the comments; the density of dry clay and
 * its doubt are those of shape/body.h. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "story.h"

typedef struct
{
  char *folder;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *made = NULL;

  fixture->folder = story_folder_new ();
  made = story_run_well (fixture->folder, "new t --tile 150x100x8 --zones 3x5");
}

static void
tear_down (Fixture *fixture, gconstpointer user_data)
{
  story_folder_remove (fixture->folder);
  g_free (fixture->folder);
}

/* (transfer none): the row of that piece and side */
static JsonObject *
find_side (JsonNode *document, const char *piece, const char *side)
{
  JsonArray *sides = json_object_get_array_member (json_node_get_object (document), "sides");

  for (guint i = 0; i < json_array_get_length (sides); i++)
    {
      JsonObject *row = json_array_get_object_element (sides, i);

      if (g_str_equal (json_object_get_string_member (row, "piece"), piece) &&
          g_str_equal (json_object_get_string_member (row, "side"), side))
        return row;
    }
  g_assert_not_reached ();
}

static JsonNode *
run_json (Fixture *fixture, const char *arguments)
{
  g_autofree char *out = story_run_well (fixture->folder, arguments);

  return story_parse (out);
}

/* 15 × 10 cm. */
static void
test_a_tile_is_listed_with_its_area (Fixture *fixture, gconstpointer user_data)
{
  g_autoptr (JsonNode) document = run_json (fixture, "piece t --json");
  JsonObject *face = find_side (document, "Tile 1", "face");

  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (face, "area_cm2"), 150.0, 1e-6);
  g_assert_cmpint (json_object_get_int_member (face, "zones"), ==, 15);
  g_assert_cmpstr (json_object_get_string_member (face, "kind"), ==, "tile");
}

/* A table of the profile, straight up: the outside is the mantle of a cylinder, 2 π 5 × 12 cm², but for the round lip,
 * which takes half the wall from its height on either side. */
static void
test_a_profile_is_read_from_a_table (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *path = g_build_filename (fixture->folder, "wall.csv", NULL);
  g_autoptr (JsonNode) document = NULL;
  JsonObject *outside;

  g_assert_true (g_file_set_contents (path, "r_mm,z_mm,corner\n50,0,1\n50,120,0\n", -1, NULL));
  document = run_json (fixture, "piece t --add vessel --name Beaker --profile wall.csv --wall 5 --json");
  outside = find_side (document, "Beaker", "outside");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (outside, "area_cm2"), 2 * G_PI * 5 * 12,
                                  0.03 * 2 * G_PI * 5 * 12);
  g_assert_cmpfloat (json_object_get_double_member (outside, "width_mm"), ==, 100.0);
  g_assert_cmpfloat (json_object_get_double_member (outside, "mass_g_u"), >, 0.0);
}

static void
test_a_dish_is_added_laid_out_and_kept (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *added =
    story_run_well (fixture->folder, "piece t --add dish --name Dish --rim 180 --rings 2x7 --side inside");
  G_GNUC_UNUSED g_autofree char *grounded =
    story_run_well (fixture->folder, "piece t --piece Dish --side outside --rings 1x5 --ground \"bare clay\"");
  g_autoptr (JsonNode) document = run_json (fixture, "piece t --json");

  g_assert_cmpint (json_object_get_int_member (find_side (document, "Dish", "inside"), "zones"), ==, 14);
  g_assert_cmpint (json_object_get_int_member (find_side (document, "Dish", "outside"), "zones"), ==, 5);
  g_assert_cmpstr (json_object_get_string_member (find_side (document, "Dish", "outside"), "ground"), ==, "bare clay");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (find_side (document, "Dish", "inside"), "width_mm"),
                                  180.0, 0.01);
}

static void
assert_refused (Fixture *fixture, const char *arguments, int status, const char *words)
{
  g_autofree char *before = story_run_well (fixture->folder, "piece t --csv");
  g_auto (Run) run = story_run (fixture->folder, arguments);
  g_autofree char *after = story_run_well (fixture->folder, "piece t --csv");

  g_assert_cmpint (run.status, ==, status);
  g_assert_nonnull (strstr (run.err, words));
  g_assert_cmpstr (before, ==, after);
}

static void
test_what_cannot_be_is_refused_and_changes_nothing (Fixture *fixture, gconstpointer user_data)
{
  assert_refused (fixture, "piece t --add urn", 2, "urn");
  assert_refused (fixture, "piece t --add tile", 2, "--size");
  assert_refused (fixture, "piece t --add vessel", 2, "--profile");
  assert_refused (fixture, "piece t --add jar --piece \"Tile 1\"", 2, "--add");
  assert_refused (fixture, "piece t --add bowl --rim -5 --height nan", 1, "");
  assert_refused (fixture, "piece t --add bowl --wall 500", 1, "");
  assert_refused (fixture, "piece t --add bowl --rings 90x900", 1, "");
  assert_refused (fixture, "piece t --add vessel --profile missing.csv", 1, "missing.csv");
  assert_refused (fixture, "piece t --piece \"Tile 1\" --rings 2x2", 1, "rows");
  assert_refused (fixture, "piece t --piece \"Tile 1\" --side inside --ground slip", 1, "inside");
  assert_refused (fixture, "piece t --from-to 1,2", 2, "--rings");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define TEST(name, function) g_test_add ("/batch/piece/" name, Fixture, NULL, set_up, function, tear_down)
  TEST ("a-tile-is-listed-with-its-area", test_a_tile_is_listed_with_its_area);
  TEST ("a-profile-is-read-from-a-table", test_a_profile_is_read_from_a_table);
  TEST ("a-dish-is-added-laid-out-and-kept", test_a_dish_is_added_laid_out_and_kept);
  TEST ("what-cannot-be-is-refused-and-changes-nothing", test_what_cannot_be_is_refused_and_changes_nothing);
#undef TEST
  return g_test_run ();
}
