/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <pango/pangocairo.h>

G_BEGIN_DECLS

/* Drawing on paper: the cairo context is in mm, origin at the top left corner of the sheet. */

#define SHERD_POINTS_PER_MM (72.0 / 25.4)

typedef enum
{
  SHERD_TEXT_LEFT,
  SHERD_TEXT_CENTRE,
  SHERD_TEXT_RIGHT
} SherdTextAlign;

/* A4, ISO 216. */
#define SHERD_A4_WIDTH_MM 210.0
#define SHERD_A4_HEIGHT_MM 297.0

/* Draws @text in the box that begins at @x_mm and is @width_mm wide, ending with an ellipsis when it is too long.
 * @y_mm is the top of the line. Returns the height of the line. */
double sherd_paper_draw_line (cairo_t *cr,
                              const char *text,
                              double x_mm,
                              double y_mm,
                              double width_mm,
                              double size_pt,
                              gboolean bold,
                              SherdTextAlign align);
/* The same with as many lines as it takes; returns their height. */
double
sherd_paper_draw_paragraph (cairo_t *cr, const char *text, double x_mm, double y_mm, double width_mm, double size_pt);
/* @text in white with a dark rim, seen on every colour, with its middle at the given place. */
void sherd_paper_draw_label (cairo_t *cr, const char *text, double x_mm, double y_mm, double size_pt);
/* Height of a paragraph before it is drawn. */
double sherd_paper_paragraph_height (cairo_t *cr, const char *text, double width_mm, double size_pt);

G_END_DECLS
