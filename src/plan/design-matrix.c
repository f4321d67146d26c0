/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/design-matrix.h"

#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <math.h>

G_DEFINE_AUTOPTR_CLEANUP_FUNC (gsl_permutation, gsl_permutation_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (gsl_eigen_symmv_workspace, gsl_eigen_symmv_free)

/* A column whose length falls below this share of the longest is made up of others: far above what arithmetic leaves
 * (1e-14). */
#define LENGTH_TOLERANCE 1e-9

/* A direction of which less than this share of the information is left cannot be told: its standard error would be ten
 * thousand times larger (our choice). */
#define SHARE_TOLERANCE 1e-8

static guint
count_levels_used (const SherdLayout *layout, const SherdFactor *factor)
{
  guint n_used = 0;

  for (guint level = 0; level < factor->n_levels; level++)
    n_used += sherd_layout_count_zones (layout, factor, level) > 0;
  return n_used;
}

static gboolean
numbers_differ (const SherdLayout *layout, const SherdFactor *factor)
{
  double least = INFINITY, most = -INFINITY;

  for (guint zone = 0; zone < layout->n_zones; zone++)
    if (isfinite (factor->values[zone]))
      {
        least = fmin (least, factor->values[zone]);
        most = fmax (most, factor->values[zone]);
      }
  return most - least > LENGTH_TOLERANCE * fmax (fabs (most), fabs (least));
}

static double
first_known (const SherdLayout *layout, const SherdFactor *factor)
{
  for (guint zone = 0; zone < layout->n_zones; zone++)
    if (isfinite (factor->values[zone]))
      return factor->values[zone];
  return 0.0;
}

/* cos and sin of the angle to the first: 2 columns from three directions on, 1 for two of them. */
static guint
count_direction_columns (const SherdLayout *layout, const SherdFactor *factor)
{
  const double first_deg = first_known (layout, factor);
  double second_deg = NAN;

  for (guint zone = 0; zone < layout->n_zones; zone++)
    {
      const double deg = factor->values[zone];

      if (!isfinite (deg) || sherd_layout_same_direction (deg, first_deg))
        continue;
      if (isnan (second_deg))
        second_deg = deg;
      else if (!sherd_layout_same_direction (deg, second_deg))
        return 2;
    }
  return isnan (second_deg) ? 0 : 1;
}

static guint
count_columns (const SherdLayout *layout, const SherdFactor *factor)
{
  const guint n_used = count_levels_used (layout, factor);

  if (factor->is_direction)
    return count_direction_columns (layout, factor);
  if (factor->levels == NULL)
    return numbers_differ (layout, factor) ? 1 : 0;
  return n_used > 0 ? n_used - 1 : 0;
}

/* Mean 0 and variance 1 over the zones where it is known; 0 where it is not. */
static void
standardise (gsl_vector *column, const SherdLayout *layout, const SherdFactor *factor)
{
  double sum = 0.0, sum_squares = 0.0, mean;
  guint n_known = 0;

  for (guint zone = 0; zone < layout->n_zones; zone++)
    if (isfinite (factor->values[zone]))
      {
        sum += gsl_vector_get (column, zone);
        n_known++;
      }
  mean = sum / n_known;
  for (guint zone = 0; zone < layout->n_zones; zone++)
    {
      const double value = !isfinite (factor->values[zone]) ? 0.0 : gsl_vector_get (column, zone) - mean;

      gsl_vector_set (column, zone, value);
      sum_squares += value * value;
    }
  gsl_vector_scale (column, 1.0 / sqrt (sum_squares / n_known));
}

static void
write_level (gsl_vector *column, const SherdLayout *layout, const SherdFactor *factor, guint level)
{
  for (guint zone = 0; zone < layout->n_zones; zone++)
    gsl_vector_set (column, zone, isfinite (factor->values[zone]) && (guint)factor->values[zone] == level);
  standardise (column, layout, factor);
}

/* A column a level used, but for the first. */
static void
write_levels (SherdDesignMatrix *self, const SherdTerm *term, const SherdLayout *layout, const SherdFactor *factor)
{
  guint column = term->first_column;
  gboolean is_first = TRUE;

  for (guint level = 0; level < factor->n_levels; level++)
    {
      if (sherd_layout_count_zones (layout, factor, level) == 0)
        continue;
      if (!is_first)
        {
          gsl_vector_view view = gsl_matrix_column (self->rows, column++);

          write_level (&view.vector, layout, factor, level);
        }
      is_first = FALSE;
    }
}

static void
write_direction (SherdDesignMatrix *self, const SherdTerm *term, const SherdLayout *layout, const SherdFactor *factor)
{
  const double first_deg = first_known (layout, factor);

  for (guint i = 0; i < term->n_columns; i++)
    {
      gsl_vector_view view = gsl_matrix_column (self->rows, term->first_column + i);

      for (guint zone = 0; zone < layout->n_zones; zone++)
        {
          const double angle = (factor->values[zone] - first_deg) * G_PI / 180.0;

          gsl_vector_set (&view.vector, zone, i == 0 ? cos (angle) : sin (angle));
        }
      standardise (&view.vector, layout, factor);
    }
}

static void
write_alone (SherdDesignMatrix *self, const SherdTerm *term, const SherdLayout *layout)
{
  const SherdFactor *factor = sherd_layout_get_factor (layout, term->factor);
  gsl_vector_view view;

  if (term->n_columns == 0)
    return;
  if (factor->levels != NULL)
    {
      write_levels (self, term, layout, factor);
      return;
    }
  if (factor->is_direction)
    {
      write_direction (self, term, layout, factor);
      return;
    }
  view = gsl_matrix_column (self->rows, term->first_column);
  for (guint zone = 0; zone < layout->n_zones; zone++)
    gsl_vector_set (&view.vector, zone, !isfinite (factor->values[zone]) ? 0.0 : factor->values[zone]);
  standardise (&view.vector, layout, factor);
}

static const SherdTerm *
find_alone (const SherdDesignMatrix *self, guint factor)
{
  for (guint i = 0; i < self->n_terms; i++)
    if (self->terms[i].factor == factor && self->terms[i].other == SHERD_TERM_ALONE)
      return &self->terms[i];
  return NULL;
}

/* Two factors together: the products of their columns. */
static void
write_pair (SherdDesignMatrix *self, const SherdTerm *term)
{
  const SherdTerm *a = find_alone (self, term->factor), *b = find_alone (self, term->other);

  for (guint i = 0; i < a->n_columns; i++)
    for (guint j = 0; j < b->n_columns; j++)
      {
        gsl_vector_view product = gsl_matrix_column (self->rows, term->first_column + i * b->n_columns + j);
        gsl_vector_view first = gsl_matrix_column (self->rows, a->first_column + i);
        gsl_vector_view second = gsl_matrix_column (self->rows, b->first_column + j);

        gsl_vector_memcpy (&product.vector, &first.vector);
        gsl_vector_mul (&product.vector, &second.vector);
      }
}

static gboolean
has_bare_zones (const SherdLayout *layout)
{
  for (guint zone = 0; zone < layout->n_zones; zone++)
    if (!sherd_layout_is_painted (layout, zone))
      return TRUE;
  return FALSE;
}

static void
write_means (SherdDesignMatrix *self, const SherdLayout *layout)
{
  for (guint zone = 0; zone < layout->n_zones; zone++)
    {
      gsl_matrix_set (self->rows, zone, 0, 1.0);
      if (self->n_mean_columns > 1)
        gsl_matrix_set (self->rows, zone, 1, sherd_layout_is_painted (layout, zone) ? 1.0 : 0.0);
    }
}

/* More than this is not asked of two factors together: no test piece has the zones for it (our choice). */
#define MOST_PAIR_COLUMNS 60

static GArray *
list_terms (const SherdLayout *layout, const gboolean *factors, gboolean with_pairs, guint *n_columns)
{
  GArray *terms = g_array_new (FALSE, FALSE, sizeof (SherdTerm));
  guint n_alone;

  for (guint i = 0; i < layout->factors->len; i++)
    {
      const guint n = factors[i] ? count_columns (layout, sherd_layout_get_factor (layout, i)) : 0;
      const SherdTerm term = { .factor = i, .other = SHERD_TERM_ALONE, .first_column = *n_columns, .n_columns = n };

      if (factors[i])
        g_array_append_val (terms, term);
      *n_columns += n;
    }
  n_alone = with_pairs ? terms->len : 0;
  for (guint i = 0; i < n_alone; i++)
    for (guint j = i + 1; j < n_alone; j++)
      {
        const SherdTerm a = g_array_index (terms, SherdTerm, i), b = g_array_index (terms, SherdTerm, j);
        const SherdTerm term = {
          .factor = a.factor, .other = b.factor, .first_column = *n_columns, .n_columns = a.n_columns * b.n_columns
        };

        if (term.n_columns == 0 || term.n_columns > MOST_PAIR_COLUMNS)
          continue;
        g_array_append_val (terms, term);
        *n_columns += term.n_columns;
      }
  return terms;
}

/**
 * sherd_design_matrix_new:
 * @layout: a layout with at least one zone
 * @factors: (array): for each of its factors whether it takes part
 * @with_pairs: whether each two of them also stand together, as products of their columns
 *
 * Rows of a linear model. A number makes one column of mean 0 and variance 1 over the zones where it applies; levels
 * make one column each but the first; a direction makes two, its cosine and sine. Where it does not apply, a column is
 * 0; what bare zones differ by is in a column of its own.
 *
 * Returns: (transfer full): the matrix
 */
SherdDesignMatrix *
sherd_design_matrix_new (const SherdLayout *layout, const gboolean *factors, gboolean with_pairs)
{
  SherdDesignMatrix *self = g_new0 (SherdDesignMatrix, 1);
  guint n_columns = has_bare_zones (layout) ? 2 : 1;
  GArray *terms;

  self->n_mean_columns = n_columns;
  terms = list_terms (layout, factors, with_pairs, &n_columns);
  self->n_terms = terms->len;
  self->terms = (SherdTerm *)g_array_free (terms, FALSE);
  self->rows = gsl_matrix_calloc (layout->n_zones, n_columns);
  write_means (self, layout);
  for (guint i = 0; i < self->n_terms; i++)
    if (self->terms[i].other == SHERD_TERM_ALONE)
      write_alone (self, &self->terms[i], layout);
    else
      write_pair (self, &self->terms[i]);
  return self;
}

void
sherd_design_matrix_free (SherdDesignMatrix *self)
{
  gsl_matrix_free (self->rows);
  g_free (self->terms);
  g_free (self);
}

/* Some rows at a time stay in the processor's cache (our choice). */
#define ROWS_AT_A_TIME 64u

/* The first @n_rows rows of @rows become their triangle; returns how many rows that has. */
static gsize
make_triangle (gsl_matrix *rows, gsize n_rows)
{
  gsl_matrix_view used = gsl_matrix_submatrix (rows, 0, 0, n_rows, rows->size2);
  const gsize n_kept = MIN (n_rows, rows->size2);
  g_autoptr (gsl_vector) tau = gsl_vector_alloc (n_kept);

  gsl_linalg_QR_decomp (&used.matrix, tau);
  for (gsize i = 1; i < n_kept; i++)
    for (gsize j = 0; j < i; j++)
      gsl_matrix_set (rows, i, j, 0.0);
  return n_kept;
}

/**
 * sherd_design_matrix_reduce:
 * @rows: any number of rows
 *
 * The triangle R of rows = Q R: as many rows as columns at most, with the same lengths and angles of the columns, so
 * that whatever is asked of it costs the same for ten zones as for a thousand. Rows are taken in some at a time, each
 * time with the triangle of those before (G. H. Golub and C. F. Van Loan, Matrix Computations, on updating QR).
 *
 * Returns: (transfer full): R
 */
gsl_matrix *
sherd_design_matrix_reduce (const gsl_matrix *rows)
{
  g_autoptr (gsl_matrix) work = gsl_matrix_alloc (rows->size2 + ROWS_AT_A_TIME, rows->size2);
  gsl_matrix *triangle;
  gsl_matrix_view kept;
  gsize n_kept = 0;

  for (gsize start = 0; start < rows->size1; start += ROWS_AT_A_TIME)
    {
      const gsize n_more = MIN (ROWS_AT_A_TIME, rows->size1 - start);
      gsl_matrix_const_view more = gsl_matrix_const_submatrix (rows, start, 0, n_more, rows->size2);
      gsl_matrix_view place = gsl_matrix_submatrix (work, n_kept, 0, n_more, rows->size2);

      gsl_matrix_memcpy (&place.matrix, &more.matrix);
      n_kept = make_triangle (work, n_kept + n_more);
    }
  kept = gsl_matrix_submatrix (work, 0, 0, n_kept, rows->size2);
  triangle = gsl_matrix_alloc (n_kept, rows->size2);
  gsl_matrix_memcpy (triangle, &kept.matrix);
  return triangle;
}

/* Householder QR with the longest remaining column first; the diagonal then shows the rank. */
static guint
factor_by_pivots (gsl_matrix *rows, gsl_vector *tau)
{
  g_autoptr (gsl_permutation) order = gsl_permutation_alloc (rows->size2);
  g_autoptr (gsl_vector) norms = gsl_vector_alloc (rows->size2);
  const gsize n_diagonal = MIN (rows->size1, rows->size2);
  guint rank = 0;
  int sign;

  gsl_linalg_QRPT_decomp (rows, tau, order, &sign, norms);
  while (rank < n_diagonal &&
         fabs (gsl_matrix_get (rows, rank, rank)) > LENGTH_TOLERANCE * fabs (gsl_matrix_get (rows, 0, 0)))
    rank++;
  return rank;
}

/**
 * sherd_design_matrix_rank:
 * @rows: a matrix of columns of like length
 *
 * Returns: how many of its columns are independent of each other
 */
guint
sherd_design_matrix_rank (const gsl_matrix *rows)
{
  g_autoptr (gsl_matrix) factored = gsl_matrix_alloc (rows->size1, rows->size2);
  g_autoptr (gsl_vector) tau = gsl_vector_alloc (MIN (rows->size1, rows->size2));

  gsl_matrix_memcpy (factored, rows);
  return factor_by_pivots (factored, tau);
}

static gsl_matrix *
copy_columns (const gsl_matrix *rows, const GArray *columns)
{
  gsl_matrix *copy = gsl_matrix_alloc (rows->size1, columns->len);

  for (guint i = 0; i < columns->len; i++)
    {
      gsl_vector_const_view from = gsl_matrix_const_column (rows, g_array_index (columns, guint, i));

      gsl_matrix_set_col (copy, i, &from.vector);
    }
  return copy;
}

/* Takes out of @own what the columns of @others can make up. */
static void
take_out (gsl_matrix *own, gsl_matrix *others)
{
  g_autoptr (gsl_vector) tau = gsl_vector_alloc (MIN (others->size1, others->size2));
  g_autoptr (gsl_vector) column = gsl_vector_alloc (own->size1);
  const guint rank = factor_by_pivots (others, tau);

  for (gsize j = 0; j < own->size2; j++)
    {
      gsl_matrix_get_col (column, own, j);
      gsl_linalg_QR_QTvec (others, tau, column);
      for (guint i = 0; i < rank; i++)
        gsl_vector_set (column, i, 0.0);
      gsl_matrix_set_col (own, j, column);
    }
}

/* In units in which all of @own tells as much in every direction: the Gram matrix of what is left of it, with
 * eigenvalues 0 … 1. */
static gsl_matrix *
compare_with_own (const gsl_matrix *root, gsl_matrix *left)
{
  gsl_matrix *gram = gsl_matrix_calloc (left->size2, left->size2);

  gsl_blas_dtrsm (CblasRight, CblasLower, CblasTrans, CblasNonUnit, 1.0, root, left);
  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1.0, left, left, 0.0, gram);
  return gram;
}

/* The lower triangle L of own' own = L L'. */
static gsl_matrix *
find_root (const gsl_matrix *own)
{
  gsl_matrix *root = gsl_matrix_calloc (own->size2, own->size2);

  gsl_blas_dgemm (CblasTrans, CblasNoTrans, 1.0, own, own, 0.0, root);
  gsl_linalg_cholesky_decomp1 (root);
  return root;
}

/* Directions in the coefficients of the columns that nothing is left of, one a column. */
static gsl_matrix *
collect_lost (const gsl_matrix *root, const gsl_vector *shares, const gsl_matrix *directions, guint n_lost)
{
  gsl_matrix *lost = gsl_matrix_alloc (shares->size, MAX (n_lost, 1));
  guint column = 0;

  gsl_matrix_set_zero (lost);
  for (guint i = 0; i < shares->size; i++)
    if (gsl_vector_get (shares, i) <= SHARE_TOLERANCE)
      {
        gsl_vector_const_view direction = gsl_matrix_const_column (directions, i);

        gsl_matrix_set_col (lost, column++, &direction.vector);
      }
  gsl_blas_dtrsm (CblasLeft, CblasLower, CblasTrans, CblasNonUnit, 1.0, root, lost);
  return lost;
}

static GArray *
own_columns (const SherdTerm *term)
{
  GArray *columns = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint column = term->first_column; column < term->first_column + term->n_columns; column++)
    g_array_append_val (columns, column);
  return columns;
}

/**
 * sherd_design_matrix_inform:
 * @rows: the matrix, or what sherd_design_matrix_reduce () made of it
 * @term: a term of at least one column, that stands alone
 * @others: (element-type guint): the columns of all that it is to be told from, the mean among them
 * @lost: (out) (optional) (transfer full): directions in the coefficients of @term that cannot be told, one a column;
 * a column of 0 when there is none
 *
 * The shares left are 1 − the squared canonical correlations of the term with @others; their product is 1 / GVIF, the
 * reciprocal of the generalised variance inflation factor (J. Fox and G. Monette, JASA 87, 1992, 178–183); for one
 * column it is 1 − R², 1 / VIF.
 *
 * Returns: what the columns of @term tell
 */
SherdInformation
sherd_design_matrix_inform (const gsl_matrix *rows, const SherdTerm *term, const GArray *others, gsl_matrix **lost)
{
  g_autoptr (GArray) columns = own_columns (term);
  g_autoptr (gsl_matrix) own = copy_columns (rows, columns);
  g_autoptr (gsl_matrix) others_copy = copy_columns (rows, others);
  g_autoptr (gsl_matrix) root = find_root (own);
  g_autoptr (gsl_matrix) gram = NULL;
  g_autoptr (gsl_matrix) directions = gsl_matrix_alloc (term->n_columns, term->n_columns);
  g_autoptr (gsl_vector) shares = gsl_vector_alloc (term->n_columns);
  g_autoptr (gsl_eigen_symmv_workspace) workspace = gsl_eigen_symmv_alloc (term->n_columns);
  SherdInformation information = { .n_columns = term->n_columns };

  take_out (own, others_copy);
  gram = compare_with_own (root, own);
  gsl_eigen_symmv (gram, shares, directions, workspace);
  for (guint i = 0; i < term->n_columns; i++)
    {
      const double share = gsl_vector_get (shares, i);

      information.rank += share > SHARE_TOLERANCE;
      information.log_left += share > SHARE_TOLERANCE ? log (share) : -INFINITY;
    }
  if (lost != NULL)
    *lost = collect_lost (root, shares, directions, information.n_columns - information.rank);
  return information;
}
