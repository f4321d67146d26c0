/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The paints of a trial: code, name, measured colour, hazards, where they are used. Signal: "selected" (SherdPaint). */
#define SHERD_TYPE_PAINT_LIST (sherd_paint_list_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintList, sherd_paint_list, SHERD, PAINT_LIST, GtkWidget)

void sherd_paint_list_show (SherdPaintList *self, SherdTrial *trial, SherdPaint *selected);

G_END_DECLS
