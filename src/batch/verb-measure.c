/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "trial/format.h"
#include "trial/measure-run.h"
#include "trial/results.h"

typedef struct
{
  char **photographs;
  gboolean csv;
  gboolean json;
  gboolean keep_out;
} Wishes;

static void
wishes_clear (Wishes *wishes)
{
  g_strfreev (wishes->photographs);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wishes, wishes_clear)

static gboolean
is_wanted (const Wishes *wishes, SherdPhotograph *photograph)
{
  return wishes->photographs == NULL ||
         g_strv_contains ((const char *const *)wishes->photographs, sherd_part_get_id (SHERD_PART (photograph)));
}

/* What is told while photographs are measured. */
typedef struct
{
  char *what;
  GPtrArray *measurements;
  GPtrArray *errors; /* of GError */
  gboolean finished;
} Told;

static void
progress_cb (Told *told, double done_frac)
{
  sherd_verb_show_progress (done_frac, told->what);
}

static void
measured_cb (Told *told, SherdMeasurement *measurement)
{
  g_ptr_array_add (told->measurements, g_object_ref (measurement));
}

static void
failed_cb (Told *told, SherdPhotograph *photograph, const GError *error)
{
  GError *copy = g_error_copy (error);

  g_prefix_error (&copy, _ ("Photograph %s, “%s”: "), sherd_part_get_id (SHERD_PART (photograph)),
                  sherd_photograph_get_original_name (photograph));
  g_ptr_array_add (told->errors, copy);
}

static void
finished_cb (Told *told)
{
  told->finished = TRUE;
}

static GListModel *
wanted_photographs (SherdTrial *trial, const Wishes *wishes)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  GListStore *wanted = g_list_store_new (SHERD_TYPE_PHOTOGRAPH);

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      if (is_wanted (wishes, photograph))
        g_list_store_append (wanted, photograph);
    }
  return G_LIST_MODEL (wanted);
}

static char *
progress_words (guint n_photographs)
{
  return g_strdup_printf (ngettext ("Measuring %u photograph", "Measuring %u photographs", n_photographs),
                          n_photographs);
}

/* Measures what is wanted, side by side; a photograph that fails is told and does not stop the others. */
static SherdExit
measure_all (SherdTrial *trial, const Wishes *wishes, GPtrArray *measurements)
{
  g_autoptr (GListModel) wanted = wanted_photographs (trial, wishes);
  g_autoptr (SherdMeasureRun) run = sherd_measure_run_new (trial, wanted);
  g_autofree char *what = progress_words (g_list_model_get_n_items (wanted));
  g_autoptr (GPtrArray) errors = g_ptr_array_new_with_free_func ((GDestroyNotify)g_error_free);
  Told told = { .what = what, .measurements = measurements, .errors = errors };

  g_signal_connect_swapped (run, "progress", G_CALLBACK (progress_cb), &told);
  g_signal_connect_swapped (run, "measured", G_CALLBACK (measured_cb), &told);
  g_signal_connect_swapped (run, "failed", G_CALLBACK (failed_cb), &told);
  g_signal_connect_swapped (run, "finished", G_CALLBACK (finished_cb), &told);
  sherd_measure_run_start (run);
  while (!told.finished)
    g_main_context_iteration (NULL, TRUE);
  for (guint i = 0; i < errors->len; i++)
    sherd_verb_wrong_input (g_ptr_array_index (errors, i));
  return errors->len > 0 ? SHERD_EXIT_WRONG_INPUT : SHERD_EXIT_DONE;
}

static void
print_text (SherdTrial *trial, SherdMeasurement *measurement)
{
  g_autoptr (SherdTable) table = sherd_results_zones (trial, measurement);
  g_autofree char *text = sherd_table_to_text (table);
  g_auto (GStrv) notes = sherd_results_dup_notes (measurement);
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);
  g_autofree char *stage = sherd_format_stage (sherd_photograph_get_stage (photograph));

  sherd_verb_say ("%s · %s · %s", sherd_piece_get_name (sherd_photograph_get_piece (photograph)), stage,
                  sherd_photograph_get_original_name (photograph));
  for (guint i = 0; notes[i] != NULL; i++)
    sherd_verb_say ("%s", notes[i]);
  g_print ("\n%s\n", text);
}

static void
print_csv (SherdTrial *trial, SherdMeasurement *measurement, gboolean with_keys)
{
  g_autoptr (SherdTable) table = sherd_results_zones (trial, measurement);
  g_autofree char *csv = sherd_table_to_csv (table);
  const char *rows = strchr (csv, '\n');

  g_print ("%s", with_keys ? csv : rows + 1);
}

/* null for what is not known: JSON has no other word for it. */
static void
set_number (JsonObject *object, const char *member, double value)
{
  if (isfinite (value))
    json_object_set_double_member (object, member, value);
  else
    json_object_set_null_member (object, member);
}

static void
set_residuals (JsonObject *object, const SherdPhotoMeasurement *result)
{
  const SherdCorrection *correction = &result->correction;
  gboolean left_out =
    correction->model == SHERD_CORRECTION_LINEAR || correction->model == SHERD_CORRECTION_ROOT_POLYNOMIAL;

  set_number (object, "marks_residual_px", result->residual_rms_px);
  set_number (object, "marks_residual_mm", result->residual_rms_mm);
  json_object_set_int_member (object, "reference_patches", correction->n_pairs);
  set_number (object, "reference_loo_mean_dE00", left_out ? correction->loo_mean_de00 : NAN);
  set_number (object, "reference_loo_max_dE00", left_out ? correction->loo_max_de00 : NAN);
  set_number (object, "uneven_light_frac", result->uneven_frac);
}

static JsonObject *
measurement_object (SherdTrial *trial, SherdMeasurement *measurement)
{
  g_autoptr (SherdTable) table = sherd_results_zones (trial, measurement);
  const SherdPhotoMeasurement *result = sherd_measurement_get_result (measurement);
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);
  JsonObject *object = json_object_new ();
  JsonArray *warnings = json_array_new ();

  for (guint i = 0; result->warnings != NULL && result->warnings[i] != NULL; i++)
    json_array_add_string_element (warnings, result->warnings[i]);
  json_object_set_string_member (object, "photograph", sherd_part_get_id (SHERD_PART (photograph)));
  json_object_set_string_member (object, "file", sherd_photograph_get_original_name (photograph));
  json_object_set_string_member (object, "piece", sherd_piece_get_name (sherd_photograph_get_piece (photograph)));
  json_object_set_string_member (object, "side", sherd_side_get_name (sherd_photograph_get_side (photograph)));
  json_object_set_string_member (object, "stage", sherd_photograph_get_stage (photograph));
  set_residuals (object, result);
  json_object_set_array_member (object, "warnings", warnings);
  json_object_set_member (object, "zones", sherd_table_to_json (table));
  return object;
}

static void
print_json (SherdTrial *trial, GPtrArray *measurements)
{
  JsonObject *document = json_object_new ();
  JsonArray *photographs = json_array_new ();

  for (guint i = 0; i < measurements->len; i++)
    json_array_add_object_element (photographs, measurement_object (trial, g_ptr_array_index (measurements, i)));
  json_object_set_string_member (document, "trial", sherd_trial_get_title (trial));
  json_object_set_array_member (document, "photographs", photographs);
  sherd_verb_print_json ("sherd-measure", document);
}

static void
print_results (SherdTrial *trial, const Wishes *wishes, GPtrArray *measurements)
{
  if (wishes->json)
    {
      print_json (trial, measurements);
      return;
    }
  for (guint i = 0; i < measurements->len; i++)
    if (wishes->csv)
      print_csv (trial, g_ptr_array_index (measurements, i), i == 0);
    else
      print_text (trial, g_ptr_array_index (measurements, i));
}

static gboolean
wanted_photographs_exist (SherdTrial *trial, const Wishes *wishes, GError **error)
{
  for (guint i = 0; wishes->photographs != NULL && wishes->photographs[i] != NULL; i++)
    if (sherd_trial_find_photograph (trial, wishes->photographs[i]) == NULL)
      {
        g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                     _ ("The trial has no photograph “%s”. “sherd check” lists them."), wishes->photographs[i]);
        return FALSE;
      }
  if (g_list_model_get_n_items (sherd_trial_get_photographs (trial)) > 0)
    return TRUE;
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE,
                       _ ("The trial has no photograph yet. Add one with “sherd photograph”."));
  return FALSE;
}

static SherdExit
run (const SherdVerb *verb, char ***arguments)
{
  g_auto (Wishes) wishes = { 0 };
  const GOptionEntry entries[] = {
    { "photograph", 'p', 0, G_OPTION_ARG_STRING_ARRAY, &wishes.photographs,
      N_ ("Only this photograph, by its id; may be repeated"), N_ ("ID") },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &wishes.csv, N_ ("Print comma-separated values"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &wishes.json, N_ ("Print JSON"), NULL },
    { "no-save", 0, 0, G_OPTION_ARG_NONE, &wishes.keep_out, N_ ("Print only; leave the trial as it is"), NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) measurements = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = NULL;
  SherdExit status;

  if (!sherd_verb_parse (verb, entries, arguments, 1, &status))
    return status;
  if (wishes.csv && wishes.json)
    return sherd_verb_wrong_command (verb, _ ("Take either --csv or --json."));
  trial = sherd_verb_load ((*arguments)[1], &error);
  if (trial == NULL || !wanted_photographs_exist (trial, &wishes, &error))
    return sherd_verb_wrong_input (error);
  status = measure_all (trial, &wishes, measurements);
  /* Saved before they are printed: “| head” ends the program at the first line nobody reads. */
  if (!wishes.keep_out && measurements->len > 0 && !sherd_verb_save (trial, &error))
    status = sherd_verb_wrong_input (error);
  print_results (trial, &wishes, measurements);
  return status;
}

const SherdVerb sherd_verb_measure = {
  .name = "measure",
  .operands = N_ ("FILE"),
  .summary = N_ ("Measure the colour of every zone in the photographs"),
  .example = "sherd measure demo.sherdboard",
  .run = run,
};
