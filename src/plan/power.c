/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/power.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_randist.h>
#include <math.h>

/* Our choice: no potter lays a paint more often. */
#define MOST_REPLICATES 10000u

/* Browne (below): the limit that is not exceeded in 80 of 100 cases. */
#define UPPER_LIMIT 0.80

/* Terms of the sum below this no longer count. */
#define NEGLIGIBLE 1e-15

/* P(F' ≤ f) of the noncentral F distribution: a Poisson mixture of incomplete beta functions (N. L. Johnson, S. Kotz
 * and N. Balakrishnan, Continuous Univariate Distributions 2, 2nd ed. 1995, equation 30.10), summed from the middle of
 * the Poisson weights outwards. */
static double
noncentral_f_cdf (double f, double n_df, double n_scatter_df, double noncentrality)
{
  const double x = n_df * f / (n_df * f + n_scatter_df), mean = 0.5 * noncentrality;
  const guint middle = (guint)mean;
  double sum = 0.0, weight = 1.0;

  for (guint j = middle; weight > NEGLIGIBLE; j++)
    {
      weight = gsl_ran_poisson_pdf (j, mean);
      sum += weight * gsl_cdf_beta_P (x, 0.5 * n_df + j, 0.5 * n_scatter_df);
    }
  weight = 1.0;
  for (guint j = middle; j-- > 0 && weight > NEGLIGIBLE;)
    {
      weight = gsl_ran_poisson_pdf (j, mean);
      sum += weight * gsl_cdf_beta_P (x, 0.5 * n_df + j, 0.5 * n_scatter_df);
    }
  return sum;
}

/* The F above which a share @alpha lies, by halving; GSL's own inverse does not converge for all of them. */
static double
find_f_limit (double alpha, double n_df, double n_scatter_df)
{
  double below = 0.0, above = 1.0;

  while (gsl_cdf_fdist_Q (above, n_df, n_scatter_df) > alpha)
    above *= 2.0;
  for (guint i = 0; i < 100 && above - below > 1e-14 * above; i++)
    {
      const double middle = 0.5 * (below + above);

      if (gsl_cdf_fdist_Q (middle, n_df, n_scatter_df) > alpha)
        below = middle;
      else
        above = middle;
    }
  return 0.5 * (below + above);
}

/**
 * sherd_power_of_f:
 * @alpha: how often a difference may be claimed that is not there, 0 … 1
 * @n_df: degrees of freedom of the question, at least 1
 * @n_scatter_df: those from which scatter is judged, at least 1
 * @noncentrality: sum of squares of the true differences ÷ variance of a zone, 0 or more
 *
 * Returns: how often an F test sees the difference
 */
double
sherd_power_of_f (double alpha, double n_df, double n_scatter_df, double noncentrality)
{
  const double limit = find_f_limit (alpha, n_df, n_scatter_df);

  return noncentrality > 0.0 ? 1.0 - noncentral_f_cdf (limit, n_df, n_scatter_df, noncentrality) : alpha;
}

/**
 * sherd_power_get:
 * @self: what is to be seen; shift and scatter above 0
 * @n_replicates: how often each paint is laid
 *
 * The two-sided t test of two means, as an F test with 1 degree of freedom; n δ² / (2 σ²) is its noncentrality, and all
 * paints lend their degrees of freedom for scatter, n_paints (n − 1).
 *
 * Returns: how often a difference of that size is seen, 0 … 1; 0 with a single replicate, from which nothing can be
 * judged
 */
double
sherd_power_get (const SherdPower *self, guint n_replicates)
{
  const double ratio = self->shift_de00 / self->scatter_de00;
  const guint n_paints = MAX (self->n_paints, 2);

  if (n_replicates < 2)
    return 0.0;
  return sherd_power_of_f (self->alpha / MAX (self->n_comparisons, 1), 1.0, (double)n_paints * (n_replicates - 1.0),
                           0.5 * n_replicates * ratio * ratio);
}

/**
 * sherd_power_find_replicates:
 * @self: what is to be seen; shift and scatter above 0
 *
 * Returns: how often each paint must be laid; 0 when 10,000 would not do
 */
guint
sherd_power_find_replicates (const SherdPower *self)
{
  guint enough = 2, too_few = 1;

  while (enough <= MOST_REPLICATES && sherd_power_get (self, enough) < self->power)
    {
      too_few = enough;
      enough *= 2;
    }
  while (enough - too_few > 1)
    {
      const guint between = too_few + (enough - too_few) / 2;

      if (sherd_power_get (self, between) < self->power)
        too_few = between;
      else
        enough = between;
    }
  return enough <= MOST_REPLICATES ? enough : 0;
}

/**
 * sherd_scatter_pool:
 * @squares: (array length=n_treatments): for each treatment, the sum of the squared differences of its zones from their
 * mean
 * @n_zones: (array length=n_treatments): how many zones each had
 * @n_treatments: how many
 *
 * The limit is for planning: a scatter from few zones is as often too small as too large, and too small a one makes a
 * test that sees nothing (R. H. Browne, Statistics in Medicine 14, 1995, 1933–1940).
 *
 * Returns: scatter of single zones
 */
SherdScatter
sherd_scatter_pool (const double *squares, const guint *n_zones, guint n_treatments)
{
  SherdScatter scatter = { .sd = NAN, .upper_sd = NAN };
  double sum = 0.0;

  for (guint i = 0; i < n_treatments; i++)
    if (n_zones[i] > 1)
      {
        sum += squares[i];
        scatter.n_df += n_zones[i] - 1;
      }
  if (scatter.n_df == 0)
    return scatter;
  scatter.sd = sqrt (sum / scatter.n_df);
  scatter.upper_sd = sqrt (sum / gsl_cdf_chisq_Qinv (UPPER_LIMIT, scatter.n_df));
  return scatter;
}
