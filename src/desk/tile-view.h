/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* A side of a tile, drawn to scale, with a button for every zone. Signal "zone-selected" (SherdZone). */
#define SHERD_TYPE_TILE_VIEW (sherd_tile_view_get_type ())
G_DECLARE_FINAL_TYPE (SherdTileView, sherd_tile_view, SHERD, TILE_VIEW, GtkWidget)

/* @piece, @side: (nullable): nothing to show */
void sherd_tile_view_show (SherdTileView *self, SherdPiece *piece, SherdSide *side);
void sherd_tile_view_select (SherdTileView *self, SherdZone *zone);

G_END_DECLS
