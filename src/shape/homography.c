/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/homography.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

/* Hartley and Zisserman, "Multiple View Geometry in Computer Vision", 2nd ed. 2004, section 4.1. */
#define FEWEST_MARKS 4

/* The second smallest singular value must stand this far above the smallest kind: below it three marks lie in a line or
 * two in one place. Our choice, for normalised points. */
#define LEAST_SINGULAR_RATIO 1e-6

/* Levenberg–Marquardt: Marquardt 1963 with the usual factor of ten; a homography is found in a few steps. */
#define MAX_STEPS 100
#define FIRST_DAMPING 1e-3
#define LEAST_STEP 1e-12

#define N_PARAMETERS 8

G_DEFINE_QUARK (sherd - shape - error - quark, sherd_shape_error)

/* Moves the centroid to 0 and scales the mean distance to √2: x' = scale (x − centre). */
typedef struct
{
  SherdPoint centre;
  double scale;
} Normalisation;

static gboolean
normalisation_init (Normalisation *normalisation, const SherdPoint *points, gsize n_points)
{
  double mean_distance = 0.0;

  normalisation->centre = (SherdPoint){ .x = 0.0, .y = 0.0 };
  for (gsize i = 0; i < n_points; i++)
    {
      normalisation->centre.x += points[i].x / (double)n_points;
      normalisation->centre.y += points[i].y / (double)n_points;
    }
  for (gsize i = 0; i < n_points; i++)
    mean_distance +=
      hypot (points[i].x - normalisation->centre.x, points[i].y - normalisation->centre.y) / (double)n_points;
  normalisation->scale = G_SQRT2 / mean_distance;
  return isfinite (normalisation->scale);
}

static SherdPoint
normalise (const Normalisation *normalisation, SherdPoint point)
{
  return (SherdPoint){ .x = normalisation->scale * (point.x - normalisation->centre.x),
                       .y = normalisation->scale * (point.y - normalisation->centre.y) };
}

static SherdPoint
map (const double h[9], SherdPoint point)
{
  double w = h[6] * point.x + h[7] * point.y + h[8];

  return (SherdPoint){ .x = (h[0] * point.x + h[1] * point.y + h[2]) / w,
                       .y = (h[3] * point.x + h[4] * point.y + h[5]) / w };
}

static void
invert (double m[3][3], double inverse[3][3])
{
  double determinant = 0.0;

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      inverse[j][i] = m[(i + 1) % 3][(j + 1) % 3] * m[(i + 2) % 3][(j + 2) % 3] -
                      m[(i + 1) % 3][(j + 2) % 3] * m[(i + 2) % 3][(j + 1) % 3];
  for (guint j = 0; j < 3; j++)
    determinant += m[0][j] * inverse[j][0];
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      inverse[i][j] /= determinant;
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

/* h (normalised) = right singular vector of the smallest singular value; FALSE when it is not alone. */
static gboolean
solve_direct (const SherdPoint *from, const SherdPoint *to, gsize n_points, double h[3][3])
{
  gsl_matrix *a = gsl_matrix_calloc (MAX (2 * n_points, 9), 9);
  gsl_matrix *v = gsl_matrix_alloc (9, 9);
  gsl_vector *s = gsl_vector_alloc (9);
  gsl_vector *work = gsl_vector_alloc (9);
  gboolean alone;

  for (gsize i = 0; i < n_points; i++)
    set_rows (a, 2 * i, from[i], to[i]);
  gsl_linalg_SV_decomp (a, v, s, work);
  alone = gsl_vector_get (s, 7) > LEAST_SINGULAR_RATIO * gsl_vector_get (s, 0);
  for (gsize i = 0; i < 9; i++)
    h[i / 3][i % 3] = gsl_matrix_get (v, i, 8);

  gsl_matrix_free (a);
  gsl_matrix_free (v);
  gsl_vector_free (s);
  gsl_vector_free (work);
  return alone;
}

/* h for the points as they are, from h for the normalised: T_to⁻¹ h T_from, scaled to h33 = 1. */
static gboolean
denormalise (double h[3][3], const Normalisation *from, const Normalisation *to, double result[3][3])
{
  const double t_from[3][3] = { { from->scale, 0, -from->scale * from->centre.x },
                                { 0, from->scale, -from->scale * from->centre.y },
                                { 0, 0, 1 } };
  const double t_to_inverse[3][3] = { { 1 / to->scale, 0, to->centre.x },
                                      { 0, 1 / to->scale, to->centre.y },
                                      { 0, 0, 1 } };
  double product[3][3] = { { 0 } };
  double corner;

  memset (result, 0, sizeof (double[3][3]));
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      for (guint k = 0; k < 3; k++)
        product[i][j] += h[i][k] * t_from[k][j];
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      for (guint k = 0; k < 3; k++)
        result[i][j] += t_to_inverse[i][k] * product[k][j];
  corner = result[2][2];
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      result[i][j] /= corner;
  return isfinite (result[0][0]) && isfinite (result[1][1]);
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
accumulate_normal (const double h[9],
                   const SherdPoint *from,
                   const SherdPoint *to,
                   gsize n_points,
                   gsl_matrix *normal,
                   gsl_vector *gradient)
{
  gsl_matrix_set_zero (normal);
  gsl_vector_set_zero (gradient);
  for (gsize i = 0; i < n_points; i++)
    {
      double rows[2][N_PARAMETERS];
      SherdPoint image = map (h, from[i]);
      double residual[2] = { to[i].x - image.x, to[i].y - image.y };

      parameter_jacobian (h, from[i], rows);
      for (guint axis = 0; axis < 2; axis++)
        for (guint j = 0; j < N_PARAMETERS; j++)
          {
            *gsl_vector_ptr (gradient, j) += rows[axis][j] * residual[axis];
            for (guint k = 0; k < N_PARAMETERS; k++)
              *gsl_matrix_ptr (normal, j, k) += rows[axis][j] * rows[axis][k];
          }
    }
}

static double
sum_of_squares (const double h[9], const SherdPoint *from, const SherdPoint *to, gsize n_points)
{
  double sum = 0.0;

  for (gsize i = 0; i < n_points; i++)
    {
      SherdPoint image = map (h, from[i]);

      sum += (to[i].x - image.x) * (to[i].x - image.x) + (to[i].y - image.y) * (to[i].y - image.y);
    }
  return sum;
}

/* solution = (normal + damping · diagonal)⁻¹ right. The system is brought to a unit diagonal first, since the
 * parameters differ by orders of magnitude, and solved by SVD, which also answers when something is left undetermined.
 */
static void
solve_normal (const gsl_matrix *normal, double damping, const gsl_vector *right, gsl_vector *solution)
{
  gsl_matrix *u = gsl_matrix_alloc (N_PARAMETERS, N_PARAMETERS);
  gsl_matrix *v = gsl_matrix_alloc (N_PARAMETERS, N_PARAMETERS);
  gsl_vector *s = gsl_vector_alloc (N_PARAMETERS);
  gsl_vector *work = gsl_vector_alloc (N_PARAMETERS);
  gsl_vector *scaled = gsl_vector_alloc (N_PARAMETERS);
  double scale[N_PARAMETERS];

  for (guint i = 0; i < N_PARAMETERS; i++)
    scale[i] = 1.0 / sqrt (MAX (gsl_matrix_get (normal, i, i), G_MINDOUBLE));
  for (guint i = 0; i < N_PARAMETERS; i++)
    {
      gsl_vector_set (scaled, i, scale[i] * gsl_vector_get (right, i));
      for (guint j = 0; j < N_PARAMETERS; j++)
        gsl_matrix_set (u, i, j, scale[i] * scale[j] * gsl_matrix_get (normal, i, j) * (i == j ? 1.0 + damping : 1.0));
    }
  gsl_linalg_SV_decomp (u, v, s, work);
  gsl_linalg_SV_solve (u, v, s, scaled, solution);
  for (guint i = 0; i < N_PARAMETERS; i++)
    *gsl_vector_ptr (solution, i) *= scale[i];
  gsl_vector_free (scaled);
  gsl_matrix_free (u);
  gsl_matrix_free (v);
  gsl_vector_free (s);
  gsl_vector_free (work);
}

static void
add_step (double h[3][3], const gsl_vector *step, double stepped[3][3])
{
  memcpy (stepped, h, sizeof (double[3][3]));
  for (guint i = 0; i < N_PARAMETERS; i++)
    stepped[i / 3][i % 3] += gsl_vector_get (step, i);
}

/* Least squares in the photograph, where the marks were placed: Levenberg–Marquardt on the eight parameters, in
 * normalised coordinates so that they are of like size. */
static void
refine (double h[3][3], const SherdPoint *from, const SherdPoint *to, gsize n_points)
{
  gsl_matrix *normal = gsl_matrix_alloc (N_PARAMETERS, N_PARAMETERS);
  gsl_vector *gradient = gsl_vector_alloc (N_PARAMETERS);
  gsl_vector *step = gsl_vector_alloc (N_PARAMETERS);
  double damping = FIRST_DAMPING;
  double sum = sum_of_squares ((const double *)h, from, to, n_points);

  for (guint i = 0; i < MAX_STEPS; i++)
    {
      double stepped[3][3];
      double stepped_sum;
      gboolean better;

      accumulate_normal ((const double *)h, from, to, n_points, normal, gradient);
      solve_normal (normal, damping, gradient, step);
      add_step (h, step, stepped);
      stepped_sum = sum_of_squares ((const double *)stepped, from, to, n_points);
      better = stepped_sum <= sum;
      if (better)
        {
          memcpy (h, stepped, sizeof stepped);
          sum = stepped_sum;
        }
      damping *= better ? 0.1 : 10.0;
      if (gsl_blas_dnrm2 (step) < LEAST_STEP)
        break;
    }
  gsl_matrix_free (normal);
  gsl_vector_free (gradient);
  gsl_vector_free (step);
}

/* The same map with the photograph turned over shows the face from behind: marks in the wrong order do that. The plane
 * must not pass through the camera's own plane between the marks either (w changes its sign). */
static gboolean
is_seen_from_the_front (double h[3][3], const SherdMark *marks, gsize n_marks)
{
  double determinant = h[0][0] * (h[1][1] * h[2][2] - h[1][2] * h[2][1]) -
                       h[0][1] * (h[1][0] * h[2][2] - h[1][2] * h[2][0]) +
                       h[0][2] * (h[1][0] * h[2][1] - h[1][1] * h[2][0]);

  for (gsize i = 0; i < n_marks; i++)
    {
      double w = h[2][0] * marks[i].piece_mm.x + h[2][1] * marks[i].piece_mm.y + h[2][2];

      if (!(determinant / (w * w * w) > 0.0))
        return FALSE;
    }
  return TRUE;
}

static void
set_residuals (SherdHomography *homography, const SherdMark *marks, gsize n_marks)
{
  double sum_px = 0.0;
  double sum_mm = 0.0;

  homography->worst_mark = 0;
  homography->worst_residual_px = 0.0;
  for (gsize i = 0; i < n_marks; i++)
    {
      SherdPoint seen = sherd_homography_to_photo (homography, marks[i].piece_mm);
      SherdPoint meant = sherd_homography_to_piece (homography, marks[i].photo_px);
      double px = hypot (seen.x - marks[i].photo_px.x, seen.y - marks[i].photo_px.y);
      double mm = hypot (meant.x - marks[i].piece_mm.x, meant.y - marks[i].piece_mm.y);

      sum_px += px * px;
      sum_mm += mm * mm;
      if (px > homography->worst_residual_px)
        {
          homography->worst_residual_px = px;
          homography->worst_mark = (guint)i;
        }
    }
  homography->residual_rms_px = n_marks > FEWEST_MARKS ? sqrt (sum_px / (double)n_marks) : 0.0;
  homography->residual_rms_mm = n_marks > FEWEST_MARKS ? sqrt (sum_mm / (double)n_marks) : 0.0;
}

/* Covariance = s² (JᵀJ)⁻¹ (Hartley and Zisserman, section 5.2); s² is what the residuals show, but not below the doubt
 * with which the marks were placed. */
static void
set_covariance (SherdHomography *homography, const SherdMark *marks, gsize n_marks, double mark_sd_px)
{
  g_autofree SherdPoint *from = g_new (SherdPoint, n_marks);
  g_autofree SherdPoint *to = g_new (SherdPoint, n_marks);
  gsl_matrix *normal = gsl_matrix_alloc (N_PARAMETERS, N_PARAMETERS);
  gsl_vector *unit = gsl_vector_alloc (N_PARAMETERS);
  gsl_vector *column = gsl_vector_alloc (N_PARAMETERS);
  double variance = mark_sd_px * mark_sd_px;

  for (gsize i = 0; i < n_marks; i++)
    {
      from[i] = marks[i].piece_mm;
      to[i] = marks[i].photo_px;
    }
  accumulate_normal ((const double *)homography->h, from, to, n_marks, normal, column);
  if (n_marks > FEWEST_MARKS)
    variance = MAX (variance, sum_of_squares ((const double *)homography->h, from, to, n_marks) /
                                (double)(2 * n_marks - N_PARAMETERS));
  for (guint i = 0; i < N_PARAMETERS; i++)
    {
      gsl_vector_set_basis (unit, i);
      solve_normal (normal, 0.0, unit, column);
      for (guint j = 0; j < N_PARAMETERS; j++)
        homography->covariance[j][i] = variance * gsl_vector_get (column, j);
    }
  gsl_matrix_free (normal);
  gsl_vector_free (unit);
  gsl_vector_free (column);
}

static gboolean
fit_normalised (const SherdMark *marks, gsize n_marks, double h[3][3])
{
  g_autofree SherdPoint *from = g_new (SherdPoint, n_marks);
  g_autofree SherdPoint *to = g_new (SherdPoint, n_marks);
  Normalisation from_normalisation;
  Normalisation to_normalisation;
  double normalised[3][3];
  double corner;

  for (gsize i = 0; i < n_marks; i++)
    {
      from[i] = marks[i].piece_mm;
      to[i] = marks[i].photo_px;
    }
  if (!normalisation_init (&from_normalisation, from, n_marks) || !normalisation_init (&to_normalisation, to, n_marks))
    return FALSE;
  for (gsize i = 0; i < n_marks; i++)
    {
      from[i] = normalise (&from_normalisation, from[i]);
      to[i] = normalise (&to_normalisation, to[i]);
    }
  if (!solve_direct (from, to, n_marks, normalised))
    return FALSE;
  /* The centroid of the marks is in view, so h33 (normalised) is not 0. */
  corner = normalised[2][2];
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      normalised[i][j] /= corner;
  if (n_marks > FEWEST_MARKS)
    refine (normalised, from, to, n_marks);
  return denormalise (normalised, &from_normalisation, &to_normalisation, h);
}

/**
 * sherd_homography_fit:
 * @homography: (out): the fit
 * @marks: (array length=n_marks): points known on the piece and seen in the photograph
 * @n_marks: four or more
 * @mark_sd_px: standard uncertainty with which a mark was placed, px
 * @error: SHERD_SHAPE_ERROR_FEW_MARKS or SHERD_SHAPE_ERROR_DEGENERATE
 *
 * Finds how a plane is seen by a pinhole camera: normalised direct linear transform (Hartley and Zisserman 2004,
 * algorithm 4.2), then, for more than four marks, least squares on the distances in the photograph.
 */
gboolean
sherd_homography_fit (SherdHomography *homography,
                      const SherdMark *marks,
                      gsize n_marks,
                      double mark_sd_px,
                      GError **error)
{
  if (n_marks < FEWEST_MARKS)
    {
      g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_FEW_MARKS,
                   _ ("Only %u marks are set, four are needed. Set one on every corner."), (guint)n_marks);
      return FALSE;
    }
  if (!fit_normalised (marks, n_marks, homography->h))
    {
      g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE,
                           _ ("Marks lie in one place or in one line. Set each on its own corner."));
      return FALSE;
    }
  if (!is_seen_from_the_front (homography->h, marks, n_marks))
    {
      g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_DEGENERATE,
                           _ ("The marks are in the wrong order: the piece would be seen from behind. Go round the "
                              "corners from the top left one to the right."));
      return FALSE;
    }
  invert (homography->h, homography->inverse);
  set_residuals (homography, marks, n_marks);
  set_covariance (homography, marks, n_marks, mark_sd_px);
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
