/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/least_squares.h"

#include <math.h>
#include <string.h>

#define FIRST_DAMPING 1e-3
#define MOST_DAMPING 1e8
/* Far below any uncertainty that matters here. */
#define STEP_TOLERANCE 1e-6
#define GAIN_TOLERANCE 1e-7
#define DIFFERENCE_STEP 1e-6

typedef struct
{
  const SherdLeastSquares *problem;
  double *x;
  double *residuals;
  double *jacobian; /* n_parameters columns of n_residuals */
  double *normal;   /* JᵀJ */
  double *gradient; /* Jᵀr */
  double *damped;   /* factorised JᵀJ with a stronger diagonal */
  double *step;
  double *trial_x;
  double *trial_residuals;
  double cost;
} Solver;

/* Four sums side by side, which compilers turn into two at once. */
static double
dot (const double *a, const double *b, gsize n)
{
  double sum[4] = { 0 };
  gsize i = 0;

  for (; i + 4 <= n; i += 4)
    for (guint k = 0; k < 4; k++)
      sum[k] += a[i + k] * b[i + k];
  for (; i < n; i++)
    sum[0] += a[i] * b[i];
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

static void
difference_jacobian (Solver *solver)
{
  const gsize n = solver->problem->n_residuals, p = solver->problem->n_parameters;

  memcpy (solver->trial_x, solver->x, p * sizeof (double));
  for (gsize k = 0; k < p; k++)
    {
      const double step = DIFFERENCE_STEP * MAX (fabs (solver->x[k]), 1);

      solver->trial_x[k] = solver->x[k] + step;
      solver->problem->residuals (solver->trial_x, solver->trial_residuals, solver->problem->data);
      for (gsize i = 0; i < n; i++)
        solver->jacobian[k * n + i] = (solver->trial_residuals[i] - solver->residuals[i]) / step;
      solver->trial_x[k] = solver->x[k];
    }
}

static void
make_normal_equations (Solver *solver)
{
  const gsize n = solver->problem->n_residuals, p = solver->problem->n_parameters;

  if (solver->problem->jacobian)
    solver->problem->jacobian (solver->x, solver->jacobian, solver->problem->data);
  else
    difference_jacobian (solver);
  for (gsize k = 0; k < p; k++)
    {
      const double *column = solver->jacobian + k * n;

      solver->gradient[k] = dot (column, solver->residuals, n);
      for (gsize l = 0; l <= k; l++)
        solver->normal[k * p + l] = dot (column, solver->jacobian + l * n, n);
    }
}

/* Lower Cholesky factor in place of the lower triangle of @matrix. */
static gboolean
factorise (double *matrix, gsize p)
{
  for (gsize i = 0; i < p; i++)
    for (gsize j = 0; j <= i; j++)
      {
        double rest = matrix[i * p + j];

        for (gsize k = 0; k < j; k++)
          rest -= matrix[i * p + k] * matrix[j * p + k];
        if (i == j && !(rest > 0 && isfinite (rest)))
          return FALSE;
        matrix[i * p + j] = i == j ? sqrt (rest) : rest / matrix[j * p + j];
      }
  return TRUE;
}

static void
solve_factorised (const double *root, gsize p, double *b)
{
  for (gsize i = 0; i < p; i++)
    {
      for (gsize k = 0; k < i; k++)
        b[i] -= root[i * p + k] * b[k];
      b[i] /= root[i * p + i];
    }
  for (gsize i = p; i-- > 0;)
    {
      for (gsize k = i + 1; k < p; k++)
        b[i] -= root[k * p + i] * b[k];
      b[i] /= root[i * p + i];
    }
}

static gboolean
damp (const Solver *solver, double damping)
{
  const gsize p = solver->problem->n_parameters;

  memcpy (solver->damped, solver->normal, p * p * sizeof (double));
  for (gsize k = 0; k < p; k++)
    solver->damped[k * p + k] += damping * MAX (solver->normal[k * p + k], 1e-12);
  return factorise (solver->damped, p);
}

/* Tries one damped step; the cost there, or infinity. */
static double
try_step (Solver *solver, double damping)
{
  const gsize n = solver->problem->n_residuals, p = solver->problem->n_parameters;
  double cost;

  if (!damp (solver, damping))
    return INFINITY;
  for (gsize k = 0; k < p; k++)
    solver->step[k] = -solver->gradient[k];
  solve_factorised (solver->damped, p, solver->step);
  for (gsize k = 0; k < p; k++)
    solver->trial_x[k] = solver->x[k] + solver->step[k];
  solver->problem->residuals (solver->trial_x, solver->trial_residuals, solver->problem->data);
  cost = dot (solver->trial_residuals, solver->trial_residuals, n);
  return isfinite (cost) ? cost : INFINITY;
}

static gboolean
step_is_small (const Solver *solver)
{
  for (gsize k = 0; k < solver->problem->n_parameters; k++)
    if (fabs (solver->step[k]) > STEP_TOLERANCE * MAX (fabs (solver->x[k]), 1))
      return FALSE;
  return TRUE;
}

/* One accepted step; FALSE when there is none left to take. */
static gboolean
improve (Solver *solver, double *damping)
{
  const gsize n = solver->problem->n_residuals, p = solver->problem->n_parameters;
  double cost, gain;

  make_normal_equations (solver);
  while (!((cost = try_step (solver, *damping)) <= solver->cost))
    {
      *damping *= 10;
      if (*damping > MOST_DAMPING)
        return FALSE;
    }
  gain = solver->cost - cost;
  memcpy (solver->x, solver->trial_x, p * sizeof (double));
  memcpy (solver->residuals, solver->trial_residuals, n * sizeof (double));
  solver->cost = cost;
  *damping = MAX (*damping / 10, 1e-12);
  return gain > GAIN_TOLERANCE * cost && !step_is_small (solver);
}

/* (JᵀJ)⁻¹, column by column; infinite variances where the problem does not hold a parameter. */
static void
fill_covariance (Solver *solver, double *covariance)
{
  const gsize p = solver->problem->n_parameters;
  gboolean determined;

  make_normal_equations (solver);
  determined = damp (solver, 0);
  for (gsize k = 0; k < p; k++)
    {
      memset (solver->step, 0, p * sizeof (double));
      solver->step[k] = determined ? 1 : INFINITY;
      if (determined)
        solve_factorised (solver->damped, p, solver->step);
      memcpy (covariance + k * p, solver->step, p * sizeof (double));
    }
}

/**
 * sherd_least_squares_solve:
 * @problem: what to minimise; at least as many residuals as parameters
 * @x: (inout): start and solution, @problem->n_parameters numbers
 * @covariance: (out) (nullable): n × n, (JᵀJ)⁻¹ at the solution; meant for residuals in units of their standard
 *   deviation
 *
 * Levenberg–Marquardt least squares (D. W. Marquardt, J. Soc. Indust. Appl. Math. 11, 1963, 431–441) on normal
 * equations: few parameters, each held by a belief, many residuals, and never a reason to end the program.
 *
 * Returns: the sum of squared residuals at @x
 */
double
sherd_least_squares_solve (const SherdLeastSquares *problem, double *x, double *covariance)
{
  const gsize n = problem->n_residuals, p = problem->n_parameters;
  g_autofree double *memory = g_new (double, 2 * n + n * p + 2 * p * p + 3 * p);
  double damping = FIRST_DAMPING;
  Solver solver = { .problem = problem, .x = x, .residuals = memory, .trial_residuals = memory + n };

  solver.jacobian = memory + 2 * n;
  solver.normal = solver.jacobian + n * p;
  solver.damped = solver.normal + p * p;
  solver.gradient = solver.damped + p * p;
  solver.step = solver.gradient + p;
  solver.trial_x = solver.step + p;
  problem->residuals (x, solver.residuals, problem->data);
  solver.cost = dot (solver.residuals, solver.residuals, n);
  for (guint i = 0; i < problem->max_iterations; i++)
    if (!improve (&solver, &damping))
      break;
  if (covariance)
    fill_covariance (&solver, covariance);
  return solver.cost;
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
