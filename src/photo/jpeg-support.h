/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <setjmp.h>
#include <stdio.h>

#include <glib.h>
#include <jpeglib.h>

G_BEGIN_DECLS

/* What went wrong while decoding. */
typedef struct
{
  struct jpeg_error_mgr base;
  jmp_buf on_error;
  gboolean damaged; /* pixels are, or will be, made up */
  gboolean bad_profile;
  gboolean too_many_scans;
} SherdJpegErrors;

/* Bytes of a file in pieces large enough for the decoder's fast way. */
typedef struct
{
  struct jpeg_source_mgr base;
  FILE *stream;
  guint8 *buffer;
  guint64 read_bytes;
  gboolean head_done;
  gboolean ended; /* the file ended and an end was made up */
} SherdJpegSource;

void sherd_jpeg_errors_init (SherdJpegErrors *errors);
void sherd_jpeg_source_init (SherdJpegSource *source, FILE *stream);
void sherd_jpeg_source_clear (SherdJpegSource *source);
gboolean sherd_jpeg_source_has_left_over (const SherdJpegSource *source);
void sherd_jpeg_limit_scans (j_decompress_ptr jpeg, struct jpeg_progress_mgr *progress);

G_END_DECLS
