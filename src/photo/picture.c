/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "photo/picture.h"

#include <string.h>

#include <glib/gi18n-lib.h>

#include "photo/orientation.h"
#include "photo/srgb-table.h"

#define CHANNELS 3

/* Rows are turned upright in strips, so that a turned picture is not written one pixel a row. */
#define STRIP_ROWS 32

/* Our choice: mid-grey, L* 50, where the file is transparent and nothing can be measured. */
#define TRANSPARENT_CODE 119

/* A picture on its way from stored rows to what is seen. “Scaled” is the stored picture after scaling down. */
typedef struct
{
  SherdPhoto *photo;
  const SherdPhotoInfo *info;
  SherdSrgbTable table;
  guint factor;  /* stored pixels a side of one that is seen */
  guint phase_x; /* stored pixels missing before the first column of a block, so that blocks are whole at the */
  guint phase_y; /* upright picture's top left */
  guint scaled_width_px;
  guint scaled_height_px;
  float *linear; /* a stored row */
  guint8 *flags;
  float *sums;      /* a scaled row */
  guint8 *strip;    /* STRIP_ROWS scaled rows */
  guint8 *upright;  /* the picture */
  gssize first;     /* in @upright, of the first scaled pixel */
  gssize to_right;  /* to the next scaled pixel of the row */
  gssize downwards; /* to the one below */
} Loading;

static guint
divide_up (guint length, guint factor)
{
  return length / factor + (length % factor ? 1 : 0);
}

static guint
choose_factor (const SherdPhotoInfo *info, guint max_side_px)
{
  const guint side_px = MAX (info->width_px, info->height_px);
  guint factor = 1;

  while (max_side_px > 0 && divide_up (side_px, factor) > max_side_px)
    factor *= 2;
  return factor;
}

/* Where in the upright picture a scaled pixel goes. */
static gssize
find_offset (const Loading *loading, guint x, guint y, guint upright_width_px)
{
  double x_upright, y_upright;

  sherd_orientation_to_upright (loading->info->orientation, loading->scaled_width_px, loading->scaled_height_px,
                                x + 0.5, y + 0.5, &x_upright, &y_upright);
  return CHANNELS * ((gssize)y_upright * upright_width_px + (gssize)x_upright);
}

/* The upright picture's last column and row of blocks may be partial; where the stored picture runs the other way these
 * are its first. */
static void
init_phase (Loading *loading)
{
  double x, y;

  sherd_photo_upright_to_stored (loading->photo, 0, 0, &x, &y);
  loading->phase_x = x > 0 ? loading->scaled_width_px * loading->factor - loading->info->width_px : 0;
  loading->phase_y = y > 0 ? loading->scaled_height_px * loading->factor - loading->info->height_px : 0;
}

static gboolean
allocate (Loading *loading, SherdPicture *picture)
{
  const gsize width_px = loading->info->width_px;

  loading->linear = g_new (float, CHANNELS *width_px);
  loading->flags = g_new (guint8, width_px);
  loading->sums = g_new0 (float, CHANNELS * loading->scaled_width_px);
  loading->strip = g_new (guint8, STRIP_ROWS * CHANNELS * loading->scaled_width_px);
  loading->upright = g_try_malloc (picture->height_px * picture->stride);
  return loading->upright != NULL;
}

static gboolean
loading_init (Loading *loading, guint max_side_px, SherdPicture *picture)
{
  const SherdPhotoInfo *info = loading->info = sherd_photo_get_info (loading->photo);

  sherd_srgb_table_init (&loading->table);
  loading->factor = choose_factor (info, max_side_px);
  loading->scaled_width_px = divide_up (info->width_px, loading->factor);
  loading->scaled_height_px = divide_up (info->height_px, loading->factor);
  init_phase (loading);

  picture->width_px = divide_up (sherd_photo_get_upright_width_px (loading->photo), loading->factor);
  picture->height_px = divide_up (sherd_photo_get_upright_height_px (loading->photo), loading->factor);
  picture->stride = (gsize)CHANNELS * picture->width_px;
  loading->first = find_offset (loading, 0, 0, picture->width_px);
  loading->to_right = find_offset (loading, 1, 0, picture->width_px) - loading->first;
  loading->downwards = find_offset (loading, 0, 1, picture->width_px) - loading->first;
  return allocate (loading, picture);
}

static void
loading_clear (Loading *loading)
{
  g_clear_pointer (&loading->photo, sherd_photo_free);
  g_free (loading->linear);
  g_free (loading->flags);
  g_free (loading->sums);
  g_free (loading->strip);
  g_free (loading->upright);
}

/* The current row in linear light. */
static void
read_linear (Loading *loading)
{
  const guint width_px = loading->info->width_px;
  const guint8 *codes = sherd_photo_get_srgb_codes (loading->photo, 0);
  const float grey = loading->table.linear[TRANSPARENT_CODE];

  if (codes)
    {
      for (gsize i = 0; i < (gsize)CHANNELS * width_px; i++)
        loading->linear[i] = loading->table.linear[codes[i]];
      return;
    }
  sherd_photo_convert (loading->photo, 0, 1, width_px, loading->linear, loading->flags);
  for (gsize i = 0; i < width_px; i++)
    if (loading->flags[i] & SHERD_PIXEL_TRANSPARENT)
      for (guint c = 0; c < CHANNELS; c++)
        loading->linear[CHANNELS * i + c] = grey;
}

/* Stored columns or rows before the end of scaled one @index. */
static guint
end_of_block (guint index, guint factor, guint phase, guint length)
{
  return MIN ((index + 1) * factor - phase, length);
}

static void
add_row (Loading *loading)
{
  const float *pixel = loading->linear;
  guint x = 0;

  for (guint block = 0; block < loading->scaled_width_px; block++)
    {
      float *sum = loading->sums + (gsize)CHANNELS * block;

      for (; x < end_of_block (block, loading->factor, loading->phase_x, loading->info->width_px); x++)
        for (guint c = 0; c < CHANNELS; c++)
          sum[c] += *pixel++;
    }
}

/* The mean of each block, as codes; the sums are cleared for the next row of blocks. */
static void
encode_sums (Loading *loading, guint n_rows, guint8 *codes)
{
  guint begin = 0;

  for (guint block = 0; block < loading->scaled_width_px; block++)
    {
      const guint end = end_of_block (block, loading->factor, loading->phase_x, loading->info->width_px);
      const float share = 1.0f / (float)((end - begin) * n_rows);

      for (guint c = 0; c < CHANNELS; c++)
        *codes++ = sherd_srgb_table_encode (&loading->table, share * loading->sums[(gsize)CHANNELS * block + c]);
      begin = end;
    }
  memset (loading->sums, 0, sizeof (float) * CHANNELS * loading->scaled_width_px);
}

/* Full size: codes as they are, if the file has them. */
static void
copy_row (Loading *loading, guint8 *codes)
{
  const guint8 *stored = sherd_photo_get_srgb_codes (loading->photo, 0);
  const gsize n = (gsize)CHANNELS * loading->scaled_width_px;

  if (stored)
    {
      memcpy (codes, stored, n);
      return;
    }
  read_linear (loading);
  for (gsize i = 0; i < n; i++)
    codes[i] = sherd_srgb_table_encode (&loading->table, loading->linear[i]);
}

static gboolean
read_scaled_row (Loading *loading, guint y, guint8 *codes, GError **error)
{
  const guint begin = y == 0 ? 0 : end_of_block (y - 1, loading->factor, loading->phase_y, loading->info->height_px);
  const guint end = end_of_block (y, loading->factor, loading->phase_y, loading->info->height_px);

  for (guint row = begin; row < end; row++)
    {
      if (!sherd_photo_seek_row (loading->photo, row, error))
        return FALSE;
      if (loading->factor == 1)
        {
          copy_row (loading, codes);
          return TRUE;
        }
      read_linear (loading);
      add_row (loading);
    }
  encode_sums (loading, end - begin, codes);
  return TRUE;
}

static void
copy_pixel (guint8 *to, const guint8 *from)
{
  to[0] = from[0];
  to[1] = from[1];
  to[2] = from[2];
}

/* Puts @n_rows scaled rows, of which the first is row @y, into the upright picture, along the way its memory runs. */
static void
place_strip (Loading *loading, guint y, guint n_rows)
{
  const gsize width_px = loading->scaled_width_px;
  const gsize stride = CHANNELS * width_px;
  guint8 *first = loading->upright + loading->first + loading->downwards * (gssize)y;

  if (loading->to_right == CHANNELS)
    for (guint row = 0; row < n_rows; row++)
      memcpy (first + loading->downwards * (gssize)row, loading->strip + row * stride, stride);
  else if (loading->to_right == -CHANNELS)
    for (guint row = 0; row < n_rows; row++)
      for (gsize x = 0; x < width_px; x++)
        copy_pixel (first + loading->downwards * (gssize)row - CHANNELS * (gssize)x,
                    loading->strip + row * stride + CHANNELS * x);
  else
    for (gsize x = 0; x < width_px; x++)
      for (guint row = 0; row < n_rows; row++)
        copy_pixel (first + loading->downwards * (gssize)row + loading->to_right * (gssize)x,
                    loading->strip + row * stride + CHANNELS * x);
}

static gboolean
read_all (Loading *loading, SherdProgressFunc progress, gpointer user_data, GCancellable *cancellable, GError **error)
{
  const gsize stride = (gsize)CHANNELS * loading->scaled_width_px;

  for (guint y = 0; y < loading->scaled_height_px; y += STRIP_ROWS)
    {
      const guint n_rows = MIN (STRIP_ROWS, loading->scaled_height_px - y);

      if (g_cancellable_set_error_if_cancelled (cancellable, error))
        return FALSE;
      for (guint row = 0; row < n_rows; row++)
        if (!read_scaled_row (loading, y + row, loading->strip + row * stride, error))
          return FALSE;
      place_strip (loading, y, n_rows);
      if (progress)
        progress ((double)(y + n_rows) / loading->scaled_height_px, user_data);
    }
  return TRUE;
}

/**
 * sherd_picture_load:
 * @path: path of a photograph
 * @max_side_px: 0 for full size; else the picture is scaled down by the least power of two that makes its longer side
 *   no longer than this. A scaled pixel is the mean of its block in linear light; blocks are counted from the upright
 *   picture's top left, and those at the right and bottom edge may be partial.
 * @progress: (nullable): told the share that is done, in the calling thread
 * @user_data: for @progress
 * @cancellable: (nullable): stops the loading
 * @error: return location
 *
 * Loads a whole photograph for looking at: upright, in 8-bit sRGB, colours outside sRGB clipped, mid-grey where it is
 * transparent.
 *
 * Returns: (transfer full): the picture, or NULL with a SherdPhotoError or G_IO_ERROR_CANCELLED
 */
SherdPicture *
sherd_picture_load (const char *path,
                    guint max_side_px,
                    SherdProgressFunc progress,
                    gpointer user_data,
                    GCancellable *cancellable,
                    GError **error)
{
  g_autoptr (SherdPicture) picture = g_new0 (SherdPicture, 1);
  g_autofree Loading *loading = g_new0 (Loading, 1);
  gboolean done = FALSE;

  loading->photo = sherd_photo_open (path, error);
  if (!loading->photo)
    return NULL;
  if (loading_init (loading, max_side_px, picture))
    done = read_all (loading, progress, user_data, cancellable, error);
  else
    g_set_error (error, SHERD_PHOTO_ERROR, SHERD_PHOTO_ERROR_TOO_LARGE,
                 _ ("There is not enough memory to show a picture of %u × %u pixels. Close other programs."),
                 picture->width_px, picture->height_px);
  if (done)
    picture->pixels = g_bytes_new_take (g_steal_pointer (&loading->upright), picture->height_px * picture->stride);
  loading_clear (loading);
  return done ? g_steal_pointer (&picture) : NULL;
}

/* Four pixels, or at an odd edge two or one of them twice or four times. */
static void
halve_row (const SherdSrgbTable *table, const guint8 *upper, const guint8 *lower, guint width_px, guint8 *codes)
{
  for (guint x = 0; x < width_px; x += 2)
    {
      const gsize left = (gsize)CHANNELS * x;
      const gsize right = x + 1 < width_px ? left + CHANNELS : left;

      for (guint c = 0; c < CHANNELS; c++)
        *codes++ = sherd_srgb_table_encode (table, (table->linear[upper[left + c]] + table->linear[upper[right + c]] +
                                                    table->linear[lower[left + c]] + table->linear[lower[right + c]]) /
                                                     4);
    }
}

/**
 * sherd_picture_halve:
 * @picture: a picture
 *
 * Makes a picture of half the size, each pixel the mean of four in linear light. The last column or row of an odd size
 * becomes a pixel of its own.
 *
 * Returns: (transfer full): the smaller picture
 */
SherdPicture *
sherd_picture_halve (const SherdPicture *picture)
{
  SherdPicture *half = g_new0 (SherdPicture, 1);
  g_autofree SherdSrgbTable *table = g_new (SherdSrgbTable, 1);
  const guint8 *pixels = g_bytes_get_data (picture->pixels, NULL);
  guint8 *codes;

  half->width_px = divide_up (picture->width_px, 2);
  half->height_px = divide_up (picture->height_px, 2);
  half->stride = (gsize)CHANNELS * half->width_px;
  codes = g_malloc (half->height_px * half->stride);
  sherd_srgb_table_init (table);
  for (guint y = 0; y < half->height_px; y++)
    {
      const guint8 *upper = pixels + 2 * y * picture->stride;
      const guint8 *lower = 2 * y + 1 < picture->height_px ? upper + picture->stride : upper;

      halve_row (table, upper, lower, picture->width_px, codes + y * half->stride);
    }
  half->pixels = g_bytes_new_take (codes, half->height_px * half->stride);
  return half;
}

/**
 * sherd_picture_free:
 * @picture: (nullable) (transfer full): a picture
 */
void
sherd_picture_free (SherdPicture *picture)
{
  if (!picture)
    return;
  g_clear_pointer (&picture->pixels, g_bytes_unref);
  g_free (picture);
}
