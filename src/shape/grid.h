/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/outline.h"

G_BEGIN_DECLS

/* Rows × columns of rectangular cells on a rectangle; origin top left, x right, y down, mm. */
typedef struct
{
  guint n_rows;
  guint n_columns;
  double left_mm; /* margins from the edges of the face */
  double top_mm;
  double right_mm;
  double bottom_mm;
  double gap_x_mm; /* bare clay between neighbours */
  double gap_y_mm;
} SherdGrid;

typedef struct
{
  double x_mm;
  double y_mm;
  double width_mm;
  double height_mm;
} SherdRectangle;

gboolean sherd_rectangle_equal (const SherdRectangle *first, const SherdRectangle *second, double tolerance_mm);
gboolean sherd_grid_check (const SherdGrid *grid, double width_mm, double height_mm, GError **error);
SherdRectangle sherd_grid_cell (const SherdGrid *grid, double width_mm, double height_mm, guint row, guint column);
/* (transfer full): "A1" reads row A, column 1; after row Z comes AA. */
char *sherd_grid_code (guint row, guint column);

G_END_DECLS
