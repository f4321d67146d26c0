/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes are a photograph that can be read to its last row, or end in an error; parts of it are the same pixels as
 * the whole. */
#include "config.h"

#include "photo/photo.h"

/* Our choice: larger pictures cost time and show nothing new. */
#define MOST_PIXELS 1000000u

int LLVMFuzzerTestOneInput (const guint8 *data, size_t size);

/* The numbers by which parts are chosen follow from the input, so that a finding repeats. */
static guint
next (guint32 *state, guint below)
{
  *state = *state * 1664525u + 1013904223u;
  return (*state >> 8) % below;
}

/* All rows, as far as they can be read. Returns how many. */
static guint
read_whole (GBytes *bytes, float *linear, guint8 *flags)
{
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  const SherdPhotoInfo *info = sherd_photo_get_info (photo);
  guint y = 0;

  while (y < info->height_px && sherd_photo_seek_row (photo, y, NULL))
    {
      const gsize first = (gsize)y++ * info->width_px;

      sherd_photo_convert (photo, 0, 1, info->width_px, linear + 3 * first, flags + first);
    }
  return y;
}

static void
read_part (GBytes *bytes, const float *whole, const guint8 *whole_flags, guint n_rows, guint32 state)
{
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  const guint width_px = sherd_photo_get_info (photo)->width_px;
  const guint first = next (&state, width_px), last = first + next (&state, width_px - first);
  g_autofree float *linear = g_new (float, 3 * width_px);
  g_autofree guint8 *flags = g_new (guint8, width_px);

  sherd_photo_limit_columns (photo, first, last);
  for (guint y = next (&state, 40); y < n_rows && sherd_photo_seek_row (photo, y, NULL); y += 1 + next (&state, 40))
    {
      const gsize at = (gsize)y * width_px + first;
      const gsize n = last - first + 1;

      sherd_photo_convert (photo, first, 1, n, linear, flags);
      g_assert_cmpmem (linear, (int)(3 * n * sizeof (float)), whole + 3 * at, (int)(3 * n * sizeof (float)));
      g_assert_cmpmem (flags, (int)n, whole_flags + at, (int)n);
    }
}

int
LLVMFuzzerTestOneInput (const guint8 *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (bytes, "fuzz", NULL);
  const SherdPhotoInfo *info = photo != NULL ? sherd_photo_get_info (photo) : NULL;
  const gsize n = info != NULL ? (gsize)info->width_px * info->height_px : 0;
  g_autofree float *linear = NULL;
  g_autofree guint8 *flags = NULL;
  guint n_rows;

  if (n == 0 || n > MOST_PIXELS)
    return 0;
  linear = g_new0 (float, 3 * n);
  flags = g_new0 (guint8, n);
  n_rows = read_whole (bytes, linear, flags);
  read_part (bytes, linear, flags, n_rows, g_bytes_hash (bytes));
  return 0;
}
