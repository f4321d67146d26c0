/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* One material: of the built-in table to be read, of the trial to be changed as one types. Signal: "created" (string:
 * id of a material that came into the trial). */
#define SHERD_TYPE_MATERIAL_EDITOR (sherd_material_editor_get_type ())
G_DECLARE_FINAL_TYPE (SherdMaterialEditor, sherd_material_editor, SHERD, MATERIAL_EDITOR, GtkWidget)

/* @id: (nullable): of a material of the trial or of the built-in table */
void sherd_material_editor_show (SherdMaterialEditor *self, SherdTrial *trial, const char *id);
gboolean sherd_material_editor_has_material (SherdMaterialEditor *self);
/* A new material comes into the trial, with the focus in its name. */
void sherd_material_editor_create (SherdMaterialEditor *self);

G_END_DECLS
