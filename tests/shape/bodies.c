/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "bodies.h"

#include <math.h>

static SherdProfile *
new_profile (const SherdProfilePoint *points, gsize n_points)
{
  g_autoptr (GError) error = NULL;
  SherdProfile *profile = sherd_profile_new (points, n_points, &error);

  g_assert_no_error (error);
  return profile;
}

SherdProfile *
bodies_new_cylinder (double r_mm, double height_mm)
{
  const SherdProfilePoint points[] = { { r_mm, height_mm, FALSE }, { r_mm, 0, FALSE } };

  return new_profile (points, 2);
}

SherdProfile *
bodies_new_cone (double r0_mm, double r1_mm, double drop_mm)
{
  const SherdProfilePoint points[] = { { r0_mm, drop_mm, FALSE }, { r1_mm, 0, FALSE } };

  return new_profile (points, 2);
}

/* Lip at the equator, down to the pole; the curve through 301 points is the circle to a micrometre. */
SherdProfile *
bodies_new_half_sphere (double r_mm)
{
  SherdProfilePoint points[301];

  for (guint i = 0; i <= 300; i++)
    points[i] = (SherdProfilePoint){ r_mm * cos (G_PI_2 * i / 300), r_mm * (1 - sin (G_PI_2 * i / 300)), FALSE };
  points[300].r_mm = points[300].z_mm = 0.0;
  return new_profile (points, 301);
}

SherdProfile *
bodies_new_jar (void)
{
  const SherdProfilePoint points[] = { { 44, 165, FALSE }, { 38, 150, FALSE }, { 41, 135, FALSE }, { 63, 110, FALSE },
                                       { 70, 80, FALSE },  { 66, 55, FALSE },  { 52, 20, FALSE },  { 35, 0, FALSE } };

  return new_profile (points, G_N_ELEMENTS (points));
}
