/* SPDX-License-Identifier: GPL-3.0-or-later */

/* How much reading a 24-megapixel JPEG as linear light costs beside decoding it with plain libjpeg from memory, which
 * is its fastest way; both in this run, on a file made here with the noise and sampling of a camera. CPU time, the
 * least of several rounds. */
#include "config.h"

#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <time.h>

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <jpeglib.h>

#include "photo/picture.h"

#define WIDTH_PX 6000u
#define HEIGHT_PX 4000u
#define ROUNDS 3u

typedef void (*Work) (const char *path, GBytes *bytes);

/* Smooth shading, an edge now and then, and noise of some codes. */
static void
fill_row (guint8 *row, guint y, guint32 *noise)
{
  for (guint x = 0; x < WIDTH_PX; x++)
    {
      const int shade = 60 + (int)(x / 50) + (int)(30 * sin (y * 0.002)) + ((x / 400 + y / 300) % 3 == 0 ? 40 : 0);

      for (guint c = 0; c < 3; c++)
        {
          *noise = *noise * 1664525u + 1013904223u;
          row[3 * x + c] = (guint8)CLAMP (shade + (int)c * 8 + (int)(*noise >> 28) - 8, 0, 255);
        }
    }
}

static GBytes *
make_jpeg (void)
{
  struct jpeg_compress_struct jpeg;
  struct jpeg_error_mgr errors;
  unsigned char *data = NULL;
  unsigned long n_bytes = 0;
  guint32 noise = 1;
  g_autofree guint8 *row = g_malloc (3 * WIDTH_PX);

  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_compress (&jpeg);
  jpeg_mem_dest (&jpeg, &data, &n_bytes);
  jpeg.image_width = WIDTH_PX;
  jpeg.image_height = HEIGHT_PX;
  jpeg.input_components = 3;
  jpeg.in_color_space = JCS_RGB;
  jpeg_set_defaults (&jpeg);
  jpeg_set_quality (&jpeg, 93, TRUE);
  jpeg_start_compress (&jpeg, TRUE);
  for (guint y = 0; y < HEIGHT_PX; y++)
    {
      JSAMPROW rows[] = { row };

      fill_row (row, y, &noise);
      jpeg_write_scanlines (&jpeg, rows, 1);
    }
  jpeg_finish_compress (&jpeg);
  jpeg_destroy_compress (&jpeg);
  return g_bytes_new_with_free_func (data, n_bytes, free, data);
}

static void
decode_plain (const char *path, GBytes *bytes)
{
  struct jpeg_decompress_struct jpeg;
  struct jpeg_error_mgr errors;
  g_autofree guint8 *row = g_malloc (3 * WIDTH_PX);

  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_decompress (&jpeg);
  jpeg_mem_src (&jpeg, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  jpeg_read_header (&jpeg, TRUE);
  jpeg_start_decompress (&jpeg);
  while (jpeg.output_scanline < jpeg.output_height)
    {
      JSAMPROW rows[] = { row };

      jpeg_read_scanlines (&jpeg, rows, 1);
    }
  jpeg_finish_decompress (&jpeg);
  jpeg_destroy_decompress (&jpeg);
}

/* Every @row_step-th row between the first and last of the middle @part of the picture, every @column_step-th pixel. */
static void
read_part (const char *path, double part, guint row_step, guint column_step)
{
  g_autoptr (SherdPhoto) photo = sherd_photo_open (path, NULL);
  g_autofree float *linear = g_new (float, 3 * WIDTH_PX);
  g_autofree guint8 *flags = g_new (guint8, WIDTH_PX);
  const guint left = (guint)(WIDTH_PX * (1 - part) / 2), top = (guint)(HEIGHT_PX * (1 - part) / 2);
  const gsize n = (WIDTH_PX - 2 * left) / column_step;

  sherd_photo_limit_columns (photo, left, WIDTH_PX - 1 - left);
  for (guint y = top; y < HEIGHT_PX - top; y += row_step)
    if (sherd_photo_seek_row (photo, y, NULL))
      sherd_photo_convert (photo, left, column_step, n, linear, flags);
}

static void
seek_all_rows (const char *path, GBytes *bytes)
{
  g_autoptr (SherdPhoto) photo = sherd_photo_open (path, NULL);

  for (guint y = 0; y < HEIGHT_PX; y++)
    sherd_photo_seek_row (photo, y, NULL);
}

static void
convert_every_pixel (const char *path, GBytes *bytes)
{
  read_part (path, 1, 1, 1);
}

static void
convert_a_sample (const char *path, GBytes *bytes)
{
  read_part (path, 1, 2, 4);
}

static void
convert_middle (const char *path, GBytes *bytes)
{
  read_part (path, 0.5, 1, 1);
}

static void
load_picture (const char *path, GBytes *bytes)
{
  sherd_picture_free (sherd_picture_load (path, 0, NULL, NULL, NULL, NULL));
}

static void
load_small_picture (const char *path, GBytes *bytes)
{
  sherd_picture_free (sherd_picture_load (path, 1500, NULL, NULL, NULL, NULL));
}

static double
cpu_s (Work work, const char *path, GBytes *bytes)
{
  double least_s = INFINITY;

  for (guint round = 0; round < ROUNDS; round++)
    {
      const clock_t begin = clock ();

      work (path, bytes);
      least_s = MIN (least_s, (double)(clock () - begin) / CLOCKS_PER_SEC);
    }
  return least_s;
}

int
main (void)
{
  static const struct
  {
    const char *name;
    Work work;
  } works[] = {
    { "seek every row", seek_all_rows },
    { "convert every pixel", convert_every_pixel },
    { "convert each 4th pixel of each 2nd row", convert_a_sample },
    { "convert the middle quarter", convert_middle },
    { "load the whole picture", load_picture },
    { "load it scaled to 1500 px", load_small_picture },
  };
  g_autoptr (GBytes) bytes = make_jpeg ();
  g_autofree char *folder = g_dir_make_tmp (NULL, NULL);
  g_autofree char *path = g_build_filename (folder, "24.jpg", NULL);
  const double plain_s = cpu_s (decode_plain, NULL, bytes);

  setlocale (LC_ALL, "");
  g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize)g_bytes_get_size (bytes), NULL);
  g_print ("%u × %u pixels, %.1f MB; plain decoding %.3f s CPU\n", WIDTH_PX, HEIGHT_PX,
           (double)g_bytes_get_size (bytes) / 1e6, plain_s);
  for (guint i = 0; i < G_N_ELEMENTS (works); i++)
    {
      const double work_s = cpu_s (works[i].work, path, bytes);

      g_print ("%-40s %.3f s CPU, %.2f × plain decoding\n", works[i].name, work_s, work_s / plain_s);
    }
  g_remove (path);
  g_rmdir (folder);
  return 0;
}
