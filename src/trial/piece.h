/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/side.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PIECE_TILE /* "tile": a flat slab with a face and a back */
} SherdPieceKind;

/* The state of the clay in which the piece was measured; clay shrinks between them. */
typedef enum
{
  SHERD_CLAY_LEATHER_HARD, /* "leather-hard" */
  SHERD_CLAY_DRY,          /* "dry" */
  SHERD_CLAY_FIRED         /* "fired" */
} SherdClayState;

#define SHERD_TYPE_PIECE_KIND (sherd_piece_kind_get_type ())
GType sherd_piece_kind_get_type (void);
#define SHERD_TYPE_CLAY_STATE (sherd_clay_state_get_type ())
GType sherd_clay_state_get_type (void);

/* A test tile. Properties: "id"; "name"; "kind" (SherdPieceKind); "width-mm", "height-mm" (doubles, of the face);
 * "thickness-mm" (double, 0 when not known); "state" (SherdClayState the measures belong to); "sides" (GListModel). */
#define SHERD_TYPE_PIECE (sherd_piece_get_type ())
G_DECLARE_FINAL_TYPE (SherdPiece, sherd_piece, SHERD, PIECE, SherdPart)

/* Our choice: no test piece is larger than two metres. */
#define SHERD_PIECE_MAX_MM 2000.0
/* Our choice: and none is smaller than a fingernail. */
#define SHERD_PIECE_MIN_MM 5.0

SherdPiece *sherd_piece_new (const char *id, const char *name, double width_mm, double height_mm, double thickness_mm);

const char *sherd_piece_get_name (SherdPiece *self);
SherdPieceKind sherd_piece_get_kind (SherdPiece *self);
double sherd_piece_get_width_mm (SherdPiece *self);
double sherd_piece_get_height_mm (SherdPiece *self);
double sherd_piece_get_thickness_mm (SherdPiece *self);
SherdClayState sherd_piece_get_state (SherdPiece *self);
/* of SherdSide */
GListModel *sherd_piece_get_sides (SherdPiece *self);
/* (nullable) (transfer none) */
SherdSide *sherd_piece_find_side (SherdPiece *self, const char *id);
/* (nullable) (transfer none): "face" or "back" */
SherdSide *sherd_piece_find_side_by_name (SherdPiece *self, const char *name);

G_END_DECLS
