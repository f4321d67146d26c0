/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/icc.h"

G_BEGIN_DECLS

/* How the samples of one pixel lie in a decoded row. */
typedef struct
{
  guint n_colours;       /* 1 grey; 3 red, green, blue; 4 cyan, magenta, yellow, black */
  gboolean has_alpha;    /* one more sample after the colours */
  guint bits;            /* 8, or 16 in the machine's byte order */
  gboolean ink_inverted; /* 4 colours: full scale is no ink */
} SherdSamples;

/* Chromaticities of red, green, blue and white. */
typedef struct
{
  double red_x, red_y;
  double green_x, green_y;
  double blue_x, blue_y;
  double white_x, white_y;
} SherdPrimaries;

/* How the numbers of one file become linear light in the sRGB primaries. */
typedef struct _SherdDecoding SherdDecoding;

gsize sherd_samples_get_pixel_bytes (const SherdSamples *samples);

SherdDecoding *sherd_decoding_new_srgb (const SherdSamples *samples);
SherdDecoding *sherd_decoding_new_power (const SherdSamples *samples, double exponent);
SherdDecoding *sherd_decoding_new_icc (const SherdSamples *samples, SherdIcc *icc);
void sherd_decoding_free (SherdDecoding *decoding);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdDecoding, sherd_decoding_free)

gboolean sherd_decoding_set_primaries (SherdDecoding *decoding, const SherdPrimaries *primaries);
gboolean sherd_decoding_is_srgb (const SherdDecoding *decoding);

void sherd_decoding_convert (const SherdDecoding *decoding,
                             const void *pixels,
                             guint step,
                             gsize n,
                             float *linear_rgb,
                             guint8 *flags);

G_END_DECLS
