/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/reader.h"

#include <setjmp.h>
#include <string.h>

#include <glib/gi18n-lib.h>
#include <png.h>

#define SIGNATURE_BYTES 8
#define HEAD_BYTES 33 /* signature and IHDR with its checksum */

/* Deflate cannot shrink data further than this (RFC 1951: 258 bytes for 2 bits). */
#define MAX_DEFLATE_RATIO 1032

typedef struct
{
  SherdReader base;
  png_structp png;
  png_infop png_info;
  gboolean cut_off;
  gboolean damaged_profile;
  gboolean interlaced;
  gsize row_bytes;
  guint next_y_px; /* the row the decoder gives next */
  guint8 *pixels;  /* one row, or all of them if interlaced */
} PngReader;

/* “PNG” and not the whole signature: a file mangled on its way is to be called damaged, not unknown. */
static gboolean
png_recognises (const guint8 *head, gsize n_bytes)
{
  return n_bytes >= 4 && memcmp (head + 1, "PNG", 3) == 0;
}

static void
raise_error (png_structp png, png_const_charp message)
{
  g_debug ("PNG: %s", message);
  longjmp (png_jmpbuf (png), 1);
}

/* Of the doubts libpng has only those about the profile bear on colour. */
static void
note_warning (png_structp png, png_const_charp message)
{
  PngReader *reader = png_get_error_ptr (png);

  g_debug ("PNG: %s", message);
  if (strstr (message, "iCCP"))
    reader->damaged_profile = TRUE;
}

static void
read_bytes (png_structp png, png_bytep data, png_size_t n_bytes)
{
  PngReader *reader = png_get_io_ptr (png);

  if (fread (data, 1, n_bytes, reader->base.file->stream) == n_bytes)
    return;
  reader->cut_off = TRUE;
  png_error (png, "end of file");
}

/* Text, which may unpack to any size, is passed over; the colour code point is not known to every libpng. */
static void
choose_chunks (png_structp png)
{
  static const png_byte ignored[] = "tEXt\0zTXt\0iTXt\0sPLT\0hIST\0pCAL\0sCAL";
  static const png_byte kept[] = "cICP";

  png_set_keep_unknown_chunks (png, PNG_HANDLE_CHUNK_NEVER, ignored, (int)sizeof ignored / 5);
  png_set_keep_unknown_chunks (png, PNG_HANDLE_CHUNK_ALWAYS, kept, 1);
}

static gboolean
start (PngReader *reader)
{
  reader->png = png_create_read_struct (PNG_LIBPNG_VER_STRING, reader, raise_error, note_warning);
  if (!reader->png)
    return FALSE;
  reader->png_info = png_create_info_struct (reader->png);
  if (!reader->png_info)
    return FALSE;
  png_set_read_fn (reader->png, reader, read_bytes);
  png_set_user_limits (reader->png, SHERD_INPUT_MAX_SIDE_PX, SHERD_INPUT_MAX_SIDE_PX);
  png_set_chunk_malloc_max (reader->png, SHERD_INPUT_MAX_PROFILE_BYTES);
  choose_chunks (reader->png);
  return TRUE;
}

/* Everything before the pixels. */
static gboolean
read_head (PngReader *reader)
{
  if (setjmp (png_jmpbuf (reader->png)))
    return FALSE;
  png_read_info (reader->png, reader->png_info);
  return TRUE;
}

/* Asks for whole bytes: grey or RGB of 8 or 16 bits, with alpha where the file has transparency of any sort. */
static gboolean
set_transformations (PngReader *reader)
{
  if (setjmp (png_jmpbuf (reader->png)))
    return FALSE;
  png_set_expand (reader->png);
  if (G_BYTE_ORDER == G_LITTLE_ENDIAN)
    png_set_swap (reader->png);
  png_set_interlace_handling (reader->png);
  png_read_update_info (reader->png, reader->png_info);
  return TRUE;
}

static void
fill_info (PngReader *reader, SherdPhotoInfo *info)
{
  const png_byte type = png_get_color_type (reader->png, reader->png_info);

  info->format = g_strdup ("PNG");
  info->width_px = png_get_image_width (reader->png, reader->png_info);
  info->height_px = png_get_image_height (reader->png, reader->png_info);
  info->grey = !(type & PNG_COLOR_MASK_COLOR);
  info->bits = type == PNG_COLOR_TYPE_PALETTE ? 8 : png_get_bit_depth (reader->png, reader->png_info);
  reader->interlaced = png_get_interlace_type (reader->png, reader->png_info) != PNG_INTERLACE_NONE;
}

static void
fill_samples (PngReader *reader)
{
  const png_byte type = png_get_color_type (reader->png, reader->png_info);

  reader->base.samples.n_colours = type & PNG_COLOR_MASK_COLOR ? 3 : 1;
  reader->base.samples.has_alpha = (type & PNG_COLOR_MASK_ALPHA) != 0;
  reader->base.samples.bits = png_get_bit_depth (reader->png, reader->png_info);
  reader->row_bytes = png_get_rowbytes (reader->png, reader->png_info);
}

/* Looks for the EXIF chunk behind the pixels, where the standard allows it too (PNG, third edition, 11.3.4.5), without
 * reading them. The checksum is not looked at: a damaged block gives no harm, only no capture data. */
static GBytes *
find_late_exif (FILE *stream)
{
  guint8 head[8];

  for (long next = SIGNATURE_BYTES; fseek (stream, next, SEEK_SET) == 0 && fread (head, 1, 8, stream) == 8;)
    {
      const guint32 n_bytes = (guint32)head[0] << 24 | (guint32)head[1] << 16 | (guint32)head[2] << 8 | head[3];

      if (n_bytes > PNG_UINT_31_MAX || memcmp (head + 4, "IEND", 4) == 0)
        return NULL;
      if (memcmp (head + 4, "eXIf", 4) == 0 && n_bytes <= G_MAXUINT16)
        {
          g_autofree guint8 *data = g_malloc (n_bytes + 1);

          return fread (data, 1, n_bytes, stream) == n_bytes ? g_bytes_new (data, n_bytes) : NULL;
        }
      next += 12 + (long)n_bytes;
    }
  return NULL;
}

static GBytes *
dup_exif (PngReader *reader)
{
  FILE *stream = reader->base.file->stream;
  png_uint_32 n_bytes;
  png_bytep data;
  GBytes *late;
  long pixels_at;

  if (png_get_eXIf_1 (reader->png, reader->png_info, &n_bytes, &data))
    return g_bytes_new (data, n_bytes);
  pixels_at = ftell (stream);
  late = find_late_exif (stream);
  clearerr (stream);
  fseek (stream, pixels_at, SEEK_SET);
  return late;
}

static SherdExifSpace
read_exif (PngReader *reader, SherdPhotoInfo *info)
{
  g_autoptr (GBytes) exif = dup_exif (reader);
  gsize n_bytes = 0;
  gconstpointer data = exif ? g_bytes_get_data (exif, &n_bytes) : NULL;

  return sherd_exif_read (data, n_bytes, info);
}

/* Primaries by their code in ITU-T H.273 (2021), table 2. */
static const SherdPrimaries *
find_cicp_primaries (guint8 code)
{
  static const SherdPrimaries bt_709 = { 0.64, 0.33, 0.30, 0.60, 0.15, 0.06, 0.3127, 0.3290 };
  static const SherdPrimaries bt_2020 = { 0.708, 0.292, 0.170, 0.797, 0.131, 0.046, 0.3127, 0.3290 };
  static const SherdPrimaries p3_d65 = { 0.680, 0.320, 0.265, 0.690, 0.150, 0.060, 0.3127, 0.3290 };

  return code == 1 ? &bt_709 : code == 9 ? &bt_2020 : code == 12 ? &p3_d65 : NULL;
}

/* The four bytes of cICP, or NULL: primaries, transfer, matrix (0 for RGB), full range (PNG, third edition,
 * 11.3.2.6). */
static const guint8 *
find_cicp (PngReader *reader)
{
  png_unknown_chunkp chunks;
  const int n = png_get_unknown_chunks (reader->png, reader->png_info, &chunks);

  for (int i = 0; i < n; i++)
    if (memcmp (chunks[i].name, "cICP", 4) == 0 && chunks[i].size == 4)
      return chunks[i].data;
  return NULL;
}

/* Transfers by their code in H.273, table 3: 8 is linear, 13 is sRGB; the others are for films. */
static gboolean
use_cicp (PngReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  const guint8 *cicp = find_cicp (reader);
  const SherdPrimaries *primaries = cicp ? find_cicp_primaries (cicp[0]) : NULL;

  if (!cicp)
    return FALSE;
  if (!primaries || (cicp[1] != 8 && cicp[1] != 13) || cicp[2] != 0 || cicp[3] != 1)
    {
      g_ptr_array_add (remarks, g_strdup (_ ("The file states a colour space for films, which this program does not "
                                             "read; colours may be wrong without a chart.")));
      return FALSE;
    }
  info->space = SHERD_PHOTO_SPACE_CICP;
  reader->base.decoding = cicp[1] == 8 ? sherd_decoding_new_power (&reader->base.samples, 1)
                                       : sherd_decoding_new_srgb (&reader->base.samples);
  if (cicp[0] != 1)
    sherd_decoding_set_primaries (reader->base.decoding, primaries);
  return TRUE;
}

static gboolean
use_icc (PngReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  png_charp name;
  int compression;
  png_bytep profile = NULL;
  png_uint_32 n_bytes = 0;

  if (!png_get_iCCP (reader->png, reader->png_info, &name, &compression, &profile, &n_bytes))
    profile = NULL;
  if (!profile && reader->damaged_profile)
    sherd_reader_remark_damaged_profile (remarks);
  return sherd_reader_use_icc (&reader->base, info, remarks, profile, n_bytes);
}

static gboolean
use_srgb (PngReader *reader, SherdPhotoInfo *info)
{
  int intent;

  if (!png_get_sRGB (reader->png, reader->png_info, &intent))
    return FALSE;
  info->space = SHERD_PHOTO_SPACE_SRGB;
  reader->base.decoding = sherd_decoding_new_srgb (&reader->base.samples);
  return TRUE;
}

/* gAMA is the exponent of the encoding (PNG, 11.3.2.2). With cHRM alone the curve is taken to be that of sRGB. */
static gboolean
use_gamma (PngReader *reader, SherdPhotoInfo *info)
{
  SherdPrimaries p;
  double gamma = 0;
  const gboolean has_gamma = png_get_gAMA (reader->png, reader->png_info, &gamma) && gamma > 0.01 && gamma < 100;
  const gboolean has_primaries = png_get_cHRM (reader->png, reader->png_info, &p.white_x, &p.white_y, &p.red_x,
                                               &p.red_y, &p.green_x, &p.green_y, &p.blue_x, &p.blue_y) != 0;

  if (!has_gamma && !has_primaries)
    return FALSE;
  info->space = SHERD_PHOTO_SPACE_GAMMA;
  reader->base.decoding = has_gamma ? sherd_decoding_new_power (&reader->base.samples, 1 / gamma)
                                    : sherd_decoding_new_srgb (&reader->base.samples);
  if (has_primaries)
    sherd_decoding_set_primaries (reader->base.decoding, &p);
  return TRUE;
}

static void
find_meaning (PngReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  const SherdExifSpace exif_space = read_exif (reader, info);

  if (!use_cicp (reader, info, remarks) && !use_icc (reader, info, remarks) && !use_srgb (reader, info) &&
      !use_gamma (reader, info) && !sherd_reader_use_exif_space (&reader->base, info, exif_space))
    sherd_reader_assume_srgb (&reader->base, info, remarks, exif_space);
  sherd_reader_remark_few_colours (&reader->base, info, remarks);
}

static guint64
get_number (const guint8 *bytes)
{
  return (guint64)bytes[0] << 24 | (guint64)bytes[1] << 16 | (guint64)bytes[2] << 8 | bytes[3];
}

/* The size stands at a fixed place (PNG, 11.2.1) and is looked at before the decoder asks for memory. */
static gboolean
check_stated_size (const SherdInput *file, GError **error)
{
  if (file->n_head < HEAD_BYTES)
    {
      sherd_input_set_cut_off (file, error);
      return FALSE;
    }
  if (png_sig_cmp (file->head, 0, SIGNATURE_BYTES) != 0 || memcmp (file->head + 12, "IHDR", 4) != 0)
    {
      sherd_input_set_broken (file, error);
      return FALSE;
    }
  return sherd_input_check_size (file, get_number (file->head + 16), get_number (file->head + 20), error);
}

/* No data as short as the file can unpack to as many pixels as it states. */
static gboolean
check_packed_size (PngReader *reader, const SherdPhotoInfo *info, GError **error)
{
  const guint64 packed_bytes = (guint64)info->height_px * png_get_rowbytes (reader->png, reader->png_info);

  if (packed_bytes / MAX_DEFLATE_RATIO <= reader->base.file->size_bytes)
    return TRUE;
  sherd_input_set_cut_off (reader->base.file, error);
  return FALSE;
}

static void
set_failure (PngReader *reader, GError **error)
{
  if (reader->cut_off)
    sherd_input_set_cut_off (reader->base.file, error);
  else
    sherd_input_set_broken (reader->base.file, error);
}

static gboolean
open_head (PngReader *reader, SherdPhotoInfo *info, GPtrArray *remarks, GError **error)
{
  if (!check_stated_size (reader->base.file, error))
    return FALSE;
  if (!start (reader) || !read_head (reader))
    {
      set_failure (reader, error);
      return FALSE;
    }
  fill_info (reader, info);
  if (!check_packed_size (reader, info, error))
    return FALSE;
  if (!set_transformations (reader))
    {
      set_failure (reader, error);
      return FALSE;
    }
  fill_samples (reader);
  find_meaning (reader, info, remarks);
  return !reader->interlaced ||
         sherd_input_check_memory (reader->base.file, (guint64)info->height_px * reader->row_bytes, error);
}

static void
png_reader_free (SherdReader *base)
{
  PngReader *reader = (PngReader *)base;

  png_destroy_read_struct (&reader->png, &reader->png_info, NULL);
  g_free (reader->pixels);
  sherd_decoding_free (base->decoding);
  sherd_input_free (base->file);
  g_free (reader);
}

static SherdReader *
png_reader_open (SherdInput *file, SherdPhotoInfo *info, GPtrArray *remarks, GError **error)
{
  PngReader *reader = g_new0 (PngReader, 1);

  reader->base.kind = &sherd_png_reader;
  reader->base.file = file;
  if (open_head (reader, info, remarks, error))
    return &reader->base;
  png_reader_free (&reader->base);
  return NULL;
}

/* Rows are packed as a whole: there is no work to be saved on columns. */
static void
png_reader_limit_columns (SherdReader *base, guint first_px, guint last_px)
{
}

static gboolean
read_next_row (PngReader *reader)
{
  if (setjmp (png_jmpbuf (reader->png)))
    return FALSE;
  png_read_row (reader->png, reader->pixels, NULL);
  return TRUE;
}

static gboolean
read_whole (PngReader *reader, png_bytepp rows)
{
  if (setjmp (png_jmpbuf (reader->png)))
    return FALSE;
  png_read_image (reader->png, rows);
  return TRUE;
}

/* An interlaced picture is complete only when all of it has been read. */
static gboolean
read_interlaced (PngReader *reader)
{
  const gsize height_px = png_get_image_height (reader->png, reader->png_info);
  g_autofree png_bytepp rows = g_new (png_bytep, height_px);

  for (gsize y = 0; y < height_px; y++)
    rows[y] = reader->pixels + y * reader->row_bytes;
  return read_whole (reader, rows);
}

static gboolean
allocate_pixels (PngReader *reader, GError **error)
{
  const gsize n_rows = reader->interlaced ? png_get_image_height (reader->png, reader->png_info) : 1;

  reader->pixels = g_try_malloc0 (n_rows * reader->row_bytes);
  if (reader->pixels)
    return TRUE;
  sherd_input_set_no_memory (reader->base.file, error);
  return FALSE;
}

static gboolean
png_reader_seek_row (SherdReader *base, guint y_px, GError **error)
{
  PngReader *reader = (PngReader *)base;
  gboolean read = TRUE;

  if (!reader->pixels)
    {
      if (!allocate_pixels (reader, error))
        return FALSE;
      if (reader->interlaced)
        read = read_interlaced (reader);
    }
  if (!reader->interlaced)
    for (; read && reader->next_y_px <= y_px; reader->next_y_px++)
      read = read_next_row (reader);

  if (!read)
    set_failure (reader, error);
  base->row = reader->pixels + (reader->interlaced ? y_px * reader->row_bytes : 0);
  return read;
}

const SherdReaderKind sherd_png_reader = {
  .name = "PNG",
  .recognises = png_recognises,
  .open = png_reader_open,
  .limit_columns = png_reader_limit_columns,
  .seek_row = png_reader_seek_row,
  .free = png_reader_free,
};
