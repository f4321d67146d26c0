/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* (transfer full): of SherdMaterialRecord: the built-in materials in the order of their table, in the user's language;
 * their origin is the id in the table. Made anew each time; keep it. */
GPtrArray *sherd_built_in_materials_new (void);
/* (nullable) (transfer none): by id or name, capital and small letters the same */
const SherdMaterialRecord *sherd_built_in_materials_find (GPtrArray *materials, const char *id_or_name);

/* (nullable) (transfer none): the trial's material of that name; else the built-in one, which is added. NULL without an
 * error when there is neither. */
SherdMaterial *sherd_trial_find_or_add_material (SherdTrial *trial, GPtrArray *built_ins, const char *name);

G_END_DECLS
