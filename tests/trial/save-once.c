/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program to be disturbed while it saves: opens a trial, adds a picture, changes the title and saves.
 * Usage: save-once TRIAL PICTURE [largest file size in bytes]. Exit status: 0 saved, 1 refused with a message. */
#include "config.h"

#include <signal.h>
#include <sys/resource.h>

#include "trial/edits.h"
#include "trial/file.h"

static void
limit_file_size (const char *bytes)
{
  const struct rlimit limit = { .rlim_cur = (rlim_t)g_ascii_strtoull (bytes, NULL, 10), .rlim_max = RLIM_INFINITY };

  /* Without it the limit would kill instead of failing the write. */
  signal (SIGXFSZ, SIG_IGN);
  setrlimit (RLIMIT_FSIZE, &limit);
}

static gboolean
change_and_save (SherdTrial *trial, const char *picture, GError **error)
{
  g_autoptr (SherdPhotograph) photograph = sherd_photograph_new_from_file (picture, error);
  g_autoptr (SherdPiece) piece = g_list_model_get_item (sherd_trial_get_pieces (trial), 0);

  if (photograph == NULL ||
      !sherd_trial_add_photograph (trial, photograph, piece, sherd_piece_find_side_by_name (piece, "face"),
                                   "after firing 1", error))
    return FALSE;
  sherd_trial_begin_edit (trial, "Change title");
  sherd_trial_set (trial, trial, "title", "new");
  sherd_trial_end_edit (trial);
  return sherd_trial_save (trial, SHERD_SAVE_NORMAL, NULL, error);
}

int
main (int argc, char *argv[])
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdTrial) trial = sherd_trial_load (argv[1], &error);

  if (argc > 3)
    limit_file_size (argv[3]);
  if (trial != NULL && change_and_save (trial, argv[2], &error))
    return 0;
  g_printerr ("%d %s\n", error->code, error->message);
  return 1;
}
