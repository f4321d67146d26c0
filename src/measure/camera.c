/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/camera.h"

#include "measure/least_squares.h"

#include <math.h>
#include <string.h>

/* A chart lies lower than the face by about the piece's thickness (our choice: 5 ± 8 mm). */
#define CHART_DEPTH_MM 5.0
#define CHART_DEPTH_SD_MM 8.0
/* Our choice: a chart that lies on the table, clearly worse than its marks allow, is fitted as leaning. */
#define LEANING_FACTOR 3.0
#define LEANING_SD_RAD 0.35

enum
{
  POSE_ROTATION = 0, /* 3: turn applied on top of the start */
  POSE_TRANSLATION = 3,
  POSE_LN_FOCAL = 6,
  POSE_SIZE = 7
};

typedef struct
{
  const SherdMark *marks;
  gsize n_marks;
  double mark_sd_px;
  const SherdCamera *start;
  const SherdFocalGuess *guess;
} PoseProblem;

enum
{
  PLACE_DEPTH = 0,
  PLACE_X,
  PLACE_Y,
  PLACE_AZIMUTH,
  PLACE_PARALLEL_SIZE,
  PLACE_TILT_X = PLACE_PARALLEL_SIZE,
  PLACE_TILT_Y,
  PLACE_LEANING_SIZE
};

typedef struct
{
  const SherdCamera *camera;
  const SherdMark *marks;
  gsize n_marks;
  double mark_sd_px;
  gboolean leaning;
} PlaceProblem;

static double
dot (const double a[3], const double b[3])
{
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static void
cross (const double a[3], const double b[3], double product[3])
{
  product[0] = a[1] * b[2] - a[2] * b[1];
  product[1] = a[2] * b[0] - a[0] * b[2];
  product[2] = a[0] * b[1] - a[1] * b[0];
}

static void
normalise (double v[3])
{
  const double length = sqrt (dot (v, v));

  for (guint i = 0; i < 3; i++)
    v[i] /= length;
}

static void
multiply (double a[3][3], double b[3][3], double product[3][3])
{
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      product[i][j] = a[i][0] * b[0][j] + a[i][1] * b[1][j] + a[i][2] * b[2][j];
}

/* Rodrigues: the rotation by |turn| radians about the direction of @turn. */
static void
rotation_from_turn (const double turn[3], double rotation[3][3])
{
  const double angle = sqrt (dot (turn, turn));
  const double a = angle > 1e-9 ? sin (angle) / angle : 1.0;
  const double b = angle > 1e-9 ? (1 - cos (angle)) / (angle * angle) : 0.5;

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      rotation[i][j] = b * turn[i] * turn[j] + (i == j ? 1 - b * angle * angle : 0);
  rotation[0][1] -= a * turn[2];
  rotation[0][2] += a * turn[1];
  rotation[1][0] += a * turn[2];
  rotation[1][2] -= a * turn[0];
  rotation[2][0] -= a * turn[1];
  rotation[2][1] += a * turn[0];
}

/* The homography with its photograph's origin in the principal point. */
static void
centred_homography (const SherdHomography *homography, const SherdCamera *camera, double centred[3][3])
{
  for (guint j = 0; j < 3; j++)
    {
      centred[0][j] = homography->h[0][j] - camera->centre_x_px * homography->h[2][j];
      centred[1][j] = homography->h[1][j] - camera->centre_y_px * homography->h[2][j];
      centred[2][j] = homography->h[2][j];
    }
}

/* Hartley and Zisserman, "Multiple View Geometry", 2nd ed. 2004, 8.8: the two equations that a plane's homography
 * puts on the focal length, solved together by least squares. */
static double
focal_from_plane (double h[3][3], const SherdFocalGuess *guess)
{
  const double d1 = h[2][0] * h[2][1];
  const double d2 = h[2][1] * h[2][1] - h[2][0] * h[2][0];
  const double n1 = -(h[0][0] * h[0][1] + h[1][0] * h[1][1]);
  const double n2 = h[0][0] * h[0][0] + h[1][0] * h[1][0] - h[0][1] * h[0][1] - h[1][1] * h[1][1];
  const double square = (n1 * d1 + n2 * d2) / (d1 * d1 + d2 * d2);
  const double spread = exp (3 * guess->sd_ln);

  if (!(square > 0) || square < pow (guess->focal_px / spread, 2) || square > pow (guess->focal_px * spread, 2))
    return guess->focal_px;
  return sqrt (square);
}

/* Pose from a plane's homography with known focal length, the two axes made orthogonal evenly. */
static void
pose_from_plane (SherdCamera *camera, double h[3][3])
{
  double axis_x[3], axis_y[3], sum[3], difference[3], normal[3];
  double scale;

  for (guint i = 0; i < 3; i++)
    {
      const double divisor = i < 2 ? camera->focal_px : 1.0;

      axis_x[i] = h[i][0] / divisor;
      axis_y[i] = h[i][1] / divisor;
      camera->translation[i] = h[i][2] / divisor;
    }
  scale = (sqrt (dot (axis_x, axis_x)) + sqrt (dot (axis_y, axis_y))) / 2;
  scale = copysign (scale, h[2][2]);
  normalise (axis_x);
  normalise (axis_y);
  for (guint i = 0; i < 3; i++)
    {
      sum[i] = axis_x[i] + axis_y[i];
      difference[i] = axis_x[i] - axis_y[i];
      camera->translation[i] /= scale;
    }
  normalise (sum);
  normalise (difference);
  for (guint i = 0; i < 3; i++)
    {
      axis_x[i] = copysign (M_SQRT1_2, scale) * (sum[i] + difference[i]);
      axis_y[i] = copysign (M_SQRT1_2, scale) * (sum[i] - difference[i]);
    }
  cross (axis_x, axis_y, normal);
  for (guint i = 0; i < 3; i++)
    {
      camera->rotation[i][0] = axis_x[i];
      camera->rotation[i][1] = axis_y[i];
      camera->rotation[i][2] = normal[i];
    }
}

static void
apply_pose (const SherdCamera *start, const double *x, SherdCamera *camera)
{
  double turn[3][3];

  *camera = *start;
  rotation_from_turn (x + POSE_ROTATION, turn);
  multiply (turn, (double (*)[3])start->rotation, camera->rotation);
  for (guint i = 0; i < 3; i++)
    camera->translation[i] = start->translation[i] + x[POSE_TRANSLATION + i];
  camera->focal_px = start->focal_px * exp (x[POSE_LN_FOCAL]);
}

static void
pose_residuals (const double *x, double *residuals, gconstpointer data)
{
  const PoseProblem *problem = data;
  SherdCamera camera;

  apply_pose (problem->start, x, &camera);
  for (gsize i = 0; i < problem->n_marks; i++)
    {
      const SherdMark *mark = &problem->marks[i];
      const double position[3] = { mark->piece_mm.x, mark->piece_mm.y, 0 };
      const SherdPoint seen = sherd_camera_project (&camera, position);

      residuals[2 * i] = (seen.x - mark->photo_px.x) / problem->mark_sd_px;
      residuals[2 * i + 1] = (seen.y - mark->photo_px.y) / problem->mark_sd_px;
    }
  residuals[2 * problem->n_marks] = log (camera.focal_px / problem->guess->focal_px) / problem->guess->sd_ln;
}

static void
set_position (SherdCamera *camera)
{
  for (guint j = 0; j < 3; j++)
    {
      camera->position_mm[j] = 0;
      for (guint i = 0; i < 3; i++)
        camera->position_mm[j] -= camera->rotation[i][j] * camera->translation[i];
    }
}

/**
 * sherd_camera_fit:
 * @homography: of the face
 * @marks: of the face, at least four
 * @mark_sd_px: how well they were placed
 * @guess: see sherd_focal_guess()
 *
 * Camera of a photograph from the marks of a flat face: focal length and pose in closed form from the homography, then
 * refined together with the belief in the focal length, which a face parallel to the sensor leaves undetermined.
 * No lens distortion.
 */
void
sherd_camera_fit (SherdCamera *camera,
                  const SherdHomography *homography,
                  const SherdMark *marks,
                  gsize n_marks,
                  double mark_sd_px,
                  guint width_px,
                  guint height_px,
                  const SherdFocalGuess *guess)
{
  SherdCamera start = { .centre_x_px = width_px / 2.0, .centre_y_px = height_px / 2.0 };
  const PoseProblem data = { marks, n_marks, mark_sd_px, &start, guess };
  const SherdLeastSquares problem = { pose_residuals, NULL, &data, 2 * n_marks + 1, POSE_SIZE, 30 };
  double x[POSE_SIZE] = { 0 };
  double h[3][3];

  centred_homography (homography, &start, h);
  start.focal_px = focal_from_plane (h, guess);
  pose_from_plane (&start, h);
  sherd_least_squares_solve (&problem, x, NULL);
  apply_pose (&start, x, camera);
  set_position (camera);
}

SherdPoint
sherd_camera_project (const SherdCamera *camera, const double position_mm[3])
{
  const double depth = dot (camera->rotation[2], position_mm) + camera->translation[2];
  SherdPoint point;

  point.x =
    camera->centre_x_px + camera->focal_px * (dot (camera->rotation[0], position_mm) + camera->translation[0]) / depth;
  point.y =
    camera->centre_y_px + camera->focal_px * (dot (camera->rotation[1], position_mm) + camera->translation[1]) / depth;
  return point;
}

/* The plane for the parameters @x: turned by azimuth in the face's plane, then tilted. */
static void
apply_place (const double *x, gboolean leaning, SherdPlane *plane)
{
  const double turn[3] = { leaning ? x[PLACE_TILT_X] : 0, leaning ? x[PLACE_TILT_Y] : 0, 0 };
  const double flat_x[3] = { cos (x[PLACE_AZIMUTH]), sin (x[PLACE_AZIMUTH]), 0 };
  const double flat_y[3] = { -sin (x[PLACE_AZIMUTH]), cos (x[PLACE_AZIMUTH]), 0 };
  double tilt[3][3];

  rotation_from_turn (turn, tilt);
  for (guint i = 0; i < 3; i++)
    {
      plane->axis_x[i] = dot (tilt[i], flat_x);
      plane->axis_y[i] = dot (tilt[i], flat_y);
    }
  cross (plane->axis_y, plane->axis_x, plane->normal);
  plane->origin_mm[0] = x[PLACE_X];
  plane->origin_mm[1] = x[PLACE_Y];
  plane->origin_mm[2] = x[PLACE_DEPTH];
}

static void
place_residuals (const double *x, double *residuals, gconstpointer data)
{
  const PlaceProblem *problem = data;
  SherdPlane plane;
  gsize n = 0;

  apply_place (x, problem->leaning, &plane);
  for (gsize i = 0; i < problem->n_marks; i++)
    {
      const SherdMark *mark = &problem->marks[i];
      double position[3];
      SherdPoint seen;

      sherd_plane_point (&plane, mark->piece_mm, position);
      seen = sherd_camera_project (problem->camera, position);
      residuals[n++] = (seen.x - mark->photo_px.x) / problem->mark_sd_px;
      residuals[n++] = (seen.y - mark->photo_px.y) / problem->mark_sd_px;
    }
  residuals[n++] = (x[PLACE_DEPTH] - CHART_DEPTH_MM) / CHART_DEPTH_SD_MM;
  if (problem->leaning)
    {
      residuals[n++] = x[PLACE_TILT_X] / LEANING_SD_RAD;
      residuals[n++] = x[PLACE_TILT_Y] / LEANING_SD_RAD;
    }
}

/* Fits and returns the root mean square distance of the marks in px. */
static double
fit_place (PlaceProblem *data, gboolean leaning, double *x)
{
  const gsize n_priors = leaning ? 3 : 1;
  const gsize n_parameters = leaning ? PLACE_LEANING_SIZE : PLACE_PARALLEL_SIZE;
  const SherdLeastSquares problem = { place_residuals, NULL, data, 2 * data->n_marks + n_priors, n_parameters, 40 };
  g_autofree double *residuals = g_new (double, problem.n_residuals);
  double sum = 0;

  data->leaning = leaning;
  sherd_least_squares_solve (&problem, x, NULL);
  place_residuals (x, residuals, data);
  for (gsize i = 0; i < 2 * data->n_marks; i++)
    sum += residuals[i] * residuals[i];
  return data->mark_sd_px * sqrt (sum / (double)data->n_marks);
}

/* Where the marks would lie if the plane were that of the face. */
static void
start_place (const SherdHomography *face, const SherdMark *marks, gsize n_marks, double *x)
{
  SherdPoint first = sherd_homography_to_piece (face, marks[0].photo_px);
  SherdPoint last;
  gsize far = 0;
  double best = 0, azimuth;

  for (gsize i = 1; i < n_marks; i++)
    {
      const double length =
        hypot (marks[i].piece_mm.x - marks[0].piece_mm.x, marks[i].piece_mm.y - marks[0].piece_mm.y);

      if (length > best)
        {
          best = length;
          far = i;
        }
    }
  last = sherd_homography_to_piece (face, marks[far].photo_px);
  azimuth = atan2 (last.y - first.y, last.x - first.x) -
            atan2 (marks[far].piece_mm.y - marks[0].piece_mm.y, marks[far].piece_mm.x - marks[0].piece_mm.x);
  x[PLACE_AZIMUTH] = azimuth;
  x[PLACE_X] = first.x - cos (azimuth) * marks[0].piece_mm.x + sin (azimuth) * marks[0].piece_mm.y;
  x[PLACE_Y] = first.y - sin (azimuth) * marks[0].piece_mm.x - cos (azimuth) * marks[0].piece_mm.y;
}

/**
 * sherd_plane_fit:
 * @camera: see sherd_camera_fit()
 * @face: homography of the face, for a start
 * @marks: of the chart or card, in its own frame
 *
 * Places a chart in the frame of the face. As a rule it lies on the same table: parallel to the face, a little lower,
 * and its size in the photograph tells how much. Only when that does not fit the marks may it lean.
 */
void
sherd_plane_fit (SherdPlane *plane,
                 const SherdCamera *camera,
                 const SherdHomography *face,
                 const SherdMark *marks,
                 gsize n_marks,
                 double mark_sd_px)
{
  PlaceProblem data = { camera, marks, n_marks, mark_sd_px, FALSE };
  double x[PLACE_LEANING_SIZE] = { 0 };
  double rms;

  start_place (face, marks, n_marks, x);
  rms = fit_place (&data, FALSE, x);
  plane->parallel = rms < LEANING_FACTOR * mark_sd_px;
  if (!plane->parallel)
    rms = fit_place (&data, TRUE, x);
  apply_place (x, !plane->parallel, plane);
  plane->residual_rms_px = rms;
}

void
sherd_plane_point (const SherdPlane *plane, SherdPoint on_plane_mm, double position_mm[3])
{
  for (guint i = 0; i < 3; i++)
    position_mm[i] = plane->origin_mm[i] + on_plane_mm.x * plane->axis_x[i] + on_plane_mm.y * plane->axis_y[i];
}
