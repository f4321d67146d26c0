/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A script plans paints without the window. Worked values: 8.0 parts of malachite (density 4.0) and 2.6 of kaolinite
 * (2.6) by mass; 40 cm² with two coats of 0.05 mm and half of it grains are
 * 0.2 cm³ of grains. Oxides from standard atomic weights (IUPAC 2021). */
#include "config.h"

#include <string.h>

#include "story.h"

#define GREEN "paint t GR --part Malachite=8 --part kaolinite=2.6 --by mass"

static char *
new_trial (void)
{
  char *folder = story_folder_new ();
  G_GNUC_UNUSED g_autofree char *made =
    story_run_well (folder, "new t --tile 90x60x8 --zones 1x3 --paint \"GR=green\" --fill GR,-");

  return folder;
}

static JsonObject *
only_row (JsonObject *document, const char *member)
{
  return json_array_get_object_element (json_object_get_array_member (document, member), 0);
}

static void
test_a_recipe_is_made_and_weighed (void)
{
  g_autofree char *folder = new_trial ();
  g_autofree char *out = story_run_well (folder, GREEN " --area 40cm2 --coats 2 --thickness 50um --round 0.01g --json");
  g_autoptr (JsonNode) root = story_parse (out);
  JsonObject *document = json_node_get_object (root);
  JsonObject *summary = only_row (document, "summary");
  JsonObject *malachite = only_row (document, "ingredients");
  const double density = 10.6 / (8.0 / 4.0 + 2.6 / 2.6);

  g_assert_cmpstr (json_object_get_string_member (summary, "paint"), ==, "GR");
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (malachite, "mass_pct"), 800.0 / 10.6, 0.05);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (summary, "particle_density_g_cm3"), density, 0.02);
  g_assert_cmpfloat_with_epsilon (json_object_get_double_member (summary, "batch_g"), 0.2 * density, 0.02);
  g_assert_cmpfloat (json_object_get_double_member (malachite, "weighed_g"), >, 0.0);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (document, "oxides")), ==, 3);
  g_assert_cmpuint (json_array_get_length (json_object_get_array_member (document, "remarks")), >=, 3);
  story_folder_remove (folder);
}

static void
test_the_ways_to_say_how_much (void)
{
  static const char *const ways[] = {
    "paint t GR --batch 50g",
    "paint t GR --batch 0.05kg --round 1/10",
    "paint t GR --have malachite=12g",
    "paint t GR --area zones --thickness 0.1mm --reserve 20%",
    "paint t GR --area zones --piece \"Tile 1\" --thickness 0.1",
    "paint t GR --peak 1436F --minutes 30",
  };
  g_autofree char *folder = new_trial ();
  G_GNUC_UNUSED g_autofree char *made = story_run_well (folder, GREEN);

  for (gsize i = 0; i < G_N_ELEMENTS (ways); i++)
    {
      g_autofree char *out = story_run_well (folder, ways[i]);

      g_assert_nonnull (strstr (out, "Malachite"));
      g_assert_null (strstr (out, "nan"));
    }
  story_folder_remove (folder);
}

static void
test_paints_are_added_within_paints (void)
{
  g_autofree char *folder = new_trial ();
  G_GNUC_UNUSED g_autofree char *green = story_run_well (folder, GREEN " --binder gum-arabic=3% --water 60%");
  g_autofree char *pale =
    story_run_well (folder, "paint t --add \"PL=pale green\" --slip --part GR=1 --part quartz=1/2 --batch 20g");
  g_autofree char *list = story_run_well (folder, "paint t --json");
  g_autoptr (JsonNode) root = story_parse (list);
  JsonArray *paints = json_object_get_array_member (json_node_get_object (root), "paints");
  JsonObject *added = json_array_get_object_element (paints, 1);

  g_assert_nonnull (strstr (pale, "1/2"));
  g_assert_cmpstr (json_object_get_string_member (added, "kind"), ==, "slip");
  g_assert_cmpfloat (json_object_get_double_member (added, "batch_g"), ==, 20.0);
  g_assert_nonnull (strstr (json_object_get_string_member (added, "hazards"), "copper"));
  story_folder_remove (folder);
}

static void
test_lists_go_out_and_in (void)
{
  g_autofree char *folder = new_trial ();
  G_GNUC_UNUSED g_autofree char *green = story_run_well (folder, GREEN);
  g_autofree char *materials = story_run_well (folder, "paint t --export materials");
  g_autofree char *paints = story_run_well (folder, "paint t --export paints");
  g_autofree char *materials_file = g_build_filename (folder, "m.csv", NULL);
  g_autofree char *paints_file = g_build_filename (folder, "p.csv", NULL);
  G_GNUC_UNUSED g_autofree char *fresh = story_run_well (folder, "new u");
  g_autofree char *tried = NULL;
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;
  g_autofree char *again = NULL;

  g_assert_true (g_file_set_contents (materials_file, materials, -1, NULL));
  g_assert_true (g_file_set_contents (paints_file, paints, -1, NULL));
  tried = story_run_well (folder, "paint u --import m.csv --dry-run");
  g_assert_nonnull (strstr (tried, "adds"));
  first = story_run_well (folder, "paint u --import m.csv");
  g_assert_cmpstr (tried, ==, first);
  second = story_run_well (folder, "paint u --import p.csv");
  again = story_run_well (folder, "paint u --export paints");
  g_assert_cmpstr (paints, ==, again);
  story_folder_remove (folder);
}

static void
test_a_list_with_faults_changes_nothing_unless_told (void)
{
  g_autofree char *folder = new_trial ();
  g_autofree char *file = g_build_filename (folder, "m.csv", NULL);
  g_autofree char *before = story_run_well (folder, "paint t --export materials");
  g_autofree char *after = NULL;
  g_autofree char *skipped = NULL;
  g_auto (Run) run = { 0 };

  g_assert_true (g_file_set_contents (file, "name,formula\nGood,SiO2\nBad,Sx\n", -1, NULL));
  run = story_run (folder, "paint t --import m.csv");
  g_assert_cmpint (run.status, ==, 1);
  g_assert_nonnull (strstr (run.out, "cannot"));
  g_assert_nonnull (strstr (run.err, "m.csv"));
  g_assert_nonnull (strstr (run.err, "--skip"));
  after = story_run_well (folder, "paint t --export materials");
  g_assert_cmpstr (before, ==, after);
  skipped = story_run_well (folder, "paint t --import m.csv --skip");
  g_assert_nonnull (strstr (skipped, "adds"));
  story_folder_remove (folder);
}

typedef struct
{
  const char *arguments;
  int status;
  const char *words[2]; /* of the message */
} Refusal;

static const Refusal refusals[] = {
  { "paint", 2, { "FILE" } },
  { "paint t XX", 1, { "“XX”", "sherd paint FILE" } },
  { "paint t GR --batch 0g", 1, { "GR" } },
  { "paint t GR --batch much", 2, { "--batch", "50g" } },
  { "paint t GR --batch 5g --have malachite=1g", 2, { "--batch", "--have" } },
  { "paint t GR --area 40cm2", 2, { "--thickness" } },
  { "paint t GR --coats 2", 2, { "--area" } },
  { "paint t GR --area zones --coats 2 --thickness 0.1", 2, { "--coats" } },
  { "paint t GR --area zones --piece Jar --thickness 0.1", 1, { "“Jar”" } },
  { "paint t GR --area 0cm2 --thickness 0.1", 1, { "GR" } },
  { "paint t GR --have quartz=1g", 1, { "“quartz”" } },
  { "paint t GR --revision 7", 1, { "7" } },
  { "paint t GR --peak warm", 2, { "--peak", "780C" } },
  { "paint t GR --minutes 5", 2, { "--peak" } },
  { "paint t GR --peak 780C --minutes -4", 1, { "above 0" } },
  { "paint t GR --peak 780C --minutes 1e300", 1, { "minutes" } },
  { "paint t GR --peak=-500C", 1, { "100 to 1600" } },
  { "paint t GR --peak 99999C", 1, { "100 to 1600" } },
  { "paint t GR --area 40cm2 --thickness 0.1 --coats -3", 1, { "coats" } },
  { "paint t GR --area 40cm2 --thickness 0.1 --coats 0", 1, { "coats" } },
  { "paint t --batch 5g", 2, { "code" } },
  { "paint t GR --part Moonstone=1", 1, { "“Moonstone”" } },
  { "paint t GR --part \"gum=1\"", 1, { "Gum arabic" } },
  { "paint t GR --part Malachite=0", 1, { "more than 0" } },
  { "paint t GR --part Malachite=some", 1, { "“some”" } },
  { "paint t GR --part GR=1", 1, { "GR", "itself" } },
  { "paint t GR --by spoon", 2, { "--by" } },
  { "paint t --add GR=again", 1, { "“GR”" } },
  { "paint t --add X=new GR", 2, { "--add" } },
  { "paint t GR --remove", 1, { "“GR”" } },
  { "paint t --import none.csv", 1, { "none.csv" } },
  { "paint t --dry-run", 2, { "--import" } },
  { "paint t --export everything", 2, { "materials" } },
  { "paint t --csv --json", 2, { "--csv" } },
};

static void
test_refusals (void)
{
  g_autofree char *folder = new_trial ();
  G_GNUC_UNUSED g_autofree char *green = story_run_well (folder, GREEN);
  g_autofree char *before = story_run_well (folder, "paint t --json");
  g_autofree char *after = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_auto (Run) run = story_run (folder, refusals[i].arguments);

      g_test_message ("%s: %s", refusals[i].arguments, run.err);
      g_assert_cmpint (run.status, ==, refusals[i].status);
      g_assert_cmpstr (run.out, ==, "");
      for (guint word = 0; word < 2 && refusals[i].words[word] != NULL; word++)
        g_assert_nonnull (strstr (run.err, refusals[i].words[word]));
    }
  after = story_run_well (folder, "paint t --json");
  g_assert_cmpstr (before, ==, after);
  story_folder_remove (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/batch/paint/a-recipe-is-made-and-weighed", test_a_recipe_is_made_and_weighed);
  g_test_add_func ("/batch/paint/the-ways-to-say-how-much", test_the_ways_to_say_how_much);
  g_test_add_func ("/batch/paint/paints-are-added-within-paints", test_paints_are_added_within_paints);
  g_test_add_func ("/batch/paint/lists-go-out-and-in", test_lists_go_out_and_in);
  g_test_add_func ("/batch/paint/a-list-with-faults-changes-nothing-unless-told",
                   test_a_list_with_faults_changes_nothing_unless_told);
  g_test_add_func ("/batch/paint/refusals", test_refusals);
  return g_test_run ();
}
