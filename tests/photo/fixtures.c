/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "fixtures.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

guint16 *
fixture_samples (guint width, guint height, guint channels, guint bits, guint seed)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (seed);
  const double full = (1 << bits) - 1;
  guint16 *samples = g_new (guint16, (gsize)width * height * channels);
  guint16 *sample = samples;

  for (guint y = 0; y < height; y++)
    for (guint x = 0; x < width; x++)
      for (guint c = 0; c < channels; c++)
        {
          const double wave = sin ((x + 17 * c + seed) * 0.21) * cos ((y + 5 * c) * 0.13);
          const double level = 0.5 + 0.6 * wave + 0.2 * (g_rand_double (rand) - 0.5);

          *sample++ = (guint16)lround (full * CLAMP (level, 0, 1));
        }
  return samples;
}

guint
fixture_png_channels (int type)
{
  return (type & PNG_COLOR_MASK_COLOR && type != PNG_COLOR_TYPE_PALETTE ? 3 : 1) +
         (type & PNG_COLOR_MASK_ALPHA ? 1 : 0);
}

void
fixture_append_png (png_structp png, png_bytep data, png_size_t n_bytes)
{
  g_byte_array_append (png_get_io_ptr (png), data, (guint)n_bytes);
}

static void
flush_png (png_structp png)
{
}

/* Rows as libpng wants them: samples below 8 bits packed, above big-endian. */
static guint8 *
pack_row (const guint16 *samples, guint n, guint bits)
{
  guint8 *row = g_malloc0 (2 * (gsize)n + 1);

  for (guint i = 0; i < n; i++)
    if (bits == 16)
      {
        row[2 * i] = (guint8)(samples[i] >> 8);
        row[2 * i + 1] = (guint8)samples[i];
      }
    else
      row[i * bits / 8] = (guint8)(row[i * bits / 8] | samples[i] << (8 - bits - i * bits % 8));
  return row;
}

GBytes *
fixture_png (const FixturePng *fixture, const guint16 *samples)
{
  GByteArray *file = g_byte_array_new ();
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);
  const guint n_row = fixture->width * fixture_png_channels (fixture->type);
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func (g_free);

  for (guint y = 0; y < fixture->height; y++)
    g_ptr_array_add (rows, pack_row (samples + (gsize)y * n_row, n_row, fixture->bits));
  png_set_write_fn (png, file, fixture_append_png, flush_png);
  png_set_IHDR (png, info, fixture->width, fixture->height, (int)fixture->bits, fixture->type,
                fixture->interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                PNG_FILTER_TYPE_DEFAULT);
  if (fixture->decorate)
    fixture->decorate (png, info, fixture->user_data);
  png_write_info (png, info);
  png_write_image (png, (png_bytepp)rows->pdata);
  png_write_end (png, info);
  png_destroy_write_struct (&png, &info);
  return g_byte_array_free_to_bytes (file);
}

static void
write_exif (struct jpeg_compress_struct *jpeg, GBytes *exif)
{
  gsize n_bytes;
  const guint8 *data = g_bytes_get_data (exif, &n_bytes);
  g_autoptr (GByteArray) marker = g_byte_array_new ();

  g_byte_array_append (marker, (const guint8 *)"Exif\0", 6);
  g_byte_array_append (marker, data, (guint)n_bytes);
  jpeg_write_marker (jpeg, JPEG_APP0 + 1, marker->data, marker->len);
}

static void
write_rows (struct jpeg_compress_struct *jpeg, const guint16 *samples)
{
  const gsize n = (gsize)jpeg->image_width * (gsize)jpeg->input_components;
  g_autofree guint8 *row = g_malloc (n);

  while (jpeg->next_scanline < jpeg->image_height)
    {
      JSAMPROW rows[] = { row };

      for (gsize i = 0; i < n; i++)
        row[i] = (guint8)samples[jpeg->next_scanline * n + i];
      jpeg_write_scanlines (jpeg, rows, 1);
    }
}

static const jpeg_scan_info separate_scans[] = { { 1, { 0 }, 0, 63, 0, 0 },
                                                 { 1, { 1 }, 0, 63, 0, 0 },
                                                 { 1, { 2 }, 0, 63, 0, 0 },
                                                 { 1, { 3 }, 0, 63, 0, 0 } };

static void
set_jpeg_parameters (struct jpeg_compress_struct *jpeg, const FixtureJpeg *fixture)
{
  jpeg->image_width = fixture->width;
  jpeg->image_height = fixture->height;
  jpeg->in_color_space = fixture->space;
  jpeg->input_components = fixture->space == JCS_GRAYSCALE ? 1 : fixture->space == JCS_RGB ? 3 : 4;
  jpeg_set_defaults (jpeg);
  if (fixture->stored != JCS_UNKNOWN)
    jpeg_set_colorspace (jpeg, fixture->stored);
  jpeg_set_quality (jpeg, fixture->quality ? fixture->quality : 90, TRUE);
  jpeg->comp_info[0].h_samp_factor = fixture->h ? fixture->h : 1;
  jpeg->comp_info[0].v_samp_factor = fixture->v ? fixture->v : 1;
  for (int i = 1; i < jpeg->num_components; i++)
    {
      jpeg->comp_info[i].h_samp_factor = 1;
      jpeg->comp_info[i].v_samp_factor = fixture->other_v ? fixture->other_v : 1;
    }
  jpeg->arith_code = fixture->arithmetic;
  jpeg->restart_in_rows = (int)fixture->restart_rows;
  if (fixture->separate)
    {
      jpeg->scan_info = separate_scans;
      jpeg->num_scans = jpeg->num_components;
    }
  if (fixture->progressive)
    jpeg_simple_progression (jpeg);
  if (fixture->no_adobe_marker)
    jpeg->write_Adobe_marker = FALSE;
}

GBytes *
fixture_jpeg (const FixtureJpeg *fixture, const guint16 *samples)
{
  struct jpeg_compress_struct jpeg;
  struct jpeg_error_mgr errors;
  unsigned char *data = NULL;
  unsigned long n_bytes = 0;

  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_compress (&jpeg);
  jpeg_mem_dest (&jpeg, &data, &n_bytes);
  set_jpeg_parameters (&jpeg, fixture);
  jpeg_start_compress (&jpeg, TRUE);
  if (fixture->exif)
    write_exif (&jpeg, fixture->exif);
  if (fixture->icc)
    jpeg_write_icc_profile (&jpeg, g_bytes_get_data (fixture->icc, NULL), (guint)g_bytes_get_size (fixture->icc));
  write_rows (&jpeg, samples);
  jpeg_finish_compress (&jpeg);
  jpeg_destroy_compress (&jpeg);
  return g_bytes_new_with_free_func (data, n_bytes, free, data);
}

guint8 *
fixture_decode_jpeg (GBytes *bytes, guint *channels)
{
  struct jpeg_decompress_struct jpeg;
  struct jpeg_error_mgr errors;
  guint8 *pixels;
  gsize stride;

  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_decompress (&jpeg);
  jpeg_mem_src (&jpeg, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  jpeg_read_header (&jpeg, TRUE);
  if (jpeg.num_components == 4)
    jpeg.out_color_space = JCS_CMYK;
  jpeg_start_decompress (&jpeg);
  *channels = (guint)jpeg.output_components;
  stride = (gsize)jpeg.output_width * *channels;
  pixels = g_malloc (stride * jpeg.output_height);
  while (jpeg.output_scanline < jpeg.output_height)
    {
      JSAMPROW rows[] = { pixels + stride * jpeg.output_scanline };

      jpeg_read_scanlines (&jpeg, rows, 1);
    }
  jpeg_finish_decompress (&jpeg);
  jpeg_destroy_decompress (&jpeg);
  return pixels;
}

static void
append_number (GByteArray *array, guint32 number, guint n_bytes, gboolean little_endian)
{
  for (guint i = 0; i < n_bytes; i++)
    {
      const guint shift = 8 * (little_endian ? i : n_bytes - 1 - i);
      const guint8 byte = (guint8)(number >> shift);

      g_byte_array_append (array, &byte, 1);
    }
}

/* One directory entry that holds one short (TIFF 6.0, section 2). */
static void
append_short_entry (GByteArray *array, guint tag, guint value, gboolean little_endian)
{
  append_number (array, tag, 2, little_endian);
  append_number (array, 3, 2, little_endian);
  append_number (array, 1, 4, little_endian);
  append_number (array, value, 2, little_endian);
  append_number (array, 0, 2, little_endian);
}

/* TIFF header; IFD0 with Orientation and ExifIFDPointer; Exif IFD with ColorSpace. */
GBytes *
fixture_exif (guint orientation, guint colour_space, gboolean little_endian)
{
  GByteArray *exif = g_byte_array_new ();

  g_byte_array_append (exif, (const guint8 *)(little_endian ? "II" : "MM"), 2);
  append_number (exif, 42, 2, little_endian);
  append_number (exif, 8, 4, little_endian);
  append_number (exif, 2, 2, little_endian);
  append_short_entry (exif, 0x0112, orientation, little_endian);
  append_number (exif, 0x8769, 2, little_endian);
  append_number (exif, 4, 2, little_endian);
  append_number (exif, 1, 4, little_endian);
  append_number (exif, 38, 4, little_endian);
  append_number (exif, 0, 4, little_endian);
  append_number (exif, 1, 2, little_endian);
  append_short_entry (exif, 0xA001, colour_space, little_endian);
  append_number (exif, 0, 4, little_endian);
  return g_byte_array_free_to_bytes (exif);
}

GBytes *
fixture_icc (cmsHPROFILE profile)
{
  cmsUInt32Number n_bytes = 0;
  guint8 *data;

  cmsSaveProfileToMem (profile, NULL, &n_bytes);
  data = g_malloc (n_bytes);
  cmsSaveProfileToMem (profile, data, &n_bytes);
  cmsCloseProfile (profile);
  return g_bytes_new_take (data, n_bytes);
}

GBytes *
fixture_wide_icc (void)
{
  const cmsCIExyY white = { 0.3457, 0.3585, 1 };
  const cmsCIExyYTRIPLE primaries = { { 0.7347, 0.2653, 1 }, { 0.1596, 0.8404, 1 }, { 0.0366, 0.0001, 1 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, 1.8);
  cmsToneCurve *curves[] = { curve, curve, curve };
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &primaries, curves);

  cmsFreeToneCurve (curve);
  return fixture_icc (profile);
}

FixturePixels *
fixture_read_all (SherdPhoto *photo, GError **error)
{
  const SherdPhotoInfo *info = sherd_photo_get_info (photo);
  g_autoptr (FixturePixels) pixels = g_new0 (FixturePixels, 1);

  pixels->width = info->width_px;
  pixels->height = info->height_px;
  pixels->linear = g_new (float, (gsize)3 * pixels->width * pixels->height);
  pixels->flags = g_new (guint8, (gsize)pixels->width * pixels->height);
  for (guint y = 0; y < pixels->height; y++)
    {
      const gsize first = (gsize)y * pixels->width;

      if (!sherd_photo_seek_row (photo, y, error))
        return NULL;
      sherd_photo_convert (photo, 0, 1, pixels->width, pixels->linear + 3 * first, pixels->flags + first);
    }
  return g_steal_pointer (&pixels);
}

void
fixture_pixels_free (FixturePixels *pixels)
{
  if (!pixels)
    return;
  g_free (pixels->linear);
  g_free (pixels->flags);
  g_free (pixels);
}
