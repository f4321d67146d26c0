/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/measure.h"

G_BEGIN_DECLS

/* Which places of a face are bare ground, as a fine raster. */
typedef struct
{
  double step_mm;
  guint n_columns;
  guint n_rows;
  guint8 *bare; /* n_rows × n_columns */
} SherdGroundMask;

/* A small square of bare ground. */
typedef struct
{
  SherdPoint centre_mm; /* mean place of its pixels */
  double ln_value[3];   /* ln of the median linear light */
  guint n_pixels;
} SherdGroundCell;

SherdGroundMask *sherd_ground_mask_new (double width_mm,
                                        double height_mm,
                                        const SherdMeasureZone *zones,
                                        gsize n_zones,
                                        double margin_mm);
void sherd_ground_mask_free (SherdGroundMask *mask);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdGroundMask, sherd_ground_mask_free)
gboolean sherd_ground_mask_contains (const SherdGroundMask *mask, double x_mm, double y_mm);

/* (transfer full): GArray of SherdGroundCell. */
GArray *sherd_ground_cells (double width_mm,
                            double height_mm,
                            const float *linear_rgb,
                            const float *x_mm,
                            const float *y_mm,
                            gsize n_pixels);

G_END_DECLS
