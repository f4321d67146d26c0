/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/camera.h"
#include "measure/ground.h"
#include "measure/light.h"

G_BEGIN_DECLS

#define SHERD_FIELD_NODES 33

/* The light on a face: the fitted lamp and, near bare ground, what the lamp left unexplained. */
typedef struct
{
  double width_mm;
  double height_mm;
  float value[SHERD_FIELD_NODES][SHERD_FIELD_NODES][3]; /* rows along y */
  double uneven_frac;                                   /* largest over least, minus 1 */
  double brightness_sd_ln;                              /* scatter of single cells about the fitted lamp */
  double colour_sd_ln;                                  /* and of each channel alone */
  const GArray *cells;                                  /* not owned */
} SherdField;

SherdLightPoint sherd_field_point (const SherdCamera *camera, SherdPoint face_mm);
void sherd_field_init (SherdField *field,
                       const SherdLight *light,
                       const SherdCamera *camera,
                       double width_mm,
                       double height_mm,
                       const GArray *cells);
void sherd_field_at (const SherdField *field, double x_mm, double y_mm, double value[3]);
void sherd_field_local_covariance (const SherdField *field, SherdPoint face_mm, double of_ln[3][3]);

G_END_DECLS
