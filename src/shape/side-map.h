/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/surface.h"

G_BEGIN_DECLS

/* A side as a map for the screen: not true to size all over, but in one piece. x to the right, y down, mm. */
typedef enum
{
  SHERD_MAP_UNROLLED, /* azimuth across, the lip on top; true along the wall and round the widest parallel */
  SHERD_MAP_PLAN      /* as seen from above: round the end of the side, true along the wall */
} SherdMapKind;

SherdPoint sherd_map_from_side (const SherdSurface *surface, SherdMapKind kind, SherdPoint on_side);
SherdPoint sherd_map_to_side (const SherdSurface *surface, SherdMapKind kind, SherdPoint map_mm);
SherdOutline *sherd_map_zone (const SherdSurface *surface, SherdMapKind kind, const SherdOutline *on_side);

G_END_DECLS
