/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/comparison.h"

G_BEGIN_DECLS

/* The station where two stages are compared: both photographs side by side and the table of shifts.
 * Actions: "results.copy", "results.export". */
#define SHERD_TYPE_RESULTS_STATION (sherd_results_station_get_type ())
G_DECLARE_FINAL_TYPE (SherdResultsStation, sherd_results_station, SHERD, RESULTS_STATION, GtkWidget)

void sherd_results_station_set_trial (SherdResultsStation *self, SherdTrial *trial);
/* (nullable) */
SherdComparison *sherd_results_station_get_comparison (SherdResultsStation *self);
/* Writes the table as comma-separated values. */
gboolean sherd_results_station_export (SherdResultsStation *self, GFile *file, GError **error);

G_END_DECLS
