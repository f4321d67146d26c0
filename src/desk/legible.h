/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

void sherd_legible_stroke (cairo_t *cr, double width_px);
void sherd_legible_stroke_dashed (cairo_t *cr, double width_px);
void sherd_legible_stroke_hollow (cairo_t *cr, double width_px);
void sherd_legible_plate_size (PangoLayout *layout, float *width_px, float *height_px);
void sherd_legible_plate (GtkSnapshot *snapshot, PangoLayout *layout, float x_px, float y_px);

G_END_DECLS
