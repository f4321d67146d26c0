/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The station where the piece is laid out: size, ground, grid of zones, which paint is where. */
#define SHERD_TYPE_PIECE_STATION (sherd_piece_station_get_type ())
G_DECLARE_FINAL_TYPE (SherdPieceStation, sherd_piece_station, SHERD, PIECE_STATION, GtkWidget)

void sherd_piece_station_set_trial (SherdPieceStation *self, SherdTrial *trial);

G_END_DECLS
