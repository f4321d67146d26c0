/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* For reading, saving and recovery alone. */

/* (nullable): members of the file that this program does not know */
JsonObject *sherd_trial_get_unknown (SherdTrial *self);
void sherd_trial_set_unknown (SherdTrial *self, JsonObject *unknown);

/* After a trial was filled without edits: ids are noted, measurements compared with their inputs. */
void sherd_trial_settle (SherdTrial *self);

/* @disk_sha256: (nullable): hash of the bytes that lie at @path */
void sherd_trial_set_file (SherdTrial *self, const char *path, const char *disk_sha256);
/* (nullable) */
const char *sherd_trial_get_disk_sha256 (SherdTrial *self);
/* Folders of photographs of earlier file names: pictures of undone edits may still lie there only. */
GPtrArray *sherd_trial_get_earlier_photo_folders (SherdTrial *self);
/* Brings the picture into NAME.photos; nothing to do before the first save. */
gboolean sherd_trial_store_photo (SherdTrial *self, SherdPhotograph *photograph, GError **error);
/* The trial as it stands lies in its file, or does not. */
void sherd_trial_set_saved (SherdTrial *self, gboolean saved);
void sherd_trial_report_recovery_failure (SherdTrial *self, const char *message);

G_END_DECLS
