/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The files are made here by libjpeg. Codes are compared with plain libjpeg decoding of the whole picture, colours with
 * IEC 61966-2-1 as in colour/srgb.c (tested there against published values) or with LittleCMS called directly. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib.h>

#include "colour/srgb.h"
#include "fixtures.h"

/* A table entry is a float of the double that the formula gives. */
#define FLOAT_TOLERANCE 1e-6

static SherdPhoto *
open_photo (GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  SherdPhoto *photo = sherd_photo_open_bytes (bytes, "made.jpg", &error);

  g_assert_no_error (error);
  return photo;
}

static GBytes *
make (const FixtureJpeg *fixture, guint seed)
{
  const guint channels = fixture->space == JCS_GRAYSCALE ? 1 : fixture->space == JCS_RGB ? 3 : 4;
  g_autofree guint16 *samples = fixture_samples (fixture->width, fixture->height, channels, 8, seed);

  return fixture_jpeg (fixture, samples);
}

/* Whole reading against plain libjpeg. */
static void
check_codes_of (const FixtureJpeg *fixture)
{
  guint channels;
  g_autoptr (GBytes) bytes = make (fixture, 1);
  g_autofree guint8 *codes = fixture_decode_jpeg (bytes, &channels);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

  g_assert_nonnull (pixels);
  for (gsize i = 0; i < (gsize)fixture->width * fixture->height; i++)
    for (guint c = 0; c < 3; c++)
      {
        const guint8 code = codes[i * channels + (channels == 3 ? c : 0)];

        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], sherd_srgb_decode (code / 255.0), FLOAT_TOLERANCE);
      }
}

static const struct
{
  const char *name;
  FixtureJpeg jpeg;
} forms[] = {
  { "grey", { .width = 61, .height = 45, .space = JCS_GRAYSCALE } },
  { "4-4-4", { .width = 150, .height = 101, .space = JCS_RGB } },
  { "4-2-2", { .width = 150, .height = 101, .space = JCS_RGB, .h = 2 } },
  { "4-2-0", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2 } },
  { "4-4-0", { .width = 203, .height = 150, .space = JCS_RGB, .v = 2 } },
  { "4-1-1", { .width = 203, .height = 150, .space = JCS_RGB, .h = 4 } },
  { "4-1-0", { .width = 203, .height = 150, .space = JCS_RGB, .h = 4, .v = 2 } },
  { "1-by-4", { .width = 90, .height = 150, .space = JCS_RGB, .v = 4 } },
  { "4-2-0-narrow", { .width = 3, .height = 150, .space = JCS_RGB, .h = 2, .v = 2 } },
  { "all-1-by-2", { .width = 91, .height = 67, .space = JCS_RGB, .v = 2, .other_v = 2 } },
  { "4-2-2-on-end", { .width = 133, .height = 67, .space = JCS_RGB, .h = 2, .v = 2, .other_v = 2 } },
  { "stored-as-rgb", { .width = 77, .height = 65, .space = JCS_RGB, .stored = JCS_RGB } },
  { "restarts", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .restart_rows = 1 } },
  { "arithmetic", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .arithmetic = TRUE } },
  { "progressive", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .progressive = TRUE } },
  { "progressive-4-4-4", { .width = 203, .height = 150, .space = JCS_RGB, .progressive = TRUE } },
  { "progressive-grey", { .width = 203, .height = 150, .space = JCS_GRAYSCALE, .progressive = TRUE } },
  { "progressive-arithmetic",
    { .width = 203, .height = 150, .space = JCS_RGB, .progressive = TRUE, .arithmetic = TRUE } },
  { "separate-scans", { .width = 203, .height = 150, .space = JCS_RGB, .h = 2, .v = 2, .separate = TRUE } },
  { "one-pixel", { .width = 1, .height = 1, .space = JCS_RGB, .h = 2, .v = 2 } },
};

static void
test_codes (gconstpointer data)
{
  check_codes_of (data);
}

/* The pixels that a partial reading gives are those of the whole, for whatever rows, columns and steps are asked. */
static void
check_part (GBytes *bytes, const FixturePixels *whole, GRand *rand)
{
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  const guint first = (guint)g_rand_int_range (rand, 0, (gint32)whole->width);
  const guint last = (guint)g_rand_int_range (rand, (gint32)first, (gint32)whole->width);
  const guint most_skipped = (guint)g_rand_int_range (rand, 1, 60);
  g_autofree float *linear = g_new (float, 3 * whole->width);
  g_autofree guint8 *flags = g_new (guint8, whole->width);

  sherd_photo_limit_columns (photo, first, last);
  for (guint y = (guint)g_rand_int_range (rand, 0, (gint32)whole->height); y < whole->height;
       y += (guint)g_rand_int_range (rand, 1, (gint32)most_skipped + 1))
    {
      const guint step = (guint)g_rand_int_range (rand, 1, 4);
      const gsize n = (last - first) / step + 1;

      g_assert_true (sherd_photo_seek_row (photo, y, NULL));
      sherd_photo_convert (photo, first, step, n, linear, flags);
      for (gsize i = 0; i < n; i++)
        {
          const gsize place = (gsize)y * whole->width + first + i * step;

          g_assert_cmpmem (linear + 3 * i, 3 * sizeof (float), whole->linear + 3 * place, 3 * sizeof (float));
          g_assert_cmpuint (flags[i], ==, whole->flags[place]);
        }
    }
}

static void
test_parts (gconstpointer data)
{
  const FixtureJpeg *fixture = data;
  g_autoptr (GBytes) bytes = make (fixture, 2);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) whole = fixture_read_all (photo, NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  for (guint round = 0; round < 200; round++)
    check_part (bytes, whole, rand);
}

static const struct
{
  const char *name;
  FixtureJpeg jpeg;
} cut_forms[] = {
  { "baseline", { .width = 120, .height = 90, .space = JCS_RGB, .h = 2, .v = 2 } },
  { "restarts", { .width = 120, .height = 90, .space = JCS_RGB, .h = 2, .v = 2, .restart_rows = 1 } },
  { "progressive", { .width = 120, .height = 90, .space = JCS_RGB, .h = 2, .v = 2, .progressive = TRUE } },
  { "separate-scans", { .width = 120, .height = 90, .space = JCS_RGB, .separate = TRUE } },
  { "arithmetic", { .width = 120, .height = 90, .space = JCS_RGB, .arithmetic = TRUE } },
  { "ink", { .width = 120, .height = 90, .space = JCS_CMYK } },
};

/* Ink hides light (see decoding.c); an encoder's marker tells that it is stored the wrong way round. */
static void
check_ink (gboolean inverted)
{
  const FixtureJpeg fixture = { .width = 50, .height = 30, .space = JCS_CMYK, .no_adobe_marker = !inverted };
  guint channels;
  g_autoptr (GBytes) bytes = make (&fixture, 4);
  g_autofree guint8 *codes = fixture_decode_jpeg (bytes, &channels);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

  g_assert_cmpuint (channels, ==, 4);
  g_assert_nonnull (strstr (sherd_photo_get_info (photo)->remarks[0], "ink"));
  for (gsize i = 0; i < 50 * 30; i++)
    for (guint c = 0; c < 3; c++)
      {
        const double ink = codes[4 * i + c] / 255.0, black = codes[4 * i + 3] / 255.0;
        const double light = inverted ? ink * black : (1 - ink) * (1 - black);

        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], sherd_srgb_decode (light), 1e-5);
      }
}

static void
test_ink (void)
{
  check_ink (FALSE);
  check_ink (TRUE);
}

/* YCCK is CMYK whose first three were turned like RGB to YCbCr: the same picture, but for the encoder's rounding. */
static void
test_ycck_equals_cmyk (void)
{
  const FixtureJpeg plain = { .width = 50, .height = 30, .space = JCS_CMYK, .stored = JCS_CMYK, .quality = 100 };
  const FixtureJpeg turned = { .width = 50, .height = 30, .space = JCS_CMYK, .stored = JCS_YCCK, .quality = 100 };
  g_autoptr (GBytes) plain_bytes = make (&plain, 5);
  g_autoptr (GBytes) turned_bytes = make (&turned, 5);
  g_autoptr (SherdPhoto) plain_photo = open_photo (plain_bytes);
  g_autoptr (SherdPhoto) turned_photo = open_photo (turned_bytes);
  g_autoptr (FixturePixels) plain_pixels = fixture_read_all (plain_photo, NULL);
  g_autoptr (FixturePixels) turned_pixels = fixture_read_all (turned_photo, NULL);

  for (gsize i = 0; i < 3 * 50 * 30; i++)
    g_assert_cmpfloat_with_epsilon (plain_pixels->linear[i], turned_pixels->linear[i], 0.06);
}

/* LittleCMS called directly on the codes of plain libjpeg. */
static void
check_profile (GBytes *icc, J_COLOR_SPACE space)
{
  const FixtureJpeg fixture = { .width = 50, .height = 30, .space = space, .icc = icc };
  const cmsUInt32Number format = space == JCS_GRAYSCALE ? TYPE_GRAY_8 : TYPE_RGB_8;
  guint channels;
  g_autoptr (GBytes) bytes = make (&fixture, 6);
  g_autofree guint8 *codes = fixture_decode_jpeg (bytes, &channels);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);
  cmsHPROFILE in = cmsOpenProfileFromMem (g_bytes_get_data (icc, NULL), (guint)g_bytes_get_size (icc));
  cmsHPROFILE out = cmsCreateXYZProfile ();
  cmsHTRANSFORM transform = cmsCreateTransform (in, format, out, TYPE_XYZ_DBL, INTENT_RELATIVE_COLORIMETRIC, 0);

  g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_ICC);
  for (gsize i = 0; i < 50 * 30; i++)
    {
      const SherdRgb rgb = { pixels->linear[3 * i], pixels->linear[3 * i + 1], pixels->linear[3 * i + 2] };
      const SherdXyz ours = sherd_srgb_to_xyz_d50 (&rgb);
      double theirs[3];

      cmsDoTransform (transform, codes + i * channels, theirs, 1);
      /* This transform works in 16 bits. */
      g_assert_cmpfloat_with_epsilon (ours.x, theirs[0], 2e-4);
      g_assert_cmpfloat_with_epsilon (ours.y, theirs[1], 2e-4);
      g_assert_cmpfloat_with_epsilon (ours.z, theirs[2], 2e-4);
    }
  cmsDeleteTransform (transform);
  cmsCloseProfile (in);
  cmsCloseProfile (out);
}

static void
test_profiles (void)
{
  g_autoptr (GBytes) wide = fixture_wide_icc ();
  cmsToneCurve *curve = cmsBuildGamma (NULL, 1.8);
  g_autoptr (GBytes) grey = fixture_icc (cmsCreateGrayProfile (cmsD50_xyY (), curve));

  cmsFreeToneCurve (curve);
  check_profile (wide, JCS_RGB);
  check_profile (grey, JCS_GRAYSCALE);
}

/* A profile with three curves of 25 000 entries takes 150 kB, three segments of a JPEG. */
static void
test_profile_of_many_segments (void)
{
  const cmsCIExyY white = { 0.3457, 0.3585, 1 };
  const cmsCIExyYTRIPLE primaries = { { 0.7347, 0.2653, 1 }, { 0.1596, 0.8404, 1 }, { 0.0366, 0.0001, 1 } };
  g_autofree cmsUInt16Number *table = g_new (cmsUInt16Number, 25000);
  cmsToneCurve *curves[3];
  g_autoptr (GBytes) icc = NULL;

  for (guint c = 0; c < 3; c++)
    {
      for (guint i = 0; i < 25000; i++)
        table[i] = (cmsUInt16Number)lround (65535 * pow (i / 24999.0, 1.7 + 0.1 * c));
      curves[c] = cmsBuildTabulatedToneCurve16 (NULL, 25000, table);
    }
  icc = fixture_icc (cmsCreateRGBProfile (&white, &primaries, curves));
  cmsFreeToneCurveTriple (curves);
  g_assert_cmpuint (g_bytes_get_size (icc), >, 2 * 65536);
  check_profile (icc, JCS_RGB);
}

/* A colour camera's profile in a picture made grey. */
static void
test_grey_with_profile_for_colours (void)
{
  g_autoptr (GBytes) icc = fixture_wide_icc ();
  const FixtureJpeg fixture = { .width = 50, .height = 30, .space = JCS_GRAYSCALE, .icc = icc };
  guint channels;
  g_autoptr (GBytes) bytes = make (&fixture, 7);
  g_autofree guint8 *codes = fixture_decode_jpeg (bytes, &channels);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

  for (gsize i = 0; i < 50 * 30; i++)
    for (guint c = 0; c < 3; c++)
      g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], pow (codes[i] / 255.0, 1.8), 1e-4);
}

static gboolean
has_remark (const SherdPhoto *photo, const char *word)
{
  for (char **remark = sherd_photo_get_info (photo)->remarks; *remark; remark++)
    if (strstr (*remark, word))
      return TRUE;
  return FALSE;
}

static void
test_bad_profile_is_told (void)
{
  g_autoptr (GBytes) nonsense = g_bytes_new_static ("this is no profile at all", 25);
  cmsToneCurve *curve = cmsBuildGamma (NULL, 1.8);
  g_autoptr (GBytes) grey = fixture_icc (cmsCreateGrayProfile (cmsD50_xyY (), curve));
  GBytes *profiles[] = { nonsense, grey };

  cmsFreeToneCurve (curve);
  for (guint i = 0; i < G_N_ELEMENTS (profiles); i++)
    {
      const FixtureJpeg fixture = { .width = 8, .height = 8, .space = JCS_RGB, .icc = profiles[i] };
      g_autoptr (GBytes) bytes = make (&fixture, 8);
      g_autoptr (SherdPhoto) photo = open_photo (bytes);

      g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_ASSUMED_SRGB);
      g_assert_true (has_remark (photo, "profile in the file is damaged"));
    }
}

/* The second of two segments is taken out. */
static void
test_missing_profile_segment_is_told (void)
{
  guint8 *long_text = g_malloc0 (100000);
  g_autoptr (GBytes) icc = g_bytes_new_take (long_text, 100000);
  const FixtureJpeg fixture = { .width = 8, .height = 8, .space = JCS_RGB, .icc = icc };
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (make (&fixture, 9), &n_bytes);
  guint8 *second = memmem (data, n_bytes, "ICC_PROFILE\0\2", 13);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (SherdPhoto) photo = NULL;

  second[0] = 'X';
  bytes = g_bytes_new_take (data, n_bytes);
  photo = open_photo (bytes);
  g_assert_true (has_remark (photo, "profile in the file is damaged"));
}

static void
test_orientation (void)
{
  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (GBytes) exif = fixture_exif (orientation, 1, orientation % 2);
      const FixtureJpeg fixture = { .width = 40, .height = 20, .space = JCS_RGB, .exif = exif };
      g_autoptr (GBytes) bytes = make (&fixture, 10);
      g_autoptr (SherdPhoto) photo = open_photo (bytes);

      g_assert_cmpuint (sherd_photo_get_info (photo)->orientation, ==, orientation);
      g_assert_cmpuint (sherd_photo_get_upright_width_px (photo), ==, orientation < 5 ? 40 : 20);
      g_assert_cmpuint (sherd_photo_get_upright_height_px (photo), ==, orientation < 5 ? 20 : 40);
      g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_SRGB);
    }
}

static void
test_other_space_is_told (void)
{
  g_autoptr (GBytes) exif = fixture_exif (1, 0xFFFF, FALSE);
  const FixtureJpeg fixture = { .width = 40, .height = 20, .space = JCS_RGB, .exif = exif };
  g_autoptr (GBytes) bytes = make (&fixture, 11);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);

  g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_ASSUMED_SRGB);
  g_assert_true (has_remark (photo, "not sRGB"));
}

/* At every length: a message, or all pixels as they are in the whole file (when no more than the end is missing). */
static void
test_cut_off (gconstpointer data)
{
  const FixtureJpeg *fixture = data;
  g_autoptr (GBytes) bytes = make (fixture, 12);
  g_autoptr (SherdPhoto) whole_photo = open_photo (bytes);
  g_autoptr (FixturePixels) whole = fixture_read_all (whole_photo, NULL);
  const int linear_bytes = (int)(3 * sizeof (float) * whole->width * whole->height);
  const gsize n_bytes = g_bytes_get_size (bytes);

  for (guint i = 0; i < 200; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) part = g_bytes_new_from_bytes (bytes, 0, 3 + i * (n_bytes - 3) / 200);
      g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (part, "cut.jpg", &error);
      g_autoptr (FixturePixels) pixels = photo ? fixture_read_all (photo, &error) : NULL;

      if (pixels)
        {
          g_assert_cmpuint (g_bytes_get_size (part), >, n_bytes - 60);
          g_assert_cmpmem (pixels->linear, linear_bytes, whole->linear, linear_bytes);
          continue;
        }
      g_assert_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN);
      g_assert_nonnull (strstr (error->message, "cut.jpg"));
    }
}

/* Without the two bytes of its end a picture in one scan is still whole. */
static void
test_reads_without_end (void)
{
  const FixtureJpeg fixture = { .width = 61, .height = 45, .space = JCS_RGB, .h = 2, .v = 2 };
  g_autoptr (GBytes) bytes = make (&fixture, 13);
  g_autoptr (GBytes) part = g_bytes_new_from_bytes (bytes, 0, g_bytes_get_size (bytes) - 2);
  g_autoptr (SherdPhoto) whole_photo = open_photo (bytes);
  g_autoptr (SherdPhoto) photo = open_photo (part);
  g_autoptr (FixturePixels) whole = fixture_read_all (whole_photo, NULL);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

  g_assert_cmpmem (pixels->linear, 3 * sizeof (float) * 61 * 45, whole->linear, 3 * sizeof (float) * 61 * 45);
}

/* Bytes lost from the middle: rows above the hole are right, the first one in it is an error, as are all below. */
static void
test_hole_is_told (void)
{
  const FixtureJpeg fixture = { .width = 200, .height = 200, .space = JCS_RGB, .h = 2, .v = 2, .restart_rows = 1 };
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (make (&fixture, 14), &n_bytes);
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (SherdPhoto) photo = NULL;
  g_autoptr (SherdPhoto) again = NULL;
  g_autoptr (FixturePixels) pixels = NULL;
  g_autoptr (GError) error = NULL;

  memmove (data + n_bytes / 2, data + n_bytes / 2 + 900, n_bytes / 2 - 900);
  bytes = g_bytes_new_take (data, n_bytes - 900);
  photo = open_photo (bytes);
  g_assert_true (sherd_photo_seek_row (photo, 20, NULL));
  again = open_photo (bytes);
  pixels = fixture_read_all (again, &error);
  g_assert_null (pixels);
  g_assert_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN);
  g_assert_false (sherd_photo_seek_row (photo, 199, NULL));
  g_assert_false (sherd_photo_seek_row (photo, 199, NULL));
}

/* Damage anywhere: a message or a picture, never a crash (the point of this test is the sanitizers). */
static void
test_damage (gconstpointer data)
{
  g_autoptr (GBytes) bytes = make (data, 15);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  gsize n_bytes;
  const guint8 *whole = g_bytes_get_data (bytes, &n_bytes);
  guint n_refused = 0;

  for (guint round = 0; round < 100; round++)
    {
      g_autoptr (GError) error = NULL;
      guint8 *damaged = g_memdup2 (whole, n_bytes);
      g_autoptr (GBytes) part = g_bytes_new_take (damaged, n_bytes);
      g_autoptr (SherdPhoto) photo = NULL;
      g_autoptr (FixturePixels) pixels = NULL;

      for (guint i = 0; i < 8; i++)
        damaged[g_rand_int_range (rand, 3, (gint32)n_bytes)] = (guint8)g_rand_int (rand);
      photo = sherd_photo_open_bytes (part, "odd.jpg", &error);
      pixels = photo ? fixture_read_all (photo, &error) : NULL;
      g_assert_cmpint (pixels == NULL, ==, error != NULL);
      n_refused += !pixels;
    }
  /* Damage that leaves the decoder in step cannot be seen. */
  g_assert_cmpuint (n_refused, >=, 90);
}

/* Where the last scan begins. */
static gsize
find_last_scan (const guint8 *data, gsize n_bytes)
{
  gsize scan = n_bytes - 2;

  while (memcmp (data + scan, "\xFF\xDA", 2) != 0)
    scan--;
  return scan;
}

static void
check_refusal (GBytes *bytes, SherdPhotoError code, const char *word)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "odd.jpg", &error);

  if (photo)
    sherd_photo_seek_row (photo, 0, &error);
  g_assert_error (error, SHERD_PHOTO_ERROR, (int)code);
  g_assert_nonnull (strstr (error->message, "odd.jpg"));
  g_assert_nonnull (strstr (error->message, word));
}

/* The frame header (ITU-T T.81, B.2.2): marker, length, precision, height, width. */
static guint8 *
find_frame (guint8 *data, gsize n_bytes)
{
  guint8 *frame = memmem (data, n_bytes, "\xFF\xC0\0\x11", 4);

  return frame ? frame : memmem (data, n_bytes, "\xFF\xC2\0\x11", 4);
}

static GBytes *
with_frame_byte (const FixtureJpeg *fixture, guint offset, guint8 value)
{
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (make (fixture, 16), &n_bytes);

  find_frame (data, n_bytes)[offset] = value;
  return g_bytes_new_take (data, n_bytes);
}

static void
test_refuses_12_bits_and_lossless (void)
{
  const FixtureJpeg fixture = { .width = 16, .height = 16, .space = JCS_RGB };
  g_autoptr (GBytes) deep = with_frame_byte (&fixture, 4, 12);
  g_autoptr (GBytes) lossless = with_frame_byte (&fixture, 1, 0xC3);

  check_refusal (deep, SHERD_PHOTO_ERROR_UNSUPPORTED, "8 bits");
  check_refusal (lossless, SHERD_PHOTO_ERROR_UNSUPPORTED, "lossless");
}

/* 64 784 × 64 784 pixels in a file of some hundred bytes. */
static void
test_refuses_absurd_sizes (void)
{
  const FixtureJpeg fixture = { .width = 16, .height = 16, .space = JCS_RGB };
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (make (&fixture, 16), &n_bytes);
  guint8 *frame = find_frame (data, n_bytes);
  g_autoptr (GBytes) huge = NULL;
  g_autoptr (GBytes) hollow = with_frame_byte (&fixture, 5, 60); /* 15 376 rows of 16 */

  frame[5] = frame[7] = 0xFD;
  huge = g_bytes_new_take (data, n_bytes);
  check_refusal (huge, SHERD_PHOTO_ERROR_TOO_LARGE, "64784");
  check_refusal (hollow, SHERD_PHOTO_ERROR_BROKEN, "cut off");
}

/* A progressive picture whose blocks would take over 1 GiB; padded so that it might hold them. */
static void
test_refuses_progressive_beyond_memory (void)
{
  const FixtureJpeg fixture = { .width = 16, .height = 16, .space = JCS_RGB, .progressive = TRUE };
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (make (&fixture, 16), &n_bytes);
  guint8 *frame = find_frame (data, n_bytes);
  g_autoptr (GBytes) bytes = NULL;

  frame[5] = frame[7] = 0x60; /* 24 576 and some */
  data = g_realloc (data, n_bytes + (8 << 20));
  memset (data + n_bytes, 0, 8 << 20);
  bytes = g_bytes_new_take (data, n_bytes + (8 << 20));
  check_refusal (bytes, SHERD_PHOTO_ERROR_TOO_LARGE, "progressive");
}

/* The last scan of a progressive file over and over. */
static void
test_refuses_endless_scans (void)
{
  const FixtureJpeg fixture = { .width = 64, .height = 64, .space = JCS_GRAYSCALE, .progressive = TRUE };
  g_autoptr (GBytes) good = make (&fixture, 17);
  gsize n_bytes;
  const guint8 *data = g_bytes_get_data (good, &n_bytes);
  GByteArray *file = g_byte_array_new ();
  g_autoptr (GBytes) bytes = NULL;
  const gsize scan = find_last_scan (data, n_bytes);

  g_byte_array_append (file, data, (guint)n_bytes - 2);
  for (guint i = 0; i < 1000; i++)
    g_byte_array_append (file, data + scan, (guint)(n_bytes - 2 - scan));
  g_byte_array_append (file, data + n_bytes - 2, 2);
  bytes = g_byte_array_free_to_bytes (file);
  check_refusal (bytes, SHERD_PHOTO_ERROR_UNSUPPORTED, "passes");
}

/* The last scan is taken out, the end of picture stays: nothing warns of it but the gap itself. */
static void
test_refuses_missing_scans (void)
{
  const FixtureJpeg fixtures[] = { { .width = 64, .height = 64, .space = JCS_RGB, .progressive = TRUE },
                                   { .width = 64, .height = 64, .space = JCS_RGB, .separate = TRUE } };

  for (guint i = 0; i < G_N_ELEMENTS (fixtures); i++)
    {
      gsize n_bytes;
      guint8 *data = g_bytes_unref_to_data (make (&fixtures[i], 18), &n_bytes);
      const gsize scan = find_last_scan (data, n_bytes);
      g_autoptr (GBytes) bytes = NULL;

      memcpy (data + scan, "\xFF\xD9", 2);
      bytes = g_bytes_new_take (data, scan + 2);
      check_refusal (bytes, SHERD_PHOTO_ERROR_BROKEN, "damaged");
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (forms); i++)
    {
      g_autofree char *codes = g_strconcat ("/photo/jpeg/codes-equal-plain-libjpeg/", forms[i].name, NULL);
      g_autofree char *parts = g_strconcat ("/photo/jpeg/parts-equal-the-whole/", forms[i].name, NULL);

      g_test_add_data_func (codes, &forms[i].jpeg, test_codes);
      g_test_add_data_func (parts, &forms[i].jpeg, test_parts);
    }
  for (guint i = 0; i < G_N_ELEMENTS (cut_forms); i++)
    {
      g_autofree char *cut = g_strconcat ("/photo/jpeg/cut-off-is-told/", cut_forms[i].name, NULL);
      g_autofree char *damage = g_strconcat ("/photo/jpeg/damage-is-told-or-harmless/", cut_forms[i].name, NULL);

      g_test_add_data_func (cut, &cut_forms[i].jpeg, test_cut_off);
      g_test_add_data_func (damage, &cut_forms[i].jpeg, test_damage);
    }
  g_test_add_func ("/photo/jpeg/ink/hides-light", test_ink);
  g_test_add_func ("/photo/jpeg/ink/ycck-equals-cmyk", test_ycck_equals_cmyk);
  g_test_add_func ("/photo/jpeg/profile/equals-littlecms", test_profiles);
  g_test_add_func ("/photo/jpeg/profile/of-many-segments", test_profile_of_many_segments);
  g_test_add_func ("/photo/jpeg/profile/for-colours-in-grey", test_grey_with_profile_for_colours);
  g_test_add_func ("/photo/jpeg/profile/bad-is-told", test_bad_profile_is_told);
  g_test_add_func ("/photo/jpeg/profile/missing-segment-is-told", test_missing_profile_segment_is_told);
  g_test_add_func ("/photo/jpeg/exif/orientation", test_orientation);
  g_test_add_func ("/photo/jpeg/exif/other-space-is-told", test_other_space_is_told);
  g_test_add_func ("/photo/jpeg/cut-off-is-told/not-without-need", test_reads_without_end);
  g_test_add_func ("/photo/jpeg/hole-is-told", test_hole_is_told);
  g_test_add_func ("/photo/jpeg/refuses/12-bits-and-lossless", test_refuses_12_bits_and_lossless);
  g_test_add_func ("/photo/jpeg/refuses/absurd-sizes", test_refuses_absurd_sizes);
  g_test_add_func ("/photo/jpeg/refuses/progressive-beyond-memory", test_refuses_progressive_beyond_memory);
  g_test_add_func ("/photo/jpeg/refuses/endless-scans", test_refuses_endless_scans);
  g_test_add_func ("/photo/jpeg/refuses/missing-scans", test_refuses_missing_scans);
  return g_test_run ();
}
