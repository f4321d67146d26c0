/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/jpeg-support.h"

#include <jerror.h>

/* The decoder leaves its fast way when less than a few kilobytes are at hand, so pieces are large. */
#define BUFFER_BYTES ((gsize)256 << 10)

/* Our choice: profiles, previews and the like before the pixels; more is an attempt to fill the memory. */
#define MAX_HEAD_BYTES ((guint64)64 << 20)

/* Our choice: encoders write about ten scans, the most thorough optimisers a few dozen. Each costs a pass over all
 * pixels however short it is. */
#define MAX_SCANS 100

/* Our choice: a few stray bytes before a marker are a habit of some cameras, more means that something is missing. */
#define MAX_STRAY_BYTES 16

static void
leave (j_common_ptr jpeg)
{
  SherdJpegErrors *errors = (SherdJpegErrors *)jpeg->err;

  jpeg->err->output_message (jpeg);
  longjmp (errors->on_error, 1);
}

/* Warnings after which the decoder goes on with made-up data, against those that only find fault with the form. */
static gboolean
is_damage (const struct jpeg_error_mgr *errors)
{
  switch (errors->msg_code)
    {
    case JWRN_ADOBE_XFORM:
    case JWRN_BOGUS_ICC:
    case JWRN_JFIF_MAJOR:
    case JWRN_NOT_SEQUENTIAL:
    case JWRN_TOO_MUCH_DATA:
      return FALSE;
    case JWRN_EXTRANEOUS_DATA:
      return errors->msg_parm.i[0] > MAX_STRAY_BYTES;
    default:
      return TRUE;
    }
}

static void
note_message (j_common_ptr jpeg, int level)
{
  SherdJpegErrors *errors = (SherdJpegErrors *)jpeg->err;

  if (level >= 0)
    return;
  jpeg->err->output_message (jpeg);
  if (jpeg->err->msg_code == JWRN_BOGUS_ICC)
    errors->bad_profile = TRUE;
  if (is_damage (jpeg->err))
    errors->damaged = TRUE;
}

static void
log_message (j_common_ptr jpeg)
{
  char text[JMSG_LENGTH_MAX];

  jpeg->err->format_message (jpeg, text);
  g_debug ("JPEG: %s", text);
}

/**
 * sherd_jpeg_errors_init:
 * @errors: (out): error handling to be given to a decoder before it is created
 *
 * Errors jump to @errors->on_error; warnings that mean loss of pixels set @errors->damaged.
 */
void
sherd_jpeg_errors_init (SherdJpegErrors *errors)
{
  jpeg_std_error (&errors->base);
  errors->base.error_exit = leave;
  errors->base.emit_message = note_message;
  errors->base.output_message = log_message;
}

static void
do_nothing (j_decompress_ptr jpeg)
{
}

/* At the end of the file the decoder is given an end of picture, without a warning: it misses the data itself when it
 * needs more of them. */
static boolean
fill_input_buffer (j_decompress_ptr jpeg)
{
  SherdJpegSource *source = (SherdJpegSource *)jpeg->src;
  gsize n_bytes = source->ended ? 0 : fread (source->buffer, 1, BUFFER_BYTES, source->stream);

  source->read_bytes += n_bytes;
  if (!source->head_done && source->read_bytes > MAX_HEAD_BYTES)
    ERREXIT (jpeg, JERR_BAD_LENGTH);
  if (n_bytes == 0)
    {
      source->ended = TRUE;
      source->buffer[n_bytes++] = 0xFF;
      source->buffer[n_bytes++] = JPEG_EOI;
    }
  source->base.next_input_byte = source->buffer;
  source->base.bytes_in_buffer = n_bytes;
  return TRUE;
}

static void
skip_input_data (j_decompress_ptr jpeg, long n_bytes)
{
  SherdJpegSource *source = (SherdJpegSource *)jpeg->src;

  if (n_bytes <= 0)
    return;
  while ((gsize)n_bytes > source->base.bytes_in_buffer && !source->ended)
    {
      n_bytes -= (long)source->base.bytes_in_buffer;
      fill_input_buffer (jpeg);
    }
  if (source->ended)
    return;
  source->base.next_input_byte += n_bytes;
  source->base.bytes_in_buffer -= (gsize)n_bytes;
}

/**
 * sherd_jpeg_source_init:
 * @source: (out): a source to be given to a decoder
 * @stream: where the bytes come from
 */
void
sherd_jpeg_source_init (SherdJpegSource *source, FILE *stream)
{
  source->base.init_source = do_nothing;
  source->base.fill_input_buffer = fill_input_buffer;
  source->base.skip_input_data = skip_input_data;
  source->base.resync_to_restart = jpeg_resync_to_restart;
  source->base.term_source = do_nothing;
  source->base.bytes_in_buffer = 0;
  source->stream = stream;
  source->buffer = g_malloc (BUFFER_BYTES);
}

/**
 * sherd_jpeg_source_clear:
 * @source: a source
 *
 * Frees what belongs to @source.
 */
void
sherd_jpeg_source_clear (SherdJpegSource *source)
{
  g_clear_pointer (&source->buffer, g_free);
}

/**
 * sherd_jpeg_source_has_left_over:
 * @source: a source whose last row of pixels has been decoded
 *
 * Returns: whether compressed data are left before the next marker. A damaged code makes the decoder lose step, often
 * without a warning, and then it ends too early. Padding is not counted.
 */
gboolean
sherd_jpeg_source_has_left_over (const SherdJpegSource *source)
{
  const guint8 *bytes = source->base.next_input_byte;
  gsize n_left = 0;

  for (gsize i = 0; i + 1 < source->base.bytes_in_buffer; i++)
    {
      if (bytes[i] == 0xFF && bytes[i + 1] != 0 && bytes[i + 1] != 0xFF)
        break;
      n_left += bytes[i] != 0 && bytes[i] != 0xFF;
    }
  return n_left > MAX_STRAY_BYTES;
}

static void
count_scans (j_common_ptr common)
{
  const j_decompress_ptr jpeg = (j_decompress_ptr)common;
  SherdJpegErrors *errors = (SherdJpegErrors *)jpeg->err;

  if (jpeg->input_scan_number <= MAX_SCANS)
    return;
  errors->too_many_scans = TRUE;
  leave (common);
}

/**
 * sherd_jpeg_limit_scans:
 * @jpeg: a decoder
 * @progress: memory for as long as @jpeg
 *
 * Makes a file with a senseless number of scans an error.
 */
void
sherd_jpeg_limit_scans (j_decompress_ptr jpeg, struct jpeg_progress_mgr *progress)
{
  progress->progress_monitor = count_scans;
  jpeg->progress = progress;
}
