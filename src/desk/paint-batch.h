/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/paint-facts.h"

G_BEGIN_DECLS

/* How much of a paint is to be mixed: a total, what is at hand of one ingredient, or an area to be painted; and what
 * then comes on to the scale. Signal: "changed" (): the request is another one. */
#define SHERD_TYPE_PAINT_BATCH (sherd_paint_batch_get_type ())
G_DECLARE_FINAL_TYPE (SherdPaintBatch, sherd_paint_batch, SHERD, PAINT_BATCH, GtkWidget)

void sherd_paint_batch_show (SherdPaintBatch *self, SherdTrial *trial, SherdPaint *paint);
void sherd_paint_batch_show_facts (SherdPaintBatch *self, SherdPaintFacts *facts);
/* (nullable): NULL while it is not said how much */
const SherdBatchRequest *sherd_paint_batch_get_request (SherdPaintBatch *self);
double sherd_paint_batch_get_readability_g (SherdPaintBatch *self);

G_END_DECLS
