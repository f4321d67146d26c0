/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/blocks.h"
#include "measure/camera.h"
#include "measure/light.h"

G_BEGIN_DECLS

#define SHERD_MOST_LAMPS 64

/* Where the lamp may stand, drawn from what the light fit leaves open. */
typedef struct
{
  double lamp_mm[SHERD_MOST_LAMPS][3];
  double weight[SHERD_MOST_LAMPS]; /* adding up to 1 */
  guint n_lamps;                   /* 0 when nothing is known of the light */
} SherdLamps;

#define SHERD_GLARE_LEVELS 32

/* What a mirrored lamp or room may have added to a zone. */
typedef struct
{
  double share[SHERD_GLARE_LEVELS]; /* probability of each level, adding up to 1; all 0 when nothing is known */
  double added[SHERD_GLARE_LEVELS]; /* reflectance added, rising; the first is none or next to none */
  double room[SHERD_GLARE_LEVELS];  /* what of that is the room's */
  double lamp_tint[3];              /* of the lamp's light beside white, the two together; 1 in the mean */
  double room_tint[3];              /* likewise of the room's */
  double room_tint_sd;              /* of red, and of blue the other way */
  double probability;               /* that a mirrored lamp is worth so much that it must be told */
  double mirrored; /* probability that the lamp is mirrored here so that a satin surface would shine, and could */
  double possible; /* reflectance that a strong satin sheen would add at the likeliest place of the lamp, if it can;
                    * where a sheen is seen, the most that the darkest channel allows */
} SherdGlare;

void sherd_lamps_draw (SherdLamps *lamps, const SherdLight *light, guint n_lamps, gulong seed);
void sherd_lamps_learn (SherdLamps *lamps,
                        const SherdLight *light,
                        const SherdCamera *camera,
                        const SherdSlope *slopes,
                        gsize n_slopes,
                        gboolean unfired);
double sherd_half_angle_rad (const double lamp_mm[3], const double lens_mm[3], const double point_mm[3]);
void sherd_glare_estimate (SherdGlare *glare,
                           const SherdLamps *lamps,
                           const SherdLight *light,
                           const SherdCamera *camera,
                           const SherdSlope *slope,
                           gboolean unfired);

G_END_DECLS
