/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "measure/field.h"

#include <math.h>

/* The lamp's residual is smoothed over this distance (our choice: more than the speckle of clay, less than a shadow's
 * reach). Cells nearer than it may be of one blotch of clay; those between it and WIDE_MM share only light. */
#define SMOOTHING_MM 12.0
#define WIDE_MM 24.0
/* A cell is never known better: rounding, and what lies between cells (our choice). */
#define LEAST_CELL_SD_LN 0.003
/* A cell farther off than this is dirt or a highlight, not light. */
#define MOST_RESIDUAL_LN 0.15

/* What the ground says of the light at one place: weighted mean of the cells' residuals. */
typedef struct
{
  double mean[3];
  double weight; /* of the cells, one beside the place counting as 1 */
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

static double
nearness (double off_mm)
{
  return exp (-off_mm * off_mm / (2 * SMOOTHING_MM * SMOOTHING_MM));
}

/* A Gaussian is the product of one across and one down: how near each cell is in one of the two. */
static void
fill_nearness (const GArray *cells, SherdPoint at, double *across, double *down)
{
  for (guint i = 0; i < cells->len; i++)
    {
      const SherdPoint *centre = &g_array_index (cells, SherdGroundCell, i).centre_mm;

      if (across)
        across[i] = nearness (centre->x - at.x);
      if (down)
        down[i] = nearness (centre->y - at.y);
    }
}

static LocalResidual
local_residual (const double *residuals, const double *across, const double *down, guint n_cells)
{
  LocalResidual local = { { 0 }, 0 };

  for (guint i = 0; i < n_cells; i++)
    {
      const double weight = across[i] * down[i];

      local.weight += weight;
      for (guint c = 0; c < 3; c++)
        local.mean[c] += weight * residuals[3 * i + c];
    }
  for (guint c = 0; local.weight > 0 && c < 3; c++)
    local.mean[c] /= local.weight;
  return local;
}

/* How many cells are near, one beside the place counting as 1. */
static double
weight_at (const GArray *cells, SherdPoint at)
{
  double weight = 0;

  for (guint i = 0; i < cells->len; i++)
    {
      const SherdPoint *centre = &g_array_index (cells, SherdGroundCell, i).centre_mm;

      weight += nearness (hypot (centre->x - at.x, centre->y - at.y));
    }
  return weight;
}

/* Sums over pairs of cells: of near ones and of those farther apart. */
typedef struct
{
  double near_products[2]; /* brightness, colour */
  double wide_products[2];
  double n_near;
  double n_wide;
} PairSums;

static void
split_residual (const double *three, double *brightness, double colour[3])
{
  *brightness = (three[0] + three[1] + three[2]) / 3;
  for (guint c = 0; c < 3; c++)
    colour[c] = three[c] - *brightness;
}

static void
add_pair (PairSums *sums, const double *three, const double *other, gboolean near)
{
  double *products = near ? sums->near_products : sums->wide_products;
  double brightness[2], colour[2][3];

  split_residual (three, &brightness[0], colour[0]);
  split_residual (other, &brightness[1], colour[1]);
  *(near ? &sums->n_near : &sums->n_wide) += 1;
  products[0] += brightness[0] * brightness[1];
  for (guint c = 0; c < 3; c++)
    products[1] += colour[0][c] * colour[1][c] / 2;
}

static PairSums
sum_pairs (const GArray *cells, const double *residuals)
{
  PairSums sums = { 0 };

  for (guint i = 0; i < cells->len; i++)
    for (guint j = 0; j < i; j++)
      {
        const SherdPoint *a = &g_array_index (cells, SherdGroundCell, i).centre_mm;
        const SherdPoint *b = &g_array_index (cells, SherdGroundCell, j).centre_mm;
        const double square = pow (a->x - b->x, 2) + pow (a->y - b->y, 2);

        if (square < WIDE_MM * WIDE_MM)
          add_pair (&sums, residuals + (gsize)3 * i, residuals + (gsize)3 * j, square < SMOOTHING_MM * SMOOTHING_MM);
      }
  return sums;
}

/* @variance: of single cells; @kind: 0 brightness, 1 colour. */
static SherdCellScatter
split_variance (const PairSums *sums, guint kind, double variance, guint n_cells)
{
  const double wide = sums->n_wide > 0 ? CLAMP (sums->wide_products[kind] / sums->n_wide, 0, variance) : 0;
  const double shared = sums->near_products[kind] - sums->n_near * wide;
  SherdCellScatter scatter = { MAX (variance - wide, LEAST_CELL_SD_LN * LEAST_CELL_SD_LN), wide, 1 };

  if (n_cells > 0)
    scatter.alike = MAX (1, 1 + 2 * shared / (n_cells * scatter.own_variance));
  return scatter;
}

/**
 * sherd_cell_scatter:
 * @cells: of SherdGroundCell
 * @residuals: of each ln less that of the fitted light and of the ground's reflectance, in three channels
 * @brightness: (out): of the channels together
 * @colour: (out): of each channel alone
 *
 * Covariance of the residuals by distance, a crude variogram (G. Matheron, Economic Geology 58, 1963): mottling is
 * shared by near cells alone, light by far ones as well.
 */
void
sherd_cell_scatter (const GArray *cells,
                    const double *residuals,
                    SherdCellScatter *brightness,
                    SherdCellScatter *colour)
{
  const PairSums sums = sum_pairs (cells, residuals);
  double of_brightness = 0, of_colour = 0;

  for (guint i = 0; i < cells->len; i++)
    {
      double mean, rest[3];

      split_residual (residuals + (gsize)3 * i, &mean, rest);
      of_brightness += mean * mean / cells->len;
      for (guint c = 0; c < 3; c++)
        of_colour += rest[c] * rest[c] / (2.0 * cells->len);
    }
  *brightness = split_variance (&sums, 0, of_brightness, cells->len);
  *colour = split_variance (&sums, 1, of_colour, cells->len);
}

/* Share of the ground's residual that is believed, light being what varies widely and mottling noise: the best linear
 * guess, as kriging with a nugget makes it. Gaussian weights adding up to w have the noise of 2 w cells. @left: (out):
 * variance that remains. */
static double
believed_share (const SherdCellScatter *scatter, double weight, double *left)
{
  const double light = scatter->wide_variance * 2 * weight;
  const double noise = scatter->own_variance * scatter->alike;

  *left = scatter->wide_variance * noise / (light + noise);
  return light / (light + noise);
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

static SherdPoint
node_place (const SherdField *field, guint row, guint column)
{
  return (SherdPoint){ field->width_mm * column / (SHERD_FIELD_NODES - 1),
                       field->height_mm * row / (SHERD_FIELD_NODES - 1) };
}

/* The fitted lamp's light, and of what it leaves the believed share. */
static void
set_node (const SherdField *field, const double lamp[3], const LocalResidual *local, float value[3])
{
  double brightness, colour[3], ignored;

  split_residual (local->mean, &brightness, colour);
  brightness *= believed_share (&field->brightness, local->weight, &ignored);
  for (guint c = 0; c < 3; c++)
    value[c] =
      (float)(lamp[c] * exp (brightness + colour[c] * believed_share (&field->colour, local->weight, &ignored)));
}

/**
 * sherd_field_init:
 * @cells: of SherdGroundCell; may be empty; kept, not copied
 *
 * Tabulates the light over a face: the fitted lamp times the smoothed residual of the bare ground round about, which
 * takes up what one lamp cannot explain. How much of the residual is light and how much is mottling, the cells say
 * themselves: on evenly lit clay all of it is mottling, and to follow it would do harm.
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
  g_autofree double *across = g_new (double, SHERD_FIELD_NODES * cells->len + 1);
  g_autofree double *down = g_new (double, cells->len + 1);
  double value[3];

  field->width_mm = width_mm;
  field->height_mm = height_mm;
  field->cells = cells;
  sherd_cell_scatter (cells, residuals, &field->brightness, &field->colour);
  for (guint column = 0; column < SHERD_FIELD_NODES; column++)
    fill_nearness (cells, node_place (field, 0, column), across + column * cells->len, NULL);
  for (guint row = 0; row < SHERD_FIELD_NODES; row++)
    {
      fill_nearness (cells, node_place (field, row, 0), NULL, down);
      for (guint column = 0; column < SHERD_FIELD_NODES; column++)
        {
          const SherdLightPoint point = sherd_field_point (camera, node_place (field, row, column));
          const LocalResidual local = local_residual (residuals, across + column * cells->len, down, cells->len);

          sherd_light_at (light, &point, value);
          set_node (field, value, &local, field->value[row][column]);
        }
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
 * How far the light at @face_mm may still be from the truth when the lamp's own uncertainty is set aside: what the
 * widely varying part of the cells' scatter leaves after the nearest of them have told.
 */
void
sherd_field_local_covariance (const SherdField *field, SherdPoint face_mm, double of_ln[3][3])
{
  const double weight = weight_at (field->cells, face_mm);
  double brightness, colour;

  believed_share (&field->brightness, weight, &brightness);
  believed_share (&field->colour, weight, &colour);
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      of_ln[i][j] = brightness + (i == j ? colour : 0);
}
