/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/homography.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_linalg.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>
#include <string.h>

#define N_PARAMETERS 8u

/* Of fewer marks any one can be left out and the others fit exactly: none can be told to be wrong. */
#define FEWEST_MARKS_TO_DOUBT 6u

/* Our choice, for normalised points: below this share of the largest a singular value counts as nought. */
#define LEAST_SINGULAR_SHARE 1e-9

/* Our choice: a homography is found in a few steps; a step below this share of the parameters ends the search. */
#define MAX_STEPS 100
#define LEAST_STEP 1e-12

/* The marks in one frame each. */
typedef struct
{
  SherdPoint *from;
  SherdPoint *to;
  gsize n_points;
} Pairs;

static Pairs *
pairs_new (const SherdMark *marks, gsize n_marks)
{
  Pairs *pairs = g_new (Pairs, 1);

  pairs->from = g_new (SherdPoint, n_marks);
  pairs->to = g_new (SherdPoint, n_marks);
  pairs->n_points = n_marks;
  for (gsize i = 0; i < n_marks; i++)
    {
      pairs->from[i] = marks[i].piece_mm;
      pairs->to[i] = marks[i].photo_px;
    }
  return pairs;
}

static void
pairs_free (Pairs *pairs)
{
  g_free (pairs->from);
  g_free (pairs->to);
  g_free (pairs);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Pairs, pairs_free)

/* Moves the centroid to 0 and scales the mean distance to √2: x' = scale (x − centre). */
typedef struct
{
  SherdPoint centre;
  double scale;
} Normalisation;

static Normalisation
normalise (SherdPoint *points, gsize n_points)
{
  Normalisation normalisation = { { 0.0, 0.0 }, 0.0 };
  double mean_distance = 0.0;

  for (gsize i = 0; i < n_points; i++)
    {
      normalisation.centre.x += points[i].x / (double)n_points;
      normalisation.centre.y += points[i].y / (double)n_points;
    }
  for (gsize i = 0; i < n_points; i++)
    {
      points[i].x -= normalisation.centre.x;
      points[i].y -= normalisation.centre.y;
      mean_distance += hypot (points[i].x, points[i].y) / (double)n_points;
    }
  normalisation.scale = G_SQRT2 / mean_distance;
  for (gsize i = 0; i < n_points; i++)
    {
      points[i].x *= normalisation.scale;
      points[i].y *= normalisation.scale;
    }
  return normalisation;
}

static void
multiply (const double a[9], const double b[9], double product[9])
{
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      product[3 * i + j] = a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
}

/* Scales h33 to 1; FALSE if the origin of the piece lies in the camera's own plane, where no scale does that. */
static gboolean
set_last_to_one (double h[9])
{
  const double last = h[8];

  for (guint i = 0; i < 9; i++)
    h[i] /= last;
  for (guint i = 0; i < 9; i++)
    if (!isfinite (h[i]))
      return FALSE;
  return TRUE;
}

/* h for the points as they are, from h for the normalised: T_to⁻¹ h T_from. */
static void
denormalise (double h[9], const Normalisation *from, const Normalisation *to)
{
  const double t_from[9] = { from->scale, 0,           -from->scale * from->centre.x,
                             0,           from->scale, -from->scale * from->centre.y,
                             0,           0,           1 };
  const double t_to_inverse[9] = { 1 / to->scale, 0, to->centre.x, 0, 1 / to->scale, to->centre.y, 0, 0, 1 };
  double product[9];

  multiply (h, t_from, product);
  multiply (t_to_inverse, product, h);
}

static SherdPoint
map (const double h[9], SherdPoint point)
{
  const double each = 1.0 / (h[6] * point.x + h[7] * point.y + h[8]);

  return (SherdPoint){ .x = (h[0] * point.x + h[1] * point.y + h[2]) * each,
                       .y = (h[3] * point.x + h[4] * point.y + h[5]) * each };
}

/* The adjugate, row by row, divided by the determinant. */
static void
invert (const double m[9], double inverse[9])
{
  const double adjugate[9] = { m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8], m[1] * m[5] - m[2] * m[4],
                               m[5] * m[6] - m[3] * m[8], m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
                               m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7], m[0] * m[4] - m[1] * m[3] };
  const double determinant = m[0] * adjugate[0] + m[1] * adjugate[3] + m[2] * adjugate[6];

  for (guint i = 0; i < 9; i++)
    inverse[i] = adjugate[i] / determinant;
}

/* Rows of the direct linear transform of one pair, Hartley and Zisserman equation 4.3. */
static void
set_rows (gsl_matrix *a, gsize row, SherdPoint from, SherdPoint to)
{
  const double first[9] = { 0, 0, 0, -from.x, -from.y, -1, to.y * from.x, to.y * from.y, to.y };
  const double second[9] = { from.x, from.y, 1, 0, 0, 0, -to.x * from.x, -to.x * from.y, -to.x };

  for (gsize column = 0; column < 9; column++)
    {
      gsl_matrix_set (a, row, column, first[column]);
      gsl_matrix_set (a, row + 1, column, second[column]);
    }
}

/* h = right singular vector of the least singular value; FALSE when that is not alone. */
static gboolean
solve_direct (const Pairs *pairs, double h[9])
{
  gsl_matrix *a = gsl_matrix_calloc (MAX (2 * pairs->n_points, 9), 9);
  gsl_matrix *v = gsl_matrix_alloc (9, 9);
  gsl_vector *s = gsl_vector_alloc (9);
  gsl_vector *work = gsl_vector_alloc (9);
  gboolean alone;

  for (gsize i = 0; i < pairs->n_points; i++)
    set_rows (a, 2 * i, pairs->from[i], pairs->to[i]);
  gsl_linalg_SV_decomp (a, v, s, work);
  alone = gsl_vector_get (s, 7) > LEAST_SINGULAR_SHARE * gsl_vector_get (s, 0);
  for (gsize i = 0; i < 9; i++)
    h[i] = gsl_matrix_get (v, i, 8);

  gsl_matrix_free (a);
  gsl_matrix_free (v);
  gsl_vector_free (s);
  gsl_vector_free (work);
  return alone;
}

/* Derivatives of the image point by the eight free parameters h11 … h32 with h33 = 1. */
static void
parameter_jacobian (const double h[9], SherdPoint point, double rows[2][N_PARAMETERS])
{
  double w = h[6] * point.x + h[7] * point.y + h[8];
  SherdPoint image = map (h, point);

  memset (rows, 0, sizeof (double[2][N_PARAMETERS]));
  for (guint axis = 0; axis < 2; axis++)
    {
      double seen = axis == 0 ? image.x : image.y;

      rows[axis][3 * axis] = point.x / w;
      rows[axis][3 * axis + 1] = point.y / w;
      rows[axis][3 * axis + 2] = 1.0 / w;
      rows[axis][6] = -seen * point.x / w;
      rows[axis][7] = -seen * point.y / w;
    }
}

static void
read_parameters (const gsl_vector *parameters, double h[9])
{
  for (guint i = 0; i < N_PARAMETERS; i++)
    h[i] = gsl_vector_get (parameters, i);
  h[8] = 1.0;
}

static int
fill_residuals (const gsl_vector *parameters, void *data, gsl_vector *residuals)
{
  const Pairs *pairs = data;
  double h[9];

  read_parameters (parameters, h);
  for (gsize i = 0; i < pairs->n_points; i++)
    {
      const SherdPoint seen = map (h, pairs->from[i]);

      gsl_vector_set (residuals, 2 * i, seen.x - pairs->to[i].x);
      gsl_vector_set (residuals, 2 * i + 1, seen.y - pairs->to[i].y);
    }
  return GSL_SUCCESS;
}

static void
set_jacobian (const double h[9], const Pairs *pairs, gsl_matrix *jacobian)
{
  for (gsize i = 0; i < pairs->n_points; i++)
    {
      double rows[2][N_PARAMETERS];

      parameter_jacobian (h, pairs->from[i], rows);
      for (guint j = 0; j < N_PARAMETERS; j++)
        {
          gsl_matrix_set (jacobian, 2 * i, j, rows[0][j]);
          gsl_matrix_set (jacobian, 2 * i + 1, j, rows[1][j]);
        }
    }
}

static int
fill_jacobian (const gsl_vector *parameters, void *data, gsl_matrix *jacobian)
{
  double h[9];

  read_parameters (parameters, h);
  set_jacobian (h, data, jacobian);
  return GSL_SUCCESS;
}

/* Least squares in the photograph, where the marks were placed: Levenberg–Marquardt on the eight parameters, in
 * normalised coordinates so that they are of like size. */
static void
refine (double h[9], Pairs *pairs)
{
  const gsl_multifit_nlinear_parameters settings = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_fdf problem = {
    .f = fill_residuals, .df = fill_jacobian, .n = 2 * pairs->n_points, .p = N_PARAMETERS, .params = pairs
  };
  gsl_multifit_nlinear_workspace *search =
    gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &settings, problem.n, problem.p);
  const gsl_vector_view start = gsl_vector_view_array (h, N_PARAMETERS);
  int reason;

  gsl_multifit_nlinear_init (&start.vector, &problem, search);
  gsl_multifit_nlinear_driver (MAX_STEPS, LEAST_STEP, LEAST_STEP, 0.0, NULL, NULL, &reason, search);
  read_parameters (gsl_multifit_nlinear_position (search), h);
  gsl_multifit_nlinear_free (search);
}

/* FALSE when the marks leave more than one answer. */
static gboolean
fit_normalised (const SherdMark *marks, gsize n_marks, double h[9])
{
  g_autoptr (Pairs) pairs = pairs_new (marks, n_marks);
  const Normalisation from = normalise (pairs->from, n_marks);
  const Normalisation to = normalise (pairs->to, n_marks);

  /* The middle of the marks is the origin and in view, so that h33 can be 1. */
  if (!solve_direct (pairs, h) || !set_last_to_one (h))
    return FALSE;
  if (n_marks > SHERD_FEWEST_MARKS)
    refine (h, pairs);
  denormalise (h, &from, &to);
  return set_last_to_one (h);
}

static gboolean
check_seen (const SherdHomography *homography, const SherdMark *marks, gsize n_marks, GError **error)
{
  gsize n_unseen = 0;
  gsize first = 0;

  for (gsize i = n_marks; i-- > 0;)
    if (!sherd_homography_sees (homography, marks[i].piece_mm))
      {
        n_unseen++;
        first = i;
      }
  if (n_unseen == 0)
    return TRUE;
  if (2 * n_unseen > n_marks)
    g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE,
                         _ ("The marks go round the wrong way, as if seen from behind. Check which mark is on which "
                            "point."));
  else
    g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE,
                 _ ("Mark %u does not fit the others: the point would lie behind the camera. Set it again."),
                 (guint)first + 1);
  return FALSE;
}

static void
set_residuals (SherdHomography *homography, const SherdMark *marks, gsize n_marks)
{
  double sum_px2 = 0.0;
  double sum_mm2 = 0.0;

  for (gsize i = 0; i < n_marks && n_marks > SHERD_FEWEST_MARKS; i++)
    {
      const SherdPoint seen = sherd_homography_to_photo (homography, marks[i].piece_mm);
      const SherdPoint meant = sherd_homography_to_piece (homography, marks[i].photo_px);

      sum_px2 += pow (seen.x - marks[i].photo_px.x, 2) + pow (seen.y - marks[i].photo_px.y, 2);
      sum_mm2 += pow (meant.x - marks[i].piece_mm.x, 2) + pow (meant.y - marks[i].piece_mm.y, 2);
    }
  homography->residual_rms_px = sqrt (sum_px2 / (double)n_marks);
  homography->residual_rms_mm = sqrt (sum_mm2 / (double)n_marks);
}

/* (JᵀJ)⁻¹: the covariance of the parameters for marks of unit variance. */
static void
set_cofactors (SherdHomography *homography, const SherdMark *marks, gsize n_marks)
{
  g_autoptr (Pairs) pairs = pairs_new (marks, n_marks);
  gsl_matrix_view cofactors = gsl_matrix_view_array (&homography->covariance[0][0], N_PARAMETERS, N_PARAMETERS);
  gsl_matrix *jacobian = gsl_matrix_alloc (2 * n_marks, N_PARAMETERS);

  set_jacobian ((const double *)homography->h, pairs, jacobian);
  gsl_multifit_nlinear_covar (jacobian, 0.0, &cofactors.matrix);
  gsl_matrix_free (jacobian);
}

/* How far the sum of squares would fall without mark @i: rᵀ (I − J_i (JᵀJ)⁻¹ J_iᵀ)⁻¹ r, the test of Baarda, "A testing
 * procedure for use in geodetic networks", 1968. A large residual alone would often name a neighbour of the culprit. */
static double
drop_without (const SherdHomography *homography, const SherdMark *mark)
{
  const SherdPoint seen = sherd_homography_to_photo (homography, mark->piece_mm);
  const double x = mark->photo_px.x - seen.x, y = mark->photo_px.y - seen.y;
  double leverage[2][2];
  double xx, yy, xy;

  sherd_homography_point_covariance (homography, mark->piece_mm, leverage);
  xx = 1.0 - leverage[0][0];
  yy = 1.0 - leverage[1][1];
  xy = -leverage[0][1];
  return (yy * x * x - 2.0 * xy * x * y + xx * y * y) / (xx * yy - xy * xy);
}

static void
set_worst_mark (SherdHomography *homography, const SherdMark *marks, gsize n_marks)
{
  double worst = 0.0;

  for (gsize i = 0; i < n_marks && n_marks > SHERD_FEWEST_MARKS; i++)
    {
      const SherdPoint seen = sherd_homography_to_photo (homography, marks[i].piece_mm);
      const double residual_px = hypot (seen.x - marks[i].photo_px.x, seen.y - marks[i].photo_px.y);
      const double doubt = n_marks < FEWEST_MARKS_TO_DOUBT ? residual_px : drop_without (homography, &marks[i]);

      if (!(doubt > worst))
        continue;
      worst = doubt;
      homography->worst_mark = (guint)i;
      homography->worst_residual_px = residual_px;
    }
}

/* Covariance = s² (JᵀJ)⁻¹ (Hartley and Zisserman, section 5.2), which for four marks carries their doubt through the
 * exact fit; s² is what the residuals show, but not below the doubt with which the marks were placed. */
static void
scale_cofactors (SherdHomography *homography, gsize n_marks, double mark_sd_px)
{
  const double sum_px2 = homography->residual_rms_px * homography->residual_rms_px * (double)n_marks;
  const double shown_px2 = n_marks > SHERD_FEWEST_MARKS ? sum_px2 / (2.0 * (double)n_marks - N_PARAMETERS) : 0.0;

  for (guint i = 0; i < N_PARAMETERS; i++)
    for (guint j = 0; j < N_PARAMETERS; j++)
      homography->covariance[i][j] *= MAX (mark_sd_px * mark_sd_px, shown_px2);
}

/**
 * sherd_homography_fit:
 * @homography: (out): the fit
 * @marks: (array length=n_marks): points known on the piece and seen in the photograph
 * @n_marks: four or more
 * @mark_sd_px: standard uncertainty with which a mark was placed, px
 * @error: SHERD_SHAPE_ERROR_FEW_MARKS or SHERD_SHAPE_ERROR_DEGENERATE; names the marks, counted from 1
 *
 * Finds how a plane is seen by a pinhole camera: normalised direct linear transform (Hartley and Zisserman, "Multiple
 * View Geometry in Computer Vision", 2nd ed. 2004, algorithm 4.2), then, for more than four marks, least squares on the
 * distances in the photograph.
 *
 * Returns: FALSE if the marks do not tell how the plane is seen
 */
gboolean
sherd_homography_fit (SherdHomography *homography,
                      const SherdMark *marks,
                      gsize n_marks,
                      double mark_sd_px,
                      GError **error)
{
  memset (homography, 0, sizeof *homography);
  if (!sherd_marks_check (marks, n_marks, mark_sd_px, error))
    return FALSE;
  if (!fit_normalised (marks, n_marks, (double *)homography->h))
    {
      g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE,
                           _ ("The marks do not tell how the piece is seen. Set each on its own corner."));
      return FALSE;
    }
  if (!check_seen (homography, marks, n_marks, error))
    return FALSE;
  invert ((const double *)homography->h, (double *)homography->inverse);
  set_residuals (homography, marks, n_marks);
  set_cofactors (homography, marks, n_marks);
  set_worst_mark (homography, marks, n_marks);
  scale_cofactors (homography, n_marks, mark_sd_px);
  return TRUE;
}

/**
 * sherd_homography_to_photo:
 * @homography: a fit
 * @piece_mm: point on the piece
 *
 * Returns: the point in the upright photograph, px
 */
SherdPoint
sherd_homography_to_photo (const SherdHomography *homography, SherdPoint piece_mm)
{
  return map ((const double *)homography->h, piece_mm);
}

/**
 * sherd_homography_to_piece:
 * @homography: a fit
 * @photo_px: point in the upright photograph
 *
 * Returns: the point on the piece, mm
 */
SherdPoint
sherd_homography_to_piece (const SherdHomography *homography, SherdPoint photo_px)
{
  return map ((const double *)homography->inverse, photo_px);
}

/**
 * sherd_homography_sees:
 * @homography: a fit
 * @piece_mm: point of the piece's plane
 *
 * A plane seen at a slant ends at its horizon. The image of what lies beyond, behind the camera, is turned over: the
 * Jacobian determinant |H| / w³ changes its sign there.
 *
 * Returns: whether the point lies before the camera
 */
gboolean
sherd_homography_sees (const SherdHomography *homography, SherdPoint piece_mm)
{
  const double *h = (const double *)homography->h;
  const double determinant =
    h[0] * (h[4] * h[8] - h[5] * h[7]) - h[1] * (h[3] * h[8] - h[5] * h[6]) + h[2] * (h[3] * h[7] - h[4] * h[6]);
  const double w = h[6] * piece_mm.x + h[7] * piece_mm.y + h[8];

  return determinant / (w * w * w) > 0.0;
}

/**
 * sherd_homography_px_per_mm:
 * @homography: a fit
 * @piece_mm: where
 *
 * Returns: local scale, the root of the ratio of areas, px/mm
 */
double
sherd_homography_px_per_mm (const SherdHomography *homography, SherdPoint piece_mm)
{
  const double *h = (const double *)homography->h;
  double w = h[6] * piece_mm.x + h[7] * piece_mm.y + h[8];
  SherdPoint seen = map (h, piece_mm);
  double xx = (h[0] - seen.x * h[6]) / w;
  double xy = (h[1] - seen.x * h[7]) / w;
  double yx = (h[3] - seen.y * h[6]) / w;
  double yy = (h[4] - seen.y * h[7]) / w;

  return sqrt (fabs (xx * yy - xy * yx));
}

/**
 * sherd_homography_point_covariance:
 * @homography: a fit
 * @piece_mm: point on the piece
 * @covariance_px: (out): of its place in the photograph, px²
 *
 * Carries the uncertainty of the marks to a point, first order (JCGM 102:2011, 6.2).
 */
void
sherd_homography_point_covariance (const SherdHomography *homography, SherdPoint piece_mm, double covariance_px[2][2])
{
  double rows[2][N_PARAMETERS];

  parameter_jacobian ((const double *)homography->h, piece_mm, rows);
  for (guint i = 0; i < 2; i++)
    for (guint j = 0; j < 2; j++)
      {
        covariance_px[i][j] = 0.0;
        for (guint k = 0; k < N_PARAMETERS; k++)
          for (guint l = 0; l < N_PARAMETERS; l++)
            covariance_px[i][j] += rows[i][k] * homography->covariance[k][l] * rows[j][l];
      }
}
