/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/scatter.h"

#include <math.h>

#include "colour/difference.h"
#include "trial/layout.h"
#include "trial/stage.h"

/* Customary in planning of tests (Cohen, as in plan/power.c's tests). */
#define ALPHA 0.05
#define POWER 0.80

static SherdLab
mean_colour (const GArray *colours)
{
  SherdLab mean = { 0 };

  for (guint i = 0; i < colours->len; i++)
    {
      const SherdLab *colour = &g_array_index (colours, SherdLab, i);

      mean.l += colour->l / colours->len;
      mean.a += colour->a / colours->len;
      mean.b += colour->b / colours->len;
    }
  return mean;
}

/* Σ ΔE00² from the mean. Taken as if it all lay in one direction of colour, which is on the safe side. */
static double
sum_squares (const GArray *colours)
{
  const SherdLab mean = mean_colour (colours);
  double sum = 0.0;

  for (guint i = 0; i < colours->len; i++)
    sum += pow (sherd_difference_de00 (&mean, &g_array_index (colours, SherdLab, i)), 2.0);
  return sum;
}

static char *
name_treatment (const SherdLaidZone *place)
{
  return g_strdup_printf ("%s\n%u\n%u\n%s", sherd_part_get_id (SHERD_PART (sherd_zone_get_paint (place->zone))),
                          sherd_zone_get_paint_revision (place->zone), sherd_zone_get_coats (place->zone),
                          sherd_laid_zone_get_ground (place));
}

/* @treatments: name → GArray of SherdLab */
static void
add_colour (GHashTable *treatments, const SherdLaidZone *place, const SherdLab *colour)
{
  g_autofree char *name = name_treatment (place);
  GArray *colours = g_hash_table_lookup (treatments, name);

  if (colours == NULL)
    {
      colours = g_array_new (FALSE, FALSE, sizeof (SherdLab));
      g_hash_table_insert (treatments, g_steal_pointer (&name), colours);
    }
  g_array_append_vals (colours, colour, 1);
}

static void
pool_photograph (SherdTrial *trial, SherdPhotograph *photograph, GArray *squares, GArray *n_zones)
{
  SherdMeasurement *measurement = sherd_trial_get_measurement (trial, photograph);
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, sherd_photograph_get_piece (photograph),
                                                           sherd_photograph_get_side (photograph));
  g_autoptr (GHashTable) treatments =
    g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_array_unref);
  GHashTableIter iter;
  gpointer colours;

  for (guint i = 0; measurement != NULL && i < places->len; i++)
    {
      const SherdLaidZone *place = &g_array_index (places, SherdLaidZone, i);
      const SherdZoneColour *zone =
        sherd_measurement_find_zone (measurement, sherd_part_get_id (SHERD_PART (place->zone)));

      if (sherd_zone_get_paint (place->zone) != NULL && sherd_zone_colour_is_measured (zone) && zone->flags == 0)
        add_colour (treatments, place, &zone->lab);
    }
  g_hash_table_iter_init (&iter, treatments);
  while (g_hash_table_iter_next (&iter, NULL, &colours))
    {
      const double sum = sum_squares (colours);

      g_array_append_val (squares, sum);
      g_array_append_val (n_zones, ((GArray *)colours)->len);
    }
}

/* Whether another photograph of the side shows a later stage and is measured, or the same stage and comes before. */
static gboolean
is_outdone (SherdTrial *trial, guint number, SherdPhotograph *photograph)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) other = g_list_model_get_item (photographs, i);
      int order;

      if (sherd_photograph_get_side (other) != sherd_photograph_get_side (photograph) ||
          sherd_trial_get_measurement (trial, other) == NULL)
        continue;
      order = sherd_stage_compare (sherd_photograph_get_stage (other), sherd_photograph_get_stage (photograph));
      if (order > 0 || (order == 0 && i < number))
        return TRUE;
    }
  return FALSE;
}

/**
 * sherd_trial_measure_scatter:
 * @trial: a trial
 *
 * Of each side one photograph at its latest stage measured; within it, zones of the same paint, revision, coats and
 * ground against their mean. Zones with a remark (glare, few pixels) are left out: they are no measure of the hand.
 *
 * Returns: the scatter of single zones, ΔE00; no degrees of freedom when nothing was laid twice and measured
 */
SherdScatter
sherd_trial_measure_scatter (SherdTrial *trial)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  g_autoptr (GArray) squares = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) n_zones = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);

      if (!is_outdone (trial, i, photograph))
        pool_photograph (trial, photograph, squares, n_zones);
    }
  return sherd_scatter_pool ((const double *)squares->data, (const guint *)n_zones->data, squares->len);
}

/* How many paints are laid, and how often the one that is laid least. */
static guint
count_paints (SherdTrial *trial, guint *n_least)
{
  g_autoptr (SherdLayout) layout = sherd_trial_layout_new (trial);
  const SherdFactor *paint = sherd_layout_find_role (layout, SHERD_ROLE_PAINT);

  *n_least = paint->n_levels > 0 ? G_MAXUINT : 0;
  for (guint level = 0; level < paint->n_levels; level++)
    *n_least = MIN (*n_least, sherd_layout_count_zones (layout, paint, level));
  return paint->n_levels;
}

/**
 * sherd_trial_judge_replicates:
 * @trial: a trial
 * @shift_de00: the difference between two paints that must not be missed, above 0
 *
 * For an error of 5 % and a power of 80 %, without correction for many comparisons.
 *
 * Returns: how often each paint must be laid, and how often it is
 */
SherdReplicates
sherd_trial_judge_replicates (SherdTrial *trial, double shift_de00)
{
  const SherdScatter scatter = sherd_trial_measure_scatter (trial);
  SherdReplicates replicates = { .shift_de00 = shift_de00, .n_scatter_df = scatter.n_df };
  SherdPower power = { .shift_de00 = shift_de00, .alpha = ALPHA, .power = POWER, .n_comparisons = 1 };

  power.n_paints = count_paints (trial, &replicates.n_laid);
  /* Without any scatter whatever is laid twice is enough; that is an accident of two zones. */
  power.scatter_de00 = scatter.n_df > 0 && scatter.upper_sd > 0.0 ? scatter.upper_sd : SHERD_SCATTER_DEFAULT_DE00;
  replicates.scatter_de00 = power.scatter_de00;
  replicates.n_needed = sherd_power_find_replicates (&power);
  replicates.power_now = sherd_power_get (&power, replicates.n_laid);
  return replicates;
}
