/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/preset.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Our choice: so many points carry an arc of a quarter turn; the curve between them is a hundredth of a millimetre off
 * on a small bowl, and a potter can still drag each one. */
#define ARC_STEPS 6u

#define LEAST_MM 5.0
#define LARGEST_MM 3000.0

/* How the wall rises between foot and rim: part of an ellipse, from the angle at which it leaves the foot. Common
 * shapes, no source. */
typedef struct
{
  SherdMeasures example;
  double first_deg; /* 0: flat out from the foot, 90: straight up */
  double last_deg;
} Rise;

static const Rise RISES[] = {
  [SHERD_PRESET_BOWL] = { { .rim_diameter_mm = 150, .foot_diameter_mm = 60, .height_mm = 70 }, 20, 85 },
  [SHERD_PRESET_DISH] = { { .rim_diameter_mm = 180, .foot_diameter_mm = 100, .height_mm = 40 }, 15, 75 },
  [SHERD_PRESET_PLATE] = { { .rim_diameter_mm = 240, .foot_diameter_mm = 150, .height_mm = 25 }, 40, 75 },
  [SHERD_PRESET_CUP] = { { .rim_diameter_mm = 85, .foot_diameter_mm = 50, .height_mm = 90 }, 5, 90 },
  [SHERD_PRESET_CYLINDER] = { { .rim_diameter_mm = 100, .height_mm = 120 }, 0, 0 },
  [SHERD_PRESET_JAR] = { { .rim_diameter_mm = 90,
                           .foot_diameter_mm = 70,
                           .height_mm = 180,
                           .greatest_diameter_mm = 150,
                           .greatest_height_mm = 90,
                           .neck_diameter_mm = 76,
                           .neck_height_mm = 160 },
                         10,
                         90 },
};

/**
 * sherd_preset_example:
 * @preset: a kind of vessel
 *
 * Returns: measures to start from; those that stay 0 the kind does not ask for
 */
SherdMeasures
sherd_preset_example (SherdPreset preset)
{
  return RISES[preset].example;
}

static gboolean
check_measure (double value_mm, const char *name, GError **error)
{
  if (value_mm >= LEAST_MM && value_mm <= LARGEST_MM)
    return TRUE;
  g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
               /* Translators: the first word names a measure, such as “foot diameter” */
               _ ("The %s is %.1f mm. Give one between %.0f and %.0f mm."), name, value_mm, LEAST_MM, LARGEST_MM);
  return FALSE;
}

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE, message);
  return FALSE;
}

static gboolean
check_jar (const SherdMeasures *measures, GError **error)
{
  if (!check_measure (measures->greatest_diameter_mm, _ ("greatest diameter"), error) ||
      !check_measure (measures->greatest_height_mm, _ ("height of the greatest diameter"), error) ||
      !check_measure (measures->neck_diameter_mm, _ ("neck diameter"), error) ||
      !check_measure (measures->neck_height_mm, _ ("height of the neck"), error))
    return FALSE;
  if (!(measures->greatest_height_mm < measures->neck_height_mm && measures->neck_height_mm < measures->height_mm))
    return refuse (error, _ ("From the foot up come the greatest diameter, the neck and the rim; these heights say "
                             "otherwise."));
  if (!(measures->neck_diameter_mm < measures->greatest_diameter_mm &&
        measures->foot_diameter_mm < measures->greatest_diameter_mm))
    return refuse (error, _ ("The greatest diameter is larger than those of the neck and the foot."));
  return TRUE;
}

static gboolean
check_measures (SherdPreset preset, const SherdMeasures *measures, GError **error)
{
  if (!check_measure (measures->rim_diameter_mm, _ ("rim diameter"), error) ||
      !check_measure (measures->height_mm, _ ("height"), error))
    return FALSE;
  if (preset == SHERD_PRESET_CYLINDER)
    return TRUE;
  if (!check_measure (measures->foot_diameter_mm, _ ("foot diameter"), error))
    return FALSE;
  if (preset == SHERD_PRESET_JAR)
    return check_jar (measures, error);
  if (!(measures->foot_diameter_mm < measures->rim_diameter_mm))
    return refuse (error, _ ("The rim is wider than the foot in this shape. Take a jar or a cylinder instead."));
  return TRUE;
}

static void
add_point (GArray *points, double r_mm, double z_mm)
{
  const SherdProfilePoint point = { r_mm, z_mm, FALSE };

  g_array_append_val (points, point);
}

/* Points of an ellipse from one place (not added) to another; at @first_deg and @last_deg of its turn from flat to
 * upright. */
static void
add_rise (GArray *points, double r0, double z0, double r1, double z1, double first_deg, double last_deg)
{
  const double first = first_deg * G_PI / 180.0, last = last_deg * G_PI / 180.0;

  for (guint i = 1; i <= ARC_STEPS; i++)
    {
      const double turned = first + (last - first) * i / ARC_STEPS;
      const double out = (sin (turned) - sin (first)) / (sin (last) - sin (first));
      const double up = (cos (first) - cos (turned)) / (cos (first) - cos (last));

      add_point (points, r0 + out * (r1 - r0), z0 + up * (z1 - z0));
    }
}

static void
add_jar (GArray *points, const SherdMeasures *measures)
{
  const double belly_r = measures->greatest_diameter_mm / 2.0, belly_z = measures->greatest_height_mm;
  const double neck_r = measures->neck_diameter_mm / 2.0, neck_z = measures->neck_height_mm;
  const Rise *rise = &RISES[SHERD_PRESET_JAR];

  add_rise (points, measures->foot_diameter_mm / 2.0, 0.0, belly_r, belly_z, rise->first_deg, rise->last_deg);
  /* Over the shoulder the same ellipse is run through from upright to flat, then the neck takes it upright again. */
  add_rise (points, belly_r, belly_z, (belly_r + neck_r) / 2.0, (belly_z + neck_z) / 2.0, 90.0, 35.0);
  add_rise (points, (belly_r + neck_r) / 2.0, (belly_z + neck_z) / 2.0, neck_r, neck_z, 35.0, 90.0);
  add_point (points, measures->rim_diameter_mm / 2.0, measures->height_mm);
}

/**
 * sherd_preset_points:
 * @preset: a kind of vessel
 * @measures: of the outside; see sherd_preset_example () for those that it needs
 * @error: SHERD_SHAPE_ERROR_SIZE, names the measure
 *
 * Returns: (transfer full) (element-type SherdProfilePoint): the outside from the foot to the lip, through every
 * measure given; a start that the potter mends by dragging points
 */
GArray *
sherd_preset_points (SherdPreset preset, const SherdMeasures *measures, GError **error)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (SherdProfilePoint));
  SherdMeasures full = *measures;
  const Rise *rise = &RISES[preset];

  if (full.rim_diameter_mm == 0.0)
    full.rim_diameter_mm = full.rim_circumference_mm / G_PI;
  if (!check_measures (preset, &full, error))
    return NULL;
  if (preset == SHERD_PRESET_CYLINDER)
    full.foot_diameter_mm = full.rim_diameter_mm;
  add_point (points, full.foot_diameter_mm / 2.0, 0.0);
  if (preset == SHERD_PRESET_JAR)
    add_jar (points, &full);
  else if (preset == SHERD_PRESET_CYLINDER)
    add_point (points, full.rim_diameter_mm / 2.0, full.height_mm);
  else
    add_rise (points, full.foot_diameter_mm / 2.0, 0.0, full.rim_diameter_mm / 2.0, full.height_mm, rise->first_deg,
              rise->last_deg);
  return g_steal_pointer (&points);
}
