/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* Puts paints in the zones of a side, in order or by chance; says what is wrong with its zones, and what the layout of
 * all pieces can tell apart. */
#define SHERD_TYPE_LAYOUT_PANEL (sherd_layout_panel_get_type ())
G_DECLARE_FINAL_TYPE (SherdLayoutPanel, sherd_layout_panel, SHERD, LAYOUT_PANEL, GtkWidget)

/* As they are now; call it again after an edit. @trial, @piece, @side: (nullable) */
void sherd_layout_panel_show (SherdLayoutPanel *self, SherdTrial *trial, SherdPiece *piece, SherdSide *side);

G_END_DECLS
