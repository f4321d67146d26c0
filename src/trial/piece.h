/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/shrinkage.h"
#include "trial/form.h"
#include "trial/side.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PIECE_TILE,   /* "tile": a flat slab with a face and a back */
  SHERD_PIECE_DISC,   /* "disc": a round slab */
  SHERD_PIECE_VESSEL, /* "vessel": turned about an axis, with an outside and an inside */
  SHERD_PIECE_SHERD   /* "sherd": flat enough to be drawn, with an edge of any shape */
} SherdPieceKind;

#define SHERD_TYPE_PIECE_KIND (sherd_piece_kind_get_type ())
GType sherd_piece_kind_get_type (void);
#define SHERD_TYPE_CLAY_STATE (sherd_clay_state_get_type ())
GType sherd_clay_state_get_type (void); /* "leather-hard", "dry", "fired" */

/* A test piece. Properties: "id"; "name"; "kind" (SherdPieceKind); "width-mm", "height-mm" (doubles, of the face; of a
 * vessel its greatest diameter and its height; they follow from the form of a vessel or sherd); "thickness-mm" (double,
 * of the slab or the wall, 0 when not known); "form" (SherdForm, nullable: a plain tile or disc); "state"
 * (SherdClayState the measures belong to); "painted-state" (SherdClayState in which it is to be painted); "sides"
 * (GListModel); and what is known of the clay, NAN when it is not: "bar-leather-hard-mm", "bar-dry-mm", "bar-fired-mm"
 * (a bar scribed on the piece, as measured in each state), "drying-pct", "drying-doubt-pct", "firing-pct",
 * "firing-doubt-pct" (linear shrinkage from leather-hard to dry and from dry to fired, and its standard uncertainty).
 */
#define SHERD_TYPE_PIECE (sherd_piece_get_type ())
G_DECLARE_FINAL_TYPE (SherdPiece, sherd_piece, SHERD, PIECE, SherdPart)

/* Our choice: no test piece is larger than two metres. */
#define SHERD_PIECE_MAX_MM 2000.0
/* Our choice: and none is smaller than a fingernail. */
#define SHERD_PIECE_MIN_MM 5.0

/* (array zero-terminated=1): the names of the sides of such a piece: "face", "back" or "outside", "inside" */
const char *const *sherd_piece_kind_get_sides (SherdPieceKind kind);

SherdPiece *sherd_piece_new (const char *id, const char *name, double width_mm, double height_mm, double thickness_mm);

const char *sherd_piece_get_name (SherdPiece *self);
SherdPieceKind sherd_piece_get_kind (SherdPiece *self);
double sherd_piece_get_width_mm (SherdPiece *self);
double sherd_piece_get_height_mm (SherdPiece *self);
double sherd_piece_get_thickness_mm (SherdPiece *self);
/* (nullable): NULL for a plain tile or disc */
const SherdForm *sherd_piece_get_form (SherdPiece *self);
gboolean sherd_piece_is_vessel (SherdPiece *self);
/* Else width and height follow from the form. */
gboolean sherd_piece_has_own_size (SherdPiece *self);
SherdClayState sherd_piece_get_state (SherdPiece *self);
SherdClayState sherd_piece_get_painted_state (SherdPiece *self);
/* What is known of its clay; what is not known is common practice (shape/shrinkage.h). */
SherdClayShrinkage sherd_piece_get_shrinkage (SherdPiece *self);
/* of SherdSide */
GListModel *sherd_piece_get_sides (SherdPiece *self);
/* (nullable) (transfer none) */
SherdSide *sherd_piece_find_side (SherdPiece *self, const char *id);
/* (nullable) (transfer none): "face", "back", "outside" or "inside" */
SherdSide *sherd_piece_find_side_by_name (SherdPiece *self, const char *name);
/* (nullable) (transfer none): the side on which @zone lies */
SherdSide *sherd_piece_find_zone_side (SherdPiece *self, SherdZone *zone);

G_END_DECLS
