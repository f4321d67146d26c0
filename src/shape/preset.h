/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/profile.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PRESET_BOWL,
  SHERD_PRESET_DISH,
  SHERD_PRESET_PLATE,
  SHERD_PRESET_CUP,
  SHERD_PRESET_CYLINDER,
  SHERD_PRESET_JAR
} SherdPreset;

/* What a ruler and a tape tell of the outside, heights up to the lip's outer edge; 0 for what a shape has not. */
typedef struct
{
  double rim_diameter_mm;
  double rim_circumference_mm; /* by tape, in place of the diameter, when that is 0 */
  double foot_diameter_mm;
  double height_mm;
  double greatest_diameter_mm; /* the jar's: belly, how high it lies, and the narrowest of the neck */
  double greatest_height_mm;
  double neck_diameter_mm;
  double neck_height_mm;
} SherdMeasures;

SherdMeasures sherd_preset_example (SherdPreset preset);
/* (transfer full) (element-type SherdProfilePoint): outside, from the foot to the lip */
GArray *sherd_preset_points (SherdPreset preset, const SherdMeasures *measures, GError **error);

G_END_DECLS
