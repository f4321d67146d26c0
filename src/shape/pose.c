/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/pose.h"

#include "shape/space.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <string.h>

/* Six numbers of a pose; focal length, scale and distortion are held by what is believed of them. */
#define FEWEST_RESIDUALS 6u

/* Fewer or clustered marks cannot tell distortion from pose. (our choice; a phone's k1 is within ± 0.1) */
#define FEWEST_FOR_DISTORTION 10u
#define LEAST_SPREAD 0.4
#define DISTORTION_SD 0.1
#define NO_DISTORTION_SD 1e-5

#define MAX_STEPS 100u
#define LEAST_STEP 1e-10
#define DIFFERENCE 1e-6

/* Our choice: while no mark is farther off than this, none is asked for. */
#define DOUBTFUL_SD 3.0

/* A mark that the others foresee so much better without it is wrong: χ² with two degrees of freedom, one in 10,000. */
#define WRONG_CHI_SQUARE 18.4

/* Our choice: following silhouettes to this is finer than a click. */
#define SILHOUETTE_MM 0.3

/* One search: the start, on top of which its parameters are, and what is believed. */
typedef struct
{
  const SherdPoseRequest *request;
  const SherdPose *start;
  double k1_sd;
} Search;

/**
 * sherd_pose_moved:
 * @pose: a pose
 * @change: in the parameters of its covariance
 * @moved: (out): the pose changed by that
 */
void
sherd_pose_moved (const SherdPose *pose, const double change[SHERD_POSE_SIZE], SherdPose *moved)
{
  *moved = *pose;
  sherd_pinhole_turn (&moved->pinhole, change + SHERD_POSE_TURN);
  for (guint i = 0; i < 3; i++)
    moved->pinhole.translation[i] += pose->distance_mm * change[SHERD_POSE_TRANSLATION + i];
  moved->pinhole.focal_px *= exp (change[SHERD_POSE_LN_FOCAL]);
  moved->scale *= exp (change[SHERD_POSE_LN_SCALE]);
  moved->pinhole.k1 += change[SHERD_POSE_K1];
}

/**
 * sherd_pose_project:
 * @pose: a pose
 * @position_mm: on the piece, by its measures
 *
 * Returns: where it is seen in the upright photograph
 */
SherdPoint
sherd_pose_project (const SherdPose *pose, const double position_mm[3])
{
  const double true_mm[3] = { pose->scale * position_mm[0], pose->scale * position_mm[1],
                              pose->scale * position_mm[2] };

  return sherd_pinhole_project (&pose->pinhole, true_mm);
}

/**
 * sherd_pose_centre:
 * @pose: a pose
 * @centre_mm: (out): where the lens is, in the piece's measures
 */
void
sherd_pose_centre (const SherdPose *pose, double centre_mm[3])
{
  sherd_pinhole_centre (&pose->pinhole, centre_mm);
  for (guint i = 0; i < 3; i++)
    centre_mm[i] /= pose->scale;
}

/**
 * sherd_pose_px_per_mm:
 * @pose: a pose
 * @position_mm: on the piece, by its measures
 *
 * Returns: how large a millimetre is seen there, facing the camera
 */
double
sherd_pose_px_per_mm (const SherdPose *pose, const double position_mm[3])
{
  const double true_mm[3] = { pose->scale * position_mm[0], pose->scale * position_mm[1],
                              pose->scale * position_mm[2] };
  double in_camera[3];

  sherd_pinhole_to_camera (&pose->pinhole, true_mm, in_camera);
  return pose->scale * pose->pinhole.focal_px / MAX (in_camera[2], 1.0);
}

/* How the place in the photograph moves with each parameter. */
static void
point_jacobian (const SherdPose *pose, const double position_mm[3], double jacobian[2][SHERD_POSE_SIZE])
{
  for (guint k = 0; k < SHERD_POSE_SIZE; k++)
    {
      double change[SHERD_POSE_SIZE] = { 0 };
      SherdPose more, less;
      SherdPoint a, b;

      change[k] = DIFFERENCE;
      sherd_pose_moved (pose, change, &more);
      change[k] = -DIFFERENCE;
      sherd_pose_moved (pose, change, &less);
      a = sherd_pose_project (&more, position_mm);
      b = sherd_pose_project (&less, position_mm);
      jacobian[0][k] = (a.x - b.x) / (2.0 * DIFFERENCE);
      jacobian[1][k] = (a.y - b.y) / (2.0 * DIFFERENCE);
    }
}

/**
 * sherd_pose_point_covariance:
 * @pose: a pose
 * @position_mm: on the piece, by its measures
 * @covariance_px: (out): of where it is seen, px²: J Σ Jᵀ
 */
void
sherd_pose_point_covariance (const SherdPose *pose, const double position_mm[3], double covariance_px[2][2])
{
  double jacobian[2][SHERD_POSE_SIZE];

  point_jacobian (pose, position_mm, jacobian);
  for (guint i = 0; i < 2; i++)
    for (guint j = 0; j < 2; j++)
      {
        covariance_px[i][j] = 0.0;
        for (guint k = 0; k < SHERD_POSE_SIZE; k++)
          for (guint l = 0; l < SHERD_POSE_SIZE; l++)
            covariance_px[i][j] += jacobian[i][k] * pose->covariance[k][l] * jacobian[j][l];
      }
}

/**
 * sherd_pose_n_residuals:
 * @request: marks
 *
 * Returns: two for each point, one for each other mark
 */
gsize
sherd_pose_n_residuals (const SherdPoseRequest *request)
{
  gsize n = 0;

  for (gsize i = 0; i < request->n_marks; i++)
    n += request->marks[i].kind == SHERD_POSE_POINT ? 2 : 1;
  return n;
}

/* A silhouette as it is seen. */
static SherdSilhouette *
project_silhouette (const SherdPoseRequest *request, const SherdPose *pose)
{
  const SherdSurface surface = { .kind = SHERD_SURFACE_OUTSIDE, .profile = request->outside };
  SherdSilhouette *silhouette;
  double centre[3], position[3];

  sherd_pose_centre (pose, centre);
  silhouette = sherd_silhouette_new (request->outside, centre, SILHOUETTE_MM);
  for (gsize i = 0; i < silhouette->n_points; i++)
    {
      sherd_surface_position (&surface, silhouette->left_on_side[i], position, NULL);
      silhouette->left_on_side[i] = sherd_pose_project (pose, position);
      sherd_surface_position (&surface, silhouette->right_on_side[i], position, NULL);
      silhouette->right_on_side[i] = sherd_pose_project (pose, position);
    }
  return silhouette;
}

/* Replaces @nearest by the distance to the line, with the sign of its side, where that is smaller. */
static void
nearest_on_line (const SherdPoint *line, gsize n_points, SherdPoint p, double *nearest)
{
  for (gsize i = 0; i + 1 < n_points; i++)
    {
      const double dx = line[i + 1].x - line[i].x, dy = line[i + 1].y - line[i].y;
      const double square = dx * dx + dy * dy;
      const double along = square > 0.0 ? ((p.x - line[i].x) * dx + (p.y - line[i].y) * dy) / square : 0.0;
      const double share = CLAMP (along, 0.0, 1.0);
      const double distance = hypot (p.x - line[i].x - share * dx, p.y - line[i].y - share * dy);

      if (distance < fabs (*nearest))
        *nearest = copysign (distance, dx * (p.y - line[i].y) - dy * (p.x - line[i].x));
    }
}

/* Our choice: where no silhouette is seen at all, as from straight above, a mark of one is this far off. */
#define FAR_PX 1e4

static double
silhouette_distance_px (const SherdSilhouette *seen, SherdPoint photo_px)
{
  double left = FAR_PX, right = FAR_PX;

  nearest_on_line (seen->left_on_side, seen->n_points, photo_px, &left);
  nearest_on_line (seen->right_on_side, seen->n_points, photo_px, &right);
  return fabs (left) < fabs (right) ? left : right;
}

static SherdPoint
project_mark (const SherdPose *pose, const SherdPoseMark *mark)
{
  return mark->apart ? sherd_pinhole_project (&pose->pinhole, mark->position_mm)
                     : sherd_pose_project (pose, mark->position_mm);
}

/**
 * sherd_pose_residuals:
 * @request: marks
 * @pose: a pose
 * @residuals: (out caller-allocates): as many as sherd_pose_n_residuals (), in standard deviations of the marks
 */
void
sherd_pose_residuals (const SherdPoseRequest *request, const SherdPose *pose, double *residuals)
{
  g_autoptr (SherdSilhouette) seen = NULL;
  gsize n = 0;

  for (gsize i = 0; i < request->n_marks; i++)
    {
      const SherdPoseMark *mark = &request->marks[i];
      const double scale = mark->apart ? 1.0 : pose->scale;

      if (mark->kind == SHERD_POSE_POINT)
        {
          const SherdPoint place = project_mark (pose, mark);

          residuals[n++] = (place.x - mark->photo_px.x) / mark->sd_px;
          residuals[n++] = (place.y - mark->photo_px.y) / mark->sd_px;
        }
      else if (mark->kind == SHERD_POSE_CIRCLE)
        residuals[n++] =
          sherd_circle_distance_px (&pose->pinhole, scale * mark->r_mm, scale * mark->z_mm, mark->photo_px) /
          mark->sd_px;
      else
        {
          if (seen == NULL)
            seen = project_silhouette (request, pose);
          residuals[n++] = silhouette_distance_px (seen, mark->photo_px) / mark->sd_px;
        }
    }
}

/* Marks, then what is believed of focal length, scale and distortion. */
static void
all_residuals (const Search *search, const SherdPose *pose, double *residuals)
{
  const SherdPoseRequest *request = search->request;
  const gsize n = sherd_pose_n_residuals (request);

  sherd_pose_residuals (request, pose, residuals);
  residuals[n] = log (pose->pinhole.focal_px / request->focal.focal_px) / request->focal.sd_ln;
  residuals[n + 1] = log (pose->scale / request->scale) / MAX (request->scale_sd / request->scale, 1e-6);
  residuals[n + 2] = pose->pinhole.k1 / search->k1_sd;
}

static int
fill_residuals (const gsl_vector *x, void *data, gsl_vector *residuals)
{
  const Search *search = data;
  SherdPose pose;

  sherd_pose_moved (search->start, x->data, &pose);
  all_residuals (search, &pose, residuals->data);
  for (gsize i = 0; i < residuals->size; i++)
    if (!isfinite (gsl_vector_get (residuals, i)))
      return GSL_EBADFUNC;
  return GSL_SUCCESS;
}

static int
fill_jacobian (const gsl_vector *x, void *data, gsl_matrix *jacobian)
{
  const Search *search = data;
  const gsize n = jacobian->size1;
  g_autofree double *memory = g_new (double, 2 * n);

  for (guint k = 0; k < SHERD_POSE_SIZE; k++)
    {
      double change[SHERD_POSE_SIZE];
      SherdPose more, less;

      memcpy (change, x->data, sizeof change);
      change[k] += DIFFERENCE;
      sherd_pose_moved (search->start, change, &more);
      change[k] -= 2.0 * DIFFERENCE;
      sherd_pose_moved (search->start, change, &less);
      all_residuals (search, &more, memory);
      all_residuals (search, &less, memory + n);
      for (gsize i = 0; i < n; i++)
        gsl_matrix_set (jacobian, i, k, (memory[i] - memory[n + i]) / (2.0 * DIFFERENCE));
    }
  return GSL_SUCCESS;
}

/* Levenberg and Marquardt from @pose, which it improves. The sum of squared residuals. */
static double
refine (const SherdPoseRequest *request, double k1_sd, SherdPose *pose)
{
  const SherdPose start = *pose;
  Search search = { request, &start, k1_sd };
  const gsl_multifit_nlinear_parameters settings = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_fdf problem = { .f = fill_residuals,
                                       .df = fill_jacobian,
                                       .n = sherd_pose_n_residuals (request) + 3,
                                       .p = SHERD_POSE_SIZE,
                                       .params = &search };
  gsl_multifit_nlinear_workspace *work =
    gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &settings, problem.n, problem.p);
  gsl_vector *none = gsl_vector_calloc (SHERD_POSE_SIZE);
  double sum = INFINITY;
  int reason;

  if (gsl_multifit_nlinear_init (none, &problem, work) == GSL_SUCCESS)
    {
      gsl_multifit_nlinear_driver (MAX_STEPS, LEAST_STEP, LEAST_STEP, 0.0, NULL, NULL, &reason, work);
      sherd_pose_moved (&start, gsl_multifit_nlinear_position (work)->data, pose);
      pose->distance_mm = sherd_norm (pose->pinhole.translation);
      sum = pow (gsl_blas_dnrm2 (gsl_multifit_nlinear_residual (work)), 2);
    }
  gsl_multifit_nlinear_free (work);
  gsl_vector_free (none);
  return isfinite (sum) ? sum : INFINITY;
}

/* The best of all starts. */
static double
search_all (const SherdPoseRequest *request, GArray *starts, double k1_sd, SherdPose *best)
{
  double least = INFINITY;

  for (guint i = 0; i < starts->len; i++)
    {
      SherdPose *pose = &g_array_index (starts, SherdPose, i);
      const double sum = refine (request, k1_sd, pose);

      if (sum < least)
        {
          least = sum;
          *best = *pose;
        }
    }
  return least;
}

/* (JᵀJ)⁻¹ from the singular values of J: V S⁻² Vᵀ, without end where the marks fix nothing. */
static void
invert_normal (gsl_matrix *jacobian, double covariance[SHERD_POSE_SIZE][SHERD_POSE_SIZE])
{
  gsl_matrix *v = gsl_matrix_alloc (SHERD_POSE_SIZE, SHERD_POSE_SIZE);
  gsl_vector *s = gsl_vector_alloc (SHERD_POSE_SIZE), *work = gsl_vector_alloc (SHERD_POSE_SIZE);

  gsl_linalg_SV_decomp (jacobian, v, s, work);
  for (guint i = 0; i < SHERD_POSE_SIZE; i++)
    for (guint j = 0; j < SHERD_POSE_SIZE; j++)
      {
        covariance[i][j] = 0.0;
        for (guint k = 0; k < SHERD_POSE_SIZE; k++)
          covariance[i][j] += gsl_matrix_get (v, i, k) * gsl_matrix_get (v, j, k) / pow (gsl_vector_get (s, k), 2);
      }
  gsl_matrix_free (v);
  gsl_vector_free (s);
  gsl_vector_free (work);
}

/* Wider if the marks scatter more than they were thought to. */
static void
set_covariance (const SherdPoseRequest *request, double k1_sd, double sum, SherdPose *pose)
{
  const gsize n = sherd_pose_n_residuals (request) + 3;
  const SherdPose start = *pose;
  Search search = { request, &start, k1_sd };
  gsl_matrix *jacobian = gsl_matrix_alloc (n, SHERD_POSE_SIZE);
  gsl_vector *none = gsl_vector_calloc (SHERD_POSE_SIZE);
  const double widening = n > SHERD_POSE_SIZE ? MAX (sum / (double)(n - SHERD_POSE_SIZE), 1.0) : 1.0;

  fill_jacobian (none, &search, jacobian);
  invert_normal (jacobian, pose->covariance);
  for (guint i = 0; i < SHERD_POSE_SIZE; i++)
    for (guint j = 0; j < SHERD_POSE_SIZE; j++)
      pose->covariance[i][j] *= widening;
  gsl_matrix_free (jacobian);
  gsl_vector_free (none);
}

/**
 * sherd_pose_mark_px:
 * @request: marks
 * @pose: a pose
 * @i: which mark
 *
 * Returns: how far the mark lies from where the pose sees its point, its circle or the silhouette, px
 */
double
sherd_pose_mark_px (const SherdPoseRequest *request, const SherdPose *pose, guint i)
{
  const SherdPoseRequest alone = { .marks = &request->marks[i], .n_marks = 1, .outside = request->outside };
  double residuals[2] = { 0 };

  sherd_pose_residuals (&alone, pose, residuals);
  return hypot (residuals[0], residuals[1]) * request->marks[i].sd_px;
}

/* Also the mark that lies farthest off, in its standard deviations, which are returned. */
static double
set_residuals (const SherdPoseRequest *request, SherdPose *pose)
{
  const double origin[3] = { 0 };
  double sum = 0.0, most_sd = -1.0;

  for (guint i = 0; i < request->n_marks; i++)
    {
      const double off_px = sherd_pose_mark_px (request, pose, i);

      sum += off_px * off_px;
      if (off_px / request->marks[i].sd_px > most_sd)
        {
          most_sd = off_px / request->marks[i].sd_px;
          pose->worst_mark = i;
          pose->worst_px = off_px;
        }
    }
  pose->residual_rms_px = sqrt (sum / (double)request->n_marks);
  pose->residual_rms_mm = pose->residual_rms_px / sherd_pose_px_per_mm (pose, origin);
  pose->worst_wrong = FALSE;
  return most_sd;
}

/* Fits all marks but one, from @fitted. The sum of squared residuals, without end where too few are left. */
static double
refine_without (const SherdPoseRequest *request, guint left_out, double k1_sd, SherdPose *fitted)
{
  g_autofree SherdPoseMark *others = g_new (SherdPoseMark, request->n_marks);
  SherdPoseRequest without = *request;

  memcpy (others, request->marks, left_out * sizeof *others);
  memcpy (others + left_out, request->marks + left_out + 1, (request->n_marks - left_out - 1) * sizeof *others);
  without.marks = others;
  without.n_marks = request->n_marks - 1;
  return sherd_pose_n_residuals (&without) < FEWEST_RESIDUALS ? INFINITY : refine (&without, k1_sd, fitted);
}

/* Leaves out each mark in turn: the one without which the others agree far better is wrong. */
static void
find_wrong (const SherdPoseRequest *request, double k1_sd, double sum, SherdPose *pose)
{
  double least = MIN (sum - WRONG_CHI_SQUARE, sum / 2.0);

  for (guint i = 0; i < request->n_marks; i++)
    {
      SherdPose fitted = *pose;
      const double left = refine_without (request, i, k1_sd, &fitted);

      if (left < least)
        {
          least = left;
          pose->worst_wrong = TRUE;
          pose->worst_mark = i;
          pose->worst_px = sherd_pose_mark_px (request, &fitted, i);
        }
    }
}

/* Whether the marks reach over enough of the picture to tell distortion. */
static gboolean
are_spread (const SherdPoseRequest *request)
{
  const double cx = request->width_px / 2.0, cy = request->height_px / 2.0, reach = hypot (cx, cy);
  guint n_far = 0;

  for (gsize i = 0; i < request->n_marks; i++)
    if (hypot (request->marks[i].photo_px.x - cx, request->marks[i].photo_px.y - cy) > LEAST_SPREAD * reach)
      n_far++;
  return request->n_marks >= FEWEST_FOR_DISTORTION && n_far >= 4;
}

static gboolean
refuse (GError **error, SherdShapeError code, const char *message)
{
  g_set_error_literal (error, SHERD_SHAPE_ERROR, code, message);
  return FALSE;
}

/* Something must tell which way round the piece stands, and something how large it is seen. */
static gboolean
check_marks (const SherdPoseRequest *request, GError **error)
{
  guint n_off_axis = 0;

  for (gsize i = 0; i < request->n_marks; i++)
    {
      const SherdPoseMark *mark = &request->marks[i];

      if (!isfinite (mark->photo_px.x) || !isfinite (mark->photo_px.y) || !(mark->sd_px > 0.0))
        return refuse (error, SHERD_SHAPE_ERROR_POSE, _ ("A mark has no place in the photograph."));
      if (mark->kind == SHERD_POSE_SILHOUETTE && request->outside == NULL)
        return refuse (error, SHERD_SHAPE_ERROR_POSE, _ ("Marks on the edge need a vessel with a profile."));
      if (mark->kind == SHERD_POSE_POINT && hypot (mark->position_mm[0], mark->position_mm[1]) > 1.0)
        n_off_axis++;
    }
  if (n_off_axis == 0)
    return refuse (error, SHERD_SHAPE_ERROR_FEW_MARKS,
                   _ ("No mark tells which way round the piece stands. Mark the zero mark or the corner of a zone."));
  if (sherd_pose_n_residuals (request) < FEWEST_RESIDUALS)
    return refuse (error, SHERD_SHAPE_ERROR_FEW_MARKS,
                   _ ("The marks do not fix the camera yet. Mark three points, or one point and five places on the rim "
                      "or the foot."));
  return TRUE;
}

static gboolean
refuse_clustered (GError **error)
{
  return refuse (error, SHERD_SHAPE_ERROR_DEGENERATE,
                 _ ("The marks lie too near to one another, or in one line, to fix the camera. Set one more, far from "
                    "the others."));
}

/* Our choice: a camera known worse than to a third of a radian, or of its distance, is not known. */
#define LARGEST_VARIANCE 0.1

static gboolean
is_fixed (const SherdPose *pose)
{
  for (guint i = SHERD_POSE_TURN; i < SHERD_POSE_LN_FOCAL; i++)
    if (!(pose->covariance[i][i] < LARGEST_VARIANCE))
      return FALSE;
  return TRUE;
}

/**
 * sherd_pose_fit:
 * @pose: (out): camera, scale, their covariance, and how well the marks fit
 * @request: marks, and what is known beforehand
 * @error: SHERD_SHAPE_ERROR_FEW_MARKS, _DEGENERATE or _POSE, in words
 *
 * Where the camera stood, from any mixture of known points, places on circles and places on the silhouette: least
 * squares in the photograph by Levenberg and Marquardt over turn, place, focal length, the piece's scale and, with ten
 * well spread marks, distortion; the last three held by what is believed of them. It starts from the direct linear
 * transform where there are six points, and from a net of views round the piece. Scale can only be told from distance
 * when some marks are apart from the piece, as on a sheet that does not shrink.
 *
 * Returns: whether the marks fix the camera
 */
gboolean
sherd_pose_fit (SherdPose *pose, const SherdPoseRequest *request, GError **error)
{
  const double k1_sd = are_spread (request) ? DISTORTION_SD : NO_DISTORTION_SD;
  g_autoptr (GArray) starts = NULL;
  double sum;

  if (!check_marks (request, error))
    return FALSE;
  starts = sherd_pose_starts (request);
  if (starts->len == 0)
    return refuse_clustered (error);
  sum = search_all (request, starts, k1_sd, pose);
  if (!isfinite (sum))
    return refuse (error, SHERD_SHAPE_ERROR_POSE,
                   _ ("No camera sees the marks like this. Check which mark is on which point."));
  set_covariance (request, k1_sd, sum, pose);
  if (!is_fixed (pose))
    return refuse_clustered (error);
  if (set_residuals (request, pose) > DOUBTFUL_SD)
    find_wrong (request, k1_sd, sum, pose);
  return TRUE;
}
