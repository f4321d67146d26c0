/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/material-choice.h"

G_BEGIN_DECLS

/* What the potter does to a recipe in the window, each one undoable step. A material of the built-in table comes into
 * the trial with the step that first uses it. All refuse with SHERD_TRIAL_ERROR_VALUE and change nothing then. */

gboolean sherd_recipe_add_choice (SherdTrial *trial, SherdPaint *paint, SherdMaterialChoice *choice, GError **error);
gboolean sherd_recipe_replace_choice (SherdTrial *trial,
                                      SherdPaint *paint,
                                      guint position,
                                      SherdMaterialChoice *choice,
                                      GError **error);
/* @choice: (nullable): no binder */
gboolean sherd_recipe_choose_binder (SherdTrial *trial, SherdPaint *paint, SherdMaterialChoice *choice, GError **error);
/* The rest joins the step before it when that was the same: typing is one step. */
gboolean sherd_recipe_type_parts (SherdTrial *trial,
                                  SherdPaint *paint,
                                  guint position,
                                  double parts,
                                  const char *text,
                                  GError **error);
gboolean sherd_recipe_type_binder_pct (SherdTrial *trial, SherdPaint *paint, double pct, GError **error);
gboolean sherd_recipe_type_water_pct (SherdTrial *trial, SherdPaint *paint, double pct, GError **error);
gboolean sherd_recipe_remove_row (SherdTrial *trial, SherdPaint *paint, guint position, GError **error);
gboolean sherd_recipe_set_basis (SherdTrial *trial, SherdPaint *paint, SherdBasis basis, GError **error);

G_END_DECLS
