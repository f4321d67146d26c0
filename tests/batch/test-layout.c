/* SPDX-License-Identifier: GPL-3.0-or-later */
/* “sherd layout” and “sherd blend” as a potter types them: what they print, what they keep, and that the same seed
 * gives the same layout. Expected values by hand. */
#include "config.h"

#include <string.h>

#include "story.h"

#define PAINTS "--paint HB=Black --paint OR=Ochre --paint \"CU=Copper green\" --paint LM=Lime"

typedef struct
{
  char *folder;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *made = NULL;

  fixture->folder = story_folder_new ();
  made = story_run_well (fixture->folder, "new t --tile 150x100x8 --zones 3x5 --ground \"red slip\" " PAINTS);
}

static void
tear_down (Fixture *fixture, gconstpointer user_data)
{
  story_folder_remove (fixture->folder);
  g_free (fixture->folder);
}

static JsonObject *
run_json (Fixture *fixture, const char *arguments, JsonNode **document)
{
  g_autofree char *out = story_run_well (fixture->folder, arguments);

  *document = story_parse (out);
  return json_node_get_object (*document);
}

static void
test_blocks_hold_every_paint_and_are_kept (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *laid = story_run_well (fixture->folder, "layout t --fill blocks --controls 3 --seed 11 --csv");
  g_autofree char *checked = story_run_well (fixture->folder, "check t");
  g_autoptr (JsonNode) document = NULL;
  JsonArray *zones;

  g_assert_true (g_str_has_prefix (laid, "piece,side,row,zone,paint,paint_name,replicate,ground,locked"));
  g_assert_nonnull (strstr (checked, "15 zones"));
  zones = json_object_get_array_member (
    run_json (fixture, "layout t --fill blocks --controls 3 --seed 11 --json", &document), "zones");
  for (guint row = 0; row < 3; row++)
    for (guint paint = 0; paint < 4; paint++)
      {
        static const char *const codes[] = { "HB", "OR", "CU", "LM" };
        guint n_found = 0;

        for (guint i = 5 * row; i < 5 * row + 5; i++)
          n_found += g_str_equal (json_object_get_string_member (json_array_get_object_element (zones, i), "paint"),
                                  codes[paint]);
        g_assert_cmpuint (n_found, ==, 1);
      }
}

static void
test_same_seed_same_layout (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *first = story_run_well (fixture->folder, "layout t --fill random --seed 4 --csv");
  g_autofree char *other = story_run_well (fixture->folder, "layout t --fill random --seed 5 --csv");
  g_autofree char *again = story_run_well (fixture->folder, "layout t --fill random --seed 4 --csv");
  g_autofree char *kept = story_run_well (fixture->folder, "layout t --fill random --csv");

  g_assert_cmpstr (first, ==, again);
  g_assert_cmpstr (first, ==, kept);
  g_assert_cmpstr (first, !=, other);
}

/* (nullable): the row that asks for @factor */
static JsonObject *
find_question (JsonObject *document, const char *factor)
{
  JsonArray *questions = json_object_get_array_member (document, "questions");

  for (guint i = 0; i < json_array_get_length (questions); i++)
    {
      JsonObject *question = json_array_get_object_element (questions, i);

      if (g_str_equal (json_object_get_string_member (question, "factor"), factor))
        return question;
    }
  return NULL;
}

static void
test_check_judges_what_fill_would_give_and_keeps_nothing (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *before = story_run_well (fixture->folder, "check t");
  g_autofree char *after = NULL;
  g_autoptr (JsonNode) document = NULL;
  JsonObject *check = run_json (fixture, "layout t --fill blocks --seed 2 --check --json --shift 3", &document);
  JsonObject *replicates = json_object_get_object_member (check, "replicates_for");

  g_assert_cmpstr (json_object_get_string_member (check, "format"), ==, "sherd-layout-check");
  g_assert_cmpstr (json_object_get_string_member (find_question (check, "paint"), "tell"), ==, "well");
  g_assert_cmpstr (json_object_get_string_member (find_question (check, "ground"), "tell"), ==, "same");
  g_assert_cmpint (json_object_get_int_member (replicates, "replicates_laid"), ==, 3);
  g_assert_cmpfloat (json_object_get_double_member (replicates, "shift_de00"), ==, 3.0);
  after = story_run_well (fixture->folder, "check t");
  g_assert_cmpstr (before, ==, after);
}

/* One paint a row, in order: rows from top to bottom go with the paints. */
static void
test_paints_in_rows_are_found_out (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *made = story_run_well (
    fixture->folder,
    "new r --tile 150x100x8 --zones 2x4 --paint HB=Black --paint OR=Ochre --fill HB,HB,HB,HB,OR,OR,OR,OR");
  g_autoptr (JsonNode) document = NULL;
  JsonObject *check = run_json (fixture, "layout r --check --json", &document);
  JsonObject *paint = find_question (check, "paint");
  g_autofree char *text = story_run_well (fixture->folder, "layout r --check");

  g_assert_cmpstr (json_object_get_string_member (paint, "tell"), ==, "not");
  g_assert_cmpstr (json_object_get_string_member (paint, "told_from"), ==, "down");
  g_assert_nonnull (strstr (json_object_get_string_member (paint, "remedy"), "Swap"));
  g_assert_nonnull (strstr (text, "paint: cannot be told from place from top to bottom\n    Swap the paints of "));
}

static void
test_blend_makes_paints_that_layout_lays (Fixture *fixture, gconstpointer user_data)
{
  g_autoptr (JsonNode) document = NULL;
  JsonObject *blend = run_json (fixture, "blend t HB OR CU --steps 2 --total 10 --json", &document);
  JsonArray *rows = json_object_get_array_member (blend, "blend");
  JsonObject *half = json_array_get_object_element (rows, 1);
  g_autofree char *laid = NULL;

  g_assert_cmpuint (json_array_get_length (rows), ==, 6);
  g_assert_cmpstr (json_object_get_string_member (half, "paint"), ==, "HOC1");
  g_assert_cmpfloat (json_object_get_double_member (half, "share_1_pct"), ==, 50.0);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (half, "weigh_2_g"), 5.0, 1e-9);
  laid =
    story_run_well (fixture->folder, "layout t --fill order --paints HB,HOC1,HOC2,OR,HOC3,CU --replicates 2 --csv");
  g_assert_nonnull (strstr (laid, "HOC3"));
}

static void
test_dry_run_changes_nothing (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *blended = story_run_well (fixture->folder, "blend t HB OR --at 2,5,10 --dry-run");
  g_auto (Run) run = story_run (fixture->folder, "layout t --fill order --paints HO1");

  g_assert_nonnull (strstr (blended, "HB 98 %, OR 2 %"));
  g_assert_cmpint (run.status, ==, 1);
}

/* The examples that --help shows, on the demo. */
static void
test_examples_run_on_the_demo (Fixture *fixture, gconstpointer user_data)
{
  static const char *const verbs[] = { "layout", "blend" };

  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_autofree char *ask = g_strconcat (verbs[i], " --help", NULL);
      g_autofree char *help = story_run_well (fixture->folder, ask);
      const char *example = strstr (help, "demo.sherdboard");
      g_autofree char *demo = g_build_filename (g_getenv ("SHERD_DATA_DIR"), "demo", "demo.sherdboard", NULL);
      g_auto (GStrv) parts = NULL;
      g_autofree char *arguments = NULL;
      g_autofree char *printed = NULL;

      g_assert_nonnull (example);
      parts = g_strsplit (example, "\n", 2);
      arguments = g_strdup_printf ("%s %s%s", verbs[i], demo, parts[0] + strlen ("demo.sherdboard"));
      printed = story_run_well (fixture->folder, arguments);
      g_assert_cmpstr (printed, !=, "");
    }
}

#define ADD(name, function) g_test_add ("/batch/layout/" name, Fixture, NULL, set_up, function, tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("blocks-hold-every-paint-and-are-kept", test_blocks_hold_every_paint_and_are_kept);
  ADD ("same-seed-same-layout", test_same_seed_same_layout);
  ADD ("check-judges-what-fill-would-give-and-keeps-nothing", test_check_judges_what_fill_would_give_and_keeps_nothing);
  ADD ("paints-in-rows-are-found-out", test_paints_in_rows_are_found_out);
  ADD ("blend-makes-paints-that-layout-lays", test_blend_makes_paints_that_layout_lays);
  ADD ("examples-run-on-the-demo", test_examples_run_on_the_demo);
  ADD ("dry-run-changes-nothing", test_dry_run_changes_nothing);
  return g_test_run ();
}
