/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Fills @residuals, each already divided by its standard deviation, for the parameters @x. */
typedef void (*SherdResiduals) (const double *x, double *residuals, gconstpointer data);

/* Fills @jacobian with the derivatives of the residuals: a column of @n_residuals for each of @n_parameters. */
typedef void (*SherdJacobian) (const double *x, double *jacobian, gconstpointer data);

/* A least-squares problem. */
typedef struct
{
  SherdResiduals residuals;
  SherdJacobian jacobian; /* NULL for finite differences */
  gconstpointer data;
  gsize n_residuals;
  gsize n_parameters;
  guint max_iterations;
} SherdLeastSquares;

double sherd_least_squares_solve (const SherdLeastSquares *problem, double *x, double *covariance);
double sherd_huber_residual (double residual, double threshold);
double sherd_huber_slope (double residual, double threshold);

G_END_DECLS
