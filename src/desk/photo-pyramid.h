/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "photo/picture.h"

G_BEGIN_DECLS

/* Side of a tile in pixels of its level; the last column and row may be narrower. */
#define SHERD_PHOTO_TILE_PX 512u

#define SHERD_TYPE_PHOTO_PYRAMID (sherd_photo_pyramid_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotoPyramid, sherd_photo_pyramid, SHERD, PHOTO_PYRAMID, GObject)

SherdPhotoPyramid *sherd_photo_pyramid_new_for_picture (const SherdPicture *picture);
SherdPhotoPyramid *sherd_photo_pyramid_new_for_file (const char *path);
void sherd_photo_pyramid_start (SherdPhotoPyramid *self);
void sherd_photo_pyramid_cancel (SherdPhotoPyramid *self);

double sherd_photo_pyramid_get_progress (SherdPhotoPyramid *self);
gboolean sherd_photo_pyramid_is_ready (SherdPhotoPyramid *self);
const GError *sherd_photo_pyramid_get_error (SherdPhotoPyramid *self);

guint sherd_photo_pyramid_get_width_px (SherdPhotoPyramid *self);
guint sherd_photo_pyramid_get_height_px (SherdPhotoPyramid *self);
guint sherd_photo_pyramid_get_n_levels (SherdPhotoPyramid *self);
gboolean sherd_photo_pyramid_has_level (SherdPhotoPyramid *self, guint level);
const SherdPicture *sherd_photo_pyramid_get_level (SherdPhotoPyramid *self, guint level);
GdkTexture *sherd_photo_pyramid_get_tile (SherdPhotoPyramid *self, guint level, guint column, guint row);
GdkTexture *sherd_photo_pyramid_get_preview (SherdPhotoPyramid *self);

gboolean sherd_photo_pyramid_mean (SherdPhotoPyramid *self,
                                   double x_photo_px,
                                   double y_photo_px,
                                   double radius_px,
                                   SherdRgb *mean_linear);
GdkTexture *sherd_photo_pyramid_magnify (SherdPhotoPyramid *self,
                                         int x_px,
                                         int y_px,
                                         guint width_px,
                                         guint height_px,
                                         guint factor);

G_END_DECLS
