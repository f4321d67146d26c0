/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/outline.h"
#include "shape/profile.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_SURFACE_FLAT,
  SHERD_SURFACE_OUTSIDE,
  SHERD_SURFACE_INSIDE
} SherdSurfaceKind;

/* What zones lie on. Places on it are “on side”: on a flat face x to the right and y down in mm; on a vessel x the
 * azimuth in degrees, counter-clockwise seen from above, and y the arc length in mm from the lip. An outline has
 * straight edges in these. */
typedef struct
{
  SherdSurfaceKind kind;
  const SherdProfile *profile; /* of a vessel's side, from the lip */
  const SherdOutline *edge;    /* of a flat face */
  const SherdOutline *const *holes;
  gsize n_holes;
} SherdSurface;

/* A zone between two azimuths and two parallels. */
typedef struct
{
  double azimuth0_deg;
  double azimuth1_deg; /* more than azimuth0_deg, by 360 at most */
  double arc0_mm;
  double arc1_mm;
} SherdRange;

SherdOutline *sherd_range_outline (const SherdRange *range);
gboolean sherd_range_of_outline (const SherdOutline *on_side, SherdRange *range);

void sherd_surface_normal (SherdSurfaceKind kind, const SherdProfilePlace *place, double azimuth_rad, double normal[3]);
double sherd_surface_r_mm (const SherdSurface *surface, double y);
void sherd_surface_position (const SherdSurface *surface, SherdPoint on_side, double position_mm[3], double normal[3]);
void sherd_surface_positions (const SherdSurface *surface,
                              const SherdPoint *on_side,
                              gsize n_points,
                              double (*positions_mm)[3]);

double sherd_surface_area_mm2 (const SherdSurface *surface, const SherdOutline *on_side);
double sherd_surface_whole_area_mm2 (const SherdSurface *surface);
SherdPoint sherd_surface_centroid (const SherdSurface *surface, const SherdOutline *on_side);
SherdOutline *sherd_surface_curve (const SherdSurface *surface, const SherdOutline *on_side, double tolerance_mm);
SherdOutline *sherd_surface_inset (const SherdSurface *surface,
                                   const SherdOutline *on_side,
                                   double inset_mm); /* in surface-inset.c */

G_END_DECLS
