/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "page/paper.h"

/* Of the size of the letters. Our choice: half of it lies outside them, enough to part white from white. */
#define LABEL_RIM_SHARE 0.25

/* Paper has no pixels: letters stand where their widths put them, not on a raster of the context's units. */
static void
forget_pixels (PangoLayout *layout)
{
  PangoContext *context = pango_layout_get_context (layout);
  cairo_font_options_t *options = cairo_font_options_create ();

  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  pango_cairo_context_set_font_options (context, options);
  pango_context_set_round_glyph_positions (context, FALSE);
  pango_layout_context_changed (layout);
  cairo_font_options_destroy (options);
}

static PangoLayout *
layout_new (cairo_t *cr, const char *text, double width_mm, double size_pt, gboolean bold)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  g_autoptr (PangoFontDescription) font = pango_font_description_from_string (bold ? "Sans Bold" : "Sans");

  forget_pixels (layout);
  /* The context is in mm, so is the font: pango measures in the units of the context. */
  pango_font_description_set_absolute_size (font, size_pt / SHERD_POINTS_PER_MM * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_width (layout, (int)(width_mm * PANGO_SCALE));
  pango_layout_set_text (layout, text, -1);
  return layout;
}

static PangoLayout *
paragraph_new (cairo_t *cr, const char *text, double width_mm, double size_pt)
{
  PangoLayout *layout = layout_new (cr, text, width_mm, size_pt, FALSE);

  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  return layout;
}

static double
layout_height_mm (PangoLayout *layout)
{
  int height;

  pango_layout_get_size (layout, NULL, &height);
  return (double)height / PANGO_SCALE;
}

static double
show_layout (cairo_t *cr, PangoLayout *layout, double x_mm, double y_mm)
{
  cairo_move_to (cr, x_mm, y_mm);
  pango_cairo_show_layout (cr, layout);
  return layout_height_mm (layout);
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
  g_autoptr (PangoLayout) layout = paragraph_new (cr, text, width_mm, size_pt);

  return show_layout (cr, layout, x_mm, y_mm);
}

/**
 * sherd_paper_paragraph_height:
 * @cr: a context in mm
 * @text: text of any length
 * @width_mm: width of its box
 * @size_pt: size of the letters
 *
 * Returns: the height sherd_paper_draw_paragraph () would take, mm
 */
double
sherd_paper_paragraph_height (cairo_t *cr, const char *text, double width_mm, double size_pt)
{
  g_autoptr (PangoLayout) layout = paragraph_new (cr, text, width_mm, size_pt);

  return layout_height_mm (layout);
}

/**
 * sherd_paper_draw_label:
 * @cr: a context in mm
 * @text: a few letters
 * @x_mm: their middle
 * @y_mm: their middle
 * @size_pt: size of the letters
 */
void
sherd_paper_draw_label (cairo_t *cr, const char *text, double x_mm, double y_mm, double size_pt)
{
  g_autoptr (PangoLayout) layout = layout_new (cr, text, SHERD_A4_WIDTH_MM, size_pt, TRUE);
  int width;

  pango_layout_set_width (layout, -1);
  pango_layout_get_size (layout, &width, NULL);
  cairo_move_to (cr, x_mm - 0.5 * width / PANGO_SCALE, y_mm - 0.5 * layout_height_mm (layout));
  pango_cairo_layout_path (cr, layout);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (cr, LABEL_RIM_SHARE * size_pt / SHERD_POINTS_PER_MM);
  cairo_set_source_rgb (cr, 0.0, 0.0, 0.0);
  cairo_stroke_preserve (cr);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_fill (cr);
}
