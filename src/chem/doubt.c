/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/doubt.h"

#include <math.h>
#include <string.h>

/* By how much each output moves when one input is off by its standard uncertainty: half the way between both sides. */
static void
find_effects (SherdDoubtModel model, gpointer data, double *scores, guint score, guint n_outputs, double *effects)
{
  g_autofree double *below = g_new0 (double, n_outputs);

  scores[score] = 1.0;
  model (scores, effects, data);
  scores[score] = -1.0;
  model (scores, below, data);
  scores[score] = 0.0;
  for (guint i = 0; i < n_outputs; i++)
    effects[i] = (effects[i] - below[i]) / 2.0;
}

/**
 * sherd_doubt_propagate:
 * @model: computes the outputs from the inputs
 * @data: handed to @model
 * @n_scores: how many independent inputs there are
 * @n_outputs: how many outputs
 * @outputs: (array length=n_outputs) (out caller-allocates): best values with standard uncertainties
 * @effects: (nullable) (out caller-allocates): by how much each output moves at one standard uncertainty of each input,
 *   @n_outputs values for the first input, then for the second …
 *
 * Propagates uncertainty by moving one input at a time by its standard uncertainty and adding the effects in squares:
 * JCGM 100:2008 (GUM), note 2 to 5.1.3; Kragten, Analyst 119 (1994) 2161. Inputs are independent; what two things
 * share (an atomic weight, the purity of one find in two paints) is one input.
 */
void
sherd_doubt_propagate (SherdDoubtModel model,
                       gpointer data,
                       guint n_scores,
                       guint n_outputs,
                       SherdValue *outputs,
                       double *effects)
{
  g_autofree double *scores = g_new0 (double, n_scores + 1);
  g_autofree double *best = g_new0 (double, n_outputs);
  g_autofree double *row = g_new0 (double, n_outputs);

  model (scores, best, data);
  for (guint i = 0; i < n_outputs; i++)
    outputs[i] = (SherdValue){ best[i], 0.0 };
  for (guint score = 0; score < n_scores; score++)
    {
      find_effects (model, data, scores, score, n_outputs, row);
      for (guint i = 0; i < n_outputs; i++)
        outputs[i].u = hypot (outputs[i].u, row[i]);
      if (effects != NULL)
        memcpy (effects + (gsize)score * n_outputs, row, n_outputs * sizeof *row);
    }
}

/**
 * sherd_doubt_of_limits:
 * @half_width: half the distance between two limits, everything between them being as likely
 *
 * Returns: the standard uncertainty (GUM 4.3.7)
 */
double
sherd_doubt_of_limits (double half_width)
{
  return half_width / sqrt (3.0);
}
