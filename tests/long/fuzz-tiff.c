/* SPDX-License-Identifier: GPL-3.0-or-later */
/* As fuzz-jpeg.c, for TIFF: every file is read as a whole, and once more in part; the part must be the same pixels. */
#include "config.h"

#include <string.h>

#include "photo/photo.h"

/* Our choice: larger pictures cost time and show nothing new. */
#define MOST_PIXELS 300000u

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

typedef struct
{
  float *linear;
  guint8 *flags;
} Row;

static gboolean
read_row (SherdPhoto *photo, guint y, guint first_px, guint n_px, Row *row)
{
  if (!sherd_photo_seek_row (photo, y, NULL))
    return FALSE;
  sherd_photo_convert (photo, first_px, 1, n_px, row->linear, row->flags);
  return TRUE;
}

/* Right half of the last row of both. */
static void
compare (SherdPhoto *whole, SherdPhoto *part, const SherdPhotoInfo *info)
{
  const guint first_px = info->width_px / 2, n_px = info->width_px - first_px, last = info->height_px - 1;
  g_autofree float *whole_linear = g_new (float, 3 * info->width_px), *part_linear = g_new (float, 3 * n_px);
  g_autofree guint8 *whole_flags = g_new (guint8, info->width_px), *part_flags = g_new (guint8, n_px);
  Row whole_row = { whole_linear, whole_flags }, part_row = { part_linear, part_flags };

  for (guint y = 0; y <= last; y++)
    if (!read_row (whole, y, 0, info->width_px, &whole_row))
      return;
  sherd_photo_limit_columns (part, first_px, info->width_px - 1);
  if (!read_row (part, last, first_px, n_px, &part_row))
    g_error ("what can be read as a whole must be readable in part");
  if (memcmp (whole_linear + 3 * first_px, part_linear, 3 * n_px * sizeof (float)) != 0 ||
      memcmp (whole_flags + first_px, part_flags, n_px) != 0)
    g_error ("a part must be the same pixels as the whole");
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SherdPhoto) whole = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  g_autoptr (SherdPhoto) part = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  const SherdPhotoInfo *info = whole != NULL ? sherd_photo_get_info (whole) : NULL;

  if ((whole == NULL) != (part == NULL))
    g_error ("a file must open each time or never");
  if (info != NULL && (guint64)info->width_px * info->height_px <= MOST_PIXELS)
    compare (whole, part, info);
  return 0;
}
