/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Strict JSON (RFC 8259), checked on the bytes before a parser sees them: a parser may be lenient (comments, two roots,
 * repeated names, whole numbers that overflow) and may run out of stack on deep nesting. */

/* Our choice: a trial nests seven deep, a newer one may a little more. */
#define SHERD_JSON_MAX_DEPTH 64u

/* SHERD_TRIAL_ERROR_SYNTAX: "line 12, pieces[0].name: …". A byte order mark in front is passed over. */
gboolean sherd_json_check (const char *bytes, gsize length, GError **error);
/* The line, from 1, on which the value at @path ("pieces[0].name", "" for the whole) begins in checked text; that of
 * the innermost object that is there when @path itself is not. */
guint sherd_json_find_line (const char *text, gsize length, const char *path);
/* Bytes of the byte order mark in front of @text: 0 or 3. */
gsize sherd_json_skip_bom (const char *text, gsize length);

G_END_DECLS
