/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* NAME.sherdboard, with NAME.photos/ (pictures) and NAME.versions/ (the last five states) beside it. */
#define SHERD_TRIAL_SUFFIX ".sherdboard"
#define SHERD_TRIAL_VERSIONS_KEPT 5
/* Our choice: room for some hundred measured photographs with 1,000 zones each. */
#define SHERD_TRIAL_MAX_BYTES (256u * 1024u * 1024u)

typedef enum
{
  SHERD_SAVE_NORMAL = 0,
  SHERD_SAVE_OVER_CHANGED = 1 << 0 /* the user was asked: replace what another program wrote */
} SherdSaveFlags;

/* (transfer full): reads all or nothing. */
SherdTrial *sherd_trial_load (const char *path, GError **error);
/* (transfer full): from bytes, with no file; @name for messages */
SherdTrial *sherd_trial_new_from_text (const char *text, gsize length, const char *name, GError **error);
/* (transfer full): exactly the bytes of the file */
char *sherd_trial_dup_text (SherdTrial *trial, gsize *length);

/* Saves to the trial's own file. @remark: (out) (optional) (nullable): something to tell the user although the trial is
 * saved. Fails with SHERD_TRIAL_ERROR_CHANGED when another program changed the file: ask, then save with
 * SHERD_SAVE_OVER_CHANGED or under another name. */
gboolean sherd_trial_save (SherdTrial *trial, SherdSaveFlags flags, char **remark, GError **error);
/* Takes @path as the trial's own file from now on; the pictures are copied along. Replaces a file that is there (the
 * caller asked), keeping it as a version. ".sherdboard" is added when missing. */
gboolean sherd_trial_save_as (SherdTrial *trial, const char *path, char **remark, GError **error);
/* (nullable): NULL before the first save */
const char *sherd_trial_get_path (SherdTrial *trial);
/* (transfer full) (nullable): the folder NAME.photos, NULL before the first save */
char *sherd_trial_dup_photos_folder (SherdTrial *trial);
/* (transfer full): where the picture can be read now */
char *sherd_trial_dup_photo_path (SherdTrial *trial, SherdPhotograph *photograph);
/* Reads the picture whole and compares its SHA-256: SHERD_TRIAL_ERROR_PHOTO when missing or changed. */
gboolean sherd_trial_check_photo (SherdTrial *trial, SherdPhotograph *photograph, GError **error);

G_END_DECLS
