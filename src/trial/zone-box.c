/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/zone-box-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* SHERD_TRIAL_ERROR_VALUE in words; FALSE */
gboolean
sherd_zone_box_refuse (GError **error, const char *message)
{
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, message);
  return FALSE;
}

SherdZoneBox
sherd_zone_box_round (const SherdOutline *outline)
{
  SherdZoneBox box = { G_MAXDOUBLE, -G_MAXDOUBLE, G_MAXDOUBLE, -G_MAXDOUBLE };

  for (gsize i = 0; i < outline->n_points; i++)
    {
      box.azimuth0_deg = MIN (box.azimuth0_deg, outline->points[i].x);
      box.azimuth1_deg = MAX (box.azimuth1_deg, outline->points[i].x);
      box.arc0_mm = MIN (box.arc0_mm, outline->points[i].y);
      box.arc1_mm = MAX (box.arc1_mm, outline->points[i].y);
    }
  return box;
}

/**
 * sherd_zone_get_box:
 * @zone: a zone
 *
 * Returns: its box on the side, or the one round its polygon
 */
SherdZoneBox
sherd_zone_get_box (SherdZone *zone)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);

  return sherd_zone_box_round (outline);
}

void
sherd_zone_box_set (SherdTrial *trial, SherdPiece *piece, SherdZone *zone, const SherdZoneBox *box)
{
  sherd_trial_set (trial, zone, "polygon", NULL);
  if (sherd_piece_is_vessel (piece))
    {
      sherd_trial_set (trial, zone, "azimuth0-deg", box->azimuth0_deg);
      sherd_trial_set (trial, zone, "azimuth1-deg", box->azimuth1_deg);
      sherd_trial_set (trial, zone, "arc0-mm", box->arc0_mm);
      sherd_trial_set (trial, zone, "arc1-mm", box->arc1_mm);
    }
  else
    {
      sherd_trial_set (trial, zone, "x-mm", box->azimuth0_deg);
      sherd_trial_set (trial, zone, "y-mm", box->arc0_mm);
      sherd_trial_set (trial, zone, "width-mm", box->azimuth1_deg - box->azimuth0_deg);
      sherd_trial_set (trial, zone, "height-mm", box->arc1_mm - box->arc0_mm);
    }
}

SherdZone *
sherd_zone_box_new_zone (SherdTrial *trial, SherdPiece *piece, const char *code, const SherdZoneBox *box)
{
  g_autofree char *id = sherd_trial_new_id (trial, "zone");
  const SherdRectangle rectangle = { .x_mm = box->azimuth0_deg,
                                     .y_mm = box->arc0_mm,
                                     .width_mm = box->azimuth1_deg - box->azimuth0_deg,
                                     .height_mm = box->arc1_mm - box->arc0_mm };

  return sherd_piece_is_vessel (piece) ? sherd_zone_new_range (id, code, box) : sherd_zone_new (id, code, &rectangle);
}

/* On a vessel azimuths may run on over the zero mark, once round at most. */
gboolean
sherd_zone_box_check (SherdPiece *piece, const SherdZoneBox *box, GError **error)
{
  const double width = box->azimuth1_deg - box->azimuth0_deg, height = box->arc1_mm - box->arc0_mm;
  const double least = sherd_piece_is_vessel (piece) ? SHERD_ZONE_BOX_SAME : SHERD_ZONE_MIN_MM;

  if (!isfinite (width) || !isfinite (height) || !(width >= least) || !(height >= SHERD_ZONE_MIN_MM))
    return sherd_zone_box_refuse (error, _ ("A zone needs a width and a height."));
  if (!sherd_piece_is_vessel (piece))
    return TRUE;
  if (width <= 360.0 && box->azimuth0_deg >= SHERD_ZONE_MIN_AZIMUTH_DEG &&
      box->azimuth1_deg <= SHERD_ZONE_MAX_AZIMUTH_DEG)
    return TRUE;
  return sherd_zone_box_refuse (error, _ ("A zone runs round the vessel once at most."));
}

static void
clear_place (gpointer data)
{
  SherdZonePlace *place = data;

  sherd_outline_free (place->outline);
}

GArray *
sherd_zone_places_new (void)
{
  GArray *places = g_array_new (FALSE, FALSE, sizeof (SherdZonePlace));

  g_array_set_clear_func (places, clear_place);
  return places;
}

void
sherd_zone_places_add (GArray *places, SherdZone *zone, const char *code, const SherdZoneBox *box)
{
  const SherdZonePlace place = { zone, sherd_range_outline (box), code };

  g_array_append_val (places, place);
}

gboolean
sherd_zone_places_check (SherdPiece *piece, SherdSide *side, GArray *places, GPtrArray *gone, GError **error)
{
  return sherd_zone_place_check (piece, side, (const SherdZonePlace *)(gpointer)places->data, places->len, gone, error);
}

void
sherd_trial_begin_moving_zone (SherdTrial *trial, SherdZone *zone, gboolean continued)
{
  g_autofree char *label = g_strdup_printf (_ ("Move zone %s"), sherd_zone_get_code (zone));
  g_autofree char *key = g_strconcat ("shape ", sherd_part_get_id (SHERD_PART (zone)), NULL);

  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
}

void
sherd_zone_take_treatment (SherdZone *zone, SherdZone *from)
{
  g_object_set (zone, "paint", sherd_zone_get_paint (from), "coats", sherd_zone_get_coats (from), "ground",
                sherd_zone_get_ground (from), NULL);
}
