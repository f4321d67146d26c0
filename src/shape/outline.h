/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/homography.h"

G_BEGIN_DECLS

/* A closed polygon without crossings; the last point is joined to the first. */
typedef struct
{
  SherdPoint *points;
  gsize n_points;
} SherdOutline;

/* The inner side of a line: a x + b y + c ≥ 0. */
typedef struct
{
  double a;
  double b;
  double c;
} SherdLine;

SherdOutline *sherd_outline_new (const SherdPoint *points, gsize n_points);
SherdOutline *sherd_outline_new_rectangle (double x_mm, double y_mm, double width_mm, double height_mm);
SherdOutline *sherd_outline_copy (const SherdOutline *outline);
void sherd_outline_free (SherdOutline *outline);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdOutline, sherd_outline_free)

/* @first, @second: (nullable) */
gboolean sherd_outline_equal (const SherdOutline *first, const SherdOutline *second);
double sherd_outline_signed_area (const SherdOutline *outline);
double sherd_outline_area (const SherdOutline *outline);
gboolean sherd_outline_contains (const SherdOutline *outline, SherdPoint point);
SherdPoint sherd_outline_centroid (const SherdOutline *outline);
double sherd_outline_distance (const SherdOutline *outline, SherdPoint point);
SherdOutline *sherd_outline_clip (const SherdOutline *outline, const SherdLine *line);
SherdOutline *sherd_outline_inset (const SherdOutline *outline, double inset); /* in inset.c */
SherdOutline *sherd_outline_to_photo (const SherdOutline *outline_mm, const SherdHomography *homography);

G_END_DECLS
