/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The numbers of a vessel beside its picture: rim, foot, height, wall and floor; its profile as a table; and the rings
 * and sectors of the side that is shown. What is typed takes effect at once. Signal "refused" (message): the trial did
 * not take it. */
#define SHERD_TYPE_VESSEL_FIELDS (sherd_vessel_fields_get_type ())
G_DECLARE_FINAL_TYPE (SherdVesselFields, sherd_vessel_fields, SHERD, VESSEL_FIELDS, GtkWidget)

/* @piece, @side: (nullable): nothing to show; a piece that is no vessel hides the fields */
void sherd_vessel_fields_show (SherdVesselFields *self, SherdTrial *trial, SherdPiece *piece, SherdSide *side);

G_END_DECLS
