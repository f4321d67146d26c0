/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The paints of a trial as rows: code, name to be edited, and a button that removes it. Signals: "refused" (message):
 * the trial did not take an edit. */
#define SHERD_TYPE_PAINT_NAMES (sherd_paint_names_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintNames, sherd_paint_names, SHERD, PAINT_NAMES, GtkWidget)

/* @trial: (nullable) */
void sherd_paint_names_show (SherdPaintNames *self, SherdTrial *trial);

G_END_DECLS
