/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/icc.h"

#include <math.h>

#include <lcms2.h>

#include "colour/lab.h"
#include "colour/srgb.h"

#define BATCH_PX 256
#define MAX_COLOURS 4

/* Levels of each channel at which a profile is tried, in 255ths: dense in the dark, where curves differ most. */
static const guint8 probe_levels[] = { 0, 2, 8, 32, 80, 128, 176, 224, 255 };

#define N_LEVELS G_N_ELEMENTS (probe_levels)
#define N_PROBES (N_LEVELS * N_LEVELS * N_LEVELS)

/* Our choice: a tenth of the step between two 8-bit codes in mid-grey, which is 0.4 ΔE*ab. */
#define SRGB_TOLERANCE_DE76 0.05
#define MATRIX_TOLERANCE_DE76 0.02

/* The brightest or most saturated colour that makes sense, in linear light: anything above is a damaged profile. */
#define MAX_LINEAR 100.0f

struct _SherdIcc
{
  cmsContext context;
  cmsHTRANSFORM transform; /* device to XYZ (D50) */
  char *name;
  guint n_colours; /* of the file */
  guint n_device;  /* of the profile: 3 for a grey file with a profile for colours */
  double from_xyz[3][3];
  gboolean is_srgb;
  gboolean is_matrix;
  double matrix[3][3];
};

static void
log_error (cmsContext context, cmsUInt32Number code, const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  g_debug ("colour profile: %s", valid);
}

/* The number of device channels of a profile that can serve a file of @n_colours, 0 if it cannot. */
static guint
device_channels (cmsHPROFILE profile, guint n_colours)
{
  const cmsProfileClassSignature class = cmsGetDeviceClass (profile);
  const cmsColorSpaceSignature space = cmsGetColorSpace (profile);

  if (class != cmsSigInputClass && class != cmsSigDisplayClass && class != cmsSigColorSpaceClass &&
      class != cmsSigOutputClass)
    return 0;
  if (n_colours == 1 && space == cmsSigGrayData)
    return 1;
  if (n_colours <= 3 && space == cmsSigRgbData)
    return 3;
  if (n_colours == 4 && space == cmsSigCmykData)
    return 4;
  return 0;
}

static char *
dup_name (cmsHPROFILE profile)
{
  char text[256] = "";

  cmsGetProfileInfoASCII (profile, cmsInfoDescription, "en", "US", text, sizeof text);
  text[sizeof text - 1] = '\0';
  g_strstrip (text);
  return *text ? g_utf8_make_valid (text, -1) : NULL;
}

/* Relative colorimetric, without black point compensation: the colour measured against the file's own white, not bent
 * to please. Not optimised, so that nothing is rounded to 16 bits or clipped; without cache, which the tables make
 * needless. */
static cmsHTRANSFORM
create_transform (cmsContext context, cmsHPROFILE profile, guint n_device)
{
  const cmsUInt32Number format = n_device == 1 ? TYPE_GRAY_FLT : n_device == 3 ? TYPE_RGB_FLT : TYPE_CMYK_FLT;
  cmsHPROFILE xyz = cmsCreateXYZProfileTHR (context);
  cmsHTRANSFORM transform = cmsCreateTransformTHR (
    context, profile, format, xyz, TYPE_XYZ_DBL, INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOCACHE | cmsFLAGS_NOOPTIMIZE);

  cmsCloseProfile (xyz);
  return transform;
}

static gboolean
load (SherdIcc *icc, gconstpointer data, gsize length)
{
  cmsHPROFILE profile = cmsOpenProfileFromMemTHR (icc->context, data, (cmsUInt32Number)length);

  if (!profile)
    return FALSE;
  icc->n_device = device_channels (profile, icc->n_colours);
  if (icc->n_device > 0)
    icc->transform = create_transform (icc->context, profile, icc->n_device);
  icc->name = dup_name (profile);
  cmsCloseProfile (profile);
  return icc->transform != NULL;
}

/* The columns of XYZ → linear sRGB, asked of the function itself so that there is one matrix in the program. */
static void
init_from_xyz (SherdIcc *icc)
{
  for (guint i = 0; i < 3; i++)
    {
      const SherdXyz unit = { i == 0, i == 1, i == 2 };
      const SherdRgb column = sherd_srgb_from_xyz_d50 (&unit);

      icc->from_xyz[0][i] = column.r;
      icc->from_xyz[1][i] = column.g;
      icc->from_xyz[2][i] = column.b;
    }
}

static SherdLab
lab_of (const float *linear_rgb)
{
  const SherdRgb rgb = { linear_rgb[0], linear_rgb[1], linear_rgb[2] };
  const SherdXyz xyz = sherd_srgb_to_xyz_d50 (&rgb);

  return sherd_lab_from_xyz (&xyz);
}

static double
difference_de76 (const float *first, const float *second)
{
  const SherdLab a = lab_of (first), b = lab_of (second);

  return hypot (hypot (a.l - b.l, a.a - b.a), a.b - b.b);
}

/* Every combination of the levels for a colour file, every level for a grey one. Returns how many. */
static gsize
fill_probes (float *device, guint n_colours)
{
  const gsize n = n_colours == 1 ? N_LEVELS : N_PROBES;

  for (gsize i = 0; i < n; i++)
    for (gsize c = 0, rest = i; c < n_colours; c++, rest /= N_LEVELS)
      device[i * n_colours + c] = (float)probe_levels[c < 3 ? rest % N_LEVELS : 0] / 255.0f;
  return n;
}

static gboolean
all_sensible (const float *linear, gsize n)
{
  for (gsize i = 0; i < 3 * n; i++)
    if (!(fabsf (linear[i]) <= MAX_LINEAR))
      return FALSE;
  return TRUE;
}

static gboolean
acts_like_srgb (const float *device, guint n_colours, const float *linear, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      float srgb[3];

      for (guint c = 0; c < 3; c++)
        srgb[c] = (float)sherd_srgb_decode ((double)device[i * n_colours + (n_colours == 3 ? c : 0)]);
      if (difference_de76 (srgb, linear + 3 * i) > SRGB_TOLERANCE_DE76)
        return FALSE;
    }
  return TRUE;
}

/* A matrix profile adds up: what it gives for (r, g, b) is the sum of what it gives for r, g and b alone. The probes
 * are in the order of fill_probes(), so the pure colours stand at multiples of 1, N_LEVELS and N_LEVELS². */
static gboolean
acts_like_matrix (const float *linear, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      const float *red = linear + 3 * (i % N_LEVELS);
      const float *green = linear + 3 * (i / N_LEVELS % N_LEVELS * N_LEVELS);
      const float *blue = linear + 3 * (i / (N_LEVELS * N_LEVELS) * (N_LEVELS * N_LEVELS));
      const float sum[] = { red[0] + green[0] + blue[0], red[1] + green[1] + blue[1], red[2] + green[2] + blue[2] };

      if (difference_de76 (sum, linear + 3 * i) > MATRIX_TOLERANCE_DE76)
        return FALSE;
    }
  return TRUE;
}

/* Columns: what the profile gives for full red, green and blue. */
static void
init_matrix (SherdIcc *icc)
{
  static const float full[] = { 1, 0, 0, 0, 1, 0, 0, 0, 1 };
  float columns[9];

  sherd_icc_to_linear (icc, full, 3, columns);
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      icc->matrix[i][j] = (double)columns[3 * j + i];
}

/* The curve of a channel is read from its strongest component, which must not vanish. */
static guint
strongest_row (const SherdIcc *icc, guint channel)
{
  guint strongest = 0;

  for (guint i = 1; i < 3; i++)
    if (fabs (icc->matrix[i][channel]) > fabs (icc->matrix[strongest][channel]))
      strongest = i;
  return strongest;
}

static gboolean
has_all_channels (const SherdIcc *icc)
{
  for (guint c = 0; c < 3; c++)
    if (fabs (icc->matrix[strongest_row (icc, c)][c]) < 1e-3)
      return FALSE;
  return TRUE;
}

/* Tries the profile on colours all over its space. Returns FALSE if what it gives makes no sense. */
static gboolean
try_out (SherdIcc *icc)
{
  g_autofree float *device = g_new (float, MAX_COLOURS *N_PROBES);
  g_autofree float *linear = g_new (float, 3 * N_PROBES);
  const gsize n = fill_probes (device, icc->n_colours);

  sherd_icc_to_linear (icc, device, n, linear);
  if (!all_sensible (linear, n))
    return FALSE;

  icc->is_srgb = icc->n_colours != 4 && acts_like_srgb (device, icc->n_colours, linear, n);
  if (icc->n_colours == 3)
    {
      init_matrix (icc);
      icc->is_matrix = has_all_channels (icc) && acts_like_matrix (linear, n);
    }
  return TRUE;
}

/**
 * sherd_icc_new:
 * @data: an ICC profile
 * @length: its size in bytes
 * @n_colours: colours of the file it belongs to: 1 grey, 3 RGB, 4 CMYK
 *
 * Makes a profile ready for use: relative colorimetric intent to the connection space (XYZ, D50; ICC.1), from there by
 * the inverse matrix to linear light in the sRGB primaries. The profile is tried on a set of colours, so that what it
 * does, not what it is called, decides whether a fast way can take its place.
 *
 * Returns: (transfer full) (nullable): NULL if the profile is damaged or for other colours than the file has
 */
SherdIcc *
sherd_icc_new (gconstpointer data, gsize length, guint n_colours)
{
  g_autoptr (SherdIcc) icc = g_new0 (SherdIcc, 1);

  if (length > G_MAXUINT32)
    return NULL;
  icc->n_colours = n_colours;
  icc->context = cmsCreateContext (NULL, NULL);
  cmsSetLogErrorHandlerTHR (icc->context, log_error);
  init_from_xyz (icc);
  if (!load (icc, data, length) || !try_out (icc))
    return NULL;
  return g_steal_pointer (&icc);
}

/**
 * sherd_icc_free:
 * @icc: (nullable) (transfer full): a profile
 */
void
sherd_icc_free (SherdIcc *icc)
{
  if (!icc)
    return;
  g_clear_pointer (&icc->transform, cmsDeleteTransform);
  g_clear_pointer (&icc->context, cmsDeleteContext);
  g_free (icc->name);
  g_free (icc);
}

/**
 * sherd_icc_get_name:
 * @icc: a profile
 *
 * Returns: (nullable): the description the profile gives of itself
 */
const char *
sherd_icc_get_name (const SherdIcc *icc)
{
  return icc->name;
}

/* LittleCMS takes ink in per cent and everything else from 0 to 1. */
static void
spread_device (const SherdIcc *icc, const float *device, gsize n, float *spread)
{
  if (icc->n_colours == icc->n_device)
    {
      const float scale = icc->n_device == 4 ? 100.0f : 1.0f;

      for (gsize i = 0; i < n * icc->n_device; i++)
        spread[i] = device[i] * scale;
      return;
    }
  for (gsize i = 0; i < n; i++)
    spread[3 * i] = spread[3 * i + 1] = spread[3 * i + 2] = device[i];
}

static void
xyz_to_linear (const SherdIcc *icc, const double *xyz, gsize n, float *linear_rgb)
{
  for (gsize i = 0; i < n; i++, xyz += 3, linear_rgb += 3)
    {
      for (guint c = 0; c < 3; c++)
        linear_rgb[c] =
          (float)(icc->from_xyz[c][0] * xyz[0] + icc->from_xyz[c][1] * xyz[1] + icc->from_xyz[c][2] * xyz[2]);
      /* A grey file stays exactly grey: its Y, by which the white has r = g = b = 1. */
      if (icc->n_colours == 1)
        linear_rgb[0] = linear_rgb[1] = linear_rgb[2] = (float)xyz[1];
    }
}

/**
 * sherd_icc_to_linear:
 * @icc: a profile
 * @device: @n colours of as many values as the file has colours, 0…1; for ink 1 is full ink
 * @n: number of colours
 * @linear_rgb: (out): 3 × @n: linear light in the sRGB primaries, not limited to 0…1
 *
 * Converts colours by the profile.
 */
void
sherd_icc_to_linear (const SherdIcc *icc, const float *device, gsize n, float *linear_rgb)
{
  float spread[MAX_COLOURS * BATCH_PX];
  double xyz[3 * BATCH_PX];

  while (n > 0)
    {
      const gsize n_batch = MIN (n, BATCH_PX);

      spread_device (icc, device, n_batch, spread);
      cmsDoTransform (icc->transform, spread, xyz, (cmsUInt32Number)n_batch);
      xyz_to_linear (icc, xyz, n_batch, linear_rgb);
      device += n_batch * icc->n_colours;
      linear_rgb += 3 * n_batch;
      n -= n_batch;
    }
}

/**
 * sherd_icc_is_srgb:
 * @icc: a profile
 *
 * Returns: whether the profile differs from IEC 61966-2-1 by no more than ΔE*ab 0.05 anywhere
 */
gboolean
sherd_icc_is_srgb (const SherdIcc *icc)
{
  return icc->is_srgb;
}

/**
 * sherd_icc_get_matrix:
 * @icc: a profile for an RGB file
 * @matrix: (out): turns the values of the three curves of sherd_icc_fill_curve() into linear light
 *
 * Returns: whether the profile is one curve a channel and a matrix
 */
gboolean
sherd_icc_get_matrix (const SherdIcc *icc, double matrix[3][3])
{
  if (!icc->is_matrix)
    return FALSE;
  for (guint i = 0; i < 9; i++)
    matrix[i / 3][i % 3] = icc->matrix[i / 3][i % 3];
  return TRUE;
}

/**
 * sherd_icc_fill_curve:
 * @icc: a profile for a grey file, or one for which sherd_icc_get_matrix() returns TRUE
 * @channel: 0 red or grey, 1 green, 2 blue
 * @curve: (out): @n_levels values, 1 for full scale
 * @n_levels: number of codes of the channel: 256 or 65536
 *
 * The channel's curve as a table over its codes.
 */
void
sherd_icc_fill_curve (const SherdIcc *icc, guint channel, float *curve, gsize n_levels)
{
  const guint n_colours = icc->n_colours;
  const guint row = n_colours == 3 ? strongest_row (icc, channel) : 0;
  const float full = n_colours == 3 ? (float)icc->matrix[row][channel] : 1.0f;

  for (gsize first = 0; first < n_levels; first += BATCH_PX)
    {
      const gsize n = MIN (n_levels - first, BATCH_PX);
      float device[3 * BATCH_PX] = { 0 };
      float linear[3 * BATCH_PX];

      for (gsize i = 0; i < n; i++)
        device[i * n_colours + channel] = (float)(first + i) / (float)(n_levels - 1);
      sherd_icc_to_linear (icc, device, n, linear);
      for (gsize i = 0; i < n; i++)
        curve[first + i] = linear[3 * i + row] / full;
    }
}
