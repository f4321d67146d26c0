/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/decoding.h"
#include "photo/exif.h"
#include "photo/input.h"
#include "photo/photo.h"

G_BEGIN_DECLS

typedef struct _SherdReader SherdReader;

/* What a file format does to be read. A new format is one of these, listed in photo.c. */
typedef struct
{
  const char *name; /* of the format: “PNG” */

  gboolean (*recognises) (const guint8 *head, gsize n_bytes);

  /* Reads the head only: fills @info (whose strings it gives away) and the reader's decoding. */
  SherdReader *(*open) (SherdInput *file, SherdPhotoInfo *info, GPtrArray *remarks, GError **error);

  /* Before the first row: no columns but first…last will be asked for. */
  void (*limit_columns) (SherdReader *reader, guint first_px, guint last_px);

  /* Makes @y_px, a later row than the current one, the current one. */
  gboolean (*seek_row) (SherdReader *reader, guint y_px, GError **error);

  void (*free) (SherdReader *reader);
} SherdReaderKind;

/* An open file of one format; the formats' own readers begin with it. */
struct _SherdReader
{
  const SherdReaderKind *kind;
  SherdInput *file; /* owned */
  SherdSamples samples;
  SherdDecoding *decoding; /* owned */
  const guint8 *row;       /* samples of the current row, from column @first_px on */
  guint first_px;
};

/* How a format's own reader finds the meaning of its numbers, in order of belief; each returns whether it did. */
gboolean sherd_reader_use_icc (SherdReader *reader,
                               SherdPhotoInfo *info,
                               GPtrArray *remarks,
                               gconstpointer profile,
                               gsize length);
gboolean sherd_reader_use_exif_space (SherdReader *reader, SherdPhotoInfo *info, SherdExifSpace space);
void sherd_reader_assume_srgb (SherdReader *reader, SherdPhotoInfo *info, GPtrArray *remarks, SherdExifSpace space);
void sherd_reader_remark_damaged_profile (GPtrArray *remarks);
void sherd_reader_remark_few_colours (SherdReader *reader, SherdPhotoInfo *info, GPtrArray *remarks);

extern const SherdReaderKind sherd_png_reader;
extern const SherdReaderKind sherd_jpeg_reader;
extern const SherdReaderKind sherd_tiff_reader;

G_END_DECLS
