/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SHERD_BLOCKS_SIDE 4
#define SHERD_N_BLOCKS (SHERD_BLOCKS_SIDE * SHERD_BLOCKS_SIDE)

/* Mean reflectance of one part of a zone. */
typedef struct
{
  double x_mm;
  double y_mm;
  double mean[3];
  guint n_pixels;
} SherdBlock;

/* A zone cut into 4 × 4 parts of its bounding box; parts with few pixels are left out. */
typedef struct
{
  SherdBlock block[SHERD_N_BLOCKS];
  guint n_blocks;
} SherdBlocks;

/* A plane through the blocks: colour and how it changes across the zone, relative to the colour itself. */
typedef struct
{
  double x_mm; /* of the middle */
  double y_mm;
  double mean[3];
  double slope[2][3];         /* relative change per mm along x and y, per channel */
  double brightness_slope_sd; /* standard uncertainty of the part common to all channels, per mm */
  double colour_slope_sd;     /* and of each channel alone */
  double reach_mm;            /* root mean square distance of the parts from the middle, per axis */
  double brightness_rms;      /* relative scatter of the blocks about the plane */
  gboolean usable;            /* FALSE: too few parts for a slope, the colour and the place are told all the same */
  gboolean seen;              /* FALSE: no part at all */
} SherdSlope;

void sherd_blocks_fill (SherdBlocks *blocks,
                        const float *reflectance,
                        const float *x_mm,
                        const float *y_mm,
                        const guint8 *use,
                        gsize n_pixels);
void sherd_blocks_covariance (const SherdBlocks *blocks, double read_frac, double covariance[3][3]);
void sherd_blocks_slope (const SherdBlocks *blocks, SherdSlope *slope);

G_END_DECLS
