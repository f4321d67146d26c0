/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Our choice, until replicates have been measured: two photographs by hand agree within about 1 ΔE00, and the hand lays
 * paint unevenly. */
#define SHERD_SCATTER_DEFAULT_DE00 1.5

/* What is to be seen: whether two paints differ, judged by Student's t with the scatter of all paints together. */
typedef struct
{
  double shift_de00;   /* the difference between two paints that must not be missed */
  double scatter_de00; /* standard deviation of zones of the same paint in the same place */
  guint n_paints;      /* that are laid as often as these, two at least */
  guint n_comparisons; /* questions asked at once; each gets its share of @alpha (Bonferroni) */
  double alpha;        /* how often a difference is claimed that is not there: 0.05 */
  double power;        /* how often a true one is seen: 0.80 */
} SherdPower;

/* How zones of the same treatment scatter. */
typedef struct
{
  double sd;
  double upper_sd; /* 80 % of the time it is no more than this */
  guint n_df;      /* 0: nothing was laid twice, and sd is NAN */
} SherdScatter;

double sherd_power_of_f (double alpha, double n_df, double n_scatter_df, double noncentrality);
double sherd_power_get (const SherdPower *self, guint n_replicates);
guint sherd_power_find_replicates (const SherdPower *self);
SherdScatter sherd_scatter_pool (const double *squares, const guint *n_zones, guint n_treatments);

G_END_DECLS
