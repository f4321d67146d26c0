/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/paint-colour.h"

#include "trial/stage.h"

typedef struct
{
  SherdLab sum;
  guint n_zones;
  const char *stage;
} Colours;

/* A later stage takes the place of what was gathered of earlier ones. */
static void
add_zone (Colours *colours, const char *stage, const SherdZoneColour *zone)
{
  if (colours->stage == NULL || sherd_stage_compare (stage, colours->stage) > 0)
    *colours = (Colours){ .stage = stage };
  colours->sum.l += zone->lab.l;
  colours->sum.a += zone->lab.a;
  colours->sum.b += zone->lab.b;
  colours->n_zones++;
}

static void
add_photograph (Colours *colours, SherdMeasurement *measurement, SherdPaint *paint)
{
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);
  const char *stage = sherd_photograph_get_stage (photograph);
  GListModel *zones = sherd_side_get_zones (sherd_photograph_get_side (photograph));

  if (colours->stage != NULL && sherd_stage_compare (stage, colours->stage) < 0)
    return;
  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);
      const SherdZoneColour *colour = sherd_measurement_find_zone (measurement, sherd_part_get_id (SHERD_PART (zone)));

      if (sherd_zone_get_paint (zone) == paint && sherd_zone_get_paint_revision (zone) == 0 && colour != NULL &&
          sherd_zone_colour_is_measured (colour))
        add_zone (colours, stage, colour);
    }
}

/**
 * sherd_trial_get_paint_colour:
 * @trial: a trial
 * @paint: one of its paints
 * @lab: (out): mean over the measured zones, CIELAB, D50, 2°
 * @n_zones: (out): how many went into it
 * @stage: (out) (transfer none): the last stage that any of them was measured at; the mean is of that stage alone
 *
 * What colour the paint has, for a glance: no uncertainty is stated, the results have that. Stale measurements and
 * zones that were fired with an earlier revision do not count.
 *
 * Returns: FALSE while none is measured
 */
gboolean
sherd_trial_get_paint_colour (SherdTrial *trial, SherdPaint *paint, SherdLab *lab, guint *n_zones, const char **stage)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  Colours colours = { .n_zones = 0 };

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);
      SherdMeasurement *measurement = sherd_trial_get_measurement (trial, photograph);

      if (measurement != NULL)
        add_photograph (&colours, measurement, paint);
    }
  if (colours.n_zones == 0)
    return FALSE;
  *lab =
    (SherdLab){ colours.sum.l / colours.n_zones, colours.sum.a / colours.n_zones, colours.sum.b / colours.n_zones };
  *n_zones = colours.n_zones;
  *stage = colours.stage;
  return TRUE;
}
