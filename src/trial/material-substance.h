/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/substance.h"
#include "trial/material-record.h"

G_BEGIN_DECLS

/* Between what the trial keeps of a material and what chemistry reckons with. */

/* (transfer full): the substance, named by @id; NULL with an error of SHERD_CHEM_ERROR */
SherdSubstance *sherd_material_record_dup_substance (const SherdMaterialRecord *record, const char *id, GError **error);
/* @record: (out): to be cleared; its origin is the substance's id */
void
sherd_material_record_init_substance (SherdMaterialRecord *record, const SherdSubstance *substance, const char *source);

/* The hazards that are told by the words of the record; words that nobody knows are left out. */
SherdHazards sherd_material_record_get_stated_hazards (const SherdMaterialRecord *record);
/* "SiO2 52.1 ± 0.4; LOI 3", as sherd_substance_set_analysis () reads it. (transfer full) */
char *sherd_material_record_dup_analysis_text (const SherdMaterialRecord *record);
/* Replaces analysis and loss by what is read. SHERD_CHEM_ERROR; @place: (out) (nullable): where it is wrong */
gboolean sherd_material_record_set_analysis_text (SherdMaterialRecord *record,
                                                  const char *text,
                                                  SherdTextPlace *place,
                                                  GError **error);

G_END_DECLS
