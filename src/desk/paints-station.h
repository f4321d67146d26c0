/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The station where paints and slips are mixed of materials: what is in the pot, what comes on to the scale, what is
 * left after firing and whether it can melt. */
#define SHERD_TYPE_PAINTS_STATION (sherd_paints_station_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintsStation, sherd_paints_station, SHERD, PAINTS_STATION, GtkWidget)

void sherd_paints_station_set_trial (SherdPaintsStation *self, SherdTrial *trial);
/* The mixing card of the paint that is shown goes to the clipboard. */
void sherd_paints_station_copy_card (SherdPaintsStation *self);

G_END_DECLS
