/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "trial/zone.h"

G_BEGIN_DECLS

/* One side of a piece. Properties: "id"; "name" ("face" or "back", as written in the file; sherd_format_side () gives
 * the word for the user); "ground" (string, may be empty: what lies under the paint); "zones" (GListModel). */
#define SHERD_TYPE_SIDE (sherd_side_get_type ())
G_DECLARE_FINAL_TYPE (SherdSide, sherd_side, SHERD, SIDE, SherdPart)

SherdSide *sherd_side_new (const char *id, const char *name);

const char *sherd_side_get_name (SherdSide *self);
const char *sherd_side_get_ground (SherdSide *self);
/* of SherdZone */
GListModel *sherd_side_get_zones (SherdSide *self);
/* (nullable) (transfer none) */
SherdZone *sherd_side_find_zone (SherdSide *self, const char *id);
SherdZone *sherd_side_find_zone_by_code (SherdSide *self, const char *code);
/* FALSE when the zones are no grid. */
gboolean sherd_side_find_grid (SherdSide *self, double width_mm, double height_mm, SherdGrid *grid);

G_END_DECLS
