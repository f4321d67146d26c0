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
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        double rest = covariance[3 * i + j];

        for (guint k = 0; k < MIN (i, j); k++)
          rest -= root[i][k] * root[j][k];
        root[i][j] = j > i ? 0 : j == i ? sqrt (MAX (rest, LEAST_PIVOT)) : rest / root[j][j];
      }
}
