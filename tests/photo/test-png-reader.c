/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The files are made here by libpng from known codes, so the codes are the truth; their colours are IEC 61966-2-1 as in
 * colour/srgb.c (tested there against published values), the power law of the PNG standard, or LittleCMS called
 * directly. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <glib.h>

#include "colour/srgb.h"
#include "fixtures.h"

#define FLOAT_TOLERANCE 1e-6

/* LittleCMS keeps a profile's primaries to 16 binary places and works in single precision. */
#define LCMS_TOLERANCE 2e-4

#define SIZE_PX 37

static SherdPhoto *
open_photo (GBytes *bytes)
{
  g_autoptr (GError) error = NULL;
  SherdPhoto *photo = sherd_photo_open_bytes (bytes, "made.png", &error);

  g_assert_no_error (error);
  return photo;
}

static void
set_srgb (png_structp png, png_infop info, gpointer user_data)
{
  png_set_sRGB (png, info, PNG_sRGB_INTENT_RELATIVE);
}

static const struct
{
  const char *name;
  int type;
  guint bits;
} depths[] = {
  { "grey-1", PNG_COLOR_TYPE_GRAY, 1 },
  { "grey-2", PNG_COLOR_TYPE_GRAY, 2 },
  { "grey-4", PNG_COLOR_TYPE_GRAY, 4 },
  { "grey-8", PNG_COLOR_TYPE_GRAY, 8 },
  { "grey-16", PNG_COLOR_TYPE_GRAY, 16 },
  { "grey-alpha-8", PNG_COLOR_TYPE_GRAY_ALPHA, 8 },
  { "grey-alpha-16", PNG_COLOR_TYPE_GRAY_ALPHA, 16 },
  { "rgb-8", PNG_COLOR_TYPE_RGB, 8 },
  { "rgb-16", PNG_COLOR_TYPE_RGB, 16 },
  { "rgb-alpha-8", PNG_COLOR_TYPE_RGB_ALPHA, 8 },
  { "rgb-alpha-16", PNG_COLOR_TYPE_RGB_ALPHA, 16 },
};

static guint8
expected_flags (const guint16 *pixel, guint channels, gboolean alpha, guint bits)
{
  const double full = (1 << bits) - 1;
  const double dark = bits == 16 ? 64 / 65535.0 : 4 / 255.0;
  guint8 flags = 0;

  for (guint c = 0; c < channels - alpha; c++)
    {
      flags |= pixel[c] / full >= 0.98 ? SHERD_PIXEL_CLIPPED : 0;
      flags |= pixel[c] / full < dark ? SHERD_PIXEL_DARK : 0;
    }
  if (alpha && pixel[channels - 1] < full)
    flags |= SHERD_PIXEL_TRANSPARENT;
  return flags;
}

static void
check_depth (int type, guint bits, gboolean interlaced)
{
  const FixturePng fixture = { SIZE_PX, SIZE_PX, bits, type, interlaced, set_srgb, NULL };
  const guint channels = fixture_png_channels (type);
  const gboolean alpha = (type & PNG_COLOR_MASK_ALPHA) != 0;
  const double full = (1 << bits) - 1;
  g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, channels, bits, 1);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

  g_assert_cmpuint (sherd_photo_get_info (photo)->bits, ==, bits);
  g_assert_cmpint (sherd_photo_get_info (photo)->grey, ==, channels < 3);
  g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_SRGB);
  for (gsize i = 0; i < SIZE_PX * SIZE_PX; i++)
    {
      const guint16 *pixel = samples + i * channels;

      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c],
                                        sherd_srgb_decode (pixel[channels < 3 ? 0 : c] / full), FLOAT_TOLERANCE);
      g_assert_cmpuint (pixels->flags[i], ==, expected_flags (pixel, channels, alpha, bits));
    }
}

static void
test_depth (gconstpointer data)
{
  const guint i = GPOINTER_TO_UINT (data);

  check_depth (depths[i].type, depths[i].bits, FALSE);
  check_depth (depths[i].type, depths[i].bits, TRUE);
}

static const png_color palette[] = { { 10, 20, 30 }, { 200, 100, 50 }, { 255, 255, 255 }, { 0, 90, 180 } };
static const png_byte palette_alpha[] = { 255, 255, 0 };

static void
set_palette (png_structp png, png_infop info, gpointer user_data)
{
  png_set_sRGB (png, info, PNG_sRGB_INTENT_RELATIVE);
  png_set_PLTE (png, info, palette, G_N_ELEMENTS (palette));
  if (user_data)
    png_set_tRNS (png, info, palette_alpha, G_N_ELEMENTS (palette_alpha), NULL);
}

static void
test_palette (void)
{
  for (guint round = 0; round < 4; round++)
    {
      const gboolean alpha = round % 2;
      const FixturePng fixture = { SIZE_PX,   SIZE_PX,     round < 2 ? 2 : 8,      PNG_COLOR_TYPE_PALETTE,
                                   round / 2, set_palette, GINT_TO_POINTER (alpha) };
      g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, 1, 2, 2);
      g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
      g_autoptr (SherdPhoto) photo = open_photo (bytes);
      g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

      for (gsize i = 0; i < SIZE_PX * SIZE_PX; i++)
        {
          const png_color *colour = &palette[samples[i]];
          const float *linear = pixels->linear + 3 * i;

          g_assert_cmpfloat_with_epsilon (linear[0], sherd_srgb_decode (colour->red / 255.0), FLOAT_TOLERANCE);
          g_assert_cmpfloat_with_epsilon (linear[1], sherd_srgb_decode (colour->green / 255.0), FLOAT_TOLERANCE);
          g_assert_cmpfloat_with_epsilon (linear[2], sherd_srgb_decode (colour->blue / 255.0), FLOAT_TOLERANCE);
          g_assert_cmpint ((pixels->flags[i] & SHERD_PIXEL_TRANSPARENT) != 0, ==, alpha && samples[i] == 2);
        }
    }
}

static void
set_transparent_grey (png_structp png, png_infop info, gpointer user_data)
{
  const png_color_16 colour = { .gray = 3 };

  png_set_tRNS (png, info, NULL, 0, &colour);
}

static void
test_transparent_code (void)
{
  const FixturePng fixture = { SIZE_PX, SIZE_PX, 4, PNG_COLOR_TYPE_GRAY, FALSE, set_transparent_grey, NULL };
  g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, 1, 4, 3);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);
  guint n_transparent = 0;

  for (gsize i = 0; i < SIZE_PX * SIZE_PX; i++)
    {
      g_assert_cmpint ((pixels->flags[i] & SHERD_PIXEL_TRANSPARENT) != 0, ==, samples[i] == 3);
      n_transparent += samples[i] == 3;
    }
  g_assert_cmpuint (n_transparent, >, 0);
}

/* 257 × an 8-bit code is the 16-bit code of the same light (65535 = 257 × 255). */
static void
test_16_bits_equal_8 (void)
{
  const FixturePng shallow = { SIZE_PX, SIZE_PX, 8, PNG_COLOR_TYPE_RGB, FALSE, NULL, NULL };
  const FixturePng deep = { SIZE_PX, SIZE_PX, 16, PNG_COLOR_TYPE_RGB, FALSE, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, 3, 8, 4);
  g_autoptr (GBytes) shallow_bytes = fixture_png (&shallow, samples);
  g_autoptr (SherdPhoto) shallow_photo = open_photo (shallow_bytes);
  g_autoptr (FixturePixels) shallow_pixels = fixture_read_all (shallow_photo, NULL);
  g_autoptr (GBytes) deep_bytes = NULL;
  g_autoptr (SherdPhoto) deep_photo = NULL;
  g_autoptr (FixturePixels) deep_pixels = NULL;

  for (gsize i = 0; i < 3 * SIZE_PX * SIZE_PX; i++)
    samples[i] = (guint16)(samples[i] * 257);
  deep_bytes = fixture_png (&deep, samples);
  deep_photo = open_photo (deep_bytes);
  deep_pixels = fixture_read_all (deep_photo, NULL);
  for (gsize i = 0; i < 3 * SIZE_PX * SIZE_PX; i++)
    g_assert_cmpfloat_with_epsilon (shallow_pixels->linear[i], deep_pixels->linear[i], FLOAT_TOLERANCE);
}

/* What a file says of its numbers. */
typedef struct
{
  double gamma;       /* gAMA, 0 for none */
  gboolean primaries; /* cHRM of a display with wide primaries, white D65 */
  gboolean srgb;
  GBytes *icc;
  const guint8 *cicp;
  GBytes *exif;
  gboolean late_exif; /* after the pixels */
} Saying;

static void
say (png_structp png, png_infop info, gpointer user_data)
{
  const Saying *saying = user_data;

  if (saying->gamma > 0)
    png_set_gAMA (png, info, saying->gamma);
  if (saying->primaries)
    png_set_cHRM (png, info, 0.3127, 0.3290, 0.68, 0.32, 0.265, 0.69, 0.15, 0.06);
  if (saying->srgb)
    png_set_sRGB (png, info, PNG_sRGB_INTENT_RELATIVE);
  if (saying->icc)
    png_set_iCCP (png, info, "made", PNG_COMPRESSION_TYPE_BASE, g_bytes_get_data (saying->icc, NULL),
                  (png_uint_32)g_bytes_get_size (saying->icc));
  if (saying->cicp)
    {
      png_unknown_chunk chunk = { "cICP", (png_byte *)saying->cicp, 4, PNG_HAVE_IHDR };

      png_set_keep_unknown_chunks (png, PNG_HANDLE_CHUNK_ALWAYS, (png_const_bytep) "cICP", 1);
      png_set_unknown_chunks (png, info, &chunk, 1);
      png_set_unknown_chunk_location (png, info, 0, PNG_HAVE_IHDR);
    }
  if (saying->exif)
    {
      png_unknown_chunk chunk = { "eXIf", (png_byte *)g_bytes_get_data (saying->exif, NULL),
                                  g_bytes_get_size (saying->exif), saying->late_exif ? PNG_AFTER_IDAT : PNG_HAVE_IHDR };

      png_set_keep_unknown_chunks (png, PNG_HANDLE_CHUNK_ALWAYS, (png_const_bytep) "eXIf", 1);
      png_set_unknown_chunks (png, info, &chunk, 1);
      png_set_unknown_chunk_location (png, info, 0, chunk.location);
    }
}

static GBytes *
make_saying (const Saying *saying, int type, guint bits)
{
  const FixturePng fixture = { SIZE_PX, SIZE_PX, bits, type, FALSE, say, (gpointer)saying };
  g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, fixture_png_channels (type), bits, 5);

  return fixture_png (&fixture, samples);
}

static cmsHPROFILE
rgb_profile (double exponent, gboolean wide)
{
  const cmsCIExyY white = { 0.3127, 0.3290, 1 };
  const cmsCIExyYTRIPLE narrow_primaries = { { 0.64, 0.33, 1 }, { 0.30, 0.60, 1 }, { 0.15, 0.06, 1 } };
  const cmsCIExyYTRIPLE wide_primaries = { { 0.68, 0.32, 1 }, { 0.265, 0.69, 1 }, { 0.15, 0.06, 1 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, exponent);
  cmsToneCurve *curves[] = { curve, curve, curve };
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, wide ? &wide_primaries : &narrow_primaries, curves);

  cmsFreeToneCurve (curve);
  return profile;
}

/* Compares a file's pixels with what LittleCMS makes of its codes by @profile, which is freed. */
static void
check_against_lcms (GBytes *bytes, guint bits, SherdPhotoSpace space, cmsHPROFILE profile)
{
  g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, 3, bits, 5);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);
  cmsHPROFILE out = rgb_profile (1, FALSE);
  cmsHTRANSFORM transform =
    cmsCreateTransform (profile, TYPE_RGB_FLT, out, TYPE_RGB_FLT, INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);

  g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, space);
  for (gsize i = 0; i < SIZE_PX * SIZE_PX; i++)
    {
      float encoded[3], linear[3];

      for (guint c = 0; c < 3; c++)
        encoded[c] = (float)samples[3 * i + c] / (float)((1 << bits) - 1);
      cmsDoTransform (transform, encoded, linear, 1);
      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], linear[c], LCMS_TOLERANCE);
    }
  cmsDeleteTransform (transform);
  cmsCloseProfile (profile);
  cmsCloseProfile (out);
}

static void
test_gamma (void)
{
  const Saying linear = { .gamma = 1 }, bent = { .gamma = 0.45455 }, wide = { .gamma = 0.5, .primaries = TRUE };
  g_autoptr (GBytes) linear_bytes = make_saying (&linear, PNG_COLOR_TYPE_RGB, 16);
  g_autoptr (GBytes) bent_bytes = make_saying (&bent, PNG_COLOR_TYPE_RGB, 8);
  g_autoptr (GBytes) wide_bytes = make_saying (&wide, PNG_COLOR_TYPE_RGB, 8);

  check_against_lcms (linear_bytes, 16, SHERD_PHOTO_SPACE_GAMMA, rgb_profile (1, FALSE));
  check_against_lcms (bent_bytes, 8, SHERD_PHOTO_SPACE_GAMMA, rgb_profile (1 / 0.45455, FALSE));
  check_against_lcms (wide_bytes, 8, SHERD_PHOTO_SPACE_GAMMA, rgb_profile (2, TRUE));
}

static void
test_icc (void)
{
  for (guint bits = 8; bits <= 16; bits += 8)
    {
      g_autoptr (GBytes) icc = fixture_wide_icc ();
      const Saying saying = { .icc = icc };
      g_autoptr (GBytes) bytes = make_saying (&saying, PNG_COLOR_TYPE_RGB, bits);

      check_against_lcms (bytes, bits, SHERD_PHOTO_SPACE_ICC,
                          cmsOpenProfileFromMem (g_bytes_get_data (icc, NULL), (guint)g_bytes_get_size (icc)));
    }
}

/* ITU-T H.273: primaries 12 and transfer 8 are the wide display of rgb_profile(), linear. */
static void
test_cicp (void)
{
  const Saying wide = { .gamma = 0.7, .cicp = (const guint8[]){ 12, 8, 0, 1 } };
  const Saying film = { .srgb = TRUE, .cicp = (const guint8[]){ 9, 16, 0, 1 } };
  g_autoptr (GBytes) wide_bytes = make_saying (&wide, PNG_COLOR_TYPE_RGB, 8);
  g_autoptr (GBytes) film_bytes = make_saying (&film, PNG_COLOR_TYPE_RGB, 8);
  g_autoptr (SherdPhoto) photo = open_photo (film_bytes);

  check_against_lcms (wide_bytes, 8, SHERD_PHOTO_SPACE_CICP, rgb_profile (1, TRUE));
  g_assert_nonnull (strstr (sherd_photo_get_info (photo)->remarks[0], "films"));
}

static SherdPhotoSpace
space_of (const Saying *saying)
{
  g_autoptr (GBytes) bytes = make_saying (saying, PNG_COLOR_TYPE_RGB, 8);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);

  return sherd_photo_get_info (photo)->space;
}

static void
test_order_of_belief (void)
{
  g_autoptr (GBytes) icc = fixture_wide_icc ();
  g_autoptr (GBytes) exif = fixture_exif (1, 1, TRUE);
  const Saying cases[] = { { .icc = icc, .gamma = 0.5 },
                           { .srgb = TRUE, .exif = exif },
                           { .gamma = 0.5, .exif = exif },
                           { .exif = exif },
                           { .gamma = 0 } };

  g_assert_cmpint (space_of (&cases[0]), ==, SHERD_PHOTO_SPACE_ICC);
  g_assert_cmpint (space_of (&cases[1]), ==, SHERD_PHOTO_SPACE_SRGB);
  g_assert_cmpint (space_of (&cases[2]), ==, SHERD_PHOTO_SPACE_GAMMA);
  g_assert_cmpint (space_of (&cases[3]), ==, SHERD_PHOTO_SPACE_SRGB);
  g_assert_cmpint (space_of (&cases[4]), ==, SHERD_PHOTO_SPACE_ASSUMED_SRGB);
}

static gboolean
has_remark (const SherdPhoto *photo, const char *word)
{
  for (char **remark = sherd_photo_get_info (photo)->remarks; *remark; remark++)
    if (strstr (*remark, word))
      return TRUE;
  return FALSE;
}

/* A few damaged bytes in the packed profile: libpng drops it, the user is told. */
static void
test_damaged_profile_is_told (void)
{
  g_autoptr (GBytes) icc = fixture_wide_icc ();
  const Saying saying = { .icc = icc };
  g_autoptr (GBytes) good = make_saying (&saying, PNG_COLOR_TYPE_RGB, 8);
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (g_steal_pointer (&good), &n_bytes);
  guint8 *chunk = memmem (data, n_bytes, "iCCP", 4);
  g_autoptr (GBytes) bad = NULL;
  g_autoptr (SherdPhoto) photo = NULL;

  memset (chunk + 20, 0xA5, 8);
  bad = g_bytes_new_take (data, n_bytes);
  photo = open_photo (bad);
  g_assert_cmpint (sherd_photo_get_info (photo)->space, ==, SHERD_PHOTO_SPACE_ASSUMED_SRGB);
  g_assert_true (has_remark (photo, "profile in the file is damaged"));
  g_assert_true (has_remark (photo, "sRGB was assumed"));
}

static void
test_orientation (void)
{
  for (guint orientation = 1; orientation <= 8; orientation++)
    {
      g_autoptr (GBytes) exif = fixture_exif (orientation, 1, orientation % 2);
      const Saying saying = { .exif = exif, .late_exif = orientation > 4 };
      g_autoptr (GBytes) bytes = make_saying (&saying, PNG_COLOR_TYPE_RGB, 8);
      g_autoptr (SherdPhoto) photo = open_photo (bytes);
      g_autoptr (FixturePixels) pixels = fixture_read_all (photo, NULL);

      g_assert_cmpuint (sherd_photo_get_info (photo)->orientation, ==, orientation);
      g_assert_nonnull (pixels);
    }
}

static void
test_parts_equal_the_whole (gconstpointer data)
{
  const gboolean interlaced = GPOINTER_TO_INT (data);
  const FixturePng fixture = { SIZE_PX, SIZE_PX, 16, PNG_COLOR_TYPE_RGB_ALPHA, interlaced, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (SIZE_PX, SIZE_PX, 4, 16, 6);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
  g_autoptr (SherdPhoto) whole_photo = open_photo (bytes);
  g_autoptr (FixturePixels) whole = fixture_read_all (whole_photo, NULL);
  g_autoptr (SherdPhoto) photo = open_photo (bytes);
  float linear[3 * SIZE_PX];
  guint8 flags[SIZE_PX];

  sherd_photo_limit_columns (photo, 5, 30);
  for (guint y = 3; y < SIZE_PX; y += 4)
    {
      g_assert_true (sherd_photo_seek_row (photo, y, NULL));
      sherd_photo_convert (photo, 6, 3, 8, linear, flags);
      for (guint i = 0; i < 8; i++)
        {
          const gsize place = y * SIZE_PX + 6 + 3 * i;

          g_assert_cmpmem (linear + 3 * i, 3 * sizeof (float), whole->linear + 3 * place, 3 * sizeof (float));
          g_assert_cmpuint (flags[i], ==, whole->flags[place]);
        }
    }
}

/* At every length the file ends in a message; nothing is made up. The end of a PNG is a chunk of 12 bytes without
 * pixels, and a few bytes of checksum before it: a file that has lost no more may be read. */
static void
test_cut_off (gconstpointer data)
{
  const gboolean interlaced = GPOINTER_TO_INT (data);
  const FixturePng fixture = { 80, 60, 8, PNG_COLOR_TYPE_RGB, interlaced, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (80, 60, 3, 8, 7);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
  const gsize n_bytes = g_bytes_get_size (bytes);

  for (guint i = 0; i < 200; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) part = g_bytes_new_from_bytes (bytes, 0, 4 + i * (n_bytes - 24) / 200);
      g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (part, "cut.png", &error);
      g_autoptr (FixturePixels) pixels = photo ? fixture_read_all (photo, &error) : NULL;

      g_assert_null (pixels);
      g_assert_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_BROKEN);
      g_assert_nonnull (strstr (error->message, "cut.png"));
    }
}

/* Replaces four bytes of the head and mends its checksum by none: the size is looked at first. */
static GBytes *
with_stated_size (guint32 width, guint32 height, gboolean interlaced)
{
  const FixturePng fixture = { 8, 8, 8, PNG_COLOR_TYPE_RGB, interlaced, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (8, 8, 3, 8, 8);
  gsize n_bytes;
  guint8 *data = g_bytes_unref_to_data (fixture_png (&fixture, samples), &n_bytes);

  for (guint i = 0; i < 4; i++)
    {
      data[16 + i] = (guint8)(width >> (24 - 8 * i));
      data[20 + i] = (guint8)(height >> (24 - 8 * i));
    }
  return g_bytes_new_take (data, n_bytes);
}

static void
check_refusal (GBytes *bytes, SherdPhotoError code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "odd.png", &error);

  g_assert_null (photo);
  g_assert_error (error, SHERD_PHOTO_ERROR, (int)code);
  g_assert_nonnull (strstr (error->message, "odd.png"));
}

static void
test_refuses_absurd_sizes (void)
{
  g_autoptr (GBytes) wide = with_stated_size (0x7FFFFFFF, 1, FALSE);
  g_autoptr (GBytes) huge = with_stated_size (60000, 60000, FALSE);
  g_autoptr (GBytes) none = with_stated_size (0, 10, FALSE);

  check_refusal (wide, SHERD_PHOTO_ERROR_TOO_LARGE);
  check_refusal (huge, SHERD_PHOTO_ERROR_TOO_LARGE);
  check_refusal (none, SHERD_PHOTO_ERROR_BROKEN);
}

/* A short file of empty rows, with a right checksum: 30 000 × 30 000 pixels may be stated, but so short a file cannot
 * hold them. */
static void
test_refuses_what_cannot_be_inside (void)
{
  GByteArray *file = g_byte_array_new ();
  png_structp png = png_create_write_struct (PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
  png_infop info = png_create_info_struct (png);
  g_autoptr (GBytes) bytes = NULL;
  const FixturePng fixture = { 8, 8, 8, PNG_COLOR_TYPE_RGB, FALSE, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (8, 8, 3, 8, 8);
  g_autoptr (GBytes) small = fixture_png (&fixture, samples);

  png_set_write_fn (png, file, fixture_append_png, NULL);
  png_set_IHDR (png, info, 30000, 30000, 8, PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE, PNG_COMPRESSION_TYPE_DEFAULT,
                PNG_FILTER_TYPE_DEFAULT);
  png_write_info (png, info);
  png_destroy_write_struct (&png, &info);
  g_byte_array_append (file, (const guint8 *)g_bytes_get_data (small, NULL) + 33, (guint)g_bytes_get_size (small) - 33);
  bytes = g_byte_array_free_to_bytes (file);
  check_refusal (bytes, SHERD_PHOTO_ERROR_BROKEN);
}

/* The head's checksum is wrong. */
static void
test_refuses_damaged_head (void)
{
  g_autoptr (GBytes) bytes = with_stated_size (9, 9, FALSE);

  check_refusal (bytes, SHERD_PHOTO_ERROR_BROKEN);
}

/* Damage anywhere: a message or a picture, never a crash (the point of this test is the sanitizers). */
static void
test_damage (void)
{
  const FixturePng fixture = { 80, 60, 8, PNG_COLOR_TYPE_RGB_ALPHA, TRUE, NULL, NULL };
  g_autofree guint16 *samples = fixture_samples (80, 60, 4, 8, 9);
  g_autoptr (GBytes) bytes = fixture_png (&fixture, samples);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  gsize n_bytes;
  const guint8 *data = g_bytes_get_data (bytes, &n_bytes);
  guint n_refused = 0;

  for (guint round = 0; round < 300; round++)
    {
      g_autoptr (GError) error = NULL;
      guint8 *damaged = g_memdup2 (data, n_bytes);
      g_autoptr (GBytes) part = g_bytes_new_take (damaged, n_bytes);
      g_autoptr (SherdPhoto) photo = NULL;
      g_autoptr (FixturePixels) pixels = NULL;

      damaged[g_rand_int_range (rand, 8, (gint32)n_bytes)] ^= (guint8)(1 << g_rand_int_range (rand, 0, 8));
      photo = sherd_photo_open_bytes (part, "odd.png", &error);
      pixels = photo ? fixture_read_all (photo, &error) : NULL;
      g_assert_cmpint (pixels == NULL, ==, error != NULL);
      n_refused += !pixels;
    }
  g_assert_cmpuint (n_refused, >, 250);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (depths); i++)
    {
      g_autofree char *path = g_strconcat ("/photo/png/depth/", depths[i].name, NULL);

      g_test_add_data_func (path, GUINT_TO_POINTER (i), test_depth);
    }
  g_test_add_func ("/photo/png/depth/palette", test_palette);
  g_test_add_func ("/photo/png/depth/transparent-code", test_transparent_code);
  g_test_add_func ("/photo/png/depth/16-bits-equal-8", test_16_bits_equal_8);
  g_test_add_func ("/photo/png/space/gamma-equals-littlecms", test_gamma);
  g_test_add_func ("/photo/png/space/icc-equals-littlecms", test_icc);
  g_test_add_func ("/photo/png/space/cicp-equals-littlecms", test_cicp);
  g_test_add_func ("/photo/png/space/order-of-belief", test_order_of_belief);
  g_test_add_func ("/photo/png/space/damaged-profile-is-told", test_damaged_profile_is_told);
  g_test_add_func ("/photo/png/orientation-before-and-after-the-pixels", test_orientation);
  g_test_add_data_func ("/photo/png/parts-equal-the-whole/plain", GINT_TO_POINTER (FALSE), test_parts_equal_the_whole);
  g_test_add_data_func ("/photo/png/parts-equal-the-whole/interlaced", GINT_TO_POINTER (TRUE),
                        test_parts_equal_the_whole);
  g_test_add_data_func ("/photo/png/cut-off-is-told/plain", GINT_TO_POINTER (FALSE), test_cut_off);
  g_test_add_data_func ("/photo/png/cut-off-is-told/interlaced", GINT_TO_POINTER (TRUE), test_cut_off);
  g_test_add_func ("/photo/png/refuses/absurd-sizes", test_refuses_absurd_sizes);
  g_test_add_func ("/photo/png/refuses/what-cannot-be-inside", test_refuses_what_cannot_be_inside);
  g_test_add_func ("/photo/png/refuses/damaged-head", test_refuses_damaged_head);
  g_test_add_func ("/photo/png/damage-is-told-or-harmless", test_damage);
  return g_test_run ();
}
