/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "desk/material-picker.h"

G_BEGIN_DECLS

/* One ingredient of a paint: parts, what of, grams, and below it what there is to know: cautions, what is missing.
 *
 * Signals: "parts-edited" (double parts, string as typed); "picked" (SherdMaterialChoice); "removed" (); "activated"
 * (): Enter in the parts; "left" (): the focus left the parts. */
#define SHERD_TYPE_INGREDIENT_ROW (sherd_ingredient_row_get_type ())
G_DECLARE_FINAL_TYPE (SherdIngredientRow, sherd_ingredient_row, SHERD, INGREDIENT_ROW, GtkWidget)

GtkWidget *sherd_ingredient_row_new (SherdChoicesFunc get_choices, gpointer user_data);

void sherd_ingredient_row_show (SherdIngredientRow *self, const char *name, double parts);
/* Why the parts are not taken. */
void sherd_ingredient_row_refuse (SherdIngredientRow *self, const char *reason);
/* @grams: "12.4 g", or empty; @remarks: (nullable): lines below the row */
void sherd_ingredient_row_show_facts (SherdIngredientRow *self, const char *grams, const char *remarks);

G_END_DECLS
