/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/camera.h"
#include "measure/ground.h"
#include "measure/light.h"

G_BEGIN_DECLS

#define SHERD_FIELD_NODES 33

/* How cells of bare ground scatter about the fitted lamp. Clay is mottled; what far cells share is light. */
typedef struct
{
  double own_variance;  /* of ln, of a cell's own mottling */
  double wide_variance; /* and of light that changes slowly over the face */
  double alike;         /* mottling is broader than a cell: so many neighbours tell as much as one */
} SherdCellScatter;

/* The light on a face: the fitted lamp and, near bare ground, what the lamp left unexplained. */
typedef struct
{
  double width_mm;
  double height_mm;
  float value[SHERD_FIELD_NODES][SHERD_FIELD_NODES][3]; /* rows along y */
  double uneven_frac;                                   /* largest over least, minus 1 */
  SherdCellScatter brightness;                          /* the channels together */
  SherdCellScatter colour;                              /* and each alone */
  const GArray *cells;                                  /* not owned */
} SherdField;

void sherd_cell_scatter (const GArray *cells,
                         const double *residuals,
                         SherdCellScatter *brightness,
                         SherdCellScatter *colour);
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
