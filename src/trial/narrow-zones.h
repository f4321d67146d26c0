/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): which zones of the side are too narrow to paint and measure well; NULL when none is */
char *sherd_narrow_zones_dup_words (SherdPiece *piece, SherdSide *side);

G_END_DECLS
