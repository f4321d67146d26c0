/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The example trial is invented (support.c). A refusal is right when its message names the line in which the text was
 * spoilt, counted here independently of the reader, and the path as written in the table by hand. */
#include "config.h"

#include <locale.h>
#include <math.h>
#include <string.h>

#include "support.h"
#include "trial/file.h"

static guint
line_of (const char *text, const char *at)
{
  guint line = 1;

  for (const char *c = text; c < at; c++)
    line += *c == '\n';
  return line;
}

static char *
replace_first (const char *text, const char *old, const char *new, guint *line)
{
  const char *found = strstr (text, old);

  g_assert_nonnull (found);
  *line = line_of (text, found);
  return g_strdup_printf ("%.*s%s%s", (int)(found - text), text, new, found + strlen (old));
}

typedef struct
{
  const char *what; /* name of the test */
  const char *old;  /* first occurrence in the example's text */
  const char *new;
  const char *path; /* must be in the message */
  int code;
  guint lines_on; /* lines from the spoilt text to the value that is wrong */
} Refusal;

static const Refusal refusals[] = {
  { "no-format", "\"format\": \"sherdboard-trial\",", "", "format: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "other-format", "sherdboard-trial", "kiln-log", "format: “kiln-log”", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "newer-version", "\"version\": 1", "\"version\": 2", "version: ", SHERD_TRIAL_ERROR_VERSION, 0 },
  { "version-is-text", "\"version\": 1", "\"version\": \"1\"", "version: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "seed-not-whole", "\"seed\": 42", "\"seed\": 42.5", "seed: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "seed-negative", "\"seed\": 42", "\"seed\": -1", "seed: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "title-is-number", "\"Marsh clay, winter\"", "7", "title: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paints-is-object", "\"paints\": [", "\"paints\": {}, \"other\": [", "paints: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-is-number", "\"paints\": [", "\"paints\": [1,", "paints[0]: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-id-empty", "\"paint-1\"", "\"\"", "paints[0].id: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-id-twice", "\"id\": \"paint-2\"", "\"id\": \"paint-1\"", "paints[1].id: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-code-empty", "\"KM\"", "\"\"", "paints[0].code: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-code-twice", "\"RU 2\"", "\"KM\"", "paints[1].code: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-code-missing", "\"code\": \"KM\",", "", "paints[0].code: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-id-twice", "\"id\": \"material-2\"", "\"id\": \"material-1\"",
    "materials[1].id: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-name-missing", "\"name\": \"Cherry gum\",", "", "materials[1].name: ", SHERD_TRIAL_ERROR_CONTENT,
    G_MAXUINT },
  { "material-name-twice", "\"Cherry gum\"", "\"alder ASH\"", "materials[1].name: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-name-spaced", "\"Cherry gum\"", "\" gum\"", "materials[1]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "material-kind", "\"kind\": \"flux\"", "\"kind\": \"stone\"", "materials[0].kind: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-density", "\"particle_density_g_cm3\": 2.6", "\"particle_density_g_cm3\": 0",
    "materials[0].particle_density_g_cm3: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-purity", "\"purity_pct\": 80", "\"purity_pct\": 101",
    "materials[0].purity_pct: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-rest", "\"rest\": \"lime\"", "\"rest\": \"sand\"", "materials[0].rest: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-stock", "\"stock_g\": 0", "\"stock_g\": -1", "materials[0].stock_g: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "material-hazard", "\"copper\"", "29", "materials[0].hazards[0]: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "oxide-share", "\"pct\": 34.5", "\"pct\": 134.5", "materials[0].analysis[0].pct: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "oxide-nameless", "\"oxide\": \"CaO\",", "", "materials[0].analysis[0].oxide: ", SHERD_TRIAL_ERROR_CONTENT,
    G_MAXUINT },
  { "ingredient-unknown-material", "\"material\": \"material-1\"", "\"material\": \"material-7\"",
    "paints[0].ingredients[0].material: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "ingredient-unknown-paint", "\"paint\": \"paint-2\"", "\"paint\": \"paint-7\"",
    "paints[0].ingredients[1].paint: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "ingredient-of-nothing", "\"material\": \"material-1\",", "",
    "paints[0].ingredients[0]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "ingredient-of-both", "\"material\": \"material-1\"", "\"paint\": \"paint-2\", \"material\": \"material-1\"",
    "paints[0].ingredients[0]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "ingredient-no-parts", "\"parts\": 2", "\"parts\": 0",
    "paints[0].ingredients[0].parts: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "paint-of-itself", "\"paint\": \"paint-2\"", "\"paint\": \"paint-1\"",
    "paints[0].ingredients: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "recipe-basis", "\"basis\": \"volume\"", "\"basis\": \"spoon\"", "paints[0].basis: ", SHERD_TRIAL_ERROR_CONTENT,
    0 },
  { "recipe-binder", "\"binder\": \"material-2\"", "\"binder\": \"material-3\"",
    "paints[0].binder: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "recipe-water", "\"water_pct\": 60", "\"water_pct\": -1", "paints[0].water_pct: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "revision-too-high", "\"revision\": 1,", "\"revision\": 2,",
    "paints[0].earlier[0].revision: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "revision-of-paint-not-there", "\"revision\": 1,\n              \"parts\"",
    "\"revision\": 2,\n              \"parts\"", "paints[0].ingredients: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "zone-unknown-revision", "\"paint_revision\": 1", "\"paint_revision\": 3",
    "zones[0].paint_revision: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "piece-kind", "\"tile\"", "\"bowl\"", "pieces[0].kind: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "piece-size-zero", "\"width_mm\": 100", "\"width_mm\": 0", "pieces[0].width_mm: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "piece-size-huge", "\"width_mm\": 100", "\"width_mm\": 1e300", "pieces[0].width_mm: ", SHERD_TRIAL_ERROR_CONTENT,
    0 },
  { "piece-state", "\"dry\"", "\"wet\"", "pieces[0].state: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "side-name", "\"back\"", "\"top\"", "pieces[0].sides[1].name: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "side-name-twice", "\"back\"", "\"face\"", "pieces[0].sides[1].name: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "side-id-twice", "\"side-2\"", "\"side-1\"", "pieces[0].sides[1].id: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-id-twice", "\"zone-2\"", "\"zone-1\"", "zones[1].id: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-code-twice", "\"A2\"", "\"A1\"", "pieces[0].sides[0].zones[1].code: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-coats", "\"coats\": 2", "\"coats\": 0", "zones[0].coats: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-unknown-paint", "\"paint\": \"paint-1\"", "\"paint\": \"paint-9\"",
    "zones[0].paint: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-locked", "\"locked\": true", "\"locked\": 1", "zones[1].locked: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-negative", "\"x_mm\": 30", "\"x_mm\": -1", "zones[1].x_mm: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "zone-no-place", "\"x_mm\": 30,", "", "zones[1].x_mm: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "polygon-odd-point", "[80.5, 10]", "[80.5]", "zones[2].polygon_mm[1]: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "polygon-and-rectangle", "\"polygon_mm\"", "\"x_mm\": 1, \"polygon_mm\"",
    "zones[2].x_mm: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "profile-crosses", "[55, 25, 0]", "[55, 80, 0], [20, 30, 0]", "pieces[1]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "profile-none", "\"profile_mm\"", "\"profil_mm\"", "pieces[1]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "profile-odd-point", "[55, 25, 0]", "[55, 25]", "pieces[1].profile_mm[1]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "inside-beyond-outside", "[50, 25, 0]", "[80, 25, 0]", "pieces[1]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "vessel-side", "\"outside\"", "\"face\"", "pieces[1].sides[0].name: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "azimuths-back", "\"azimuth1_deg\": 70", "\"azimuth1_deg\": 5",
    "zones[0].azimuth1_deg: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "arcs-back", "\"arc1_mm\": 30", "\"arc1_mm\": 4", "zones[0].arc1_mm: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "hole-beyond", "[35, 25, 6]", "[58, 5, 6]", "pieces[2]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "edge-crosses", "[60, 35]", "[10, 2]", "pieces[2]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "photograph-piece", "\"piece\": \"piece-1\"", "\"piece\": \"piece-9\"",
    "photographs[0].piece: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "photograph-side", "\"side\": \"side-1\"", "\"side\": \"side-7\"",
    "photographs[0].side: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "photograph-stage", "\"stage\": \"unfired\"", "\"stage\": \"after firing 0\"",
    "photographs[0].stage: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "photograph-leads-out", "\"file\": \"a", "\"file\": \"../a", "photographs[0].file: ", SHERD_TRIAL_ERROR_CONTENT,
    0 },
  { "photograph-sha256", "\"sha256\": \"a", "\"sha256\": \"A", "photographs[0].sha256: ", SHERD_TRIAL_ERROR_CONTENT,
    0 },
  { "photograph-no-width", "\"width_px\": 1600", "\"width_px\": 0",
    "photographs[0].width_px: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "mark-not-pair", "[100.25, 80]", "[100.25, 80, 1]", "photographs[0].marks[0].photo_px: ", SHERD_TRIAL_ERROR_CONTENT,
    0 },
  { "mark-not-number", "[100.25, 80]", "[100.25, null]",
    "photographs[0].marks[0].photo_px[1]: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "reference-kind", "\"kind\": \"chart\"", "\"kind\": \"mirror\"",
    "photographs[0].reference.kind: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "reference-none-with-patches", "\"kind\": \"chart\"", "\"kind\": \"none\"",
    "photographs[0].reference.patches: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "card-with-many-patches", "\"kind\": \"chart\"", "\"kind\": \"grey-card\"",
    "photographs[0].reference.patches: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "patch-outside", "\"width_mm\": 40", "\"width_mm\": 20",
    "photographs[0].reference.patches[2]: ", SHERD_TRIAL_ERROR_CONTENT, G_MAXUINT },
  { "patch-name-twice", "\"name\": \"B2\"", "\"name\": \"A1\"",
    "photographs[0].reference.patches[5].name: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "patch-lightness", "\"lab\": [20, 0, 0]", "\"lab\": [-20, 0, 0]",
    "photographs[0].reference.patches[0].lab: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "measurement-photograph", "\"photograph\": \"photograph-1\"", "\"photograph\": \"x\"",
    "measurements[0].photograph: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "measurement-hash", "\"inputs_sha256\": \"", "\"inputs_sha256\": \"0",
    "measurements[0].inputs_sha256: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "measurement-model", "\"root-polynomial\"", "7", "measurements[0].correction.model: ", SHERD_TRIAL_ERROR_CONTENT,
    0 },
  { "measurement-flag", "\"two-colours\"", "7", "measurements[0].zones[1].flags", SHERD_TRIAL_ERROR_CONTENT,
    G_MAXUINT },
  { "measurement-count", "\"n_glare\": 11", "\"n_glare\": -11",
    "measurements[0].zones[0].n_glare: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "measurement-short-matrix", "\"scatter\": [0.02, ", "\"scatter\": [",
    "measurements[0].zones[0].scatter: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "measurement-usable", "\"usable\": true", "\"usable\": \"yes\"",
    "measurements[0].patches[0].usable: ", SHERD_TRIAL_ERROR_CONTENT, 0 },
  { "nan", "\"x_mm\": 30", "\"x_mm\": NaN", "pieces[0].sides[0].zones[1].x_mm: ", SHERD_TRIAL_ERROR_SYNTAX, 0 },
  { "infinite", "\"x_mm\": 30", "\"x_mm\": 1e999", "pieces[0].sides[0].zones[1].x_mm: ", SHERD_TRIAL_ERROR_SYNTAX, 0 },
  { "member-twice", "\"x_mm\": 30", "\"x_mm\": 30, \"x\\u005fmm\": 31", "zones[1].x_mm: ", SHERD_TRIAL_ERROR_SYNTAX,
    0 },
};

static void
test_refusal (gconstpointer data)
{
  const Refusal *refusal = data;
  g_autofree char *text = example_trial_dup_text ();
  g_autoptr (GError) error = NULL;
  g_autofree char *spoilt = NULL;
  g_autofree char *place = NULL;
  guint line;

  spoilt = replace_first (text, refusal->old, refusal->new, &line);
  g_assert_null (sherd_trial_new_from_text (spoilt, strlen (spoilt), "my.sherdboard", &error));
  g_assert_error (error, SHERD_TRIAL_ERROR, refusal->code);
  g_assert_true (g_str_has_prefix (error->message, "“my.sherdboard”, line "));
  g_assert_nonnull (strstr (error->message, refusal->path));
  /* Something missing, or wrong as a whole, is told on the line where the thing around it begins. */
  place = g_strdup_printf ("line %u, ", line);
  if (refusal->lines_on == 0 && !g_str_has_suffix (refusal->what, "missing") &&
      !g_str_has_prefix (refusal->what, "no-"))
    g_assert_nonnull (strstr (error->message, place));
}

/* The line of a thing that is wrong as a whole: that of its opening bracket. */
static void
test_refusal_of_a_whole_names_its_first_line (void)
{
  g_autofree char *text = example_trial_dup_text ();
  g_autoptr (GError) error = NULL;
  g_autofree char *spoilt = NULL;
  g_autofree char *place = NULL;
  guint line;

  spoilt = replace_first (text, "[35, 25, 6]", "[58, 5, 6]", &line);
  /* "{", id, name, kind, thickness_mm, state, painted_state, seven of the clay, edge_mm, its corners
   * and bracket, holes_mm: the brace
   * stands twenty-one lines higher. */
  place = g_strdup_printf ("line %u, pieces[2]: ", line - 21);
  g_assert_null (sherd_trial_new_from_text (spoilt, strlen (spoilt), "my.sherdboard", &error));
  g_assert_nonnull (strstr (error->message, place));
}

static void
test_every_prefix_is_refused (void)
{
  g_autofree char *text = example_trial_dup_text ();
  const gsize length = strlen (text);

  /* All but the last byte, which is only the end of the line. */
  for (gsize n = 0; n + 1 < length; n += 1 + n / 400)
    {
      g_autofree char *prefix = g_strndup (text, n);
      g_autoptr (GError) error = NULL;

      g_assert_null (sherd_trial_new_from_text (prefix, n, "cut.sherdboard", &error));
      g_assert_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_SYNTAX);
    }
}

static void
test_round_trip_gives_the_same_bytes (void)
{
  g_autofree char *text = example_trial_dup_text ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (text, strlen (text), "x", &error);
  g_autofree char *again = NULL;

  g_assert_no_error (error);
  again = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (again, ==, text);
  g_assert_false (sherd_trial_get_modified (trial));
  g_assert_false (sherd_trial_can_undo (trial));
}

static void
test_round_trip_keeps_every_value (void)
{
  g_autofree char *text = example_trial_dup_text ();
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (text, strlen (text), "x", NULL);
  g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (sherd_trial_get_measurements (trial), 0);
  const SherdZoneColour *zone = sherd_measurement_find_zone (measurement, "zone-3");
  SherdZone *second = example_zone (trial, "A2");
  SherdPhotograph *photograph = example_photograph (trial, 1);

  g_assert_cmpuint (sherd_trial_get_seed (trial), ==, 42);
  g_assert_cmpstr (sherd_paint_get_note (sherd_trial_find_paint (trial, "paint-1")), ==, "first line\n\tsecond\\line");
  g_assert_true (sherd_zone_get_paint (second) == sherd_trial_find_paint_by_code (trial, "RU 2"));
  g_assert_cmpuint (sherd_zone_get_replicate (second), ==, 3);
  g_assert_true (sherd_zone_get_locked (second));
  g_assert_cmpuint (sherd_zone_get_polygon (example_zone (trial, "A3"))->n_points, ==, 4);
  g_assert_cmpint (sherd_piece_get_state (example_piece (trial)), ==, SHERD_CLAY_DRY);
  g_assert_cmpstr (sherd_photograph_get_stage (photograph), ==, "after firing 1, after rubbing");
  g_assert_cmpfloat (sherd_photograph_get_marks (photograph)->marks[0].photo_px.x, ==, 100.25);
  g_assert_cmpfloat (sherd_photograph_get_exposure_s (photograph), ==, 0.004);
  g_assert_false (sherd_measurement_get_stale (measurement));
  g_assert_cmpfloat (zone->light[2][2], ==, 0.05 + 8.0 / 7.0);
  g_assert_cmpfloat (zone->px_per_mm, ==, 8.0 / 3.0);
  g_assert_cmpuint (sherd_measurement_get_result (measurement)->zones[1].flags, ==, (1u << 7) - 1);
  g_assert_true (isnan (sherd_measurement_get_result (measurement)->zones[1].lab.a));
}

/* Puts a member behind every opening brace, so that each object of the file has one that nobody knows. */
static char *
with_unknown_members (const char *text, guint *count)
{
  GString *out = g_string_new (NULL);

  *count = 0;
  for (const char *c = text; *c != '\0'; c++)
    {
      g_string_append_c (out, *c);
      if (*c == '{')
        g_string_append_printf (out, "\"later_%u\": {\"deep\": [1, 2.5, \"x\", null, true, {}, []]},", (*count)++);
    }
  return g_string_free (out, FALSE);
}

static void
test_unknown_members_survive_at_every_level (void)
{
  g_autofree char *text = example_trial_dup_text ();
  g_autoptr (GError) error = NULL;
  guint count;
  g_autofree char *newer = with_unknown_members (text, &count);
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (newer, strlen (newer), "x", &error);
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;
  g_autoptr (SherdTrial) again = NULL;

  g_assert_no_error (error);
  first = sherd_trial_dup_text (trial, NULL);
  /* Materials 2, oxides 2; ingredients 2, an earlier revision and its ingredients 2. Root 1, paints 2, pieces 3,
   * sides 4, zones 5; two photographs with 24 patches, 8 marks, reference and themselves; measurement 1, correction 1,
   * patches 2, zones 3. */
  g_assert_cmpuint (count, ==, 9 + 15 + 2 * 34 + 7);
  for (guint i = 0; i < count; i++)
    {
      g_autofree char *member = g_strdup_printf ("\"later_%u\": {", i);

      g_assert_nonnull (strstr (first, member));
    }
  again = sherd_trial_new_from_text (first, strlen (first), "x", &error);
  g_assert_no_error (error);
  second = sherd_trial_dup_text (again, NULL);
  g_assert_cmpstr (first, ==, second);
}

static void
test_sections_of_later_programs_survive (void)
{
  const char *text = "{\"format\": \"sherdboard-trial\", \"version\": 1, \"title\": \"t\", \"seed\": 1,\n"
                     "\"kilns\": [{\"id\": \"k1\", \"fuel\": \"alder\"}], \"firings\": [], \"ratings\": [3]}";
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (text, strlen (text), "x", &error);
  g_autofree char *out = NULL;

  g_assert_no_error (error);
  out = sherd_trial_dup_text (trial, NULL);
  g_assert_nonnull (strstr (out, "\"fuel\": \"alder\""));
  g_assert_nonnull (strstr (out, "\"firings\": []"));
  g_assert_nonnull (strstr (out, "\"ratings\": ["));
}

/* A word of a newer program is no reason to refuse the file: the measurement is kept and not trusted. */
static void
assert_kept_but_stale (const char *word, const char *newer_word)
{
  g_autofree char *text = example_trial_dup_text ();
  guint line;
  g_autofree char *newer = replace_first (text, word, newer_word, &line);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (newer, strlen (newer), "x", &error);
  g_autoptr (SherdMeasurement) measurement = NULL;
  g_autofree char *again = NULL;

  g_assert_no_error (error);
  measurement = g_list_model_get_item (sherd_trial_get_measurements (trial), 0);
  g_assert_false (sherd_measurement_is_understood (measurement));
  g_assert_true (sherd_measurement_get_stale (measurement));
  g_assert_null (sherd_trial_get_measurement (trial, example_photograph (trial, 0)));
  again = sherd_trial_dup_text (trial, NULL);
  g_assert_cmpstr (again, ==, newer);
}

static void
test_words_of_a_newer_program_survive (void)
{
  assert_kept_but_stale ("\"root-polynomial\"", "\"spline\"");
  assert_kept_but_stale ("\"flags\": []", "\"flags\": [\n            \"smoke\"\n          ]");
}

static void
test_a_measurement_whose_inputs_changed_is_stale (void)
{
  g_autofree char *text = example_trial_dup_text ();
  guint line;
  g_autofree char *moved = replace_first (text, "[100.25, 80]", "[100.5, 80]", &line);
  g_autoptr (SherdTrial) trial = sherd_trial_new_from_text (moved, strlen (moved), "x", NULL);
  g_autoptr (SherdMeasurement) measurement = g_list_model_get_item (sherd_trial_get_measurements (trial), 0);

  g_assert_true (sherd_measurement_get_stale (measurement));
  g_assert_null (sherd_trial_get_measurement (trial, example_photograph (trial, 0)));
  g_assert_true (sherd_trial_get_last_measurement (trial, example_photograph (trial, 0)) == measurement);
}

static void
test_numbers_do_not_depend_on_the_locale (void)
{
  g_autofree char *plain = example_trial_dup_text ();
  g_autofree char *german = NULL;
  g_autoptr (SherdTrial) trial = NULL;

  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") == NULL && setlocale (LC_NUMERIC, "fr_FR.UTF-8") == NULL)
    {
      g_test_skip ("no locale with a decimal comma is installed");
      return;
    }
  german = example_trial_dup_text ();
  trial = sherd_trial_new_from_text (plain, strlen (plain), "x", NULL);
  setlocale (LC_NUMERIC, "C");
  g_assert_cmpstr (german, ==, plain);
  g_assert_nonnull (trial);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (refusals); i++)
    {
      g_autofree char *name = g_strdup_printf ("/trial/reading/refuses/%s", refusals[i].what);

      g_test_add_data_func (name, &refusals[i], test_refusal);
    }
  g_test_add_func ("/trial/reading/refusal-of-a-whole-names-its-first-line",
                   test_refusal_of_a_whole_names_its_first_line);
  g_test_add_func ("/trial/reading/every-prefix-is-refused", test_every_prefix_is_refused);
  g_test_add_func ("/trial/reading/round-trip-gives-the-same-bytes", test_round_trip_gives_the_same_bytes);
  g_test_add_func ("/trial/reading/round-trip-keeps-every-value", test_round_trip_keeps_every_value);
  g_test_add_func ("/trial/reading/words-of-a-newer-program-survive", test_words_of_a_newer_program_survive);
  g_test_add_func ("/trial/reading/unknown-members-survive-at-every-level",
                   test_unknown_members_survive_at_every_level);
  g_test_add_func ("/trial/reading/sections-of-later-programs-survive", test_sections_of_later_programs_survive);
  g_test_add_func ("/trial/reading/a-measurement-whose-inputs-changed-is-stale",
                   test_a_measurement_whose_inputs_changed_is_stale);
  g_test_add_func ("/trial/reading/numbers-do-not-depend-on-the-locale", test_numbers_do_not_depend_on_the_locale);
  return g_test_run ();
}
