/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/lab.h"

#include <math.h>

/* ISO/CIE 11664-4: (6/29)³ and (29/3)³ as exact fractions. */
#define EPSILON (216.0 / 24389.0)
#define KAPPA (24389.0 / 27.0)

/* Below this chroma a hue angle is rounding noise. Our choice. */
#define LEAST_CHROMA_WITH_HUE 1e-9

const SherdXyz sherd_white_d50 = { 0.9642, 1.0, 0.8249 };

/* f (t) of ISO/CIE 11664-4; the straight part also takes negative light, which noise can give. */
static double
lightness_function (double t)
{
  return t > EPSILON ? cbrt (t) : (KAPPA * t + 16.0) / 116.0;
}

static double
lightness_function_inverse (double f)
{
  return f > 6.0 / 29.0 ? f * f * f : (116.0 * f - 16.0) / KAPPA;
}

static double
lightness_function_slope (double t)
{
  return t > EPSILON ? 1.0 / (3.0 * cbrt (t) * cbrt (t)) : KAPPA / 116.0;
}

/**
 * sherd_lab_from_xyz:
 * @xyz_d50: tristimulus values for the D50 white, Y = 1 for the perfect diffuser
 *
 * CIELAB after ISO/CIE 11664-4 for the ICC D50 white. Negative light stays on the straight part of the formula.
 *
 * Returns: L*, a*, b*
 */
SherdLab
sherd_lab_from_xyz (const SherdXyz *xyz_d50)
{
  double fx = lightness_function (xyz_d50->x / sherd_white_d50.x);
  double fy = lightness_function (xyz_d50->y / sherd_white_d50.y);
  double fz = lightness_function (xyz_d50->z / sherd_white_d50.z);

  return (SherdLab){ .l = 116.0 * fy - 16.0, .a = 500.0 * (fx - fy), .b = 200.0 * (fy - fz) };
}

/**
 * sherd_lab_to_xyz:
 * @lab: a colour for D50
 *
 * The inverse of sherd_lab_from_xyz ().
 *
 * Returns: tristimulus values for the D50 white
 */
SherdXyz
sherd_lab_to_xyz (const SherdLab *lab)
{
  double fy = (lab->l + 16.0) / 116.0;
  double fx = fy + lab->a / 500.0;
  double fz = fy - lab->b / 200.0;

  return (SherdXyz){ .x = sherd_white_d50.x * lightness_function_inverse (fx),
                     .y = sherd_white_d50.y * lightness_function_inverse (fy),
                     .z = sherd_white_d50.z * lightness_function_inverse (fz) };
}

/**
 * sherd_lab_chroma:
 * @lab: a colour
 *
 * Returns: C*ab, 0 or more
 */
double
sherd_lab_chroma (const SherdLab *lab)
{
  return hypot (lab->a, lab->b);
}

/**
 * sherd_lab_hue_deg:
 * @lab: a colour
 * @hue_deg: (out): hab in [0, 360), 0 when it is not defined
 *
 * Returns: %FALSE for a neutral, which has no hue
 */
gboolean
sherd_lab_hue_deg (const SherdLab *lab, double *hue_deg)
{
  *hue_deg = 0.0;
  if (sherd_lab_chroma (lab) < LEAST_CHROMA_WITH_HUE)
    return FALSE;
  *hue_deg = atan2 (lab->b, lab->a) * 180.0 / G_PI;
  if (*hue_deg < 0.0)
    *hue_deg += 360.0;
  /* A hue just below red rounds up to the full turn. */
  if (*hue_deg >= 360.0)
    *hue_deg = 0.0;
  return TRUE;
}

/**
 * sherd_lab_jacobian:
 * @xyz_d50: where it is taken
 * @jacobian: (out): dLab/dXYZ, rows L*, a*, b*, columns X, Y, Z
 *
 * First derivatives of ISO/CIE 11664-4, for carrying uncertainty and for weighting fits by what the eye sees.
 */
void
sherd_lab_jacobian (const SherdXyz *xyz_d50, double jacobian[3][3])
{
  double dx = lightness_function_slope (xyz_d50->x / sherd_white_d50.x) / sherd_white_d50.x;
  double dy = lightness_function_slope (xyz_d50->y / sherd_white_d50.y) / sherd_white_d50.y;
  double dz = lightness_function_slope (xyz_d50->z / sherd_white_d50.z) / sherd_white_d50.z;

  jacobian[0][0] = 0.0;
  jacobian[0][1] = 116.0 * dy;
  jacobian[0][2] = 0.0;
  jacobian[1][0] = 500.0 * dx;
  jacobian[1][1] = -500.0 * dy;
  jacobian[1][2] = 0.0;
  jacobian[2][0] = 0.0;
  jacobian[2][1] = 200.0 * dy;
  jacobian[2][2] = -200.0 * dz;
}
