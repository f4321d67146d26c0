/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/photo-pyramid.h"
#include "shape/point.h"

G_BEGIN_DECLS

#define SHERD_TYPE_PHOTO_LOUPE (sherd_photo_loupe_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotoLoupe, sherd_photo_loupe, SHERD, PHOTO_LOUPE, GtkWidget)

GtkWidget *sherd_photo_loupe_new (void);

void sherd_photo_loupe_look (SherdPhotoLoupe *self,
                             SherdPhotoPyramid *pyramid,
                             SherdPoint photo_px,
                             guint magnification,
                             double disc_radius_px,
                             const char *caption);
SherdPoint sherd_photo_loupe_get_place (SherdPhotoLoupe *self);
const char *sherd_photo_loupe_get_caption (SherdPhotoLoupe *self);

G_END_DECLS
