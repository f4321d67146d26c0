/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/cholesky.h"

#include <math.h>

/* Rounding may leave a covariance a hair below positive definite; a pivot is never taken smaller. */
#define LEAST_PIVOT 1e-12

/**
 * sherd_cholesky_3:
 * @covariance: 3 × 3, row by row, symmetric
 * @root: (out): lower triangular, @root times its transpose is @covariance
 */
void
sherd_cholesky_3 (const double *covariance, double root[3][3])
{
  const double *c = covariance;
  const double a = sqrt (MAX (c[0], LEAST_PIVOT)), b = c[3] / a, d = c[6] / a;
  const double e = sqrt (MAX (c[4] - b * b, LEAST_PIVOT)), f = (c[7] - d * b) / e;
  const double g = sqrt (MAX (c[8] - d * d - f * f, LEAST_PIVOT));

  root[0][0] = a;
  root[1][0] = b;
  root[1][1] = e;
  root[2][0] = d;
  root[2][1] = f;
  root[2][2] = g;
  root[0][1] = root[0][2] = root[1][2] = 0;
}
