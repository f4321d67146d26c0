/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/profile.h"

G_BEGIN_DECLS

/* What a potter measures first on a vessel that has a profile. */
typedef struct
{
  double rim_diameter_mm;
  double foot_diameter_mm;
  double height_mm;
} SherdVesselSize;

SherdVesselSize sherd_vessel_size_of (const SherdProfilePoint *outside, gsize n_outside);
gboolean
sherd_vessel_size_apply (const SherdVesselSize *size, SherdProfilePoint *outside, gsize n_outside, GError **error);

G_END_DECLS
