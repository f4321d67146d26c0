/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "desk/material-choice.h"

G_BEGIN_DECLS

/* Materials to be searched as one types and filtered by kind, colour and hazard. Signals: "chosen"
 * (SherdMaterialChoice): Enter or a double click, a single one where "single-click" is set; "selected"
 * (SherdMaterialChoice): moved to. */
#define SHERD_TYPE_MATERIAL_LIST (sherd_material_list_get_type ())
G_DECLARE_FINAL_TYPE (SherdMaterialList, sherd_material_list, SHERD, MATERIAL_LIST, GtkWidget)

/* @choices: of SherdMaterialChoice */
void sherd_material_list_set_choices (SherdMaterialList *self, GListModel *choices);
void sherd_material_list_set_single_click (SherdMaterialList *self, gboolean single_click);
/* Empties the search, with the focus in it. */
void sherd_material_list_start_search (SherdMaterialList *self);
/* No "selected" is sent. @id: (nullable) */
void sherd_material_list_select (SherdMaterialList *self, const char *id);

G_END_DECLS
