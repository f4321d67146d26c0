/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/material-record.h"

G_BEGIN_DECLS

/* What follows from what is known of a material: cautions, what it loses in the fire and what is left, what happens to
 * it on the way, where the figures come from. Read only. */
#define SHERD_TYPE_MATERIAL_FACTS_VIEW (sherd_material_facts_view_get_type ())
G_DECLARE_FINAL_TYPE (SherdMaterialFactsView, sherd_material_facts_view, SHERD, MATERIAL_FACTS_VIEW, GtkWidget)

void sherd_material_facts_view_show (SherdMaterialFactsView *self, const SherdMaterialRecord *record);

G_END_DECLS
