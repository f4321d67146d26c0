/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/field.h"

#include <math.h>

/* The lamp's residual is smoothed over this distance and shrinks to nothing far from ground (both our choice: more
 * than the speckle of clay, less than a shadow's reach). A weight of SHRINK_CELLS stands for “no residual”. */
#define SMOOTHING_MM 12.0
#define SHRINK_CELLS 3.0
/* A cell farther off than this is dirt or a highlight, not light. */
#define MOST_RESIDUAL_LN 0.15

typedef struct
{
  double mean[3];
  double weight;
} LocalResidual;

/* A point of the face as the light model wants it. */
SherdLightPoint
sherd_field_point (const SherdCamera *camera, SherdPoint face_mm)
{
  SherdLightPoint point = { { face_mm.x, face_mm.y, 0 }, { 0, 0, -1 }, 0 };
  const SherdPoint seen = sherd_camera_project (camera, point.position_mm);
  const double half_diagonal_square =
    camera->centre_x_px * camera->centre_x_px + camera->centre_y_px * camera->centre_y_px;

  point.corner_square =
    (pow (seen.x - camera->centre_x_px, 2) + pow (seen.y - camera->centre_y_px, 2)) / half_diagonal_square;
  return point;
}

/* ln of a cell's light over the fitted lamp's, the ground divided out: rows of three. */
static double *
cell_residuals (const SherdLight *light, const SherdCamera *camera, const GArray *cells)
{
  double *residuals = g_new0 (double, 3 * cells->len + 1);

  for (guint i = 0; i < cells->len; i++)
    {
      const SherdGroundCell *cell = &g_array_index (cells, SherdGroundCell, i);
      const SherdLightPoint point = sherd_field_point (camera, cell->centre_mm);
      double value[3];

      sherd_light_at (light, &point, value);
      for (guint c = 0; c < 3; c++)
        residuals[3 * i + c] = CLAMP (cell->ln_value[c] - log (value[c]) - light->parameters[SHERD_LIGHT_LN_GROUND + c],
                                      -MOST_RESIDUAL_LN, MOST_RESIDUAL_LN);
    }
  return residuals;
}

static LocalResidual
local_residual (const GArray *cells, const double *residuals, SherdPoint at)
{
  LocalResidual local = { { 0 }, 0 };

  for (guint i = 0; i < cells->len; i++)
    {
      const SherdPoint *centre = &g_array_index (cells, SherdGroundCell, i).centre_mm;
      const double square = pow (centre->x - at.x, 2) + pow (centre->y - at.y, 2);
      const double weight = exp (-square / (2 * SMOOTHING_MM * SMOOTHING_MM));

      local.weight += weight;
      for (guint c = 0; residuals && c < 3; c++)
        local.mean[c] += weight * residuals[3 * i + c];
    }
  for (guint c = 0; c < 3; c++)
    local.mean[c] /= local.weight + SHRINK_CELLS;
  return local;
}

static void
measure_scatter (SherdField *field, const double *residuals, guint n_cells)
{
  double brightness = 0, colour = 0;

  for (guint i = 0; i < n_cells; i++)
    {
      const double *three = residuals + 3 * i;
      const double mean = (three[0] + three[1] + three[2]) / 3;

      brightness += mean * mean / n_cells;
      for (guint c = 0; c < 3; c++)
        colour += (three[c] - mean) * (three[c] - mean) / (2.0 * n_cells);
    }
  field->brightness_sd_ln = sqrt (brightness);
  field->colour_sd_ln = sqrt (colour);
}

static void
measure_unevenness (SherdField *field)
{
  double least = INFINITY, most = 0;

  for (guint row = 0; row < SHERD_FIELD_NODES; row++)
    for (guint column = 0; column < SHERD_FIELD_NODES; column++)
      {
        least = MIN (least, field->value[row][column][1]);
        most = MAX (most, field->value[row][column][1]);
      }
  field->uneven_frac = most / least - 1;
}

/**
 * sherd_field_init:
 * @cells: of SherdGroundCell; may be empty; kept, not copied
 *
 * Tabulates the light over a face: the fitted lamp times the smoothed residual of the bare ground round about, which
 * takes up what one lamp cannot explain.
 */
void
sherd_field_init (SherdField *field,
                  const SherdLight *light,
                  const SherdCamera *camera,
                  double width_mm,
                  double height_mm,
                  const GArray *cells)
{
  g_autofree double *residuals = cell_residuals (light, camera, cells);

  field->width_mm = width_mm;
  field->height_mm = height_mm;
  field->cells = cells;
  measure_scatter (field, residuals, cells->len);
  for (guint row = 0; row < SHERD_FIELD_NODES; row++)
    for (guint column = 0; column < SHERD_FIELD_NODES; column++)
      {
        const SherdPoint at = { width_mm * column / (SHERD_FIELD_NODES - 1),
                                height_mm * row / (SHERD_FIELD_NODES - 1) };
        const SherdLightPoint point = sherd_field_point (camera, at);
        const LocalResidual local = local_residual (cells, residuals, at);
        double value[3];

        sherd_light_at (light, &point, value);
        for (guint c = 0; c < 3; c++)
          field->value[row][column][c] = (float)(value[c] * exp (local.mean[c]));
      }
  measure_unevenness (field);
}

/* Light at a place of the face, between the nodes straight; outside the face the value of its edge. */
void
sherd_field_at (const SherdField *field, double x_mm, double y_mm, double value[3])
{
  const double x = CLAMP (x_mm / field->width_mm, 0, 1) * (SHERD_FIELD_NODES - 1);
  const double y = CLAMP (y_mm / field->height_mm, 0, 1) * (SHERD_FIELD_NODES - 1);
  const guint column = MIN ((guint)x, SHERD_FIELD_NODES - 2), row = MIN ((guint)y, SHERD_FIELD_NODES - 2);
  const double fx = x - column, fy = y - row;

  for (guint c = 0; c < 3; c++)
    value[c] = (1 - fy) * ((1 - fx) * field->value[row][column][c] + fx * field->value[row][column + 1][c]) +
               fy * ((1 - fx) * field->value[row + 1][column][c] + fx * field->value[row + 1][column + 1][c]);
}

/**
 * sherd_field_local_covariance:
 * @of_ln: (out): of ln E in three channels
 *
 * How far the light at @face_mm may still be from the truth when the lamp's own uncertainty is set aside. The smoothed
 * residual is a mean of cells that scatter, weighed against none, so its variance is that of a cell over all the
 * weight.
 */
void
sherd_field_local_covariance (const SherdField *field, SherdPoint face_mm, double of_ln[3][3])
{
  const double weight = local_residual (field->cells, NULL, face_mm).weight + SHRINK_CELLS;
  const double brightness = field->brightness_sd_ln * field->brightness_sd_ln / weight;
  const double colour = field->colour_sd_ln * field->colour_sd_ln / weight;

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      of_ln[i][j] = brightness + (i == j ? colour : 0);
}
