/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <stdio.h>

#include <glib.h>
#include <jpeglib.h>
#include <lcms2.h>
#include <png.h>

#include "photo/photo.h"

G_BEGIN_DECLS

/* Files that the tests make for themselves. */

/* @n samples that rise and fall with position, with some noise, from 0 to 2^@bits − 1; the same for the same seed. */
guint16 *fixture_samples (guint width, guint height, guint channels, guint bits, guint seed);

typedef struct
{
  guint width;
  guint height;
  guint bits;
  int type; /* PNG_COLOR_TYPE_… */
  gboolean interlaced;
  void (*decorate) (png_structp png, png_infop info, gpointer user_data); /* before the head is written */
  gpointer user_data;
} FixturePng;

guint fixture_png_channels (int type);
void fixture_append_png (png_structp png, png_bytep data, png_size_t n_bytes); /* to the GByteArray given to libpng */
GBytes *fixture_png (const FixturePng *png, const guint16 *samples);

typedef struct
{
  guint width;
  guint height;
  J_COLOR_SPACE space;  /* of the samples: JCS_GRAYSCALE, JCS_RGB, JCS_CMYK */
  J_COLOR_SPACE stored; /* JCS_UNKNOWN: what the encoder chooses */
  int quality;          /* 0: 90 */
  int h;                /* sampling of the first component, 0: 1 */
  int v;
  int other_v; /* of the other components, 0: 1 */
  gboolean progressive;
  gboolean separate; /* sequential, each component in a scan of its own */
  gboolean arithmetic;
  guint restart_rows;
  gboolean no_adobe_marker;
  GBytes *icc;  /* (nullable) */
  GBytes *exif; /* (nullable): from its TIFF header on */
} FixtureJpeg;

GBytes *fixture_jpeg (const FixtureJpeg *jpeg, const guint16 *samples);

/* All pixels of a JPEG by plain libjpeg, in its own channels: an outside view of jpeg-reader.c. */
guint8 *fixture_decode_jpeg (GBytes *jpeg, guint *channels);

/* An EXIF block with the given orientation and colour space, 0 for none; big or little endian. */
GBytes *fixture_exif (guint orientation, guint colour_space, gboolean little_endian);

GBytes *fixture_icc (cmsHPROFILE profile);
/* Gamma and primaries as named: a wide space in which every sRGB colour is inside. */
GBytes *fixture_wide_icc (void);

/* Every pixel of a photograph as the program sees it: 3 floats and a set of flags each. */
typedef struct
{
  guint width;
  guint height;
  float *linear;
  guint8 *flags;
} FixturePixels;

FixturePixels *fixture_read_all (SherdPhoto *photo, GError **error);
void fixture_pixels_free (FixturePixels *pixels);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (FixturePixels, fixture_pixels_free)

G_END_DECLS
