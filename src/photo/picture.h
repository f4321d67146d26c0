/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/photo.h"

G_BEGIN_DECLS

typedef void (*SherdProgressFunc) (double done_frac, gpointer user_data);

/* A whole photograph for looking at: upright, 8-bit sRGB, rows of RGB without padding. */
typedef struct
{
  guint width_px;
  guint height_px;
  gsize stride; /* bytes */
  GBytes *pixels;
} SherdPicture;

/* @max_side_px: 0 for full size, else scaled down by a whole power of two so that the longer side is not above it. */
SherdPicture *sherd_picture_load (const char *path,
                                  guint max_side_px,
                                  SherdProgressFunc progress,
                                  gpointer user_data,
                                  GCancellable *cancellable,
                                  GError **error);
/* (transfer full): half the size, each pixel the mean of four in linear light. */
SherdPicture *sherd_picture_halve (const SherdPicture *picture);
void sherd_picture_free (SherdPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdPicture, sherd_picture_free)

G_END_DECLS
