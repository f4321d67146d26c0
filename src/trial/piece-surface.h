/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/vessel.h"
#include "shape/zoning.h"
#include "trial/piece.h"

G_BEGIN_DECLS

/* One side of a piece as geometry, with all that it rests on; does not follow later changes of the piece. */
typedef struct _SherdPieceSurface SherdPieceSurface;

/* What a form must be for a piece of these measures: SHERD_TRIAL_ERROR_VALUE or SHERD_SHAPE_ERROR. @form: (nullable) */
gboolean sherd_piece_check_form (SherdPieceKind kind,
                                 double width_mm,
                                 double height_mm,
                                 double thickness_mm,
                                 const SherdForm *form,
                                 GError **error);

/* (transfer full) (nullable): @side_name: "face", "back", "outside" or "inside" */
SherdPieceSurface *sherd_piece_surface_new (SherdPiece *piece, const char *side_name, GError **error);
void sherd_piece_surface_free (SherdPieceSurface *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdPieceSurface, sherd_piece_surface_free)

/* (transfer none): lives as long as @self */
const SherdSurface *sherd_piece_surface_get (const SherdPieceSurface *self);
/* (nullable) (transfer none): of a vessel */
const SherdVessel *sherd_piece_surface_get_vessel (const SherdPieceSurface *self);

G_END_DECLS
