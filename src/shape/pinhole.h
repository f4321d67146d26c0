/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/point.h"

G_BEGIN_DECLS

/* A camera with square pixels, its axis through the middle of the picture, and one term of radial distortion. */
typedef struct
{
  double focal_px;
  double centre_x_px;
  double centre_y_px;
  double k1;             /* of normalised radius: x (1 + k1 r²) */
  double rotation[3][3]; /* frame of the piece → frame of the camera: x right, y down, z forward */
  double translation[3]; /* mm */
} SherdPinhole;

void sherd_pinhole_to_camera (const SherdPinhole *pinhole, const double position_mm[3], double in_camera_mm[3]);
SherdPoint sherd_pinhole_project (const SherdPinhole *pinhole, const double position_mm[3]);
SherdPoint sherd_pinhole_straighten (const SherdPinhole *pinhole, SherdPoint photo_px);
void sherd_pinhole_centre (const SherdPinhole *pinhole, double centre_mm[3]);
void sherd_pinhole_ray (const SherdPinhole *pinhole, SherdPoint photo_px, double direction[3]);
void sherd_pinhole_turn (SherdPinhole *pinhole, const double turn_rad[3]);
gboolean sherd_pinhole_from_matrix (SherdPinhole *pinhole, double matrix[3][4]);

G_END_DECLS
