/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/photograph-marks.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* What makes the light of a photograph comparable: nothing, a grey card or a chart, shown and edited. Signals:
 * "marks-on-changed" (): the chart's marks are picked on something else now. */
#define SHERD_TYPE_REFERENCE_PANEL (sherd_reference_panel_get_type ())
G_DECLARE_FINAL_TYPE (SherdReferencePanel, sherd_reference_panel, SHERD, REFERENCE_PANEL, GtkWidget)

/* @trial, @photograph: (nullable) */
void sherd_reference_panel_show (SherdReferencePanel *self, SherdTrial *trial, SherdPhotograph *photograph);
SherdMarksOn sherd_reference_panel_get_marks_on (SherdReferencePanel *self);

G_END_DECLS
