/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: marks projected here by a camera of stated place, direction and focal length (pinhole, written out below).
 */
#include "config.h"

#include "measure/camera.h"

#include <math.h>

#define WIDTH_PX 1600
#define HEIGHT_PX 1200
#define FOCAL_PX 2600.0

/* Looks from @place to the point (80, 60, 0) of the face, its rows level with the face's x axis. */
static SherdPoint
project_true (const double place[3], const double point[3])
{
  const double forward[3] = { 80 - place[0], 60 - place[1], -place[2] };
  const double length = sqrt (forward[0] * forward[0] + forward[1] * forward[1] + forward[2] * forward[2]);
  const double f[3] = { forward[0] / length, forward[1] / length, forward[2] / length };
  /* Right lies in the face's plane, at right angles to where the camera looks. */
  const double flat = hypot (f[1], f[2]);
  const double right[3] = { flat, -f[0] * f[1] / flat, -f[0] * f[2] / flat };
  const double down[3] = { f[1] * right[2] - f[2] * right[1], f[2] * right[0] - f[0] * right[2],
                           f[0] * right[1] - f[1] * right[0] };
  const double d[3] = { point[0] - place[0], point[1] - place[1], point[2] - place[2] };
  const double x = d[0] * right[0] + d[1] * right[1] + d[2] * right[2];
  const double y = d[0] * down[0] + d[1] * down[1] + d[2] * down[2];
  const double z = d[0] * f[0] + d[1] * f[1] + d[2] * f[2];

  return (SherdPoint){ WIDTH_PX / 2.0 + FOCAL_PX * x / z, HEIGHT_PX / 2.0 + FOCAL_PX * y / z };
}

static const double oblique[3] = { 120, 400, -560 };
static const double overhead[3] = { 80.01, 60.01, -700 };

static void
make_face (const double place[3], SherdMark marks[4])
{
  static const SherdPoint corners[4] = { { 0, 0 }, { 160, 0 }, { 160, 120 }, { 0, 120 } };

  for (guint i = 0; i < 4; i++)
    {
      const double point[3] = { corners[i].x, corners[i].y, 0 };

      marks[i].piece_mm = corners[i];
      marks[i].photo_px = project_true (place, point);
    }
}

static void
fit (const double place[3], double focal_35mm, SherdCamera *camera, SherdHomography *face)
{
  const SherdFocalGuess guess = sherd_focal_guess (WIDTH_PX, HEIGHT_PX, focal_35mm);
  SherdMark marks[4];
  GError *error = NULL;

  make_face (place, marks);
  g_assert_true (sherd_homography_fit (face, marks, 4, 0.5, &error));
  sherd_camera_fit (camera, face, marks, 4, 0.5, WIDTH_PX, HEIGHT_PX, &guess);
}

static void
test_oblique_view_tells_the_focal_length (void)
{
  SherdHomography face;
  SherdCamera camera;

  fit (oblique, 0, &camera, &face);
  /* The belief in 1.2 × 1600 = 1920 px pulls a little on exact marks. */
  g_assert_cmpfloat_with_epsilon (camera.focal_px / FOCAL_PX, 1, 0.01);
  for (guint i = 0; i < 3; i++)
    g_assert_cmpfloat_with_epsilon (camera.position_mm[i], oblique[i], 8);
}

static void
test_overhead_view_takes_the_file_s_word (void)
{
  /* 2600 px of a 2000 px diagonal are 2600 × 43.2666 ÷ 2000 = 56.2466 mm. */
  SherdHomography face;
  SherdCamera camera;

  fit (overhead, 56.2466, &camera, &face);
  g_assert_cmpfloat_with_epsilon (camera.focal_px / FOCAL_PX, 1, 0.01);
  g_assert_cmpfloat_with_epsilon (camera.position_mm[2], overhead[2], 8);
}

static void
test_projection_meets_the_marks (void)
{
  SherdHomography face;
  SherdCamera camera;
  SherdMark marks[4];

  fit (oblique, 0, &camera, &face);
  make_face (oblique, marks);
  for (guint i = 0; i < 4; i++)
    {
      const double point[3] = { marks[i].piece_mm.x, marks[i].piece_mm.y, 0 };
      const SherdPoint seen = sherd_camera_project (&camera, point);

      g_assert_cmpfloat_with_epsilon (seen.x, marks[i].photo_px.x, 0.1);
      g_assert_cmpfloat_with_epsilon (seen.y, marks[i].photo_px.y, 0.1);
    }
}

/* A chart of 60 × 90 mm beside the face, turned by 0.2 rad, its own plane lifted at the far side by @lean rad. */
static void
make_chart (double depth_mm, double lean_rad, SherdMark marks[4])
{
  static const SherdPoint corners[4] = { { 0, 0 }, { 60, 0 }, { 60, 90 }, { 0, 90 } };

  for (guint i = 0; i < 4; i++)
    {
      const double x = corners[i].x, y = corners[i].y * cos (lean_rad), z = corners[i].y * sin (lean_rad);
      const double point[3] = { 180 + x * cos (0.2) - y * sin (0.2), 10 + x * sin (0.2) + y * cos (0.2), depth_mm - z };

      marks[i].piece_mm = corners[i];
      marks[i].photo_px = project_true (oblique, point);
    }
}

static void
test_chart_lies_lower (void)
{
  SherdHomography face;
  SherdCamera camera;
  SherdPlane plane;
  SherdMark marks[4];

  fit (oblique, 0, &camera, &face);
  make_chart (9, 0, marks);
  sherd_plane_fit (&plane, &camera, &face, marks, 4, 0.5);
  g_assert_true (plane.parallel);
  g_assert_cmpfloat_with_epsilon (plane.origin_mm[2], 9, 1);
  g_assert_cmpfloat_with_epsilon (plane.origin_mm[0], 180, 1);
  g_assert_cmpfloat_with_epsilon (plane.normal[2], -1, 1e-9);
}

static void
test_chart_leans (void)
{
  SherdHomography face;
  SherdCamera camera;
  SherdPlane plane;
  SherdMark marks[4];

  fit (oblique, 0, &camera, &face);
  make_chart (5, 0.35, marks);
  sherd_plane_fit (&plane, &camera, &face, marks, 4, 0.5);
  g_assert_false (plane.parallel);
  g_assert_cmpfloat_with_epsilon (acos (-plane.normal[2]), 0.35, 0.05);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/camera/oblique-view-tells-the-focal-length", test_oblique_view_tells_the_focal_length);
  g_test_add_func ("/measure/camera/overhead-view-takes-the-files-word", test_overhead_view_takes_the_file_s_word);
  g_test_add_func ("/measure/camera/projection-meets-the-marks", test_projection_meets_the_marks);
  g_test_add_func ("/measure/camera/chart-lies-lower", test_chart_lies_lower);
  g_test_add_func ("/measure/camera/chart-leans", test_chart_leans);
  return g_test_run ();
}
