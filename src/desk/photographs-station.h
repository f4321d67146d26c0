/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The station where photographs are added, placed by marks, and given a reference for their light. */
#define SHERD_TYPE_PHOTOGRAPHS_STATION (sherd_photographs_station_get_type ())
G_DECLARE_FINAL_TYPE (SherdPhotographsStation, sherd_photographs_station, SHERD, PHOTOGRAPHS_STATION, GtkWidget)

void sherd_photographs_station_set_trial (SherdPhotographsStation *self, SherdTrial *trial);
void sherd_photographs_station_add_file (SherdPhotographsStation *self, GFile *file);

G_END_DECLS
