/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/power.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* How much zones of the same paint, coats and ground differ, ΔE00, over all photographs measured. */
SherdScatter sherd_trial_measure_scatter (SherdTrial *trial);

/* How often each paint must be laid to see a difference between two of them. */
typedef struct
{
  double shift_de00;   /* to be seen */
  double scatter_de00; /* reckoned with: the upper limit of what was measured, or SHERD_SCATTER_DEFAULT_DE00 */
  guint n_scatter_df;  /* of the measured scatter; 0: nothing was measured */
  guint n_needed;      /* replicates; 0: more than 10,000 */
  guint n_laid;        /* the fewest of a paint that is laid at all */
  double power_now;    /* how often it is seen with those, 0 … 1 */
} SherdReplicates;

SherdReplicates sherd_trial_judge_replicates (SherdTrial *trial, double shift_de00);

G_END_DECLS
