/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "shape/outline.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PHOTO_OUTLINE_NORMAL,
  SHERD_PHOTO_OUTLINE_NOT_MEASURED, /* dashed */
  SHERD_PHOTO_OUTLINE_FLAGGED       /* a double line; the code carries a “!” */
} SherdPhotoOutlineState;

#define SHERD_TYPE_PHOTO_OUTLINE (sherd_photo_outline_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotoOutline, sherd_photo_outline, SHERD, PHOTO_OUTLINE, GtkWidget)

GtkWidget *sherd_photo_outline_new (const SherdOutline *outline_photo_px, const char *code);

void sherd_photo_outline_set_shape (SherdPhotoOutline *self, const SherdOutline *outline_photo_px);
void sherd_photo_outline_set_state (SherdPhotoOutline *self, SherdPhotoOutlineState state, const char *note);
void sherd_photo_outline_set_selected (SherdPhotoOutline *self, gboolean selected);

const SherdOutline *sherd_photo_outline_get_shape (SherdPhotoOutline *self);
SherdPhotoOutlineState sherd_photo_outline_get_state (SherdPhotoOutline *self);
gboolean sherd_photo_outline_get_selected (SherdPhotoOutline *self);
const char *sherd_photo_outline_get_note (SherdPhotoOutline *self);
const graphene_rect_t *sherd_photo_outline_get_bounds (SherdPhotoOutline *self);
PangoLayout *sherd_photo_outline_get_label (SherdPhotoOutline *self);

G_END_DECLS
