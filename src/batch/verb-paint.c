/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>

#include "batch/paint-print.h"
#include "batch/paint-wishes.h"
#include "trial/edits.h"
#include "trial/exchange.h"

static SherdPrintForm
wished_form (const SherdPaintWishes *wishes)
{
  if (wishes->json)
    return SHERD_PRINT_JSON;
  return wishes->csv ? SHERD_PRINT_CSV : SHERD_PRINT_TEXT;
}

static gboolean
check_revision (SherdPaint *paint, int revision, GError **error)
{
  if (revision >= 0 && sherd_paint_find_recipe (paint, (guint)revision) != NULL)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("“%s” has no revision %d."),
               sherd_paint_get_code (paint), revision);
  return FALSE;
}

/* A batch that was asked for and cannot be had is an error, not just a remark. */
static gboolean
check_batch (const SherdPaintFacts *facts, GError **error)
{
  const char *words = "";

  if (facts->batch != NULL)
    return TRUE;
  for (guint i = 0; i < facts->remarks->len; i++)
    if (g_array_index (facts->remarks, SherdRemark, i).kind == SHERD_REMARK_MISSING)
      words = g_array_index (facts->remarks, SherdRemark, i).words;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("“%s” cannot be weighed out: %s"), facts->code,
               words);
  return FALSE;
}

static gboolean
print_facts (SherdTrial *trial, SherdPaint *paint, const SherdPaintWishes *wishes, GError **error)
{
  g_autoptr (SherdPaintFacts) facts = NULL;
  SherdBatchRequest request;
  SherdMeltHeat heat;
  gboolean has_request;

  if (!check_revision (paint, wishes->revision, error) ||
      !sherd_paint_wishes_read_request (wishes, trial, paint, &request, &has_request, error) ||
      !sherd_paint_wishes_read_heat (wishes, &heat, error))
    return FALSE;
  facts = sherd_paint_facts_new (trial, paint, (guint)wishes->revision, has_request ? &request : NULL);
  if (sherd_paint_wishes_ask_batch (wishes) && !check_batch (facts, error))
    return FALSE;
  sherd_paint_facts_set_heat (facts, &heat);
  sherd_paint_print_facts (trial, paint, facts, wished_form (wishes));
  return TRUE;
}

static gboolean
remove_paint (SherdTrial *trial, SherdPaint *paint, GError **error)
{
  g_autofree char *code = g_strdup (sherd_paint_get_code (paint));

  if (!sherd_trial_remove_paint (trial, paint, error) || !sherd_verb_save (trial, error))
    return FALSE;
  sherd_verb_say (_ ("Removed “%s”."), code);
  return TRUE;
}

static gboolean
check_import (const SherdImport *import, const SherdPaintWishes *wishes, GError **error)
{
  const guint n_faults = sherd_import_count_faults (import);

  if (n_faults == 0 || wishes->skip)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               ngettext ("%u entry of “%s” cannot be taken in, and nothing was changed. Mend it, or leave it out with "
                         "--skip.",
                         "%u entries of “%s” cannot be taken in, and nothing was changed. Mend them, or leave them out "
                         "with --skip.",
                         n_faults),
               n_faults, wishes->import);
  return FALSE;
}

/* What happens to each entry goes to standard output, whether it is done or not. */
static gboolean
import_list (SherdTrial *trial, const SherdPaintWishes *wishes, GError **error)
{
  g_autofree char *text = NULL;
  g_autoptr (SherdImport) import = NULL;
  gsize length;

  if (!g_file_get_contents (wishes->import, &text, &length, error))
    return FALSE;
  import = sherd_import_new (trial, text, length, error);
  if (import == NULL)
    {
      g_prefix_error (error, _ ("“%s”, "), wishes->import);
      return FALSE;
    }
  sherd_paint_print_import (sherd_import_get_table (import), wished_form (wishes));
  if (wishes->dry_run)
    return TRUE;
  if (!check_import (import, wishes, error))
    return FALSE;
  return sherd_import_count_changes (import) == 0 ||
         (sherd_import_apply (import, error) && sherd_verb_save (trial, error));
}

static gboolean
export_list (SherdTrial *trial, const char *what, GError **error)
{
  g_autoptr (SherdTable) table = NULL;
  g_autofree char *csv = NULL;

  if (g_str_equal (what, "materials"))
    table = sherd_exchange_materials (trial);
  else if (g_str_equal (what, "paints"))
    table = sherd_exchange_paints (trial);
  else
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("“%s” does not fit --export, which is materials or paints."), what);
      return FALSE;
    }
  csv = sherd_table_to_csv (table);
  g_print ("%s", csv);
  return TRUE;
}

static gboolean
serve (SherdTrial *trial, const SherdPaintWishes *wishes, GError **error)
{
  const gboolean is_edit = wishes->add != NULL || sherd_paint_wishes_change_recipe (wishes);
  SherdPaint *paint;

  if (wishes->import != NULL)
    return import_list (trial, wishes, error);
  if (wishes->export != NULL)
    return export_list (trial, wishes->export, error);
  if (wishes->code == NULL && wishes->add == NULL)
    {
      sherd_paint_print_list (trial, wished_form (wishes));
      return TRUE;
    }
  paint = sherd_paint_wishes_edit (wishes, trial, error);
  if (paint == NULL)
    return FALSE;
  if (wishes->remove)
    return remove_paint (trial, paint, error);
  return (!is_edit || sherd_verb_save (trial, error)) && print_facts (trial, paint, wishes, error);
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (SherdPaintWishes) wishes = { .coats = SHERD_COATS_UNTOLD };
  const GOptionEntry entries[] = {
    { "batch", 'b', 0, G_OPTION_ARG_STRING, &wishes.batch, N_ ("Weigh out so much dry paint, “50g”"), N_ ("MASS") },
    { "area", 'a', 0, G_OPTION_ARG_STRING, &wishes.area,
      N_ ("Weigh out for so large an area, “40cm2”, or for the zones that carry the paint, “zones”"), N_ ("AREA") },
    { "piece", 'p', 0, G_OPTION_ARG_STRING, &wishes.piece, N_ ("With --area zones: of this piece alone"), N_ ("NAME") },
    { "coats", 0, 0, G_OPTION_ARG_INT, &wishes.coats, N_ ("How many coats go on that area (1 unless told)"), "N" },
    { "thickness", 0, 0, G_OPTION_ARG_STRING, &wishes.thickness, N_ ("Thickness of one dry coat, “0.05mm”"),
      N_ ("LENGTH") },
    { "reserve", 0, 0, G_OPTION_ARG_STRING, &wishes.reserve, N_ ("So much more than the area takes, “20%”"), "PCT" },
    { "have", 0, 0, G_OPTION_ARG_STRING, &wishes.have, N_ ("Weigh out as much as this much of an ingredient allows"),
      N_ ("NAME=MASS") },
    { "round", 'r', 0, G_OPTION_ARG_STRING, &wishes.round, N_ ("Round to what the scale can show, “0.1g”"),
      N_ ("MASS") },
    { "peak", 0, 0, G_OPTION_ARG_STRING, &wishes.peak, N_ ("Peak of the firing for the melt outlook, “780C”"),
      N_ ("TEMPERATURE") },
    { "minutes", 0, 0, G_OPTION_ARG_STRING, &wishes.minutes, N_ ("How long within 30 °C of the peak"), "MIN" },
    { "revision", 0, 0, G_OPTION_ARG_INT, &wishes.revision, N_ ("An earlier revision of the paint"), "N" },
    { "add", 0, 0, G_OPTION_ARG_STRING, &wishes.add, N_ ("Add a paint"), N_ ("CODE=NAME") },
    { "slip", 0, 0, G_OPTION_ARG_NONE, &wishes.slip, N_ ("What is added is a slip"), NULL },
    { "part", 0, 0, G_OPTION_ARG_STRING_ARRAY, &wishes.parts,
      N_ ("Parts of a material, or of another paint by its code; the parts given make the new recipe; may be repeated"),
      N_ ("NAME=PARTS") },
    { "by", 0, 0, G_OPTION_ARG_STRING, &wishes.by, N_ ("How parts are measured: mass or volume"), N_ ("BASIS") },
    { "binder", 0, 0, G_OPTION_ARG_STRING, &wishes.binder, N_ ("Binder in per cent of the dry mass"), N_ ("NAME=PCT") },
    { "water", 0, 0, G_OPTION_ARG_STRING, &wishes.water, N_ ("Water in per cent of the dry mass"), "PCT" },
    { "remove", 0, 0, G_OPTION_ARG_NONE, &wishes.remove, N_ ("Remove the paint; refused while it is in use"), NULL },
    { "import", 0, 0, G_OPTION_ARG_FILENAME, &wishes.import,
      N_ ("Add and change paints or materials as a CSV file lists them"), N_ ("FILE") },
    { "dry-run", 0, 0, G_OPTION_ARG_NONE, &wishes.dry_run, N_ ("Only tell what the import would do"), NULL },
    { "skip", 0, 0, G_OPTION_ARG_NONE, &wishes.skip, N_ ("Leave out what cannot be imported"), NULL },
    { "export", 0, 0, G_OPTION_ARG_STRING, &wishes.export, N_ ("Print all materials or paints as CSV for an import"),
      N_ ("WHAT") },
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
  wishes.code = (*arguments)[2];
  contradiction = sherd_paint_wishes_find_contradiction (&wishes);
  if (contradiction != NULL)
    return sherd_verb_wrong_command (verb, contradiction);
  trial = sherd_verb_load ((*arguments)[1], &error);
  if (trial != NULL && serve (trial, &wishes, &error))
    return SHERD_EXIT_DONE;
  return sherd_verb_refuse (verb, error);
}

const SherdVerb sherd_verb_paint = {
  .name = "paint",
  .operands = N_ ("FILE [CODE]"),
  .summary = N_ ("Show paints and materials: what to weigh, what the fire leaves, whether it melts"),
  .example = "sherd paint demo.sherdboard KA --area zones --thickness 0.05mm --round 0.01g --peak 780C",
  .n_more_operands = 1,
  .run = run,
};
