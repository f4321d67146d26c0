/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* A journal against crashes: within two seconds of an edit the whole trial, as it stands, lies in a recovery file under
 * the user's state folder. A clean save or sherd_recovery_stop () removes it. A program that was killed leaves it
 * behind; the next start finds it and offers it. */

/* What a crashed run left behind. */
typedef struct
{
  char *file;       /* the recovery file */
  char *trial_path; /* (nullable): the trial's own file, NULL when it was never saved */
  char *title;
  GDateTime *edited; /* when it was written, local time */
} SherdRecovery;

void sherd_recovery_free (SherdRecovery *recovery);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdRecovery, sherd_recovery_free)

/* (transfer full): $XDG_STATE_HOME/sherdboard/recovery */
char *sherd_recovery_dup_folder (void);
/* (transfer full) (element-type SherdRecovery): newest first; those of programs still running are left out */
GPtrArray *sherd_recovery_find (const char *folder);
/* (transfer full): the trial as it stood, marked as modified, with its own file's path; start its journal again with
 * sherd_recovery_start (), which takes the place of the file found. */
SherdTrial *sherd_recovery_open (const SherdRecovery *recovery, GError **error);
/* The user does not want it. */
void sherd_recovery_discard (const SherdRecovery *recovery);

/* Journals @trial into @folder from now on (nullable: the user's state folder), driven by the thread-default main
 * context. A failure to write is told once through the trial's signal "recovery-failed" (message). */
gboolean sherd_recovery_start (SherdTrial *trial, const char *folder, GError **error);
/* The user closed the trial: saved, or gave up the changes. Removes the recovery file. */
void sherd_recovery_stop (SherdTrial *trial);

G_END_DECLS
