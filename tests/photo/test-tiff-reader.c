/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The files are made here by libtiff from known codes, so the codes are the truth; their colours are IEC 61966-2-1 as
 * in colour/srgb.c or those of a profile as in icc.c (both tested against the outside in their own tests). Directories
 * put together byte by byte are in test-tiff-head.c. What ImageMagick says of files of other programs is in
 * test-corpus.c. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib/gstdio.h>
#include <tiffio.h>

#include "colour/srgb.h"
#include "fixtures.h"
#include "photo/icc.h"

#define FLOAT_TOLERANCE 1e-6
#define WIDTH_PX 53
#define HEIGHT_PX 41

/* A file to be made of codes of 16 bits. */
typedef struct
{
  const char *name;
  guint bits;
  guint form;        /* SAMPLEFORMAT_… */
  guint photometric; /* PHOTOMETRIC_… */
  guint channels;
  gboolean alpha; /* the last of them */
  guint packing;  /* COMPRESSION_… */
  guint predictor;
  gboolean separate;
  guint tile_px; /* 0: strips */
  guint strip_rows;
  gboolean big_endian;
  gboolean big_tiff;
} Kind;

#define UINT SAMPLEFORMAT_UINT
#define REAL SAMPLEFORMAT_IEEEFP
#define GREY PHOTOMETRIC_MINISBLACK
#define WHITE PHOTOMETRIC_MINISWHITE
#define RGB PHOTOMETRIC_RGB

static const Kind kinds[] = {
  { "grey-1", 1, UINT, GREY, 1, FALSE, COMPRESSION_NONE, 1, FALSE, 0, 7, FALSE, FALSE },
  { "grey-1-fax", 1, UINT, WHITE, 1, FALSE, COMPRESSION_CCITTFAX4, 1, FALSE, 0, 41, FALSE, FALSE },
  { "grey-2", 2, UINT, GREY, 1, FALSE, COMPRESSION_PACKBITS, 1, FALSE, 0, 7, FALSE, FALSE },
  { "grey-4-tiles", 4, UINT, WHITE, 1, FALSE, COMPRESSION_NONE, 1, FALSE, 16, 0, FALSE, FALSE },
  { "grey-8", 8, UINT, GREY, 1, FALSE, COMPRESSION_LZW, 2, FALSE, 0, 7, FALSE, FALSE },
  { "grey-8-inverted", 8, UINT, WHITE, 1, FALSE, COMPRESSION_NONE, 1, FALSE, 0, 7, FALSE, FALSE },
  { "grey-alpha-8", 8, UINT, GREY, 2, TRUE, COMPRESSION_ADOBE_DEFLATE, 1, FALSE, 16, 0, FALSE, FALSE },
  { "grey-16", 16, UINT, GREY, 1, FALSE, COMPRESSION_ADOBE_DEFLATE, 2, FALSE, 0, 7, TRUE, FALSE },
  { "rgb-8", 8, UINT, RGB, 3, FALSE, COMPRESSION_NONE, 1, FALSE, 0, 41, FALSE, FALSE },
  { "rgb-8-planes", 8, UINT, RGB, 3, FALSE, COMPRESSION_LZW, 2, TRUE, 0, 41, FALSE, FALSE },
  { "rgb-8-tiles", 8, UINT, RGB, 3, FALSE, COMPRESSION_LZW, 2, FALSE, 32, 0, FALSE, FALSE },
  { "rgb-8-planes-of-tiles", 8, UINT, RGB, 3, FALSE, COMPRESSION_PACKBITS, 1, TRUE, 16, 0, FALSE, FALSE },
  { "rgb-alpha-8", 8, UINT, RGB, 4, TRUE, COMPRESSION_DEFLATE, 1, FALSE, 0, 5, FALSE, FALSE },
  { "rgb-alpha-8-planes", 8, UINT, RGB, 4, TRUE, COMPRESSION_NONE, 1, TRUE, 0, 5, FALSE, FALSE },
  { "rgb-and-no-alpha-8", 8, UINT, RGB, 4, FALSE, COMPRESSION_NONE, 1, FALSE, 0, 5, FALSE, FALSE },
  { "rgb-16", 16, UINT, RGB, 3, FALSE, COMPRESSION_NONE, 1, FALSE, 0, 41, FALSE, FALSE },
  { "rgb-16-big-endian", 16, UINT, RGB, 3, FALSE, COMPRESSION_LZW, 2, FALSE, 16, 0, TRUE, FALSE },
  { "rgb-16-big-tiff", 16, UINT, RGB, 3, FALSE, COMPRESSION_ZSTD, 2, TRUE, 16, 0, FALSE, TRUE },
  { "rgb-16-lzma", 16, UINT, RGB, 3, FALSE, COMPRESSION_LZMA, 1, FALSE, 0, 9, FALSE, TRUE },
  { "rgb-16-lerc", 16, UINT, RGB, 3, FALSE, COMPRESSION_LERC, 1, FALSE, 0, 41, FALSE, FALSE },
  { "rgb-32", 32, UINT, RGB, 3, FALSE, COMPRESSION_ADOBE_DEFLATE, 2, FALSE, 0, 6, TRUE, FALSE },
  { "rgb-float-16", 16, REAL, RGB, 3, FALSE, COMPRESSION_ADOBE_DEFLATE, 1, FALSE, 0, 6, FALSE, FALSE },
  { "rgb-float-32", 32, REAL, RGB, 3, FALSE, COMPRESSION_ADOBE_DEFLATE, 3, FALSE, 16, 0, FALSE, FALSE },
  { "rgb-float-32-big-endian", 32, REAL, RGB, 3, FALSE, COMPRESSION_NONE, 1, TRUE, 0, 6, TRUE, FALSE },
  { "grey-alpha-float-32", 32, REAL, GREY, 2, TRUE, COMPRESSION_LZW, 1, FALSE, 0, 6, FALSE, FALSE },
  { "rgb-float-64", 64, REAL, RGB, 3, FALSE, COMPRESSION_ADOBE_DEFLATE, 1, FALSE, 0, 6, FALSE, FALSE },
  { "ink-8", 8, UINT, PHOTOMETRIC_SEPARATED, 4, FALSE, COMPRESSION_LZW, 1, FALSE, 0, 6, FALSE, FALSE },
  { "ink-16-planes", 16, UINT, PHOTOMETRIC_SEPARATED, 4, FALSE, COMPRESSION_ADOBE_DEFLATE, 1, TRUE, 0, 6, FALSE,
    FALSE },
};

static guint
code_bits (const Kind *kind)
{
  return kind->form == REAL ? 16 : MIN (kind->bits, 16);
}

/* IEEE 754 binary16 of a number from 0 to 1, cut off rather than rounded. */
static guint16
half_of (double value)
{
  int exponent;
  const double fraction = frexp (value, &exponent);

  if (value < ldexp (1, -14))
    return (guint16)ldexp (value, 24);
  return (guint16)((exponent + 14) << 10 | (int)(ldexp (fraction, 11) - 1024));
}

static double
value_of_half (guint16 half)
{
  return half >> 10 ? ldexp (1024 + (half & 0x3FF), (half >> 10) - 25) : ldexp (half, -24);
}

/* Writes the @i-th sample of a row as the file holds it. */
static void
put (const Kind *kind, guint8 *row, gsize i, guint16 code)
{
  const double value = code / 65535.0;

  if (kind->bits < 8)
    row[i * kind->bits / 8] |= (guint8)(code << (8 - kind->bits - i * kind->bits % 8));
  else if (kind->bits == 8)
    row[i] = (guint8)code;
  else if (kind->form == REAL && kind->bits == 16)
    ((guint16 *)(void *)row)[i] = half_of (value);
  else if (kind->form == REAL && kind->bits == 32)
    ((float *)(void *)row)[i] = (float)value;
  else if (kind->bits == 64)
    ((double *)(void *)row)[i] = value;
  else if (kind->bits == 16)
    ((guint16 *)(void *)row)[i] = code;
  else
    ((guint32 *)(void *)row)[i] = code * 65537u;
}

typedef void (*Decorate) (TIFF *tiff, gconstpointer data);

static void
set_layout (TIFF *tiff, const Kind *kind)
{
  const guint16 extra = kind->alpha ? EXTRASAMPLE_UNASSALPHA : EXTRASAMPLE_UNSPECIFIED;
  const guint n_colours = kind->photometric == RGB ? 3 : kind->photometric == PHOTOMETRIC_SEPARATED ? 4 : 1;

  TIFFSetField (tiff, TIFFTAG_IMAGEWIDTH, WIDTH_PX);
  TIFFSetField (tiff, TIFFTAG_IMAGELENGTH, HEIGHT_PX);
  TIFFSetField (tiff, TIFFTAG_BITSPERSAMPLE, kind->bits);
  TIFFSetField (tiff, TIFFTAG_SAMPLEFORMAT, kind->form);
  TIFFSetField (tiff, TIFFTAG_SAMPLESPERPIXEL, kind->channels);
  TIFFSetField (tiff, TIFFTAG_PHOTOMETRIC, kind->photometric);
  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, kind->separate ? PLANARCONFIG_SEPARATE : PLANARCONFIG_CONTIG);
  TIFFSetField (tiff, TIFFTAG_COMPRESSION, kind->packing);
  if (kind->predictor > 1)
    TIFFSetField (tiff, TIFFTAG_PREDICTOR, kind->predictor);
  if (kind->channels > n_colours)
    TIFFSetField (tiff, TIFFTAG_EXTRASAMPLES, 1, &extra);
  if (kind->tile_px > 0)
    {
      TIFFSetField (tiff, TIFFTAG_TILEWIDTH, kind->tile_px);
      TIFFSetField (tiff, TIFFTAG_TILELENGTH, kind->tile_px);
    }
  else
    TIFFSetField (tiff, TIFFTAG_ROWSPERSTRIP, kind->strip_rows);
}

/* Row @y of a plane (or of all of them), @n_px from @x on; beyond the picture its edge goes on. */
static void
fill_row (const Kind *kind, const guint16 *samples, guint plane, guint x, guint y, guint n_px, guint8 *row)
{
  const guint n = kind->separate ? 1 : kind->channels;

  for (guint i = 0; i < n_px; i++)
    for (guint c = 0; c < n; c++)
      {
        const gsize at = (gsize)MIN (y, HEIGHT_PX - 1) * WIDTH_PX + MIN (x + i, WIDTH_PX - 1);

        put (kind, row, i * n + c, samples[at * kind->channels + plane + c]);
      }
}

static void
write_pixels (TIFF *tiff, const Kind *kind, const guint16 *samples)
{
  const gsize n_bytes = kind->tile_px ? (gsize)TIFFTileSize (tiff) : (gsize)TIFFScanlineSize (tiff);
  const guint side = kind->tile_px, n_planes = kind->separate ? kind->channels : 1;

  for (guint plane = 0; plane < n_planes; plane++)
    for (guint y = 0; y < HEIGHT_PX; y += side ? side : 1)
      for (guint x = 0; x < WIDTH_PX; x += side ? side : WIDTH_PX)
        {
          g_autofree guint8 *piece = g_malloc0 (n_bytes);

          for (guint row = 0; row < MAX (side, 1); row++)
            fill_row (kind, samples, plane, x, y + row, side ? side : WIDTH_PX,
                      piece + (side ? row * (gsize)TIFFTileRowSize (tiff) : 0));
          if (side)
            g_assert_cmpint (TIFFWriteTile (tiff, piece, x, y, 0, (uint16_t)plane), >, 0);
          else
            g_assert_cmpint (TIFFWriteScanline (tiff, piece, y, (uint16_t)plane), ==, 1);
        }
}

/* NULL if this libtiff does not know the packing. */
static GBytes *
make (const Kind *kind, const guint16 *samples, Decorate decorate, gconstpointer data)
{
  g_autofree char *path = NULL;
  const int file = g_file_open_tmp (NULL, &path, NULL);
  const char mode[] = { 'w', kind->big_endian ? 'b' : 'l', kind->big_tiff ? '8' : '4', 0 };
  char *content = NULL;
  gsize n_bytes = 0;
  TIFF *tiff;

  g_assert_cmpint (file, >=, 0);
  g_close (file, NULL);
  tiff = TIFFIsCODECConfigured ((uint16_t)kind->packing) ? TIFFOpen (path, mode) : NULL;
  if (tiff)
    {
      set_layout (tiff, kind);
      if (decorate)
        decorate (tiff, data);
      write_pixels (tiff, kind, samples);
      TIFFClose (tiff);
      g_assert_true (g_file_get_contents (path, &content, &n_bytes, NULL));
    }
  g_unlink (path);
  return content ? g_bytes_new_take (content, n_bytes) : NULL;
}

static guint16 *
samples_of (const Kind *kind)
{
  return fixture_samples (WIDTH_PX, HEIGHT_PX, kind->channels, code_bits (kind), 3);
}

static SherdPhoto *
open_photo (GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  SherdPhoto *photo = sherd_photo_open_bytes (bytes, "made.tif", &error);

  g_assert_no_error (error);
  return photo;
}

/* Floats are linear light, in steps of 1/65535. */
static double
light_of (const Kind *kind, guint16 code)
{
  const double full = (1 << code_bits (kind)) - 1;

  if (kind->form == REAL && kind->bits == 16)
    return round (65535 * value_of_half (half_of (code / 65535.0))) / 65535;
  if (kind->form == REAL)
    return code / 65535.0;
  return sherd_srgb_decode (kind->photometric == WHITE ? 1 - code / full : code / full);
}

static double
expected_light (const Kind *kind, const guint16 *pixel, guint c)
{
  const double full = (1 << code_bits (kind)) - 1;

  if (kind->photometric == PHOTOMETRIC_SEPARATED)
    return sherd_srgb_decode ((1 - pixel[c] / full) * (1 - pixel[3] / full));
  return light_of (kind, pixel[kind->photometric == RGB ? c : 0]);
}

static void
test_kind (gconstpointer data)
{
  const Kind *kind = data;
  g_autofree guint16 *samples = samples_of (kind);
  g_autoptr (GBytes) bytes = make (kind, samples, NULL, NULL);
  g_autoptr (SherdPhoto) photo = NULL;
  g_autoptr (FixturePixels) pixels = NULL;
  const double tolerance = kind->photometric == PHOTOMETRIC_SEPARATED ? 1e-5 : FLOAT_TOLERANCE;

  if (!bytes)
    {
      g_test_skip ("this libtiff does not know the packing");
      return;
    }
  photo = open_photo (bytes);
  pixels = fixture_read_all (photo, NULL);
  g_assert_nonnull (pixels);
  g_assert_cmpuint (sherd_photo_get_info (photo)->bits, ==, kind->bits);
  for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    {
      const guint16 *pixel = samples + i * kind->channels;
      const gboolean opaque = !kind->alpha || pixel[kind->channels - 1] == (1 << code_bits (kind)) - 1;

      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], expected_light (kind, pixel, c), tolerance);
      g_assert_cmpint ((pixels->flags[i] & SHERD_PIXEL_TRANSPARENT) == 0, ==, opaque);
    }
}

/* A part of the columns, with rows left out, is the same as the whole. */
static void
test_part (gconstpointer data)
{
  const Kind *kind = data;
  g_autofree guint16 *samples = samples_of (kind);
  g_autoptr (GBytes) bytes = make (kind, samples, NULL, NULL);
  g_autoptr (SherdPhoto) whole = bytes ? open_photo (bytes) : NULL;
  g_autoptr (SherdPhoto) part = bytes ? open_photo (bytes) : NULL;
  g_autoptr (FixturePixels) pixels = NULL;
  float linear[3 * 20];
  guint8 flags[20];

  if (!bytes)
    {
      g_test_skip ("this libtiff does not know the packing");
      return;
    }
  pixels = fixture_read_all (whole, NULL);
  sherd_photo_limit_columns (part, 20, 39);
  for (guint y = 2; y < HEIGHT_PX; y += y == 5 ? 1 : 13)
    {
      g_assert_true (sherd_photo_seek_row (part, y, NULL));
      sherd_photo_convert (part, 20, 1, 20, linear, flags);
      g_assert_cmpmem (linear, sizeof linear, pixels->linear + 3 * (y * WIDTH_PX + 20), sizeof linear);
      g_assert_cmpmem (flags, sizeof flags, pixels->flags + y * WIDTH_PX + 20, sizeof flags);
    }
}

static const Kind plain = { "plain", 8, UINT, RGB, 3, FALSE, COMPRESSION_ADOBE_DEFLATE, 1, FALSE, 0, 8, FALSE, FALSE };

/* JPEG loses a little: the mean difference from the codes is small, and far from that of YCbCr taken for RGB. */
static void
ask_for_rgb (TIFF *tiff, gconstpointer data)
{
  TIFFSetField (tiff, TIFFTAG_JPEGQUALITY, 98);
  TIFFSetField (tiff, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB);
}

static void
test_jpeg (void)
{
  const Kind kind = { "jpeg", 8, UINT, PHOTOMETRIC_YCBCR, 3, FALSE, COMPRESSION_JPEG, 1, FALSE, 16, 0, FALSE, FALSE };
  g_autofree guint16 *samples = g_new (guint16, 3 * WIDTH_PX * HEIGHT_PX);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (SherdPhoto) photo = NULL;
  g_autoptr (FixturePixels) pixels = NULL;

  for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    for (guint c = 0; c < 3; c++)
      samples[3 * i + c] = (guint16)(60 * c + 2 * (i % WIDTH_PX));
  bytes = make (&kind, samples, ask_for_rgb, NULL);
  photo = open_photo (bytes);
  pixels = fixture_read_all (photo, NULL);
  for (gsize i = 0; i < 3 * WIDTH_PX * HEIGHT_PX; i++)
    g_assert_cmpfloat_with_epsilon (sherd_srgb_encode (pixels->linear[i]), samples[i] / 255.0, 6 / 255.0);
}

static const guint16 palette[3][256] = { { 0x0A0A, 0xC8C8, 0xFFFF, 0 },
                                         { 0x1414, 0x6464, 0xFFFF, 0x5A5A },
                                         { 0x1E1E, 0x3232, 0xFFFF, 0xB4B4 } };

static void
set_palette (TIFF *tiff, gconstpointer data)
{
  TIFFSetField (tiff, TIFFTAG_COLORMAP, palette[0], palette[1], palette[2]);
}

static void
test_palette (void)
{
  for (guint bits = 2; bits <= 8; bits *= 2)
    {
      const Kind kind = { "palette", bits,  UINT, PHOTOMETRIC_PALETTE, 1, FALSE, COMPRESSION_LZW, 1, FALSE, 0,
                          7,         FALSE, FALSE };
      g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 1, 2, 2);
      g_autoptr (GBytes) bytes = make (&kind, samples, set_palette, NULL);
      g_autoptr (SherdPhoto) photo = open_photo (bytes);
      g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

      g_assert_false (sherd_photo_get_info (photo)->grey);
      for (gsize i = 0; i < 3 * WIDTH_PX * HEIGHT_PX; i++)
        g_assert_cmpfloat_with_epsilon (pixels->linear[i], sherd_srgb_decode (palette[i % 3][samples[i / 3]] / 65535.0),
                                        FLOAT_TOLERANCE);
    }
}

static void
set_camera (TIFF *tiff, gconstpointer data)
{
  TIFFSetField (tiff, TIFFTAG_ORIENTATION, GPOINTER_TO_UINT (data));
  TIFFSetField (tiff, TIFFTAG_MAKE, "Maker");
  TIFFSetField (tiff, TIFFTAG_MODEL, "Maker One");
  TIFFSetField (tiff, TIFFTAG_DATETIME, "2024:05:31 14:02:11");
}

static void
test_head (void)
{
  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autofree guint16 *samples = samples_of (&plain);
      g_autoptr (GBytes) bytes = make (&plain, samples, set_camera, GUINT_TO_POINTER (orientation));
      g_autoptr (SherdPhoto) photo = open_photo (bytes);
      const SherdPhotoInfo *info = sherd_photo_get_info (photo);

      g_assert_cmpstr (info->format, ==, "TIFF");
      g_assert_cmpuint (info->orientation, ==, orientation);
      g_assert_cmpstr (info->camera, ==, "Maker One");
      g_assert_cmpstr (info->taken, ==, "2024-05-31T14:02:11");
      g_assert_cmpint (info->space, ==, SHERD_PHOTO_SPACE_ASSUMED_SRGB);
      g_assert_cmpuint (sherd_photo_get_upright_width_px (photo), ==, orientation > 4 ? HEIGHT_PX : WIDTH_PX);
    }
}

static void
set_icc (TIFF *tiff, gconstpointer data)
{
  gsize n_bytes;
  gconstpointer profile = g_bytes_get_data ((GBytes *)data, &n_bytes);

  TIFFSetField (tiff, TIFFTAG_ICCPROFILE, (guint32)n_bytes, profile);
}

static void
test_icc (void)
{
  g_autoptr (GBytes) icc = fixture_wide_icc ();
  g_autofree guint16 *samples = samples_of (&plain);
  g_autoptr (GBytes) bytes = make (&plain, samples, set_icc, icc);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);
  SherdIcc *profile = sherd_icc_new (g_bytes_get_data (icc, NULL), g_bytes_get_size (icc), 3);

  g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_ICC);
  for (gsize i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    {
      const float device[3] = { samples[3 * i] / 255.0f, samples[3 * i + 1] / 255.0f, samples[3 * i + 2] / 255.0f };
      float linear[3];

      sherd_icc_to_linear (profile, device, 1, linear);
      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], linear[c], 2e-4);
    }
  sherd_icc_free (profile);
}

/* The same codes and primaries as a PNG, which test-png-reader.c holds against LittleCMS. */
static void
set_wide_png (png_structp png, png_infop info, gpointer user_data)
{
  png_set_cHRM (png, info, 0.3127, 0.3290, 0.68, 0.32, 0.265, 0.69, 0.15, 0.06);
}

static void
set_wide (TIFF *tiff, gconstpointer data)
{
  const float white[] = { 0.3127f, 0.3290f }, primaries[] = { 0.68f, 0.32f, 0.265f, 0.69f, 0.15f, 0.06f };

  TIFFSetField (tiff, TIFFTAG_WHITEPOINT, white);
  TIFFSetField (tiff, TIFFTAG_PRIMARYCHROMATICITIES, primaries);
}

static void
test_primaries (void)
{
  const FixturePng fixture = { WIDTH_PX, HEIGHT_PX, 8, PNG_COLOR_TYPE_RGB, FALSE, set_wide_png, NULL };
  g_autofree guint16 *samples = samples_of (&plain);
  g_autoptr (GBytes) tiff = make (&plain, samples, set_wide, NULL);
  g_autoptr (GBytes) png = fixture_png (&fixture, samples);
  g_autoptr (SherdPhoto) tiff_photo = open_photo (tiff);
  g_autoptr (SherdPhoto) png_photo = open_photo (png);
  g_autoptr (FixturePixels) tiff_pixels = fixture_read_all (tiff_photo, NULL);
  g_autoptr (FixturePixels) png_pixels = fixture_read_all (png_photo, NULL);

  g_assert_cmpint (sherd_photo_get_info (tiff_photo)->space, ==, SHERD_PHOTO_SPACE_GAMMA);
  for (gsize i = 0; i < 3 * WIDTH_PX * HEIGHT_PX; i++)
    g_assert_cmpfloat_with_epsilon (tiff_pixels->linear[i], png_pixels->linear[i], 1e-5);
}

/* Opens and reads all; the error, if any, must be of the room and in words. */
static void
read_or_refuse (gconstpointer data, gsize n_bytes, gboolean must_fail)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, n_bytes);
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "broken.tif", &error);
  g_autoptr (FixturePixels) pixels = photo ? fixture_read_all (photo, &error) : NULL;

  g_assert_true (!must_fail || !pixels);
  g_assert_true ((pixels == NULL) == (error != NULL));
  if (error)
    {
      g_assert_true (error->domain == SHERD_PHOTO_ERROR);
      g_assert_nonnull (strstr (error->message, "broken.tif"));
    }
}

/* The directory stands last, or before the pixels that a big file ends with: what is cut off is missed. */
static void
test_cut_off (gconstpointer data)
{
  const Kind *kind = data;
  g_autofree guint16 *samples = samples_of (kind);
  g_autoptr (GBytes) bytes = make (kind, samples, NULL, NULL);
  gsize n_bytes = 0;
  const guint8 *content = bytes ? g_bytes_get_data (bytes, &n_bytes) : NULL;

  if (!bytes)
    {
      g_test_skip ("this libtiff does not know the packing");
      return;
    }
  for (gsize i = 0; i < 200; i++)
    read_or_refuse (content, n_bytes * i / 200, TRUE);
}

/* Every byte of the head and of the directory set to its ends: no crash, and words if it fails. */
static void
test_damaged (void)
{
  g_autofree guint16 *samples = samples_of (&plain);
  g_autoptr (GBytes) bytes = make (&plain, samples, NULL, NULL);
  gsize n_bytes;
  g_autofree guint8 *content = g_bytes_unref_to_data (g_steal_pointer (&bytes), &n_bytes);

  for (gsize i = 4; i < n_bytes; i += i < 8 || i > n_bytes - 300 ? 1 : 97)
    for (guint value = 0; value <= 0xFF; value += 0x33)
      {
        const guint8 before = content[i];

        content[i] = (guint8)value;
        read_or_refuse (content, n_bytes, FALSE);
        content[i] = before;
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *whole = g_strconcat ("/photo/tiff-reader/codes-are-light/", kinds[i].name, NULL);
      g_autofree char *part = g_strconcat ("/photo/tiff-reader/part-equals-whole/", kinds[i].name, NULL);
      g_autofree char *cut = g_strconcat ("/photo/tiff-reader/cut-off-is-refused/", kinds[i].name, NULL);

      g_test_add_data_func (whole, &kinds[i], test_kind);
      g_test_add_data_func (part, &kinds[i], test_part);
      g_test_add_data_func (cut, &kinds[i], test_cut_off);
    }
  g_test_add_func ("/photo/tiff-reader/jpeg", test_jpeg);
  g_test_add_func ("/photo/tiff-reader/palette", test_palette);
  g_test_add_func ("/photo/tiff-reader/orientation-camera-and-time", test_head);
  g_test_add_func ("/photo/tiff-reader/profile", test_icc);
  g_test_add_func ("/photo/tiff-reader/primaries", test_primaries);
  g_test_add_func ("/photo/tiff-reader/damage-ends-in-words", test_damaged);
  return g_test_run ();
}
