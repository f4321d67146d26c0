/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The last states of a trial's file, in NAME.versions beside it: NAME-000001.sherdboard, NAME-000002.sherdboard, … */

/* Keeps what lies at @path as the newest version and drops the oldest. TRUE when there is nothing to keep; FALSE with
 * SHERD_TRIAL_ERROR_SAVE when it could not be kept. */
gboolean sherd_versions_keep (const char *path, guint n_kept, GError **error);
/* (transfer full): paths of the versions of @path, newest first */
GStrv sherd_versions_list (const char *path);

G_END_DECLS
