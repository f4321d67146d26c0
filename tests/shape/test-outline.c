/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Closed forms: areas and centroids of rectangle, triangle and L by school geometry, the regular polygon's area
 * n r² sin (2π/n) / 2; the rest by hand. */

#include "config.h"

#include "shape/outline.h"

#include <math.h>

#define ROUNDING 1e-12

/* The unit of a tile's corner far from the origin costs digits: 1e6² × 1e-16. */
#define ROUNDING_FAR_AWAY 1e-9

static const SherdPoint l_shape[6] = { { 0, 0 }, { 10, 0 }, { 10, 4 }, { 4, 4 }, { 4, 10 }, { 0, 10 } };

static SherdOutline *
new_regular (guint n, double radius)
{
  g_autofree SherdPoint *points = g_new (SherdPoint, n);

  for (guint i = 0; i < n; i++)
    points[i] = (SherdPoint){ radius * cos (2 * G_PI * i / n), radius * sin (2 * G_PI * i / n) };
  return sherd_outline_new (points, n);
}

static SherdOutline *
new_backwards (const SherdOutline *outline)
{
  SherdOutline *backwards = sherd_outline_copy (outline);

  for (gsize i = 0; i < outline->n_points; i++)
    backwards->points[i] = outline->points[outline->n_points - 1 - i];
  return backwards;
}

static void
test_rectangle_has_its_corners_from_the_top_left_to_the_right (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (1, 2, 30, 40);

  g_assert_cmpuint (outline->n_points, ==, 4);
  g_assert_cmpfloat (outline->points[0].x, ==, 1);
  g_assert_cmpfloat (outline->points[0].y, ==, 2);
  g_assert_cmpfloat (outline->points[1].x, ==, 31);
  g_assert_cmpfloat (outline->points[1].y, ==, 2);
  g_assert_cmpfloat (outline->points[2].y, ==, 42);
  g_assert_cmpfloat (outline->points[3].x, ==, 1);
}

static void
test_areas_have_closed_forms (void)
{
  const SherdPoint corners[3] = { { 2, 1 }, { 9, 3 }, { 4, 8 } };
  g_autoptr (SherdOutline) rectangle = sherd_outline_new_rectangle (-5, 3, 12, 7);
  g_autoptr (SherdOutline) triangle = sherd_outline_new (corners, 3);
  g_autoptr (SherdOutline) corner = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));
  g_autoptr (SherdOutline) regular = new_regular (17, 3.5);
  g_autoptr (SherdOutline) backwards = new_backwards (corner);

  g_assert_cmpfloat_with_epsilon (sherd_outline_area (rectangle), 84, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (triangle), (7 * 7 - 2 * 2) / 2.0, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (corner), 64, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (regular), 17 * 3.5 * 3.5 * sin (2 * G_PI / 17) / 2, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_signed_area (corner), 64, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_signed_area (backwards), -64, ROUNDING);
}

static void
test_centroid_of_an_l_is_that_of_its_two_rectangles (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));
  const SherdPoint centroid = sherd_outline_centroid (outline);
  const double expected = (40 * 5 + 24 * 2) / 64.0; /* 10 × 4 about x = 5 and 4 × 6 about x = 2 */

  g_assert_cmpfloat_with_epsilon (centroid.x, expected, ROUNDING);
  g_assert_cmpfloat_with_epsilon (centroid.y, expected, ROUNDING);
}

static void
test_far_from_the_origin_nothing_is_lost (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (1e6, -1e6, 2, 3);
  const SherdPoint centroid = sherd_outline_centroid (outline);

  g_assert_cmpfloat_with_epsilon (sherd_outline_area (outline), 6, ROUNDING_FAR_AWAY);
  g_assert_cmpfloat_with_epsilon (centroid.x, 1e6 + 1, ROUNDING_FAR_AWAY);
  g_assert_cmpfloat_with_epsilon (centroid.y, -1e6 + 1.5, ROUNDING_FAR_AWAY);
}

static void
test_an_outline_without_area_has_the_mean_of_its_corners (void)
{
  const SherdPoint line[3] = { { 0, 0 }, { 2, 2 }, { 7, 7 } };
  g_autoptr (SherdOutline) outline = sherd_outline_new (line, 3);
  g_autoptr (SherdOutline) nothing = sherd_outline_new (NULL, 0);

  g_assert_cmpfloat (sherd_outline_area (outline), ==, 0);
  g_assert_cmpfloat_with_epsilon (sherd_outline_centroid (outline).x, 3, ROUNDING);
  g_assert_cmpfloat (sherd_outline_area (nothing), ==, 0);
  g_assert_cmpfloat (sherd_outline_centroid (nothing).x, ==, 0);
}

static void
test_contains_what_lies_inside (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));
  g_autoptr (SherdOutline) backwards = new_backwards (outline);
  const SherdPoint inside[] = { { 2, 2 }, { 9, 3 }, { 3, 9 }, { 3.9, 4.1 }, { 4, 2 }, { 2, 4 } };
  const SherdPoint outside[] = { { 5, 5 }, { 4.1, 4.1 }, { -1, 2 }, { 2, 11 }, { 11, 4 }, { -1, 4 }, { 12, 0 } };

  for (guint i = 0; i < G_N_ELEMENTS (inside); i++)
    {
      g_assert_true (sherd_outline_contains (outline, inside[i]));
      g_assert_true (sherd_outline_contains (backwards, inside[i]));
    }
  for (guint i = 0; i < G_N_ELEMENTS (outside); i++)
    {
      g_assert_false (sherd_outline_contains (outline, outside[i]));
      g_assert_false (sherd_outline_contains (backwards, outside[i]));
    }
}

static void
test_distance_is_to_the_nearest_edge (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));

  g_assert_cmpfloat_with_epsilon (sherd_outline_distance (outline, (SherdPoint){ 1, 2 }), 1, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_distance (outline, (SherdPoint){ 3, 3 }), G_SQRT2, ROUNDING);
  g_assert_cmpfloat_with_epsilon (sherd_outline_distance (outline, (SherdPoint){ 13, -4 }), 5, ROUNDING);
}

static void
test_clip_keeps_the_inner_side (void)
{
  g_autoptr (SherdOutline) outline = sherd_outline_new (l_shape, G_N_ELEMENTS (l_shape));
  const SherdLine right_of_3 = { 1, 0, -3 }, right_of_20 = { 1, 0, -20 }, left_of_20 = { -1, 0, 20 };
  const SherdLine above_diagonal = { -1, -1, 12 }; /* cuts both ends of the L off */
  g_autoptr (SherdOutline) right = sherd_outline_clip (outline, &right_of_3);
  g_autoptr (SherdOutline) nothing = sherd_outline_clip (outline, &right_of_20);
  g_autoptr (SherdOutline) all = sherd_outline_clip (outline, &left_of_20);
  g_autoptr (SherdOutline) middle = sherd_outline_clip (outline, &above_diagonal);

  g_assert_cmpfloat_with_epsilon (sherd_outline_area (right), 7 * 4 + 1 * 6, ROUNDING);
  g_assert_cmpuint (nothing->n_points, ==, 0);
  g_assert_cmpuint (all->n_points, ==, 6);
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (all), 64, ROUNDING);
  /* Of each arm the corner beyond x + y = 12: a triangle with legs of 2. */
  g_assert_cmpfloat_with_epsilon (sherd_outline_area (middle), 64 - 2 * 2, ROUNDING);
}

/* w = 1 − x / 100 and 10 px per mm at x = 0: straight ahead the face runs to its horizon at x = 100 mm. */
static SherdHomography
fit_slanted (void)
{
  const SherdPoint places[4] = { { 0, 0 }, { 50, 0 }, { 50, 40 }, { 0, 40 } };
  SherdHomography homography;
  SherdMark marks[4];

  for (guint i = 0; i < 4; i++)
    {
      const double w = 1 - places[i].x / 100;

      marks[i] = (SherdMark){ places[i], { 10 * places[i].x / w, 10 * places[i].y / w } };
    }
  g_assert_true (sherd_homography_fit (&homography, marks, 4, 0.5, NULL));
  return homography;
}

static void
test_to_photo_maps_the_corners (void)
{
  const SherdHomography homography = fit_slanted ();
  g_autoptr (SherdOutline) outline = sherd_outline_new_rectangle (0, 0, 20, 10);
  g_autoptr (SherdOutline) seen = sherd_outline_to_photo (outline, &homography);

  g_assert_cmpuint (seen->n_points, ==, 4);
  g_assert_cmpfloat_with_epsilon (seen->points[0].x, 0, 1e-9);
  g_assert_cmpfloat_with_epsilon (seen->points[1].x, 250, 1e-9);
  g_assert_cmpfloat_with_epsilon (seen->points[2].x, 250, 1e-9);
  g_assert_cmpfloat_with_epsilon (seen->points[2].y, 125, 1e-9);
  g_assert_cmpfloat_with_epsilon (seen->points[3].y, 100, 1e-9);
}

static void
test_to_photo_cuts_off_what_is_behind_the_camera (void)
{
  const SherdHomography homography = fit_slanted ();
  g_autoptr (SherdOutline) across = sherd_outline_new_rectangle (50, 0, 100, 10);
  g_autoptr (SherdOutline) behind = sherd_outline_new_rectangle (110, 0, 20, 10);
  g_autoptr (SherdOutline) seen = sherd_outline_to_photo (across, &homography);
  g_autoptr (SherdOutline) unseen = sherd_outline_to_photo (behind, &homography);

  g_assert_cmpuint (seen->n_points, ==, 4);
  for (gsize i = 0; i < seen->n_points; i++)
    g_assert_cmpfloat (seen->points[i].x, >=, 1000 - 1e-9);
  g_assert_cmpuint (unseen->n_points, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/outline/rectangle-starts-at-the-top-left",
                   test_rectangle_has_its_corners_from_the_top_left_to_the_right);
  g_test_add_func ("/shape/outline/areas-have-closed-forms", test_areas_have_closed_forms);
  g_test_add_func ("/shape/outline/centroid-of-an-l", test_centroid_of_an_l_is_that_of_its_two_rectangles);
  g_test_add_func ("/shape/outline/far-from-the-origin-nothing-is-lost", test_far_from_the_origin_nothing_is_lost);
  g_test_add_func ("/shape/outline/without-area", test_an_outline_without_area_has_the_mean_of_its_corners);
  g_test_add_func ("/shape/outline/contains-what-lies-inside", test_contains_what_lies_inside);
  g_test_add_func ("/shape/outline/distance-is-to-the-nearest-edge", test_distance_is_to_the_nearest_edge);
  g_test_add_func ("/shape/outline/clip-keeps-the-inner-side", test_clip_keeps_the_inner_side);
  g_test_add_func ("/shape/outline/to-photo-maps-the-corners", test_to_photo_maps_the_corners);
  g_test_add_func ("/shape/outline/to-photo-cuts-off-what-is-behind-the-camera",
                   test_to_photo_cuts_off_what_is_behind_the_camera);
  return g_test_run ();
}
