/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/material-record.h"
#include "trial/part.h"

G_BEGIN_DECLS

/* A material of the trial: bought, dug or ground. Properties: "id" and the members of SherdMaterialRecord by name
 * ("particle-density-g-cm3"; "analysis" SherdAnalysis, "hazards" GStrv). Edited by sherd_trial_set_material (). */
#define SHERD_TYPE_MATERIAL (sherd_material_get_type ())
G_DECLARE_FINAL_TYPE (SherdMaterial, sherd_material, SHERD, MATERIAL, SherdPart)

SherdMaterial *sherd_material_new (const char *id, const SherdMaterialRecord *record);

const char *sherd_material_get_name (SherdMaterial *self);
SherdMaterialKind sherd_material_get_kind (SherdMaterial *self);
const SherdMaterialRecord *sherd_material_get_record (SherdMaterial *self);

G_END_DECLS
