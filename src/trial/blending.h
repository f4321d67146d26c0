/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/blend.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* (transfer full): what the codes of a blend begin with, unless the potter says so: the first letters of its paints */
char *sherd_trial_dup_blend_stem (SherdPaint *const *paints, guint n_paints);
/* (transfer full): of SherdPaint, one a member of the blend, in one edit; a paint by itself stands for itself */
GPtrArray *sherd_trial_add_blend (SherdTrial *trial,
                                  SherdPaint *const *paints,
                                  const SherdBlend *blend,
                                  const char *stem,
                                  GError **error);

G_END_DECLS
