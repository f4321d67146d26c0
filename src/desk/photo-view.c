/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-view.h"

#include <math.h>

/* Our choice: at 32 widget px per photo px a corner's blur of a few pixels fills the screen; more shows nothing new. */
#define LARGEST_ZOOM 32.0
/* Our choice: half the size at which all of it fits, so that there is ground around it to drag on. */
#define SMALLEST_OF_FIT 0.5
/* Below three quarters cairo shrinks a picture with a slow filter. */
#define QUICK_LEAST_SCALE 0.75
/* Our choice: what is left free around a photograph shown whole. */
#define FIT_MARGIN_PX 12.0

/* Where the photograph's corner (0, 0) lies. A whole number, so that dragging moves the picture by whole screen pixels
 * and it does not shimmer; drawing and picking both use it, so they agree exactly. */
static SherdPoint
origin_widget_px (const SherdPhotoView *view)
{
  return (SherdPoint){
    floor (view->width_px / 2.0 - view->centre_photo_px.x * view->zoom + 0.5),
    floor (view->height_px / 2.0 - view->centre_photo_px.y * view->zoom + 0.5),
  };
}

/**
 * sherd_photo_view_to_widget:
 * @view: the view
 * @photo_px: a position in the upright photograph, px
 *
 * Returns: where it is shown, logical px from the widget's top left corner
 */
SherdPoint
sherd_photo_view_to_widget (const SherdPhotoView *view, SherdPoint photo_px)
{
  const SherdPoint origin = origin_widget_px (view);

  return (SherdPoint){ origin.x + photo_px.x * view->zoom, origin.y + photo_px.y * view->zoom };
}

/**
 * sherd_photo_view_to_photo:
 * @view: the view
 * @widget_px: a position in the widget, logical px
 *
 * Returns: what is shown there, px of the upright photograph; outside the photograph the frame simply goes on
 */
SherdPoint
sherd_photo_view_to_photo (const SherdPhotoView *view, SherdPoint widget_px)
{
  const SherdPoint origin = origin_widget_px (view);

  return (SherdPoint){ (widget_px.x - origin.x) / view->zoom, (widget_px.y - origin.y) / view->zoom };
}

/**
 * sherd_photo_view_fit_zoom:
 * @view: the view
 *
 * Returns: the zoom at which all of the photograph is seen, with a small margin; 1 where there is no photograph
 */
double
sherd_photo_view_fit_zoom (const SherdPhotoView *view)
{
  const double width_px = MAX (view->width_px - 2.0 * FIT_MARGIN_PX, 16.0);
  const double height_px = MAX (view->height_px - 2.0 * FIT_MARGIN_PX, 16.0);

  if (view->photo_width_px <= 0.0 || view->photo_height_px <= 0.0)
    return 1.0;
  return MIN (MIN (width_px / view->photo_width_px, height_px / view->photo_height_px), LARGEST_ZOOM);
}

double
sherd_photo_view_smallest_zoom (const SherdPhotoView *view)
{
  return MIN (SMALLEST_OF_FIT * sherd_photo_view_fit_zoom (view), 1.0);
}

double
sherd_photo_view_largest_zoom (const SherdPhotoView *view)
{
  return LARGEST_ZOOM;
}

/* Any place of the photograph, its corners too, can be brought to the middle, and the photograph cannot get lost. */
static void
confine (SherdPhotoView *view)
{
  view->zoom = CLAMP (view->zoom, sherd_photo_view_smallest_zoom (view), sherd_photo_view_largest_zoom (view));
  view->centre_photo_px.x = CLAMP (view->centre_photo_px.x, 0.0, view->photo_width_px);
  view->centre_photo_px.y = CLAMP (view->centre_photo_px.y, 0.0, view->photo_height_px);
}

/**
 * sherd_photo_view_fit:
 * @view: the view
 *
 * Shows the whole photograph in the middle of the widget.
 */
void
sherd_photo_view_fit (SherdPhotoView *view)
{
  const SherdPoint middle = { view->photo_width_px / 2.0, view->photo_height_px / 2.0 };

  sherd_photo_view_set (view, sherd_photo_view_fit_zoom (view), middle);
}

/**
 * sherd_photo_view_set:
 * @view: the view
 * @zoom: widget px per photo px
 * @centre_photo_px: what comes to the middle of the widget
 *
 * Sets the view, brought back into its limits where it would leave them.
 */
void
sherd_photo_view_set (SherdPhotoView *view, double zoom, SherdPoint centre_photo_px)
{
  view->zoom = zoom;
  view->centre_photo_px = centre_photo_px;
  confine (view);
}

/**
 * sherd_photo_view_hold:
 * @view: the view
 * @zoom: widget px per photo px
 * @photo_px: a place in the photograph
 * @widget_px: where that place is to be shown
 *
 * Zooms about a place, as under the pointer; it keeps its place to half a widget pixel.
 */
void
sherd_photo_view_hold (SherdPhotoView *view, double zoom, SherdPoint photo_px, SherdPoint widget_px)
{
  const double kept_zoom = CLAMP (zoom, sherd_photo_view_smallest_zoom (view), sherd_photo_view_largest_zoom (view));
  const SherdPoint centre = {
    photo_px.x + (view->width_px / 2.0 - widget_px.x) / kept_zoom,
    photo_px.y + (view->height_px / 2.0 - widget_px.y) / kept_zoom,
  };

  sherd_photo_view_set (view, kept_zoom, centre);
}

/**
 * sherd_photo_view_pan:
 * @view: the view
 * @dx_widget_px: how far the picture moves to the right, logical px
 * @dy_widget_px: how far it moves down
 */
void
sherd_photo_view_pan (SherdPhotoView *view, double dx_widget_px, double dy_widget_px)
{
  view->centre_photo_px.x -= dx_widget_px / view->zoom;
  view->centre_photo_px.y -= dy_widget_px / view->zoom;
  confine (view);
}

/* How far a position must move so as to lie between @least and @most. */
static double
move_into (double position, double least, double most)
{
  return least > most ? (least + most) / 2.0 - position : CLAMP (position, least, most) - position;
}

/**
 * sherd_photo_view_reveal:
 * @view: the view
 * @photo_px: a place in the photograph
 * @margin_widget_px: how far it must lie from the widget's edges
 *
 * Moves the picture as little as needed for @photo_px to be seen.
 */
void
sherd_photo_view_reveal (SherdPhotoView *view, SherdPoint photo_px, double margin_widget_px)
{
  const SherdPoint at = sherd_photo_view_to_widget (view, photo_px);

  sherd_photo_view_pan (view, move_into (at.x, margin_widget_px, view->width_px - margin_widget_px),
                        move_into (at.y, margin_widget_px, view->height_px - margin_widget_px));
}

/* log2 of photo px per device px. */
static double
halvings (const SherdPhotoView *view, int scale_factor)
{
  return -log2 (view->zoom * scale_factor);
}

/**
 * sherd_photo_view_sharp_level:
 * @view: the view
 * @scale_factor: device px per logical px
 *
 * Returns: how often the photograph may be halved and still have at least one pixel per device pixel
 */
guint
sherd_photo_view_sharp_level (const SherdPhotoView *view, int scale_factor)
{
  return (guint)MAX (floor (halvings (view, scale_factor)), 0.0);
}

/**
 * sherd_photo_view_quick_level:
 * @view: the view
 * @scale_factor: device px per logical px
 *
 * The coarsest halving that is enlarged by half at most. For the time the picture is moving: nothing has to be shrunk
 * to less than three quarters, below which cairo 1.16 takes a slow filter (measured: 25 ms a frame instead of 6).
 *
 * Returns: how often to halve
 */
guint
sherd_photo_view_quick_level (const SherdPhotoView *view, int scale_factor)
{
  return (guint)MAX (ceil (halvings (view, scale_factor) + log2 (QUICK_LEAST_SCALE)), 0.0);
}
