/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/point.h"

G_BEGIN_DECLS

/* Which part of a photograph a widget shows, and how large. Photo positions are continuous upright pixels, (0, 0) the
 * outer corner of the first pixel; widget positions are GTK's logical pixels. */
typedef struct
{
  double zoom;                /* widget px per photo px */
  SherdPoint centre_photo_px; /* what lies in the middle of the widget */
  double width_px;            /* of the widget */
  double height_px;
  double photo_width_px;
  double photo_height_px;
} SherdPhotoView;

SherdPoint sherd_photo_view_to_widget (const SherdPhotoView *view, SherdPoint photo_px);
SherdPoint sherd_photo_view_to_photo (const SherdPhotoView *view, SherdPoint widget_px);

double sherd_photo_view_fit_zoom (const SherdPhotoView *view);
double sherd_photo_view_smallest_zoom (const SherdPhotoView *view);
double sherd_photo_view_largest_zoom (const SherdPhotoView *view);

void sherd_photo_view_fit (SherdPhotoView *view);
void sherd_photo_view_set (SherdPhotoView *view, double zoom, SherdPoint centre_photo_px);
void sherd_photo_view_hold (SherdPhotoView *view, double zoom, SherdPoint photo_px, SherdPoint widget_px);
void sherd_photo_view_pan (SherdPhotoView *view, double dx_widget_px, double dy_widget_px);
void sherd_photo_view_reveal (SherdPhotoView *view, SherdPoint photo_px, double margin_widget_px);

guint sherd_photo_view_sharp_level (const SherdPhotoView *view, int scale_factor);
guint sherd_photo_view_quick_level (const SherdPhotoView *view, int scale_factor);

G_END_DECLS
