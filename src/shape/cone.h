/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/point.h"

G_BEGIN_DECLS

/* A strip of a vessel's side as a frustum or cylinder laid flat; on paper x to the right, y down, mm, the upper edge at
 * y = 0 where the azimuth is that of the middle. */
typedef struct
{
  double arc0_mm; /* upper edge, from the lip */
  double arc1_mm; /* lower edge */
  double r0_mm;   /* radii there */
  double r1_mm;
  double middle_deg;  /* azimuth that stands upright */
  gboolean leftwards; /* azimuth runs to the left, as on an inside */
} SherdCone;

SherdPoint sherd_cone_to_paper (const SherdCone *cone, SherdPoint on_side);
SherdPoint sherd_cone_from_paper (const SherdCone *cone, SherdPoint paper_mm);
SherdPoint sherd_fan_to_paper (double r_mm, double r_slope, double along_mm, double azimuth_rad, gboolean leftwards);

G_END_DECLS
