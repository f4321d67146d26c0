/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/filling.h"
#include "trial/format.h"
#include "trial/layout-results.h"
#include "trial/layout.h"
#include "trial/scatter.h"
#include "trial/zone-codes.h"

/* Our choice: twice what can just be seen where two even patches touch. */
#define DEFAULT_SHIFT_DE00 2.0

/* What a trial can keep (trial/trial.h), so that other readers of JSON keep it exactly too. */
#define MAX_SEED (G_GINT64_CONSTANT (1) << 53)
#define NO_SEED G_MININT64

typedef struct
{
  char *piece;
  char *side;
  char *fill;
  char *paints;
  int n_replicates;
  int n_controls;
  char *block;
  gint64 seed;
  gboolean keep_apart;
  gboolean codes;
  gboolean check;
  double shift_de00;
  gboolean csv;
  gboolean json;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->piece);
  g_free (wishes->side);
  g_free (wishes->fill);
  g_free (wishes->paints);
  g_free (wishes->block);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

/* Which of @words is @text; @fallback for NULL; -1 and an error for none. */
static int
read_choice (const char *option, const char *text, const char *const *words, int fallback, GError **error)
{
  g_autofree char *all = g_strjoinv (", ", (char **)words);

  if (text == NULL)
    return fallback;
  for (int i = 0; words[i] != NULL; i++)
    if (g_str_equal (words[i], text))
      return i;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("“%s” does not fit --%s, which is one of: %s."),
               text, option, all);
  return -1;
}

static gboolean
read_order (const Wishes *wishes, SherdFilling *filling, GError **error)
{
  /* In the order of SherdFillOrder and SherdBlockKind; a ring is a row that goes round. */
  static const char *const orders[] = { "order", "random", "blocks", NULL };
  static const char *const blocks[] = { "row", "side", "piece", "ring", NULL };
  const int order = read_choice ("fill", wishes->fill, orders, SHERD_FILL_IN_ORDER, error);
  const int block = order >= 0 ? read_choice ("block", wishes->block, blocks, SHERD_BLOCK_ROW, error) : -1;

  if (block < 0)
    return FALSE;
  filling->order = (SherdFillOrder)order;
  filling->block = g_strcmp0 (wishes->block, "ring") == 0 ? SHERD_BLOCK_ROW : (SherdBlockKind)block;
  return TRUE;
}

/* All that are no slips. */
static GPtrArray *
list_paints (SherdTrial *trial)
{
  GListModel *all = sherd_trial_get_paints (trial);
  GPtrArray *paints = g_ptr_array_new ();

  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      g_autoptr (SherdPaint) paint = g_list_model_get_item (all, i);

      if (sherd_paint_get_kind (paint) == SHERD_PAINT_PAINT)
        g_ptr_array_add (paints, paint);
    }
  return paints;
}

static GPtrArray *
find_paints (SherdTrial *trial, const char *text, GError **error)
{
  g_auto (GStrv) codes = g_strsplit (text, ",", -1);

  for (guint i = 0; codes[i] != NULL; i++)
    g_strstrip (codes[i]);
  return sherd_verb_find_paints (trial, codes, error);
}

/* All pieces and sides, unless one is asked for. */
static gboolean
choose_places (SherdTrial *trial, const Wishes *wishes, SherdFilling *filling, GError **error)
{
  if (wishes->side != NULL)
    return sherd_verb_choose_side (trial, wishes->piece, wishes->side, &filling->piece, &filling->side, error);
  if (wishes->piece != NULL)
    filling->piece = sherd_verb_choose_piece (trial, wishes->piece, error);
  return wishes->piece == NULL || filling->piece != NULL;
}

static void
warn_of_touching (guint n_touching)
{
  g_autofree char *warning = g_strdup_printf (
    ngettext ("%u pair of neighbours carries the same paint all the same; with more paints it could be avoided.",
              "%u pairs of neighbours carry the same paint all the same; with more paints it could be avoided.",
              n_touching),
    n_touching);

  if (n_touching > 0)
    sherd_verb_warn (warning);
}

static gboolean
fill_zones (SherdTrial *trial, const Wishes *wishes, SherdFilling *filling, SherdFill *fill, GError **error)
{
  g_autoptr (GPtrArray) paints =
    wishes->paints != NULL ? find_paints (trial, wishes->paints, error) : list_paints (trial);

  if (paints == NULL || !read_order (wishes, filling, error))
    return FALSE;
  filling->paints = (SherdPaint *const *)paints->pdata;
  filling->n_paints = paints->len;
  filling->n_replicates = (guint)wishes->n_replicates;
  filling->n_controls = (guint)wishes->n_controls;
  filling->keep_apart = wishes->keep_apart;
  filling->seed = wishes->seed != NO_SEED ? (guint64)wishes->seed : sherd_trial_get_seed (trial);
  if (!sherd_trial_fill_zones (trial, filling, fill, error))
    return FALSE;
  warn_of_touching (fill->n_touching);
  return TRUE;
}

static JsonObject *
start_json (SherdTrial *trial)
{
  JsonObject *document = json_object_new ();

  json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
  json_object_set_int_member (document, "seed", (gint64)sherd_trial_get_seed (trial));
  return document;
}

static void
print_zones (SherdTrial *trial, const Wishes *wishes, const SherdFilling *filling, const SherdFill *fill)
{
  g_autoptr (SherdTable) table = sherd_results_layout (trial, filling->piece, filling->side);
  JsonObject *document;

  if (!wishes->json)
    {
      sherd_verb_print_table (table, wishes->csv);
      return;
    }
  document = start_json (trial);
  json_object_set_int_member (document, "replicates", fill->n_replicates);
  json_object_set_int_member (document, "controls", fill->n_controls);
  json_object_set_int_member (document, "spare", fill->n_spare);
  json_object_set_int_member (document, "touching", fill->n_touching);
  json_object_set_member (document, "zones", sherd_table_to_json (table));
  sherd_verb_print_json ("sherd-layout", document);
}

static JsonObject *
replicates_to_json (const SherdReplicates *replicates)
{
  JsonObject *object = json_object_new ();

  json_object_set_double_member (object, "shift_de00", replicates->shift_de00);
  json_object_set_double_member (object, "scatter_de00", replicates->scatter_de00);
  json_object_set_int_member (object, "scatter_measured_df", replicates->n_scatter_df);
  if (replicates->n_needed > 0)
    json_object_set_int_member (object, "replicates_needed", replicates->n_needed);
  else
    json_object_set_null_member (object, "replicates_needed");
  json_object_set_int_member (object, "replicates_laid", replicates->n_laid);
  json_object_set_double_member (object, "power", replicates->power_now);
  return object;
}

static void
print_replicates (const SherdReplicates *replicates)
{
  g_autofree char *shift = sherd_format_number (replicates->shift_de00, 1);
  g_autofree char *scatter = sherd_format_number (replicates->scatter_de00, 1);
  g_autofree char *seen = sherd_format_frac (replicates->power_now);
  g_autofree char *source =
    replicates->n_scatter_df > 0
      ? g_strdup_printf (_ ("scatter %s ΔE00, measured, %u degrees of freedom"), scatter, replicates->n_scatter_df)
      : g_strdup_printf (_ ("scatter %s ΔE00, assumed: no replicates are measured yet"), scatter);

  if (replicates->n_needed > 0)
    sherd_verb_say (_ ("To see a difference of %s ΔE00 between two paints in 80 of 100 cases, lay each %u times (%s)."),
                    shift, replicates->n_needed, source);
  else
    sherd_verb_say (_ ("A difference of %s ΔE00 between two paints cannot be seen by repeating alone (%s)."), shift,
                    source);
  sherd_verb_say (_ ("As it is laid (fewest: %u times) it is seen in %s of cases."), replicates->n_laid, seen);
}

/* "share of malachite: can be told", and the remedy below it. */
static void
print_question (const SherdLayout *layout, const SherdDesign *design, guint number, guint64 seed)
{
  const SherdRepair repair = sherd_repair_find (layout, design, number, seed);
  g_autofree char *answer = sherd_design_describe (layout, &design->verdicts[number]);
  g_autofree char *remedy = sherd_repair_describe (layout, &repair);

  sherd_verb_say ("%s: %s", sherd_layout_get_factor (layout, number)->name, answer);
  if (remedy != NULL)
    sherd_verb_say ("    %s", remedy);
}

static void
print_check_text (SherdTrial *trial, const SherdLayout *layout, const SherdDesign *design, double shift_de00)
{
  const SherdReplicates replicates = sherd_trial_judge_replicates (trial, shift_de00);

  for (guint i = 0; i < design->n_verdicts; i++)
    print_question (layout, design, i, sherd_trial_get_seed (trial));
  print_replicates (&replicates);
}

static void
print_check_json (SherdTrial *trial, const SherdTable *questions, double shift_de00)
{
  const SherdReplicates replicates = sherd_trial_judge_replicates (trial, shift_de00);
  JsonObject *document = start_json (trial);

  json_object_set_member (document, "questions", sherd_table_to_json (questions));
  json_object_set_object_member (document, "replicates_for", replicates_to_json (&replicates));
  sherd_verb_print_json ("sherd-layout-check", document);
}

static void
print_check (SherdTrial *trial, const Wishes *wishes)
{
  g_autoptr (SherdLayout) layout = sherd_trial_layout_new (trial);
  g_autoptr (SherdDesign) design = sherd_design_new (layout, TRUE);
  g_autoptr (SherdTable) table = NULL;

  if (!wishes->csv && !wishes->json)
    {
      print_check_text (trial, layout, design, wishes->shift_de00);
      return;
    }
  table = sherd_results_design (layout, design, sherd_trial_get_seed (trial));
  if (wishes->csv)
    sherd_verb_print_table (table, TRUE);
  else
    print_check_json (trial, table, wishes->shift_de00);
}

/* (nullable): why the options do not belong together */
static const char *
find_contradiction (const Wishes *wishes)
{
  if (wishes->csv && wishes->json)
    return _ ("Take either --csv or --json.");
  if (wishes->fill == NULL && !wishes->codes && !wishes->check)
    return _ (
      "Say how to lay the paints with --fill, name the zones anew with --codes, or ask what the layout can tell "
      "with --check.");
  if (wishes->codes && wishes->side != NULL)
    return _ ("--codes names all zones of a piece: leave --side out.");
  if (wishes->fill == NULL && (wishes->paints != NULL || wishes->n_replicates != 0 || wishes->n_controls != 0 ||
                               wishes->block != NULL || wishes->seed != NO_SEED || wishes->keep_apart))
    return _ ("Paints, replicates, controls, blocks and seed belong to --fill.");
  if (wishes->block != NULL && g_strcmp0 (wishes->fill, "blocks") != 0)
    return _ ("--block belongs to --fill blocks.");
  if (wishes->n_replicates < 0 || wishes->n_controls < 0)
    return _ ("Replicates and controls are 0 or more.");
  if (wishes->seed != NO_SEED && (wishes->seed < 0 || wishes->seed > MAX_SEED))
    return _ ("--seed is a whole number from 0 to 9007199254740992.");
  if (!(wishes->shift_de00 > 0.0 && wishes->shift_de00 <= 100.0))
    return _ ("--shift is a difference above 0 and up to 100 ΔE00.");
  return NULL;
}

static gboolean
set_codes (SherdTrial *trial, SherdPiece *only, GError **error)
{
  GListModel *pieces = sherd_trial_get_pieces (trial);

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) piece = g_list_model_get_item (pieces, i);

      if ((only == NULL || piece == only) && !sherd_trial_set_reading_codes (trial, piece, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
change (SherdTrial *trial, const Wishes *wishes, SherdFilling *filling, SherdFill *fill, GError **error)
{
  if (!choose_places (trial, wishes, filling, error))
    return FALSE;
  if (wishes->codes && !set_codes (trial, filling->piece, error))
    return FALSE;
  if (wishes->fill != NULL && !fill_zones (trial, wishes, filling, fill, error))
    return FALSE;
  return wishes->check || sherd_verb_save (trial, error);
}

static SherdExit
lay_out (const SherdVerb *verb, SherdTrial *trial, const Wishes *wishes)
{
  SherdFilling filling = { 0 };
  g_auto (SherdFill) fill = { 0 };
  g_autoptr (GError) error = NULL;

  change (trial, wishes, &filling, &fill, &error);
  if (error != NULL)
    return sherd_verb_refuse (verb, error);
  if (wishes->check)
    print_check (trial, wishes);
  else
    print_zones (trial, wishes, &filling, &fill);
  return SHERD_EXIT_DONE;
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { .seed = NO_SEED, .shift_de00 = DEFAULT_SHIFT_DE00 };
  const GOptionEntry entries[] = {
    { "fill", 'f', 0, G_OPTION_ARG_STRING, &wishes.fill,
      N_ ("Lay the paints: in “order”, at “random”, or at random in complete “blocks”"), N_ ("HOW") },
    { "piece", 'p', 0, G_OPTION_ARG_STRING, &wishes.piece, N_ ("Only this piece"), N_ ("NAME") },
    { "side", 0, 0, G_OPTION_ARG_STRING, &wishes.side, N_ ("Only this side"), N_ ("SIDE") },
    { "paints", 0, 0, G_OPTION_ARG_STRING, &wishes.paints, N_ ("Codes of the paints to lay (all unless told)"),
      N_ ("CODE,CODE,…") },
    { "replicates", 'r', 0, G_OPTION_ARG_INT, &wishes.n_replicates,
      N_ ("How often each paint is laid (as often as fits unless told; in blocks once in each)"), N_ ("NUMBER") },
    { "controls", 'c', 0, G_OPTION_ARG_INT, &wishes.n_controls, N_ ("Zones to leave bare on purpose"), N_ ("NUMBER") },
    { "block", 0, 0, G_OPTION_ARG_STRING, &wishes.block,
      N_ ("What holds every paint as often as every other: row (unless told), ring, side or piece"), N_ ("BLOCK") },
    { "keep-apart", 0, 0, G_OPTION_ARG_NONE, &wishes.keep_apart, N_ ("Do not lay the same paint side by side"), NULL },
    { "seed", 0, 0, G_OPTION_ARG_INT64, &wishes.seed,
      N_ ("Any whole number: the same one gives the same layout (that of the trial unless told)"), N_ ("NUMBER") },
    { "codes", 0, 0, G_OPTION_ARG_NONE, &wishes.codes,
      N_ ("Give the zones codes that read in order, A1, A2, … B1, …, each once on the piece; locked ones keep theirs"),
      NULL },
    { "check", 0, 0, G_OPTION_ARG_NONE, &wishes.check,
      N_ ("Change nothing; say what the layout (or the one that --fill would give) can tell apart"), NULL },
    { "shift", 0, 0, G_OPTION_ARG_DOUBLE, &wishes.shift_de00,
      N_ ("For --check: the difference between two paints that must not be missed, ΔE00 (2 unless told)"), "DE00" },
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
  return trial != NULL ? lay_out (verb, trial, &wishes) : sherd_verb_wrong_input (error);
}

const SherdVerb sherd_verb_layout = {
  .name = "layout",
  .operands = N_ ("FILE"),
  .summary = N_ ("Lay paints in zones, or say what the layout can tell apart"),
  .example = "sherd layout demo.sherdboard --check",
  .run = run,
};
