/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/measure.h"

G_BEGIN_DECLS

#define TILE_N_PATCHES 24u

/* A made-up photograph of a tile painted in a grid of zones, with a chart beside it: mottled clay, mottled paint that
 * has come off in places, the light of a near lamp, and the noise of a camera. The same for the same numbers. */
typedef struct
{
  guint width_px;
  guint height_px;
  guint n_rows; /* of zones */
  guint n_columns;
  gboolean fired; /* darker, and some paint is gone */
} TilePicture;

gboolean tile_picture_write_jpeg (const TilePicture *picture, const char *path);
gboolean tile_picture_write_png (const TilePicture *picture, const char *path);

/* What to measure in it; owns what the request points to. */
typedef struct
{
  SherdMeasureRequest request;
  SherdMeasureZone *zones;
  SherdMeasurePatch patches[TILE_N_PATCHES];
  SherdMark marks[4];
  SherdMark chart_marks[4];
  char *path;
} TileRequest;

TileRequest *tile_request_new (const TilePicture *picture, const char *path);
void tile_request_free (TileRequest *request);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TileRequest, tile_request_free)

G_END_DECLS
