/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/light.h"
#include "measure/measure.h"

G_BEGIN_DECLS

/* Ways a chart may have been marked: as printed, or with its corners in another order. */
#define SHERD_N_ORIENTATIONS 8

/* One patch of a chart or card as photographed. */
typedef struct
{
  double mean[3]; /* linear light, trimmed */
  double sd[3];   /* of single pixels */
  double clipped_frac;
  guint n_pixels;
  SherdLightPoint point; /* of its middle */
  gboolean usable;
} SherdPatchReading;

void
sherd_patch_reading_fill (SherdPatchReading *reading, const float *linear_rgb, const guint8 *flags, gsize n_pixels);

/* Fills @order so that patch i of the chart was read as readings[order[i]]; 0 means as marked. */
guint sherd_reference_orientation (const SherdMeasurePatch *patches,
                                   const SherdPatchReading *readings,
                                   gsize n_patches,
                                   guint *order);
const char *sherd_reference_orientation_name (guint orientation);

G_END_DECLS
