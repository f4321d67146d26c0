/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What measuring costs, on pictures made here: time as a ratio to decoding the same files with bare libjpeg in the same
 * run, and peak memory. Prints lines "name value aim". With other work on the machine trust the CPU times; the wall
 * time needs two idle cores. */
#include "config.h"

#include <glib/gstdio.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include <jpeglib.h>

#include "tile-picture.h"

#define N_ROUNDS 5u

static const TilePicture unfired = { 6000, 4000, 4, 6, FALSE }, fired = { 6000, 4000, 4, 6, TRUE };
static const TilePicture few = { 6000, 4000, 2, 5, TRUE }, many = { 6000, 4000, 25, 40, TRUE };
static const TilePicture large = { 12300, 8200, 4, 6, TRUE };

static double
ms_of (clockid_t clock)
{
  struct timespec now;

  clock_gettime (clock, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static int
compare (const void *a, const void *b)
{
  const double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static double
median (double values[N_ROUNDS])
{
  qsort (values, N_ROUNDS, sizeof *values, compare);
  return values[N_ROUNDS / 2];
}

static void
print_figure (const char *name, double value, const char *aim)
{
  g_print ("%-28s %7.2f  %s\n", name, value, aim);
}

static void
decode (const char *path)
{
  struct jpeg_decompress_struct jpeg;
  struct jpeg_error_mgr errors;
  FILE *file = fopen (path, "rb");
  JSAMPROW row;

  g_return_if_fail (file != NULL);
  jpeg.err = jpeg_std_error (&errors);
  jpeg_create_decompress (&jpeg);
  jpeg_stdio_src (&jpeg, file);
  jpeg_read_header (&jpeg, TRUE);
  jpeg_start_decompress (&jpeg);
  row = g_malloc (3 * (gsize)jpeg.output_width);
  while (jpeg.output_scanline < jpeg.output_height)
    jpeg_read_scanlines (&jpeg, &row, 1);
  jpeg_finish_decompress (&jpeg);
  jpeg_destroy_decompress (&jpeg);
  g_free (row);
  fclose (file);
}

/* A photograph that is not measured, or measured wrong, must not count as fast. */
static void
measure (const TileRequest *tile)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPhotoMeasurement) measured = sherd_measure_photo (&tile->request, NULL, NULL, NULL, &error);
  gsize n_coloured = 0;

  if (measured == NULL)
    g_error ("%s", error->message);
  for (gsize i = 0; i < measured->n_zones; i++)
    n_coloured += sherd_zone_colour_is_measured (&measured->zones[i]) != FALSE;
  if (10 * n_coloured < 9 * measured->n_zones)
    g_error ("Only %zu of %zu zones were measured in %s", n_coloured, measured->n_zones, tile->path);
}

typedef struct
{
  const TileRequest *tile;
  double cpu_ms;
} Half;

static gpointer
measure_half (gpointer data)
{
  Half *half = data;
  const double start = ms_of (CLOCK_THREAD_CPUTIME_ID);

  measure (half->tile);
  half->cpu_ms = ms_of (CLOCK_THREAD_CPUTIME_ID) - start;
  return NULL;
}

typedef struct
{
  double cpu_ms;
  double wall_ms;
  double longer_ms; /* CPU time of the longer of two threads */
} Cost;

static Cost
decode_pair (TileRequest *const pair[2])
{
  const double cpu = ms_of (CLOCK_PROCESS_CPUTIME_ID), wall = ms_of (CLOCK_MONOTONIC);

  decode (pair[0]->path);
  decode (pair[1]->path);
  return (Cost){ ms_of (CLOCK_PROCESS_CPUTIME_ID) - cpu, ms_of (CLOCK_MONOTONIC) - wall, 0 };
}

/* In two threads, as the programs do. */
static Cost
measure_pair (TileRequest *const pair[2])
{
  const double cpu = ms_of (CLOCK_PROCESS_CPUTIME_ID), wall = ms_of (CLOCK_MONOTONIC);
  Half halves[2] = { { pair[0], 0 }, { pair[1], 0 } };
  GThread *other = g_thread_new ("other", measure_half, &halves[1]);

  measure_half (&halves[0]);
  g_thread_join (other);
  return (Cost){ ms_of (CLOCK_PROCESS_CPUTIME_ID) - cpu, ms_of (CLOCK_MONOTONIC) - wall,
                 MAX (halves[0].cpu_ms, halves[1].cpu_ms) };
}

static TileRequest *
new_jpeg (const char *folder, const char *name, const TilePicture *picture)
{
  g_autofree char *path = g_build_filename (folder, name, NULL);

  if (!tile_picture_write_jpeg (picture, path))
    g_error ("%s could not be written", path);
  return tile_request_new (picture, path);
}

static void
remove_picture (TileRequest *tile)
{
  g_unlink (tile->path);
  tile_request_free (tile);
}

static void
bench_pair (const char *folder)
{
  TileRequest *pair[2] = { new_jpeg (folder, "unfired.jpg", &unfired), new_jpeg (folder, "fired.jpg", &fired) };
  double cpu[N_ROUNDS], wall[N_ROUNDS], longer[N_ROUNDS];

  for (guint i = 0; i < N_ROUNDS; i++)
    {
      const Cost bare = decode_pair (pair), measured = measure_pair (pair);

      cpu[i] = measured.cpu_ms / bare.cpu_ms;
      wall[i] = measured.wall_ms / bare.wall_ms;
      longer[i] = measured.longer_ms / bare.cpu_ms;
    }
  print_figure ("pair-cpu-to-decoding", median (cpu), "≤ 1.2");
  print_figure ("pair-wall-to-decoding", median (wall), "< 1");
  print_figure ("pair-longer-thread-cpu", median (longer), "< 1");
  remove_picture (pair[0]);
  remove_picture (pair[1]);
}

static void
bench_zones (const char *folder)
{
  TileRequest *tiles[2] = { new_jpeg (folder, "few.jpg", &few), new_jpeg (folder, "many.jpg", &many) };
  double ratio[N_ROUNDS], decoding[N_ROUNDS];

  for (guint i = 0; i < N_ROUNDS; i++)
    {
      double spent[2], bare[2];

      for (guint k = 0; k < 2; k++)
        {
          double start = ms_of (CLOCK_PROCESS_CPUTIME_ID);

          measure (tiles[k]);
          spent[k] = ms_of (CLOCK_PROCESS_CPUTIME_ID) - start;
          start = ms_of (CLOCK_PROCESS_CPUTIME_ID);
          decode (tiles[k]->path);
          bare[k] = ms_of (CLOCK_PROCESS_CPUTIME_ID) - start;
        }
      ratio[i] = spent[1] / spent[0];
      decoding[i] = bare[1] / bare[0];
    }
  print_figure ("1000-to-10-zones", median (ratio), "≤ 1.1");
  print_figure ("1000-to-10-zones-decoding", median (decoding), "(the pictures differ by as much)");
  remove_picture (tiles[0]);
  remove_picture (tiles[1]);
}

/* The kernel's high-water mark of this process. */
static void
print_peak_kb (void)
{
  g_autofree char *status = NULL;
  const char *peak = NULL;

  if (g_file_get_contents ("/proc/self/status", &status, NULL, NULL))
    peak = strstr (status, "VmHWM:");
  if (peak == NULL)
    g_error ("/proc/self/status does not tell the peak");
  g_print ("%.0f\n", g_ascii_strtod (peak + strlen ("VmHWM:"), NULL));
}

static const TilePicture *
picture_named (const char *name)
{
  return g_str_equal (name, "100-megapixels") ? &large : &fired;
}

static void
measure_alone (const char *name, const char *path)
{
  g_autoptr (TileRequest) tile = tile_request_new (picture_named (name), path);

  measure (tile);
  print_peak_kb ();
}

static void
bench_peak (const char *self, const char *folder, const char *picture, gboolean png)
{
  g_autofree char *path = g_build_filename (folder, png ? "peak.png" : "peak.jpg", NULL);
  g_autofree char *figure = g_strdup_printf ("peak-%s-%s-MB", png ? "png" : "jpeg", picture);
  const char *const words[] = { self, "--peak", picture, path, NULL };
  g_autofree char *printed = NULL;
  g_autoptr (GError) error = NULL;
  const TilePicture *made = picture_named (picture);

  if (!(png ? tile_picture_write_png (made, path) : tile_picture_write_jpeg (made, path)))
    g_error ("%s could not be written", path);
  if (!g_spawn_sync (NULL, (char **)words, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &printed, NULL, NULL, &error))
    g_error ("%s", error->message);
  print_figure (figure, g_ascii_strtod (printed, NULL) / 1024, "< 300");
  g_unlink (path);
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = NULL;
  double load[3] = { 0 };

  setlocale (LC_ALL, "");

  if (argc == 4 && g_str_equal (argv[1], "--peak"))
    {
      measure_alone (argv[2], argv[3]);
      return EXIT_SUCCESS;
    }
  folder = g_dir_make_tmp (NULL, NULL);
  getloadavg (load, 3);
  g_print ("# %u processors, load %.1f\n", g_get_num_processors (), load[0]);
  bench_pair (folder);
  bench_zones (folder);
  for (guint i = 0; i < 4; i++)
    bench_peak (argv[0], folder, i < 2 ? "24-megapixels" : "100-megapixels", i % 2 != 0);
  g_rmdir (folder);
  return EXIT_SUCCESS;
}
