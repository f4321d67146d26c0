/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdio.h>

#include "photo/photo.h"

G_BEGIN_DECLS

#define SHERD_INPUT_HEAD_BYTES 4096

/* Our choice: above any camera of today, below what would fill a disk. */
#define SHERD_INPUT_MAX_PIXELS G_GUINT64_CONSTANT (1000000000)
#define SHERD_INPUT_MAX_SIDE_PX G_GUINT64_CONSTANT (1000000)

/* Our choice: the memory that a kind of file may take which cannot be read row by row. */
#define SHERD_INPUT_MAX_WHOLE_BYTES (G_GUINT64_CONSTANT (1) << 30)

/* Our choice: printers' profiles reach some megabytes; JPEG itself ends at 255 segments of 64 KiB. */
#define SHERD_INPUT_MAX_PROFILE_BYTES ((gsize)16 << 20)

/* A photograph's bytes, its name for messages and its first bytes, by which its kind is known. */
typedef struct
{
  FILE *stream;  /* at the first byte */
  GBytes *bytes; /* behind @stream, or NULL for a file on disk */
  char *name;
  guint64 size_bytes;
  guint8 head[SHERD_INPUT_HEAD_BYTES];
  gsize n_head;
} SherdInput;

SherdInput *sherd_input_open (const char *path, GError **error);
SherdInput *sherd_input_open_bytes (GBytes *bytes, const char *name, GError **error);
void sherd_input_free (SherdInput *file);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdInput, sherd_input_free)

gboolean sherd_input_check_size (const SherdInput *file, guint64 width_px, guint64 height_px, GError **error);
gboolean sherd_input_check_memory (const SherdInput *file, guint64 whole_bytes, GError **error);
void sherd_input_set_broken (const SherdInput *file, GError **error);
void sherd_input_set_cut_off (const SherdInput *file, GError **error);
void sherd_input_set_no_memory (const SherdInput *file, GError **error);
void sherd_input_set_unsupported (const SherdInput *file, const char *what, GError **error);

G_END_DECLS
