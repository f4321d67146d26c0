/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Oracle: LittleCMS called directly, from the same profile to a linear profile with the sRGB primaries that it makes
 * itself; the program goes to XYZ by LittleCMS and from there by its own matrix. Profiles are made here by LittleCMS,
 * or are those of the shared corpus. */
#include "config.h"

#include <math.h>

#include <glib.h>

#include "fixtures.h"
#include "photo/icc.h"

/* LittleCMS keeps a profile's primaries to 16 binary places and works in single precision. */
#define LINEAR_TOLERANCE 1e-4

static SherdIcc *
icc_of (GBytes *profile, guint n_colours)
{
  gsize n_bytes;
  gconstpointer data = g_bytes_get_data (profile, &n_bytes);

  return sherd_icc_new (data, n_bytes, n_colours);
}

static cmsHPROFILE
linear_srgb (void)
{
  const cmsCIExyY white = { 0.3127, 0.3290, 1 };
  const cmsCIExyYTRIPLE primaries = { { 0.64, 0.33, 1 }, { 0.30, 0.60, 1 }, { 0.15, 0.06, 1 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, 1);
  cmsToneCurve *curves[] = { curve, curve, curve };
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &primaries, curves);

  cmsFreeToneCurve (curve);
  return profile;
}

static cmsHPROFILE
gamma_profile (double exponent)
{
  const cmsCIExyY white = { 0.3127, 0.3290, 1 };
  const cmsCIExyYTRIPLE primaries = { { 0.68, 0.32, 1 }, { 0.265, 0.69, 1 }, { 0.15, 0.06, 1 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, exponent);
  cmsToneCurve *curves[] = { curve, curve, curve };
  cmsHPROFILE profile = cmsCreateRGBProfile (&white, &primaries, curves);

  cmsFreeToneCurve (curve);
  return profile;
}

static cmsHPROFILE
grey_profile (double exponent)
{
  cmsToneCurve *curve = cmsBuildGamma (NULL, exponent);
  cmsHPROFILE profile = cmsCreateGrayProfile (cmsD50_xyY (), curve);

  cmsFreeToneCurve (curve);
  return profile;
}

static int
bend (const cmsUInt16Number in[], cmsUInt16Number out[], void *user_data)
{
  out[0] = (cmsUInt16Number)(0x1000 + in[0] / 2 + in[1] / 4);
  out[1] = (cmsUInt16Number)(0x8000 + in[0] / 8 - in[1] / 8);
  out[2] = (cmsUInt16Number)(0x8000 + in[1] / 8 - in[2] / 8);
  return TRUE;
}

/* A table profile to Lab with @n_colours channels: no curves and matrix can stand in for it. */
static cmsHPROFILE
table_profile (guint n_colours)
{
  cmsHPROFILE profile = cmsCreateProfilePlaceholder (NULL);
  cmsPipeline *pipeline = cmsPipelineAlloc (NULL, n_colours, 3);
  cmsStage *table = cmsStageAllocCLut16bit (NULL, 9, n_colours, 3, NULL);

  cmsStageSampleCLut16bit (table, bend, NULL, 0);
  cmsPipelineInsertStage (pipeline, cmsAT_BEGIN, table);
  cmsPipelineInsertStage (pipeline, cmsAT_BEGIN, cmsStageAllocToneCurves (NULL, n_colours, NULL));
  cmsPipelineInsertStage (pipeline, cmsAT_END, cmsStageAllocToneCurves (NULL, 3, NULL));
  cmsSetProfileVersion (profile, 4.3);
  cmsSetDeviceClass (profile, n_colours == 4 ? cmsSigOutputClass : cmsSigInputClass);
  cmsSetColorSpace (profile, n_colours == 4 ? cmsSigCmykData : cmsSigRgbData);
  cmsSetPCS (profile, cmsSigLabData);
  cmsWriteTag (profile, cmsSigAToB0Tag, pipeline);
  cmsWriteTag (profile, cmsSigMediaWhitePointTag, cmsD50_XYZ ());
  cmsPipelineFree (pipeline);
  return profile;
}

/* Compares 1000 colours of @profile with what LittleCMS makes of them. */
static void
check_colours (GBytes *profile, guint n_colours)
{
  g_autoptr (SherdIcc) icc = icc_of (profile, n_colours);
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  cmsHPROFILE in = cmsOpenProfileFromMem (g_bytes_get_data (profile, NULL), (guint)g_bytes_get_size (profile));
  cmsHPROFILE out = linear_srgb ();
  const cmsUInt32Number format = n_colours == 1 ? TYPE_GRAY_FLT : n_colours == 3 ? TYPE_RGB_FLT : TYPE_CMYK_FLT;
  cmsHTRANSFORM transform =
    cmsCreateTransform (in, format, out, TYPE_RGB_FLT, INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE);

  g_assert_nonnull (icc);
  for (guint i = 0; i < 1000; i++)
    {
      float device[4], spread[4], ours[3], theirs[3];

      for (guint c = 0; c < n_colours; c++)
        {
          device[c] = (float)g_rand_double (rand);
          spread[c] = n_colours == 4 ? 100 * device[c] : device[c];
        }
      sherd_icc_to_linear (icc, device, 1, ours);
      cmsDoTransform (transform, spread, theirs, 1);
      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (ours[c], theirs[c], LINEAR_TOLERANCE);
    }
  cmsDeleteTransform (transform);
  cmsCloseProfile (in);
  cmsCloseProfile (out);
}

static void
test_wide_gamut (void)
{
  g_autoptr (GBytes) profile = fixture_wide_icc ();

  check_colours (profile, 3);
}

static void
test_grey (void)
{
  g_autoptr (GBytes) profile = fixture_icc (grey_profile (1.8));

  check_colours (profile, 1);
}

static void
test_tables (void)
{
  g_autoptr (GBytes) rgb = fixture_icc (table_profile (3));
  g_autoptr (GBytes) ink = fixture_icc (table_profile (4));

  check_colours (rgb, 3);
  check_colours (ink, 4);
}

static void
test_recognises_srgb (void)
{
  g_autoptr (GBytes) profile = fixture_icc (cmsCreate_sRGBProfile ());
  g_autoptr (SherdIcc) icc = icc_of (profile, 3);
  g_autoptr (SherdIcc) grey = icc_of (profile, 1);

  g_assert_true (sherd_icc_is_srgb (icc));
  g_assert_true (sherd_icc_is_srgb (grey));
}

/* The profile's name does not count: its primaries are sRGB's, its curve is not quite. */
static void
test_gamma_2_2_is_not_srgb (void)
{
  const cmsCIExyY white = { 0.3127, 0.3290, 1 };
  const cmsCIExyYTRIPLE primaries = { { 0.64, 0.33, 1 }, { 0.30, 0.60, 1 }, { 0.15, 0.06, 1 } };
  cmsToneCurve *curve = cmsBuildGamma (NULL, 2.2);
  cmsToneCurve *curves[] = { curve, curve, curve };
  g_autoptr (GBytes) profile = fixture_icc (cmsCreateRGBProfile (&white, &primaries, curves));
  g_autoptr (SherdIcc) icc = icc_of (profile, 3);
  double matrix[3][3];

  cmsFreeToneCurve (curve);
  g_assert_false (sherd_icc_is_srgb (icc));
  g_assert_true (sherd_icc_get_matrix (icc, matrix));
}

static void
test_tables_are_no_matrix (void)
{
  g_autoptr (GBytes) profile = fixture_icc (table_profile (3));
  g_autoptr (SherdIcc) icc = icc_of (profile, 3);
  double matrix[3][3];

  g_assert_false (sherd_icc_get_matrix (icc, matrix));
  g_assert_false (sherd_icc_is_srgb (icc));
}

/* Curves and matrix give what the profile gives. */
static void
test_matrix_stands_in (void)
{
  g_autoptr (GBytes) profile = fixture_icc (gamma_profile (2.2));
  g_autoptr (SherdIcc) icc = icc_of (profile, 3);
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  float curves[3][256];
  double matrix[3][3];

  g_assert_true (sherd_icc_get_matrix (icc, matrix));
  for (guint c = 0; c < 3; c++)
    sherd_icc_fill_curve (icc, c, curves[c], 256);
  for (guint i = 0; i < 1000; i++)
    {
      float device[3], linear[3];
      guint codes[3];

      for (guint c = 0; c < 3; c++)
        device[c] = (float)(codes[c] = (guint)g_rand_int_range (rand, 0, 256)) / 255;
      sherd_icc_to_linear (icc, device, 1, linear);
      for (guint c = 0; c < 3; c++)
        g_assert_cmpfloat_with_epsilon (linear[c],
                                        matrix[c][0] * curves[0][codes[0]] + matrix[c][1] * curves[1][codes[1]] +
                                          matrix[c][2] * curves[2][codes[2]],
                                        1e-5);
    }
}

static void
test_refuses_other_colours (void)
{
  g_autoptr (GBytes) grey = fixture_icc (grey_profile (2.2));
  g_autoptr (GBytes) rgb = fixture_icc (cmsCreate_sRGBProfile ());
  g_autoptr (GBytes) ink = fixture_icc (table_profile (4));

  g_assert_null (icc_of (grey, 3));
  g_assert_null (icc_of (grey, 4));
  g_assert_null (icc_of (rgb, 4));
  g_assert_null (icc_of (ink, 3));
  g_assert_null (icc_of (ink, 1));
}

/* Every length of a good profile and many damaged ones: refused or harmless. */
static void
test_damage (void)
{
  g_autoptr (GBytes) profile = fixture_icc (table_profile (3));
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  gsize n_bytes;
  const guint8 *data = g_bytes_get_data (profile, &n_bytes);

  for (gsize n = 0; n < n_bytes; n += 7)
    sherd_icc_free (sherd_icc_new (data, n, 3));
  for (guint round = 0; round < 500; round++)
    {
      g_autofree guint8 *damaged = g_memdup2 (data, n_bytes);
      g_autoptr (SherdIcc) icc = NULL;

      for (guint i = 0; i < 4; i++)
        damaged[g_rand_int_range (rand, 0, (gint32)MIN (n_bytes, 600))] = (guint8)g_rand_int (rand);
      icc = sherd_icc_new (damaged, n_bytes, 3);
      if (icc)
        {
          const float device[] = { 0.3f, 0.5f, 0.7f };
          float linear[3];

          sherd_icc_to_linear (icc, device, 1, linear);
          for (guint c = 0; c < 3; c++)
            g_assert_true (isfinite (linear[c]));
        }
    }
  g_assert_null (sherd_icc_new ("", 0, 3));
}

static GBytes *
read_corpus (const char *name)
{
  const char *shared = g_getenv ("SHERD_SHARED_DIR");
  g_autofree char *path = shared ? g_build_filename (shared, "corpus", name, NULL) : NULL;
  char *data;
  gsize n_bytes;

  if (!path || !g_file_get_contents (path, &data, &n_bytes, NULL))
    return NULL;
  return g_bytes_new_take (data, n_bytes);
}

static void
test_corpus_srgb (void)
{
  static const char *const names[] = { "profiles/sRGB_IEC61966-2-1_black_scaled.icc", "formats/libvips_sRGB.icm" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GBytes) profile = read_corpus (names[i]);
      g_autoptr (SherdIcc) icc = NULL;

      if (!profile)
        {
          g_test_skip ("the shared corpus is not there");
          return;
        }
      icc = icc_of (profile, 3);
      g_assert_true (sherd_icc_is_srgb (icc));
      check_colours (profile, 3);
    }
}

static void
test_corpus_broken (void)
{
  static const char *const names[] = { "broken/lcms_bad.icc", "broken/lcms_toosmall.icc" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GBytes) profile = read_corpus (names[i]);

      if (!profile)
        {
          g_test_skip ("the shared corpus is not there");
          return;
        }
      g_assert_null (icc_of (profile, 3));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/photo/icc/littlecms/wide-gamut", test_wide_gamut);
  g_test_add_func ("/photo/icc/littlecms/grey", test_grey);
  g_test_add_func ("/photo/icc/littlecms/tables", test_tables);
  g_test_add_func ("/photo/icc/recognises-srgb", test_recognises_srgb);
  g_test_add_func ("/photo/icc/gamma-2.2-is-not-srgb", test_gamma_2_2_is_not_srgb);
  g_test_add_func ("/photo/icc/tables-are-no-matrix", test_tables_are_no_matrix);
  g_test_add_func ("/photo/icc/matrix-stands-in", test_matrix_stands_in);
  g_test_add_func ("/photo/icc/refuses-other-colours", test_refuses_other_colours);
  g_test_add_func ("/photo/icc/damage-is-refused-or-harmless", test_damage);
  g_test_add_func ("/photo/icc/corpus/srgb", test_corpus_srgb);
  g_test_add_func ("/photo/icc/corpus/broken", test_corpus_broken);
  return g_test_run ();
}
