/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/profile.h"

G_BEGIN_DECLS

typedef struct
{
  double thickness_mm; /* square to the wall */
  double floor_mm;     /* from the table up to the inside's middle */
} SherdWall;

/* (transfer full) (element-type SherdProfilePoint): from the lip to the middle of the floor */
GArray *sherd_wall_inside_points (const SherdProfile *outside, const SherdWall *wall, GError **error);

G_END_DECLS
