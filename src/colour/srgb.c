/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/srgb.h"

#include <math.h>

/* Linear sRGB to XYZ for the ICC D50 white: the primaries and white of IEC 61966-2-1 in exact arithmetic (its printed
 * matrix has four decimals, which would leave greys tinted), adapted by Bradford. */
static const double to_xyz_d50[3][3] = {
  { 0.4360412516160511, 0.3851129107981554, 0.1430458375857936 },
  { 0.2224845402294774, 0.7169050786084572, 0.0606103811620653 },
  { 0.0139201874713754, 0.0970672386971240, 0.7139125738315005 },
};

/* Inverse of the above. */
static const double from_xyz_d50[3][3] = {
  { 3.1341863642368182, -1.6172089589982745, -0.4906940640063839 },
  { -0.9787485041906940, 1.9161300967735873, 0.0334333991599954 },
  { 0.0719639278022467, -0.2289938734532033, 1.4057537328964447 },
};

/**
 * sherd_srgb_decode:
 * @encoded: sample of the file, 0…1
 *
 * Transfer function of IEC 61966-2-1.
 *
 * Returns: linear light
 */
double
sherd_srgb_decode (double encoded)
{
  return encoded <= 0.04045 ? encoded / 12.92 : pow ((encoded + 0.055) / 1.055, 2.4);
}

/**
 * sherd_srgb_encode:
 * @linear: linear light, 0…1
 *
 * Inverse transfer function of IEC 61966-2-1.
 *
 * Returns: sample of the file
 */
double
sherd_srgb_encode (double linear)
{
  return linear <= 0.0031308 ? 12.92 * linear : 1.055 * pow (linear, 1.0 / 2.4) - 0.055;
}

/**
 * sherd_srgb_to_xyz_d50:
 * @linear: linear light in the sRGB primaries, any range
 *
 * Returns: tristimulus values adapted to the ICC D50 white
 */
SherdXyz
sherd_srgb_to_xyz_d50 (const SherdRgb *linear)
{
  return (SherdXyz){
    .x = to_xyz_d50[0][0] * linear->r + to_xyz_d50[0][1] * linear->g + to_xyz_d50[0][2] * linear->b,
    .y = to_xyz_d50[1][0] * linear->r + to_xyz_d50[1][1] * linear->g + to_xyz_d50[1][2] * linear->b,
    .z = to_xyz_d50[2][0] * linear->r + to_xyz_d50[2][1] * linear->g + to_xyz_d50[2][2] * linear->b,
  };
}

/**
 * sherd_srgb_from_xyz_d50:
 * @xyz_d50: tristimulus values for the ICC D50 white
 *
 * Returns: linear light in the sRGB primaries; outside 0…1 for colours that sRGB cannot show
 */
SherdRgb
sherd_srgb_from_xyz_d50 (const SherdXyz *xyz_d50)
{
  return (SherdRgb){
    .r = from_xyz_d50[0][0] * xyz_d50->x + from_xyz_d50[0][1] * xyz_d50->y + from_xyz_d50[0][2] * xyz_d50->z,
    .g = from_xyz_d50[1][0] * xyz_d50->x + from_xyz_d50[1][1] * xyz_d50->y + from_xyz_d50[1][2] * xyz_d50->z,
    .b = from_xyz_d50[2][0] * xyz_d50->x + from_xyz_d50[2][1] * xyz_d50->y + from_xyz_d50[2][2] * xyz_d50->z,
  };
}
