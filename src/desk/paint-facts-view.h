/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/paint-facts.h"

G_BEGIN_DECLS

/* All that follows from a paint: cautions, whether it can melt, shares, oxides after firing, cost and stock, and what
 * it was before. Signal: "changed" (): another firing is planned. */
#define SHERD_TYPE_PAINT_FACTS_VIEW (sherd_paint_facts_view_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintFactsView, sherd_paint_facts_view, SHERD, PAINT_FACTS_VIEW, GtkWidget)

void
sherd_paint_facts_view_show (SherdPaintFactsView *self, SherdTrial *trial, SherdPaint *paint, SherdPaintFacts *facts);

G_END_DECLS
