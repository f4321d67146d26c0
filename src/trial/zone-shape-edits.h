/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/ring-grid.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* Edits of where zones lie, on slabs and vessels alike; each one undoable step in words. They refuse, and change
 * nothing, what would lay zones on one another, beyond the side or into a hole: SHERD_TRIAL_ERROR_VALUE.
 *
 * A box is a zone between two values of each coordinate of the side (shape/surface.h): on a vessel azimuth0_deg to
 * azimuth1_deg and arc0_mm to arc1_mm, on a slab the same members hold x and y in mm. */
typedef SherdRange SherdZoneBox;

typedef enum
{
  SHERD_ZONE_EDGE_X0, /* left; the lesser azimuth */
  SHERD_ZONE_EDGE_X1,
  SHERD_ZONE_EDGE_Y0, /* top; towards the lip */
  SHERD_ZONE_EDGE_Y1
} SherdZoneEdge;

/* The box of a zone, or the one round its polygon. */
SherdZoneBox sherd_zone_get_box (SherdZone *zone);

/* (transfer none) (nullable) */
SherdZone *sherd_trial_add_zone_box (SherdTrial *trial,
                                     SherdPiece *piece,
                                     SherdSide *side,
                                     const char *code,
                                     const SherdZoneBox *box,
                                     GError **error);
/* Takes the place of a polygon. */
gboolean sherd_trial_set_zone_box (SherdTrial *trial,
                                   SherdPiece *piece,
                                   SherdSide *side,
                                   SherdZone *zone,
                                   const SherdZoneBox *box,
                                   gboolean continued,
                                   GError **error);
/* As sherd_trial_set_zone_grid (), on a vessel's side. */
gboolean sherd_trial_set_ring_grid (SherdTrial *trial,
                                    SherdPiece *piece,
                                    SherdSide *side,
                                    const SherdRingGrid *grid,
                                    GError **error);
/* Into @n equal parts side by side along x, or along y; the first keeps id and code, all keep paint, coats and ground.
 */
gboolean sherd_trial_split_zone (SherdTrial *trial,
                                 SherdPiece *piece,
                                 SherdSide *side,
                                 SherdZone *zone,
                                 guint n,
                                 gboolean along_y,
                                 GError **error);
/* Makes one box of zones that fill one but for gaps; the first stays, the others go. */
gboolean sherd_trial_join_zones (SherdTrial *trial,
                                 SherdPiece *piece,
                                 SherdSide *side,
                                 SherdZone *const *zones,
                                 guint n_zones,
                                 GError **error);
/* @whole_line: with it every edge on the same line, and those that face it over the same gap */
gboolean sherd_trial_move_zone_edge (SherdTrial *trial,
                                     SherdPiece *piece,
                                     SherdSide *side,
                                     SherdZone *zone,
                                     SherdZoneEdge edge,
                                     double to,
                                     gboolean whole_line,
                                     gboolean continued,
                                     GError **error);
/* Left for right; on a vessel each azimuth becomes its negative. */
gboolean sherd_trial_mirror_side (SherdTrial *trial, SherdPiece *piece, SherdSide *side, GError **error);
/* Lays the zones of @from, with paint, coats and ground, on @to in place of what is there. Locked zones of @to refuse.
 */
gboolean sherd_trial_copy_side (SherdTrial *trial,
                                SherdPiece *from_piece,
                                SherdSide *from,
                                SherdPiece *to_piece,
                                SherdSide *to,
                                GError **error);

G_END_DECLS
