/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* Paints and materials from one trial to another, or to the clipboard and back. */

/* (transfer full): of SherdPaint, borrowed: the copies. One undoable edit of @to. */
GPtrArray *sherd_trial_copy_paints (SherdTrial *to, SherdTrial *from, SherdPaint *const *paints, gsize n_paints);
/* (transfer none): the same material where @to has it already, else a copy */
SherdMaterial *sherd_trial_copy_material (SherdTrial *to, SherdMaterial *material);

/* (transfer full): a trial that holds nothing but these, as text for the clipboard */
char *sherd_trial_dup_paints_text (SherdTrial *trial, SherdPaint *const *paints, gsize n_paints);
/* (transfer full) (nullable): the copies; NULL with SHERD_TRIAL_ERROR when the text holds no paints */
GPtrArray *sherd_trial_paste_paints (SherdTrial *trial, const char *text, GError **error);

G_END_DECLS
