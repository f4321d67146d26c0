/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* FALSE while no zone with @paint, as it stands, is measured; @stage: (transfer none) */
gboolean
sherd_trial_get_paint_colour (SherdTrial *trial, SherdPaint *paint, SherdLab *lab, guint *n_zones, const char **stage);

G_END_DECLS
