/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/tiff-layout.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n-lib.h>

static guint16
get_short (TIFF *tiff, guint32 tag)
{
  guint16 value = 0;

  return TIFFGetFieldDefaulted (tiff, tag, &value) ? value : 0;
}

static gboolean
refuse (const SherdTiffSource *source, const char *what, GError **error)
{
  sherd_input_set_unsupported (source->file, what, error);
  return FALSE;
}

/* Old-style JPEG was never well defined and is left out of what is read. */
static gboolean
check_packing (const SherdTiffSource *source, GError **error)
{
  const guint packing = get_short (source->tiff, TIFFTAG_COMPRESSION);
  g_autofree char *what = NULL;

  if (packing != COMPRESSION_OJPEG && TIFFIsCODECConfigured ((guint16)packing))
    return TRUE;
  what =
    g_strdup_printf (_ ("It is a TIFF packed in a way that this program cannot unpack (number %u). Save it without "
                        "compression."),
                     packing);
  return refuse (source, what, error);
}

static gboolean
check_numbers (SherdTiffLayout *layout, const SherdTiffSource *source, GError **error)
{
  const guint form = get_short (source->tiff, TIFFTAG_SAMPLEFORMAT);
  const gboolean whole = form == SAMPLEFORMAT_UINT || form == SAMPLEFORMAT_VOID;

  layout->bits = get_short (source->tiff, TIFFTAG_BITSPERSAMPLE);
  layout->real = form == SAMPLEFORMAT_IEEEFP;
  switch (layout->bits)
    {
    case 1:
    case 2:
    case 4:
    case 8:
      if (whole)
        return TRUE;
      break;
    case 16:
    case 32:
      if (whole || layout->real)
        return TRUE;
      break;
    case 64:
      if (layout->real)
        return TRUE;
      break;
    default:
      break;
    }
  return refuse (source,
                 _ ("It is a TIFF whose numbers are of a kind that this program does not read. Save it with 8 or 16 "
                    "bits per channel."),
                 error);
}

/* The colours a pixel has in the file; 0 if they are of a kind that is not read. JPEG is asked to give RGB. */
static guint
count_colours (SherdTiffLayout *layout, TIFF *tiff)
{
  switch (get_short (tiff, TIFFTAG_PHOTOMETRIC))
    {
    case PHOTOMETRIC_MINISWHITE:
      layout->inverted = TRUE;
      return 1;
    case PHOTOMETRIC_MINISBLACK:
    case PHOTOMETRIC_PALETTE:
      return 1;
    case PHOTOMETRIC_RGB:
      return 3;
    case PHOTOMETRIC_SEPARATED:
      return get_short (tiff, TIFFTAG_INKSET) == INKSET_CMYK ? 4 : 0;
    case PHOTOMETRIC_YCBCR:
      if (get_short (tiff, TIFFTAG_COMPRESSION) != COMPRESSION_JPEG ||
          get_short (tiff, TIFFTAG_PLANARCONFIG) == PLANARCONFIG_SEPARATE)
        return 0;
      return TIFFSetField (tiff, TIFFTAG_JPEGCOLORMODE, JPEGCOLORMODE_RGB) ? 3 : 0;
    default:
      return 0;
    }
}

/* Where the first alpha among the samples after the colours is (TIFF 6.0, ExtraSamples; 1 and 2 are alpha). */
static void
find_alpha (SherdTiffLayout *layout, TIFF *tiff, guint n_colours)
{
  guint16 n_extra = 0;
  guint16 *extra = NULL;

  if (!TIFFGetField (tiff, TIFFTAG_EXTRASAMPLES, &n_extra, &extra))
    return;
  for (guint i = 0; i < n_extra && !layout->samples.has_alpha; i++)
    if (extra[i] == EXTRASAMPLE_ASSOCALPHA || extra[i] == EXTRASAMPLE_UNASSALPHA)
      {
        layout->samples.has_alpha = TRUE;
        layout->alpha_sample = n_colours + i;
      }
}

/* A colour map has 16 bits; many writers fill in only the upper 8, or the same 8 twice, or (against the standard) only
 * the lower 8. */
static gboolean
is_shallow (guint16 *const *maps, gsize n, gboolean *low)
{
  gboolean upper = TRUE, twice = TRUE;

  *low = TRUE;
  for (guint c = 0; c < 3; c++)
    for (gsize i = 0; i < n; i++)
      {
        upper &= (maps[c][i] & 0xFF) == 0;
        twice &= maps[c][i] % 257 == 0;
        *low &= maps[c][i] < 256;
      }
  return upper || twice || *low;
}

static gboolean
read_palette (SherdTiffLayout *layout, TIFF *tiff)
{
  const gsize n = (gsize)1 << MIN (layout->bits, 16);
  guint16 *maps[3];
  gboolean low, shallow;

  if (layout->real || layout->bits > 16 || !TIFFGetField (tiff, TIFFTAG_COLORMAP, &maps[0], &maps[1], &maps[2]))
    return FALSE;
  shallow = is_shallow (maps, n, &low);
  layout->palette = g_new (guint16, 3 * n);
  layout->samples.n_colours = 3;
  layout->samples.bits = shallow ? 8 : 16;
  for (gsize i = 0; i < 3 * n; i++)
    {
      const guint16 code = maps[i % 3][i / 3];

      layout->palette[i] = (guint16)(shallow && !low ? code >> 8 : code);
    }
  return TRUE;
}

static gboolean
read_channels (SherdTiffLayout *layout, const SherdTiffSource *source, GError **error)
{
  TIFF *tiff = source->tiff;
  const guint n_samples = get_short (tiff, TIFFTAG_SAMPLESPERPIXEL);
  const guint n_colours = count_colours (layout, tiff);

  if (n_colours == 0)
    return refuse (source,
                   _ ("It is a TIFF whose colours are neither grey, RGB, a palette nor four printing inks. Save it as "
                      "RGB."),
                   error);
  layout->samples.n_colours = n_colours;
  layout->samples.bits = layout->bits <= 8 ? 8 : 16;
  layout->separate = n_samples > 1 && get_short (tiff, TIFFTAG_PLANARCONFIG) == PLANARCONFIG_SEPARATE;
  layout->n_stored = layout->separate ? 1 : n_samples;
  find_alpha (layout, tiff, n_colours);
  if (n_samples >= n_colours + (layout->samples.has_alpha ? 1 : 0) && layout->alpha_sample < n_samples &&
      (get_short (tiff, TIFFTAG_PHOTOMETRIC) != PHOTOMETRIC_PALETTE || read_palette (layout, tiff)))
    return TRUE;
  sherd_input_set_broken (source->file, error);
  return FALSE;
}

/**
 * sherd_tiff_layout_read:
 * @layout: (out caller-allocates): receives the layout; to be cleared in any case
 * @source: an open handle at the directory of the picture, which is also asked to turn YCbCr of JPEG into RGB
 * @error: return location
 *
 * Finds out how the samples lie. Integers of up to 8 bits become 8, wider ones 16. Floating-point numbers become 16
 * bits with 1 at full scale: what is above the file's white is then clipped, and flagged as such; steps are 1/65535 of
 * white. Source: TIFF 6.0 (1992), sections 3 to 8, 16, 18 and 19.
 *
 * Returns: FALSE with SHERD_PHOTO_ERROR_UNSUPPORTED or SHERD_PHOTO_ERROR_BROKEN
 */
gboolean
sherd_tiff_layout_read (SherdTiffLayout *layout, const SherdTiffSource *source, GError **error)
{
  *layout = (SherdTiffLayout){ 0 };
  return check_packing (source, error) && check_numbers (layout, source, error) &&
         read_channels (layout, source, error);
}

/**
 * sherd_tiff_layout_clear:
 * @layout: a layout
 */
void
sherd_tiff_layout_clear (SherdTiffLayout *layout)
{
  g_clear_pointer (&layout->palette, g_free);
}

static guint
count_channels (const SherdTiffLayout *layout)
{
  return layout->samples.n_colours + (layout->samples.has_alpha ? 1 : 0);
}

/**
 * sherd_tiff_layout_get_n_planes:
 * @layout: a layout
 *
 * Returns: how many times a row has to be read: 1, or once for each channel that is needed
 */
guint
sherd_tiff_layout_get_n_planes (const SherdTiffLayout *layout)
{
  if (!layout->separate)
    return 1;
  return layout->palette ? 1 + (layout->samples.has_alpha ? 1 : 0) : count_channels (layout);
}

/* The last plane is alpha where there is one. */
static gboolean
is_alpha (const SherdTiffLayout *layout, guint plane)
{
  return layout->samples.has_alpha && plane > 0 && plane == sherd_tiff_layout_get_n_planes (layout) - 1;
}

/**
 * sherd_tiff_layout_get_sample:
 * @layout: a layout
 * @plane: one of its planes
 *
 * Returns: which stored sample of a pixel the plane is
 */
guint16
sherd_tiff_layout_get_sample (const SherdTiffLayout *layout, guint plane)
{
  return (guint16)(is_alpha (layout, plane) ? layout->alpha_sample : plane);
}

/**
 * sherd_tiff_layout_get_stored_bytes:
 * @layout: a layout
 * @n_px: pixels of a row
 *
 * Returns: the bytes that they take in a strip or tile, in one plane
 */
guint64
sherd_tiff_layout_get_stored_bytes (const SherdTiffLayout *layout, guint64 n_px)
{
  return (n_px * layout->n_stored * layout->bits + 7) / 8;
}

/* IEEE 754-2008, 3.6, binary16. */
static float
decode_half (guint16 half)
{
  const int exponent = half >> 10 & 0x1F;
  const float fraction = (float)(half & 0x3FF);
  const float size = exponent == 0    ? ldexpf (fraction, -24)
                     : exponent == 31 ? (fraction > 0 ? NAN : INFINITY)
                                      : ldexpf (1024 + fraction, exponent - 25);

  return half & 0x8000 ? -size : size;
}

/* What is no number is black, and flagged as dark. */
static guint
code_of_real (double value)
{
  return value > 0 ? (guint)(65535 * MIN (value, 1) + 0.5) : 0;
}

/* The @i-th number of a stored row that has no more than 16 bits. Bits of one byte are in order from its highest. */
static inline guint
get_raw (const SherdTiffLayout *layout, const guint8 *stored, gsize i)
{
  const guint bits = layout->bits;
  const gsize first_bit = i * bits;

  if (bits == 8)
    return stored[i];
  if (bits == 16)
    return ((const guint16 *)(const void *)stored)[i];
  return stored[first_bit / 8] >> (8 - bits - first_bit % 8) & ((1u << bits) - 1);
}

/* The @i-th number as a code of 8 bits, or of 16 if it is stored with more than 8. */
static inline guint
get_code (const SherdTiffLayout *layout, const guint8 *stored, gsize i)
{
  if (layout->real)
    switch (layout->bits)
      {
      case 16:
        return code_of_real ((double)decode_half ((guint16)get_raw (layout, stored, i)));
      case 32:
        return code_of_real ((double)((const float *)(const void *)stored)[i]);
      default:
        return code_of_real (((const double *)(const void *)stored)[i]);
      }
  if (layout->bits == 32)
    return ((const guint32 *)(const void *)stored)[i] >> 16;
  if (layout->bits >= 8)
    return get_raw (layout, stored, i);
  return get_raw (layout, stored, i) * (255 / ((1u << layout->bits) - 1));
}

static inline void
put_code (const SherdTiffLayout *layout, guint8 *row, gsize i, guint code)
{
  if (layout->samples.bits == 8)
    row[i] = (guint8)code;
  else
    ((guint16 *)(void *)row)[i] = (guint16)code;
}

static void
unpack_colour (const SherdTiffLayout *layout, const guint8 *stored, guint from, guint to, gsize n_px, guint8 *row)
{
  const guint n_channels = count_channels (layout);
  const guint turned = layout->inverted ? (layout->samples.bits == 8 ? 0xFF : 0xFFFF) : 0;

  for (gsize i = 0; i < n_px; i++)
    put_code (layout, row, i * n_channels + to, get_code (layout, stored, i * layout->n_stored + from) ^ turned);
}

/* Alpha is as wide as the stored colours, which a palette may widen or narrow. */
static void
unpack_alpha (const SherdTiffLayout *layout, const guint8 *stored, guint from, gsize n_px, guint8 *row)
{
  const guint n_channels = count_channels (layout);
  const guint stored_bits = layout->bits <= 8 ? 8 : 16;

  for (gsize i = 0; i < n_px; i++)
    {
      const guint code = get_code (layout, stored, i * layout->n_stored + from);

      put_code (layout, row, i * n_channels + n_channels - 1,
                stored_bits == layout->samples.bits ? code
                : stored_bits == 8                  ? code * 257
                                                    : code >> 8);
    }
}

static void
unpack_palette (const SherdTiffLayout *layout, const guint8 *stored, gsize n_px, guint8 *row)
{
  const guint n_channels = count_channels (layout);

  for (gsize i = 0; i < n_px; i++)
    {
      const guint16 *colour = layout->palette + (gsize)3 * get_raw (layout, stored, i * layout->n_stored);

      for (guint c = 0; c < 3; c++)
        put_code (layout, row, i * n_channels + c, colour[c]);
    }
}

/* Whether a stored row is the result already. */
static gboolean
is_plain (const SherdTiffLayout *layout)
{
  return !layout->separate && !layout->palette && !layout->real && !layout->inverted &&
         layout->bits == layout->samples.bits && layout->n_stored == count_channels (layout);
}

/**
 * sherd_tiff_layout_unpack:
 * @layout: a layout
 * @stored: pixels of one row as libtiff gives them, aligned to 8 bytes
 * @plane: which plane they are of
 * @n_px: how many pixels
 * @row: (out): where they go; of separate planes each fills in its own channel
 */
void
sherd_tiff_layout_unpack (const SherdTiffLayout *layout, const guint8 *stored, guint plane, gsize n_px, guint8 *row)
{
  if (is_plain (layout))
    memcpy (row, stored, n_px * sherd_samples_get_pixel_bytes (&layout->samples));
  else if (is_alpha (layout, plane))
    unpack_alpha (layout, stored, 0, n_px, row);
  else if (layout->palette)
    unpack_palette (layout, stored, n_px, row);
  else if (layout->separate)
    unpack_colour (layout, stored, 0, plane, n_px, row);
  else
    for (guint c = 0; c < layout->samples.n_colours; c++)
      unpack_colour (layout, stored, c, c, n_px, row);

  if (!layout->separate && layout->samples.has_alpha && !is_plain (layout))
    unpack_alpha (layout, stored, layout->alpha_sample, n_px, row);
}
