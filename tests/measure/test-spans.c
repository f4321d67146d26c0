/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Held against the definition: every pixel of a small photograph is asked, one by one, whether its middle lies inside
 * the outline (the even–odd rule of shape/outline.c, whose own test stands on closed forms). Areas are those of the
 * outline, within what its border can cost; the evenness of the lattice is that of counts over many parts of a large
 * region. */

#include "config.h"

#include "measure/spans.h"

#include <math.h>
#include <string.h>

#define WIDTH_PX 160u
#define HEIGHT_PX 120u

#define ALL G_MAXSIZE

/* A middle this near to an edge may fall on either side by rounding. */
#define ROUNDING_PX 1e-9

static SherdOutline *
draw_convex (GRand *random)
{
  const guint n = (guint)g_rand_int_range (random, 3, 12);
  const double x = g_rand_double_range (random, -30, WIDTH_PX + 30.0);
  const double y = g_rand_double_range (random, -30, HEIGHT_PX + 30.0);
  const double radius = g_rand_double_range (random, 1, 90);
  g_autofree SherdPoint *points = g_new (SherdPoint, n);

  for (guint i = 0; i < n; i++)
    points[i] = (SherdPoint){ x + radius * cos (2 * G_PI * i / n), y + radius * sin (2 * G_PI * i / n) };
  return sherd_outline_new (points, n);
}

/* Points anywhere: concave, crossing itself, partly outside the photograph. */
static SherdOutline *
draw_any (GRand *random)
{
  const guint n = (guint)g_rand_int_range (random, 3, 20);
  g_autofree SherdPoint *points = g_new (SherdPoint, n);

  for (guint i = 0; i < n; i++)
    points[i] = (SherdPoint){ g_rand_double_range (random, -50, WIDTH_PX + 50.0),
                              g_rand_double_range (random, -50, HEIGHT_PX + 50.0) };
  return sherd_outline_new (points, n);
}

/* Corners on middles and borders of pixels, edges along rows and columns. */
static SherdOutline *
draw_on_lattice (GRand *random)
{
  const guint n = (guint)g_rand_int_range (random, 3, 12);
  g_autofree SherdPoint *points = g_new (SherdPoint, n);

  for (guint i = 0; i < n; i++)
    points[i] = (SherdPoint){ g_rand_int_range (random, -8, 30) / 2.0, g_rand_int_range (random, -8, 30) / 2.0 };
  return sherd_outline_new (points, n);
}

/* (transfer full): how often each pixel is named */
static guint8 *
count_pixels (const GArray *spans)
{
  guint8 *counts = g_new0 (guint8, WIDTH_PX * HEIGHT_PX);

  for (guint i = 0; i < spans->len; i++)
    {
      const SherdSpan *span = &g_array_index (spans, SherdSpan, i);

      g_assert_cmpuint (span->n, >, 0);
      g_assert_cmpuint (span->row_px, <, HEIGHT_PX);
      g_assert_cmpuint (span->x_px + (span->n - 1) * span->step_px, <, WIDTH_PX);
      for (guint k = 0; k < span->n; k++)
        counts[span->row_px * WIDTH_PX + span->x_px + k * span->step_px]++;
    }
  return counts;
}

static void
assert_same_as_point_by_point (const SherdOutline *outline)
{
  g_autoptr (GArray) spans = sherd_spans_new ();
  const gsize n = sherd_spans_add (spans, 0, outline, WIDTH_PX, HEIGHT_PX, ALL);
  g_autofree guint8 *counts = count_pixels (spans);
  gsize n_inside = 0, n_doubtful = 0;

  for (guint i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    {
      const guint column = i % WIDTH_PX, row = i / WIDTH_PX;
      const SherdPoint middle = { column + 0.5, row + 0.5 };
      const gboolean inside = sherd_outline_contains (outline, middle);

      n_inside += counts[i];
      if (counts[i] == (inside ? 1 : 0))
        continue;
      g_assert_cmpfloat (sherd_outline_distance (outline, middle), <, ROUNDING_PX);
      n_doubtful++;
    }
  g_assert_cmpuint (n, ==, n_inside);
  g_assert_cmpuint (n_doubtful, <, WIDTH_PX);
}

static void
test_convex_outlines_point_by_point (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1);

  for (guint round = 0; round < 60; round++)
    {
      g_autoptr (SherdOutline) outline = draw_convex (random);

      assert_same_as_point_by_point (outline);
    }
}

static void
test_any_outlines_point_by_point (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (2);

  for (guint round = 0; round < 60; round++)
    {
      g_autoptr (SherdOutline) outline = draw_any (random);

      assert_same_as_point_by_point (outline);
    }
}

static void
test_corners_on_middles_point_by_point (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);

  for (guint round = 0; round < 60; round++)
    {
      g_autoptr (SherdOutline) outline = draw_on_lattice (random);

      assert_same_as_point_by_point (outline);
    }
}

/* Two outlines with a common edge through middles of pixels: none of these is lost or counted twice. */
static void
test_neighbours_share_no_pixel (void)
{
  const SherdPoint left[4] = { { 10, 10 }, { 50.5, 10 }, { 40.5, 60 }, { 10, 60 } };
  const SherdPoint right[4] = { { 50.5, 10 }, { 90, 10 }, { 90, 60 }, { 40.5, 60 } };
  g_autoptr (SherdOutline) first = sherd_outline_new (left, 4);
  g_autoptr (SherdOutline) second = sherd_outline_new (right, 4);
  g_autoptr (GArray) spans = sherd_spans_new ();
  g_autofree guint8 *counts = NULL;
  gsize n = sherd_spans_add (spans, 0, first, WIDTH_PX, HEIGHT_PX, ALL);

  n += sherd_spans_add (spans, 1, second, WIDTH_PX, HEIGHT_PX, ALL);
  g_assert_cmpuint (n, ==, 80 * 50);
  counts = count_pixels (spans);
  for (guint i = 0; i < WIDTH_PX * HEIGHT_PX; i++)
    g_assert_cmpuint (counts[i], <=, 1);
}

/* Each unit of border can move at most half a pixel in or out, and does so both ways. */
static void
test_number_is_the_area (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (4);

  for (guint round = 0; round < 50; round++)
    {
      const double radius = g_rand_double_range (random, 50, 900);
      const double x = g_rand_double_range (random, 1000, 1001), y = g_rand_double_range (random, 1000, 1001);
      SherdPoint points[7];
      g_autoptr (SherdOutline) outline = NULL;
      g_autoptr (GArray) spans = sherd_spans_new ();

      for (guint i = 0; i < 7; i++)
        points[i] = (SherdPoint){ x + radius * cos (0.1 * round + 2 * G_PI * i / 7),
                                  y + radius * sin (0.1 * round + 2 * G_PI * i / 7) };
      outline = sherd_outline_new (points, 7);
      g_assert_cmpfloat_with_epsilon ((double)sherd_spans_add (spans, 0, outline, 2000, 2000, ALL),
                                      sherd_outline_area (outline), 0.5 * 2 * G_PI * radius);
    }
}

static void
assert_no_pixels (const SherdPoint *points, gsize n_points)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (points, n_points);
  g_autoptr (GArray) spans = sherd_spans_new ();

  g_assert_cmpuint (sherd_spans_add (spans, 0, outline, WIDTH_PX, HEIGHT_PX, 100), ==, 0);
  g_assert_cmpuint (spans->len, ==, 0);
}

static void
test_nothing_of_what_lies_elsewhere (void)
{
  const SherdPoint left[3] = { { -50, 10 }, { -1, 10 }, { -1, 60 } };
  const SherdPoint right[3] = { { 160, 10 }, { 200, 10 }, { 200, 60 } };
  const SherdPoint above[3] = { { 10, -90 }, { 80, -90 }, { 80, 0.4 } };
  const SherdPoint below[3] = { { 10, 120 }, { 80, 120 }, { 80, 1e7 } };
  const SherdPoint line[3] = { { 0, 10.5 }, { 100, 10.5 }, { 50, 10.5 } };
  const SherdPoint column[3] = { { 10.5, 0 }, { 10.5, 100 }, { 10.5, 50 } };
  const SherdPoint point[1] = { { 10.5, 10.5 } };

  assert_no_pixels (left, 3);
  assert_no_pixels (right, 3);
  assert_no_pixels (above, 3);
  assert_no_pixels (below, 3);
  assert_no_pixels (line, 3);
  assert_no_pixels (column, 3);
  assert_no_pixels (point, 1);
  assert_no_pixels (point, 0);
}

static void
test_nothing_of_what_is_nowhere (void)
{
  const double nowhere[] = { NAN, INFINITY, -INFINITY, 1e308, -1e200 };

  for (guint i = 0; i < G_N_ELEMENTS (nowhere); i++)
    {
      SherdPoint points[4] = { { 10, 10 }, { 100, 10 }, { 100, 60 }, { 10, 60 } };

      points[2].x = nowhere[i];
      assert_no_pixels (points, 4);
      points[2] = (SherdPoint){ 100, nowhere[i] };
      assert_no_pixels (points, 4);
    }
}

static void
test_huge_outline_covers_the_photograph (void)
{
  const double sizes[] = { 1e4, 1e9, 1e18, 9e99 };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      const double s = sizes[i];
      const SherdPoint points[4] = { { -s, -s }, { s, -s }, { s, s }, { -s, s } };
      g_autoptr (SherdOutline) outline = sherd_outline_new (points, 4);
      g_autoptr (GArray) spans = sherd_spans_new ();
      g_autoptr (GArray) sampled = sherd_spans_new ();

      g_assert_cmpuint (sherd_spans_add (spans, 0, outline, WIDTH_PX, HEIGHT_PX, ALL), ==, WIDTH_PX * HEIGHT_PX);
      g_assert_cmpuint (spans->len, ==, HEIGHT_PX);
      /* The sample is of what is in the photograph, not of the outline. */
      g_assert_cmpuint (sherd_spans_add (sampled, 0, outline, WIDTH_PX, HEIGHT_PX, 100), ==, WIDTH_PX * HEIGHT_PX);
      g_assert_cmpuint (sampled->len, >=, 8);
    }
}

static gsize
count_sampled (const GArray *spans)
{
  gsize n = 0;

  for (guint i = 0; i < spans->len; i++)
    n += g_array_index (spans, SherdSpan, i).n;
  return n;
}

static void
test_sample_has_about_the_number_wanted (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (103.2, 57.9, 1500, 1100);

  for (gsize n_most = 50; n_most < 4000000; n_most += n_most / 3)
    {
      g_autoptr (GArray) spans = sherd_spans_new ();
      const gsize n = sherd_spans_add (spans, 0, outline, 2000, 1500, n_most);

      /* A row more or less, at either end. */
      g_assert_cmpfloat_with_epsilon ((double)count_sampled (spans), (double)MIN (n, n_most),
                                      2 * sqrt ((double)n_most));
    }
}

/* No region that covers pixels goes without: small, narrow, flat, slanting. */
static void
test_every_region_gets_a_sample (void)
{
  const SherdPoint sliver[3] = { { 3, 3 }, { 1500, 1400 }, { 1500, 1408 } };
  SherdOutline *const outlines[4] = { sherd_outline_new_rectangle (10, 10, 1, 1),
                                      sherd_outline_new_rectangle (10, 10, 2, 1400),
                                      sherd_outline_new_rectangle (10, 10, 1400, 2), sherd_outline_new (sliver, 3) };

  for (guint i = 0; i < G_N_ELEMENTS (outlines); i++)
    {
      g_autoptr (GArray) spans = sherd_spans_new ();
      const gsize n = sherd_spans_add (spans, 0, outlines[i], 2000, 1500, 40);

      g_assert_cmpuint (n, >, 0);
      g_assert_cmpuint (count_sampled (spans), >=, MIN (n, 10));
      g_assert_cmpuint (count_sampled (spans), <=, 20 * 40);
      sherd_outline_free (outlines[i]);
    }
}

/* A share of 1/8 among some 150 rows drawn by chance scatters by √(1/8 × 7/8 / 150) = 0.027; four times that. Every
 * eighth row would miss by 0.875. Among the thousands of pixels along the rows the columns share evenly. */
#define ROW_SHARE 0.108
#define COLUMN_SHARE 0.015

/* In each of 10 × 10 parts of a region the sample has its share, and no column or row of an 8 × 8 block, with which a
 * JPEG coder works, is preferred. */
static void
test_lattice_is_even (void)
{
  for (gsize n_most = 20000; n_most <= 60000; n_most += 1000)
    {
      g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (40, 24, 1600, 1200);
      g_autoptr (GArray) spans = sherd_spans_new ();
      double parts[10][10] = { { 0 } }, columns[8] = { 0 }, rows[8] = { 0 };
      double n;

      sherd_spans_add (spans, 0, outline, 2000, 1500, n_most);
      n = (double)count_sampled (spans);
      for (guint i = 0; i < spans->len; i++)
        {
          const SherdSpan *span = &g_array_index (spans, SherdSpan, i);

          for (guint k = 0; k < span->n; k++)
            {
              const guint x = span->x_px + k * span->step_px, y = span->row_px;

              parts[(y - 24) / 120][(x - 40) / 160]++;
              columns[x % 8]++;
              rows[y % 8]++;
            }
        }
      for (guint i = 0; i < 100; i++)
        g_assert_cmpfloat_with_epsilon (parts[i / 10][i % 10] / n, 0.01, 0.002);
      for (guint i = 0; i < 8; i++)
        {
          g_assert_cmpfloat_with_epsilon (columns[i] / n, 0.125, COLUMN_SHARE);
          g_assert_cmpfloat_with_epsilon (rows[i] / n, 0.125, ROW_SHARE);
        }
    }
}

/* Means of a slope, and of ripples as fine as a few pixels, over what the spans name. */
static void
find_means (const GArray *spans, double *slope, double *ripple)
{
  gsize n = 0;

  *slope = *ripple = 0;
  for (guint i = 0; i < spans->len; i++)
    {
      const SherdSpan *span = &g_array_index (spans, SherdSpan, i);

      for (guint k = 0; k < span->n; k++, n++)
        {
          const double x = span->x_px + k * span->step_px, y = span->row_px;

          *slope += x / 2000 + y / 1500;
          *ripple += sin (2 * G_PI * x / 5) + sin (2 * G_PI * y / 8) + sin (2 * G_PI * (x + y) / 16);
        }
    }
  *slope /= (double)n;
  *ripple /= (double)n;
}

/* Over samples of many sizes of a slanting region. Some 70 rows drawn by chance would scatter by √(1/2) / √70 = 0.085
 * for the ripple across them, and the mean of 60 samples by 0.011; three times that. */
static void
test_sample_mean_is_that_of_all (void)
{
  const SherdPoint corners[5] = { { 150, 90 }, { 1700, 240 }, { 1500, 1300 }, { 700, 800 }, { 120, 1250 } };
  g_autoptr (SherdOutline) outline = sherd_outline_new (corners, 5);
  g_autoptr (GArray) all = sherd_spans_new ();
  double slope_of_all, ripple_of_all, sum_of_ripples = 0;

  sherd_spans_add (all, 0, outline, 2000, 1500, ALL);
  find_means (all, &slope_of_all, &ripple_of_all);
  for (guint i = 0; i < 60; i++)
    {
      g_autoptr (GArray) spans = sherd_spans_new ();
      double slope, ripple;

      sherd_spans_add (spans, 0, outline, 2000, 1500, 4000 + 50 * i);
      find_means (spans, &slope, &ripple);
      g_assert_cmpfloat_with_epsilon (slope, slope_of_all, 0.005);
      sum_of_ripples += ripple;
    }
  g_assert_cmpfloat_with_epsilon (sum_of_ripples / 60, ripple_of_all, 0.033);
}

static void
test_sorted_from_top_to_bottom (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (5);
  g_autoptr (GArray) spans = sherd_spans_new ();
  g_autofree guint8 *before = NULL, *after = NULL;

  for (guint region = 0; region < 40; region++)
    {
      g_autoptr (SherdOutline) outline = draw_any (random);

      sherd_spans_add (spans, region, outline, WIDTH_PX, HEIGHT_PX, 300);
    }
  before = count_pixels (spans);
  sherd_spans_sort (spans);
  after = count_pixels (spans);
  g_assert_cmpmem (before, WIDTH_PX * HEIGHT_PX, after, WIDTH_PX * HEIGHT_PX);
  for (guint i = 1; i < spans->len; i++)
    {
      const SherdSpan *span = &g_array_index (spans, SherdSpan, i), *last = span - 1;

      g_assert_true (span->row_px > last->row_px ||
                     (span->row_px == last->row_px &&
                      (span->region > last->region || (span->region == last->region && span->x_px > last->x_px))));
    }
}

static void
test_sorts_nothing (void)
{
  g_autoptr (GArray) spans = sherd_spans_new ();

  sherd_spans_sort (spans);
  g_assert_cmpuint (spans->len, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/spans/convex-point-by-point", test_convex_outlines_point_by_point);
  g_test_add_func ("/measure/spans/any-point-by-point", test_any_outlines_point_by_point);
  g_test_add_func ("/measure/spans/corners-on-middles-point-by-point", test_corners_on_middles_point_by_point);
  g_test_add_func ("/measure/spans/neighbours-share-no-pixel", test_neighbours_share_no_pixel);
  g_test_add_func ("/measure/spans/number-is-the-area", test_number_is_the_area);
  g_test_add_func ("/measure/spans/nothing-of-what-lies-elsewhere", test_nothing_of_what_lies_elsewhere);
  g_test_add_func ("/measure/spans/nothing-of-what-is-nowhere", test_nothing_of_what_is_nowhere);
  g_test_add_func ("/measure/spans/huge-outline-covers-the-photograph", test_huge_outline_covers_the_photograph);
  g_test_add_func ("/measure/spans/sample-has-about-the-number-wanted", test_sample_has_about_the_number_wanted);
  g_test_add_func ("/measure/spans/every-region-gets-a-sample", test_every_region_gets_a_sample);
  g_test_add_func ("/measure/spans/lattice-is-even", test_lattice_is_even);
  g_test_add_func ("/measure/spans/sample-mean-is-that-of-all", test_sample_mean_is_that_of_all);
  g_test_add_func ("/measure/spans/sorted-from-top-to-bottom", test_sorted_from_top_to_bottom);
  g_test_add_func ("/measure/spans/sorts-nothing", test_sorts_nothing);
  return g_test_run ();
}
