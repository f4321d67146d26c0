/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What reading the pixels of zones costs, as CPU time: finding their spans, and sampling them from a JPEG of 24
 * megapixels made in memory, with 10, 24 and 1,000 zones. The unit is the time in which plain libjpeg decodes the same
 * file in the same run. */
#include "config.h"

#include <stdlib.h>
#include <time.h>

#include "measure/sample.h"
#include "measure/spans.h"

#include "../photo/fixtures.h"

#define WIDTH_PX 6000u
#define HEIGHT_PX 4000u
#define N_ROUNDS 7u

/* Samples wanted of a face and of all its zones together: those of a measurement. */
#define FACE_SAMPLES 36000u
#define ZONE_SAMPLES 90000u

static double
cpu_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return 1e3 * (double)now.tv_sec + 1e-6 * (double)now.tv_nsec;
}

static int
compare (const void *a, const void *b)
{
  const double difference = *(const double *)a - *(const double *)b;

  return (difference > 0) - (difference < 0);
}

static double
median (double values[N_ROUNDS])
{
  qsort (values, N_ROUNDS, sizeof (double), compare);
  return values[N_ROUNDS / 2];
}

/* A face that fills nine tenths of the photograph and, on it, a grid of zones with gaps, all slightly askew. */
static SherdOutline *
new_askew (double x, double y, double width, double height)
{
  SherdOutline *outline = sherd_outline_new_rectangle (x, y, width, height);

  for (gsize i = 0; i < outline->n_points; i++)
    outline->points[i].y += 0.02 * outline->points[i].x;
  return outline;
}

static void
clear_region (gpointer data)
{
  sherd_outline_free (((SherdSampleRegion *)data)->outline_px);
}

static GArray *
new_regions (guint n_columns, guint n_rows)
{
  GArray *regions = g_array_new (FALSE, FALSE, sizeof (SherdSampleRegion));
  const double width = 5400.0 / n_columns, height = 3600.0 / n_rows;
  SherdSampleRegion region = { new_askew (300, 100, 5400, 3600), FACE_SAMPLES };

  g_array_set_clear_func (regions, clear_region);
  g_array_append_val (regions, region);
  for (guint i = 0; i < n_columns * n_rows; i++)
    {
      const guint column = i % n_columns, row = i / n_columns;

      region.outline_px =
        new_askew (300 + (column + 0.1) * width, 100 + (row + 0.1) * height, 0.8 * width, 0.8 * height);
      region.n_most = ZONE_SAMPLES / (n_columns * n_rows);
      g_array_append_val (regions, region);
    }
  return regions;
}

static GBytes *
new_jpeg (void)
{
  const FixtureJpeg description = { .width = WIDTH_PX, .height = HEIGHT_PX, .space = JCS_RGB, .h = 2, .v = 2 };
  g_autofree guint16 *samples = fixture_samples (WIDTH_PX, HEIGHT_PX, 3, 8, 1);

  return fixture_jpeg (&description, samples);
}

static double
decode_ms (GBytes *jpeg)
{
  double times[N_ROUNDS];

  for (guint i = 0; i < N_ROUNDS; i++)
    {
      const double start = cpu_ms ();
      guint channels;
      G_GNUC_UNUSED g_autofree guint8 *pixels = fixture_decode_jpeg (jpeg, &channels);

      times[i] = cpu_ms () - start;
    }
  return median (times);
}

static double
spans_ms (const GArray *regions)
{
  double times[N_ROUNDS];

  for (guint i = 0; i < N_ROUNDS; i++)
    {
      const double start = cpu_ms ();
      g_autoptr (GArray) spans = sherd_spans_new ();

      for (guint k = 0; k < regions->len; k++)
        {
          const SherdSampleRegion *region = &g_array_index (regions, SherdSampleRegion, k);

          sherd_spans_add (spans, k, region->outline_px, WIDTH_PX, HEIGHT_PX, region->n_most);
        }
      sherd_spans_sort (spans);
      times[i] = cpu_ms () - start;
    }
  return median (times);
}

static double
sample_ms (GBytes *jpeg, const GArray *regions)
{
  double times[N_ROUNDS];

  for (guint i = 0; i < N_ROUNDS; i++)
    {
      const double start = cpu_ms ();
      g_autoptr (SherdPhoto) photo = sherd_photo_open_bytes (jpeg, "made here", NULL);
      G_GNUC_UNUSED g_autoptr (GArray) samples = sherd_sample_photo (
        photo, (const SherdSampleRegion *)(gconstpointer)regions->data, regions->len, NULL, NULL, NULL, NULL);

      times[i] = cpu_ms () - start;
    }
  return median (times);
}

int
main (void)
{
  const guint layouts[][2] = { { 5, 2 }, { 6, 4 }, { 40, 25 } };
  g_autoptr (GBytes) jpeg = new_jpeg ();
  const double decode = decode_ms (jpeg);

  g_print ("24 megapixels, %.1f MB; plain decoding %.0f ms\n", (double)g_bytes_get_size (jpeg) / 1e6, decode);
  for (guint i = 0; i < G_N_ELEMENTS (layouts); i++)
    {
      g_autoptr (GArray) regions = new_regions (layouts[i][0], layouts[i][1]);
      const double spans = spans_ms (regions), sample = sample_ms (jpeg, regions);

      g_print ("%5u zones: spans %6.2f ms (%.3f), sampling %6.0f ms (%.3f of decoding)\n", regions->len - 1, spans,
               spans / decode, sample, sample / decode);
    }
  return 0;
}
