/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/grid.h"
#include "shape/outline.h"
#include "shape/surface.h"
#include "trial/paint.h"

G_BEGIN_DECLS

/* SherdOutline as a boxed type, for the property "polygon". */
#define SHERD_TYPE_OUTLINE (sherd_outline_get_type ())
GType sherd_outline_get_type (void);

/* One area of a side, with its paint (or none: a bare control).
 *
 * Properties: "id"; "code" (string, unique on its side); "x-mm", "y-mm", "width-mm", "height-mm" (doubles, the
 * rectangle; origin at the side's top left corner, y down); "azimuth0-deg", "azimuth1-deg", "arc0-mm", "arc1-mm"
 * (doubles: on a vessel, in place of the rectangle; both azimuths 0 on flat sides); "polygon" (SherdOutline, nullable:
 * takes the place of either; its places are on the side: mm, or degrees and mm on a vessel); "paint" (SherdPaint,
 * nullable: bare control); "coats" (uint, 1…99); "replicate" (uint, 1…9999, which repetition of the same treatment this
 * is); "paint-revision" (uint: of the paint, with which the zone was fired; 0 while it is the paint as it stands);
 * "ground" (string, nullable: the ground of this zone where it is not that
 * of the side); "locked" (boolean: not to be moved by layout); "laid-g", "laid-doubt-g" (doubles: dry paint laid on
 * it, weighed, and the standard uncertainty; NAN when nobody weighed it). */
#define SHERD_TYPE_ZONE (sherd_zone_get_type ())
G_DECLARE_FINAL_TYPE (SherdZone, sherd_zone, SHERD, ZONE, SherdPart)

/* Our choice: nothing smaller is painted by hand. */
#define SHERD_ZONE_MIN_MM 0.5

/* Our choice: azimuths may be written one turn to either side of the first. */
#define SHERD_ZONE_MIN_AZIMUTH_DEG -360.0
#define SHERD_ZONE_MAX_AZIMUTH_DEG 720.0

SherdZone *sherd_zone_new (const char *id, const char *code, const SherdRectangle *rectangle);

/* On a vessel. */
SherdZone *sherd_zone_new_range (const char *id, const char *code, const SherdRange *range);

const char *sherd_zone_get_code (SherdZone *self);
/* Our choice: finer than a hand can draw on clay, coarser than sums of decimals. */
#define SHERD_ZONE_SAME_PLACE_MM 0.005

void sherd_zone_get_rectangle (SherdZone *self, SherdRectangle *rectangle);
/* FALSE on a flat side. @range: (out) (optional) */
gboolean sherd_zone_get_range (SherdZone *self, SherdRange *range);
/* (nullable) */
const SherdOutline *sherd_zone_get_polygon (SherdZone *self);
/* (transfer full): its shape as an outline on the side, as shape/surface.h has it. */
SherdOutline *sherd_zone_dup_outline (SherdZone *self);
/* (nullable): NULL for a bare control */
SherdPaint *sherd_zone_get_paint (SherdZone *self);
/* 0 while it is the paint as it stands. */
guint sherd_zone_get_paint_revision (SherdZone *self);
/* The number itself, of the paint as it stands too; 0 for a bare control. */
guint sherd_zone_find_paint_revision (SherdZone *self);
gboolean sherd_zone_is_bare (SherdZone *self);
guint sherd_zone_get_coats (SherdZone *self);
guint sherd_zone_get_replicate (SherdZone *self);
/* (nullable): NULL where the side's ground lies under the zone */
const char *sherd_zone_get_ground (SherdZone *self);
gboolean sherd_zone_get_locked (SherdZone *self);
/* NAN when nobody weighed it. @doubt_g: (out) (optional): standard uncertainty */
double sherd_zone_get_laid_g (SherdZone *self, double *doubt_g);

G_END_DECLS
