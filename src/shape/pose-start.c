/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/pose.h"

#include "shape/space.h"

#include <gsl/gsl_linalg.h>
#include <string.h>

/* Our choice: views are tried from a net this wide; the search finds the rest of the way. */
#define ELEVATION_STEPS 13u /* from below the piece to above it */
#define AZIMUTH_STEPS 24u
#define ROLL_STEPS 8u

/* So many of the best are searched from, no two of them nearer than 25°, for a round piece seen from above and from
 * below looks much the same. */
#define N_STARTS 8u
#define LEAST_TURN_COSINE 0.906

/* Our choice: with marks on circles so many views are placed again, so often, by the nearest of so many points. */
#define N_PLACED_AGAIN 4000u
#define PLACING_STEPS 3u
#define CIRCLE_STEPS 24u

#define FEWEST_FOR_LINEAR 6u

/* The least singular value must stand out from the next by this, else the marks lie in a plane. */
#define LEAST_GAP 10.0

typedef struct
{
  SherdPose pose;
  double elevation_rad;
  double azimuth_rad;
  double roll_rad;
  double sum;
} Candidate;

/* Rows of a camera that looks at the piece from a direction, upright, then turned about its own axis. */
static void
look_from (double elevation_rad, double azimuth_rad, double roll_rad, double rotation[3][3])
{
  const double right[3] = { -sin (azimuth_rad), cos (azimuth_rad), 0.0 };
  const double forward[3] = { -cos (elevation_rad) * cos (azimuth_rad), -cos (elevation_rad) * sin (azimuth_rad),
                              -sin (elevation_rad) };
  double down[3];

  sherd_cross (forward, right, down);
  for (guint j = 0; j < 3; j++)
    {
      rotation[0][j] = cos (roll_rad) * right[j] + sin (roll_rad) * down[j];
      rotation[1][j] = -sin (roll_rad) * right[j] + cos (roll_rad) * down[j];
      rotation[2][j] = forward[j];
    }
}

/* Adds to the normal equations for the translation: f (R₁ P + t₁) = x (R₃ P + t₃), and the same downwards. */
static void
add_point (const SherdPinhole *pinhole, const double p[3], SherdPoint photo_px, double weight, double a[3][4])
{
  const double seen[2] = { photo_px.x - pinhole->centre_x_px, photo_px.y - pinhole->centre_y_px };

  for (guint k = 0; k < 2; k++)
    {
      const double row[4] = { k == 0 ? pinhole->focal_px : 0.0, k == 1 ? pinhole->focal_px : 0.0, -seen[k],
                              seen[k] * sherd_dot (pinhole->rotation[2], p) -
                                pinhole->focal_px * sherd_dot (pinhole->rotation[k], p) };

      for (guint i = 0; i < 3; i++)
        for (guint j = 0; j < 4; j++)
          a[i][j] += weight * row[i] * row[j];
    }
}

/* What is seen r mm large and @extent_px px lies f r / extent deep. */
static void
add_depth (const SherdPinhole *pinhole, const double p[3], double r_mm, double extent_px, double a[3][4])
{
  /* As heavy as a point seen at the edge of the extent. */
  const double weight = extent_px * extent_px;

  a[2][2] += weight;
  a[2][3] += weight * (pinhole->focal_px * r_mm / extent_px - sherd_dot (pinhole->rotation[2], p));
}

/* Marks on one circle, taken together. */
typedef struct
{
  double r_mm;
  double z_mm;
  SherdPoint low_px; /* box round them */
  SherdPoint high_px;
} Circle;

static double
extent_px (const Circle *circle)
{
  return hypot (circle->high_px.x - circle->low_px.x, circle->high_px.y - circle->low_px.y) / 2.0;
}

static Circle
gather_circle (const SherdPoseRequest *request, const SherdPoseMark *first)
{
  Circle circle = { first->r_mm, first->z_mm, first->photo_px, first->photo_px };

  for (gsize i = 0; i < request->n_marks; i++)
    {
      const SherdPoseMark *mark = &request->marks[i];

      if (mark->kind != SHERD_POSE_CIRCLE || mark->r_mm != first->r_mm || mark->z_mm != first->z_mm)
        continue;
      circle.low_px = (SherdPoint){ MIN (circle.low_px.x, mark->photo_px.x), MIN (circle.low_px.y, mark->photo_px.y) };
      circle.high_px =
        (SherdPoint){ MAX (circle.high_px.x, mark->photo_px.x), MAX (circle.high_px.y, mark->photo_px.y) };
    }
  return circle;
}

/* The circle that is marked farthest round: the middle of its marks is nearly its centre, their extent nearly its
 * radius. Others, marked on one side only, would mislead. */
static void
add_best_circle (const SherdPoseRequest *request, const SherdPinhole *pinhole, double a[3][4])
{
  Circle best = { .r_mm = 1.0 };

  for (gsize i = 0; i < request->n_marks; i++)
    if (request->marks[i].kind == SHERD_POSE_CIRCLE && request->marks[i].r_mm > 0.0)
      {
        const Circle circle = gather_circle (request, &request->marks[i]);

        if (extent_px (&circle) / circle.r_mm > extent_px (&best) / best.r_mm)
          best = circle;
      }
  if (extent_px (&best) > 0.0)
    {
      const double centre[3] = { 0.0, 0.0, request->scale * best.z_mm };
      const SherdPoint middle = { (best.low_px.x + best.high_px.x) / 2.0, (best.low_px.y + best.high_px.y) / 2.0 };

      add_point (pinhole, centre, middle, 1.0, a);
      add_depth (pinhole, centre, request->scale * best.r_mm, extent_px (&best), a);
    }
}

/* Solves the three equations. FALSE if they do not fix the place. */
static gboolean
solve_translation (double a[3][4], double translation[3])
{
  for (guint i = 0; i < 3; i++)
    {
      if (!(a[i][i] > 1e-9))
        return FALSE;
      for (guint k = i + 1; k < 3; k++)
        {
          const double factor = a[k][i] / a[i][i];

          for (guint j = i; j < 4; j++)
            a[k][j] -= factor * a[i][j];
        }
    }
  for (int i = 2; i >= 0; i--)
    {
      translation[i] = a[i][3];
      for (int j = i + 1; j < 3; j++)
        translation[i] -= a[i][j] * translation[j];
      translation[i] /= a[i][i];
    }
  return TRUE;
}

/* The place from which, looking that way, the marks are seen best; by least squares in one step. */
static gboolean
place_camera (const SherdPoseRequest *request, SherdPose *pose)
{
  double a[3][4] = { { 0 } };

  for (gsize i = 0; i < request->n_marks; i++)
    if (request->marks[i].kind == SHERD_POSE_POINT)
      {
        const double scale = request->marks[i].apart ? 1.0 : pose->scale;
        const double *p = request->marks[i].position_mm;
        const double at[3] = { scale * p[0], scale * p[1], scale * p[2] };

        add_point (&pose->pinhole, at, request->marks[i].photo_px, 1.0, a);
      }
  add_best_circle (request, &pose->pinhole, a);
  if (!solve_translation (a, pose->pinhole.translation))
    return FALSE;
  pose->distance_mm = sherd_norm (pose->pinhole.translation);
  return pose->pinhole.translation[2] > 0.0;
}

/* The point of a mark's circle that is seen nearest to the mark. */
static void
nearest_on_circle (const SherdPose *pose, const SherdPoseMark *mark, double scale, double nearest_mm[3])
{
  double least = INFINITY;

  for (guint i = 0; i < CIRCLE_STEPS; i++)
    {
      const double azimuth_rad = 2.0 * G_PI * i / CIRCLE_STEPS;
      const double p[3] = { scale * mark->r_mm * cos (azimuth_rad), scale * mark->r_mm * sin (azimuth_rad),
                            scale * mark->z_mm };
      const SherdPoint seen = sherd_pinhole_project (&pose->pinhole, p);
      const double distance = hypot (seen.x - mark->photo_px.x, seen.y - mark->photo_px.y);

      if (distance < least)
        {
          least = distance;
          memcpy (nearest_mm, p, sizeof p);
        }
    }
}

/* Once there is a place for the camera, marks on circles are taken as the points that they are nearest to. */
static void
place_again (const SherdPoseRequest *request, SherdPose *pose)
{
  SherdPose moved = *pose;
  double a[3][4] = { { 0 } };

  for (gsize i = 0; i < request->n_marks; i++)
    {
      const SherdPoseMark *mark = &request->marks[i];
      const double scale = mark->apart ? 1.0 : pose->scale;
      double at[3] = { scale * mark->position_mm[0], scale * mark->position_mm[1], scale * mark->position_mm[2] };

      if (mark->kind == SHERD_POSE_CIRCLE)
        nearest_on_circle (pose, mark, scale, at);
      add_point (&pose->pinhole, at, mark->photo_px, 1.0, a);
    }
  if (!solve_translation (a, moved.pinhole.translation) || !(moved.pinhole.translation[2] > 0.0))
    return;
  moved.distance_mm = sherd_norm (moved.pinhole.translation);
  *pose = moved;
}

static int
compare_candidates (gconstpointer a, gconstpointer b)
{
  const double difference = ((const Candidate *)a)->sum - ((const Candidate *)b)->sum;

  return (difference > 0.0) - (difference < 0.0);
}

/* Squares of residuals, each held at a hundred pixels, so that one wrong mark does not hide a good view. */
static double
judge (const SherdPoseRequest *request, const SherdPose *pose, double *residuals)
{
  const gsize n = sherd_pose_n_residuals (request);
  double sum = 0.0;

  sherd_pose_residuals (request, pose, residuals);
  for (gsize i = 0; i < n; i++)
    sum += MIN (residuals[i] * residuals[i], 1e4);
  return sum;
}

static SherdPose
blank_pose (const SherdPoseRequest *request)
{
  return (SherdPose){ .pinhole = { .focal_px = request->focal.focal_px,
                                   .centre_x_px = request->width_px / 2.0,
                                   .centre_y_px = request->height_px / 2.0 },
                      .scale = request->scale };
}

static gboolean
has_circles (const SherdPoseRequest *request)
{
  for (gsize i = 0; i < request->n_marks; i++)
    if (request->marks[i].kind == SHERD_POSE_CIRCLE)
      return TRUE;
  return FALSE;
}

/* Looks from where the candidate says. */
static gboolean
place_view (const SherdPoseRequest *plain, Candidate *candidate)
{
  candidate->pose = blank_pose (plain);
  look_from (candidate->elevation_rad, candidate->azimuth_rad, candidate->roll_rad, candidate->pose.pinhole.rotation);
  return place_camera (plain, &candidate->pose);
}

/* The best views are placed anew from all circles, and judged again. */
static void
place_circles (const SherdPoseRequest *plain, GArray *candidates, double *residuals)
{
  g_array_set_size (candidates, MIN (candidates->len, N_PLACED_AGAIN));
  for (guint i = 0; i < candidates->len; i++)
    {
      Candidate *candidate = &g_array_index (candidates, Candidate, i);

      for (guint k = 0; k < PLACING_STEPS; k++)
        place_again (plain, &candidate->pose);
      candidate->sum = judge (plain, &candidate->pose, residuals);
    }
  g_array_sort (candidates, compare_candidates);
}

/* The request without silhouettes, which cost most to follow and tell least of a far view; @marks takes those left. */
static SherdPoseRequest
without_silhouettes (const SherdPoseRequest *request, SherdPoseMark *marks)
{
  SherdPoseRequest plain = *request;

  plain.marks = marks;
  plain.n_marks = 0;
  for (gsize i = 0; i < request->n_marks; i++)
    if (request->marks[i].kind != SHERD_POSE_SILHOUETTE)
      marks[plain.n_marks++] = request->marks[i];
  return plain;
}

/* cos of the turn between two views is (tr RᵀS − 1) / 2. */
static gboolean
is_another_view (GArray *starts, const SherdPose *pose)
{
  for (guint i = 0; i < starts->len; i++)
    {
      const SherdPinhole *other = &g_array_index (starts, SherdPose, i).pinhole;
      double trace = 0.0;

      for (guint k = 0; k < 3; k++)
        trace += sherd_dot (other->rotation[k], pose->pinhole.rotation[k]);
      if ((trace - 1.0) / 2.0 > LEAST_TURN_COSINE)
        return FALSE;
    }
  return TRUE;
}

/* The near part of a circle seen from above looks like the far part seen from below: both are tried. */
static void
add_mirrored (const SherdPoseRequest *plain, const Candidate *candidate, GArray *starts)
{
  Candidate mirrored = *candidate;

  mirrored.elevation_rad = -candidate->elevation_rad;
  if (!place_view (plain, &mirrored))
    return;
  for (guint k = 0; k < PLACING_STEPS; k++)
    place_again (plain, &mirrored.pose);
  g_array_append_val (starts, mirrored.pose);
}

/* Views from all round the piece, best first. */
static void
add_views (const SherdPoseRequest *request, GArray *starts)
{
  g_autoptr (GArray) candidates = g_array_new (FALSE, FALSE, sizeof (Candidate));
  g_autofree SherdPoseMark *marks = g_new (SherdPoseMark, request->n_marks);
  const SherdPoseRequest plain = without_silhouettes (request, marks);
  g_autofree double *residuals = g_new (double, MAX (sherd_pose_n_residuals (&plain), 1));
  guint n_views = 0;

  for (guint e = 0; e < ELEVATION_STEPS; e++)
    for (guint a = 0; a < AZIMUTH_STEPS; a++)
      for (guint r = 0; r < ROLL_STEPS; r++)
        {
          Candidate candidate = { .elevation_rad = G_PI * e / (ELEVATION_STEPS - 1) - G_PI_2,
                                  .azimuth_rad = 2.0 * G_PI * a / AZIMUTH_STEPS,
                                  .roll_rad = 2.0 * G_PI * r / ROLL_STEPS };

          if (!place_view (&plain, &candidate))
            continue;
          candidate.sum = judge (&plain, &candidate.pose, residuals);
          g_array_append_val (candidates, candidate);
        }
  g_array_sort (candidates, compare_candidates);
  if (has_circles (&plain))
    place_circles (&plain, candidates, residuals);
  for (guint i = 0; i < candidates->len && n_views < N_STARTS; i++)
    {
      const Candidate *candidate = &g_array_index (candidates, Candidate, i);

      if (!is_another_view (starts, &candidate->pose))
        continue;
      g_array_append_val (starts, candidate->pose);
      n_views++;
      if (has_circles (&plain))
        add_mirrored (&plain, candidate, starts);
    }
}

/* Hartley, "In defense of the eight-point algorithm", IEEE PAMI 19 (1997): coordinates of like size, or digits are
 * lost. */
static double
mean_distance (double (*p)[3], gsize n, guint n_axes, double middle[3])
{
  double sum = 0.0;

  for (guint k = 0; k < n_axes; k++)
    {
      middle[k] = 0.0;
      for (gsize i = 0; i < n; i++)
        middle[k] += p[i][k] / (double)n;
    }
  for (gsize i = 0; i < n; i++)
    {
      double square = 0.0;

      for (guint k = 0; k < n_axes; k++)
        square += pow (p[i][k] - middle[k], 2);
      sum += sqrt (square) / (double)n;
    }
  return sum;
}

static void
set_rows (gsl_matrix *a, gsize row, const double p[4], const double seen[2])
{
  for (guint j = 0; j < 4; j++)
    {
      gsl_matrix_set (a, row, j, p[j]);
      gsl_matrix_set (a, row, 8 + j, -seen[0] * p[j]);
      gsl_matrix_set (a, row + 1, 4 + j, p[j]);
      gsl_matrix_set (a, row + 1, 8 + j, -seen[1] * p[j]);
    }
}

/* The vector of the least singular value. FALSE if it does not stand out. */
static gboolean
least_singular_vector (gsl_matrix *a, double x[12])
{
  gsl_matrix *v = gsl_matrix_alloc (12, 12);
  gsl_vector *s = gsl_vector_alloc (12), *work = gsl_vector_alloc (12);
  gboolean alone;

  gsl_linalg_SV_decomp (a, v, s, work);
  alone = gsl_vector_get (s, 10) > LEAST_GAP * gsl_vector_get (s, 11) && gsl_vector_get (s, 10) > 1e-6;
  for (guint i = 0; i < 12; i++)
    x[i] = gsl_matrix_get (v, i, 11);
  gsl_matrix_free (v);
  gsl_vector_free (s);
  gsl_vector_free (work);
  return alone;
}

typedef struct
{
  gsize n;
  double (*at)[3];
  double (*seen)[3];
} Pairs;

static void
pairs_init (Pairs *pairs, const SherdPoseRequest *request)
{
  pairs->n = 0;
  pairs->at = g_malloc_n (request->n_marks, sizeof *pairs->at);
  pairs->seen = g_malloc_n (request->n_marks, sizeof *pairs->seen);
  for (gsize i = 0; i < request->n_marks; i++)
    if (request->marks[i].kind == SHERD_POSE_POINT)
      {
        const double scale = request->marks[i].apart ? 1.0 : request->scale;

        for (guint k = 0; k < 3; k++)
          pairs->at[pairs->n][k] = scale * request->marks[i].position_mm[k];
        pairs->seen[pairs->n][0] = request->marks[i].photo_px.x;
        pairs->seen[pairs->n][1] = request->marks[i].photo_px.y;
        pairs->n++;
      }
}

static void
pairs_clear (Pairs *pairs)
{
  g_free (pairs->at);
  g_free (pairs->seen);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Pairs, pairs_clear)

/* The direct linear transform (Hartley and Zisserman, 7.1): the 3 × 4 matrix of the camera. */
static gboolean
solve_linear (const Pairs *pairs, double matrix[3][4])
{
  gsl_matrix *a = gsl_matrix_calloc (MAX (2 * pairs->n, 12), 12);
  double middle[3], seen_middle[3], x[12];
  const double size = mean_distance (pairs->at, pairs->n, 3, middle) / sqrt (3.0);
  const double seen_size = mean_distance (pairs->seen, pairs->n, 2, seen_middle) / sqrt (2.0);
  gboolean good;

  for (gsize i = 0; i < pairs->n; i++)
    {
      const double p[4] = { (pairs->at[i][0] - middle[0]) / size, (pairs->at[i][1] - middle[1]) / size,
                            (pairs->at[i][2] - middle[2]) / size, 1.0 };
      const double seen[2] = { (pairs->seen[i][0] - seen_middle[0]) / seen_size,
                               (pairs->seen[i][1] - seen_middle[1]) / seen_size };

      set_rows (a, 2 * i, p, seen);
    }
  good = size > 0.0 && seen_size > 0.0 && least_singular_vector (a, x);
  for (guint i = 0; i < 3; i++)
    {
      for (guint j = 0; j < 3; j++)
        matrix[i][j] = ((i < 2 ? seen_size : 1.0) * x[4 * i + j] + (i < 2 ? seen_middle[i] * x[8 + j] : 0.0)) / size;
      matrix[i][3] = (i < 2 ? seen_size : 1.0) * x[4 * i + 3] + (i < 2 ? seen_middle[i] * x[11] : 0.0) -
                     sherd_dot (matrix[i], middle);
    }
  gsl_matrix_free (a);
  return good;
}

/* With the principal point moved to the middle of the picture, where it belongs. */
static void
add_linear (const SherdPoseRequest *request, GArray *starts)
{
  g_auto (Pairs) pairs = { 0 };
  SherdPose pose = blank_pose (request);
  const SherdPinhole blank = pose.pinhole;
  double matrix[3][4];

  pairs_init (&pairs, request);
  if (pairs.n < FEWEST_FOR_LINEAR || !solve_linear (&pairs, matrix) ||
      !sherd_pinhole_from_matrix (&pose.pinhole, matrix))
    return;
  pose.pinhole.centre_x_px = blank.centre_x_px;
  pose.pinhole.centre_y_px = blank.centre_y_px;
  if (fabs (log (pose.pinhole.focal_px / blank.focal_px)) > 3.0 * request->focal.sd_ln)
    pose.pinhole.focal_px = blank.focal_px;
  if (place_camera (request, &pose))
    g_array_append_val (starts, pose);
}

/**
 * sherd_pose_starts:
 * @request: marks
 *
 * Returns: (transfer full) (element-type SherdPose): poses to begin a search from: what the direct linear transform
 * gives where there are six points not in a plane, and the best of a net of views all round
 */
GArray *
sherd_pose_starts (const SherdPoseRequest *request)
{
  GArray *starts = g_array_new (FALSE, FALSE, sizeof (SherdPose));

  add_linear (request, starts);
  add_views (request, starts);
  return starts;
}
