/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* Edits of what pieces look like, each one undoable step in words; they check first and change nothing when they
 * refuse. Tiles: trial/edits.h. */

/* (transfer none): with both its sides. @form: (nullable) */
SherdPiece *sherd_trial_add_piece (SherdTrial *trial,
                                   const char *name,
                                   SherdPieceKind kind,
                                   double width_mm,
                                   double height_mm,
                                   double thickness_mm,
                                   const SherdForm *form,
                                   SherdClayState state,
                                   GError **error);
/* SHERD_TRIAL_ERROR_IN_USE when a zone would no longer lie on the piece. @form: (nullable) */
gboolean sherd_trial_set_form (SherdTrial *trial,
                               SherdPiece *piece,
                               double thickness_mm,
                               const SherdForm *form,
                               gboolean continued,
                               GError **error);
void sherd_trial_set_painted_state (SherdTrial *trial, SherdPiece *piece, SherdClayState state);

G_END_DECLS
