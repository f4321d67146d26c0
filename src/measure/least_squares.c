/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/least_squares.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <math.h>

/* For a Jacobian by differences GSL hands a column of it, whose numbers do not lie side by side. */
static int
evaluate_residuals (const gsl_vector *x, void *user_data, gsl_vector *residuals)
{
  const SherdLeastSquares *problem = user_data;
  g_autofree double *values = NULL;

  if (residuals->stride == 1)
    {
      problem->residuals (x->data, residuals->data, problem->data);
      return GSL_SUCCESS;
    }
  values = g_new (double, residuals->size);
  problem->residuals (x->data, values, problem->data);
  for (gsize i = 0; i < residuals->size; i++)
    gsl_vector_set (residuals, i, values[i]);
  return GSL_SUCCESS;
}

static int
evaluate_jacobian (const gsl_vector *x, void *user_data, gsl_matrix *jacobian)
{
  const SherdLeastSquares *problem = user_data;

  problem->jacobian (x->data, jacobian->data, problem->data);
  return GSL_SUCCESS;
}

static void
copy_covariance (gsl_multifit_nlinear_workspace *workspace, gsize n_parameters, double *covariance)
{
  gsl_matrix_view view = gsl_matrix_view_array (covariance, n_parameters, n_parameters);

  gsl_multifit_nlinear_covar (gsl_multifit_nlinear_jac (workspace), 0.0, &view.matrix);
}

/**
 * sherd_least_squares_solve:
 * @problem: what to minimise; more residuals than parameters
 * @x: (inout): start and solution, @problem->n_parameters numbers
 * @covariance: (out) (nullable): n × n, (JᵀJ)⁻¹ at the solution; meant for residuals in units of their standard
 *   deviation
 *
 * Levenberg–Marquardt least squares (the trust region of J. J. Moré, "The Levenberg–Marquardt algorithm:
 * implementation and theory", Lecture Notes in Mathematics 630, 1978), by the GNU Scientific Library.
 *
 * Returns: the sum of squared residuals at @x, not a number when the start was of no use
 */
double
sherd_least_squares_solve (const SherdLeastSquares *problem, double *x, double *covariance)
{
  gsl_multifit_nlinear_parameters parameters = gsl_multifit_nlinear_default_parameters ();
  gsl_multifit_nlinear_fdf fdf = { 0 };
  gsl_vector_view start = gsl_vector_view_array (x, problem->n_parameters);
  gsl_multifit_nlinear_workspace *workspace;
  double sum_of_squares;
  int info;

  fdf.f = evaluate_residuals;
  fdf.df = problem->jacobian ? evaluate_jacobian : NULL;
  fdf.n = problem->n_residuals;
  fdf.p = problem->n_parameters;
  fdf.params = (void *)problem;
  parameters.solver = gsl_multifit_nlinear_solver_qr;

  workspace = gsl_multifit_nlinear_alloc (gsl_multifit_nlinear_trust, &parameters, fdf.n, fdf.p);
  gsl_multifit_nlinear_init (&start.vector, &fdf, workspace);
  gsl_multifit_nlinear_driver (problem->max_iterations, 1e-7, 1e-7, 1e-9, NULL, NULL, &info, workspace);
  gsl_blas_ddot (gsl_multifit_nlinear_residual (workspace), gsl_multifit_nlinear_residual (workspace), &sum_of_squares);
  memcpy (x, gsl_multifit_nlinear_position (workspace)->data, problem->n_parameters * sizeof (double));
  if (covariance)
    copy_covariance (workspace, problem->n_parameters, covariance);
  gsl_multifit_nlinear_free (workspace);
  return sum_of_squares;
}

/**
 * sherd_huber_residual:
 * @residual: in units of its standard deviation
 * @threshold: where the loss turns from square to straight
 *
 * The residual whose square is Huber's loss (P. J. Huber, "Robust estimation of a location parameter", Ann. Math.
 * Stat. 35, 1964), so that least squares on it is the robust fit.
 */
double
sherd_huber_residual (double residual, double threshold)
{
  const double size = fabs (residual);

  if (size <= threshold)
    return residual;
  return copysign (sqrt (2 * threshold * size - threshold * threshold), residual);
}

/* Derivative of sherd_huber_residual() by its residual. */
double
sherd_huber_slope (double residual, double threshold)
{
  if (fabs (residual) <= threshold)
    return 1.0;
  return threshold / fabs (sherd_huber_residual (residual, threshold));
}
