/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "page/report.h"

#include <cairo-pdf.h>
#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <math.h>

#include "colour/srgb.h"
#include "page/paper.h"
#include "trial/file.h"
#include "trial/format.h"
#include "trial/results.h"

/* Our choice: an ordinary printer reaches this edge, and a hole punch finds room. */
#define EDGE_MM 15.0
#define CONTENT_WIDTH_MM (SHERD_A4_WIDTH_MM - 2.0 * EDGE_MM)
#define CONTENT_BOTTOM_MM (SHERD_A4_HEIGHT_MM - EDGE_MM)

#define TITLE_PT 16.0
#define TEXT_PT 9.0
#define TABLE_PT 8.0
#define SMALL_PT 7.0
#define CODE_PT 5.5
#define CODE_SHARE 0.4

#define PICTURE_GAP_MM 6.0
#define PICTURE_MAX_HEIGHT_MM 78.0
/* At 87 mm this is 300 dpi. */
#define PICTURE_MAX_SIDE_PX 1100

#define ROW_MM 6.5
#define CELL_PAD_MM 1.4
#define COLUMN_GAP_MM 2.0
#define NOTE_GAP_MM 3.0
#define SWATCH_MM 5.0

G_DEFINE_QUARK (sherd - page - error - quark, sherd_page_error)

/* Columns of the printed table: they fill the width of the content. */
typedef enum
{
  COLUMN_ZONE,
  COLUMN_PAINT,
  COLUMN_SWATCHES,
  COLUMN_BEFORE,
  COLUMN_AFTER,
  COLUMN_SHIFT,
  COLUMN_REMARK,
  N_COLUMNS
} Column;

static const double column_width_mm[N_COLUMNS] = { 11.0, 31.0, 14.0, 29.0, 29.0, 24.0, 42.0 };

/* The document while it is drawn. */
typedef struct
{
  cairo_t *cr;
  double y_mm;
  guint n_pages;
} Pages;

static double
column_x_mm (Column column)
{
  double x_mm = EDGE_MM;

  for (guint i = 0; i < column; i++)
    x_mm += column_width_mm[i];
  return x_mm;
}

static void
end_page (Pages *pages)
{
  g_autofree char *number = g_strdup_printf ("%u", pages->n_pages);

  cairo_set_source_rgb (pages->cr, 0.3, 0.3, 0.3);
  sherd_paper_draw_line (
    pages->cr, /* xgettext:no-c-format */
    _ ("CIELAB for D50, 2° observer. ± is the expanded uncertainty, k = 2; in brackets 95 % limits that are not even."),
    EDGE_MM, CONTENT_BOTTOM_MM + 3.0, CONTENT_WIDTH_MM - 10.0, SMALL_PT, FALSE, SHERD_TEXT_LEFT);
  sherd_paper_draw_line (pages->cr, number, EDGE_MM, CONTENT_BOTTOM_MM + 3.0, CONTENT_WIDTH_MM, SMALL_PT, FALSE,
                         SHERD_TEXT_RIGHT);
  cairo_show_page (pages->cr);
}

static void
begin_page (Pages *pages)
{
  pages->n_pages++;
  pages->y_mm = EDGE_MM;
  cairo_set_source_rgb (pages->cr, 0.0, 0.0, 0.0);
}

static void
draw_title (Pages *pages, SherdTrial *trial, SherdComparison *comparison)
{
  SherdPhotograph *before = sherd_measurement_get_photograph (sherd_comparison_get_before (comparison));
  SherdPhotograph *after = sherd_measurement_get_photograph (sherd_comparison_get_after (comparison));
  g_autofree char *side = sherd_format_side (sherd_side_get_name (sherd_photograph_get_side (before)));
  g_autofree char *stage_before = sherd_format_stage (sherd_photograph_get_stage (before));
  g_autofree char *stage_after = sherd_format_stage (sherd_photograph_get_stage (after));
  g_autofree char *subject =
    g_strdup_printf (_ ("%s, %s: from “%s” to “%s”"), sherd_piece_get_name (sherd_photograph_get_piece (before)), side,
                     stage_before, stage_after);

  pages->y_mm += sherd_paper_draw_line (pages->cr, sherd_trial_get_title (trial), EDGE_MM, pages->y_mm,
                                        CONTENT_WIDTH_MM, TITLE_PT, TRUE, SHERD_TEXT_LEFT);
  pages->y_mm += sherd_paper_draw_line (pages->cr, subject, EDGE_MM, pages->y_mm + 1.0, CONTENT_WIDTH_MM, TEXT_PT,
                                        FALSE, SHERD_TEXT_LEFT) +
                 5.0;
}

/* cairo wants 32-bit pixels with blue first on little-endian machines (CAIRO_FORMAT_RGB24). */
static cairo_surface_t *
picture_surface (const SherdPicture *picture)
{
  cairo_surface_t *surface =
    cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)picture->width_px, (int)picture->height_px);
  const guint8 *rows = g_bytes_get_data (picture->pixels, NULL);
  guint8 *target;
  gsize target_stride;

  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    return surface;
  cairo_surface_flush (surface);
  target = cairo_image_surface_get_data (surface);
  target_stride = (gsize)cairo_image_surface_get_stride (surface);
  for (guint y = 0; y < picture->height_px; y++)
    for (guint x = 0; x < picture->width_px; x++)
      {
        const guint8 *rgb = rows + y * picture->stride + 3 * (gsize)x;
        guint32 pixel = (guint32)rgb[0] << 16 | (guint32)rgb[1] << 8 | rgb[2];

        *(guint32 *)(gpointer)(target + y * target_stride + 4 * (gsize)x) = pixel;
      }
  cairo_surface_mark_dirty (surface);
  return surface;
}

static void
trace_outline (cairo_t *cr, const SherdOutline *outline)
{
  for (gsize i = 0; i < outline->n_points; i++)
    cairo_line_to (cr, outline->points[i].x, outline->points[i].y);
  cairo_close_path (cr);
}

/* A dark line under a light one is seen on every colour. */
static void
stroke_on_any_colour (cairo_t *cr, double line_px)
{
  cairo_set_line_width (cr, 2.0 * line_px);
  cairo_set_source_rgba (cr, 0.0, 0.0, 0.0, 0.6);
  cairo_stroke_preserve (cr);
  cairo_set_line_width (cr, line_px);
  cairo_set_source_rgb (cr, 1.0, 1.0, 1.0);
  cairo_stroke (cr);
}

/* Letters leave most of a small zone to be seen. */
static double
code_size_pt (const SherdOutline *outline_px, double px_per_mm_of_paper)
{
  double side_mm = sqrt (sherd_outline_area (outline_px)) / px_per_mm_of_paper;

  return fmin (CODE_PT, CODE_SHARE * side_mm * SHERD_POINTS_PER_MM);
}

static void
draw_zone (cairo_t *cr, SherdZone *zone, const SherdHomography *homography, double px_per_mm_of_paper)
{
  g_autoptr (SherdOutline) outline_mm = sherd_zone_dup_outline (zone);
  g_autoptr (SherdOutline) outline_px = sherd_outline_to_photo (outline_mm, homography);
  SherdPoint middle_px;

  middle_px = sherd_outline_centroid (outline_px);
  trace_outline (cr, outline_px);
  stroke_on_any_colour (cr, 0.2 * px_per_mm_of_paper);
  cairo_save (cr);
  cairo_translate (cr, middle_px.x, middle_px.y);
  cairo_scale (cr, px_per_mm_of_paper, px_per_mm_of_paper);
  sherd_paper_draw_label (cr, sherd_zone_get_code (zone), 0.0, 0.0, code_size_pt (outline_px, px_per_mm_of_paper));
  cairo_restore (cr);
}

static void
draw_zones (cairo_t *cr, SherdPhotograph *photograph, double px_per_mm_of_paper)
{
  const SherdMarks *marks = sherd_photograph_get_marks (photograph);
  GListModel *zones = sherd_side_get_zones (sherd_photograph_get_side (photograph));
  SherdHomography homography;

  if (marks == NULL || !sherd_homography_fit (&homography, marks->marks, marks->n_marks,
                                              sherd_photograph_get_mark_sd_px (photograph), NULL))
    return;
  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      draw_zone (cr, zone, &homography, px_per_mm_of_paper);
    }
}

/* Draws the photograph as wide as it is allowed to be; returns its height. */
static double
draw_picture (cairo_t *cr, SherdPhotograph *photograph, const SherdPicture *picture, double x_mm, double y_mm)
{
  double box_mm = (CONTENT_WIDTH_MM - PICTURE_GAP_MM) / 2.0;
  double scale_mm = MIN (box_mm / picture->width_px, PICTURE_MAX_HEIGHT_MM / picture->height_px);
  double full_width_px = sherd_photograph_get_width_px (photograph);
  double reduction = full_width_px / picture->width_px;
  cairo_surface_t *surface = picture_surface (picture);

  cairo_save (cr);
  cairo_translate (cr, x_mm, y_mm);
  cairo_scale (cr, scale_mm, scale_mm);
  cairo_set_source_surface (cr, surface, 0.0, 0.0);
  cairo_rectangle (cr, 0.0, 0.0, picture->width_px, picture->height_px);
  cairo_fill_preserve (cr);
  cairo_clip (cr);
  cairo_scale (cr, 1.0 / reduction, 1.0 / reduction);
  draw_zones (cr, photograph, reduction / scale_mm);
  cairo_restore (cr);
  cairo_surface_destroy (surface);
  return scale_mm * picture->height_px;
}

/* A photograph that has gone missing leaves a line of words: the numbers are still worth printing. */
static double
draw_photograph (Pages *pages, SherdTrial *trial, SherdMeasurement *measurement, double x_mm)
{
  SherdPhotograph *photograph = sherd_measurement_get_photograph (measurement);
  double box_mm = (CONTENT_WIDTH_MM - PICTURE_GAP_MM) / 2.0;
  g_autofree char *path = sherd_trial_dup_photo_path (trial, photograph);
  g_autofree char *stage = sherd_format_stage (sherd_photograph_get_stage (photograph));
  g_autoptr (GError) error = NULL;
  g_autoptr (SherdPicture) picture = sherd_picture_load (path, PICTURE_MAX_SIDE_PX, NULL, NULL, NULL, &error);
  double height_mm = picture != NULL
                       ? draw_picture (pages->cr, photograph, picture, x_mm, pages->y_mm)
                       : sherd_paper_draw_paragraph (pages->cr, error->message, x_mm, pages->y_mm, box_mm, TEXT_PT);

  cairo_set_source_rgb (pages->cr, 0.0, 0.0, 0.0);
  return height_mm + sherd_paper_draw_line (pages->cr, stage, x_mm, pages->y_mm + height_mm + 1.0, box_mm, TEXT_PT,
                                            FALSE, SHERD_TEXT_LEFT);
}

static void
draw_photographs (Pages *pages, SherdTrial *trial, SherdComparison *comparison)
{
  double right_mm = EDGE_MM + (CONTENT_WIDTH_MM + PICTURE_GAP_MM) / 2.0;
  double before_mm = draw_photograph (pages, trial, sherd_comparison_get_before (comparison), EDGE_MM);
  double after_mm = draw_photograph (pages, trial, sherd_comparison_get_after (comparison), right_mm);

  pages->y_mm += MAX (before_mm, after_mm) + 6.0;
}

static double
cell_width_mm (Column column)
{
  return column_width_mm[column] - (column + 1 < N_COLUMNS ? COLUMN_GAP_MM : 0.0);
}

static void
draw_cell (Pages *pages, Column column, const char *text, gboolean bold)
{
  sherd_paper_draw_line (pages->cr, text, column_x_mm (column), pages->y_mm + CELL_PAD_MM, cell_width_mm (column),
                         TABLE_PT, bold, SHERD_TEXT_LEFT);
}

static void
draw_long_cell (Pages *pages, Column column, const char *text)
{
  sherd_paper_draw_paragraph (pages->cr, text, column_x_mm (column), pages->y_mm + CELL_PAD_MM, cell_width_mm (column),
                              TABLE_PT);
}

static double
long_cell_height_mm (Pages *pages, Column column, const char *text)
{
  return sherd_paper_paragraph_height (pages->cr, text, cell_width_mm (column), TABLE_PT) + 2.0 * CELL_PAD_MM;
}

static void
draw_rule (Pages *pages, double line_mm)
{
  cairo_set_line_width (pages->cr, line_mm);
  cairo_move_to (pages->cr, EDGE_MM, pages->y_mm);
  cairo_line_to (pages->cr, EDGE_MM + CONTENT_WIDTH_MM, pages->y_mm);
  cairo_stroke (pages->cr);
}

static void
draw_table_head (Pages *pages)
{
  draw_cell (pages, COLUMN_ZONE, _ ("Zone"), TRUE);
  draw_cell (pages, COLUMN_PAINT, _ ("Paint"), TRUE);
  draw_cell (pages, COLUMN_BEFORE, _ ("L* a* b* before"), TRUE);
  draw_cell (pages, COLUMN_AFTER, _ ("L* a* b* after"), TRUE);
  draw_cell (pages, COLUMN_SHIFT, _ ("ΔE00"), TRUE);
  draw_cell (pages, COLUMN_REMARK, _ ("Verdict and remarks"), TRUE);
  pages->y_mm += ROW_MM;
  draw_rule (pages, 0.3);
}

/* A box struck through is no colour, and not white. */
static void
draw_swatch (Pages *pages, const SherdZoneColour *zone, double x_mm)
{
  double y_mm = pages->y_mm + (ROW_MM - SWATCH_MM) / 2.0;
  SherdXyz xyz;
  SherdRgb linear;

  cairo_rectangle (pages->cr, x_mm, y_mm, SWATCH_MM, SWATCH_MM);
  if (sherd_zone_colour_is_measured (zone))
    {
      xyz = sherd_lab_to_xyz (&zone->lab);
      linear = sherd_srgb_from_xyz_d50 (&xyz);
      cairo_set_source_rgb (pages->cr, sherd_srgb_encode (CLAMP (linear.r, 0.0, 1.0)),
                            sherd_srgb_encode (CLAMP (linear.g, 0.0, 1.0)),
                            sherd_srgb_encode (CLAMP (linear.b, 0.0, 1.0)));
      cairo_fill_preserve (pages->cr);
      cairo_set_source_rgb (pages->cr, 0.0, 0.0, 0.0);
    }
  else
    {
      cairo_move_to (pages->cr, x_mm, y_mm + SWATCH_MM);
      cairo_line_to (pages->cr, x_mm + SWATCH_MM, y_mm);
    }
  cairo_set_line_width (pages->cr, 0.1);
  cairo_stroke (pages->cr);
}

static void
draw_colour_cell (Pages *pages, Column column, const SherdZoneColour *zone)
{
  g_autofree char *text = sherd_format_zone_colour (zone);

  draw_cell (pages, column, text, FALSE);
}

static char *
dup_shift (SherdZoneShift *zone_shift)
{
  const SherdShift *shift = sherd_zone_shift_get_shift (zone_shift);

  return shift->measured ? sherd_format_shift (shift) : g_strdup ("–");
}

static void
turn_page (Pages *pages)
{
  end_page (pages);
  begin_page (pages);
}

/* Begins a page when the row does not fit any more. */
static void
draw_table_row (Pages *pages, SherdZoneShift *zone_shift)
{
  SherdZone *zone = sherd_zone_shift_get_zone (zone_shift);
  g_autofree char *paint = sherd_format_paint (sherd_zone_get_paint (zone));
  g_autofree char *shift = dup_shift (zone_shift);
  g_autofree char *remarks = sherd_results_dup_remarks (zone_shift);
  double height_mm = fmax (ROW_MM, fmax (long_cell_height_mm (pages, COLUMN_PAINT, paint),
                                         long_cell_height_mm (pages, COLUMN_REMARK, remarks)));

  if (pages->y_mm + height_mm > CONTENT_BOTTOM_MM)
    {
      turn_page (pages);
      draw_table_head (pages);
    }
  draw_cell (pages, COLUMN_ZONE, sherd_zone_get_code (zone), TRUE);
  draw_long_cell (pages, COLUMN_PAINT, paint);
  draw_swatch (pages, sherd_zone_shift_get_before (zone_shift), column_x_mm (COLUMN_SWATCHES));
  draw_swatch (pages, sherd_zone_shift_get_after (zone_shift), column_x_mm (COLUMN_SWATCHES) + SWATCH_MM + 1.0);
  draw_colour_cell (pages, COLUMN_BEFORE, sherd_zone_shift_get_before (zone_shift));
  draw_colour_cell (pages, COLUMN_AFTER, sherd_zone_shift_get_after (zone_shift));
  draw_cell (pages, COLUMN_SHIFT, shift, TRUE);
  draw_long_cell (pages, COLUMN_REMARK, remarks);
  pages->y_mm += height_mm;
  draw_rule (pages, 0.05);
}

static void
draw_table (Pages *pages, SherdComparison *comparison)
{
  GListModel *rows = G_LIST_MODEL (comparison);

  draw_table_head (pages);
  for (guint i = 0; i < g_list_model_get_n_items (rows); i++)
    {
      g_autoptr (SherdZoneShift) zone_shift = g_list_model_get_item (rows, i);

      draw_table_row (pages, zone_shift);
    }
}

static void
draw_notes (Pages *pages, const char *heading, SherdMeasurement *measurement)
{
  g_auto (GStrv) notes = sherd_results_dup_notes (measurement);
  g_autofree char *joined = g_strjoinv (" ", notes);
  g_autofree char *text = g_strdup_printf ("%s: %s", heading, joined);

  double height_mm = sherd_paper_paragraph_height (pages->cr, text, CONTENT_WIDTH_MM, TABLE_PT);

  if (pages->y_mm + NOTE_GAP_MM + height_mm > CONTENT_BOTTOM_MM)
    turn_page (pages);
  pages->y_mm += NOTE_GAP_MM;
  pages->y_mm += sherd_paper_draw_paragraph (pages->cr, text, EDGE_MM, pages->y_mm, CONTENT_WIDTH_MM, TABLE_PT);
}

static void
draw_report (Pages *pages, SherdTrial *trial, SherdComparison *comparison)
{
  begin_page (pages);
  draw_title (pages, trial, comparison);
  draw_photographs (pages, trial, comparison);
  draw_table (pages, comparison);
  draw_notes (pages, _ ("Before"), sherd_comparison_get_before (comparison));
  draw_notes (pages, _ ("After"), sherd_comparison_get_after (comparison));
  end_page (pages);
}

static cairo_status_t
collect (void *bytes, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (bytes, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
cannot_write (const char *path, const char *reason, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, SHERD_PAGE_ERROR, SHERD_PAGE_ERROR_WRITE, _ ("The report could not be written to “%s”: %s."),
               name, reason);
  return FALSE;
}

/* In place, as a device or pipe may be named; cairo alone would not say why a file cannot be written. */
static gboolean
write_bytes (const char *path, const GByteArray *bytes, GError **error)
{
  FILE *file = g_fopen (path, "wb");
  gboolean written = file != NULL && fwrite (bytes->data, 1, bytes->len, file) == bytes->len;
  int code = errno;

  if (file != NULL && fclose (file) != 0)
    {
      code = written ? errno : code;
      written = FALSE;
    }
  return written || cannot_write (path, g_strerror (code), error);
}

/**
 * sherd_report_write_pdf:
 * @trial: the trial
 * @comparison: one of its comparisons
 * @path: file to write
 * @error: SHERD_PAGE_ERROR_WRITE
 *
 * Writes the results as A4 pages: both photographs with the outlines of their zones, a table with swatches, and what
 * there is to know of light and marks. A photograph whose file is missing leaves a note in its place.
 */
gboolean
sherd_report_write_pdf (SherdTrial *trial, SherdComparison *comparison, const char *path, GError **error)
{
  g_autoptr (GByteArray) pdf = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (collect, pdf, SHERD_A4_WIDTH_MM * SHERD_POINTS_PER_MM,
                                                                  SHERD_A4_HEIGHT_MM * SHERD_POINTS_PER_MM);
  Pages pages = { .cr = cairo_create (surface) };
  cairo_status_t status;

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, sherd_trial_get_title (trial));
  cairo_scale (pages.cr, SHERD_POINTS_PER_MM, SHERD_POINTS_PER_MM);
  draw_report (&pages, trial, comparison);
  cairo_destroy (pages.cr);
  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    return cannot_write (path, cairo_status_to_string (status), error);
  return write_bytes (path, pdf, error);
}
