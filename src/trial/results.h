/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/comparison.h"
#include "trial/table.h"

G_BEGIN_DECLS

/* Results as tables: the window's export, the command line and the printed page show these, so they agree. */

/* (transfer full): a row a zone of one measured photograph */
SherdTable *sherd_results_zones (SherdTrial *trial, SherdMeasurement *measurement);
/* (transfer full): a row a zone of a side between two photographs */
SherdTable *sherd_results_shifts (SherdComparison *comparison);

/* (transfer full): "changed; over-exposed": the verdict and the remarks of both measurements, for people */
char *sherd_results_dup_remarks (SherdZoneShift *zone_shift);

/* (transfer full): what a reader must know of the light and the marks of a measured photograph, a line each */
GStrv sherd_results_dup_notes (SherdMeasurement *measurement);

G_END_DECLS
