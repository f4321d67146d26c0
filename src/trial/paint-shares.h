/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): id of a material → its share of the dry mix (double, 0 … 1); NULL where it is not known
 */
GHashTable *sherd_trial_dup_paint_shares (SherdTrial *trial, SherdPaint *paint, guint revision);

G_END_DECLS
