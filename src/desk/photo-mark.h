/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "shape/point.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PHOTO_MARK_PIECE,    /* a point of the piece: drawn round */
  SHERD_PHOTO_MARK_REFERENCE /* a point of the chart or another reference: drawn as a square on its corner */
} SherdPhotoMarkKind;

#define SHERD_TYPE_PHOTO_MARK (sherd_photo_mark_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotoMark, sherd_photo_mark, SHERD, PHOTO_MARK, GtkWidget)

GtkWidget *sherd_photo_mark_new (SherdPhotoMarkKind kind, guint number, const char *name);

SherdPhotoMarkKind sherd_photo_mark_get_kind (SherdPhotoMark *self);
const char *sherd_photo_mark_get_name (SherdPhotoMark *self);
void sherd_photo_mark_place (SherdPhotoMark *self, SherdPoint photo_px);
void sherd_photo_mark_take_away (SherdPhotoMark *self);
gboolean sherd_photo_mark_get_place (SherdPhotoMark *self, SherdPoint *photo_px);

G_END_DECLS
