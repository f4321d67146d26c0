/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/body.h"
#include "trial/table.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What the piece weighs in the state in which it was measured; NAN when its thickness is not known. */
SherdMass sherd_piece_get_mass (SherdPiece *piece);
/* True area of a side in mm², its holes left out; NAN when the piece has no surface. */
double sherd_piece_get_side_area_mm2 (SherdPiece *piece, SherdSide *side);

/* (transfer full): a row a side of every piece */
SherdTable *sherd_results_pieces (SherdTrial *trial);

G_END_DECLS
