/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program to be killed: opens a trial and retitles it twenty times a second, journalled; tells each title, and when
 * it was set, on standard output. Usage: edit-until-killed TRIAL RECOVERY_FOLDER */
#include "config.h"

#include <stdio.h>

#include "trial/file.h"
#include "trial/recovery.h"

static gboolean
edit_cb (gpointer data)
{
  static guint count = 0;
  SherdTrial *trial = data;
  g_autofree char *title = g_strdup_printf ("%u", ++count);

  sherd_trial_begin_edit (trial, "Change title");
  sherd_trial_set (trial, trial, "title", title);
  sherd_trial_end_edit (trial);
  printf ("%s %" G_GINT64_FORMAT "\n", title, g_get_monotonic_time ());
  fflush (stdout);
  return G_SOURCE_CONTINUE;
}

int
main (int argc, char *argv[])
{
  g_autoptr (GMainLoop) loop = g_main_loop_new (NULL, FALSE);
  g_autoptr (SherdTrial) trial = sherd_trial_load (argv[1], NULL);

  if (trial == NULL || !sherd_recovery_start (trial, argv[2], NULL))
    return 1;
  g_timeout_add (50, edit_cb, trial);
  g_main_loop_run (loop);
  return 0;
}
