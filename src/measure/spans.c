/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/spans.h"

#include <math.h>
#include <stdlib.h>

/* Our choice: an outline that reaches farther than this is nowhere; sums of two such numbers are still numbers. */
#define FARTHEST_PX 1e100

/* The golden ratio less one. Its multiples, modulo 1, and those by 1, 3, 6, 10, … are spread evenly (Weyl, "Über die
 * Gleichverteilung von Zahlen mod. Eins", Mathematische Annalen 77, 1916); the latter look as if drawn by chance. */
#define GOLDEN 0.61803398874989485

/* Pixels x_px … end_px − 1 of one row. */
typedef struct
{
  guint row_px;
  guint x_px;
  guint end_px;
} Run;

/* An edge of an outline and the rows whose middles it crosses. */
typedef struct
{
  SherdPoint start;
  SherdPoint end;
  guint first_row;
  guint end_row;
} Edge;

/* The edges met on the way down an outline. */
typedef struct
{
  GArray *edges;     /* of Edge, by first row */
  GArray *active;    /* of guint, edges that cross the current row */
  GArray *crossings; /* of double, from left to right */
  guint next;        /* edge not met yet */
} Walk;

/**
 * sherd_spans_new:
 *
 * Returns: (transfer full): GArray of SherdSpan
 */
GArray *
sherd_spans_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (SherdSpan));
}

/* First row or column whose middle lies at or beyond @at, kept within 0…@n. */
static guint
middle_from (double at, guint n)
{
  return (guint)CLAMP (ceil (at - 0.5), 0, (double)n);
}

static gboolean
is_somewhere (const SherdOutline *outline)
{
  for (gsize i = 0; i < outline->n_points; i++)
    if (!(fabs (outline->points[i].x) <= FARTHEST_PX && fabs (outline->points[i].y) <= FARTHEST_PX))
      return FALSE;
  return TRUE;
}

static int
compare_edges (gconstpointer a, gconstpointer b)
{
  const Edge *first = a, *second = b;

  return (first->first_row > second->first_row) - (first->first_row < second->first_row);
}

static void
walk_init (Walk *walk, const SherdOutline *outline, guint height_px)
{
  walk->edges = g_array_new (FALSE, FALSE, sizeof (Edge));
  walk->active = g_array_new (FALSE, FALSE, sizeof (guint));
  walk->crossings = g_array_new (FALSE, FALSE, sizeof (double));
  walk->next = 0;
  for (gsize i = 0; i < outline->n_points; i++)
    {
      const SherdPoint start = outline->points[i], end = outline->points[(i + 1) % outline->n_points];
      /* Half-open, so that a corner on a row's middle counts once. */
      const Edge edge = { .start = start,
                          .end = end,
                          .first_row = middle_from (MIN (start.y, end.y), height_px),
                          .end_row = middle_from (MAX (start.y, end.y), height_px) };

      if (edge.first_row < edge.end_row)
        g_array_append_val (walk->edges, edge);
    }
  g_array_sort (walk->edges, compare_edges);
}

static void
walk_clear (Walk *walk)
{
  g_array_unref (walk->edges);
  g_array_unref (walk->active);
  g_array_unref (walk->crossings);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Walk, walk_clear)

static const Edge *
walk_edge (const Walk *walk, guint i)
{
  return &g_array_index (walk->edges, Edge, i);
}

/* The next row with edges to cross; FALSE when none is left. */
static gboolean
walk_on (Walk *walk, guint *row_px)
{
  guint i = 0;

  while (i < walk->active->len)
    if (walk_edge (walk, g_array_index (walk->active, guint, i))->end_row <= *row_px)
      g_array_remove_index_fast (walk->active, i);
    else
      i++;
  if (walk->active->len == 0 && walk->next < walk->edges->len)
    *row_px = walk_edge (walk, walk->next)->first_row;
  for (; walk->next < walk->edges->len && walk_edge (walk, walk->next)->first_row <= *row_px; walk->next++)
    g_array_append_val (walk->active, walk->next);
  return walk->active->len > 0;
}

static int
compare_crossings (gconstpointer a, gconstpointer b)
{
  const double difference = *(const double *)a - *(const double *)b;

  return (difference > 0) - (difference < 0);
}

static void
find_crossings (Walk *walk, guint row_px)
{
  const double y = row_px + 0.5;

  g_array_set_size (walk->crossings, 0);
  for (guint i = 0; i < walk->active->len; i++)
    {
      const Edge *edge = walk_edge (walk, g_array_index (walk->active, guint, i));
      const double share = (y - edge->start.y) / (edge->end.y - edge->start.y);
      const double x = edge->start.x + share * (edge->end.x - edge->start.x);

      g_array_append_val (walk->crossings, x);
    }
  g_array_sort (walk->crossings, compare_crossings);
}

/* Scan conversion with a list of active edges: Foley, van Dam, Feiner and Hughes, "Computer Graphics", 2nd ed. 1990,
 * section 3.6. Returns the number of pixels. */
static gsize
find_runs (const SherdOutline *outline, guint width_px, guint height_px, GArray *runs)
{
  g_auto (Walk) walk = { 0 };
  gsize n = 0;

  walk_init (&walk, outline, height_px);
  for (guint row = 0; walk_on (&walk, &row); row++)
    {
      find_crossings (&walk, row);
      for (guint k = 0; k + 1 < walk.crossings->len; k += 2)
        {
          const Run run = { row, middle_from (g_array_index (walk.crossings, double, k), width_px),
                            middle_from (g_array_index (walk.crossings, double, k + 1), width_px) };

          if (run.x_px < run.end_px)
            g_array_append_val (runs, run);
          n += run.end_px - run.x_px;
        }
    }
  return n;
}

/* The pixels of a run on the lattice of its row, which begins at another column in each. */
static void
add_span (GArray *spans, guint region, const Run *run, guint step_px, guint band)
{
  const guint start = (guint)(step_px * fmod (band * GOLDEN, 1.0));
  const guint x = run->x_px + (start + step_px - run->x_px % step_px) % step_px;

  if (x < run->end_px)
    {
      const SherdSpan span = {
        .row_px = run->row_px, .region = region, .x_px = x, .step_px = step_px, .n = (run->end_px - x - 1) / step_px + 1
      };

      g_array_append_val (spans, span);
    }
}

/* One row of each band of rows, now here, now there in it. */
static guint
choose_row (guint first_row, double rows_apart, guint band)
{
  const double start = ceil (band * rows_apart), end = ceil ((band + 1.0) * rows_apart);
  const double share = fmod (0.5 * (band + 1.0) * (band + 2.0) * GOLDEN, 1.0);

  return first_row + (guint)(start + floor (share * (end - start)));
}

/* About @n_most of @n pixels: whole steps along a row, and rows so far apart that the number comes out. */
static void
add_sampled (GArray *spans, guint region, const GArray *runs, gsize n, gsize n_most)
{
  const Run *run = (const Run *)(gconstpointer)runs->data;
  const guint n_rows = run[runs->len - 1].row_px - run[0].row_px + 1;
  const double share = MAX (1.0, (double)n / (double)MAX (n_most, 1));
  const guint step_px = (guint)round (sqrt (share));
  const double rows_apart = MIN (share / step_px, n_rows);
  guint band = 0;

  for (guint i = 0; i < runs->len; i++)
    {
      while (choose_row (run[0].row_px, rows_apart, band) < run[i].row_px)
        band++;
      if (choose_row (run[0].row_px, rows_apart, band) == run[i].row_px)
        add_span (spans, region, &run[i], step_px, band);
    }
}

/**
 * sherd_spans_add:
 * @spans: of sherd_spans_new()
 * @region: number to carry
 * @outline_px: in the photograph as stored, of any size and place
 * @n_most: about how many pixels are wanted at most
 *
 * Scan lines of an outline by the even–odd rule: the pixels whose middle lies inside, those outside the photograph left
 * out. Of a region with more than @n_most pixels an even lattice is taken, about as wide along the rows as across them;
 * each of its rows begins at another column, so that no pattern of the picture, the coder's blocks least, can keep step
 * with it.
 *
 * Returns: how many pixels of the photograph the region covers
 */
gsize
sherd_spans_add (GArray *spans,
                 guint region,
                 const SherdOutline *outline_px,
                 guint width_px,
                 guint height_px,
                 gsize n_most)
{
  g_autoptr (GArray) runs = g_array_new (FALSE, FALSE, sizeof (Run));
  gsize n;

  if (!is_somewhere (outline_px))
    return 0;
  n = find_runs (outline_px, width_px, height_px, runs);
  if (n > 0)
    add_sampled (spans, region, runs, n, n_most);
  return n;
}

/**
 * sherd_spans_sort:
 * @spans: of sherd_spans_new(), each region's from top to bottom
 *
 * Orders the spans from top to bottom, as a photograph is read; within a row by region, as they were added. Counts the
 * spans of each row, so that the time grows only with their number.
 */
void
sherd_spans_sort (GArray *spans)
{
  const SherdSpan *unsorted = (const SherdSpan *)(gpointer)spans->data;
  g_autofree SherdSpan *sorted = g_new (SherdSpan, spans->len + 1);
  g_autofree guint *place = NULL;
  guint last_row = 0;

  for (guint i = 0; i < spans->len; i++)
    last_row = MAX (last_row, unsorted[i].row_px);
  place = g_new0 (guint, last_row + 2);
  for (guint i = 0; i < spans->len; i++)
    place[unsorted[i].row_px + 1]++;
  for (guint row = 0; row < last_row; row++)
    place[row + 1] += place[row];
  for (guint i = 0; i < spans->len; i++)
    sorted[place[unsorted[i].row_px]++] = unsorted[i];
  for (guint i = 0; i < spans->len; i++)
    g_array_index (spans, SherdSpan, i) = sorted[i];
}
