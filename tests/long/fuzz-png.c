/* SPDX-License-Identifier: GPL-3.0-or-later */
/* As fuzz-jpeg.c, for PNG: the checksums of its chunks are mended first, so that damage reaches what lies behind them.
 */
#include "config.h"

#include <string.h>

#include "photo/photo.h"

/* Our choice: larger pictures cost time and show nothing new. */
#define MOST_PIXELS 1000000u

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

/* PNG, third edition, annex D. */
static guint32
checksum (const guint8 *bytes, gsize n_bytes)
{
  guint32 crc = 0xFFFFFFFF;

  for (gsize i = 0; i < n_bytes; i++)
    {
      crc ^= bytes[i];
      for (guint bit = 0; bit < 8; bit++)
        crc = crc & 1 ? 0xEDB88320 ^ crc >> 1 : crc >> 1;
    }
  return ~crc;
}

static guint32
get_number (const guint8 *bytes)
{
  return (guint32)bytes[0] << 24 | (guint32)bytes[1] << 16 | (guint32)bytes[2] << 8 | bytes[3];
}

static void
mend (guint8 *png, gsize n_bytes)
{
  gsize at = 8;

  if (n_bytes >= 8)
    memcpy (png, "\x89PNG\r\n\x1a\n", 8);
  while (at + 12 <= n_bytes && get_number (png + at) <= n_bytes - at - 12)
    {
      const guint32 length = get_number (png + at);
      const guint32 crc = checksum (png + at + 4, length + 4);

      for (guint i = 0; i < 4; i++)
        png[at + 8 + length + i] = (guint8)(crc >> (24 - 8 * i));
      at += 12 + length;
    }
}

static void
read_rows (SherdPhoto *photo, const SherdPhotoInfo *info)
{
  g_autofree float *linear = g_new (float, 3 * info->width_px);
  g_autofree guint8 *flags = g_new (guint8, info->width_px);

  for (guint y = 0; y < info->height_px && sherd_photo_seek_row (photo, y, NULL); y++)
    sherd_photo_convert (photo, 0, 1, info->width_px, linear, flags);
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  guint8 *mended = g_memdup2 (data, size);
  g_autoptr (GBytes) bytes = g_bytes_new_take (mended, size);
  g_autoptr (SherdPhoto) photo = NULL;
  const SherdPhotoInfo *info;

  mend (mended, size);
  photo = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  info = photo != NULL ? sherd_photo_get_info (photo) : NULL;
  if (info != NULL && (guint64)info->width_px * info->height_px <= MOST_PIXELS)
    read_rows (photo, info);
  return 0;
}
