/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "page/paper.h"

static PangoLayout *
layout_new (cairo_t *cr, const char *text, double width_mm, double size_pt, gboolean bold)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  g_autoptr (PangoFontDescription) font = pango_font_description_from_string (bold ? "Sans Bold" : "Sans");

  /* The context is in mm, so is the font: pango measures in the units of the context. */
  pango_font_description_set_absolute_size (font, size_pt / SHERD_POINTS_PER_MM * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_width (layout, (int)(width_mm * PANGO_SCALE));
  pango_layout_set_text (layout, text, -1);
  return layout;
}

static double
show_layout (cairo_t *cr, PangoLayout *layout, double x_mm, double y_mm)
{
  int height;

  cairo_move_to (cr, x_mm, y_mm);
  pango_cairo_update_layout (cr, layout);
  pango_cairo_show_layout (cr, layout);
  pango_layout_get_size (layout, NULL, &height);
  return (double)height / PANGO_SCALE;
}

/**
 * sherd_paper_draw_line:
 * @cr: a context in mm
 * @text: one line
 * @x_mm: left edge of its box
 * @y_mm: top of its box
 * @width_mm: width of its box; longer text ends with an ellipsis
 * @size_pt: size of the letters
 * @bold: whether they are bold
 * @align: where it stands in the box
 *
 * Returns: height of the line, mm
 */
double
sherd_paper_draw_line (cairo_t *cr,
                       const char *text,
                       double x_mm,
                       double y_mm,
                       double width_mm,
                       double size_pt,
                       gboolean bold,
                       SherdTextAlign align)
{
  static const PangoAlignment alignments[] = { PANGO_ALIGN_LEFT, PANGO_ALIGN_CENTER, PANGO_ALIGN_RIGHT };
  g_autoptr (PangoLayout) layout = layout_new (cr, text, width_mm, size_pt, bold);

  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_alignment (layout, alignments[align]);
  return show_layout (cr, layout, x_mm, y_mm);
}

/**
 * sherd_paper_draw_paragraph:
 * @cr: a context in mm
 * @text: text of any length
 * @x_mm: left edge of its box
 * @y_mm: top of its box
 * @width_mm: width of its box; the text is wrapped
 * @size_pt: size of the letters
 *
 * Returns: height of the paragraph, mm
 */
double
sherd_paper_draw_paragraph (cairo_t *cr, const char *text, double x_mm, double y_mm, double width_mm, double size_pt)
{
  g_autoptr (PangoLayout) layout = layout_new (cr, text, width_mm, size_pt, FALSE);

  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  return show_layout (cr, layout, x_mm, y_mm);
}
