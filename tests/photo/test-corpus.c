/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Files of the shared corpus and scenes (see their MANIFEST.csv and README.md for source and licence), which other
 * people and programs made. Codes come from ImageMagick, run as a program of its own; what the numbers mean is read
 * from the file by a few lines here, and LittleCMS called directly makes linear light of them. */
#include "config.h"

#include <math.h>
#include <string.h>

#include <gio/gio.h>

#include "colour/difference.h"
#include "colour/srgb.h"
#include "fixtures.h"
#include "photo/picture.h"

/* The program takes a profile for sRGB that differs from it by 0.05 ΔE*ab at most (icc.c); LittleCMS keeps primaries to
 * 16 binary places and works in single precision. */
#define LIGHT_TOLERANCE_DE76 0.06

static char *
shared_path (const char *name)
{
  const char *shared = g_getenv ("SHERD_SHARED_DIR");
  g_autofree char *path = shared ? g_build_filename (shared, name, NULL) : NULL;

  return path && g_file_test (path, G_FILE_TEST_EXISTS) ? g_steal_pointer (&path) : NULL;
}

/* Raw samples of a file's first picture from ImageMagick: 16 bits, big-endian. NULL if the program is not there or
 * refuses the file. */
static GBytes *
run_imagemagick (const char *path, const char *turn, const char *output)
{
  g_autofree char *first = g_strconcat (path, "[0]", NULL);
  g_autoptr (GSubprocess) process = NULL;
  GBytes *samples = NULL;

  process =
    g_subprocess_new (G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_SILENCE, NULL, "convert", first, turn,
                      "-alpha", "off", "-set", "colorspace", g_str_equal (output, "cmyk:-") ? "CMYK" : "sRGB", "-depth",
                      "16", "-endian", "MSB", output, NULL);
  if (!process || !g_subprocess_communicate (process, NULL, NULL, &samples, NULL, NULL))
    return NULL;
  if (!g_subprocess_get_successful (process))
    g_clear_pointer (&samples, g_bytes_unref);
  return samples;
}

static double
sample_at (GBytes *samples, gsize i)
{
  const guint8 *bytes = g_bytes_get_data (samples, NULL);

  return (bytes[2 * i] << 8 | bytes[2 * i + 1]) / 65535.0;
}

static guint32
get_number (const guint8 *bytes)
{
  return (guint32)bytes[0] << 24 | (guint32)bytes[1] << 16 | (guint32)bytes[2] << 8 | bytes[3];
}

/* A chunk's content, or NULL. */
static const guint8 *
find_chunk (const guint8 *png, gsize n_bytes, const char *type, guint32 *length)
{
  for (gsize at = 8; at + 12 <= n_bytes; at += 12 + *length)
    {
      *length = get_number (png + at);
      if (memcmp (png + at + 4, type, 4) == 0)
        return png + at + 8;
    }
  return NULL;
}

static GBytes *
inflate (const guint8 *data, gsize n_bytes)
{
  g_autoptr (GConverter) converter = G_CONVERTER (g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_ZLIB));
  g_autoptr (GInputStream) packed = g_memory_input_stream_new_from_data (data, (gssize)n_bytes, NULL);
  g_autoptr (GInputStream) stream = g_converter_input_stream_new (packed, converter);

  return g_input_stream_read_bytes (stream, 16 << 20, NULL, NULL);
}

static double
fixed (const guint8 *bytes)
{
  return get_number (bytes) / 100000.0;
}

static cmsHPROFILE
make_profile (double gamma, const guint8 *chrm)
{
  cmsCIExyY white = { 0.3127, 0.3290, 1 };
  cmsCIExyYTRIPLE primaries = { { 0.64, 0.33, 1 }, { 0.30, 0.60, 1 }, { 0.15, 0.06, 1 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, gamma);
  cmsToneCurve *curves[] = { curve, curve, curve };
  cmsHPROFILE profile;

  if (chrm)
    {
      white = (cmsCIExyY){ fixed (chrm), fixed (chrm + 4), 1 };
      primaries.Red = (cmsCIExyY){ fixed (chrm + 8), fixed (chrm + 12), 1 };
      primaries.Green = (cmsCIExyY){ fixed (chrm + 16), fixed (chrm + 20), 1 };
      primaries.Blue = (cmsCIExyY){ fixed (chrm + 24), fixed (chrm + 28), 1 };
    }
  profile = cmsCreateRGBProfile (&white, &primaries, curves);
  cmsFreeToneCurve (curve);
  return profile;
}

static cmsHPROFILE
profile_of_png (const guint8 *png, gsize n_bytes)
{
  guint32 length = 0;
  const guint8 *iccp = find_chunk (png, n_bytes, "iCCP", &length);
  const guint8 *gama, *chrm;

  if (iccp)
    {
      const gsize name_length = strlen ((const char *)iccp) + 2;
      g_autoptr (GBytes) icc = inflate (iccp + name_length, length - name_length);

      return cmsOpenProfileFromMem (g_bytes_get_data (icc, NULL), (guint)g_bytes_get_size (icc));
    }
  if (find_chunk (png, n_bytes, "sRGB", &length))
    return cmsCreate_sRGBProfile ();
  gama = find_chunk (png, n_bytes, "gAMA", &length);
  chrm = find_chunk (png, n_bytes, "cHRM", &length);
  return gama ? make_profile (1 / fixed (gama), chrm) : cmsCreate_sRGBProfile ();
}

/* Segments up to the start of scan (ITU-T T.81, B.1.1.4), gathering ICC.1, annex B.4. */
static cmsHPROFILE
profile_of_jpeg (const guint8 *jpeg, gsize n_bytes)
{
  g_autoptr (GByteArray) icc = g_byte_array_new ();

  for (gsize at = 2; at + 4 < n_bytes && jpeg[at + 1] != 0xDA;)
    {
      const guint length = (guint)(jpeg[at + 2] << 8 | jpeg[at + 3]);

      if (jpeg[at + 1] == 0xE2 && memcmp (jpeg + at + 4, "ICC_PROFILE", 12) == 0)
        g_byte_array_append (icc, jpeg + at + 18, length - 16);
      at += 2 + length;
    }
  return icc->len > 0 ? cmsOpenProfileFromMem (icc->data, icc->len) : cmsCreate_sRGBProfile ();
}

/* Tag 34675 of the first directory (ICC.1, annex B.5), of little-endian files only. */
static cmsHPROFILE
profile_of_tiff (const guint8 *tiff)
{
  const guint8 *directory = tiff + GUINT32_SWAP_LE_BE (get_number (tiff + 4));
  const guint n = directory[0] | (guint)directory[1] << 8;

  for (const guint8 *entry = directory + 2; entry < directory + 2 + 12 * n; entry += 12)
    if ((entry[0] | entry[1] << 8) == 34675)
      return cmsOpenProfileFromMem (tiff + GUINT32_SWAP_LE_BE (get_number (entry + 8)),
                                    GUINT32_SWAP_LE_BE (get_number (entry + 4)));
  return cmsCreate_sRGBProfile ();
}

static cmsHPROFILE
profile_of (const char *path)
{
  g_autofree char *data = NULL;
  gsize n_bytes;

  g_assert_true (g_file_get_contents (path, &data, &n_bytes, NULL));
  if (memcmp (data + 1, "PNG", 3) == 0)
    return profile_of_png ((const guint8 *)data, n_bytes);
  if (memcmp (data, "II*", 4) == 0)
    return profile_of_tiff ((const guint8 *)data);
  return profile_of_jpeg ((const guint8 *)data, n_bytes);
}

static SherdLab
lab_of (const float *linear)
{
  const SherdRgb rgb = { linear[0], linear[1], linear[2] };
  const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&rgb);

  return sherd_lab_from_xyz (&xyz);
}

static void
check_pixel (const float *ours, const float *theirs)
{
  SherdLab our_lab, their_lab;

  if (fabsf (ours[0] - theirs[0]) + fabsf (ours[1] - theirs[1]) + fabsf (ours[2] - theirs[2]) < 1e-6f)
    return;
  our_lab = lab_of (ours);
  their_lab = lab_of (theirs);
  g_assert_cmpfloat (sherd_difference_de76 (&our_lab, &their_lab), <=, LIGHT_TOLERANCE_DE76);
}

static void
check_light (const FixturePixels *pixels, GBytes *samples, cmsHPROFILE profile)
{
  cmsHPROFILE out = make_profile (1, NULL);
  cmsHTRANSFORM transform =
    cmsCreateTransform (profile, TYPE_RGB_FLT, out, TYPE_RGB_FLT, INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);
  g_autofree float *encoded = g_new (float, 3 * pixels->width);
  g_autofree float *linear = g_new (float, 3 * pixels->width);

  /* Of large pictures every seventh row, to save time: all rows are decoded. */
  const gsize step = pixels->height > 500 ? 7 : 1;

  for (gsize y = 0; y < pixels->height; y += step)
    {
      const gsize first = 3 * y * pixels->width;

      for (gsize i = 0; i < 3 * pixels->width; i++)
        encoded[i] = (float)sample_at (samples, first + i);
      cmsDoTransform (transform, encoded, linear, pixels->width);
      for (gsize x = 0; x < pixels->width; x++)
        check_pixel (pixels->linear + first + 3 * x, linear + 3 * x);
    }
  cmsDeleteTransform (transform);
  cmsCloseProfile (out);
  cmsCloseProfile (profile);
}

static void
test_light (gconstpointer name)
{
  g_autofree char *path = shared_path (name);
  g_autoptr (GBytes) samples = path ? run_imagemagick (path, "+repage", "rgb:-") : NULL;
  g_autoptr (SherdPhoto) photo = NULL;
  g_autoptr (FixturePixels) pixels = NULL;
  g_autoptr (GError) error = NULL;

  if (!samples)
    {
      g_test_skip (path ? "ImageMagick is not there" : "the shared corpus is not there");
      return;
    }
  photo = sherd_photo_open (path, &error);
  g_assert_no_error (error);
  pixels = fixture_read_all (photo, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (samples), ==, (gsize)6 * pixels->width * pixels->height);
  check_light (pixels, samples, profile_of (path));
}

/* Ink without a profile hides light, as in ImageMagick's own plain conversion. */
static void
test_ink (void)
{
  g_autofree char *path = shared_path ("corpus/formats/pillow_pil_sample_cmyk.jpg");
  g_autoptr (GBytes) samples = path ? run_imagemagick (path, "+repage", "cmyk:-") : NULL;
  g_autoptr (SherdPhoto) photo = NULL;
  g_autoptr (FixturePixels) pixels = NULL;

  if (!samples)
    {
      g_test_skip (path ? "ImageMagick is not there" : "the shared corpus is not there");
      return;
    }
  photo = sherd_photo_open (path, NULL);
  pixels = fixture_read_all (photo, NULL);
  for (gsize i = 0; i < (gsize)pixels->width * pixels->height; i++)
    for (guint c = 0; c < 3; c++)
      {
        const double light = (1 - sample_at (samples, 4 * i + c)) * (1 - sample_at (samples, 4 * i + 3));

        g_assert_cmpfloat_with_epsilon (pixels->linear[3 * i + c], sherd_srgb_decode (light), 1e-4);
      }
}

/* Files whose numbers are sRGB are shown code for code as ImageMagick turns them upright. */
static void
test_upright (gconstpointer name)
{
  g_autofree char *path = shared_path (name);
  g_autoptr (GBytes) samples = path ? run_imagemagick (path, "-auto-orient", "rgb:-") : NULL;
  g_autoptr (SherdPicture) picture = NULL;
  const guint8 *codes;

  if (!samples)
    {
      g_test_skip (path ? "ImageMagick is not there" : "the shared corpus is not there");
      return;
    }
  picture = sherd_picture_load (path, 0, NULL, NULL, NULL, NULL);
  codes = g_bytes_get_data (picture->pixels, NULL);
  g_assert_cmpuint (g_bytes_get_size (samples), ==, 2 * g_bytes_get_size (picture->pixels));
  for (gsize i = 0; i < g_bytes_get_size (picture->pixels); i++)
    g_assert_cmpuint (codes[i], ==, (guint)lround (255 * sample_at (samples, i)));
}

/* Mean difference of two pictures in codes, scaled down so that the noise of compression is gone. */
static double
mean_difference (const char *first_name, const char *second_name, guint max_side_px)
{
  g_autofree char *first_path = shared_path (first_name);
  g_autofree char *second_path = shared_path (second_name);
  g_autoptr (SherdPicture) first = sherd_picture_load (first_path, max_side_px, NULL, NULL, NULL, NULL);
  g_autoptr (SherdPicture) second = sherd_picture_load (second_path, max_side_px, NULL, NULL, NULL, NULL);
  const guint8 *first_codes = g_bytes_get_data (first->pixels, NULL);
  const guint8 *second_codes = g_bytes_get_data (second->pixels, NULL);
  double sum = 0;

  g_assert_cmpuint (first->width_px, ==, second->width_px);
  g_assert_cmpuint (first->height_px, ==, second->height_px);
  for (gsize i = 0; i < g_bytes_get_size (first->pixels); i++)
    sum += abs (first_codes[i] - second_codes[i]);
  return sum / (double)g_bytes_get_size (first->pixels);
}

static const struct
{
  const char *name;
  const char *first;
  const char *second;
  guint max_side_px;
  double most_codes; /* what compression, or 8 bits, or a number written in the picture leave */
} siblings[] = {
  { "orientation-6", "scenes/hard_exif6/after_exif6.jpg", "scenes/tile_a/after.jpg", 100, 0.3 },
  { "profile", "scenes/hard_icc/after_icc.jpg", "scenes/tile_a/after.jpg", 100, 0.8 },
  { "16-bits", "scenes/hard_png16/after_16bit.png", "scenes/tile_b/after.png", 0, 0.01 },
  { "landscape-2", "corpus/orientation/landscape_2.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
  { "landscape-3", "corpus/orientation/landscape_3.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
  { "landscape-4", "corpus/orientation/landscape_4.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
  { "landscape-5", "corpus/orientation/landscape_5.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
  { "landscape-6", "corpus/orientation/landscape_6.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
  { "landscape-7", "corpus/orientation/landscape_7.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
  { "landscape-8", "corpus/orientation/landscape_8.jpg", "corpus/orientation/landscape_1.jpg", 60, 1 },
};

static void
test_siblings (gconstpointer data)
{
  const guint i = GPOINTER_TO_UINT (data);
  g_autofree char *first = shared_path (siblings[i].first);
  g_autofree char *second = shared_path (siblings[i].second);

  if (!first || !second)
    {
      g_test_skip ("the shared files are not there");
      return;
    }
  g_assert_cmpfloat (mean_difference (siblings[i].first, siblings[i].second, siblings[i].max_side_px), <=,
                     siblings[i].most_codes);
}

/* Files that cannot be read, and what the message must say. */
static const struct
{
  const char *name;
  SherdPhotoError code;
  const char *word;
} refused[] = {
  { "broken/bomb_2147483647x1.png", SHERD_PHOTO_ERROR_TOO_LARGE, "2147483647 × 1" },
  { "broken/bomb_60000x60000.png", SHERD_PHOTO_ERROR_TOO_LARGE, "60000 × 60000" },
  { "broken/landscape_6_cut_at_600_bytes.jpg", SHERD_PHOTO_ERROR_BROKEN, "cut off" },
  { "broken/landscape_6_cut_at_half.jpg", SHERD_PHOTO_ERROR_BROKEN, "cut off" },
  { "broken/lcms_bad.icc", SHERD_PHOTO_ERROR_UNKNOWN, "text" },
  { "broken/lcms_toosmall.icc", SHERD_PHOTO_ERROR_UNKNOWN, "none of these" },
  { "broken/libpng_bad_iCCP.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/libpng_badcrc.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/libpng_huge_IDAT.png", SHERD_PHOTO_ERROR_BROKEN, "cut off" },
  { "broken/pillow_libtiff_segfault.tif", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/pillow_oom-225817ca0f8c663be7ab4b9e717b02c661e66834.tif", SHERD_PHOTO_ERROR_BROKEN, "cut off" },
  { "broken/pillow_sample_photo_bad_exif.jpg", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/pillow_truncated_jpeg.jpg", SHERD_PHOTO_ERROR_BROKEN, "cut off" },
  { "broken/pngsuite_xc1n0g08.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/pngsuite_xcrn0g04.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/pngsuite_xd0n2c08.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/pngsuite_xdtn0g01.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/pngsuite_xhdn0g08.png", SHERD_PHOTO_ERROR_BROKEN, "damaged" },
  { "broken/text_named.jpg", SHERD_PHOTO_ERROR_UNKNOWN, "text" },
  { "broken/zero_length.jpg", SHERD_PHOTO_ERROR_OPEN, "empty" },
  { "formats/exif_samplefilehub.heif", SHERD_PHOTO_ERROR_UNKNOWN, "HEIF" },
  { "formats/libheif_colors-with-alpha.heic", SHERD_PHOTO_ERROR_UNKNOWN, "HEIF" },
  { "formats/ljt_toy12.jpg", SHERD_PHOTO_ERROR_UNSUPPORTED, "8 bits" },
  { "formats/raw_DNG.dng", SHERD_PHOTO_ERROR_UNKNOWN, "raw" },
};

static void
test_refused (gconstpointer data)
{
  const guint i = GPOINTER_TO_UINT (data);
  g_autofree char *name = g_strconcat ("corpus/", refused[i].name, NULL);
  g_autofree char *path = shared_path (name);
  g_autofree char *base_name = g_path_get_basename (name);
  g_autoptr (GError) error = NULL;

  if (!path)
    {
      g_test_skip ("the shared corpus is not there");
      return;
    }
  g_assert_null (sherd_picture_load (path, 0, NULL, NULL, NULL, &error));
  g_assert_error (error, SHERD_PHOTO_ERROR, (int)refused[i].code);
  g_assert_nonnull (strstr (error->message, base_name));
  g_assert_nonnull (strstr (error->message, refused[i].word));
}

/* A text chunk of some kilobytes that unpacks to many megabytes: passed over. */
static void
test_text_bomb (void)
{
  g_autofree char *path = shared_path ("corpus/broken/pillow_png_decompression_dos.png");
  g_autoptr (SherdPicture) picture = NULL;

  if (!path)
    {
      g_test_skip ("the shared corpus is not there");
      return;
    }
  picture = sherd_picture_load (path, 0, NULL, NULL, NULL, NULL);
  g_assert_cmpuint (picture->width_px, ==, 1);
}

/* Folders whose every PNG, JPEG and TIFF must open and agree with the outside, but for those above. */
static const char *const light_folders[] = { "corpus/pngsuite",  "corpus/orientation", "corpus/formats",
                                             "corpus/charts",    "corpus/pottery",     "scenes/tile_a",
                                             "scenes/tile_b",    "scenes/hard_exif6",  "scenes/hard_icc",
                                             "scenes/hard_png16" };

static gboolean
is_for_light_test (const char *name)
{
  const char *const endings[] = { ".png", ".jpg", ".jpeg", ".tif", ".tiff" };
  gboolean readable = FALSE;

  for (guint i = 0; i < G_N_ELEMENTS (endings); i++)
    readable |= g_str_has_suffix (name, endings[i]);
  return readable && !strstr (name, "toy12") && !strstr (name, "cmyk");
}

static void
add_light_tests (const char *folder)
{
  g_autofree char *path = shared_path (folder);
  g_autoptr (GDir) dir = path ? g_dir_open (path, 0, NULL) : NULL;
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    if (is_for_light_test (name))
      {
        g_autofree char *test = g_strconcat ("/photo/corpus/light-equals-outside/", folder, "/", name, NULL);

        g_test_add_data_func_full (test, g_strconcat (folder, "/", name, NULL), (GTestDataFunc)test_light, g_free);
      }
  if (!dir)
    {
      g_autofree char *test = g_strconcat ("/photo/corpus/light-equals-outside/", folder, NULL);

      g_test_add_data_func (test, folder, test_light);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (light_folders); i++)
    add_light_tests (light_folders[i]);
  for (guint i = 0; i <= 8; i++)
    {
      g_autofree char *test = g_strdup_printf ("/photo/corpus/upright-equals-outside/landscape_%u", i);

      g_test_add_data_func_full (test, g_strdup_printf ("corpus/orientation/landscape_%u.jpg", i),
                                 (GTestDataFunc)test_upright, g_free);
    }
  for (guint i = 0; i < G_N_ELEMENTS (siblings); i++)
    {
      g_autofree char *test = g_strconcat ("/photo/corpus/siblings-are-alike/", siblings[i].name, NULL);

      g_test_add_data_func (test, GUINT_TO_POINTER (i), test_siblings);
    }
  for (guint i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autofree char *test = g_strconcat ("/photo/corpus/refused/", refused[i].name, NULL);

      g_test_add_data_func (test, GUINT_TO_POINTER (i), test_refused);
    }
  g_test_add_func ("/photo/corpus/ink", test_ink);
  g_test_add_func ("/photo/corpus/text-bomb-is-passed-over", test_text_bomb);
  return g_test_run ();
}
