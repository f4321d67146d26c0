/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/shrinkage.h"
#include "shape/vessel.h"

G_BEGIN_DECLS

/* Clay of a piece, with standard uncertainties. */
typedef struct
{
  double mm3;
  double sd_mm3;
} SherdVolume;

typedef struct
{
  double g_cm3;
  double sd_g_cm3;
} SherdDensity;

typedef struct
{
  double g;
  double sd_g;
} SherdMass;

SherdVolume sherd_body_of_vessel (const SherdVessel *vessel, double length_sd_frac, double wall_sd_mm);
SherdVolume sherd_body_of_slab (double area_mm2, double length_sd_frac, const SherdLength *thickness);
SherdDensity sherd_body_density (SherdClayState state);
SherdMass sherd_body_mass (const SherdVolume *volume, const SherdDensity *density);

G_END_DECLS
