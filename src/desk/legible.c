/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/legible.h"

/* Lines and words that can be read on any colour and lend it none: a light line inside a dark one, light words on a
 * dark plate. Black and white only, so that nothing near a judged colour is colourful (ISO 3664). */

#define PLATE_PAD_X_PX 5.0f
#define PLATE_PAD_Y_PX 1.0f
#define PLATE_RADIUS_PX 4.0f

static void
set_dark (cairo_t *cr)
{
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.72);
}

static void
set_light (cairo_t *cr)
{
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
}

/* How wide the dark line is around a light one of @width_px. */
static double
halo_px (double width_px)
{
  return width_px + 2.0 * MAX (1.5, 0.6 * width_px);
}

static void
stroke_halo (cairo_t *cr, double width_px)
{
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_width (cr, halo_px (width_px));
  set_dark (cr);
  cairo_stroke_preserve (cr);
}

/**
 * sherd_legible_stroke:
 * @cr: a context with a path, which is used up
 * @width_px: width of the light line
 *
 * A light line with dark edges.
 */
void
sherd_legible_stroke (cairo_t *cr, double width_px)
{
  stroke_halo (cr, width_px);
  cairo_set_line_width (cr, width_px);
  set_light (cr);
  cairo_stroke (cr);
}

/**
 * sherd_legible_stroke_dashed:
 * @cr: a context with a path, which is used up
 * @width_px: width of the light line
 *
 * A dark line with light dashes on it.
 */
void
sherd_legible_stroke_dashed (cairo_t *cr, double width_px)
{
  const double dash_px[] = { 5.0, 5.0 };

  stroke_halo (cr, width_px);
  cairo_set_dash (cr, dash_px, G_N_ELEMENTS (dash_px), 0.0);
  cairo_set_line_width (cr, width_px);
  set_light (cr);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0.0);
}

/**
 * sherd_legible_stroke_hollow:
 * @cr: a context with a path, which is used up
 * @width_px: width of an ordinary light line
 *
 * A broad light line with dark edges and a dark core: two lines side by side.
 */
void
sherd_legible_stroke_hollow (cairo_t *cr, double width_px)
{
  const double broad_px = 3.0 * width_px;

  stroke_halo (cr, broad_px);
  cairo_set_line_width (cr, broad_px);
  set_light (cr);
  cairo_stroke_preserve (cr);
  cairo_set_line_width (cr, width_px);
  cairo_set_source_rgb (cr, 0.0, 0.0, 0.0);
  cairo_stroke (cr);
}

/**
 * sherd_legible_plate_size:
 * @layout: the words
 * @width_px: (out): of the plate
 * @height_px: (out): of the plate
 */
void
sherd_legible_plate_size (PangoLayout *layout, float *width_px, float *height_px)
{
  int text_width, text_height;

  pango_layout_get_pixel_size (layout, &text_width, &text_height);
  *width_px = (float)text_width + 2.0f * PLATE_PAD_X_PX;
  *height_px = (float)text_height + 2.0f * PLATE_PAD_Y_PX;
}

/**
 * sherd_legible_plate:
 * @snapshot: what is drawn on
 * @layout: the words
 * @x_px: left edge of the plate
 * @y_px: top edge
 *
 * Light words on a dark plate.
 */
void
sherd_legible_plate (GtkSnapshot *snapshot, PangoLayout *layout, float x_px, float y_px)
{
  const GdkRGBA dark = { 0.0f, 0.0f, 0.0f, 0.72f }, light = { 1.0f, 1.0f, 1.0f, 1.0f };
  graphene_rect_t bounds;
  GskRoundedRect plate;
  float width_px, height_px;

  sherd_legible_plate_size (layout, &width_px, &height_px);
  graphene_rect_init (&bounds, x_px, y_px, width_px, height_px);
  gsk_rounded_rect_init_from_rect (&plate, &bounds, PLATE_RADIUS_PX);
  gtk_snapshot_push_rounded_clip (snapshot, &plate);
  gtk_snapshot_append_color (snapshot, &dark, &bounds);
  gtk_snapshot_pop (snapshot);

  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT (x_px + PLATE_PAD_X_PX, y_px + PLATE_PAD_Y_PX));
  gtk_snapshot_append_layout (snapshot, layout, &light);
  gtk_snapshot_restore (snapshot);
}
