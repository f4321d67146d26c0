/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <tiffio.h>

#include "photo/input.h"

G_BEGIN_DECLS

/* One open handle of libtiff on a photograph's bytes. Several may share one file: each keeps its own place in it. */
typedef struct
{
  SherdInput *file; /* not owned */
  TIFF *tiff;
  guint64 at;
  gboolean cut_off; /* bytes beyond the end of the file were asked for */
  gboolean made_up; /* a decoder said that it filled pixels in */
} SherdTiffSource;

gboolean sherd_tiff_source_open (SherdTiffSource *source, SherdInput *file);
void sherd_tiff_source_close (SherdTiffSource *source);

G_END_DECLS
