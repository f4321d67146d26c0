/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"

#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "photo/photo.h"
#include "trial/format.h"

static const SherdVerb *const verbs[] = {
  &sherd_verb_new,    &sherd_verb_check,      &sherd_verb_piece,   &sherd_verb_paint,   &sherd_verb_blend,
  &sherd_verb_layout, &sherd_verb_photograph, &sherd_verb_measure, &sherd_verb_compare,
};

static GOptionContext *
option_context_new (const SherdVerb *verb, const GOptionEntry *entries)
{
  GOptionContext *context = g_option_context_new (_ (verb->operands));
  g_autofree char *description = g_strdup_printf ("%s\n  %s\n", _ ("Example:"), verb->example);

  g_option_context_set_summary (context, _ (verb->summary));
  g_option_context_set_description (context, description);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_option_context_set_help_enabled (context, FALSE);
  return context;
}

static gboolean
asks_for_help (char **arguments)
{
  const char *const *words = (const char *const *)arguments;

  return g_strv_contains (words, "--help") || g_strv_contains (words, "-h");
}

static void
print_verb_help (const SherdVerb *verb, GOptionContext *context)
{
  g_autofree char *name = g_strdup_printf ("sherd %s", verb->name);
  g_autofree char *help = NULL;

  g_set_prgname (name);
  help = g_option_context_get_help (context, TRUE, NULL);
  g_print ("%s", help);
}

/* Where GOption says only that some bytes are wrong: the word it stumbled over, an option before an operand. */
static const char *
find_foreign_word (char **words)
{
  const char *first = NULL;

  for (guint i = 1; words[i] != NULL; i++)
    {
      g_autofree char *utf8 = g_locale_to_utf8 (words[i], -1, NULL, NULL, NULL);

      if (utf8 != NULL)
        continue;
      if (words[i][0] == '-' || words[i - 1][0] == '-')
        return words[i];
      if (first == NULL)
        first = words[i];
    }
  return first;
}

static SherdExit
wrong_options (const SherdVerb *verb, char **words, const GError *error)
{
  const char *foreign = error->domain == G_CONVERT_ERROR ? find_foreign_word (words) : NULL;
  g_autofree char *shown = NULL;
  g_autofree char *message = NULL;
  const char *charset;

  if (foreign == NULL)
    return sherd_verb_wrong_command (verb, error->message);
  g_get_charset (&charset);
  shown = g_filename_display_name (foreign);
  message = g_strdup_printf (_ ("“%s” is not valid %s text. Type it anew, or start the program in the locale it was "
                                "written in."),
                             shown, charset);
  return sherd_verb_wrong_command (verb, message);
}

/* "--" ends the options and is no operand; GOption leaves it where an operand begins with a dash. */
static void
drop_end_of_options (char **words)
{
  guint i = 1;

  while (words[i] != NULL && !g_str_equal (words[i], "--"))
    i++;
  if (words[i] == NULL)
    return;
  g_free (words[i]);
  memmove (&words[i], &words[i + 1], sizeof (char *) * g_strv_length (&words[i]));
}

/* (transfer full) (nullable): what is wrong with the operands */
static char *
find_operand_fault (const SherdVerb *verb, char **words, guint n_wanted)
{
  const guint n_given = g_strv_length (words) - 1;

  if (n_given < n_wanted || n_given > n_wanted + verb->n_more_operands)
    return g_strdup_printf (n_given < n_wanted ? _ ("%s is needed.") : _ ("Too many words; %s is all that is needed."),
                            _ (verb->operands));
  for (guint i = 1; i <= n_given; i++)
    if (words[i][0] == '\0')
      return g_strdup_printf (_ ("An empty name names no file; %s is needed."), _ (verb->operands));
  return NULL;
}

/**
 * sherd_verb_parse:
 * @verb: the verb
 * @entries: its options
 * @arguments: (inout): the verb, its options and operands; the options are taken out
 * @n_operands: how many operands the verb needs
 * @status: (out): the exit status when %FALSE is returned
 *
 * Reads the options of a verb, or prints its help when asked.
 *
 * Returns: %FALSE when the program has to end with @status
 */
gboolean
sherd_verb_parse (const SherdVerb *verb,
                  const GOptionEntry *entries,
                  char ***arguments,
                  guint n_operands,
                  SherdExit *status)
{
  g_autoptr (GOptionContext) context = option_context_new (verb, entries);
  g_autoptr (GError) error = NULL;
  g_autofree char *fault = NULL;

  *status = SHERD_EXIT_DONE;
  if (asks_for_help (*arguments))
    {
      print_verb_help (verb, context);
      return FALSE;
    }
  if (!g_option_context_parse_strv (context, arguments, &error))
    {
      *status = wrong_options (verb, *arguments, error);
      return FALSE;
    }
  drop_end_of_options (*arguments);
  fault = find_operand_fault (verb, *arguments, n_operands);
  if (fault != NULL)
    *status = sherd_verb_wrong_command (verb, fault);
  return fault == NULL;
}

/**
 * sherd_verb_wrong_command:
 * @verb: the verb
 * @message: what is wrong with the command line
 *
 * Tells it on standard error, with the way to the help.
 *
 * Returns: the exit status
 */
SherdExit
sherd_verb_wrong_command (const SherdVerb *verb, const char *message)
{
  g_autofree char *visible = sherd_format_visible (message);

  g_printerr ("sherd %s: %s\n", verb->name, visible);
  g_printerr (_ ("“sherd %s --help” shows how it is used."), verb->name);
  g_printerr ("\n");
  return SHERD_EXIT_WRONG_COMMAND;
}

/**
 * sherd_verb_wrong_input:
 * @error: what is wrong with a file or its content
 *
 * Returns: the exit status
 */
SherdExit
sherd_verb_wrong_input (const GError *error)
{
  sherd_verb_warn (error->message);
  return SHERD_EXIT_WRONG_INPUT;
}

/**
 * sherd_verb_refuse:
 * @verb: the verb
 * @error: what is wrong
 *
 * Tells an option's value that does not fit it as a wrong command, and everything else as wrong input.
 *
 * Returns: the exit status
 */
SherdExit
sherd_verb_refuse (const SherdVerb *verb, const GError *error)
{
  return g_error_matches (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE)
           ? sherd_verb_wrong_command (verb, error->message)
           : sherd_verb_wrong_input (error);
}

/**
 * sherd_verb_warn:
 * @message: something the user should know although the work goes on
 */
void
sherd_verb_warn (const char *message)
{
  g_autofree char *visible = sherd_format_visible (message);

  g_printerr ("sherd: %s\n", visible);
}

/**
 * sherd_verb_say:
 * @format: as of printf, one line without its end
 * @...: what goes in it
 *
 * Prints a line to standard output.
 */
void
sherd_verb_say (const char *format, ...)
{
  g_autofree char *line = NULL;
  g_autofree char *visible = NULL;
  va_list words;

  va_start (words, format);
  line = g_strdup_vprintf (format, words);
  va_end (words);
  visible = sherd_format_visible (line);
  g_print ("%s\n", visible);
}

/**
 * sherd_verb_load:
 * @path: the trial's file, its suffix may be left out
 * @error: of the reader
 *
 * Returns: (transfer full): the trial
 */
SherdTrial *
sherd_verb_load (const char *path, GError **error)
{
  g_autofree char *with_suffix = g_strconcat (path, SHERD_TRIAL_SUFFIX, NULL);
  gboolean needs_suffix = !g_file_test (path, G_FILE_TEST_EXISTS) && g_file_test (with_suffix, G_FILE_TEST_EXISTS);

  return sherd_trial_load (needs_suffix ? with_suffix : path, error);
}

/**
 * sherd_verb_save:
 * @trial: a trial with a file
 * @error: of the writer
 *
 * Saves and passes on what the writer remarks.
 */
gboolean
sherd_verb_save (SherdTrial *trial, GError **error)
{
  g_autofree char *remark = NULL;

  if (!sherd_trial_save (trial, SHERD_SAVE_NORMAL, &remark, error))
    return FALSE;
  if (remark != NULL)
    sherd_verb_warn (remark);
  return TRUE;
}

/* A paint that is there and not among @found yet. */
static gboolean
add_paint (GPtrArray *found, SherdTrial *trial, const char *code, GError **error)
{
  SherdPaint *paint = sherd_trial_find_paint_by_code (trial, code);

  if (paint == NULL)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                 _ ("The trial has no paint “%s”. Look for its code among the paints of the trial."), code);
  else if (g_ptr_array_find (found, paint, NULL))
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DUPLICATE,
                 _ ("“%s” is named twice. Name each paint once."), code);
  else
    {
      g_ptr_array_add (found, paint);
      return TRUE;
    }
  return FALSE;
}

/**
 * sherd_verb_find_paints:
 * @trial: the trial
 * @codes: (array zero-terminated=1): codes of paints
 * @error: SHERD_TRIAL_ERROR_VALUE when there is no such thing, SHERD_TRIAL_ERROR_DUPLICATE when one is named twice
 *
 * Returns: (transfer container) (nullable): the paints, borrowed from the trial
 */
GPtrArray *
sherd_verb_find_paints (SherdTrial *trial, char **codes, GError **error)
{
  g_autoptr (GPtrArray) found = g_ptr_array_new ();

  for (guint i = 0; codes[i] != NULL; i++)
    if (!add_paint (found, trial, codes[i], error))
      return NULL;
  return g_steal_pointer (&found);
}

/**
 * sherd_verb_choose_piece:
 * @trial: the trial
 * @name: (nullable): name or id; %NULL for the only one
 * @error: SHERD_TRIAL_ERROR_VALUE when there is no such thing
 *
 * Returns: (transfer none): the piece
 */
SherdPiece *
sherd_verb_choose_piece (SherdTrial *trial, const char *name, GError **error)
{
  GListModel *pieces = sherd_trial_get_pieces (trial);
  guint n_pieces = g_list_model_get_n_items (pieces);
  SherdPiece *piece = NULL;

  if (name != NULL)
    piece = sherd_trial_find_piece_by_name (trial, name);
  else if (n_pieces == 1)
    {
      g_autoptr (SherdPiece) only = g_list_model_get_item (pieces, 0);

      piece = only;
    }
  if (piece != NULL)
    return piece;
  if (name != NULL)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                 _ ("The trial has no piece “%s”. “sherd check” lists its pieces."), name);
  else if (n_pieces == 0)
    g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("The trial has no piece yet."));
  else
    g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                         _ ("The trial has several pieces: say which with --piece."));
  return NULL;
}

/**
 * sherd_verb_choose_side:
 * @trial: the trial
 * @piece_name: (nullable): name or id; %NULL for the only one
 * @side_name: (nullable): "face" or "back"; %NULL for the face
 * @piece: (out) (transfer none): the piece
 * @side: (out) (transfer none): its side
 * @error: SHERD_TRIAL_ERROR_VALUE when there is no such thing
 */
gboolean
sherd_verb_choose_side (SherdTrial *trial,
                        const char *piece_name,
                        const char *side_name,
                        SherdPiece **piece,
                        SherdSide **side,
                        GError **error)
{
  const char *wanted = side_name != NULL ? side_name : "face";

  *piece = sherd_verb_choose_piece (trial, piece_name, error);
  if (*piece == NULL)
    return FALSE;
  *side = sherd_piece_find_side_by_name (*piece, wanted);
  if (*side == NULL)
    g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("The piece “%s” has no side “%s”."),
                 sherd_piece_get_name (*piece), wanted);
  return *side != NULL;
}

/**
 * sherd_verb_print_table:
 * @table: a table
 * @csv: as comma-separated values, else as aligned text
 *
 * Prints it to standard output.
 */
void
sherd_verb_print_table (const SherdTable *table, gboolean csv)
{
  g_autofree char *text = csv ? sherd_table_to_csv (table) : sherd_table_to_text (table);

  g_print ("%s", text);
}

/**
 * sherd_verb_print_json:
 * @format: the document's name, "sherd-…"
 * @members: (transfer full): its content
 *
 * Prints a JSON document to standard output.
 */
void
sherd_verb_print_json (const char *format, JsonObject *members)
{
  g_autoptr (JsonNode) root = json_node_alloc ();
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autofree char *text = NULL;

  json_object_set_string_member (members, "format", format);
  json_object_set_int_member (members, "version", 1);
  json_node_init_object (root, members);
  json_object_unref (members);
  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  g_print ("%s\n", text);
}

/**
 * sherd_verb_show_progress:
 * @done_frac: 0…1
 * @what: (type utf8): the work, translated
 *
 * Shows progress on a terminal and nothing elsewhere. Matches #SherdProgressFunc.
 */
void
sherd_verb_show_progress (double done_frac, gpointer what)
{
  if (isatty (STDERR_FILENO))
    g_printerr ("\r%s %3.0f %%%s", (const char *)what, 100.0 * done_frac, done_frac >= 1.0 ? "\n" : "");
}

static void
print_help (void)
{
  g_print ("%s\n\n", _ ("Usage: sherd VERB FILE [OPTION…]"));
  g_print ("%s\n\n", _ ("Plans and measures trials of low-fired painted pottery, without a window."));
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    g_print ("  %-11s %s\n", verbs[i]->name, _ (verbs[i]->summary));
  g_print ("\n%s\n", _ ("“sherd VERB --help” shows the options of a verb and an example."));
  g_print ("%s\n", _ ("Exit status: 0 done, 1 a file or its content is wrong, 2 the command line is wrong."));
}

static const SherdVerb *
find_verb (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (g_str_equal (verbs[i]->name, name))
      return verbs[i];
  return NULL;
}

static void
print_version (void)
{
  g_autofree char *formats = sherd_photo_dup_formats ();

  g_print ("sherd %s\n", SHERD_VERSION);
  g_print (_ ("Photographs that can be read: %s\n"), formats);
}

static SherdExit
unknown_verb (const char *name)
{
  g_autofree char *visible = sherd_format_visible (name);

  g_printerr (_ ("sherd: there is no verb “%s”."), visible);
  g_printerr ("\n");
  g_printerr ("%s\n", _ ("“sherd --help” lists the verbs."));
  return SHERD_EXIT_WRONG_COMMAND;
}

static SherdExit
run_words (int argc, char **argv)
{
  g_auto (GStrv) arguments = NULL;
  const SherdVerb *verb;

  if (argc < 2)
    {
      g_printerr ("%s\n", _ ("sherd: a verb is needed. “sherd --help” lists them."));
      return SHERD_EXIT_WRONG_COMMAND;
    }
  if (g_str_equal (argv[1], "--help") || g_str_equal (argv[1], "-h"))
    {
      print_help ();
      return SHERD_EXIT_DONE;
    }
  if (g_str_equal (argv[1], "--version"))
    {
      print_version ();
      return SHERD_EXIT_DONE;
    }
  verb = find_verb (argv[1]);
  if (verb == NULL)
    return unknown_verb (argv[1]);
  arguments = g_strdupv (argv + 1);
  return verb->run (verb, &arguments);
}

/* A script must not take half a table for a whole one: what could not be written makes the command fail. */
static SherdExit
finish_output (SherdExit status)
{
  if (fflush (stdout) == 0 && ferror (stdout) == 0)
    return status;
  g_printerr ("%s\n", _ ("sherd: Standard output did not take all that was to be written: it is full or closed. "
                         "What was printed is not complete."));
  return status == SHERD_EXIT_DONE ? SHERD_EXIT_WRONG_INPUT : status;
}

/**
 * sherd_batch_run:
 * @argc: number of words
 * @argv: the words of the command line, the program first
 *
 * Runs the command line program: results to standard output, messages to standard error.
 *
 * Returns: the exit status; not 0 when the results could not be written
 */
SherdExit
sherd_batch_run (int argc, char **argv)
{
  return finish_output (run_words (argc, argv));
}
