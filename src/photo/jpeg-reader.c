/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/reader.h"

#include <stdlib.h>
#include <string.h>

#include <glib/gi18n-lib.h>

#include "photo/jpeg-support.h"

#include <jerror.h>

#define EXIF_MARKER (JPEG_APP0 + 1)
#define ICC_MARKER (JPEG_APP0 + 2)
#define MAX_MARKER_BYTES 0xFFFF

#define EXIF_HEADER_BYTES 6
static const guint8 exif_header[EXIF_HEADER_BYTES] = { 'E', 'x', 'i', 'f', 0, 0 };

typedef struct
{
  SherdReader base;
  struct jpeg_decompress_struct jpeg;
  SherdJpegErrors errors;
  SherdJpegSource source;
  struct jpeg_progress_mgr progress;
  guint8 *profile; /* from malloc */
  guint profile_bytes;
  gboolean multiple_scans;
  gboolean skips_rows; /* leaving rows out leaves the others as they are */
  guint wanted_first_px;
  guint wanted_last_px;
  guint8 *pixels; /* one row */
} JpegReader;

static gboolean
jpeg_recognises (const guint8 *head, gsize n_bytes)
{
  return n_bytes >= 3 && head[0] == 0xFF && head[1] == 0xD8 && head[2] == 0xFF;
}

static gboolean
read_head (JpegReader *reader)
{
  if (setjmp (reader->errors.on_error))
    return FALSE;
  jpeg_create_decompress (&reader->jpeg);
  reader->jpeg.src = &reader->source.base;
  reader->jpeg.mem->max_memory_to_use = (long)SHERD_INPUT_MAX_WHOLE_BYTES;
  sherd_jpeg_limit_scans (&reader->jpeg, &reader->progress);
  jpeg_save_markers (&reader->jpeg, EXIF_MARKER, MAX_MARKER_BYTES);
  jpeg_save_markers (&reader->jpeg, ICC_MARKER, MAX_MARKER_BYTES);
  jpeg_read_header (&reader->jpeg, TRUE);
  if (!jpeg_read_icc_profile (&reader->jpeg, &reader->profile, &reader->profile_bytes))
    reader->profile = NULL;
  reader->source.head_done = TRUE;
  reader->multiple_scans = jpeg_has_multiple_scans (&reader->jpeg);
  return TRUE;
}

/* Sets the error for what the decoder has run into. */
static void
set_failure (JpegReader *reader, GError **error)
{
  const SherdInput *file = reader->base.file;

  if (reader->errors.too_many_scans)
    sherd_input_set_unsupported (file,
                                 _ ("It is a progressive JPEG with a senseless number of passes. Save it as "
                                    "a “baseline” JPEG or PNG with an image program."),
                                 error);
  else if (reader->errors.base.msg_code == JERR_BAD_PRECISION)
    sherd_input_set_unsupported (file,
                                 _ ("It is a JPEG with more than 8 bits per channel, which this program "
                                    "cannot read. Save it as a 16-bit PNG with an image program."),
                                 error);
  else if (reader->errors.base.msg_code == JERR_SOF_UNSUPPORTED)
    sherd_input_set_unsupported (file,
                                 _ ("It is a lossless or hierarchical JPEG, which this program cannot read. "
                                    "Save it as PNG with an image program."),
                                 error);
  else if (reader->errors.base.msg_code == JERR_FRACT_SAMPLE_NOTIMPL ||
           reader->errors.base.msg_code == JERR_CONVERSION_NOTIMPL)
    sherd_input_set_unsupported (
      file, _ ("It is a JPEG of a rare form, which this program cannot read. Save it as PNG with an image program."),
      error);
  else if (reader->errors.base.msg_code == JERR_OUT_OF_MEMORY || reader->errors.base.msg_code == JERR_NO_BACKING_STORE)
    sherd_input_set_no_memory (file, error);
  else if (reader->source.ended)
    sherd_input_set_cut_off (file, error);
  else
    sherd_input_set_broken (file, error);
}

static guint64
count_blocks (const struct jpeg_decompress_struct *jpeg)
{
  guint64 n_blocks = 0;

  for (int i = 0; i < jpeg->num_components; i++)
    n_blocks += (guint64)jpeg->comp_info[i].width_in_blocks * jpeg->comp_info[i].height_in_blocks;
  return n_blocks;
}

/* Every block takes at least one bit in a first scan (ITU-T T.81, annex G), two in a sequential one (annex F), as no
 * Huffman code is shorter; a file that is too short for that need not be begun. Arithmetic coding has no such limit. */
static gboolean
check_packed_size (JpegReader *reader, GError **error)
{
  const guint64 n_bits = count_blocks (&reader->jpeg) * (reader->jpeg.progressive_mode ? 1 : 2);

  if (reader->jpeg.arith_code || n_bits / 8 <= reader->base.file->size_bytes)
    return TRUE;
  sherd_input_set_cut_off (reader->base.file, error);
  return FALSE;
}

/* Several scans are gathered as coefficients, each of two bytes. */
static gboolean
check_memory (JpegReader *reader, GError **error)
{
  const guint64 n_bytes = count_blocks (&reader->jpeg) * DCTSIZE2 * sizeof (JCOEF);

  return !reader->multiple_scans || sherd_input_check_memory (reader->base.file, n_bytes, error);
}

static void
fill_info (JpegReader *reader, SherdPhotoInfo *info)
{
  info->format = g_strdup ("JPEG");
  info->width_px = reader->jpeg.image_width;
  info->height_px = reader->jpeg.image_height;
  info->grey = reader->jpeg.num_components == 1;
  info->bits = 8;
}

/* Programs for print write ink the wrong way round, and a marker by which it is known (its maker's technical note 5116,
 * from memory; the habit is common practice). */
static gboolean
fill_samples (JpegReader *reader, GError **error)
{
  SherdSamples *samples = &reader->base.samples;

  samples->bits = 8;
  samples->n_colours = (guint)reader->jpeg.num_components;
  samples->ink_inverted = samples->n_colours == 4 && reader->jpeg.saw_Adobe_marker;
  if (samples->n_colours != 2 && samples->n_colours <= 4 && reader->jpeg.jpeg_color_space != JCS_UNKNOWN)
    return TRUE;

  sherd_input_set_unsupported (reader->base.file,
                               _ ("It is a JPEG with channels that are not red, green and "
                                  "blue. Use the camera's own file."),
                               error);
  return FALSE;
}

static SherdExifSpace
read_exif (JpegReader *reader, SherdPhotoInfo *info)
{
  for (jpeg_saved_marker_ptr marker = reader->jpeg.marker_list; marker; marker = marker->next)
    if (marker->marker == EXIF_MARKER && marker->data_length > EXIF_HEADER_BYTES &&
        memcmp (marker->data, exif_header, EXIF_HEADER_BYTES) == 0)
      return sherd_exif_read (marker->data + EXIF_HEADER_BYTES, marker->data_length - EXIF_HEADER_BYTES, info);
  return SHERD_EXIF_SPACE_UNSAID;
}

static void
find_meaning (JpegReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  const SherdExifSpace exif_space = read_exif (reader, info);

  if (reader->errors.bad_profile)
    sherd_reader_remark_damaged_profile (remarks);
  if (!sherd_reader_use_icc (&reader->base, info, remarks, reader->profile, reader->profile_bytes) &&
      !sherd_reader_use_exif_space (&reader->base, info, exif_space))
    sherd_reader_assume_srgb (&reader->base, info, remarks, exif_space);
  sherd_reader_remark_few_colours (&reader->base, info, remarks);
}

static gboolean
open_head (JpegReader *reader, SherdPhotoInfo *info, GPtrArray *remarks, GError **error)
{
  sherd_jpeg_errors_init (&reader->errors);
  sherd_jpeg_source_init (&reader->source, reader->base.file->stream);
  reader->jpeg.err = &reader->errors.base;
  if (!read_head (reader))
    {
      set_failure (reader, error);
      return FALSE;
    }
  fill_info (reader, info);
  if (!sherd_input_check_size (reader->base.file, info->width_px, info->height_px, error) ||
      !fill_samples (reader, error) || !check_packed_size (reader, error) || !check_memory (reader, error))
    return FALSE;
  find_meaning (reader, info, remarks);
  reader->wanted_last_px = info->width_px - 1;
  return TRUE;
}

static void
jpeg_reader_free (SherdReader *base)
{
  JpegReader *reader = (JpegReader *)base;

  jpeg_destroy_decompress (&reader->jpeg);
  sherd_jpeg_source_clear (&reader->source);
  free (reader->profile);
  g_free (reader->pixels);
  sherd_decoding_free (base->decoding);
  sherd_input_free (base->file);
  g_free (reader);
}

static SherdReader *
jpeg_reader_open (SherdInput *file, SherdPhotoInfo *info, GPtrArray *remarks, GError **error)
{
  JpegReader *reader = g_new0 (JpegReader, 1);

  reader->base.kind = &sherd_jpeg_reader;
  reader->base.file = file;
  if (open_head (reader, info, remarks, error))
    return &reader->base;
  jpeg_reader_free (&reader->base);
  return NULL;
}

static void
jpeg_reader_limit_columns (SherdReader *base, guint first_px, guint last_px)
{
  JpegReader *reader = (JpegReader *)base;

  reader->wanted_first_px = first_px;
  reader->wanted_last_px = last_px;
}

/* After skipped rows the decoder (libjpeg-turbo 2.1) goes wrong, unless every component is one sample high or some are
 * spread from one row to two by its smooth ways, which need a few columns. Found by trying 3000 files of all samplings;
 * a test holds it. */
static gboolean
can_skip_rows (const struct jpeg_decompress_struct *jpeg)
{
  gboolean spreads = FALSE;

  for (int i = 0; i < jpeg->num_components; i++)
    {
      const int h_times = jpeg->max_h_samp_factor / jpeg->comp_info[i].h_samp_factor;
      const int v_times = jpeg->max_v_samp_factor / jpeg->comp_info[i].v_samp_factor;

      if (v_times == 2 && h_times > 2)
        return FALSE;
      spreads |= v_times == 2;
    }
  return jpeg->max_v_samp_factor == 1 || (jpeg->max_v_samp_factor == 2 && spreads && jpeg->image_width >= 4 * DCTSIZE);
}

/* Leaves out blocks left and right of the wanted columns. One more on each side is kept, because the smooth upsampling
 * of colour looks at the neighbouring column. */
static void
crop (JpegReader *reader)
{
  struct jpeg_decompress_struct *jpeg = &reader->jpeg;
  const guint margin_px = (guint)(jpeg->max_h_samp_factor * DCTSIZE);
  JDIMENSION first = reader->wanted_first_px - MIN (reader->wanted_first_px, margin_px);
  JDIMENSION width = MIN (reader->wanted_last_px + margin_px, jpeg->image_width - 1) - first + 1;

  if (width < jpeg->image_width)
    jpeg_crop_scanline (jpeg, &first, &width);
  else
    first = 0;
  reader->base.first_px = first;
}

/* Where scans are missing the decoder makes up what they would have said. (ITU-T T.81 lets an encoder leave out parts
 * of a progressive picture, but none is known that does.) */
static gboolean
has_all_scans (const JpegReader *reader)
{
  const struct jpeg_decompress_struct *jpeg = &reader->jpeg;

  for (int i = 0; i < jpeg->num_components; i++)
    {
      if (!jpeg->comp_info[i].quant_table)
        return FALSE;
      for (int k = 0; jpeg->progressive_mode && k < DCTSIZE2; k++)
        if (jpeg->coef_bits[i][k] != 0)
          return FALSE;
    }
  return TRUE;
}

static gboolean
start (JpegReader *reader)
{
  static const J_COLOR_SPACE spaces[] = { [1] = JCS_GRAYSCALE, [3] = JCS_RGB, [4] = JCS_CMYK };

  if (setjmp (reader->errors.on_error))
    return FALSE;
  reader->jpeg.out_color_space = spaces[reader->base.samples.n_colours];
  reader->jpeg.dct_method = JDCT_ISLOW;
  reader->skips_rows = can_skip_rows (&reader->jpeg);
  jpeg_start_decompress (&reader->jpeg);
  if (reader->multiple_scans && !has_all_scans (reader))
    return FALSE;
  crop (reader);
  reader->pixels = g_malloc ((gsize)reader->jpeg.output_width * reader->base.samples.n_colours);
  reader->base.row = reader->pixels;
  return TRUE;
}

static gboolean
read_row (JpegReader *reader, guint y_px)
{
  JSAMPROW row = reader->pixels;

  if (setjmp (reader->errors.on_error))
    return FALSE;
  while (!reader->skips_rows && reader->jpeg.output_scanline < y_px)
    jpeg_read_scanlines (&reader->jpeg, &row, 1);
  if (reader->jpeg.output_scanline < y_px)
    jpeg_skip_scanlines (&reader->jpeg, y_px - reader->jpeg.output_scanline);
  return jpeg_read_scanlines (&reader->jpeg, &row, 1) == 1;
}

/* Where data are missing the decoder makes pixels up and goes on; here that is the end. With several scans or
 * arithmetic coding missing data are not noticed as such: the file must then end with an end of picture. With one scan
 * nothing must be left after the last row. */
static gboolean
is_whole (const JpegReader *reader)
{
  const gboolean end_needed = reader->jpeg.arith_code || reader->multiple_scans;
  const gboolean at_end = reader->jpeg.output_scanline == reader->jpeg.output_height;

  if (reader->errors.damaged || (end_needed && reader->source.ended))
    return FALSE;
  return reader->multiple_scans || !at_end || !sherd_jpeg_source_has_left_over (&reader->source);
}

static gboolean
jpeg_reader_seek_row (SherdReader *base, guint y_px, GError **error)
{
  JpegReader *reader = (JpegReader *)base;

  if ((!reader->pixels && !start (reader)) || !read_row (reader, y_px) || !is_whole (reader))
    {
      set_failure (reader, error);
      return FALSE;
    }
  return TRUE;
}

const SherdReaderKind sherd_jpeg_reader = {
  .name = "JPEG",
  .recognises = jpeg_recognises,
  .open = jpeg_reader_open,
  .limit_columns = jpeg_reader_limit_columns,
  .seek_row = jpeg_reader_seek_row,
  .free = jpeg_reader_free,
};
