/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* A side of a piece, drawn to scale, with a button for every zone. A vessel's is unrolled as the painter sees it: the
 * outside with the azimuth growing to the right, the inside to the left, the lip on top; widths are true where it is
 * widest. Signal "zone-selected" (SherdZone). */
#define SHERD_TYPE_SIDE_VIEW (sherd_side_view_get_type ())
G_DECLARE_FINAL_TYPE (SherdSideView, sherd_side_view, SHERD, SIDE_VIEW, GtkWidget)

/* @piece, @side: (nullable): nothing to show */
void sherd_side_view_show (SherdSideView *self, SherdPiece *piece, SherdSide *side);
void sherd_side_view_select (SherdSideView *self, SherdZone *zone);

G_END_DECLS
