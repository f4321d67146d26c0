/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* Two paints side by side: what is in the pot and what is left after firing. Signal: "closed" (). */
#define SHERD_TYPE_PAINT_COMPARE (sherd_paint_compare_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintCompare, sherd_paint_compare, SHERD, PAINT_COMPARE, GtkWidget)

void sherd_paint_compare_show (SherdPaintCompare *self, SherdTrial *trial, SherdPaint *paint);

G_END_DECLS
