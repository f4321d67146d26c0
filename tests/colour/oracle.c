/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "oracle.h"

static void
transform_from_srgb (const double encoded[3], cmsHPROFILE to, cmsUInt32Number format, void *out)
{
  cmsHPROFILE srgb = cmsCreate_sRGBProfile ();
  cmsHTRANSFORM transform = cmsCreateTransform (srgb, TYPE_RGB_DBL, to, format, INTENT_RELATIVE_COLORIMETRIC,
                                                cmsFLAGS_NOCACHE | cmsFLAGS_NOOPTIMIZE);

  g_assert_nonnull (transform);
  cmsDoTransform (transform, encoded, out, 1);
  cmsDeleteTransform (transform);
  cmsCloseProfile (to);
  cmsCloseProfile (srgb);
}

SherdXyz
oracle_srgb_to_xyz (const double encoded[3])
{
  cmsCIEXYZ xyz;

  transform_from_srgb (encoded, cmsCreateXYZProfile (), TYPE_XYZ_DBL, &xyz);
  return (SherdXyz){ xyz.X, xyz.Y, xyz.Z };
}

SherdLab
oracle_srgb_to_lab (const double encoded[3])
{
  cmsCIELab lab;

  transform_from_srgb (encoded, cmsCreateLab4Profile (NULL), TYPE_Lab_DBL, &lab);
  return (SherdLab){ lab.L, lab.a, lab.b };
}

cmsCIELab
oracle_lab (const SherdLab *lab)
{
  return (cmsCIELab){ lab->l, lab->a, lab->b };
}

/* Beyond the colours of surfaces, down to black. */
SherdLab
draw_lab (GRand *random)
{
  SherdLab lab;

  lab.l = g_rand_double_range (random, 0, 100);
  lab.a = g_rand_double_range (random, -100, 100);
  lab.b = g_rand_double_range (random, -100, 100);
  return lab;
}

void
assert_near (const double *got, const double *wanted, gsize n, double tolerance)
{
  for (gsize i = 0; i < n; i++)
    g_assert_cmpfloat_with_epsilon (got[i], wanted[i], tolerance);
}

void
assert_lab_near (const SherdLab *got, const SherdLab *wanted, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (got->l, wanted->l, tolerance);
  g_assert_cmpfloat_with_epsilon (got->a, wanted->a, tolerance);
  g_assert_cmpfloat_with_epsilon (got->b, wanted->b, tolerance);
}

char *
shared_path_or_skip (const char *path)
{
  const char *folder = g_getenv ("SHERD_SHARED_DIR");
  g_autofree char *full = folder != NULL ? g_build_filename (folder, path, NULL) : NULL;

  if (full != NULL && g_file_test (full, G_FILE_TEST_EXISTS))
    return g_steal_pointer (&full);
  g_test_skip ("the shared folder with this data is absent");
  return NULL;
}
