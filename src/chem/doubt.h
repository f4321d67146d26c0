/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A value and its standard uncertainty (one standard deviation), in the same unit. */
typedef struct
{
  double value;
  double u;
} SherdValue;

/* What follows from the inputs when each lies @scores[i] standard uncertainties away from its best value. */
typedef void (*SherdDoubtModel) (const double *scores, double *outputs, gpointer data);

void sherd_doubt_propagate (SherdDoubtModel model,
                            gpointer data,
                            guint n_scores,
                            guint n_outputs,
                            SherdValue *outputs,
                            double *effects);
double sherd_doubt_of_limits (double half_width);

G_END_DECLS
