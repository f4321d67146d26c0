/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

#include "chem/hazard.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What may go into a pot: a material of the trial, one of the built-in table, or another paint. A value. */
typedef enum
{
  SHERD_CHOICE_OWN,
  SHERD_CHOICE_BUILT_IN,
  SHERD_CHOICE_PAINT
} SherdChoiceSource;

#define SHERD_TYPE_MATERIAL_CHOICE (sherd_material_choice_get_type ())
G_DECLARE_FINAL_TYPE (SherdMaterialChoice, sherd_material_choice, SHERD, MATERIAL_CHOICE, GObject)

SherdChoiceSource sherd_material_choice_get_source (SherdMaterialChoice *self);
/* of the material, of the entry in the built-in table, or of the paint */
const char *sherd_material_choice_get_id (SherdMaterialChoice *self);
const char *sherd_material_choice_get_name (SherdMaterialChoice *self);
/* (nullable): NULL for a paint */
const SherdMaterialRecord *sherd_material_choice_get_record (SherdMaterialChoice *self);
/* those stated and those of its elements */
SherdHazards sherd_material_choice_get_hazards (SherdMaterialChoice *self);
/* "Colourant · Cu2CO3(OH)2 · green · copper": what stands below the name */
const char *sherd_material_choice_get_about (SherdMaterialChoice *self);

/* @kind: a SherdMaterialKind or −1; @colour: (nullable): any; @hazard: 0 for any */
gboolean sherd_material_choice_matches (SherdMaterialChoice *self,
                                        const char *search,
                                        int kind,
                                        const char *colour,
                                        SherdHazards hazard);

/* Whether its name has every word of @search. */
gboolean sherd_material_choice_is_called (SherdMaterialChoice *self, const char *search);

/* (transfer full): a GListStore of all that may be chosen; paints too when @mixed_into is there, which is left out
 * itself; the trial's own come first */
GListModel *sherd_material_choices_new (SherdTrial *trial, SherdPaint *mixed_into, gboolean with_paints);
/* (transfer full): binders alone */
GListModel *sherd_material_choices_new_binders (SherdTrial *trial);

G_END_DECLS
