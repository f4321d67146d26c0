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

/* Room for these at once: most regions have no more rows. */
#define N_RUNS_TO_BEGIN_WITH 256

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

/* Where an edge crosses the middle of the current row. */
typedef struct
{
  double x;
  const Edge *edge;
} Crossing;

/* The edges met on the way down an outline. */
typedef struct
{
  GArray *edges;     /* of Edge, by first row */
  GArray *crossings; /* of Crossing, from left to right */
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
  walk->crossings = g_array_new (FALSE, FALSE, sizeof (Crossing));
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
  g_array_unref (walk->crossings);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Walk, walk_clear)

static void
drop_passed_edges (Walk *walk, guint row_px)
{
  Crossing *crossings = (Crossing *)(gpointer)walk->crossings->data;
  guint n_kept = 0;

  for (guint i = 0; i < walk->crossings->len; i++)
    if (crossings[i].edge->end_row > row_px)
      crossings[n_kept++] = crossings[i];
  g_array_set_size (walk->crossings, n_kept);
}

static void
add_met_edges (Walk *walk, guint *row_px)
{
  const Edge *edges = (const Edge *)(gconstpointer)walk->edges->data;

  if (walk->crossings->len == 0 && walk->next < walk->edges->len)
    *row_px = edges[walk->next].first_row;
  for (; walk->next < walk->edges->len && edges[walk->next].first_row <= *row_px; walk->next++)
    {
      const Crossing crossing = { 0, &edges[walk->next] };

      g_array_append_val (walk->crossings, crossing);
    }
}

/* From row to row the order hardly changes, so it is kept by insertion. */
static void
find_crossings (Walk *walk, guint row_px)
{
  Crossing *crossings = (Crossing *)(gpointer)walk->crossings->data;
  const double y = row_px + 0.5;

  for (guint i = 0; i < walk->crossings->len; i++)
    {
      const Edge *edge = crossings[i].edge;
      const double share = (y - edge->start.y) / (edge->end.y - edge->start.y);
      const Crossing crossing = { edge->start.x + share * (edge->end.x - edge->start.x), edge };
      guint place = i;

      for (; place > 0 && crossings[place - 1].x > crossing.x; place--)
        crossings[place] = crossings[place - 1];
      crossings[place] = crossing;
    }
}

/* Goes on to @row_px, or the next row below it with edges to cross; FALSE when none is left. */
static gboolean
walk_on (Walk *walk, guint *row_px)
{
  drop_passed_edges (walk, *row_px);
  add_met_edges (walk, row_px);
  find_crossings (walk, *row_px);
  return walk->crossings->len > 0;
}

/* Pixels of the current row between each second crossing and the next. */
static gsize
add_runs (GArray *runs, const Walk *walk, guint row_px, guint width_px)
{
  const Crossing *crossings = (const Crossing *)(gconstpointer)walk->crossings->data;
  gsize n = 0;

  for (guint k = 0; k + 1 < walk->crossings->len; k += 2)
    {
      const Run run = { row_px, middle_from (crossings[k].x, width_px), middle_from (crossings[k + 1].x, width_px) };

      if (run.x_px < run.end_px)
        g_array_append_val (runs, run);
      n += run.end_px - run.x_px;
    }
  return n;
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
    n += add_runs (runs, &walk, row, width_px);
  return n;
}

static double
fraction (double value)
{
  return value - floor (value);
}

/* The pixels of a run on the lattice of its row, which begins at another column in each. */
static void
add_span (GArray *spans, guint region, const Run *run, guint step_px, guint band)
{
  const guint start = (guint)(step_px * fraction (band * GOLDEN));
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
  const double share = fraction (0.5 * (band + 1.0) * (band + 2.0) * GOLDEN);

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
  g_autoptr (GArray) runs = g_array_sized_new (FALSE, FALSE, sizeof (Run), MIN (height_px, N_RUNS_TO_BEGIN_WITH));
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
