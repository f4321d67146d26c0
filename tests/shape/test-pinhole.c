/* SPDX-License-Identifier: GPL-3.0-or-later */

/* A camera put together by hand; circles are held against their points, projected one by one. */

#include "config.h"

#include "shape/pinhole.h"
#include "shape/silhouette.h"

#include "bodies.h"

#include <math.h>

#define EXACT 1e-9

/* 700 mm in front of the origin, 30° above it, a little turned. */
static SherdPinhole
camera (double k1)
{
  SherdPinhole pinhole = { .focal_px = 3000, .centre_x_px = 2000, .centre_y_px = 1500, .k1 = k1 };
  const double turn[3] = { -G_PI / 3.0 - G_PI_2, 0.0, 0.0 }, about[3] = { 0.1, 0.2, 0.3 };

  for (guint i = 0; i < 3; i++)
    pinhole.rotation[i][i] = 1.0;
  sherd_pinhole_turn (&pinhole, turn);
  sherd_pinhole_turn (&pinhole, about);
  pinhole.translation[0] = 15;
  pinhole.translation[1] = 20;
  pinhole.translation[2] = 700;
  return pinhole;
}

static void
test_ray_goes_back_to_the_place (void)
{
  for (double k1 = -0.15; k1 < 0.16; k1 += 0.15)
    {
      const SherdPinhole pinhole = camera (k1);
      const double place[3] = { 60, -40, 30 };
      double centre[3], ray[3], across[3], way[3];

      sherd_pinhole_centre (&pinhole, centre);
      sherd_pinhole_ray (&pinhole, sherd_pinhole_project (&pinhole, place), ray);
      for (guint i = 0; i < 3; i++)
        way[i] = place[i] - centre[i];
      across[0] = way[1] * ray[2] - way[2] * ray[1];
      across[1] = way[2] * ray[0] - way[0] * ray[2];
      across[2] = way[0] * ray[1] - way[1] * ray[0];
      g_assert_cmpfloat (fabs (across[0]) + fabs (across[1]) + fabs (across[2]), <, 1e-6);
      g_assert_cmpfloat (way[0] * ray[0] + way[1] * ray[1] + way[2] * ray[2], >, 0.0);
    }
}

static void
test_turning_keeps_lengths (void)
{
  const SherdPinhole pinhole = camera (0.0);

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        double sum = 0.0;

        for (guint k = 0; k < 3; k++)
          sum += pinhole.rotation[i][k] * pinhole.rotation[j][k];
        g_assert_cmpfloat_with_epsilon (sum, i == j ? 1.0 : 0.0, EXACT);
      }
}

static void
test_matrix_there_and_back (void)
{
  const SherdPinhole truth = camera (0.0);
  double matrix[3][4];
  SherdPinhole read;

  for (guint j = 0; j < 4; j++)
    {
      const double last = j < 3 ? truth.rotation[2][j] : truth.translation[2];

      for (guint i = 0; i < 2; i++)
        matrix[i][j] = -0.7 * (truth.focal_px * (j < 3 ? truth.rotation[i][j] : truth.translation[i]) +
                               (i == 0 ? truth.centre_x_px : truth.centre_y_px) * last);
      matrix[2][j] = -0.7 * last;
    }
  g_assert_true (sherd_pinhole_from_matrix (&read, matrix));
  g_assert_cmpfloat_with_epsilon (read.focal_px, truth.focal_px, 1e-6);
  g_assert_cmpfloat_with_epsilon (read.centre_x_px, truth.centre_x_px, 1e-6);
  for (guint i = 0; i < 3; i++)
    {
      g_assert_cmpfloat_with_epsilon (read.translation[i], truth.translation[i], 1e-6);
      for (guint j = 0; j < 3; j++)
        g_assert_cmpfloat_with_epsilon (read.rotation[i][j], truth.rotation[i][j], EXACT);
    }
}

static void
test_no_camera_has_a_matrix_of_rank_two (void)
{
  double matrix[3][4] = { { 1, 0, 0, 0 }, { 0, 1, 0, 0 }, { 0, 0, 0, 1 } };
  SherdPinhole read;

  g_assert_false (sherd_pinhole_from_matrix (&read, matrix));
}

/* Every point of the circle lies on its ellipse; a pixel beside it, along the normal, a pixel. */
static void
test_circle_is_an_ellipse (void)
{
  const SherdPinhole pinhole = camera (-0.08);

  for (guint i = 0; i < 36; i++)
    {
      const double a = G_PI * i / 18, b = a + 1e-6;
      const double place[3] = { 80 * cos (a), 80 * sin (a), 60 }, next[3] = { 80 * cos (b), 80 * sin (b), 60 };
      const SherdPoint seen = sherd_pinhole_project (&pinhole, place), beside = sherd_pinhole_project (&pinhole, next);
      const double length = hypot (beside.x - seen.x, beside.y - seen.y);
      const SherdPoint out = { seen.x + (beside.y - seen.y) / length, seen.y - (beside.x - seen.x) / length };

      g_assert_cmpfloat_with_epsilon (sherd_circle_distance_px (&pinhole, 80, 60, seen), 0.0, 1e-6);
      g_assert_cmpfloat_with_epsilon (fabs (sherd_circle_distance_px (&pinhole, 80, 60, out)), 1.0, 0.03);
    }
}

/* Where the line of sight touches a sphere it is square to the radius. */
static void
test_silhouette_touches (void)
{
  g_autoptr (SherdProfile) sphere = bodies_new_half_sphere (90);
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = sphere };
  const double centre[3] = { 500, -300, 40 };
  g_autoptr (SherdSilhouette) silhouette = sherd_silhouette_new (sphere, centre, 0.1);
  guint n_touching = 0;

  for (gsize i = 0; i < silhouette->n_points; i++)
    {
      double p[3];

      if (!isfinite (silhouette->left_on_side[i].x))
        continue;
      sherd_surface_position (&surface, silhouette->left_on_side[i], p, NULL);
      /* The sphere's middle lies at its lip, 90 mm up. */
      g_assert_cmpfloat_with_epsilon (
        p[0] * (centre[0] - p[0]) + p[1] * (centre[1] - p[1]) + (p[2] - 90) * (centre[2] - p[2]), 0.0, 20.0);
      n_touching++;
    }
  g_assert_cmpuint (n_touching, >, 10);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/pinhole/ray-goes-back-to-the-place", test_ray_goes_back_to_the_place);
  g_test_add_func ("/shape/pinhole/turning-keeps-lengths", test_turning_keeps_lengths);
  g_test_add_func ("/shape/pinhole/matrix-there-and-back", test_matrix_there_and_back);
  g_test_add_func ("/shape/pinhole/no-camera-has-a-matrix-of-rank-two", test_no_camera_has_a_matrix_of_rank_two);
  g_test_add_func ("/shape/pinhole/circle-is-an-ellipse", test_circle_is_an_ellipse);
  g_test_add_func ("/shape/pinhole/silhouette-touches", test_silhouette_touches);
  return g_test_run ();
}
