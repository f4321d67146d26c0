/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* Recipes in words. All (transfer full). */

/* Name of the material, or code and name of the paint. */
char *sherd_ingredient_dup_name (SherdTrial *trial, const SherdIngredient *ingredient);
/* "2 Malachite, 1 Kaolin": parts as typed */
char *sherd_recipe_dup_words (SherdTrial *trial, const SherdRecipe *recipe);
/* "Malachite 2 → 3; with Kaolin; without Ochre": what has become of @before; empty when nothing has */
char *sherd_recipe_dup_changes (SherdTrial *trial, const SherdRecipe *before, const SherdRecipe *after);

G_END_DECLS
