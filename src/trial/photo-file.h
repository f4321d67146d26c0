/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The files of photographs in NAME.photos: named by content, so that the same picture is stored once. */

/* (transfer full): 64 hexadecimal digits; @size_bytes: (out) (optional) */
char *sherd_photo_file_sha256 (const char *path, guint64 *size_bytes, GError **error);
/* (transfer full): first 12 digits, "-", and what a file may be called everywhere of @original_name */
char *sherd_photo_file_name (const char *sha256, const char *original_name);
/* Whether @name is a plain file name that cannot lead out of the folder. */
gboolean sherd_photo_file_name_is_safe (const char *name);
/* Copies @source to @target unless that already holds the same bytes. Whole and on disk, or not at all. */
gboolean sherd_photo_file_copy (const char *source, const char *target, const char *sha256, GError **error);

G_END_DECLS
