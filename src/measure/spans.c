/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/spans.h"

#include <math.h>
#include <stdlib.h>

GArray *
sherd_spans_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (SherdSpan));
}

static int
compare_crossings (gconstpointer a, gconstpointer b)
{
  const double difference = *(const double *)a - *(const double *)b;

  return (difference > 0) - (difference < 0);
}

/* Where the outline crosses the line through the middles of row @row_px, from left to right. */
static gsize
row_crossings (const SherdOutline *outline, guint row_px, double *crossings)
{
  const double y = row_px + 0.5;
  gsize n = 0;

  for (gsize i = 0; i < outline->n_points; i++)
    {
      const SherdPoint a = outline->points[i], b = outline->points[(i + 1) % outline->n_points];

      /* Half-open, so that a corner on the line counts once. */
      if ((a.y <= y) != (b.y <= y))
        crossings[n++] = a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);
    }
  qsort (crossings, n, sizeof *crossings, compare_crossings);
  return n;
}

/* First column whose middle lies at or right of @x, kept inside the photograph. */
static guint
column_from (double x, guint width_px)
{
  return (guint)CLAMP (ceil (x - 0.5), 0, (double)width_px);
}

static guint
round_up (guint at, guint step)
{
  return (at + step - 1) / step * step;
}

static gsize
add_row (GArray *spans, SherdSpan span, const double *crossings, gsize n_crossings, guint width_px)
{
  gsize n = 0;

  for (gsize k = 0; k + 1 < n_crossings; k += 2)
    {
      const guint end = column_from (crossings[k + 1], width_px);

      span.x_px = round_up (column_from (crossings[k], width_px), span.step_px);
      if (span.x_px >= end)
        continue;
      span.n = (end - span.x_px - 1) / span.step_px + 1;
      g_array_append_val (spans, span);
      n += span.n;
    }
  return n;
}

static void
vertical_reach (const SherdOutline *outline, double *top, double *bottom)
{
  *top = INFINITY;
  *bottom = -INFINITY;
  for (gsize i = 0; i < outline->n_points; i++)
    {
      *top = MIN (*top, outline->points[i].y);
      *bottom = MAX (*bottom, outline->points[i].y);
    }
}

/**
 * sherd_spans_add:
 * @spans: of sherd_spans_new()
 * @region: number to carry
 * @outline_px: in the photograph as stored
 * @n_most: about how many pixels are wanted; a larger region is read on an even lattice of every n-th row and column
 *
 * Scan lines of a polygon (the even–odd rule): pixels whose middle lies inside, those outside the photograph left out.
 *
 * Returns: about how many pixels of the photograph the region covers
 */
double
sherd_spans_add (GArray *spans,
                 guint region,
                 const SherdOutline *outline_px,
                 guint width_px,
                 guint height_px,
                 gsize n_most)
{
  const double area = fabs (sherd_outline_area (outline_px));
  const double pixels_each = MAX (area / (double)MAX (n_most, 1), 1);
  const guint step = (guint)CLAMP (floor (sqrt (pixels_each)), 1, 10000);
  const guint row_step = (guint)CLAMP (ceil (pixels_each / step), 1, 10000);
  g_autofree double *crossings = g_new (double, outline_px->n_points + 1);
  double top, bottom;
  gsize n = 0;

  vertical_reach (outline_px, &top, &bottom);
  if (!(bottom > 0) || !(top < height_px))
    return 0;
  for (guint row = round_up ((guint)MAX (top, 0), row_step); row < MIN (bottom, (double)height_px); row += row_step)
    {
      const SherdSpan span = { .row_px = row, .region = region, .step_px = step };

      n += add_row (spans, span, crossings, row_crossings (outline_px, row, crossings), width_px);
    }
  return (double)n * step * row_step;
}

static int
compare_spans (gconstpointer a, gconstpointer b)
{
  const SherdSpan *first = a, *second = b;

  if (first->row_px != second->row_px)
    return first->row_px < second->row_px ? -1 : 1;
  if (first->region != second->region)
    return first->region < second->region ? -1 : 1;
  return (first->x_px > second->x_px) - (first->x_px < second->x_px);
}

/* From top to bottom, as a photograph is read. */
void
sherd_spans_sort (GArray *spans)
{
  g_array_sort (spans, compare_spans);
}
