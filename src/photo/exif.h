/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/photo.h"

G_BEGIN_DECLS

/* What EXIF says of the numbers in the file. */
typedef enum
{
  SHERD_EXIF_SPACE_UNSAID,
  SHERD_EXIF_SPACE_SRGB,
  SHERD_EXIF_SPACE_OPRGB, /* the camera's “optional colour space”, DCF 2.0 (IEC 61966-2-5) */
  SHERD_EXIF_SPACE_OTHER  /* not sRGB, but not said what */
} SherdExifSpace;

char *sherd_exif_dup_iso_date (const char *exif_date);
char *sherd_exif_dup_camera (const char *maker, const char *model);
SherdExifSpace sherd_exif_read (const guint8 *tiff, gsize length, SherdPhotoInfo *info);

G_END_DECLS
