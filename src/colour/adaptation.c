/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/adaptation.h"

/* Bradford cone responses (Lam 1985; ICC.1, annex E). */
static const double bradford[3][3] = {
  { 0.8951, 0.2664, -0.1614 },
  { -0.7502, 1.7135, 0.0367 },
  { 0.0389, -0.0685, 1.0296 },
};

static void
invert (const double m[3][3], double inverse[3][3])
{
  double determinant = 0.0;

  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      inverse[j][i] = m[(i + 1) % 3][(j + 1) % 3] * m[(i + 2) % 3][(j + 2) % 3] -
                      m[(i + 1) % 3][(j + 2) % 3] * m[(i + 2) % 3][(j + 1) % 3];
  for (guint j = 0; j < 3; j++)
    determinant += m[0][j] * inverse[j][0];
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      inverse[i][j] /= determinant;
}

static SherdXyz
transform (const double m[3][3], const SherdXyz *v)
{
  return (SherdXyz){ .x = m[0][0] * v->x + m[0][1] * v->y + m[0][2] * v->z,
                     .y = m[1][0] * v->x + m[1][1] * v->y + m[1][2] * v->z,
                     .z = m[2][0] * v->x + m[2][1] * v->y + m[2][2] * v->z };
}

/**
 * sherd_adaptation_bradford:
 * @from: white to which the tristimulus values belong
 * @to: white to which they are brought
 * @matrix: (out): the linear transform
 *
 * Von Kries adaptation in Bradford's cone space, as ICC.1 does it; @from becomes @to exactly.
 */
void
sherd_adaptation_bradford (const SherdXyz *from, const SherdXyz *to, double matrix[3][3])
{
  SherdXyz cones_from = transform (bradford, from);
  SherdXyz cones_to = transform (bradford, to);
  double gain[3] = { cones_to.x / cones_from.x, cones_to.y / cones_from.y, cones_to.z / cones_from.z };
  double inverse[3][3];

  invert (bradford, inverse);
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 3; j++)
      {
        matrix[i][j] = 0.0;
        for (guint k = 0; k < 3; k++)
          matrix[i][j] += inverse[i][k] * gain[k] * bradford[k][j];
      }
}

/**
 * sherd_adaptation_apply:
 * @matrix: of sherd_adaptation_bradford ()
 * @xyz: tristimulus values
 *
 * Returns: the adapted tristimulus values
 */
SherdXyz
sherd_adaptation_apply (double matrix[3][3], const SherdXyz *xyz)
{
  return transform ((const double (*)[3])matrix, xyz);
}
