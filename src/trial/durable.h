/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A file that is written aside in the same folder, brought to the disk and only then takes the place of the old one: at
 * every moment either the old or the new file is there, whole. Freeing it before the commit leaves the old file and
 * removes what was written. */
typedef struct _SherdDurableFile SherdDurableFile;

/* (transfer full): SHERD_TRIAL_ERROR_SAVE. @path: not a symbolic link, see sherd_durable_resolve (). */
SherdDurableFile *sherd_durable_file_new (const char *path, GError **error);
gboolean sherd_durable_file_write (SherdDurableFile *self, const void *data, gsize length, GError **error);
/* All bytes to the disk, or SHERD_TRIAL_ERROR_SAVE. */
gboolean sherd_durable_file_finish (SherdDurableFile *self, GError **error);
/* Takes the old file's place: SHERD_TRIAL_ERROR_SAVE when it could not, SHERD_TRIAL_ERROR_DURABLE when it did but the
 * folder could not be brought to the disk. */
gboolean sherd_durable_file_commit (SherdDurableFile *self, GError **error);
void sherd_durable_file_free (SherdDurableFile *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdDurableFile, sherd_durable_file_free)

/* The four steps in one. */
gboolean sherd_durable_write (const char *path, const void *data, gsize length, GError **error);
/* (transfer full): the file behind @path when that is a symbolic link, absolute */
char *sherd_durable_resolve (const char *path);
/* Removes what killed programs left behind in @folder; files another program is writing stay. */
void sherd_durable_clean_folder (const char *folder);

G_END_DECLS
