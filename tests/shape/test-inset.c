/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed forms: rectangle, L, U and comb by hand; a triangle keeps its incircle, so that its sides shrink by
 * (ρ − d) / ρ. Random outlines are held against the definition: a point is left if and only if it lies farther than the
 * inset from the outline, but for the mitres at inner corners. */

#include "config.h"

#include "shape/outline.h"

#include <math.h>

#define ROUNDING 1e-9

/* Mitres reach to inset / cos (45°) from an inner corner. */
#define MITRE G_SQRT2

static void
assert_inset_area (const SherdPoint *points, gsize n_points, double inset, double area)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (points, n_points);
  g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, inset);

  g_assert_nonnull (inner);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (inner), area, ROUNDING);
  for (gsize i = 0; i < inner->n_points; i++)
    {
      g_assert_true (sherd_outline_contains (outline, inner->points[i]));
      g_assert_cmpfloat (sherd_outline_distance (outline, inner->points[i]), >=, inset - ROUNDING);
    }
}

static void
assert_nothing_left (const SherdPoint *points, gsize n_points, double inset)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (points, n_points);
  g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, inset);

  g_assert_null (inner);
}

static void
test_rectangle (void)
{
  const SherdPoint corners[4] = { { 3, 2 }, { 15, 2 }, { 15, 10 }, { 3, 10 } };
  const SherdPoint backwards[4] = { { 3, 10 }, { 15, 10 }, { 15, 2 }, { 3, 2 } };

  assert_inset_area (corners, 4, 1.5, 9 * 5);
  assert_inset_area (backwards, 4, 1.5, 9 * 5);
  assert_inset_area (corners, 4, 3.999, (12 - 7.998) * (8 - 7.998));
  assert_nothing_left (corners, 4, 4);
  assert_nothing_left (corners, 4, 100);
}

static void
test_no_inset_changes_nothing (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (3, 2, 12, 8);
  g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, 0);

  g_assert_cmpmem (inner->points, 4 * sizeof (SherdPoint), outline->points, 4 * sizeof (SherdPoint));
}

/* Sides 3, 4, 5: incircle of radius 1, area 6. */
static void
test_triangle (void)
{
  const SherdPoint corners[3] = { { 0, 0 }, { 4, 0 }, { 0, 3 } };

  assert_inset_area (corners, 3, 0.25, 6 * 0.75 * 0.75);
  assert_inset_area (corners, 3, 0.9, 6 * 0.1 * 0.1);
  assert_nothing_left (corners, 3, 1.001);
}

/* Arms 4 wide, 10 long: an inset of 1 leaves arms 2 wide, 8 long. */
static void
test_l_shape (void)
{
  const SherdPoint corners[6] = { { 0, 0 }, { 10, 0 }, { 10, 4 }, { 4, 4 }, { 4, 10 }, { 0, 10 } };

  assert_inset_area (corners, 6, 1, 8 * 2 + 2 * 6);
  assert_inset_area (corners, 6, 1.9, 6.2 * 0.2 + 0.2 * 6);
}

/* Where the arms are gone the knee is left: between the mitre's circle and the outer corner nothing, since the arms are
 * as wide as the knee. */
static void
test_l_shape_too_narrow (void)
{
  const SherdPoint corners[6] = { { 0, 0 }, { 10, 0 }, { 10, 4 }, { 4, 4 }, { 4, 10 }, { 0, 10 } };

  assert_nothing_left (corners, 6, 2.5);
}

/* A wide and a narrow part: the narrow one vanishes, the wide one stays. */
static void
test_flag_loses_its_pole (void)
{
  const SherdPoint corners[6] = { { 0, 0 }, { 12, 0 }, { 12, 8 }, { 1, 8 }, { 1, 30 }, { 0, 30 } };

  assert_inset_area (corners, 6, 1, 10 * 6);
}

/* Two chambers of 10 × 10 and 14 × 10 joined by a passage 1 wide: the larger is taken. */
static void
test_dumbbell_keeps_the_larger_end (void)
{
  const SherdPoint corners[12] = { { 0, 0 },   { 10, 0 },  { 10, 4 }, { 20, 4 }, { 20, 0 },  { 34, 0 },
                                   { 34, 10 }, { 20, 10 }, { 20, 5 }, { 10, 5 }, { 10, 10 }, { 0, 10 } };

  assert_inset_area (corners, 12, 1, 12 * 8);
}

/* The passage is exactly as wide as two insets: its moved edges fall on one another. */
static void
test_dumbbell_with_a_passage_of_two_insets (void)
{
  const SherdPoint corners[12] = { { 0, 0 },   { 10, 0 },  { 10, 4 }, { 20, 4 }, { 20, 0 },  { 34, 0 },
                                   { 34, 10 }, { 20, 10 }, { 20, 6 }, { 10, 6 }, { 10, 10 }, { 0, 10 } };
  g_autoptr (SherdOutline) outline = sherd_outline_new (corners, 12);
  g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, 1);

  g_assert_nonnull (inner);
  g_assert_cmpfloat (sherd_outline_area (inner), >, 12 * 8 - 1e-3);
  g_assert_cmpfloat (sherd_outline_area (inner), <, 12 * 8 + 8 * 8 + 1e-3);
}

static void
test_comb (void)
{
  const SherdPoint corners[12] = { { 0, 0 },   { 25, 0 },  { 25, 20 }, { 20, 20 }, { 20, 5 }, { 15, 5 },
                                   { 15, 20 }, { 10, 20 }, { 10, 5 },  { 5, 5 },   { 5, 20 }, { 0, 20 } };

  /* A back of 23 × 3 and three teeth of 3 × 15, each longer by the gap that the back lost. */
  assert_inset_area (corners, 12, 1, 23 * 3 + 3 * 3 * 15);
}

/* Interior angle of 270° + 60°: the moved edges are joined by two corners about the circle, not by a spike. */
static void
test_sharp_notch_makes_no_spike (void)
{
  const SherdPoint corners[7] = { { 0, 0 }, { 40, 0 }, { 40, 40 }, { 22, 40 }, { 20, 10 }, { 18, 40 }, { 0, 40 } };
  g_autoptr (SherdOutline) outline = sherd_outline_new (corners, 7);
  g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, 2);

  g_assert_nonnull (inner);
  g_assert_true (sherd_outline_contains (inner, (SherdPoint){ 20, 10 - 2 * MITRE - ROUNDING }));
}

static void
test_repeated_and_straight_corners_do_not_matter (void)
{
  const SherdPoint corners[9] = { { 0, 0 }, { 5, 0 },  { 5, 0 },  { 10, 0 }, { 10, 4 },
                                  { 4, 4 }, { 4, 10 }, { 0, 10 }, { 0, 10 } };

  assert_inset_area (corners, 9, 1, 8 * 2 + 2 * 6);
}

static void
test_what_has_no_area_has_no_inside (void)
{
  const SherdPoint line[3] = { { 0, 0 }, { 5, 5 }, { 10, 10 } };
  const SherdPoint nowhere[4] = { { 0, 0 }, { 5, 0 }, { NAN, 5 }, { 0, 5 } };

  assert_nothing_left (line, 3, 0.1);
  assert_nothing_left (line, 0, 0.1);
  assert_nothing_left (nowhere, 4, 0.1);
}

/* Corners at random distances about a middle, in order of angle: no crossings, many inner corners. */
static SherdOutline *
draw_star (GRand *random)
{
  const guint n = (guint)g_rand_int_range (random, 5, 40);
  g_autofree SherdPoint *points = g_new (SherdPoint, n);

  for (guint i = 0; i < n; i++)
    {
      const double radius = g_rand_double_range (random, 20, 100);

      points[i] = (SherdPoint){ 150 + radius * cos (2 * G_PI * i / n), 150 + radius * sin (2 * G_PI * i / n) };
    }
  return sherd_outline_new (points, n);
}

/* Every point of the result keeps its distance, and whatever lies far enough inside, connected with the result by
 * points that do, is in it. */
static void
test_random_outlines_keep_the_distance (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1);
  guint n_left = 0;

  for (guint round = 0; round < 300; round++)
    {
      g_autoptr (SherdOutline) outline = draw_star (random);
      const double inset = g_rand_double_range (random, 1, 8);
      g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, inset);

      for (guint i = 0; i < 400; i++)
        {
          const SherdPoint point = { g_rand_double_range (random, 50, 250), g_rand_double_range (random, 50, 250) };
          const double distance = sherd_outline_distance (outline, point);

          if (inner != NULL && sherd_outline_contains (inner, point))
            {
              g_assert_true (sherd_outline_contains (outline, point));
              g_assert_cmpfloat (distance, >=, inset - ROUNDING);
            }
        }
      /* The middle is at least 20 from every corner, so what surrounds it is left. */
      if (sherd_outline_distance (outline, (SherdPoint){ 150, 150 }) > MITRE * inset)
        {
          g_assert_nonnull (inner);
          n_left++;
        }
    }
  g_assert_cmpuint (n_left, >, 150);
}

enum
{
  SIDE = 300
};

static SherdPoint
middle_of (guint pixel)
{
  const guint column = pixel % SIDE, row = pixel / SIDE;

  return (SherdPoint){ column + 0.5, row + 0.5 };
}

/* Pixels that are farther than the mitres reach, counted by flooding from the largest such part, are all in the result.
 */
static void
flood (const gboolean *wide, gboolean *reached, guint side, guint x, guint y)
{
  g_autoptr (GArray) todo = g_array_new (FALSE, FALSE, sizeof (guint));
  guint at = y * side + x;

  g_array_append_val (todo, at);
  while (todo->len > 0)
    {
      at = g_array_index (todo, guint, todo->len - 1);
      g_array_set_size (todo, todo->len - 1);
      if (!wide[at] || reached[at])
        continue;
      reached[at] = TRUE;
      for (guint k = 0; k < 4; k++)
        {
          const guint next = at + (k == 0) - (k == 1) + side * (k == 2) - side * (k == 3);

          g_array_append_val (todo, next);
        }
    }
}

static void
test_random_outlines_lose_no_more_than_the_mitres (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (2);
  g_autofree gboolean *wide = g_new0 (gboolean, SIDE * SIDE);
  g_autofree gboolean *reached = g_new0 (gboolean, SIDE * SIDE);
  guint n_compared = 0;

  for (guint round = 0; round < 10; round++)
    {
      g_autoptr (SherdOutline) outline = draw_star (random);
      const double inset = g_rand_double_range (random, 1, 6);
      g_autoptr (SherdOutline) inner = sherd_outline_inset (outline, inset);

      for (guint i = 0; i < SIDE * SIDE; i++)
        {
          const SherdPoint point = middle_of (i);

          wide[i] = sherd_outline_contains (outline, point) && sherd_outline_distance (outline, point) > MITRE * inset;
          reached[i] = FALSE;
        }
      if (!wide[150 * SIDE + 150])
        continue;
      flood (wide, reached, SIDE, 150, 150);
      for (guint i = 0; i < SIDE * SIDE; i++)
        if (reached[i])
          {
            g_assert_true (sherd_outline_contains (inner, middle_of (i)));
            n_compared++;
          }
    }
  g_assert_cmpuint (n_compared, >, 10000);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/inset/rectangle", test_rectangle);
  g_test_add_func ("/shape/inset/no-inset-changes-nothing", test_no_inset_changes_nothing);
  g_test_add_func ("/shape/inset/triangle", test_triangle);
  g_test_add_func ("/shape/inset/l-shape", test_l_shape);
  g_test_add_func ("/shape/inset/l-shape-too-narrow", test_l_shape_too_narrow);
  g_test_add_func ("/shape/inset/flag-loses-its-pole", test_flag_loses_its_pole);
  g_test_add_func ("/shape/inset/dumbbell-keeps-the-larger-end", test_dumbbell_keeps_the_larger_end);
  g_test_add_func ("/shape/inset/dumbbell-with-a-passage-of-two-insets", test_dumbbell_with_a_passage_of_two_insets);
  g_test_add_func ("/shape/inset/comb", test_comb);
  g_test_add_func ("/shape/inset/sharp-notch-makes-no-spike", test_sharp_notch_makes_no_spike);
  g_test_add_func ("/shape/inset/repeated-and-straight-corners", test_repeated_and_straight_corners_do_not_matter);
  g_test_add_func ("/shape/inset/no-area-has-no-inside", test_what_has_no_area_has_no_inside);
  g_test_add_func ("/shape/inset/random-outlines-keep-the-distance", test_random_outlines_keep_the_distance);
  g_test_add_func ("/shape/inset/random-outlines-lose-no-more-than-the-mitres",
                   test_random_outlines_lose_no_more_than_the_mitres);
  return g_test_run ();
}
