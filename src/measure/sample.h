/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/picture.h"
#include "shape/outline.h"

G_BEGIN_DECLS

/* Pixels read of one region of a photograph, row by row. */
typedef struct
{
  float *linear_rgb; /* three floats a pixel */
  float *x_px;       /* middles, in the upright photograph */
  float *y_px;
  guint8 *flags; /* SherdPixelFlags */
  gsize n;
  double n_in_photo;  /* how many pixels of the photograph the region covers */
  double inside_frac; /* share of the region that lies within the photograph */
} SherdSample;

/* A region to be read: an outline in the upright photograph and about how many pixels of it. */
typedef struct
{
  SherdOutline *outline_px;
  gsize n_most;
} SherdSampleRegion;

/* (transfer full): GArray of SherdSample, one a region in their order. */
GArray *sherd_sample_photo (SherdPhoto *photo,
                            const SherdSampleRegion *regions,
                            gsize n_regions,
                            SherdProgressFunc progress,
                            gpointer user_data,
                            GCancellable *cancellable,
                            GError **error);

G_END_DECLS
