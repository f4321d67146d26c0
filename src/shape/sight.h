/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/surface.h"
#include "shape/vessel.h"

G_BEGIN_DECLS

/* A vessel as a stack of frusta that hide what is behind them. */
typedef struct _SherdSight SherdSight;

/* A place where a ray meets the vessel. */
typedef struct
{
  SherdSurfaceKind kind;
  SherdPoint on_side;
  double distance_mm;
} SherdHit;

SherdSight *sherd_sight_new (const SherdVessel *vessel);
void sherd_sight_free (SherdSight *sight);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdSight, sherd_sight_free)

gboolean
sherd_sight_first_hit (const SherdSight *sight, const double from_mm[3], const double direction[3], SherdHit *hit);
gboolean sherd_sight_is_hidden (const SherdSight *sight,
                                const double position_mm[3],
                                const double normal[3],
                                const double camera_mm[3]);

G_END_DECLS
