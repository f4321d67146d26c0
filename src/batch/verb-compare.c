/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>

#include "page/report.h"
#include "trial/format.h"
#include "trial/results.h"

typedef struct
{
  char *piece;
  char *side;
  char *before;
  char *after;
  char *pdf;
  gboolean csv;
  gboolean json;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_free (wishes->piece);
  g_free (wishes->side);
  g_free (wishes->before);
  g_free (wishes->after);
  g_free (wishes->pdf);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

/* The first and the last stage of the side, unless others are asked for. */
static SherdComparison *
compare (SherdTrial *trial, const Wishes *wishes, GError **error)
{
  SherdPiece *piece;
  SherdSide *side;
  g_auto (GStrv) stages = NULL;
  guint n_stages;

  if (!sherd_verb_choose_side (trial, wishes->piece, wishes->side, &piece, &side, error))
    return NULL;
  stages = sherd_trial_dup_stages (trial, piece, side);
  n_stages = g_strv_length (stages);
  if (n_stages < 2 && (wishes->before == NULL || wishes->after == NULL))
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE,
                   _ ("“%s” needs photographs of two stages to be compared. Add them with “sherd photograph”."),
                   sherd_piece_get_name (piece));
      return NULL;
    }
  return sherd_trial_compare (trial, piece, side, wishes->before != NULL ? wishes->before : stages[0],
                              wishes->after != NULL ? wishes->after : stages[n_stages - 1], error);
}

static const char *
stage_of (SherdMeasurement *measurement)
{
  return sherd_photograph_get_stage (sherd_measurement_get_photograph (measurement));
}

static void
print_text (SherdComparison *comparison, const SherdTable *table)
{
  SherdMeasurement *before = sherd_comparison_get_before (comparison);
  g_autofree char *stage_before = sherd_format_stage (stage_of (before));
  g_autofree char *stage_after = sherd_format_stage (stage_of (sherd_comparison_get_after (comparison)));
  g_autofree char *text = sherd_table_to_text (table);

  sherd_verb_say ("%s · %s → %s",
                  sherd_piece_get_name (sherd_photograph_get_piece (sherd_measurement_get_photograph (before))),
                  stage_before, stage_after);
  g_print ("\n%s\n", text);
  g_print ("%s\n", /* xgettext:no-c-format */
           _ ("CIELAB, D50, 2°. ± is the expanded uncertainty, k = 2; from and to are the 95 % limits."));
}

static void
print_json (SherdTrial *trial, SherdComparison *comparison, const SherdTable *table)
{
  JsonObject *document = json_object_new ();
  SherdMeasurement *before = sherd_comparison_get_before (comparison);
  SherdMeasurement *after = sherd_comparison_get_after (comparison);
  SherdPhotograph *photograph = sherd_measurement_get_photograph (before);

  json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
  json_object_set_string_member (document, "piece", sherd_piece_get_name (sherd_photograph_get_piece (photograph)));
  json_object_set_string_member (document, "side", sherd_side_get_name (sherd_photograph_get_side (photograph)));
  json_object_set_string_member (document, "stage_before", stage_of (before));
  json_object_set_string_member (document, "stage_after", stage_of (after));
  json_object_set_boolean_member (document, "same_reference", sherd_comparison_get_same_reference (comparison));
  json_object_set_member (document, "zones", sherd_table_to_json (table));
  sherd_verb_print_json ("sherd-compare", document);
}

static void
print_results (SherdTrial *trial, SherdComparison *comparison, const Wishes *wishes)
{
  g_autoptr (SherdTable) table = sherd_results_shifts (comparison);
  g_autofree char *csv = wishes->csv ? sherd_table_to_csv (table) : NULL;

  if (wishes->json)
    print_json (trial, comparison, table);
  else if (csv != NULL)
    g_print ("%s", csv);
  else
    print_text (comparison, table);
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { 0 };
  const GOptionEntry entries[] = {
    { "piece", 'p', 0, G_OPTION_ARG_STRING, &wishes.piece, N_ ("The piece; needed when there are several"),
      N_ ("NAME") },
    { "side", 0, 0, G_OPTION_ARG_STRING, &wishes.side, N_ ("The side: face (unless told) or back"), N_ ("SIDE") },
    { "before", 'b', 0, G_OPTION_ARG_STRING, &wishes.before, N_ ("The earlier stage (the first unless told)"),
      N_ ("STAGE") },
    { "after", 'a', 0, G_OPTION_ARG_STRING, &wishes.after, N_ ("The later stage (the last unless told)"),
      N_ ("STAGE") },
    { "pdf", 0, 0, G_OPTION_ARG_FILENAME, &wishes.pdf, N_ ("Also write the results as A4 pages, with the photographs"),
      N_ ("FILE") },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &wishes.csv, N_ ("Print comma-separated values"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("Print JSON"), NULL },
    G_OPTION_ENTRY_NULL
  };
  SherdExit status;
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = NULL;
  g_autoptr (SherdComparison) comparison = NULL;

  if (!sherd_verb_parse (verb, entries, arguments, 1, &status))
    return status;
  if (wishes.csv && wishes.json)
    return sherd_verb_wrong_command (verb, _ ("Take either --csv or --json."));
  trial = sherd_verb_load ((*arguments)[1], &error);
  comparison = trial != NULL ? compare (trial, &wishes, &error) : NULL;
  if (comparison == NULL)
    return sherd_verb_wrong_input (error);

  print_results (trial, comparison, &wishes);
  if (wishes.pdf != NULL && !sherd_report_write_pdf (trial, comparison, wishes.pdf, &error))
    return sherd_verb_wrong_input (error);
  return SHERD_EXIT_DONE;
}

const SherdVerb sherd_verb_compare = {
  .name = "compare",
  .operands = N_ ("FILE"),
  .summary = N_ ("Show the colour shift of every zone between two stages"),
  .example = "sherd compare demo.sherdboard --pdf results.pdf",
  .run = run,
};
