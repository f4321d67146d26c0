/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/reader.h"

#include <string.h>

#include <glib/gi18n-lib.h>

#include "photo/foreign-kind.h"
#include "photo/tiff-exif.h"
#include "photo/tiff-layout.h"

/* Our choice: the most memory for one row of tiles, or for the packed bytes of one strip. */
#define MAX_PIECE_BYTES (G_GUINT64_CONSTANT (512) << 20)

/* Our choice: no photograph unpacks to more than so many times its size; a whiter-than-white fax might. */
#define MAX_PACKING_RATIO 100000

/* Our choice: previews stand before the picture in a few files; none has as many. */
#define MAX_DIRECTORIES 32

typedef struct
{
  SherdReader base;
  SherdTiffLayout layout;
  SherdTiffSource sources[SHERD_TIFF_MAX_CHANNELS]; /* one a plane, so that each goes forward in strips of its own */
  guint n_sources;
  guint width_px;
  guint height_px;
  gboolean tiled;
  guint32 piece_width_px; /* of a tile, or of the whole picture */
  guint32 piece_height_px;
  gsize stored_row_bytes; /* of a tile or strip */
  gsize stored_bytes;     /* of a tile, or of one row of a strip */
  guint8 *stored;
  guint8 *pixels;  /* one row, or a row of tiles */
  guint next_y_px; /* strips: the row that comes next; tiles: the first row below those in @pixels */
  guint wanted_first_px;
  guint wanted_last_px;
} TiffReader;

static gboolean
tiff_recognises (const guint8 *head, gsize n_bytes)
{
  static const char *const signatures[] = { "II*", "MM\0*", "II+", "MM\0+" };

  for (guint i = 0; n_bytes >= 4 && i < G_N_ELEMENTS (signatures); i++)
    if (memcmp (head, signatures[i], 4) == 0)
      return !sherd_foreign_kind_is_raw (head, n_bytes);
  return FALSE;
}

static gboolean
is_cut_off (const TiffReader *reader)
{
  gboolean cut_off = FALSE;

  for (guint i = 0; i < reader->n_sources; i++)
    cut_off |= reader->sources[i].cut_off;
  return cut_off;
}

static gboolean
fail (const TiffReader *reader, GError **error)
{
  if (is_cut_off (reader))
    sherd_input_set_cut_off (reader->base.file, error);
  else
    sherd_input_set_broken (reader->base.file, error);
  return FALSE;
}

static guint32
get_long (TIFF *tiff, guint32 tag)
{
  guint32 value = 0;

  return TIFFGetFieldDefaulted (tiff, tag, &value) ? value : 0;
}

/* Raw pictures carry the version of their own standard, or the photometric code of a mosaic. */
static gboolean
is_raw (TIFF *tiff)
{
  const guint8 *version = NULL;
  guint16 photometric = 0;

  return TIFFGetField (tiff, TIFFTAG_DNGVERSION, &version) ||
         (TIFFGetField (tiff, TIFFTAG_PHOTOMETRIC, &photometric) && photometric == PHOTOMETRIC_CFA);
}

/* Goes to the first directory that is no preview. Raw files often hold a preview first and the picture elsewhere. */
static gboolean
find_picture (TiffReader *reader, GError **error)
{
  TIFF *tiff = reader->sources[0].tiff;

  for (guint i = 0; i < MAX_DIRECTORIES && !is_raw (tiff); i++)
    {
      if (!(get_long (tiff, TIFFTAG_SUBFILETYPE) & (FILETYPE_REDUCEDIMAGE | FILETYPE_MASK)))
        return TRUE;
      if (!TIFFReadDirectory (tiff))
        break;
    }
  sherd_input_set_unsupported (reader->base.file,
                               _ ("It holds only a preview, or raw data of a camera. Develop it with a raw converter, "
                                  "with nothing made prettier, save a 16-bit TIFF and open that."),
                               error);
  return FALSE;
}

static gboolean
open_sources (TiffReader *reader)
{
  const tdir_t directory = TIFFCurrentDirectory (reader->sources[0].tiff);
  const guint n_planes = sherd_tiff_layout_get_n_planes (&reader->layout);

  for (; reader->n_sources < n_planes; reader->n_sources++)
    {
      SherdTiffSource *source = &reader->sources[reader->n_sources];

      if (!sherd_tiff_source_open (source, reader->base.file) || !TIFFSetDirectory (source->tiff, directory))
        {
          sherd_tiff_source_close (source);
          return FALSE;
        }
    }
  return TRUE;
}

/* What libtiff delivers must hold as many samples as the layout takes out. */
static gboolean
measure_pieces (TiffReader *reader)
{
  TIFF *tiff = reader->sources[0].tiff;

  reader->tiled = TIFFIsTiled (tiff) != 0;
  reader->piece_width_px = reader->tiled ? get_long (tiff, TIFFTAG_TILEWIDTH) : reader->width_px;
  reader->piece_height_px = get_long (tiff, reader->tiled ? TIFFTAG_TILELENGTH : TIFFTAG_ROWSPERSTRIP);
  reader->stored_row_bytes = reader->tiled ? TIFFTileRowSize64 (tiff) : TIFFScanlineSize64 (tiff);
  reader->stored_bytes = reader->tiled ? TIFFTileSize64 (tiff) : reader->stored_row_bytes;
  return reader->piece_width_px > 0 && reader->piece_height_px > 0 &&
         reader->stored_row_bytes >= sherd_tiff_layout_get_stored_bytes (&reader->layout, reader->piece_width_px) &&
         reader->stored_bytes / reader->stored_row_bytes >= (reader->tiled ? reader->piece_height_px : 1);
}

static gsize
get_row_bytes (const TiffReader *reader)
{
  return reader->width_px * sherd_samples_get_pixel_bytes (&reader->base.samples);
}

static guint64
count_band_bytes (const TiffReader *reader)
{
  const guint n_rows = reader->tiled ? MIN (reader->piece_height_px, reader->height_px) : 1;

  return (guint64)get_row_bytes (reader) * n_rows;
}

static gboolean
check_piece (const TiffReader *reader, guint64 n_bytes, GError **error)
{
  if (n_bytes <= MAX_PIECE_BYTES)
    return TRUE;
  g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_TOO_LARGE,
               _ ("“%s” is laid out in pieces of %.0f MB, more than the %.0f MB this program gives them. Save it in "
                  "smaller tiles or strips, or as a PNG without interlacing."),
               reader->base.file->name, (double)(n_bytes >> 20), (double)(MAX_PIECE_BYTES >> 20));
  return FALSE;
}

/* Each strip or tile must lie within the file. */
static gboolean
check_places (TiffReader *reader, GError **error)
{
  TIFF *tiff = reader->sources[0].tiff;
  const guint64 size_bytes = reader->base.file->size_bytes;
  const guint32 n_pieces = reader->tiled ? TIFFNumberOfTiles (tiff) : TIFFNumberOfStrips (tiff);

  for (guint32 i = 0; i < n_pieces; i++)
    {
      const guint64 from = TIFFGetStrileOffset (tiff, i), n_bytes = TIFFGetStrileByteCount (tiff, i);

      reader->sources[0].cut_off |= from > size_bytes || n_bytes > size_bytes - from;
      if (from == 0 || n_bytes == 0 || reader->sources[0].cut_off)
        return fail (reader, error);
      if (!check_piece (reader, n_bytes, error))
        return FALSE;
    }
  return n_pieces > 0 || fail (reader, error);
}

static gboolean
check_packed_size (TiffReader *reader, GError **error)
{
  const guint64 unpacked_bytes =
    sherd_tiff_layout_get_stored_bytes (&reader->layout, reader->width_px) * reader->height_px;

  reader->sources[0].cut_off |= unpacked_bytes / MAX_PACKING_RATIO > reader->base.file->size_bytes;
  return !reader->sources[0].cut_off || fail (reader, error);
}

static void
fill_info (TiffReader *reader, SherdPhotoInfo *info)
{
  reader->base.samples = reader->layout.samples;
  info->format = g_strdup ("TIFF");
  info->width_px = reader->width_px;
  info->height_px = reader->height_px;
  info->bits = reader->layout.palette ? reader->layout.samples.bits : reader->layout.bits;
  info->grey = reader->layout.samples.n_colours == 1;
}

/* A handle of its own, because libtiff leaves the picture's directory for the camera's. */
static SherdExifSpace
read_exif (TiffReader *reader, SherdPhotoInfo *info)
{
  SherdTiffSource source;
  SherdExifSpace space = SHERD_EXIF_SPACE_UNSAID;

  if (sherd_tiff_source_open (&source, reader->base.file) &&
      TIFFSetDirectory (source.tiff, TIFFCurrentDirectory (reader->sources[0].tiff)))
    space = sherd_tiff_exif_read (&source, info);
  sherd_tiff_source_close (&source);
  return space;
}

static gboolean
use_icc (TiffReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  guint32 n_bytes = 0;
  const void *profile = NULL;

  if (!TIFFGetField (reader->sources[0].tiff, TIFFTAG_ICCPROFILE, &n_bytes, &profile))
    return FALSE;
  return sherd_reader_use_icc (&reader->base, info, remarks, profile, n_bytes);
}

/* TIFF 6.0, section 20: primaries and white. Without a transfer function the curve is taken to be that of sRGB, as of a
 * PNG that states nothing else. */
static gboolean
use_primaries (TiffReader *reader, SherdPhotoInfo *info)
{
  TIFF *tiff = reader->sources[0].tiff;
  const float *white = NULL, *colours = NULL;
  const guint16 *transfer[3] = { NULL };
  SherdPrimaries p;

  if (reader->base.samples.n_colours != 3 || reader->layout.real ||
      TIFFGetField (tiff, TIFFTAG_TRANSFERFUNCTION, &transfer[0], &transfer[1], &transfer[2]) ||
      !TIFFGetField (tiff, TIFFTAG_WHITEPOINT, &white) || !TIFFGetField (tiff, TIFFTAG_PRIMARYCHROMATICITIES, &colours))
    return FALSE;
  p = (SherdPrimaries){ (double)colours[0], (double)colours[1], (double)colours[2], (double)colours[3],
                        (double)colours[4], (double)colours[5], (double)white[0],   (double)white[1] };
  reader->base.decoding = sherd_decoding_new_srgb (&reader->base.samples);
  if (sherd_decoding_set_primaries (reader->base.decoding, &p))
    {
      info->space = SHERD_PHOTO_SPACE_GAMMA;
      return TRUE;
    }
  g_clear_pointer (&reader->base.decoding, sherd_decoding_free);
  return FALSE;
}

/* Floating-point pictures without a profile hold linear light (common practice, no source). */
static gboolean
assume_linear (TiffReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  if (!reader->layout.real || reader->base.samples.n_colours == 4)
    return FALSE;
  info->space = SHERD_PHOTO_SPACE_ASSUMED_SRGB;
  reader->base.decoding = sherd_decoding_new_power (&reader->base.samples, 1);
  g_ptr_array_add (remarks, g_strdup (_ ("Floating-point numbers without a colour profile: linear light in the colours "
                                         "of sRGB was assumed, 1 for white.")));
  return TRUE;
}

static void
find_meaning (TiffReader *reader, SherdPhotoInfo *info, GPtrArray *remarks)
{
  const SherdExifSpace exif_space = read_exif (reader, info);

  if (!use_icc (reader, info, remarks) && !assume_linear (reader, info, remarks) && !use_primaries (reader, info) &&
      !sherd_reader_use_exif_space (&reader->base, info, exif_space))
    sherd_reader_assume_srgb (&reader->base, info, remarks, exif_space);
  sherd_reader_remark_few_colours (&reader->base, info, remarks);
}

static gboolean
open_directory (TiffReader *reader, GError **error)
{
  const gboolean opened = sherd_tiff_source_open (&reader->sources[0], reader->base.file);

  reader->n_sources = 1;
  if (!opened)
    return fail (reader, error);
  if (!find_picture (reader, error))
    return FALSE;
  reader->width_px = get_long (reader->sources[0].tiff, TIFFTAG_IMAGEWIDTH);
  reader->height_px = get_long (reader->sources[0].tiff, TIFFTAG_IMAGELENGTH);
  return sherd_input_check_size (reader->base.file, reader->width_px, reader->height_px, error) &&
         sherd_tiff_layout_read (&reader->layout, &reader->sources[0], error);
}

static gboolean
open_head (TiffReader *reader, SherdPhotoInfo *info, GPtrArray *remarks, GError **error)
{
  if (!open_directory (reader, error))
    return FALSE;
  if (!measure_pieces (reader) || !open_sources (reader))
    return fail (reader, error);
  fill_info (reader, info);
  if (!check_places (reader, error) || !check_packed_size (reader, error) ||
      !check_piece (reader, reader->stored_bytes, error) || !check_piece (reader, count_band_bytes (reader), error))
    return FALSE;
  find_meaning (reader, info, remarks);
  reader->wanted_last_px = info->width_px - 1;
  return TRUE;
}

static void
tiff_reader_free (SherdReader *base)
{
  TiffReader *reader = (TiffReader *)base;

  for (guint i = 0; i < reader->n_sources; i++)
    sherd_tiff_source_close (&reader->sources[i]);
  sherd_tiff_layout_clear (&reader->layout);
  g_free (reader->stored);
  g_free (reader->pixels);
  sherd_decoding_free (base->decoding);
  sherd_input_free (base->file);
  g_free (reader);
}

static SherdReader *
tiff_reader_open (SherdInput *file, SherdPhotoInfo *info, GPtrArray *remarks, GError **error)
{
  TiffReader *reader = g_new0 (TiffReader, 1);

  reader->base.kind = &sherd_tiff_reader;
  reader->base.file = file;
  if (open_head (reader, info, remarks, error))
    return &reader->base;
  tiff_reader_free (&reader->base);
  return NULL;
}

static void
tiff_reader_limit_columns (SherdReader *base, guint first_px, guint last_px)
{
  TiffReader *reader = (TiffReader *)base;

  reader->wanted_first_px = first_px;
  reader->wanted_last_px = last_px;
}

/* Reads one tile of one plane, and copies its part of the picture. */
static gboolean
read_tile (TiffReader *reader, guint plane, guint x_px, guint y_px)
{
  SherdTiffSource *source = &reader->sources[plane];
  const guint n_rows = MIN (reader->piece_height_px, reader->height_px - y_px);
  const guint n_px = MIN (reader->piece_width_px, reader->width_px - x_px);
  const gsize first_byte = x_px * sherd_samples_get_pixel_bytes (&reader->base.samples);
  const guint32 tile =
    TIFFComputeTile (source->tiff, x_px, y_px, 0, sherd_tiff_layout_get_sample (&reader->layout, plane));
  const tmsize_t n_bytes = (tmsize_t)reader->stored_bytes;

  source->made_up = FALSE;
  if (TIFFReadEncodedTile (source->tiff, tile, reader->stored, n_bytes) != n_bytes || source->made_up)
    return FALSE;
  for (guint row = 0; row < n_rows; row++)
    sherd_tiff_layout_unpack (&reader->layout, reader->stored + row * reader->stored_row_bytes, plane, n_px,
                              reader->pixels + row * get_row_bytes (reader) + first_byte);
  return TRUE;
}

/* Tiles beside the wanted columns are left out. */
static gboolean
read_tiles (TiffReader *reader, guint y_px)
{
  const guint width_px = reader->piece_width_px;
  const guint top_px = y_px / reader->piece_height_px * reader->piece_height_px;

  for (guint plane = 0; plane < reader->n_sources; plane++)
    for (guint64 x = reader->wanted_first_px / width_px * width_px; x <= reader->wanted_last_px; x += width_px)
      if (!read_tile (reader, plane, (guint)x, top_px))
        return FALSE;
  reader->next_y_px = (guint)MIN ((guint64)top_px + reader->piece_height_px, reader->height_px);
  return TRUE;
}

static gboolean
read_strip_row (TiffReader *reader, guint plane, guint y_px)
{
  SherdTiffSource *source = &reader->sources[plane];
  const guint16 sample = sherd_tiff_layout_get_sample (&reader->layout, plane);

  source->made_up = FALSE;
  return TIFFReadScanline (source->tiff, reader->stored, y_px, sample) == 1 && !source->made_up;
}

/* Rows of a strip must be unpacked one after the other; whole strips can be left out. */
static gboolean
read_strip_rows (TiffReader *reader, guint y_px)
{
  const guint top_px = y_px / reader->piece_height_px * reader->piece_height_px;

  for (guint y = MAX (reader->next_y_px, top_px); y <= y_px; y++)
    for (guint plane = 0; plane < reader->n_sources; plane++)
      {
        if (!read_strip_row (reader, plane, y))
          return FALSE;
        if (y == y_px)
          sherd_tiff_layout_unpack (&reader->layout, reader->stored, plane, reader->width_px, reader->pixels);
      }
  reader->next_y_px = y_px + 1;
  return TRUE;
}

static gboolean
allocate (TiffReader *reader, GError **error)
{
  reader->stored = g_try_malloc (reader->stored_bytes);
  reader->pixels = reader->stored ? g_try_malloc0 (count_band_bytes (reader)) : NULL;
  if (reader->pixels)
    return TRUE;
  sherd_input_set_no_memory (reader->base.file, error);
  return FALSE;
}

static gboolean
tiff_reader_seek_row (SherdReader *base, guint y_px, GError **error)
{
  TiffReader *reader = (TiffReader *)base;

  if (!reader->pixels && !allocate (reader, error))
    return FALSE;
  base->row = reader->pixels;
  if (!reader->tiled)
    return read_strip_rows (reader, y_px) || fail (reader, error);
  if (y_px >= reader->next_y_px && !read_tiles (reader, y_px))
    return fail (reader, error);
  base->row = reader->pixels + y_px % reader->piece_height_px * get_row_bytes (reader);
  return TRUE;
}

const SherdReaderKind sherd_tiff_reader = {
  .name = "TIFF",
  .recognises = tiff_recognises,
  .open = tiff_reader_open,
  .limit_columns = tiff_reader_limit_columns,
  .seek_row = tiff_reader_seek_row,
  .free = tiff_reader_free,
};
