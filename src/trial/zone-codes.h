/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* Gives the zones of a piece codes that read in order, A1, A2, … B1, …, each once on the whole piece; locked zones keep
 * theirs. One edit. SHERD_TRIAL_ERROR_IN_USE when the piece has been fired: its codes are scratched in. */
gboolean sherd_trial_set_reading_codes (SherdTrial *trial, SherdPiece *piece, GError **error);

G_END_DECLS
