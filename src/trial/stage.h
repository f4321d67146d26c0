/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A stage in the life of a piece, as written in the file and on the command line:
 * "unfired", "after firing 1", "after firing 2", …, each also with ", after rubbing" behind. */
#define SHERD_STAGE_UNFIRED "unfired"

/* Our choice: no piece is fired more often. */
#define SHERD_STAGE_MAX_FIRINGS 99u

/* FALSE when @stage is none of these; @n_firings is 0 for unfired. */
gboolean sherd_stage_parse (const char *stage, guint *n_firings, gboolean *rubbed);
/* SHERD_TRIAL_ERROR_VALUE, naming the forms that are taken. */
gboolean sherd_stage_check (const char *stage, GError **error);
/* (transfer full) */
char *sherd_stage_new (guint n_firings, gboolean rubbed);
/* In the order of the piece's life, like strcmp (); for sorting. */
int sherd_stage_compare (const char *first, const char *second);

G_END_DECLS
