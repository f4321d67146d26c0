/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the command line program must refuse: with which exit status, and which words its message must have so that the
 * user finds the file, the place and the remedy. The statuses are those of its --help: 1 a file or its content is
 * wrong, 2 the command line is wrong. */
#include "config.h"

#include <string.h>

#include "story.h"

/* One trial has a tile of three zones, one nothing; beside them lie pictures good and broken. */
#define GREY_SIDE_PX 64

typedef struct
{
  char *folder;
} Fixture;

static void
write_file (const char *folder, const char *name, const char *text)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autoptr (GError) error = NULL;

  g_file_set_contents (path, text, -1, &error);
  g_assert_no_error (error);
}

/* A sound chart of four greys. */
static const char greys[] = "CGATS.17\n"
                            "NUMBER_OF_FIELDS 4\n"
                            "BEGIN_DATA_FORMAT\n"
                            "SAMPLE_ID LAB_L LAB_A LAB_B\n"
                            "END_DATA_FORMAT\n"
                            "NUMBER_OF_SETS 4\n"
                            "BEGIN_DATA\n"
                            "A1 95 0 0\nA2 70 0 0\nA3 45 0 0\nA4 20 0 0\n"
                            "END_DATA\n";

static void
set_up (Fixture *fixture, gconstpointer user_data)
{
  g_autofree guint8 *grey = g_malloc (3 * GREY_SIDE_PX * GREY_SIDE_PX);
  g_autofree char *picture = NULL;
  g_autofree char *made = NULL;
  g_autofree char *empty = NULL;
  g_autofree char *paints = NULL;

  fixture->folder = story_folder_new ();
  memset (grey, 120, 3 * GREY_SIDE_PX * GREY_SIDE_PX);
  picture = g_build_filename (fixture->folder, "grey.png", NULL);
  story_write_png (picture, grey, GREY_SIDE_PX, GREY_SIDE_PX);
  write_file (fixture->folder, "broken.png", "\x89PNG\r\n\x1a\nand no more");
  write_file (fixture->folder, "broken.sherdboard", "{ \"format\": \"sherdboard-trial\", \"version\": }");
  write_file (fixture->folder, "chart.txt", "not a chart\n");
  write_file (fixture->folder, "greys.txt", greys);
  made = story_run_well (fixture->folder, "new t --tile 90x60x8 --zones 1x3 --paint \"HB=Hearth black\" --fill HB,-");
  empty = story_run_well (fixture->folder, "new empty");
  paints = story_run_well (fixture->folder, "new u --paint \"HB=Hearth black\" --paint OR=Ochre");
}

static void
tear_down (Fixture *fixture, gconstpointer user_data)
{
  story_folder_remove (fixture->folder);
  g_free (fixture->folder);
}

#define CORNERS "\"1,1 60,1 60,60 1,60\""

typedef struct
{
  const char *name;
  const char *arguments;
  int status;
  const char *words[3]; /* of the message */
} Refusal;

static const Refusal refusals[] = {
  { "no-verb", "", 2, { "verb", "sherd --help" } },
  { "unknown-verb", "bake t", 2, { "“bake”", "sherd --help" } },
  { "no-operand", "check", 2, { "sherd check", "FILE", "sherd check --help" } },
  { "too-many-operands", "check t u", 2, { "Too many", "FILE" } },
  { "no-picture-operand", "photograph t", 2, { "FILE PICTURE" } },
  { "unknown-option", "measure t --loud", 2, { "--loud", "sherd measure --help" } },
  { "tile-is-no-size", "new n --tile 150", 2, { "“150”", "--tile", "150x100" } },
  { "tile-has-letters", "new n --tile 1axb", 2, { "“1axb”", "--tile" } },
  { "tile-below-zero", "new n --tile -5x100", 1, { "-5 × 100", "5 to 2000 mm" } },
  { "zones-are-halved", "new n --tile 90x60 --zones 1.5x3", 2, { "“1.5x3”", "--zones", "3x4" } },
  { "zones-below-zero", "new n --tile 90x60 --zones -1x3", 2, { "“-1x3”", "--zones", "3x4" } },
  { "zones-without-tile", "new n --zones 3x4", 2, { "--tile" } },
  { "margin-without-grid", "new n --tile 90x60 --margin 3", 2, { "--margin", "--zones" } },
  { "fill-without-zones", "new n --tile 90x60 --fill -", 2, { "--fill", "--zones" } },
  { "fill-names-more-paints-than-zones",
    "new n --tile 90x60 --zones 1x3 --fill A,B,A,B",
    2,
    { "--fill", "4", "3 zones" } },
  { "fill-has-a-gap", "new n --tile 90x60 --zones 1x3 --fill A,,B", 2, { "“A,,B”", "--fill", "HB,-" } },
  { "fill-is-empty", "new n --tile 90x60 --zones 1x3 --fill ''", 2, { "“”", "--fill", "HB,-" } },
  { "title-is-not-utf-8", "new n --title spring\xff", 2, { "“spring", "UTF-8", "locale" } },
  { "empty-operand", "check ''", 2, { "names no file", "FILE" } },
  { "new-trial-is-a-folder", "new .", 1, { "“.”", "folder", ".sherdboard" } },
  { "new-trial-ends-in-a-folder", "new nowhere/", 1, { "“nowhere/”", "folder" } },
  { "margin-eats-the-tile", "new n --tile 90x60 --zones 1x3 --margin 50", 1, { "fewer columns" } },
  { "state-is-unknown", "new n --tile 90x60 --state wet", 2, { "“wet”", "--state", "leather-hard" } },
  { "paint-without-name", "new n --paint HB", 2, { "“HB”", "--paint" } },
  { "paint-twice", "new n --paint A=x --paint A=y", 1, { "A" } },
  { "zone-is-no-rectangle", "new n --tile 90x60 --zone A1=1,2,3", 2, { "--zone" } },
  { "zone-off-the-tile", "new n --tile 90x60 --zone A1=80,0,20,20", 1, { "--zone A1=80,0,20,20" } },
  { "trial-exists", "new t", 1, { "“t.sherdboard”", "--force" } },
  { "folder-is-missing", "new nowhere/n", 1, { "nowhere" } },
  { "trial-is-missing", "check gone", 1, { "gone" } },
  { "trial-is-broken", "check broken", 1, { "broken.sherdboard", "1" } },
  { "trial-is-another-text", "check chart.txt", 1, { "chart.txt", "no trial" } },
  { "trial-is-a-folder", "check .", 1, { "not a file" } },
  { "picture-is-missing", "photograph t gone.png", 1, { "gone.png" } },
  { "picture-is-broken", "photograph t broken.png", 1, { "broken.png" } },
  { "picture-is-no-picture", "photograph t chart.txt", 1, { "chart.txt" } },
  { "stage-is-unknown", "photograph t grey.png --stage soon", 1, { "“soon”", "after firing" } },
  { "piece-is-unknown", "photograph t grey.png --piece Bowl", 1, { "“Bowl”", "sherd check" } },
  { "side-is-unknown", "photograph t grey.png --side top", 1, { "“top”" } },
  { "no-piece", "photograph empty grey.png", 1, { "no piece" } },
  { "three-corners", "photograph t grey.png --corners \"1,1 60,1 60,60\"", 2, { "--corners", "four points" } },
  { "mark-is-no-mark", "photograph t grey.png --mark 1,1", 2, { "--mark" } },
  { "doubt-below-zero", "photograph t grey.png --mark-doubt -1", 2, { "--mark-doubt" } },
  { "doubt-is-no-number", "photograph t grey.png --mark-doubt much", 2, { "“much”", "--mark-doubt" } },
  { "chart-without-corners", "photograph t grey.png --chart chart.txt --chart-grid 4x6", 2, { "--chart-corners" } },
  { "chart-without-grid", "photograph t grey.png --chart chart.txt --chart-corners " CORNERS, 2, { "--chart-grid" } },
  { "chart-grid-without-chart", "photograph t grey.png --chart-grid 4x6", 2, { "--chart" } },
  { "chart-frame-alone",
    "photograph t grey.png --chart chart.txt --chart-grid 4x6 --chart-frame 9x9 --chart-corners " CORNERS,
    2,
    { "--chart-margin", "--chart-patch" } },
  { "chart-marks-are-unknown",
    "photograph t grey.png --chart chart.txt --chart-grid 4x6 --chart-marks rim --chart-corners " CORNERS,
    2,
    { "--chart-marks", "centres" } },
  { "chart-is-missing",
    "photograph t grey.png --chart gone.txt --chart-grid 4x6 --chart-corners " CORNERS,
    1,
    { "gone.txt" } },
  { "chart-is-no-chart",
    "photograph t grey.png --chart chart.txt --chart-grid 4x6 --chart-corners " CORNERS,
    1,
    { "chart.txt" } },
  { "chart-has-other-rows",
    "photograph t grey.png --chart greys.txt --chart-grid 1x3 --chart-corners " CORNERS,
    1,
    { "4 patches", "1 rows", "3 columns" } },
  { "chart-and-card",
    "photograph t grey.png --chart chart.txt --grey-card 50,0,0 --card-corners " CORNERS,
    2,
    { "--chart", "--grey-card" } },
  { "card-without-corners", "photograph t grey.png --grey-card 50,0,0", 2, { "--card-corners" } },
  { "card-corners-without-card", "photograph t grey.png --card-corners " CORNERS, 2, { "--grey-card" } },
  { "card-is-no-colour", "photograph t grey.png --grey-card 50 --card-corners " CORNERS, 2, { "“50”", "50,0,0" } },
  { "layout-without-aim", "layout t", 2, { "--fill", "--check" } },
  { "codes-of-a-side", "layout t --codes --side face", 2, { "--codes", "--side" } },
  { "fill-is-unknown", "layout t --fill zigzag", 2, { "“zigzag”", "--fill", "blocks" } },
  { "block-is-unknown", "layout t --fill blocks --block tile", 2, { "“tile”", "--block", "row" } },
  { "block-without-blocks", "layout t --fill random --block row", 2, { "--block", "--fill blocks" } },
  { "replicates-without-fill", "layout t --check --replicates 2", 2, { "--fill" } },
  { "replicates-below-zero", "layout t --fill order --replicates -1", 2, { "0 or more" } },
  { "seed-below-zero", "layout t --fill random --seed -1", 2, { "--seed", "whole number" } },
  { "shift-is-nothing", "layout t --check --shift 0", 2, { "--shift" } },
  { "two-forms-of-layout", "layout t --check --csv --json", 2, { "--csv", "--json" } },
  { "layout-paint-is-unknown", "layout t --fill order --paints HB,QQ", 1, { "“QQ”" } },
  { "layout-paint-twice", "layout t --fill order --paints HB,HB", 1, { "“HB”", "twice" } },
  { "too-few-zones", "layout t --fill order --replicates 4", 1, { "missing: 1", "every paint 3 ×" } },
  { "layout-without-zones", "layout empty --fill order --paints HB", 1, { "“HB”" } },
  { "layout-piece-is-unknown", "layout t --fill order --piece Bowl", 1, { "“Bowl”" } },
  { "blend-of-one", "blend t HB", 2, { "FILE PAINT PAINT" } },
  { "blend-of-five", "blend t A B C D E", 2, { "Too many" } },
  { "blend-of-unknown", "blend t HB QQ", 1, { "“QQ”" } },
  { "blend-with-itself", "blend t HB HB", 1, { "“HB”", "twice" } },
  { "blend-steps-below-one", "blend t HB QQ --steps -2", 2, { "Steps" } },
  { "blend-steps-and-shares", "blend t HB QQ --steps 2 --at 5,10", 2, { "--at", "--steps" } },
  { "blend-centroid-with-steps", "blend t HB QQ --centroid --steps 2", 2, { "--centroid" } },
  { "blend-down-of-two", "blend t HB QQ --steps-down 2", 2, { "--steps-down" } },
  { "blend-shares-are-words", "blend u HB OR --at much", 2, { "“much”", "--at" } },
  { "blend-shares-above-whole", "blend u HB OR --at 5,120", 1, { "120 %" } },
  { "blend-of-too-many", "blend u HB OR --steps 5000", 1, { "5001", "fewer steps" } },
  { "blend-steps-are-none", "blend u HB OR --steps 0", 2, { "Steps" } },
  { "blend-total-is-no-number", "blend u HB OR --total nan", 2, { "--total" } },
  { "blend-total-is-beyond-weighing", "blend u HB OR --total 1e308", 2, { "--total" } },
  { "blend-scale-is-nothing", "blend u HB OR --scale 0", 2, { "--scale" } },
  { "nothing-to-measure", "measure t", 1, { "sherd photograph" } },
  { "photograph-is-unknown", "measure t --photograph photograph-9", 1, { "“photograph-9”", "sherd check" } },
  { "two-forms-of-measure", "measure t --csv --json", 2, { "--csv", "--json" } },
  { "two-forms-of-compare", "compare t --csv --json", 2, { "--csv", "--json" } },
  { "nothing-to-compare", "compare t", 1, { "two stages", "sherd photograph" } },
};

static void
assert_refused (const char *folder, const Refusal *refusal)
{
  g_auto (Run) run = story_run (folder, refusal->arguments);

  g_test_message ("%s", run.err);
  g_assert_cmpint (run.status, ==, refusal->status);
  g_assert_cmpstr (run.out, ==, "");
  g_assert_true (g_str_has_prefix (run.err, "sherd"));
  g_assert_true (g_str_has_suffix (run.err, "\n"));
  for (gsize i = 0; i < G_N_ELEMENTS (refusal->words) && refusal->words[i] != NULL; i++)
    if (strstr (run.err, refusal->words[i]) == NULL)
      g_error ("“%s” is not in “%s”", refusal->words[i], run.err);
}

/* A refused command leaves the folder as it was. */
static char *
dup_listing (const char *folder)
{
  g_autofree char *find = g_strdup_printf ("find %s -type f -printf '%%p %%s %%T@\\n'", folder);
  char *listing = NULL;

  g_assert_true (g_spawn_command_line_sync (find, &listing, NULL, NULL, NULL));
  return listing;
}

static void
test_refusal (Fixture *fixture, gconstpointer user_data)
{
  g_autofree char *before = dup_listing (fixture->folder);
  g_autofree char *after = NULL;

  assert_refused (fixture->folder, user_data);
  after = dup_listing (fixture->folder);
  g_assert_cmpstr (before, ==, after);
}

static void
test_measuring_without_marks_names_the_photograph (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *added = story_run_well (fixture->folder, "photograph t grey.png");
  g_auto (Run) run = story_run (fixture->folder, "measure t");

  g_assert_cmpint (run.status, ==, 1);
  g_assert_nonnull (strstr (run.err, "photograph-1"));
  g_assert_nonnull (strstr (run.err, "Mark the four corners"));
}

static void
assert_cannot_be_measured (const char *folder, const char *marks, const char *remedy)
{
  g_autofree char *line = g_strdup_printf ("photograph t grey.png %s", marks);
  G_GNUC_UNUSED g_autofree char *added = story_run_well (folder, line);
  g_auto (Run) run = story_run (folder, "measure t");

  g_assert_cmpint (run.status, ==, 1);
  g_assert_cmpstr (run.out, ==, "");
  g_assert_nonnull (strstr (run.err, "grey.png"));
  g_assert_nonnull (strstr (run.err, remedy));
}

/* They may be added to in the window, so the photograph is taken; but nothing is measured by them. */
static void
test_fewer_than_four_marks_do_not_measure (Fixture *fixture, gconstpointer user_data)
{
  assert_cannot_be_measured (fixture->folder, "--mark 0,0=1,1 --mark 90,0=60,1 --mark 90,60=60,60",
                             "Mark the four corners");
}

static void
test_corners_in_a_line_do_not_measure (Fixture *fixture, gconstpointer user_data)
{
  assert_cannot_be_measured (fixture->folder, "--corners \"1,1 20,20 40,40 60,60\"", "Move each to its own corner");
}

/* What was typed is named, not where the trial keeps its copy. */
static void
test_a_picture_is_named_as_it_was_typed (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *added =
    story_run_well (fixture->folder, "photograph t grey.png --corners \"1,1 20,20 40,40 60,60\"");
  g_auto (Run) run = story_run (fixture->folder, "measure t");

  g_assert_nonnull (strstr (run.err, "“grey.png”"));
  g_assert_null (strstr (run.err, "t.photos"));
}

static void
test_a_new_code_is_told (Fixture *fixture, gconstpointer user_data)
{
  g_auto (Run) run = story_run (fixture->folder, "new n --tile 90x60 --zones 1x3 --paint \"HB=Hearth\" --fill HB,HD,-");

  g_assert_cmpint (run.status, ==, 0);
  g_assert_nonnull (strstr (run.err, "HD"));
  g_assert_null (strstr (run.err, "HB"));
  g_assert_nonnull (strstr (run.err, "--paint"));
}

static void
test_two_dashes_end_the_options (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *made = story_run_well (fixture->folder, "new --title Dash -- -t");
  g_autofree char *listed = story_run_well (fixture->folder, "check -- -t");

  g_assert_cmpstr (listed, ==, "Trial “Dash”\n");
}

/* In the locale "C", that of a bare machine, words of any language are still taken and shown. */
static void
test_the_plain_locale_takes_any_letter (Fixture *fixture, gconstpointer user_data)
{
  g_auto (Run) made = story_run_in_locale (fixture->folder, "new n --title \"Töpfe\"", "C");
  g_auto (Run) listed = story_run_in_locale (fixture->folder, "check n", "C");

  g_assert_cmpstr (made.err, ==, "");
  g_assert_cmpstr (listed.out, ==, "Trial “Töpfe”\n");
}

/* A full disk and a closed output must not pass for a whole table; what the verb did besides was done. */
static void
test_output_that_cannot_be_written_is_told (Fixture *fixture, gconstpointer user_data)
{
  static const char *const commands[] = { "check t", "new n --force", "photograph t grey.png", "--help",
                                          "compare --help" };
  static const char *const outputs[] = { "/dev/full", "&-" };

  for (gsize i = 0; i < G_N_ELEMENTS (commands) * G_N_ELEMENTS (outputs); i++)
    {
      g_auto (Run) run = story_run_into (fixture->folder, commands[i / 2], outputs[i % 2]);

      g_test_message ("sherd %s: %s", commands[i / 2], run.err);
      g_assert_cmpint (run.status, ==, 1);
      g_assert_nonnull (strstr (run.err, "Standard output"));
    }
  G_GNUC_UNUSED g_autofree char *listed = story_run_well (fixture->folder, "check n");
}

static void
test_a_lost_picture_is_told_by_check (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *added = story_run_well (fixture->folder, "photograph t grey.png --corners " CORNERS);
  g_autofree char *pictures = g_build_filename (fixture->folder, "t.photos", NULL);
  g_auto (Run) check = { 0 };
  g_auto (Run) measure = { 0 };

  story_folder_remove (pictures);
  check = story_run (fixture->folder, "check t");
  g_assert_cmpint (check.status, ==, 1);
  g_assert_nonnull (strstr (check.err, "grey.png"));
  g_assert_nonnull (strstr (check.out, "photograph-1"));
  measure = story_run (fixture->folder, "measure t");
  g_assert_cmpint (measure.status, ==, 1);
  g_assert_nonnull (strstr (measure.err, "grey.png"));
}

static void
write_zones (const char *folder, const char *zones)
{
  g_autofree char *text = g_strdup_printf (
    "{ \"format\": \"sherdboard-trial\", \"version\": 1, \"title\": \"\", \"seed\": 1, \"paints\": [], "
    "\"photographs\": [], \"measurements\": [], \"pieces\": [ { \"id\": \"piece-1\", \"name\": \"T\", "
    "\"kind\": \"tile\", \"state\": \"dry\", \"width_mm\": 100, \"height_mm\": 80, \"sides\": [ { \"id\": \"side-1\", "
    "\"name\": \"face\", \"zones\": [ %s ] } ] } ] }",
    zones);

  write_file (folder, "f.sherdboard", text);
}

/* Such files open, so that they can be mended, but they are not passed as sound. */
static void
test_check_tells_zones_that_cannot_be (Fixture *fixture, gconstpointer user_data)
{
  static const char *const faulty[][2] = {
    { "{ \"id\": \"zone-1\", \"code\": \"A1\", \"x_mm\": 90, \"y_mm\": 10, \"width_mm\": 20, \"height_mm\": 20 }",
      "Zone A1 reaches beyond the side" },
    { "{ \"id\": \"zone-1\", \"code\": \"A1\", \"polygon_mm\": [ [ 9, 9 ], [ 50, 50 ], [ 50, 9 ], [ 9, 50 ] ] }",
      "zone A1 crosses itself" },
    { "{ \"id\": \"zone-1\", \"code\": \"A1\", \"polygon_mm\": [ [ 9, 9 ], [ 9, 9 ], [ 9, 9 ] ] }", "hardly any area" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (faulty); i++)
    {
      g_auto (Run) check = { 0 };
      g_auto (Run) layout = { 0 };

      write_zones (fixture->folder, faulty[i][0]);
      check = story_run (fixture->folder, "check f");
      g_test_message ("%s%s", check.out, check.err);
      g_assert_cmpint (check.status, ==, 1);
      g_assert_nonnull (strstr (check.err, faulty[i][1]));
      layout = story_run (fixture->folder, "layout f --check");
      g_assert_cmpint (layout.status, <=, 1);
    }
}

/* Whoever wrote the names in a trial does not thereby command the reader's terminal. */
static void
test_names_cannot_steer_the_terminal (Fixture *fixture, gconstpointer user_data)
{
  static const char *const commands[] = { "check n",           "paint n", "paint n HB",   "layout n --check",
                                          "compare n \033[2J", "\033[2J", "check \033[2J" };
  G_GNUC_UNUSED g_autofree char *made =
    story_run_well (fixture->folder,
                    "new n --title \"T\033[2J\n\" --piece \"P\033[2J\n\" --tile 90x60 --zones 1x3 --ground \"\033[2J\" "
                    "--paint \"HB=H\033[2J\n\" --fill HB");

  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      g_auto (Run) run = story_run (fixture->folder, commands[i]);

      g_test_message ("%s: %s%s", commands[i], run.out, run.err);
      g_assert_null (strchr (run.out, '\033'));
      g_assert_null (strchr (run.err, '\033'));
    }
}

static void
test_force_replaces_a_trial (Fixture *fixture, gconstpointer user_data)
{
  G_GNUC_UNUSED g_autofree char *made = story_run_well (fixture->folder, "new t --force --title \"Another\"");
  g_autofree char *listed = story_run_well (fixture->folder, "check t");

  g_assert_cmpstr (listed, ==, "Trial “Another”\n");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autofree char *path = g_strdup_printf ("/batch/refusals/%s", refusals[i].name);

      g_test_add (path, Fixture, &refusals[i], set_up, test_refusal, tear_down);
    }
  g_test_add ("/batch/refusals/measuring-without-marks-names-the-photograph", Fixture, NULL, set_up,
              test_measuring_without_marks_names_the_photograph, tear_down);
  g_test_add ("/batch/refusals/fewer-than-four-marks-do-not-measure", Fixture, NULL, set_up,
              test_fewer_than_four_marks_do_not_measure, tear_down);
  g_test_add ("/batch/refusals/corners-in-a-line-do-not-measure", Fixture, NULL, set_up,
              test_corners_in_a_line_do_not_measure, tear_down);
  g_test_add ("/batch/refusals/a-picture-is-named-as-it-was-typed", Fixture, NULL, set_up,
              test_a_picture_is_named_as_it_was_typed, tear_down);
  g_test_add ("/batch/refusals/a-new-code-is-told", Fixture, NULL, set_up, test_a_new_code_is_told, tear_down);
  g_test_add ("/batch/refusals/two-dashes-end-the-options", Fixture, NULL, set_up, test_two_dashes_end_the_options,
              tear_down);
  g_test_add ("/batch/refusals/the-plain-locale-takes-any-letter", Fixture, NULL, set_up,
              test_the_plain_locale_takes_any_letter, tear_down);
  g_test_add ("/batch/refusals/output-that-cannot-be-written-is-told", Fixture, NULL, set_up,
              test_output_that_cannot_be_written_is_told, tear_down);
  g_test_add ("/batch/refusals/a-lost-picture-is-told-by-check", Fixture, NULL, set_up,
              test_a_lost_picture_is_told_by_check, tear_down);
  g_test_add ("/batch/refusals/check-tells-zones-that-cannot-be", Fixture, NULL, set_up,
              test_check_tells_zones_that_cannot_be, tear_down);
  g_test_add ("/batch/refusals/names-cannot-steer-the-terminal", Fixture, NULL, set_up,
              test_names_cannot_steer_the_terminal, tear_down);
  g_test_add ("/batch/refusals/force-replaces-a-trial", Fixture, NULL, set_up, test_force_replaces_a_trial, tear_down);
  return g_test_run ();
}
