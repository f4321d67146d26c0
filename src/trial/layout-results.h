/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/repair.h"
#include "trial/table.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* (transfer full): a row a zone, in reading order; @piece, @side: (nullable): all */
SherdTable *sherd_results_layout (SherdTrial *trial, SherdPiece *piece, SherdSide *side);
/* (transfer full): a row a question: what the layout can tell, from what it cannot tell it, and the cheapest repair */
SherdTable *sherd_results_design (const SherdLayout *layout, const SherdDesign *design, guint64 seed);

/* The words for SherdTell in data, in its order, ended by NULL. */
extern const char *const sherd_tell_words[];

G_END_DECLS
