/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/chart.h"
#include "shape/grid.h"

G_BEGIN_DECLS

/* How the patches of a chart lie: see sherd_chart_layout_init_plain () for a chart of which nothing is known but rows
 * and columns. */
typedef struct
{
  guint n_rows;
  guint n_columns;
  double frame_width_mm; /* the frame whose corners are picked */
  double frame_height_mm;
  double left_mm; /* from the frame to the first patch */
  double top_mm;
  double patch_width_mm;
  double patch_height_mm;
  double gap_x_mm; /* between neighbouring patches */
  double gap_y_mm;
} SherdChartLayout;

/* What the four reference marks of a chart are picked on. */
typedef enum
{
  SHERD_CHART_MARKS_FRAME,         /* the four corners of the frame */
  SHERD_CHART_MARKS_FIELD,         /* the four outer corners of the field of patches */
  SHERD_CHART_MARKS_PATCH_CENTRES, /* the centres of the four corner patches */
} SherdChartMarks;

/* Our choice: larger charts are sampled by their maker's software, not by a camera. */
#define SHERD_CHART_MAX_PATCHES 2000u

/* Our choice: no chart is larger than a wall poster. */
#define SHERD_CHART_MAX_MM 3000.0

/* Only rows and columns known. The frame is the whole field of patches: pick its outer corners as
 * SHERD_CHART_MARKS_FRAME, or SHERD_CHART_MARKS_PATCH_CENTRES. */
void sherd_chart_layout_init_plain (SherdChartLayout *layout, guint n_rows, guint n_columns);
gboolean sherd_chart_layout_check (const SherdChartLayout *layout, GError **error);
SherdRectangle sherd_chart_layout_patch (const SherdChartLayout *layout, guint row, guint column);
/* The four places in the chart's frame, in mm: top left, top right, bottom right, bottom left. */
void sherd_chart_layout_marks (const SherdChartLayout *layout, SherdChartMarks kind, SherdPoint points_mm[4]);

/* (transfer full): for each place in reading order the index of its patch in @chart, n_rows × n_columns of them. */
guint *sherd_chart_layout_match (const SherdChartLayout *layout, const SherdChart *chart, GError **error);

/* FALSE when the names of its patches do not tell. */
gboolean sherd_chart_layout_guess (const SherdChart *chart, guint *n_rows, guint *n_columns);

G_END_DECLS
