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
/* @property: one of those about the clay: "bar-dry-mm", "drying-pct", …; NAN: not known */
gboolean sherd_trial_set_clay (SherdTrial *trial,
                               SherdPiece *piece,
                               const char *property,
                               double value,
                               gboolean continued,
                               GError **error);
void sherd_trial_set_burnish (SherdTrial *trial, SherdSide *side, SherdBurnish burnish);
/* NAN: not known */
gboolean
sherd_trial_set_drying_days (SherdTrial *trial, SherdSide *side, double days, gboolean continued, GError **error);
/* NAN: not weighed */
gboolean sherd_trial_set_laid (SherdTrial *trial,
                               SherdZone *zone,
                               double laid_g,
                               double doubt_g,
                               gboolean continued,
                               GError **error);

G_END_DECLS
