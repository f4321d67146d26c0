/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "desk/material-choice.h"

G_BEGIN_DECLS

/* A button that says which material it is, and opens the list to choose another. Signal: "picked"
 * (SherdMaterialChoice). */
#define SHERD_TYPE_MATERIAL_PICKER (sherd_material_picker_get_type ())
G_DECLARE_FINAL_TYPE (SherdMaterialPicker, sherd_material_picker, SHERD, MATERIAL_PICKER, GtkWidget)

/* (transfer full): what may be chosen; called when the list opens */
typedef GListModel *(*SherdChoicesFunc) (gpointer user_data);

GtkWidget *sherd_material_picker_new (const char *label, SherdChoicesFunc get_choices, gpointer user_data);

/* @name: what the button says; @label: what a screen reader says */
void sherd_material_picker_show (SherdMaterialPicker *self, const char *name, const char *label);
void sherd_material_picker_open (SherdMaterialPicker *self);

G_END_DECLS
