/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/decoding.h"

#include <math.h>

#include "colour/adaptation.h"
#include "colour/srgb.h"
#include "photo/photo.h"

#define BATCH_PX 256

typedef void (*Kernel) (const SherdDecoding *decoding,
                        const guint8 *pixel,
                        gsize stride,
                        gsize n,
                        float *linear_rgb,
                        guint8 *flags);

struct _SherdDecoding
{
  SherdSamples samples;
  Kernel kernel;
  float *curves[3]; /* linear light over the code; may be one and the same */
  gboolean mixes;
  float matrix[3][3]; /* what the curves give → linear sRGB, if @mixes */
  SherdIcc *icc;      /* for profiles that are not curves and a matrix */
  gboolean srgb;
};

static gsize
n_levels (const SherdSamples *samples)
{
  return (gsize)1 << samples->bits;
}

/* A channel is clipped from 98 % of full scale on: encoders and noise leave few clipped pixels at full scale itself
 * (our choice). */
static guint
clipped_from (guint bits)
{
  return bits == 8 ? 250 : 64225;
}

/* Below code 4 of 255 one step is a quarter of the light or more. A 16-bit file seldom has more than 12 real bits, of
 * which 4 steps are 64 (our choice). */
static guint
dark_below (guint bits)
{
  return bits == 8 ? 4 : 64;
}

static inline guint
get_sample (const guint8 *pixel, guint i, guint bits)
{
  return bits == 8 ? pixel[i] : ((const guint16 *)(const void *)pixel)[i];
}

static inline guint8
flags_of (guint least, guint most, guint bits)
{
  return (guint8)((most >= clipped_from (bits) ? SHERD_PIXEL_CLIPPED : 0) |
                  (least < dark_below (bits) ? SHERD_PIXEL_DARK : 0));
}

static inline __attribute__ ((always_inline)) void
convert_grey (const SherdDecoding *decoding,
              const guint8 *pixel,
              gsize stride,
              gsize n,
              float *rgb,
              guint8 *flags,
              guint bits)
{
  const float *curve = decoding->curves[0];

  for (gsize i = 0; i < n; i++, pixel += stride, rgb += 3)
    {
      const guint code = get_sample (pixel, 0, bits);

      rgb[0] = rgb[1] = rgb[2] = curve[code];
      flags[i] = flags_of (code, code, bits);
    }
}

static inline __attribute__ ((always_inline)) void
convert_rgb (const SherdDecoding *decoding,
             const guint8 *pixel,
             gsize stride,
             gsize n,
             float *rgb,
             guint8 *flags,
             guint bits)
{
  const float *red = decoding->curves[0], *green = decoding->curves[1], *blue = decoding->curves[2];

  for (gsize i = 0; i < n; i++, pixel += stride, rgb += 3)
    {
      const guint r = get_sample (pixel, 0, bits), g = get_sample (pixel, 1, bits), b = get_sample (pixel, 2, bits);

      rgb[0] = red[r];
      rgb[1] = green[g];
      rgb[2] = blue[b];
      flags[i] = flags_of (MIN (MIN (r, g), b), MAX (MAX (r, g), b), bits);
    }
}

static void
mix (const SherdDecoding *decoding, float *rgb, gsize n)
{
  for (gsize i = 0; i < n; i++, rgb += 3)
    {
      const float r = rgb[0], g = rgb[1], b = rgb[2];

      for (guint c = 0; c < 3; c++)
        rgb[c] = decoding->matrix[c][0] * r + decoding->matrix[c][1] * g + decoding->matrix[c][2] * b;
    }
}

#define DEFINE_KERNEL(name, convert, bits)                                                                             \
  static void name (const SherdDecoding *decoding, const guint8 *pixel, gsize stride, gsize n, float *rgb,             \
                    guint8 *flags)                                                                                     \
  {                                                                                                                    \
    convert (decoding, pixel, stride, n, rgb, flags, bits);                                                            \
  }

DEFINE_KERNEL (convert_grey_8, convert_grey, 8)
DEFINE_KERNEL (convert_grey_16, convert_grey, 16)
DEFINE_KERNEL (convert_rgb_8, convert_rgb, 8)
DEFINE_KERNEL (convert_rgb_16, convert_rgb, 16)

/* Colours of any file as 0…1, and the flags of the codes. */
static void
read_device (const SherdSamples *samples, const guint8 *pixel, gsize stride, gsize n, float *device, guint8 *flags)
{
  const guint n_colours = samples->n_colours;
  const float full = (float)(n_levels (samples) - 1);

  for (gsize i = 0; i < n; i++, pixel += stride)
    {
      guint least = G_MAXUINT, most = 0;

      for (guint c = 0; c < n_colours; c++)
        {
          const guint code = get_sample (pixel, c, samples->bits);

          least = MIN (least, code);
          most = MAX (most, code);
          *device++ = samples->ink_inverted ? 1 - (float)code / full : (float)code / full;
        }
      flags[i] = flags_of (least, most, samples->bits);
    }
}

/* Ink hides light: 1 − c is what cyan leaves of red and 1 − k what black leaves of that. The flags are those of a
 * picture so encoded. */
static void
ink_to_encoded (const float *ink, gsize n, float *encoded_rgb, guint8 *flags)
{
  for (gsize i = 0; i < n; i++, ink += 4, encoded_rgb += 3)
    {
      guint least = 255, most = 0;

      for (guint c = 0; c < 3; c++)
        {
          encoded_rgb[c] = (1 - ink[c]) * (1 - ink[3]);
          const guint code = (guint)lroundf (255 * encoded_rgb[c]);

          least = MIN (least, code);
          most = MAX (most, code);
        }
      flags[i] = flags_of (least, most, 8);
    }
}

static void
convert_ink (const SherdDecoding *decoding, const guint8 *pixel, gsize stride, gsize n, float *rgb, guint8 *flags)
{
  float ink[4 * BATCH_PX], encoded[3 * BATCH_PX];

  for (; n > 0; n -= MIN (n, BATCH_PX), pixel += stride * BATCH_PX, rgb += 3 * BATCH_PX, flags += BATCH_PX)
    {
      const gsize n_batch = MIN (n, BATCH_PX);

      read_device (&decoding->samples, pixel, stride, n_batch, ink, flags);
      ink_to_encoded (ink, n_batch, encoded, flags);
      if (decoding->icc)
        sherd_icc_to_linear (decoding->icc, ink, n_batch, rgb);
      else
        for (gsize i = 0; i < 3 * n_batch; i++)
          rgb[i] = (float)sherd_srgb_decode ((double)encoded[i]);
    }
}

static void
convert_by_profile (const SherdDecoding *decoding,
                    const guint8 *pixel,
                    gsize stride,
                    gsize n,
                    float *rgb,
                    guint8 *flags)
{
  float device[3 * BATCH_PX];

  for (; n > 0; n -= MIN (n, BATCH_PX), pixel += stride * BATCH_PX, rgb += 3 * BATCH_PX, flags += BATCH_PX)
    {
      const gsize n_batch = MIN (n, BATCH_PX);

      read_device (&decoding->samples, pixel, stride, n_batch, device, flags);
      sherd_icc_to_linear (decoding->icc, device, n_batch, rgb);
    }
}

static Kernel
choose_kernel (const SherdDecoding *decoding)
{
  const gboolean deep = decoding->samples.bits == 16;

  if (decoding->samples.n_colours == 4)
    return convert_ink;
  if (!decoding->curves[0])
    return convert_by_profile;
  if (decoding->samples.n_colours == 1)
    return deep ? convert_grey_16 : convert_grey_8;
  return deep ? convert_rgb_16 : convert_rgb_8;
}

static void
mark_transparent (const SherdSamples *samples, const guint8 *pixel, gsize stride, gsize n, guint8 *flags)
{
  const guint full = (guint)n_levels (samples) - 1;

  for (gsize i = 0; i < n; i++, pixel += stride)
    if (get_sample (pixel, samples->n_colours, samples->bits) < full)
      flags[i] |= SHERD_PIXEL_TRANSPARENT;
}

/**
 * sherd_samples_get_pixel_bytes:
 * @samples: the layout of a pixel
 *
 * Returns: the bytes from one pixel to the next
 */
gsize
sherd_samples_get_pixel_bytes (const SherdSamples *samples)
{
  return (gsize)(samples->n_colours + (samples->has_alpha ? 1 : 0)) * (samples->bits / 8);
}

static SherdDecoding *
decoding_new (const SherdSamples *samples)
{
  SherdDecoding *decoding = g_new0 (SherdDecoding, 1);

  decoding->samples = *samples;
  return decoding;
}

static void
share_curve (SherdDecoding *decoding, float *curve)
{
  for (guint c = 0; c < 3; c++)
    decoding->curves[c] = curve;
}

/**
 * sherd_decoding_new_srgb:
 * @samples: the layout of a pixel
 *
 * Decodes sRGB (IEC 61966-2-1). Ink without a profile is first made RGB by letting every ink hide its share of light,
 * which is only a guess at what was printed.
 *
 * Returns: (transfer full): a decoding
 */
SherdDecoding *
sherd_decoding_new_srgb (const SherdSamples *samples)
{
  SherdDecoding *decoding = decoding_new (samples);
  const gsize n = n_levels (samples);
  float *curve = g_new (float, n);

  for (gsize i = 0; i < n; i++)
    curve[i] = (float)sherd_srgb_decode ((double)i / (double)(n - 1));
  share_curve (decoding, curve);
  decoding->srgb = samples->n_colours != 4;
  decoding->kernel = choose_kernel (decoding);
  return decoding;
}

/**
 * sherd_decoding_new_power:
 * @samples: the layout of a pixel, grey or RGB
 * @exponent: linear light = code ^ @exponent, 1 for linear data
 *
 * Returns: (transfer full): a decoding in the sRGB primaries
 */
SherdDecoding *
sherd_decoding_new_power (const SherdSamples *samples, double exponent)
{
  SherdDecoding *decoding = decoding_new (samples);
  const gsize n = n_levels (samples);
  float *curve = g_new (float, n);

  for (gsize i = 0; i < n; i++)
    curve[i] = (float)pow ((double)i / (double)(n - 1), exponent);
  share_curve (decoding, curve);
  decoding->kernel = choose_kernel (decoding);
  return decoding;
}

static void
set_matrix (SherdDecoding *decoding, double matrix[3][3])
{
  for (guint i = 0; i < 9; i++)
    decoding->matrix[i / 3][i % 3] = (float)matrix[i / 3][i % 3];
  decoding->mixes = TRUE;
  decoding->srgb = FALSE;
}

/**
 * sherd_decoding_new_icc:
 * @samples: the layout of a pixel
 * @icc: (transfer full): the file's profile, made for as many colours
 *
 * Decodes by a profile: by tables where the profile is sRGB, grey, or curves and a matrix, else pixel by pixel.
 *
 * Returns: (transfer full): a decoding
 */
SherdDecoding *
sherd_decoding_new_icc (const SherdSamples *samples, SherdIcc *icc)
{
  g_autoptr (SherdIcc) owned = icc;
  const gsize n = n_levels (samples);
  SherdDecoding *decoding;
  double matrix[3][3];

  if (sherd_icc_is_srgb (icc))
    return sherd_decoding_new_srgb (samples);

  decoding = decoding_new (samples);
  if (samples->n_colours == 1)
    {
      share_curve (decoding, g_new (float, n));
      sherd_icc_fill_curve (icc, 0, decoding->curves[0], n);
    }
  else if (samples->n_colours == 3 && sherd_icc_get_matrix (icc, matrix))
    {
      for (guint c = 0; c < 3; c++)
        sherd_icc_fill_curve (icc, c, decoding->curves[c] = g_new (float, n), n);
      set_matrix (decoding, matrix);
    }
  else
    decoding->icc = g_steal_pointer (&owned);
  decoding->kernel = choose_kernel (decoding);
  return decoding;
}

/**
 * sherd_decoding_free:
 * @decoding: (nullable) (transfer full): a decoding
 */
void
sherd_decoding_free (SherdDecoding *decoding)
{
  if (!decoding)
    return;
  for (guint c = 1; c < 3; c++)
    if (decoding->curves[c] != decoding->curves[0])
      g_free (decoding->curves[c]);
  g_free (decoding->curves[0]);
  g_clear_pointer (&decoding->icc, sherd_icc_free);
  g_free (decoding);
}

/* Solves @m · x = @y by Cramer's rule. */
static gboolean
solve_3 (double m[3][3], const double y[3], double x[3])
{
  double cofactor[3][3], determinant;

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        const guint a = (i + 1) % 3, b = (i + 2) % 3, c = (j + 1) % 3, d = (j + 2) % 3;

        cofactor[i][j] = m[a][c] * m[b][d] - m[a][d] * m[b][c];
      }
  determinant = m[0][0] * cofactor[0][0] + m[0][1] * cofactor[0][1] + m[0][2] * cofactor[0][2];
  for (guint j = 0; j < 3; j++)
    x[j] = (cofactor[0][j] * y[0] + cofactor[1][j] * y[1] + cofactor[2][j] * y[2]) / determinant;
  return fabs (determinant) > 1e-6;
}

static SherdXyz
xyz_of_chromaticity (double x, double y)
{
  return (SherdXyz){ x / y, 1, (1 - x - y) / y };
}

/* Amounts of the three primaries that make the white, SMPTE RP 177-1993, 3.3 (from memory). */
static gboolean
primaries_to_xyz (const SherdPrimaries *p, const SherdXyz *white, double to_xyz[3][3])
{
  const double target[] = { white->x, white->y, white->z };
  double amounts[3];
  double directions[3][3] = { { p->red_x, p->green_x, p->blue_x },
                              { p->red_y, p->green_y, p->blue_y },
                              { 1 - p->red_x - p->red_y, 1 - p->green_x - p->green_y, 1 - p->blue_x - p->blue_y } };

  if (!solve_3 (directions, target, amounts))
    return FALSE;
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      to_xyz[i][j] = directions[i][j] * amounts[j];
  return amounts[0] > 0 && amounts[1] > 0 && amounts[2] > 0;
}

/**
 * sherd_decoding_set_primaries:
 * @decoding: a decoding for RGB made by sherd_decoding_new_srgb() or sherd_decoding_new_power()
 * @primaries: what full red, green and blue of the file are
 *
 * Lets the file have other primaries than sRGB. Its white becomes the white of the program (Bradford). Nothing is done
 * for a grey file, whose white is all there is.
 *
 * Returns: FALSE if no such primaries can be, @decoding is then unchanged
 */
gboolean
sherd_decoding_set_primaries (SherdDecoding *decoding, const SherdPrimaries *primaries)
{
  double to_xyz[3][3], adaptation[3][3], matrix[3][3];
  SherdXyz white;

  if (decoding->samples.n_colours != 3)
    return TRUE;
  if (!(primaries->white_y > 1e-3))
    return FALSE;
  white = xyz_of_chromaticity (primaries->white_x, primaries->white_y);
  if (!primaries_to_xyz (primaries, &white, to_xyz))
    return FALSE;

  sherd_adaptation_bradford (&white, &sherd_white_d50, adaptation);
  for (guint j = 0; j < 3; j++)
    {
      const SherdXyz primary = { to_xyz[0][j], to_xyz[1][j], to_xyz[2][j] };
      const SherdXyz adapted = sherd_adaptation_apply (adaptation, &primary);
      const SherdRgb rgb = sherd_srgb_from_xyz_d50 (&adapted);

      matrix[0][j] = rgb.r;
      matrix[1][j] = rgb.g;
      matrix[2][j] = rgb.b;
    }
  for (guint i = 0; i < 9; i++)
    if (!(fabs (matrix[i / 3][i % 3]) < 100))
      return FALSE;
  set_matrix (decoding, matrix);
  return TRUE;
}

/**
 * sherd_decoding_is_srgb:
 * @decoding: a decoding
 *
 * Returns: whether the codes are sRGB codes, so that they can be shown as they are
 */
gboolean
sherd_decoding_is_srgb (const SherdDecoding *decoding)
{
  return decoding->srgb;
}

/**
 * sherd_decoding_convert:
 * @decoding: a decoding
 * @pixels: the first pixel
 * @step: every how many pixels one is taken, 1 or more
 * @n: how many are taken
 * @linear_rgb: (out): 3 × @n: linear light in the sRGB primaries
 * @flags: (out): @n sets of SherdPixelFlags, decided on the codes
 *
 * Converts pixels of a row. A grey file gives three equal values.
 */
void
sherd_decoding_convert (const SherdDecoding *decoding,
                        const void *pixels,
                        guint step,
                        gsize n,
                        float *linear_rgb,
                        guint8 *flags)
{
  const gsize stride = step * sherd_samples_get_pixel_bytes (&decoding->samples);

  decoding->kernel (decoding, pixels, stride, n, linear_rgb, flags);
  if (decoding->mixes)
    mix (decoding, linear_rgb, n);
  if (decoding->samples.has_alpha)
    mark_transparent (&decoding->samples, pixels, stride, n, flags);
}
