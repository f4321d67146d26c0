/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/ground.h"

#include "measure/spans.h"

#include <gsl/gsl_statistics.h>
#include <math.h>
#include <string.h>

/* Our choice: fine enough for the margin round a zone, coarse enough to cost nothing. */
#define MASK_CELLS 400
#define LEAST_MASK_STEP_MM 0.25
/* Cells of 5 mm, larger on a large face so that there are never more than about this many. */
#define CELL_MM 5.0
#define MOST_CELLS 600.0
#define LEAST_CELL_PIXELS 12

static double
square_to_edge (SherdPoint a, SherdPoint b, SherdPoint p)
{
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double square = dx * dx + dy * dy;
  const double t = square > 0 ? CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0, 1) : 0;
  const double x = p.x - a.x - t * dx, y = p.y - a.y - t * dy;

  return x * x + y * y;
}

static guint
raster_index (double at_mm, double step_mm, guint n)
{
  return (guint)CLAMP (floor (at_mm / step_mm), 0, (double)n - 1);
}

/* Cells whose middle lies inside. */
static void
cover_inside (SherdGroundMask *mask, const SherdOutline *outline)
{
  g_autoptr (SherdOutline) in_cells = sherd_outline_copy (outline);
  g_autoptr (GArray) spans = sherd_spans_new ();

  for (gsize i = 0; i < outline->n_points; i++)
    in_cells->points[i] = (SherdPoint){ outline->points[i].x / mask->step_mm, outline->points[i].y / mask->step_mm };
  sherd_spans_add (spans, 0, in_cells, mask->n_columns, mask->n_rows, G_MAXSIZE);
  for (guint i = 0; i < spans->len; i++)
    {
      const SherdSpan *span = &g_array_index (spans, SherdSpan, i);

      memset (mask->bare + (gsize)span->row_px * mask->n_columns + span->x_px, 0, span->n);
    }
}

/* Cells whose middle lies within @margin_mm of an edge. */
static void
cover_edge (SherdGroundMask *mask, SherdPoint a, SherdPoint b, double margin_mm)
{
  const guint first_column = raster_index (MIN (a.x, b.x) - margin_mm, mask->step_mm, mask->n_columns);
  const guint last_column = raster_index (MAX (a.x, b.x) + margin_mm, mask->step_mm, mask->n_columns);
  const guint last_row = raster_index (MAX (a.y, b.y) + margin_mm, mask->step_mm, mask->n_rows);

  for (guint row = raster_index (MIN (a.y, b.y) - margin_mm, mask->step_mm, mask->n_rows); row <= last_row; row++)
    for (guint column = first_column; column <= last_column; column++)
      {
        const SherdPoint middle = { (column + 0.5) * mask->step_mm, (row + 0.5) * mask->step_mm };
        guint8 *bare = &mask->bare[row * mask->n_columns + column];

        *bare = *bare && square_to_edge (a, b, middle) >= margin_mm * margin_mm;
      }
}

static void
cover_zone (SherdGroundMask *mask, const SherdOutline *outline, double margin_mm)
{
  cover_inside (mask, outline);
  for (gsize i = 0; i < outline->n_points; i++)
    cover_edge (mask, outline->points[i > 0 ? i - 1 : outline->n_points - 1], outline->points[i], margin_mm);
}

/**
 * sherd_ground_mask_new:
 * @zones: painted zones cover the ground; bare controls do not
 * @margin_mm: kept free round a zone and along the edges of the face, for hand-painted edges waver
 */
SherdGroundMask *
sherd_ground_mask_new (double width_mm,
                       double height_mm,
                       const SherdMeasureZone *zones,
                       gsize n_zones,
                       double margin_mm)
{
  SherdGroundMask *mask = g_new0 (SherdGroundMask, 1);

  mask->step_mm = MAX (LEAST_MASK_STEP_MM, MAX (width_mm, height_mm) / MASK_CELLS);
  mask->n_columns = (guint)ceil (width_mm / mask->step_mm);
  mask->n_rows = (guint)ceil (height_mm / mask->step_mm);
  mask->bare = g_new (guint8, (gsize)mask->n_columns * mask->n_rows);
  for (guint row = 0; row < mask->n_rows; row++)
    for (guint column = 0; column < mask->n_columns; column++)
      {
        const double x = (column + 0.5) * mask->step_mm, y = (row + 0.5) * mask->step_mm;

        mask->bare[row * mask->n_columns + column] = MIN (MIN (x, width_mm - x), MIN (y, height_mm - y)) >= margin_mm;
      }
  for (gsize i = 0; i < n_zones; i++)
    if (!zones[i].bare)
      cover_zone (mask, zones[i].outline_mm, margin_mm);
  return mask;
}

void
sherd_ground_mask_free (SherdGroundMask *mask)
{
  g_free (mask->bare);
  g_free (mask);
}

gboolean
sherd_ground_mask_contains (const SherdGroundMask *mask, double x_mm, double y_mm)
{
  if (x_mm < 0 || y_mm < 0 || x_mm >= mask->n_columns * mask->step_mm || y_mm >= mask->n_rows * mask->step_mm)
    return FALSE;
  return mask->bare[raster_index (y_mm, mask->step_mm, mask->n_rows) * mask->n_columns +
                    raster_index (x_mm, mask->step_mm, mask->n_columns)];
}

static double
median_channel (const float *linear_rgb, const gsize *order, gsize n, guint channel, double *scratch)
{
  for (gsize i = 0; i < n; i++)
    scratch[i] = linear_rgb[3 * order[i] + channel];
  return gsl_stats_median (scratch, 1, n);
}

static void
append_cell (GArray *cells, const float *linear_rgb, const float *x_mm, const float *y_mm, const gsize *order, gsize n)
{
  g_autofree double *scratch = g_new (double, n);
  SherdGroundCell cell = { .n_pixels = (guint)n };

  for (gsize i = 0; i < n; i++)
    {
      cell.centre_mm.x += x_mm[order[i]] / (double)n;
      cell.centre_mm.y += y_mm[order[i]] / (double)n;
    }
  for (guint c = 0; c < 3; c++)
    cell.ln_value[c] = log (MAX (median_channel (linear_rgb, order, n, c, scratch), 1e-5));
  g_array_append_val (cells, cell);
}

/* Pixels in the order of their cells; @start[k] is where cell k begins. */
static void
sort_by_cell (const guint *cell_of_pixel, gsize n_pixels, guint n_cells, gsize *start, gsize *order)
{
  g_autofree gsize *next = g_new (gsize, n_cells + 1);

  memset (start, 0, (n_cells + 1) * sizeof *start);
  for (gsize i = 0; i < n_pixels; i++)
    start[cell_of_pixel[i] + 1]++;
  for (guint k = 0; k < n_cells; k++)
    start[k + 1] += start[k];
  memcpy (next, start, (n_cells + 1) * sizeof *next);
  for (gsize i = 0; i < n_pixels; i++)
    order[next[cell_of_pixel[i]]++] = i;
}

/**
 * sherd_ground_cells:
 * @linear_rgb: three floats a pixel of bare ground, unclipped
 *
 * Medians of bare ground over small squares: a median, for a chip, a crumb or a tool mark spoils a mean. Squares with
 * few pixels are left out.
 */
GArray *
sherd_ground_cells (double width_mm,
                    double height_mm,
                    const float *linear_rgb,
                    const float *x_mm,
                    const float *y_mm,
                    gsize n_pixels)
{
  const double cell_mm = MAX (CELL_MM, sqrt (width_mm * height_mm / MOST_CELLS));
  const guint n_columns = (guint)ceil (width_mm / cell_mm), n_rows = (guint)ceil (height_mm / cell_mm);
  const guint n_cells = n_columns * n_rows;
  g_autofree guint *cell_of_pixel = g_new (guint, n_pixels + 1);
  g_autofree gsize *start = g_new (gsize, n_cells + 1);
  g_autofree gsize *order = g_new (gsize, n_pixels + 1);
  GArray *cells = g_array_new (FALSE, FALSE, sizeof (SherdGroundCell));

  for (gsize i = 0; i < n_pixels; i++)
    cell_of_pixel[i] = raster_index (y_mm[i], cell_mm, n_rows) * n_columns + raster_index (x_mm[i], cell_mm, n_columns);
  sort_by_cell (cell_of_pixel, n_pixels, n_cells, start, order);
  for (guint k = 0; k < n_cells; k++)
    if (start[k + 1] - start[k] >= LEAST_CELL_PIXELS)
      append_cell (cells, linear_rgb, x_mm, y_mm, order + start[k], start[k + 1] - start[k]);
  return cells;
}
