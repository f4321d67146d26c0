/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/decoding.h"
#include "photo/tiff-source.h"

G_BEGIN_DECLS

#define SHERD_TIFF_MAX_CHANNELS 5 /* four inks and alpha */

/* How the samples of a TIFF lie in its strips or tiles, and what is made of them: 8 or 16 bits a channel, grey, RGB or
 * ink, with alpha where the file has it. */
typedef struct
{
  guint bits;           /* of a stored sample: 1, 2, 4, 8, 16, 32 or 64 */
  gboolean real;        /* floating point, 1 for full scale */
  gboolean separate;    /* each channel in strips or tiles of its own */
  guint n_stored;       /* samples of a pixel side by side: 1 if @separate */
  gboolean inverted;    /* grey of which 0 is white */
  guint16 *palette;     /* owned, (nullable): red, green, blue for each stored code, as wide as the result */
  SherdSamples samples; /* the result */
  guint alpha_sample;   /* which stored sample is alpha */
} SherdTiffLayout;

gboolean sherd_tiff_layout_read (SherdTiffLayout *layout, const SherdTiffSource *source, GError **error);
void sherd_tiff_layout_clear (SherdTiffLayout *layout);

guint sherd_tiff_layout_get_n_planes (const SherdTiffLayout *layout);
guint16 sherd_tiff_layout_get_sample (const SherdTiffLayout *layout, guint plane);
guint64 sherd_tiff_layout_get_stored_bytes (const SherdTiffLayout *layout, guint64 n_px);
void
sherd_tiff_layout_unpack (const SherdTiffLayout *layout, const guint8 *stored, guint plane, gsize n_px, guint8 *row);

G_END_DECLS
