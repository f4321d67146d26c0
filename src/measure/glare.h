/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/blocks.h"
#include "measure/camera.h"
#include "measure/light.h"

G_BEGIN_DECLS

#define SHERD_N_LAMPS 16

/* Where the lamp may stand, drawn from what the light fit leaves open. */
typedef struct
{
  double lamp_mm[SHERD_N_LAMPS][3];
  guint n_lamps; /* 0 when nothing is known of the light */
} SherdLamps;

/* What a mirrored lamp or room may have added to a zone. */
typedef struct
{
  double probability; /* that a mirrored lamp is worth more than one unit of L* */
  double most;        /* reflectance added by lamp and room, 95 % point */
  double mean;        /* reflectance added, on average */
} SherdGlare;

void sherd_lamps_draw (SherdLamps *lamps, const SherdLight *light, gulong seed);
double sherd_half_angle_rad (const double lamp_mm[3], const double lens_mm[3], const double point_mm[3]);
void sherd_glare_estimate (SherdGlare *glare,
                           const SherdLamps *lamps,
                           const SherdLight *light,
                           const SherdCamera *camera,
                           const SherdSlope *slope);

G_END_DECLS
