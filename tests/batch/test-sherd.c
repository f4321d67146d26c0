/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command line program from new to compare. Two kinds of truth: the rendered tile (truth.json: mean colour of the
 * visible paint, by the renderer) and a flat picture made here, whose sRGB colours LittleCMS turns into CIELAB. */
#include "config.h"

#include <lcms2.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "colour/difference.h"
#include "story.h"

/* A flat picture of 8 bit: rounding to a code is below 0.3 ΔE00 for these colours, and a 3×3 fit leaves as much. */
#define FLAT_TOLERANCE_DE00 0.6
/* A check that the program passes on what was measured; the accuracy itself is tested in measure. */
#define RENDERED_MEAN_DE00 1.0

static const char *const verbs[] = { "new", "check", "photograph", "measure", "compare" };

static JsonArray *
zones_of_photograph (JsonNode *document, guint index)
{
  JsonArray *photographs = json_object_get_array_member (json_node_get_object (document), "photographs");

  return json_object_get_array_member (json_array_get_object_element (photographs, index), "zones");
}

static SherdLab
lab_of (JsonObject *zone)
{
  return (SherdLab){ json_object_get_double_member (zone, "L"), json_object_get_double_member (zone, "a"),
                     json_object_get_double_member (zone, "b") };
}

static void
test_the_story_of_a_rendered_tile (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("white_clay");
  g_autofree char *listed = NULL;
  g_autofree char *measured = NULL;
  g_autoptr (JsonNode) document = NULL;
  double sum_de00 = 0.0;
  guint n_compared = 0;

  story_tell (folder, scene);
  listed = story_run_well (folder, "check tile");
  g_assert_nonnull (strstr (listed, "Trial “A rendered tile”\n"));
  g_assert_nonnull (strstr (listed, "Face: 12 zones: A1 A1,"));
  g_assert_nonnull (strstr (listed, "“after.jpg”, Tile 1, After firing 1, not measured"));
  measured = story_run_well (folder, "measure tile --json");
  document = story_parse (measured);
  for (gsize photo = 0; photo < 2; photo++)
    for (guint i = 0; i < scene->n_zones; i++)
      {
        JsonObject *zone = json_array_get_object_element (zones_of_photograph (document, (guint)photo), i);
        SherdLab lab;

        g_assert_cmpstr (json_object_get_string_member (zone, "zone"), ==, scene->zones[i].code);
        if (json_object_get_null_member (zone, "L") || *json_object_get_string_member (zone, "flags") != '\0')
          continue;
        lab = lab_of (zone);
        sum_de00 += sherd_difference_de00 (&lab, &scene->photos[photo].truth[i].lab);
        n_compared++;
      }
  g_assert_cmpuint (n_compared, >=, 12);
  g_assert_cmpfloat (sum_de00 / n_compared, <=, RENDERED_MEAN_DE00);
  story_folder_remove (folder);
}

/* A record of RFC 4180; these tables have no line break inside a field. */
static GStrv
split_csv (const char *record)
{
  g_autoptr (GStrvBuilder) fields = g_strv_builder_new ();
  g_autoptr (GString) field = g_string_new (NULL);
  gboolean quoted = FALSE;

  for (const char *c = record; *c != '\0' && *c != '\r'; c++)
    if (*c == '"' && quoted && c[1] == '"')
      g_string_append_c (field, *c++);
    else if (*c == '"')
      quoted = !quoted;
    else if (*c == ',' && !quoted)
      {
        g_strv_builder_add (fields, field->str);
        g_string_truncate (field, 0);
      }
    else
      g_string_append_c (field, *c);
  g_strv_builder_add (fields, field->str);
  return g_strv_builder_end (fields);
}

static void
assert_field_agrees (JsonNode *value, const char *field)
{
  if (json_node_is_null (value))
    g_assert_cmpstr (field, ==, "");
  else if (json_node_get_value_type (value) == G_TYPE_STRING)
    g_assert_cmpstr (field, ==, json_node_get_string (value));
  else if (json_node_get_value_type (value) == G_TYPE_BOOLEAN)
    g_assert_cmpstr (field, ==, json_node_get_boolean (value) ? "true" : "false");
  else
    g_assert_cmpfloat (g_ascii_strtod (field, NULL), ==, json_node_get_double (value));
}

static void
assert_row_agrees (JsonObject *row, char **keys, const char *record)
{
  g_auto (GStrv) fields = split_csv (record);

  g_assert_cmpuint (g_strv_length (fields), ==, g_strv_length (keys));
  g_assert_cmpuint (g_strv_length (keys), ==, json_object_get_size (row));
  for (guint i = 0; keys[i] != NULL; i++)
    {
      g_assert_true (json_object_has_member (row, keys[i]));
      assert_field_agrees (json_object_get_member (row, keys[i]), fields[i]);
    }
}

/* @records: lines of CSV behind the line of keys, as many as @rows */
static void
assert_rows_agree (JsonArray *rows, char **keys, char **records)
{
  for (guint i = 0; i < json_array_get_length (rows); i++)
    assert_row_agrees (json_array_get_object_element (rows, i), keys, records[i]);
}

static void
test_csv_and_json_agree (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("white_clay");
  g_autofree char *json = NULL;
  g_autofree char *csv = NULL;
  g_autoptr (JsonNode) measured = NULL;
  g_autoptr (JsonNode) compared = NULL;
  g_auto (GStrv) lines = NULL;
  g_auto (GStrv) keys = NULL;

  story_tell (folder, scene);
  json = story_run_well (folder, "measure tile --json");
  csv = story_run_well (folder, "measure tile --csv");
  measured = story_parse (json);
  lines = g_strsplit (csv, "\r\n", -1);
  keys = split_csv (lines[0]);
  g_assert_cmpuint (g_strv_length (lines), ==, 2 * scene->n_zones + 2);
  assert_rows_agree (zones_of_photograph (measured, 0), keys, lines + 1);
  assert_rows_agree (zones_of_photograph (measured, 1), keys, lines + 1 + scene->n_zones);

  g_clear_pointer (&json, g_free);
  g_clear_pointer (&csv, g_free);
  g_clear_pointer (&lines, g_strfreev);
  g_clear_pointer (&keys, g_strfreev);
  json = story_run_well (folder, "compare tile --json");
  csv = story_run_well (folder, "compare tile --csv");
  compared = story_parse (json);
  lines = g_strsplit (csv, "\r\n", -1);
  keys = split_csv (lines[0]);
  g_assert_cmpuint (g_strv_length (lines), ==, scene->n_zones + 2);
  assert_rows_agree (json_object_get_array_member (json_node_get_object (compared), "zones"), keys, lines + 1);
  story_folder_remove (folder);
}

static void
assert_shift_row_hangs_together (JsonObject *row)
{
  gboolean measured = !json_object_get_null_member (row, "dE00");

  g_assert_true (measured != json_object_get_null_member (row, "changed"));
  if (!measured)
    return;
  g_assert_cmpfloat_with_epsilon (
    json_object_get_double_member (row, "dL"),
    json_object_get_double_member (row, "L_after") - json_object_get_double_member (row, "L_before"), 1e-9);
  g_assert_cmpfloat (json_object_get_double_member (row, "dE00_low95"), <=,
                     json_object_get_double_member (row, "dE00_high95"));
  g_assert_cmpstr (json_object_get_string_member (row, "verdict"), ==,
                   json_object_get_boolean_member (row, "changed") ? "changed" : "not proven");
}

static void
test_a_comparison_says_what_it_compares (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("dark_slip");
  g_autofree char *measured = NULL;
  g_autofree char *json = NULL;
  g_autofree char *text = NULL;
  g_autoptr (JsonNode) document = NULL;
  JsonObject *root;
  JsonArray *rows;

  story_tell (folder, scene);
  measured = story_run_well (folder, "measure tile");
  json = story_run_well (folder, "compare tile --json");
  document = story_parse (json);
  root = json_node_get_object (document);
  g_assert_cmpstr (json_object_get_string_member (root, "format"), ==, "sherd-compare");
  g_assert_cmpint (json_object_get_int_member (root, "version"), ==, 1);
  g_assert_cmpstr (json_object_get_string_member (root, "stage_before"), ==, "unfired");
  g_assert_cmpstr (json_object_get_string_member (root, "stage_after"), ==, "after firing 1");
  g_assert_true (json_object_get_boolean_member (root, "same_reference"));
  rows = json_object_get_array_member (root, "zones");
  g_assert_cmpuint (json_array_get_length (rows), ==, scene->n_zones);
  for (guint i = 0; i < scene->n_zones; i++)
    assert_shift_row_hangs_together (json_array_get_object_element (rows, i));
  text = story_run_well (folder, "compare tile");
  g_assert_true (g_str_has_prefix (text, "Tile 1 · Unfired → After firing 1\n"));
  story_folder_remove (folder);
}

static void
test_a_stage_is_not_compared_with_itself (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("white_clay");
  G_GNUC_UNUSED g_autofree char *measured = NULL;
  g_auto (Run) run = { 0 };

  story_tell (folder, scene);
  measured = story_run_well (folder, "measure tile");
  run = story_run (folder, "compare tile --before unfired --after unfired");
  g_assert_cmpint (run.status, ==, 1);
  g_assert_cmpstr (run.out, ==, "");
  g_assert_nonnull (strstr (run.err, "“unfired” was given for both"));
  story_folder_remove (folder);
}

/* "sherd measure … | head -1" must not cost the measurement. */
static void
test_a_measurement_is_kept_whoever_reads_it (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("white_clay");
  g_auto (Run) run = { 0 };
  g_autofree char *listed = NULL;

  story_tell (folder, scene);
  run = story_run_into (folder, "measure tile", "&1 | true");
  listed = story_run_well (folder, "check tile");
  g_assert_null (strstr (listed, "not measured"));
  story_folder_remove (folder);
}

static void
test_measuring_without_saving_leaves_the_trial (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("white_clay");
  g_autofree char *printed = NULL;
  g_autofree char *listed = NULL;

  story_tell (folder, scene);
  printed = story_run_well (folder, "measure tile --no-save --photograph photograph-2");
  g_assert_null (strstr (printed, "before.jpg"));
  g_assert_nonnull (strstr (printed, "after.jpg"));
  listed = story_run_well (folder, "check tile");
  g_assert_null (strstr (listed, ", measured"));
  story_folder_remove (folder);
}

/* The flat picture: a tile of 3 × 2 paints and beside it a chart of 4 × 6 patches, 4 px a millimetre, straight from
 * above. Tile 90 × 60 mm at (10, 10) mm, zones as a grid with edge 6 mm and gaps of 4 mm; chart 60 × 40 mm at
 * (110, 10) mm without gaps. */
#define PX_PER_MM 4u
#define FLAT_WIDTH_MM 180u
#define FLAT_HEIGHT_MM 80u

static const guint8 ground_rgb[3] = { 196, 178, 158 };
static const guint8 paint_rgb[6][3] = { { 60, 52, 48 },   { 150, 70, 50 }, { 190, 150, 80 },
                                        { 120, 130, 90 }, { 90, 95, 120 }, { 214, 205, 190 } };

static void
fill_box (guint8 *rgb, double x_mm, double y_mm, double width_mm, double height_mm, const guint8 colour[3])
{
  for (guint y = (guint)lround (y_mm * PX_PER_MM); y < (guint)lround ((y_mm + height_mm) * PX_PER_MM); y++)
    for (guint x = (guint)lround (x_mm * PX_PER_MM); x < (guint)lround ((x_mm + width_mm) * PX_PER_MM); x++)
      memcpy (rgb + 3 * ((gsize)y * FLAT_WIDTH_MM * PX_PER_MM + x), colour, 3);
}

/* Four greys, then hues spread over the cube. */
static void
patch_colour (guint patch, guint8 colour[3])
{
  static const guint8 levels[3] = { 60, 130, 200 };

  if (patch < 6)
    memset (colour, (int)(30 + 40 * patch), 3);
  else
    for (guint channel = 0; channel < 3; channel++)
      colour[channel] = levels[(patch / (channel == 0 ? 1 : channel == 1 ? 3 : 9)) % 3];
}

static cmsCIELab
lab_by_lcms (const guint8 rgb[3])
{
  cmsHPROFILE srgb = cmsCreate_sRGBProfile ();
  cmsHPROFILE lab_profile = cmsCreateLab4Profile (NULL);
  cmsHTRANSFORM transform = cmsCreateTransform (srgb, TYPE_RGB_8, lab_profile, TYPE_Lab_DBL,
                                                INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
  cmsCIELab lab;

  cmsDoTransform (transform, rgb, &lab, 1);
  cmsDeleteTransform (transform);
  cmsCloseProfile (lab_profile);
  cmsCloseProfile (srgb);
  return lab;
}

static void
write_flat_picture (const char *folder)
{
  g_autofree guint8 *rgb = g_malloc (3 * (gsize)FLAT_WIDTH_MM * FLAT_HEIGHT_MM * PX_PER_MM * PX_PER_MM);
  g_autofree char *path = g_build_filename (folder, "flat.png", NULL);
  const double zone_width_mm = (90.0 - 2 * 6.0 - 2 * 4.0) / 3, zone_height_mm = (60.0 - 2 * 6.0 - 4.0) / 2;

  fill_box (rgb, 0, 0, FLAT_WIDTH_MM, FLAT_HEIGHT_MM, (const guint8[3]){ 110, 110, 112 });
  fill_box (rgb, 10, 10, 90, 60, ground_rgb);
  for (guint i = 0; i < 6; i++)
    fill_box (rgb, 16 + (i % 3) * (zone_width_mm + 4), 16 + (i / 3) * (zone_height_mm + 4), zone_width_mm,
              zone_height_mm, paint_rgb[i]);
  for (guint i = 0; i < 24; i++)
    {
      guint8 colour[3];

      patch_colour (i, colour);
      fill_box (rgb, 110 + 10 * (i % 6), 10 + 10 * (i / 6), 10, 10, colour);
    }
  story_write_png (path, rgb, FLAT_WIDTH_MM * PX_PER_MM, FLAT_HEIGHT_MM * PX_PER_MM);
}

static void
write_flat_chart (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, "flat.txt", NULL);
  GString *text = g_string_new ("CGATS.17\nORIGINATOR \"test\"\nNUMBER_OF_FIELDS 4\nBEGIN_DATA_FORMAT\n"
                                "SAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nNUMBER_OF_SETS 24\nBEGIN_DATA\n");
  g_autofree char *content = NULL;

  for (guint i = 0; i < 24; i++)
    {
      guint8 colour[3];
      cmsCIELab lab;

      patch_colour (i, colour);
      lab = lab_by_lcms (colour);
      g_string_append_printf (text, "%c%u %.4f %.4f %.4f\n", 'A' + i / 6, i % 6 + 1, lab.L, lab.a, lab.b);
    }
  content = g_string_free (g_string_append (text, "END_DATA\n"), FALSE);
  g_assert_true (g_file_set_contents (path, content, -1, NULL));
}

static void
test_a_flat_picture_gives_its_own_colours (void)
{
  g_autofree char *folder = story_folder_new ();
  G_GNUC_UNUSED g_autofree char *made =
    story_run_well (folder, "new flat --tile 90x60x8 --zones 2x3 --paint P=Paint --fill P");
  g_autofree char *added = NULL;
  g_autofree char *json = NULL;
  g_autoptr (JsonNode) document = NULL;

  write_flat_picture (folder);
  write_flat_chart (folder);
  added = story_run_well (folder, "photograph flat flat.png --corners \"40,40 400,40 400,280 40,280\" --chart flat.txt "
                                  "--chart-grid 4x6 --chart-corners \"440,40 680,40 680,200 440,200\"");
  json = story_run_well (folder, "measure flat --json");
  document = story_parse (json);
  for (guint i = 0; i < 6; i++)
    {
      JsonObject *zone = json_array_get_object_element (zones_of_photograph (document, 0), i);
      cmsCIELab expected = lab_by_lcms (paint_rgb[i]);
      SherdLab truth = { expected.L, expected.a, expected.b };
      SherdLab lab = lab_of (zone);

      g_test_message ("%s ΔE00 %.3f %s", json_object_get_string_member (zone, "zone"),
                      sherd_difference_de00 (&lab, &truth), json_object_get_string_member (zone, "flags"));
      g_assert_cmpfloat (sherd_difference_de00 (&lab, &truth), <=, FLAT_TOLERANCE_DE00);
    }
  story_folder_remove (folder);
}

static void
test_every_verb_shows_an_example (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autofree char *help = story_run_well (folder, "--help");

  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    {
      g_autofree char *arguments = g_strdup_printf ("%s --help", verbs[i]);
      g_autofree char *verb_help = story_run_well (folder, arguments);
      g_autofree char *example = g_strdup_printf ("Example:\n  sherd %s ", verbs[i]);
      g_autofree char *listed = g_strdup_printf ("\n  %s ", verbs[i]);

      g_assert_nonnull (strstr (verb_help, example));
      g_assert_nonnull (strstr (verb_help, "Usage:\n  sherd "));
      g_assert_nonnull (strstr (help, listed));
    }
  g_assert_nonnull (strstr (help, "Exit status"));
  story_folder_remove (folder);
}

static void
test_the_version_is_told (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autofree char *version = story_run_well (folder, "--version");

  g_assert_true (g_str_has_prefix (version, "sherd " SHERD_VERSION "\n"));
  g_assert_nonnull (strstr (version, "PNG, JPEG, TIFF\n"));
  story_folder_remove (folder);
}

/* (transfer full) (nullable): a locale with a decimal comma; made in @folder when the system has none */
static gboolean
make_comma_locale (const char *folder)
{
  g_autofree char *target = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *words[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", target, NULL };

  g_spawn_sync (folder, (char **)words, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL, NULL,
                NULL, NULL);
  if (g_file_test (target, G_FILE_TEST_IS_DIR))
    g_setenv ("LOCPATH", folder, TRUE);
  return setlocale (LC_NUMERIC, "de_DE.UTF-8") != NULL && strcmp (localeconv ()->decimal_point, ",") == 0;
}

static void
test_data_are_the_same_in_every_locale (void)
{
  g_autofree char *folder = story_folder_new ();
  g_autofree char *locales = story_folder_new ();
  g_autoptr (SherdScene) scene = story_scene_new ("white_clay");
  g_autofree char *csv = NULL;
  g_auto (Run) comma_csv = { 0 };
  g_auto (Run) comma_text = { 0 };
  gboolean has_comma_locale = make_comma_locale (locales);

  setlocale (LC_NUMERIC, "C");
  if (!has_comma_locale)
    g_test_skip ("No locale with a decimal comma is installed, and none could be made with localedef.");
  else
    {
      story_tell (folder, scene);
      csv = story_run_well (folder, "measure tile --csv --no-save");
      comma_csv = story_run_in_locale (folder, "measure tile --csv --no-save", "de_DE.UTF-8");
      comma_text = story_run_in_locale (folder, "measure tile --no-save", "de_DE.UTF-8");
      g_assert_cmpstr (comma_csv.out, ==, csv);
      g_assert_true (g_regex_match_simple ("[0-9]{2},[0-9]\\b", comma_text.out, 0, 0));
      g_assert_false (g_regex_match_simple ("[0-9]{2}\\.[0-9]\\b", comma_text.out, 0, 0));
    }
  story_folder_remove (folder);
  story_folder_remove (locales);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/batch/sherd/the-story-of-a-rendered-tile", test_the_story_of_a_rendered_tile);
  g_test_add_func ("/batch/sherd/csv-and-json-agree", test_csv_and_json_agree);
  g_test_add_func ("/batch/sherd/a-comparison-says-what-it-compares", test_a_comparison_says_what_it_compares);
  g_test_add_func ("/batch/sherd/a-stage-is-not-compared-with-itself", test_a_stage_is_not_compared_with_itself);
  g_test_add_func ("/batch/sherd/a-measurement-is-kept-whoever-reads-it", test_a_measurement_is_kept_whoever_reads_it);
  g_test_add_func ("/batch/sherd/measuring-without-saving-leaves-the-trial",
                   test_measuring_without_saving_leaves_the_trial);
  g_test_add_func ("/batch/sherd/a-flat-picture-gives-its-own-colours", test_a_flat_picture_gives_its_own_colours);
  g_test_add_func ("/batch/sherd/every-verb-shows-an-example", test_every_verb_shows_an_example);
  g_test_add_func ("/batch/sherd/the-version-is-told", test_the_version_is_told);
  g_test_add_func ("/batch/sherd/data-are-the-same-in-every-locale", test_data_are_the_same_in_every_locale);
  return g_test_run ();
}
