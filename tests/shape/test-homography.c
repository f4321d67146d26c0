/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Truth outside the fit: pinhole cameras built here from focal length, rotation and distance, whose pixels are exact;
 * one matrix by hand, whose eight pairs it must return; and, for the covariance, four hundred fits to marks with drawn
 * noise. The derivatives are held against differences. */

#include "config.h"

#include "shape/homography.h"

#include <math.h>
#include <string.h>

/* Pixels of a photograph of thousands: twelve digits of sixteen are left after the fit. */
#define EXACT_PX 1e-8
#define EXACT_SHARE 1e-9

/* A standard deviation from 400 draws is known to 1/√800 = 3.5 %; four times that. */
#define N_DRAWS 400u
#define DRAWN_SD_SHARE 0.14

#define FACE_WIDTH_MM 120.0
#define FACE_HEIGHT_MM 90.0

/* A camera that looks at the middle of the face: f in px, columns of the rotation, distance in mm. */
typedef struct
{
  double focal_px;
  double rotation[3][3];
  double distance_mm;
} Camera;

/* Rodrigues' formula. */
static void
rotate (double x, double y, double z, double rotation[3][3])
{
  const double angle = sqrt (x * x + y * y + z * z);
  const double axis[3] = { x / angle, y / angle, z / angle };
  const double cross[3][3] = { { 0, -axis[2], axis[1] }, { axis[2], 0, -axis[0] }, { -axis[1], axis[0], 0 } };

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      rotation[i][j] =
        (i == j ? cos (angle) : 0.0) + sin (angle) * cross[i][j] + (1.0 - cos (angle)) * axis[i] * axis[j];
}

static Camera
draw_camera (GRand *random)
{
  Camera camera = { .focal_px = g_rand_double_range (random, 2000, 6000),
                    .distance_mm = g_rand_double_range (random, 300, 1500) };

  rotate (g_rand_double_range (random, -0.7, 0.7), g_rand_double_range (random, -0.7, 0.7),
          g_rand_double_range (random, -3.0, 3.0), camera.rotation);
  return camera;
}

static SherdPoint
look (const Camera *camera, SherdPoint piece_mm)
{
  const double x = piece_mm.x - FACE_WIDTH_MM / 2, y = piece_mm.y - FACE_HEIGHT_MM / 2;
  const double z_mm = camera->rotation[2][0] * x + camera->rotation[2][1] * y + camera->distance_mm;

  return (SherdPoint){ 2000 + camera->focal_px * (camera->rotation[0][0] * x + camera->rotation[0][1] * y) / z_mm,
                       1500 + camera->focal_px * (camera->rotation[1][0] * x + camera->rotation[1][1] * y) / z_mm };
}

/* The corners, then points of a lattice between them. */
static void
set_marks (const Camera *camera, SherdMark *marks, guint n_marks)
{
  const SherdPoint places[9] = { { 0, 0 },      { 1, 0 },     { 1, 1 },     { 0, 1 },    { 0.5, 0.1 },
                                 { 0.4, 0.55 }, { 0.9, 0.5 }, { 0.1, 0.6 }, { 0.6, 0.9 } };

  for (guint i = 0; i < n_marks; i++)
    {
      marks[i].piece_mm = (SherdPoint){ places[i].x * FACE_WIDTH_MM, places[i].y * FACE_HEIGHT_MM };
      marks[i].photo_px = look (camera, marks[i].piece_mm);
    }
}

/* Box and Muller's transform. */
static double
draw_normal (GRand *random)
{
  return sqrt (-2.0 * log (1.0 - g_rand_double (random))) * cos (2.0 * G_PI * g_rand_double (random));
}

static void
shake_marks (GRand *random, SherdMark *marks, guint n_marks, double sd_px)
{
  for (guint i = 0; i < n_marks; i++)
    {
      marks[i].photo_px.x += sd_px * draw_normal (random);
      marks[i].photo_px.y += sd_px * draw_normal (random);
    }
}

static void
fit (SherdHomography *homography, const SherdMark *marks, guint n_marks)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (sherd_homography_fit (homography, marks, n_marks, 0.5, &error));
  g_assert_no_error (error);
}

static void
assert_near (SherdPoint point, SherdPoint expected, double tolerance)
{
  g_assert_cmpfloat_with_epsilon (point.x, expected.x, tolerance);
  g_assert_cmpfloat_with_epsilon (point.y, expected.y, tolerance);
}

static void
test_returns_a_known_matrix (void)
{
  const double known[3][3] = { { 1.2, 0.1, 300 }, { -0.05, 0.9, 200 }, { 1e-4, -2e-4, 1 } };
  SherdHomography homography;
  SherdMark marks[8];

  for (guint i = 0; i < 8; i++)
    {
      const guint column = i % 3, row = i / 3;
      const double x = 137.0 * column + 11.0 * i, y = 205.0 * row + 7.0 * i;
      const double w = known[2][0] * x + known[2][1] * y + known[2][2];

      marks[i].piece_mm = (SherdPoint){ x, y };
      marks[i].photo_px = (SherdPoint){ (known[0][0] * x + known[0][1] * y + known[0][2]) / w,
                                        (known[1][0] * x + known[1][1] * y + known[1][2]) / w };
    }
  fit (&homography, marks, 8);
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      g_assert_cmpfloat_with_epsilon (homography.h[i][j], known[i][j], EXACT_SHARE * MAX (fabs (known[i][j]), 1e-2));
}

static void
test_finds_exact_cameras (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (1);

  for (guint round = 0; round < 200; round++)
    {
      const Camera camera = draw_camera (random);
      const guint n_marks = 4 + round % 6;
      SherdHomography homography;
      SherdMark marks[9];

      set_marks (&camera, marks, n_marks);
      fit (&homography, marks, n_marks);
      for (guint i = 0; i < 20; i++)
        {
          const SherdPoint piece_mm = { g_rand_double_range (random, 0, FACE_WIDTH_MM),
                                        g_rand_double_range (random, 0, FACE_HEIGHT_MM) };
          const SherdPoint photo_px = look (&camera, piece_mm);

          assert_near (sherd_homography_to_photo (&homography, piece_mm), photo_px, EXACT_PX);
          assert_near (sherd_homography_to_piece (&homography, photo_px), piece_mm, EXACT_PX);
          g_assert_true (sherd_homography_sees (&homography, piece_mm));
        }
      g_assert_cmpfloat (homography.residual_rms_px, <, EXACT_PX);
      g_assert_cmpfloat (homography.residual_rms_mm, <, EXACT_PX);
    }
}

static void
test_scale_is_that_of_a_small_square (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (2);
  const Camera camera = draw_camera (random);
  const SherdPoint at = { 30, 60 };
  const double side_mm = 1e-3;
  SherdHomography homography;
  SherdMark marks[4];
  SherdPoint a, b, c;

  set_marks (&camera, marks, 4);
  fit (&homography, marks, 4);
  a = look (&camera, at);
  b = look (&camera, (SherdPoint){ at.x + side_mm, at.y });
  c = look (&camera, (SherdPoint){ at.x, at.y + side_mm });
  g_assert_cmpfloat_with_epsilon (sherd_homography_px_per_mm (&homography, at),
                                  sqrt (fabs ((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x))) / side_mm, 1e-4);
}

static void
test_four_marks_leave_no_residual (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (3);
  const Camera camera = draw_camera (random);
  SherdHomography homography;
  SherdMark marks[4];

  set_marks (&camera, marks, 4);
  shake_marks (random, marks, 4, 3.0);
  fit (&homography, marks, 4);
  for (guint i = 0; i < 4; i++)
    assert_near (sherd_homography_to_photo (&homography, marks[i].piece_mm), marks[i].photo_px, EXACT_PX);
  g_assert_cmpfloat (homography.residual_rms_px, ==, 0.0);
  g_assert_cmpfloat (homography.residual_rms_mm, ==, 0.0);
}

/* No small change of the parameters may bring the marks nearer: the sum of squares is stationary. */
static void
test_refinement_reaches_the_least_squares (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (4);
  const Camera camera = draw_camera (random);
  SherdHomography homography;
  SherdMark marks[9];
  double least = 0.0;

  set_marks (&camera, marks, 9);
  shake_marks (random, marks, 9, 2.0);
  fit (&homography, marks, 9);
  for (guint i = 0; i < 9; i++)
    {
      const SherdPoint seen = sherd_homography_to_photo (&homography, marks[i].piece_mm);

      least += pow (seen.x - marks[i].photo_px.x, 2) + pow (seen.y - marks[i].photo_px.y, 2);
    }
  g_assert_cmpfloat_with_epsilon (homography.residual_rms_px, sqrt (least / 9), EXACT_PX);
  for (guint k = 0; k < 16; k++)
    {
      SherdHomography other = homography;
      double sum = 0.0;

      other.h[k / 2 / 3][k / 2 % 3] *= 1.0 + (k % 2 ? 1e-5 : -1e-5);
      for (guint i = 0; i < 9; i++)
        {
          const SherdPoint seen = sherd_homography_to_photo (&other, marks[i].piece_mm);

          sum += pow (seen.x - marks[i].photo_px.x, 2) + pow (seen.y - marks[i].photo_px.y, 2);
        }
      g_assert_cmpfloat (sum, >, least);
    }
}

/* Draws marks about the true ones and compares the scatter of the parameters and of one point with what is foretold. */
static void
compare_with_draws (guint n_marks)
{
  const double sd_px = 0.8;
  const SherdPoint at = { 85, 20 };
  g_autoptr (GRand) random = g_rand_new_with_seed (5 + n_marks);
  const Camera camera = draw_camera (random);
  SherdHomography exact, drawn;
  SherdMark marks[9];
  double squares[8] = { 0 }, point_xx = 0, point_xy = 0, point_yy = 0, foretold[2][2];
  SherdPoint seen;

  set_marks (&camera, marks, n_marks);
  g_assert_true (sherd_homography_fit (&exact, marks, n_marks, sd_px, NULL));
  sherd_homography_point_covariance (&exact, at, foretold);
  seen = sherd_homography_to_photo (&exact, at);
  for (guint draw = 0; draw < N_DRAWS; draw++)
    {
      SherdMark shaken[9];
      SherdPoint point;

      memcpy (shaken, marks, sizeof marks);
      shake_marks (random, shaken, n_marks, sd_px);
      g_assert_true (sherd_homography_fit (&drawn, shaken, n_marks, sd_px, NULL));
      for (guint k = 0; k < 8; k++)
        squares[k] += pow (drawn.h[k / 3][k % 3] - exact.h[k / 3][k % 3], 2) / N_DRAWS;
      point = sherd_homography_to_photo (&drawn, at);
      point_xx += pow (point.x - seen.x, 2) / N_DRAWS;
      point_xy += (point.x - seen.x) * (point.y - seen.y) / N_DRAWS;
      point_yy += pow (point.y - seen.y, 2) / N_DRAWS;
    }
  for (guint k = 0; k < 8; k++)
    g_assert_cmpfloat_with_epsilon (sqrt (squares[k] / exact.covariance[k][k]), 1.0, DRAWN_SD_SHARE);
  g_assert_cmpfloat_with_epsilon (sqrt (point_xx / foretold[0][0]), 1.0, DRAWN_SD_SHARE);
  g_assert_cmpfloat_with_epsilon (sqrt (point_yy / foretold[1][1]), 1.0, DRAWN_SD_SHARE);
  g_assert_cmpfloat_with_epsilon (point_xy / sqrt (point_xx * point_yy),
                                  foretold[0][1] / sqrt (foretold[0][0] * foretold[1][1]), 4 / sqrt (N_DRAWS));
}

static void
test_covariance_of_four_marks_is_that_of_draws (void)
{
  compare_with_draws (4);
}

static void
test_covariance_of_nine_marks_is_that_of_draws (void)
{
  compare_with_draws (9);
}

/* Four marks are met exactly, so each mark's own place is as uncertain as it was set. */
static void
test_four_marks_keep_their_own_doubt (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (6);
  const Camera camera = draw_camera (random);
  SherdHomography homography;
  SherdMark marks[4];

  set_marks (&camera, marks, 4);
  g_assert_true (sherd_homography_fit (&homography, marks, 4, 0.7, NULL));
  for (guint i = 0; i < 4; i++)
    {
      double covariance_px[2][2];

      sherd_homography_point_covariance (&homography, marks[i].piece_mm, covariance_px);
      g_assert_cmpfloat_with_epsilon (covariance_px[0][0], 0.49, 1e-6);
      g_assert_cmpfloat_with_epsilon (covariance_px[1][1], 0.49, 1e-6);
      g_assert_cmpfloat_with_epsilon (covariance_px[0][1], 0.0, 1e-6);
    }
}

/* Marks that fit worse than they were said to be set tell the truth. */
static void
test_residuals_widen_the_covariance (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  const Camera camera = draw_camera (random);
  SherdHomography trusted, doubted;
  SherdMark marks[9];
  double n_free = 2 * 9 - 8;

  set_marks (&camera, marks, 9);
  shake_marks (random, marks, 9, 5.0);
  g_assert_true (sherd_homography_fit (&trusted, marks, 9, 0.1, NULL));
  g_assert_true (sherd_homography_fit (&doubted, marks, 9, 50.0, NULL));
  g_assert_cmpfloat_with_epsilon (trusted.covariance[2][2] / doubted.covariance[2][2],
                                  pow (trusted.residual_rms_px, 2) * 9 / n_free / (50.0 * 50.0), 1e-9);
}

static void
test_names_the_wrong_mark (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (8);

  for (guint n_marks = 6; n_marks <= 9; n_marks++)
    for (guint wrong = 0; wrong < n_marks; wrong++)
      {
        const Camera camera = draw_camera (random);
        SherdHomography homography;
        SherdMark marks[9];

        set_marks (&camera, marks, n_marks);
        shake_marks (random, marks, n_marks, 0.3);
        marks[wrong].photo_px.x += 25;
        marks[wrong].photo_px.y -= 18;
        fit (&homography, marks, n_marks);
        g_assert_cmpuint (homography.worst_mark, ==, wrong);
        g_assert_cmpfloat (homography.worst_residual_px, >, 0.0);
      }
}

static void
test_refuses_what_the_marks_refuse (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (9);
  g_autoptr (GError) error = NULL;
  const Camera camera = draw_camera (random);
  SherdHomography homography;
  SherdMark marks[4];

  set_marks (&camera, marks, 4);
  g_assert_false (sherd_homography_fit (&homography, marks, 3, 0.5, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_FEW_MARKS);
  g_clear_error (&error);
  marks[1].photo_px = marks[2].photo_px;
  g_assert_false (sherd_homography_fit (&homography, marks, 4, 0.5, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE);
}

static void
test_refuses_nine_marks_seen_from_behind (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (10);
  g_autoptr (GError) error = NULL;
  const Camera camera = draw_camera (random);
  SherdHomography homography;
  SherdMark marks[9];

  set_marks (&camera, marks, 9);
  for (guint i = 0; i < 9; i++)
    marks[i].photo_px.x = 4000 - marks[i].photo_px.x;
  g_assert_false (sherd_homography_fit (&homography, marks, 9, 0.5, &error));
  g_assert_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE);
  g_assert_nonnull (strstr (error->message, "from behind"));
}

/* w = 1 − x / 100: what lies beyond x = 100 mm is behind the camera. */
static void
test_sees_no_farther_than_the_horizon (void)
{
  SherdHomography homography;
  SherdMark marks[4];
  const SherdPoint places[4] = { { 0, 0 }, { 50, 0 }, { 50, 40 }, { 0, 40 } };

  for (guint i = 0; i < 4; i++)
    {
      const double w = 1 - places[i].x / 100;

      marks[i] = (SherdMark){ places[i], { 10 * places[i].x / w, 10 * places[i].y / w } };
    }
  fit (&homography, marks, 4);
  g_assert_true (sherd_homography_sees (&homography, (SherdPoint){ 99, 20 }));
  g_assert_true (sherd_homography_sees (&homography, (SherdPoint){ -500, 20 }));
  g_assert_false (sherd_homography_sees (&homography, (SherdPoint){ 101, 20 }));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/shape/homography/returns-a-known-matrix", test_returns_a_known_matrix);
  g_test_add_func ("/shape/homography/finds-exact-cameras", test_finds_exact_cameras);
  g_test_add_func ("/shape/homography/scale-is-that-of-a-small-square", test_scale_is_that_of_a_small_square);
  g_test_add_func ("/shape/homography/four-marks-leave-no-residual", test_four_marks_leave_no_residual);
  g_test_add_func ("/shape/homography/reaches-the-least-squares", test_refinement_reaches_the_least_squares);
  g_test_add_func ("/shape/homography/covariance-of-four-marks-is-that-of-draws",
                   test_covariance_of_four_marks_is_that_of_draws);
  g_test_add_func ("/shape/homography/covariance-of-nine-marks-is-that-of-draws",
                   test_covariance_of_nine_marks_is_that_of_draws);
  g_test_add_func ("/shape/homography/four-marks-keep-their-own-doubt", test_four_marks_keep_their_own_doubt);
  g_test_add_func ("/shape/homography/residuals-widen-the-covariance", test_residuals_widen_the_covariance);
  g_test_add_func ("/shape/homography/names-the-wrong-mark", test_names_the_wrong_mark);
  g_test_add_func ("/shape/homography/refuses-what-the-marks-refuse", test_refuses_what_the_marks_refuse);
  g_test_add_func ("/shape/homography/refuses-nine-marks-seen-from-behind", test_refuses_nine_marks_seen_from_behind);
  g_test_add_func ("/shape/homography/sees-no-farther-than-the-horizon", test_sees_no_farther_than_the_horizon);
  return g_test_run ();
}
