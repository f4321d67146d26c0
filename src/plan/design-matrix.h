/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gsl/gsl_matrix.h>

#include "plan/layout.h"

G_BEGIN_DECLS

/* The columns that belong to one factor, or to two that act together. */
typedef struct
{
  guint factor;
  guint other; /* the second factor, or SHERD_TERM_ALONE */
  guint first_column;
  guint n_columns; /* 0 when it is the same everywhere */
} SherdTerm;

#define SHERD_TERM_ALONE G_MAXUINT

/* A row a zone; the mean, whether there is paint at all, then the terms. */
typedef struct
{
  gsl_matrix *rows;     /* zones × columns */
  guint n_mean_columns; /* 1, or 2 where some zones are bare */
  SherdTerm *terms;
  guint n_terms;
} SherdDesignMatrix;

SherdDesignMatrix *sherd_design_matrix_new (const SherdLayout *layout, const gboolean *factors, gboolean with_pairs);
void sherd_design_matrix_free (SherdDesignMatrix *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdDesignMatrix, sherd_design_matrix_free)

G_DEFINE_AUTOPTR_CLEANUP_FUNC (gsl_matrix, gsl_matrix_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (gsl_vector, gsl_vector_free)

/* What the columns of one term tell once others have taken theirs. */
typedef struct
{
  guint n_columns;
  guint rank;      /* how many directions of them remain */
  double log_left; /* ln of the product of the shares of information that remain; −∞ when rank < n_columns */
} SherdInformation;

gsl_matrix *sherd_design_matrix_reduce (const gsl_matrix *rows);
guint sherd_design_matrix_rank (const gsl_matrix *rows);
SherdInformation
sherd_design_matrix_inform (const gsl_matrix *rows, const SherdTerm *term, const GArray *others, gsl_matrix **lost);

G_END_DECLS
