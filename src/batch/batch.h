/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/file.h"
#include "trial/table.h"

G_BEGIN_DECLS

/* Exit statuses of the program `sherd`. */
typedef enum
{
  SHERD_EXIT_DONE = 0,
  SHERD_EXIT_WRONG_INPUT = 1,
  SHERD_EXIT_WRONG_COMMAND = 2
} SherdExit;

/* One verb of the command line. */
typedef struct _SherdVerb SherdVerb;
struct _SherdVerb
{
  const char *name;
  const char *operands;  /* of the usage line; marked for translation */
  const char *summary;   /* what it does; marked for translation */
  const char *example;   /* a command that runs on the demo trial */
  guint n_more_operands; /* how many may follow those that it needs */
  /* @arguments: (inout): the verb, its options and operands */
  SherdExit (*run) (const SherdVerb *verb, char ***arguments);
};

extern const SherdVerb sherd_verb_new;
extern const SherdVerb sherd_verb_check;
extern const SherdVerb sherd_verb_piece;
extern const SherdVerb sherd_verb_paint;
extern const SherdVerb sherd_verb_blend;
extern const SherdVerb sherd_verb_layout;
extern const SherdVerb sherd_verb_photograph;
extern const SherdVerb sherd_verb_measure;
extern const SherdVerb sherd_verb_compare;

/* Runs the command line; @argv[0] is the program. */
SherdExit sherd_batch_run (int argc, char **argv);

/* What verbs share. */
gboolean sherd_verb_parse (const SherdVerb *verb,
                           const GOptionEntry *entries,
                           char ***arguments,
                           guint n_operands,
                           SherdExit *status);
SherdExit sherd_verb_wrong_command (const SherdVerb *verb, const char *message);
SherdExit sherd_verb_wrong_input (const GError *error);
/* Either of both, by what @error tells. */
SherdExit sherd_verb_refuse (const SherdVerb *verb, const GError *error);
void sherd_verb_warn (const char *message);
/* One line to standard output. Names in it may hold anything: it cannot steer the terminal or break the line. */
void sherd_verb_say (const char *format, ...) G_GNUC_PRINTF (1, 2);
/* (transfer full): NAME or NAME.sherdboard */
SherdTrial *sherd_verb_load (const char *path, GError **error);
gboolean sherd_verb_save (SherdTrial *trial, GError **error);
/* (transfer full) (nullable): of SherdPaint, borrowed from the trial, by their codes, each once */
GPtrArray *sherd_verb_find_paints (SherdTrial *trial, char **codes, GError **error);
/* (transfer none): by name or id; @name: (nullable): the only one there is */
SherdPiece *sherd_verb_choose_piece (SherdTrial *trial, const char *name, GError **error);
/* The piece and side asked for, or the only ones there are. */
gboolean sherd_verb_choose_side (SherdTrial *trial,
                                 const char *piece_name,
                                 const char *side_name,
                                 SherdPiece **piece,
                                 SherdSide **side,
                                 GError **error);
/* Prints a table as aligned text, or as CSV when @csv. */
void sherd_verb_print_table (const SherdTable *table, gboolean csv);
/* Prints "{format, version, …members}" to standard output; takes @members. */
void sherd_verb_print_json (const char *format, JsonObject *members);
/* Progress of long work on standard error, when that is a terminal. */
void sherd_verb_show_progress (double done_frac, gpointer what);

G_END_DECLS
