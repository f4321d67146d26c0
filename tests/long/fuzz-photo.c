/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes are a photograph that can be read to its last row, or end in an error. */
#include "config.h"

#include "photo/photo.h"

/* Our choice: larger pictures cost time and show nothing new. */
#define MOST_PIXELS 4000000u
#define MOST_PER_ROW 64u

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

static void
read_rows (SherdPhoto *photo, const SherdPhotoInfo *info)
{
  float linear[3 * MOST_PER_ROW];
  guint8 flags[MOST_PER_ROW];
  const gsize n = MIN (info->width_px, MOST_PER_ROW);

  for (guint y = 0; y < info->height_px; y++)
    {
      if (!sherd_photo_seek_row (photo, y, NULL))
        return;
      sherd_photo_convert (photo, info->width_px - (guint)n, 1, n, linear, flags);
    }
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  const SherdPhotoInfo *info = photo != NULL ? sherd_photo_get_info (photo) : NULL;

  if (info != NULL && (guint64)info->width_px * info->height_px <= MOST_PIXELS)
    read_rows (photo, info);
  return 0;
}
