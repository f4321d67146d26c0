/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "camera.h"

#include "colour/srgb.h"

#include <math.h>

/* Near sRGB, as cameras are after their own processing: channels mixed by up to a quarter, exposure free. */
void
camera_draw (GRand *random, double matrix[3][3])
{
  const double exposure = g_rand_double_range (random, 0.2, 1.5);

  for (guint i = 0; i < 3; i++)
    for (guint k = 0; k < 3; k++)
      matrix[i][k] =
        exposure * (i == k ? g_rand_double_range (random, 0.7, 1.3) : g_rand_double_range (random, 0, 0.25));
}

SherdRgb
camera_see (double matrix[3][3], const SherdLab *colour)
{
  const SherdXyz xyz = sherd_lab_to_xyz (colour);
  const SherdRgb rgb = sherd_srgb_from_xyz_d50 (&xyz);

  return (SherdRgb){ matrix[0][0] * rgb.r + matrix[0][1] * rgb.g + matrix[0][2] * rgb.b,
                     matrix[1][0] * rgb.r + matrix[1][1] * rgb.g + matrix[1][2] * rgb.b,
                     matrix[2][0] * rgb.r + matrix[2][1] * rgb.g + matrix[2][2] * rgb.b };
}

/* Within what paints and papers reach. */
SherdLab
camera_surface (GRand *random)
{
  SherdLab lab;

  lab.l = g_rand_double_range (random, 15, 95);
  lab.a = g_rand_double_range (random, -30, 40);
  lab.b = g_rand_double_range (random, -30, 50);
  return lab;
}

SherdCorrectionPair *
camera_pairs (GRand *random, double matrix[3][3], gsize n_pairs, double noise_frac)
{
  SherdCorrectionPair *pairs = g_new (SherdCorrectionPair, n_pairs);

  for (gsize i = 0; i < n_pairs; i++)
    {
      pairs[i].reference = camera_surface (random);
      pairs[i].linear = camera_see (matrix, &pairs[i].reference);
      pairs[i].linear.r *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].linear.g *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].linear.b *= 1 + g_rand_double_range (random, -noise_frac, noise_frac);
      pairs[i].weight = 1;
    }
  return pairs;
}
