/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photo-canvas-private.h"

#include "colour/srgb.h"
#include "desk/lab-text.h"

/**
 * sherd_photo_canvas_set_colour_func:
 * @self: the canvas
 * @func: (nullable): turns linear light of the photograph into XYZ (D50); NULL takes it for sRGB
 * @user_data: for @func
 * @destroy: (nullable): frees @user_data
 *
 * Sets how colours under the pointer are corrected, as by a fitted light correction.
 */
void
sherd_photo_canvas_set_colour_func (SherdPhotoCanvas *self,
                                    SherdPhotoColourFunc func,
                                    gpointer user_data,
                                    GDestroyNotify destroy)
{
  g_return_if_fail (SHERD_IS_PHOTO_CANVAS (self));
  if (self->colour_destroy)
    self->colour_destroy (self->colour_data);
  self->colour_func = func;
  self->colour_data = user_data;
  self->colour_destroy = destroy;
}

/**
 * sherd_photo_canvas_get_colour:
 * @self: the canvas
 * @photo_px: a place
 * @lab: (out): CIELAB, D50, 2°
 *
 * The mean colour of a disc of 5 px radius, averaged in linear light. Taken from the 8-bit sRGB picture on the screen,
 * so that it is for looking, not for measuring.
 *
 * Returns: FALSE outside the photograph or before it has been read
 */
gboolean
sherd_photo_canvas_get_colour (SherdPhotoCanvas *self, SherdPoint photo_px, SherdLab *lab)
{
  SherdRgb linear;
  SherdXyz xyz;

  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), FALSE);
  if (!self->pyramid || !sherd_photo_pyramid_mean (self->pyramid, photo_px.x, photo_px.y, SHERD_PHOTO_DISC_PX, &linear))
    return FALSE;
  xyz = self->colour_func ? self->colour_func (&linear, photo_px, self->colour_data) : sherd_srgb_to_xyz_d50 (&linear);
  *lab = sherd_lab_from_xyz (&xyz);
  return TRUE;
}

/**
 * sherd_photo_canvas_dup_colour_text:
 * @self: the canvas
 * @photo_px: a place
 *
 * Returns: (transfer full): its colour in words, “L* 45.2, a* 12.3, b* 20.1”, or a dash where there is none
 */
char *
sherd_photo_canvas_dup_colour_text (SherdPhotoCanvas *self, SherdPoint photo_px)
{
  SherdLab lab;

  g_return_val_if_fail (SHERD_IS_PHOTO_CANVAS (self), NULL);
  if (!sherd_photo_canvas_get_colour (self, photo_px, &lab))
    return g_strdup ("–");
  return sherd_lab_text (&lab);
}
