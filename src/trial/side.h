/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "trial/zone.h"

G_BEGIN_DECLS

/* When a side was burnished. */
typedef enum
{
  SHERD_BURNISH_NONE,   /* "none" */
  SHERD_BURNISH_BEFORE, /* "before": the ground, before it was painted */
  SHERD_BURNISH_OVER    /* "over": over the paint */
} SherdBurnish;

#define SHERD_TYPE_BURNISH (sherd_burnish_get_type ())
GType sherd_burnish_get_type (void);

/* One side of a piece. Properties: "id"; "name" ("face", "back", "outside" or "inside", as written in the file;
 * sherd_format_side () gives the word for the user); "ground" (string, may be empty: what lies under the paint);
 * "burnish" (SherdBurnish); "drying-days" (double: from painting to firing, NAN when not known); "zones" (GListModel).
 */
#define SHERD_TYPE_SIDE (sherd_side_get_type ())
G_DECLARE_FINAL_TYPE (SherdSide, sherd_side, SHERD, SIDE, SherdPart)

SherdSide *sherd_side_new (const char *id, const char *name);

const char *sherd_side_get_name (SherdSide *self);
const char *sherd_side_get_ground (SherdSide *self);
SherdBurnish sherd_side_get_burnish (SherdSide *self);
/* NAN when not known */
double sherd_side_get_drying_days (SherdSide *self);
/* of SherdZone */
GListModel *sherd_side_get_zones (SherdSide *self);
/* (nullable) (transfer none) */
SherdZone *sherd_side_find_zone (SherdSide *self, const char *id);
SherdZone *sherd_side_find_zone_by_code (SherdSide *self, const char *code);
/* FALSE when the zones are no grid. */
gboolean sherd_side_find_grid (SherdSide *self, double width_mm, double height_mm, SherdGrid *grid);

G_END_DECLS
