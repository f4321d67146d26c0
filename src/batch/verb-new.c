/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "batch/words.h"
#include "trial/edits.h"
#include "trial/format.h"

/* Common practice, no source: a finger's breadth of bare clay keeps zones apart and gives the light a ground to stand
 * on.
 */
#define DEFAULT_MARGIN_MM 6.0
#define DEFAULT_GAP_MM 4.0

/* What was asked for on the command line; GOption fills it. */
typedef struct
{
  char *title;
  char *piece;
  char *tile;
  char *state;
  char *ground;
  char *grid;
  char *margin;
  char *gap;
  char *fill;
  char **zones;
  char **paints;
  gboolean force;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->title);
  g_free (wishes->piece);
  g_free (wishes->tile);
  g_free (wishes->state);
  g_free (wishes->ground);
  g_free (wishes->grid);
  g_free (wishes->margin);
  g_free (wishes->gap);
  g_free (wishes->fill);
  g_strfreev (wishes->zones);
  g_strfreev (wishes->paints);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
read_state (const char *text, SherdClayState *state, GError **error)
{
  g_autoptr (GEnumClass) states = g_type_class_ref (SHERD_TYPE_CLAY_STATE);
  GEnumValue *value = text != NULL ? g_enum_get_value_by_nick (states, text) : NULL;

  *state = SHERD_CLAY_DRY;
  if (text == NULL)
    return TRUE;
  if (value == NULL)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("“%s” does not fit --state, which is leather-hard, dry or fired."), text);
      return FALSE;
    }
  *state = (SherdClayState)value->value;
  return TRUE;
}

static gboolean
add_paints (SherdTrial *trial, char **paints, GError **error)
{
  for (guint i = 0; paints != NULL && paints[i] != NULL; i++)
    {
      g_autofree char *name = NULL;
      g_autofree char *code = sherd_words_pair ("paint", paints[i], &name, error);

      if (code == NULL || sherd_trial_add_paint (trial, code, name, error) == NULL)
        return FALSE;
    }
  return TRUE;
}

static SherdPiece *
add_tile (SherdTrial *trial, const Wishes *wishes, GError **error)
{
  double size_mm[3] = { 0.0, 0.0, 0.0 };
  SherdClayState state;

  if (!sherd_words_size ("tile", wishes->tile, size_mm, 3, 2, error) || !read_state (wishes->state, &state, error))
    return NULL;
  return sherd_trial_add_tile (trial, wishes->piece != NULL ? wishes->piece : _ ("Tile 1"), size_mm[0], size_mm[1],
                               size_mm[2], state, error);
}

static gboolean
read_grid (const Wishes *wishes, SherdGrid *grid, GError **error)
{
  guint n_rows;
  guint n_columns;
  double margin_mm[4] = { DEFAULT_MARGIN_MM, DEFAULT_MARGIN_MM, DEFAULT_MARGIN_MM, DEFAULT_MARGIN_MM };
  double gap_mm[2] = { DEFAULT_GAP_MM, DEFAULT_GAP_MM };

  if (!sherd_words_rows_columns ("zones", wishes->grid, &n_rows, &n_columns, error) ||
      (wishes->margin != NULL && !sherd_words_numbers ("margin", wishes->margin, margin_mm, 4, TRUE, error)) ||
      (wishes->gap != NULL && !sherd_words_numbers ("gap", wishes->gap, gap_mm, 2, TRUE, error)))
    return FALSE;
  *grid = (SherdGrid){
    .n_rows = n_rows,
    .n_columns = n_columns,
    .left_mm = margin_mm[0],
    .top_mm = margin_mm[1],
    .right_mm = margin_mm[2],
    .bottom_mm = margin_mm[3],
    .gap_x_mm = gap_mm[0],
    .gap_y_mm = gap_mm[1],
  };
  return TRUE;
}

/* "A1=6,67.3,31.5,26.7" or with a paint's code behind: "A1=6,67.3,31.5,26.7=HB". */
static gboolean
add_zone (SherdTrial *trial, SherdPiece *piece, SherdSide *side, const char *text, GError **error)
{
  g_autofree char *rest = NULL;
  g_autofree char *code = sherd_words_pair ("zone", text, &rest, error);
  char *paint;
  double numbers[4];
  SherdRectangle rectangle;
  SherdZone *zone;

  if (code == NULL)
    return FALSE;
  paint = strchr (rest, '=');
  if (paint != NULL)
    *paint++ = '\0';
  if (!sherd_words_numbers ("zone", rest, numbers, 4, FALSE, error))
    return FALSE;
  rectangle = (SherdRectangle){
    .x_mm = numbers[0],
    .y_mm = numbers[1],
    .width_mm = numbers[2],
    .height_mm = numbers[3],
  };
  zone = sherd_trial_add_zone (trial, piece, side, code, &rectangle, error);
  if (zone == NULL)
    g_prefix_error (error, "--zone %s: ", text);
  return zone != NULL && sherd_trial_set_zones_paint (trial, &zone, 1, paint, error);
}

/* (transfer full) (nullable): the codes of --fill, each without spaces around it */
static GStrv
read_fill (const char *text, guint n_zones, GError **error)
{
  g_auto (GStrv) codes = g_strsplit (text, ",", -1);
  const guint n_codes = g_strv_length (codes);
  gboolean has_gap = n_codes == 0;

  for (guint i = 0; i < n_codes; i++)
    has_gap = *g_strstrip (codes[i]) == '\0' || has_gap;
  if (has_gap)
    g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                 _ ("“%s” does not fit --fill, which is written as codes with commas between them, “HB,-,HB”."), text);
  else if (n_codes > n_zones)
    g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                 _ ("--fill names %u paints, but the face has only %u zones."), n_codes, n_zones);
  else
    return g_steal_pointer (&codes);
  return NULL;
}

/* Paint codes zone by zone in reading order; "-" leaves a zone bare; the row begins again when it is too short. */
static gboolean
fill_zones (SherdTrial *trial, SherdSide *side, const char *text, GError **error)
{
  GListModel *zones = sherd_side_get_zones (side);
  const guint n_zones = g_list_model_get_n_items (zones);
  g_auto (GStrv) codes = read_fill (text, n_zones, error);
  const guint n_codes = codes != NULL ? g_strv_length (codes) : 0;

  for (guint i = 0; n_codes > 0 && i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      const char *code = codes[i % n_codes];

      if (!sherd_trial_set_zones_paint (trial, &zone, 1, g_str_equal (code, "-") ? NULL : code, error))
        return FALSE;
    }
  return codes != NULL;
}

static gboolean
lay_zones (SherdTrial *trial, SherdPiece *piece, const Wishes *wishes, GError **error)
{
  SherdSide *face = sherd_piece_find_side_by_name (piece, "face");
  SherdGrid grid;

  if (wishes->ground != NULL)
    sherd_trial_set_side_ground (trial, face, wishes->ground);
  if (wishes->grid != NULL &&
      (!read_grid (wishes, &grid, error) || !sherd_trial_set_zone_grid (trial, piece, face, &grid, error)))
    return FALSE;
  for (guint i = 0; wishes->zones != NULL && wishes->zones[i] != NULL; i++)
    if (!add_zone (trial, piece, face, wishes->zones[i], error))
      return FALSE;
  return wishes->fill == NULL || fill_zones (trial, face, wishes->fill, error);
}

static SherdTrial *
make_trial (const Wishes *wishes, GError **error)
{
  g_autoptr (SherdTrial) trial = sherd_trial_new ();
  SherdPiece *piece;

  sherd_trial_begin_edit (trial, _ ("New trial"));
  if (wishes->title != NULL)
    sherd_trial_set (trial, trial, "title", wishes->title);
  sherd_trial_end_edit (trial);
  if (!add_paints (trial, wishes->paints, error))
    return NULL;
  if (wishes->tile != NULL)
    {
      piece = add_tile (trial, wishes, error);
      if (piece == NULL || !lay_zones (trial, piece, wishes, error))
        return NULL;
    }
  return g_steal_pointer (&trial);
}

/* A code mistyped in --fill or --zone would otherwise be a paint of its own, unseen. */
static void
tell_new_codes (SherdTrial *trial, guint n_named)
{
  GListModel *paints = sherd_trial_get_paints (trial);
  g_autoptr (GString) codes = g_string_new (NULL);
  g_autofree char *message = NULL;

  for (guint i = n_named; i < g_list_model_get_n_items (paints); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (paints, i);

      g_string_append_printf (codes, "%s%s", codes->len > 0 ? ", " : "", sherd_paint_get_code (paint));
    }
  if (codes->len == 0)
    return;
  message =
    g_strdup_printf (_ ("No --paint gives these codes a name, so each was made a paint without one: %s."), codes->str);
  sherd_verb_warn (message);
}

/* "spring" and "spring.sherdboard" are the same. */
static char *
dup_trial_path (const char *path)
{
  if (g_str_has_suffix (path, SHERD_TRIAL_SUFFIX))
    return g_strdup (path);
  return g_strconcat (path, SHERD_TRIAL_SUFFIX, NULL);
}

static gboolean
names_folder (const char *path)
{
  return g_str_has_suffix (path, G_DIR_SEPARATOR_S) || g_file_test (path, G_FILE_TEST_IS_DIR);
}

static SherdExit
save_new (SherdTrial *trial, const char *path, gboolean force)
{
  g_autofree char *with_suffix = dup_trial_path (path);
  g_autofree char *remark = NULL;
  g_autoptr (GError) error = NULL;

  if (!force && g_file_test (with_suffix, G_FILE_TEST_EXISTS))
    {
      g_printerr (_ ("sherd: “%s” exists already and was left alone. Choose another name, or say --force."),
                  with_suffix);
      g_printerr ("\n");
      return SHERD_EXIT_WRONG_INPUT;
    }
  if (!sherd_trial_save_as (trial, with_suffix, &remark, &error))
    return sherd_verb_wrong_input (error);
  if (remark != NULL)
    sherd_verb_warn (remark);
  sherd_verb_say (_ ("Made “%s”."), with_suffix);
  return SHERD_EXIT_DONE;
}

static SherdExit
folder_given (const char *path)
{
  g_printerr (_ ("sherd: “%s” is a folder. Name the trial's file in it, like “%s”."), path, "spring.sherdboard");
  g_printerr ("\n");
  return SHERD_EXIT_WRONG_INPUT;
}

/* (nullable): why the options do not belong together */
static const char *
find_contradiction (const Wishes *wishes)
{
  gboolean lays_zones = wishes->grid != NULL || wishes->zones != NULL;

  if (wishes->tile == NULL &&
      (lays_zones || wishes->fill != NULL || wishes->piece != NULL || wishes->state != NULL || wishes->ground != NULL))
    return _ ("Zones, ground and name need a piece: say its size with --tile.");
  if (wishes->grid == NULL && (wishes->margin != NULL || wishes->gap != NULL))
    return _ ("--margin and --gap belong to a grid: say its rows x columns with --zones.");
  if (!lays_zones && wishes->fill != NULL)
    return _ ("--fill needs zones: lay them with --zones or --zone.");
  return NULL;
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { 0 };
  const GOptionEntry entries[] = {
    { "title", 't', 0, G_OPTION_ARG_STRING, &wishes.title, N_ ("What the trial is about"), N_ ("TEXT") },
    { "tile", 0, 0, G_OPTION_ARG_STRING, &wishes.tile, N_ ("Add a tile, mm: width x height x thickness"), "WxH[xT]" },
    { "piece", 'p', 0, G_OPTION_ARG_STRING, &wishes.piece, N_ ("Name of the tile"), N_ ("NAME") },
    { "state", 0, 0, G_OPTION_ARG_STRING, &wishes.state,
      N_ ("State of the clay when it was measured: leather-hard, dry or fired"), N_ ("STATE") },
    { "ground", 'g', 0, G_OPTION_ARG_STRING, &wishes.ground, N_ ("What lies under the paint on the face"),
      N_ ("TEXT") },
    { "zones", 'z', 0, G_OPTION_ARG_STRING, &wishes.grid, N_ ("Lay a grid of zones on the face: rows x columns"),
      "RxC" },
    { "margin", 0, 0, G_OPTION_ARG_STRING, &wishes.margin,
      N_ ("Bare edge around the grid, mm: one number, or left,top,right,bottom"), "MM" },
    { "gap", 0, 0, G_OPTION_ARG_STRING, &wishes.gap, N_ ("Bare clay between zones, mm: one number, or x,y"), "MM" },
    { "zone", 0, 0, G_OPTION_ARG_STRING_ARRAY, &wishes.zones,
      N_ ("Add one zone, mm from the top left corner of the face, with its paint; may be repeated"),
      "CODE=X,Y,W,H[=PAINT]" },
    { "paint", 0, 0, G_OPTION_ARG_STRING_ARRAY, &wishes.paints, N_ ("Add a paint; may be repeated"), N_ ("CODE=NAME") },
    { "fill", 'f', 0, G_OPTION_ARG_STRING, &wishes.fill,
      N_ ("Paints of the zones in reading order, “-” for bare, over and over; a new code makes a paint"),
      N_ ("CODE,CODE,…") },
    { "force", 0, 0, G_OPTION_ARG_NONE, &wishes.force, N_ ("Replace a trial of that name"), NULL },
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
  if (names_folder ((*arguments)[1]))
    return folder_given ((*arguments)[1]);
  trial = make_trial (&wishes, &error);
  if (trial == NULL)
    return sherd_verb_refuse (verb, error);
  status = save_new (trial, (*arguments)[1], wishes.force);
  if (status == SHERD_EXIT_DONE)
    tell_new_codes (trial, wishes.paints != NULL ? g_strv_length (wishes.paints) : 0);
  return status;
}

const SherdVerb sherd_verb_new = {
  .name = "new",
  .operands = N_ ("FILE"),
  .summary = N_ ("Make a trial, with a tile, its zones and paints"),
  .example = "sherd new spring.sherdboard --tile 150x100x8 --zones 3x4 --paint \"HB=Hearth black\" --fill HB,-",
  .run = run,
};
