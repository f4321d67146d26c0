/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* A vessel in space with the zones of both its sides, shaded. It turns by dragging and with the arrow keys; Home turns
 * it back; a click chooses a zone ("zone-selected"). */
#define SHERD_TYPE_VESSEL_VIEW (sherd_vessel_view_get_type ())
G_DECLARE_FINAL_TYPE (SherdVesselView, sherd_vessel_view, SHERD, VESSEL_VIEW, GtkWidget)

/* @piece: (nullable): as it is now; what is no vessel hides the view. Call it again after an edit. */
void sherd_vessel_view_show (SherdVesselView *self, SherdPiece *piece);
/* @zone: (nullable) */
void sherd_vessel_view_select (SherdVesselView *self, SherdZone *zone);
/* (nullable): the zone seen at a place of the widget */
SherdZone *sherd_vessel_view_find_zone (SherdVesselView *self, double x_px, double y_px);

G_END_DECLS
