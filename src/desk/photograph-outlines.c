/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/photograph-outlines.h"

#include "trial/format.h"

static void
add_zone (SherdPhotoCanvas *canvas, SherdZone *zone, const SherdHomography *homography, SherdMeasurement *measurement)
{
  g_autoptr (SherdOutline) outline_mm = sherd_zone_dup_outline (zone);
  g_autoptr (SherdOutline) outline_px = sherd_outline_to_photo (outline_mm, homography);
  const SherdZoneColour *colour =
    measurement != NULL ? sherd_measurement_find_zone (measurement, sherd_part_get_id (SHERD_PART (zone))) : NULL;
  g_autofree char *note = colour != NULL ? sherd_format_zone_flags (colour->flags) : NULL;
  guint index = sherd_photo_canvas_add_outline (canvas, outline_px, sherd_zone_get_code (zone));

  if (colour == NULL || colour->flags == 0)
    return;
  sherd_photo_canvas_set_outline_state (
    canvas, index,
    (colour->flags & SHERD_ZONE_NOT_MEASURED) != 0 ? SHERD_PHOTO_OUTLINE_NOT_MEASURED : SHERD_PHOTO_OUTLINE_FLAGGED,
    note);
}

/**
 * sherd_photograph_outlines_add_zones:
 * @canvas: where the photograph is shown
 * @trial: the trial
 * @photograph: one of its photographs
 * @homography: from mm on the side to px in the photograph
 *
 * Draws the zones of the side it shows, with what was remarked on each when it was measured.
 */
void
sherd_photograph_outlines_add_zones (SherdPhotoCanvas *canvas,
                                     SherdTrial *trial,
                                     SherdPhotograph *photograph,
                                     const SherdHomography *homography)
{
  GListModel *zones = sherd_side_get_zones (sherd_photograph_get_side (photograph));
  SherdMeasurement *measurement = sherd_trial_get_measurement (trial, photograph);

  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      add_zone (canvas, zone, homography, measurement);
    }
}

/**
 * sherd_photograph_outlines_add_patches:
 * @canvas: where the photograph is shown
 * @photograph: a photograph
 * @plan: its marks
 *
 * Draws the patches of its reference, once that has enough marks to tell where they lie.
 */
void
sherd_photograph_outlines_add_patches (SherdPhotoCanvas *canvas, SherdPhotograph *photograph, const SherdMarkPlan *plan)
{
  g_autoptr (GArray) marks = sherd_mark_plan_get_placed (plan, SHERD_PHOTO_MARK_REFERENCE);
  SherdHomography homography;
  gsize n_patches;
  const SherdReferencePatch *patches =
    sherd_reference_get_patches (sherd_photograph_get_reference (photograph), &n_patches);

  if (!sherd_homography_fit (&homography, (const SherdMark *)marks->data, marks->len,
                             sherd_photograph_get_mark_sd_px (photograph), NULL))
    return;
  for (gsize i = 0; i < n_patches; i++)
    {
      const SherdRectangle *box = &patches[i].rectangle_mm;
      g_autoptr (SherdOutline) outline_mm =
        sherd_outline_new_rectangle (box->x_mm, box->y_mm, box->width_mm, box->height_mm);
      g_autoptr (SherdOutline) outline_px = sherd_outline_to_photo (outline_mm, &homography);

      sherd_photo_canvas_add_outline (canvas, outline_px, patches[i].name);
    }
}
