/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/piece-check.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/error.h"
#include "trial/piece-surface.h"

/**
 * sherd_piece_check_name:
 * @name: (nullable): what a piece is to be called
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether it is more than blanks
 */
gboolean
sherd_piece_check_name (const char *name, GError **error)
{
  g_autofree char *stripped = name != NULL ? g_strstrip (g_strdup (name)) : NULL;

  if (stripped != NULL && *stripped != '\0')
    return TRUE;
  g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("A piece needs a name."));
  return FALSE;
}

static gboolean
is_size (double length_mm)
{
  return isfinite (length_mm) && length_mm >= SHERD_PIECE_MIN_MM && length_mm <= SHERD_PIECE_MAX_MM;
}

/**
 * sherd_piece_check_size:
 * @width_mm: width of the face
 * @height_mm: height of the face
 * @thickness_mm: 0 when not known
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether a slab can measure that
 */
gboolean
sherd_piece_check_size (double width_mm, double height_mm, double thickness_mm, GError **error)
{
  if (is_size (width_mm) && is_size (height_mm) && isfinite (thickness_mm) && thickness_mm >= 0.0 &&
      thickness_mm <= SHERD_PIECE_MAX_MM)
    return TRUE;
  g_set_error (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
    _ ("A tile cannot measure %g × %g × %g mm. Width and height are %g to %g mm, the thickness is 0 when it is "
       "not known."),
    width_mm, height_mm, thickness_mm, SHERD_PIECE_MIN_MM, SHERD_PIECE_MAX_MM);
  return FALSE;
}

/**
 * sherd_piece_check_own_size:
 * @piece: a piece
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether its width and height can be set
 */
gboolean
sherd_piece_check_own_size (SherdPiece *piece, GError **error)
{
  if (sherd_piece_has_own_size (piece))
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("“%s” takes its size from its profile or edge: change that."), sherd_piece_get_name (piece));
  return FALSE;
}

/**
 * sherd_piece_check_flat:
 * @piece: a piece
 * @error: SHERD_TRIAL_ERROR_VALUE
 *
 * Returns: whether places on it are mm to the right and down
 */
gboolean
sherd_piece_check_flat (SherdPiece *piece, GError **error)
{
  if (!sherd_piece_is_vessel (piece))
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
               _ ("“%s” is a vessel: its zones lie in rings and sectors, not in rows and columns."),
               sherd_piece_get_name (piece));
  return FALSE;
}

static gboolean
check_zone_fits (const SherdPieceSurface *now, const SherdPieceSurface *then, SherdZone *zone, GError **error)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
  const double outside_mm2 = sherd_surface_outside_mm2 (sherd_piece_surface_get (then), outline, NULL);

  if (outside_mm2 <= SHERD_ZONING_LEAST_FAULT_MM2 || now == NULL ||
      sherd_surface_outside_mm2 (sherd_piece_surface_get (now), outline, NULL) >= outside_mm2)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE,
               _ ("Zone “%s” would reach beyond the piece. Move or remove it first."), sherd_zone_get_code (zone));
  return FALSE;
}

static gboolean
check_side_fits (SherdPiece *piece, SherdPiece *reshaped, SherdSide *side, GError **error)
{
  const char *name = sherd_side_get_name (side);
  GListModel *zones = sherd_side_get_zones (side);
  g_autoptr (SherdPieceSurface) now = sherd_piece_surface_new (piece, name, NULL);
  g_autoptr (SherdPieceSurface) then = sherd_piece_surface_new (reshaped, name, error);

  if (then == NULL)
    return FALSE;
  for (guint i = 0; i < g_list_model_get_n_items (zones); i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      if (!check_zone_fits (now, then, zone, error))
        return FALSE;
    }
  return TRUE;
}

/**
 * sherd_piece_check_zones_fit:
 * @piece: a piece with zones
 * @reshaped: one of the same kind and another form
 * @error: SHERD_TRIAL_ERROR_IN_USE, names the zone
 *
 * Returns: whether no zone would come to reach further beyond its side than it does now
 */
gboolean
sherd_piece_check_zones_fit (SherdPiece *piece, SherdPiece *reshaped, GError **error)
{
  GListModel *sides = sherd_piece_get_sides (piece);

  for (guint i = 0; i < g_list_model_get_n_items (sides); i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      if (!check_side_fits (piece, reshaped, side, error))
        return FALSE;
    }
  return TRUE;
}
