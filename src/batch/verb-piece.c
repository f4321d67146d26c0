/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "batch/words.h"
#include "shape/preset.h"
#include "shape/profile-text.h"
#include "trial/edits.h"
#include "trial/form-edits.h"
#include "trial/piece-results.h"
#include "trial/piece-surface.h"
#include "trial/zone-shape-edits.h"

/* Common practice, no source: what a thrown or built wall measures, and a finger's breadth of bare clay. */
#define DEFAULT_WALL_MM 6.0
#define DEFAULT_BARE_MM 8.0
#define DEFAULT_GAP_MM 4.0

/* What was asked for on the command line; GOption fills it. */
typedef struct
{
  char *add;
  char *name;
  char *piece;
  char *side;
  char *size;
  char *profile;
  double rim_mm;
  double foot_mm;
  double height_mm;
  double greatest_mm;
  double greatest_height_mm;
  double neck_mm;
  double neck_height_mm;
  double wall_mm;
  double floor_mm;
  char *rings;
  char *from_to;
  char *azimuths;
  double gap_mm;
  char *ground;
  gboolean csv;
  gboolean json;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->add);
  g_free (wishes->name);
  g_free (wishes->piece);
  g_free (wishes->side);
  g_free (wishes->size);
  g_free (wishes->profile);
  g_free (wishes->rings);
  g_free (wishes->from_to);
  g_free (wishes->azimuths);
  g_free (wishes->ground);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

typedef struct
{
  const char *word;
  SherdPreset preset;
} Preset;

static const Preset presets[] = {
  { "bowl", SHERD_PRESET_BOWL }, { "dish", SHERD_PRESET_DISH },         { "plate", SHERD_PRESET_PLATE },
  { "cup", SHERD_PRESET_CUP },   { "cylinder", SHERD_PRESET_CYLINDER }, { "jar", SHERD_PRESET_JAR },
};

static const Preset *
find_preset (const char *word)
{
  for (gsize i = 0; i < G_N_ELEMENTS (presets); i++)
    if (g_str_equal (presets[i].word, word))
      return &presets[i];
  return NULL;
}

/* 0: nothing was told. What cannot be is refused by the shape. */
static void
take (double wished, double *measure)
{
  if (wished != 0.0)
    *measure = wished;
}

/* (transfer full): what was not told is that of the example */
static GArray *
preset_points (const Preset *preset, const Wishes *wishes, GError **error)
{
  SherdMeasures measures = sherd_preset_example (preset->preset);

  take (wishes->rim_mm, &measures.rim_diameter_mm);
  take (wishes->foot_mm, &measures.foot_diameter_mm);
  take (wishes->height_mm, &measures.height_mm);
  take (wishes->greatest_mm, &measures.greatest_diameter_mm);
  take (wishes->greatest_height_mm, &measures.greatest_height_mm);
  take (wishes->neck_mm, &measures.neck_diameter_mm);
  take (wishes->neck_height_mm, &measures.neck_height_mm);
  return sherd_preset_points (preset->preset, &measures, error);
}

static GArray *
profile_points (const char *path, GError **error)
{
  g_autofree char *text = NULL;

  return g_file_get_contents (path, &text, NULL, error) ? sherd_profile_points_from_text (text, error) : NULL;
}

static SherdPiece *
add_vessel (SherdTrial *trial, const char *name, const Wishes *wishes, GError **error)
{
  const Preset *preset = find_preset (wishes->add);
  g_autoptr (GArray) points =
    wishes->profile != NULL ? profile_points (wishes->profile, error) : preset_points (preset, wishes, error);
  g_autoptr (SherdForm) form = sherd_form_new ();

  if (points == NULL)
    return NULL;
  sherd_form_set_outside (form, (const SherdProfilePoint *)(gpointer)points->data, points->len);
  form->floor_mm = wishes->floor_mm;
  return sherd_trial_add_piece (trial, name, SHERD_PIECE_VESSEL, 0.0, 0.0, wishes->wall_mm, form, SHERD_CLAY_DRY,
                                error);
}

static SherdPiece *
add_slab (SherdTrial *trial, const char *name, const Wishes *wishes, GError **error)
{
  const gboolean is_disc = g_str_equal (wishes->add, "disc");
  double size_mm[3] = { 0.0, 0.0, 0.0 };

  if (wishes->size == NULL)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("A tile or disc needs --size, as 150x100x8 or 120x120x8."));
      return NULL;
    }
  if (!sherd_words_size ("size", wishes->size, size_mm, 3, 2, error))
    return NULL;
  return sherd_trial_add_piece (trial, name, is_disc ? SHERD_PIECE_DISC : SHERD_PIECE_TILE, size_mm[0],
                                is_disc ? size_mm[0] : size_mm[1], size_mm[2], NULL, SHERD_CLAY_DRY, error);
}

static SherdPiece *
add_piece (SherdTrial *trial, const Wishes *wishes, GError **error)
{
  const guint number = g_list_model_get_n_items (sherd_trial_get_pieces (trial)) + 1;
  g_autofree char *name = wishes->name != NULL ? g_strdup (wishes->name) : g_strdup_printf (_ ("Piece %u"), number);

  if (g_str_equal (wishes->add, "tile") || g_str_equal (wishes->add, "disc"))
    return add_slab (trial, name, wishes, error);
  if (find_preset (wishes->add) != NULL || (g_str_equal (wishes->add, "vessel") && wishes->profile != NULL))
    return add_vessel (trial, name, wishes, error);
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("“%s” does not fit --add, which is tile, disc, bowl, dish, plate, cup, cylinder, jar, or vessel with "
                  "--profile."),
               wishes->add);
  return NULL;
}

static gboolean
lay_rings (SherdTrial *trial, SherdPiece *piece, SherdSide *side, const Wishes *wishes, GError **error)
{
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), error);
  double arcs_mm[2] = { DEFAULT_BARE_MM, 0.0 }, azimuths_deg[2] = { 0.0, 360.0 };
  SherdRingGrid grid = { .gap_mm = wishes->gap_mm };

  if (surface == NULL)
    return FALSE;
  if (sherd_piece_is_vessel (piece))
    arcs_mm[1] = sherd_profile_length_mm (sherd_piece_surface_get (surface)->profile) - DEFAULT_BARE_MM;
  if (!sherd_words_rows_columns ("rings", wishes->rings, &grid.n_rings, &grid.n_sectors, error) ||
      (wishes->from_to != NULL && !sherd_words_numbers ("from-to", wishes->from_to, arcs_mm, 2, FALSE, error)) ||
      (wishes->azimuths != NULL && !sherd_words_numbers ("azimuths", wishes->azimuths, azimuths_deg, 2, FALSE, error)))
    return FALSE;
  grid.whole = (SherdRange){ azimuths_deg[0], azimuths_deg[1], arcs_mm[0], arcs_mm[1] };
  return sherd_trial_set_ring_grid (trial, piece, side, &grid, error);
}

static gboolean
change_side (SherdTrial *trial, SherdPiece *piece, const Wishes *wishes, GError **error)
{
  const char *first = sherd_piece_kind_get_sides (sherd_piece_get_kind (piece))[0];
  SherdSide *side = sherd_piece_find_side_by_name (piece, wishes->side != NULL ? wishes->side : first);

  if (side == NULL)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("“%s” has no side “%s”."),
                   sherd_piece_get_name (piece), wishes->side);
      return FALSE;
    }
  if (wishes->ground != NULL)
    sherd_trial_set_side_ground (trial, side, wishes->ground);
  return wishes->rings == NULL || lay_rings (trial, piece, side, wishes, error);
}

static gboolean
change (SherdTrial *trial, const Wishes *wishes, GError **error)
{
  SherdPiece *piece;

  if (wishes->add == NULL && wishes->rings == NULL && wishes->ground == NULL)
    return TRUE;
  piece =
    wishes->add != NULL ? add_piece (trial, wishes, error) : sherd_verb_choose_piece (trial, wishes->piece, error);
  return piece != NULL && change_side (trial, piece, wishes, error) && sherd_verb_save (trial, error);
}

static void
print_pieces (SherdTrial *trial, const Wishes *wishes)
{
  g_autoptr (SherdTable) table = sherd_results_pieces (trial);
  JsonObject *document;

  if (!wishes->json)
    {
      sherd_verb_print_table (table, wishes->csv);
      return;
    }
  document = json_object_new ();
  json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
  json_object_set_member (document, "sides", sherd_table_to_json (table));
  sherd_verb_print_json ("sherd-piece", document);
}

/* (nullable): why the options do not belong together */
static const char *
find_contradiction (const Wishes *wishes)
{
  if (wishes->csv && wishes->json)
    return _ ("Take either --csv or --json.");
  if (wishes->add != NULL && wishes->piece != NULL)
    return _ ("Take either --add, for a new piece, or --piece, for one that is there.");
  if (wishes->rings == NULL && (wishes->from_to != NULL || wishes->azimuths != NULL))
    return _ ("--from-to and --azimuths belong to --rings.");
  if (wishes->add == NULL && (wishes->size != NULL || wishes->profile != NULL || wishes->name != NULL))
    return _ ("--size, --profile and --name belong to --add.");
  return NULL;
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { .wall_mm = DEFAULT_WALL_MM, .gap_mm = DEFAULT_GAP_MM };
  const GOptionEntry entries[] = {
    { "add", 'a', 0, G_OPTION_ARG_STRING, &wishes.add,
      N_ ("Add a tile, disc, bowl, dish, plate, cup, cylinder, jar, or a vessel with --profile"), N_ ("KIND") },
    { "name", 0, 0, G_OPTION_ARG_STRING, &wishes.name, N_ ("What the new piece is called"), N_ ("NAME") },
    { "size", 0, 0, G_OPTION_ARG_STRING, &wishes.size,
      N_ ("Of a tile: width x height x thickness; of a disc: diameter "
          "twice and thickness, mm"),
      N_ ("WxHxT") },
    { "profile", 0, 0, G_OPTION_ARG_FILENAME, &wishes.profile,
      N_ ("Outside of a vessel from a table: radius, height, and 1 at corners, from foot to lip"), N_ ("FILE") },
    { "rim", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.rim_mm, N_ ("Diameter of the rim"), "MM" },
    { "foot", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.foot_mm, N_ ("Diameter of the foot"), "MM" },
    { "height", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.height_mm, N_ ("Height"), "MM" },
    { "greatest", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.greatest_mm, N_ ("Greatest diameter of a jar"), "MM" },
    { "greatest-height", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.greatest_height_mm, N_ ("How high that is"), "MM" },
    { "neck", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.neck_mm, N_ ("Narrowest diameter of a jar's neck"), "MM" },
    { "neck-height", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.neck_height_mm, N_ ("How high that is"), "MM" },
    { "wall", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.wall_mm, N_ ("Thickness of the wall (6 unless told)"), "MM" },
    { "floor", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.floor_mm, N_ ("Thickness of the floor (as the wall unless told)"),
      "MM" },
    { "piece", 'p', 0, G_OPTION_ARG_STRING, &wishes.piece, N_ ("A piece that is there"), N_ ("NAME") },
    { "side", 0, 0, G_OPTION_ARG_STRING, &wishes.side,
      N_ ("Side: face, back, outside or inside (the first unless told)"), N_ ("SIDE") },
    { "ground", 0, 0, G_OPTION_ARG_STRING, &wishes.ground, N_ ("What lies under the paint on that side"), N_ ("TEXT") },
    { "rings", 0, 0, G_OPTION_ARG_STRING, &wishes.rings, N_ ("Lay the side out in rings x sectors"), N_ ("RxS") },
    { "from-to", 0, 0, G_OPTION_ARG_STRING, &wishes.from_to,
      N_ ("Rings begin and end so far from the lip along the wall, mm"), "MM,MM" },
    { "azimuths", 0, 0, G_OPTION_ARG_STRING, &wishes.azimuths,
      N_ ("Sectors begin and end at these azimuths, degrees (0,360 unless told)"), "DEG,DEG" },
    { "gap", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.gap_mm, N_ ("Bare clay between zones (4 unless told)"), "MM" },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &wishes.csv, N_ ("Print comma-separated values"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("Print JSON"), NULL },
    G_OPTION_ENTRY_NULL
  };
  SherdExit status;
  const char *contradiction;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = NULL;

  if (!sherd_verb_parse (verb, entries, arguments, 1, &status))
    return status;
  contradiction = find_contradiction (&wishes);
  if (contradiction != NULL)
    return sherd_verb_wrong_command (verb, contradiction);
  trial = sherd_verb_load ((*arguments)[1], &error);
  if (trial == NULL)
    return sherd_verb_wrong_input (error);
  change (trial, &wishes, &error);
  if (error != NULL)
    return sherd_verb_refuse (verb, error);
  print_pieces (trial, &wishes);
  return SHERD_EXIT_DONE;
}

const SherdVerb sherd_verb_piece = {
  .name = "piece",
  .operands = N_ ("FILE"),
  .summary = N_ ("List the pieces with area and mass, add one, or lay a vessel out in rings"),
  .example = "sherd piece demo.sherdboard --add dish --name Dish --rim 180 --rings 2x7 --side inside",
  .run = run,
};
