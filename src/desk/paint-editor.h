/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/paint-facts.h"

G_BEGIN_DECLS

/* All of a paint that is written down: code, name, what is in the pot. Typing changes the trial at once. */
#define SHERD_TYPE_PAINT_EDITOR (sherd_paint_editor_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintEditor, sherd_paint_editor, SHERD, PAINT_EDITOR, GtkWidget)

/* @paint: (nullable): one of the trial's */
void sherd_paint_editor_show (SherdPaintEditor *self, SherdTrial *trial, SherdPaint *paint);
/* Grams and remarks beside the ingredients. */
void sherd_paint_editor_show_facts (SherdPaintEditor *self, SherdPaintFacts *facts, double readability_g);
/* The focus goes to the code, all of it selected. */
void sherd_paint_editor_start (SherdPaintEditor *self);

G_END_DECLS
