/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/pinhole.h"
#include "shape/surface.h"
#include "shape/vessel.h"

G_BEGIN_DECLS

/* A small flat piece of a vessel as a camera sees it. */
typedef struct
{
  SherdSurfaceKind kind;
  SherdPoint middle_on_side; /* where to look for the zone that covers it */
  double middle_mm[3];
  double normal[3];         /* out of the clay */
  SherdPoint corners_px[4]; /* in order round it */
  double facing;            /* cosine between normal and line of sight, 0 … 1 */
  double distance_mm;       /* from the lens to its middle */
} SherdFacet;

/* (transfer full) (element-type SherdFacet): those turned to the camera, the farthest first */
GArray *sherd_solid_facets (const SherdVessel *vessel, const SherdPinhole *pinhole, double size_mm);
/* Looks at the middle of the vessel. */
SherdPinhole sherd_solid_view (const SherdVessel *vessel,
                               double azimuth_deg,
                               double elevation_deg,
                               double width_px,
                               double height_px);

G_END_DECLS
