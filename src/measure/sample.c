/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/sample.h"

#include "measure/spans.h"

#include <math.h>
#include <string.h>

#define ROWS_BETWEEN_REPORTS 64

static void
clear_sample (gpointer data)
{
  SherdSample *sample = data;

  g_free (sample->linear_rgb);
  g_free (sample->x_px);
  g_free (sample->y_px);
  g_free (sample->flags);
}

static SherdOutline *
outline_as_stored (const SherdPhoto *photo, const SherdOutline *outline_px)
{
  SherdOutline *stored = sherd_outline_copy (outline_px);

  for (gsize i = 0; i < stored->n_points; i++)
    sherd_photo_upright_to_stored (photo, outline_px->points[i].x, outline_px->points[i].y, &stored->points[i].x,
                                   &stored->points[i].y);
  return stored;
}

static void
allocate_samples (GArray *samples, const GArray *spans)
{
  g_autofree gsize *n = g_new0 (gsize, samples->len + 1);

  for (guint i = 0; i < spans->len; i++)
    n[g_array_index (spans, SherdSpan, i).region] += g_array_index (spans, SherdSpan, i).n;
  for (guint region = 0; region < samples->len; region++)
    {
      SherdSample *sample = &g_array_index (samples, SherdSample, region);

      sample->linear_rgb = g_new (float, 3 * n[region] + 1);
      sample->x_px = g_new (float, n[region] + 1);
      sample->y_px = g_new (float, n[region] + 1);
      sample->flags = g_new (guint8, n[region] + 1);
    }
}

/* Share of the outline's area that lies within the photograph. */
static double
inside_frac (const SherdOutline *stored, const SherdPhotoInfo *info)
{
  const SherdLine sides[] = { { 1, 0, 0 }, { -1, 0, info->width_px }, { 0, 1, 0 }, { 0, -1, info->height_px } };
  g_autoptr (SherdOutline) inside = sherd_outline_copy (stored);
  const double area = sherd_outline_area (stored);

  for (guint i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      SherdOutline *clipped = sherd_outline_clip (inside, &sides[i]);

      sherd_outline_free (inside);
      inside = clipped;
    }
  return area > 0 ? sherd_outline_area (inside) / area : 0;
}

static GArray *
plan (SherdPhoto *photo, const SherdSampleRegion *regions, gsize n_regions, GArray *spans)
{
  const SherdPhotoInfo *info = sherd_photo_get_info (photo);
  GArray *samples = g_array_sized_new (FALSE, TRUE, sizeof (SherdSample), (guint)n_regions);

  g_array_set_clear_func (samples, clear_sample);
  g_array_set_size (samples, (guint)n_regions);
  for (guint region = 0; region < n_regions; region++)
    {
      SherdSample *sample = &g_array_index (samples, SherdSample, region);
      g_autoptr (SherdOutline) stored = outline_as_stored (photo, regions[region].outline_px);

      sample->n_in_photo =
        (double)sherd_spans_add (spans, region, stored, info->width_px, info->height_px, regions[region].n_most);
      sample->inside_frac = inside_frac (stored, info);
    }
  allocate_samples (samples, spans);
  return samples;
}

static void
limit_columns (SherdPhoto *photo, const GArray *spans)
{
  guint first = G_MAXUINT, last = 0;

  for (guint i = 0; i < spans->len; i++)
    {
      const SherdSpan *span = &g_array_index (spans, SherdSpan, i);

      first = MIN (first, span->x_px);
      last = MAX (last, span->x_px + (span->n - 1) * span->step_px);
    }
  if (first <= last)
    sherd_photo_limit_columns (photo, first, last);
}

/* The upright photograph is the stored one turned or mirrored, so the pixels of a span lie evenly on a line there. */
static void
set_places (const SherdPhoto *photo, const SherdSpan *span, float *x_px, float *y_px)
{
  double x, y, next_x, next_y;

  sherd_photo_stored_to_upright (photo, span->x_px + 0.5, span->row_px + 0.5, &x, &y);
  sherd_photo_stored_to_upright (photo, span->x_px + span->step_px + 0.5, span->row_px + 0.5, &next_x, &next_y);
  for (guint k = 0; k < span->n; k++)
    {
      x_px[k] = (float)(x + k * (next_x - x));
      y_px[k] = (float)(y + k * (next_y - y));
    }
}

static void
read_span (SherdPhoto *photo, const SherdSpan *span, SherdSample *sample)
{
  sherd_photo_convert (photo, span->x_px, span->step_px, span->n, sample->linear_rgb + 3 * sample->n,
                       sample->flags + sample->n);
  set_places (photo, span, sample->x_px + sample->n, sample->y_px + sample->n);
  sample->n += span->n;
}

static guint
find_last_row (const GArray *spans)
{
  return spans->len > 0 ? g_array_index (spans, SherdSpan, spans->len - 1).row_px : 0;
}

/**
 * sherd_sample_photo:
 * @photo: just opened
 * @regions: (array length=n_regions): in the upright photograph
 *
 * @progress: (nullable): told from time to time, from 0 to 1
 * @cancellable: (nullable): asked before each row
 *
 * Reads the pixels of all regions in one pass from the first row to the last, so that a thousand regions cost little
 * more than ten. Pixels outside the photograph are left out; @inside_frac tells how much of the region is not.
 *
 * Returns: (transfer full) (nullable): GArray of SherdSample, or %NULL with the photo room's error or
 * G_IO_ERROR_CANCELLED
 */
GArray *
sherd_sample_photo (SherdPhoto *photo,
                    const SherdSampleRegion *regions,
                    gsize n_regions,
                    SherdProgressFunc progress,
                    gpointer user_data,
                    GCancellable *cancellable,
                    GError **error)
{
  g_autoptr (GArray) spans = sherd_spans_new ();
  g_autoptr (GArray) samples = plan (photo, regions, n_regions, spans);
  guint last_row, row = G_MAXUINT;

  sherd_spans_sort (spans);
  limit_columns (photo, spans);
  last_row = find_last_row (spans);
  for (guint i = 0; i < spans->len; i++)
    {
      const SherdSpan *span = &g_array_index (spans, SherdSpan, i);

      if (span->row_px != row)
        {
          if (g_cancellable_set_error_if_cancelled (cancellable, error) ||
              !sherd_photo_seek_row (photo, span->row_px, error))
            return NULL;
          if (progress && span->row_px / ROWS_BETWEEN_REPORTS != row / ROWS_BETWEEN_REPORTS)
            progress (span->row_px / (last_row + 1.0), user_data);
          row = span->row_px;
        }
      read_span (photo, span, &g_array_index (samples, SherdSample, span->region));
    }
  if (progress)
    progress (1, user_data);
  return g_steal_pointer (&samples);
}
