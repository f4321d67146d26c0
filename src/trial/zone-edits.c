/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/edits.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/code.h"
#include "trial/piece-check.h"
#include "trial/polygon.h"
#include "trial/zone-place.h"

/* @zone: (nullable): the one that is to lie there */
static gboolean
check_place (SherdPiece *piece,
             SherdSide *side,
             SherdZone *zone,
             const char *code,
             const SherdOutline *outline,
             GError **error)
{
  const SherdZonePlace place = { zone, (SherdOutline *)outline, code };

  return sherd_zone_place_check (piece, side, &place, 1, NULL, error);
}

static gboolean
check_rectangle (SherdPiece *piece, const SherdRectangle *rectangle, GError **error)
{
  const gboolean is_finite = isfinite (rectangle->x_mm) && isfinite (rectangle->y_mm) &&
                             isfinite (rectangle->width_mm) && isfinite (rectangle->height_mm);
  /* A hair for sums of decimals. */
  const double right_mm = sherd_piece_get_width_mm (piece) + 1e-6, bottom_mm = sherd_piece_get_height_mm (piece) + 1e-6;

  if (!sherd_piece_check_flat (piece, error))
    return FALSE;
  if (is_finite && rectangle->x_mm >= 0.0 && rectangle->y_mm >= 0.0 && rectangle->width_mm >= SHERD_ZONE_MIN_MM &&
      rectangle->height_mm >= SHERD_ZONE_MIN_MM && rectangle->x_mm + rectangle->width_mm <= right_mm &&
      rectangle->y_mm + rectangle->height_mm <= bottom_mm)
    return TRUE;
  g_set_error (
    error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
    _ ("A zone of %g × %g mm at %g, %g mm does not lie on a piece of %g × %g mm. It needs at least %g mm each "
       "way."),
    rectangle->width_mm, rectangle->height_mm, rectangle->x_mm, rectangle->y_mm, sherd_piece_get_width_mm (piece),
    sherd_piece_get_height_mm (piece), SHERD_ZONE_MIN_MM);
  return FALSE;
}

static gboolean
check_rectangle_place (SherdPiece *piece,
                       SherdSide *side,
                       SherdZone *zone,
                       const char *code,
                       const SherdRectangle *rectangle,
                       GError **error)
{
  g_autoptr (SherdOutline) outline = NULL;

  if (!check_rectangle (piece, rectangle, error))
    return FALSE;
  outline = sherd_outline_new_rectangle (rectangle->x_mm, rectangle->y_mm, rectangle->width_mm, rectangle->height_mm);
  return check_place (piece, side, zone, code, outline, error);
}

static gboolean
check_code (SherdSide *side, SherdZone *except, const char *code, GError **error)
{
  SherdZone *other;

  if (!sherd_code_check (code, error))
    return FALSE;
  other = sherd_side_find_zone_by_code (side, code);
  if (other == NULL || other == except)
    return TRUE;
  g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_DUPLICATE,
               _ ("There is a zone “%s” on this side already. Choose another code."), code);
  return FALSE;
}

static void
set_rectangle (SherdTrial *trial, SherdZone *zone, const SherdRectangle *rectangle)
{
  sherd_trial_set (trial, zone, "polygon", NULL);
  sherd_trial_set (trial, zone, "x-mm", rectangle->x_mm);
  sherd_trial_set (trial, zone, "y-mm", rectangle->y_mm);
  sherd_trial_set (trial, zone, "width-mm", rectangle->width_mm);
  sherd_trial_set (trial, zone, "height-mm", rectangle->height_mm);
}

static SherdZone *
new_zone (SherdTrial *trial, const char *code, const SherdRectangle *rectangle)
{
  g_autofree char *id = sherd_trial_new_id (trial, "zone");

  return sherd_zone_new (id, code, rectangle);
}

/* A zone that lies there already keeps its numbers to the last digit, so that its measurements hold. */
static void
lay_zone (SherdTrial *trial, SherdZone *zone, const SherdRectangle *cell)
{
  SherdRectangle now;

  sherd_zone_get_rectangle (zone, &now);
  if (sherd_zone_get_polygon (zone) != NULL || !sherd_rectangle_equal (&now, cell, SHERD_ZONE_SAME_PLACE_MM))
    set_rectangle (trial, zone, cell);
}

/* The zones of a grid in reading order; those whose code was there before are the same objects. */
static GPtrArray *
grid_zones (SherdTrial *trial, SherdPiece *piece, SherdSide *side, const SherdGrid *grid)
{
  GPtrArray *zones = g_ptr_array_new_with_free_func (g_object_unref);

  for (guint row = 0; row < grid->n_rows; row++)
    for (guint column = 0; column < grid->n_columns; column++)
      {
        const SherdRectangle cell =
          sherd_grid_cell (grid, sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece), row, column);
        g_autofree char *code = sherd_grid_code (row, column);
        SherdZone *zone = sherd_side_find_zone_by_code (side, code);

        if (zone == NULL)
          g_ptr_array_add (zones, new_zone (trial, code, &cell));
        else
          {
            lay_zone (trial, zone, &cell);
            g_ptr_array_add (zones, g_object_ref (zone));
          }
      }
  return zones;
}

static gboolean
same_items (GListModel *list, GPtrArray *items)
{
  if (g_list_model_get_n_items (list) != items->len)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      g_autoptr (GObject) item = g_list_model_get_item (list, i);

      if (item != g_ptr_array_index (items, i))
        return FALSE;
    }
  return TRUE;
}

/**
 * sherd_trial_set_zone_grid:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @grid: rows, columns, margins and gaps
 * @error: place for an error
 *
 * Lays a side out anew. Zones are named A1, A2, … by row and column; one that was there under its code keeps id, paint,
 * coats, replicate, ground and lock and only moves. Zones with other codes go.
 *
 * Returns: FALSE with SHERD_SHAPE_ERROR_SIZE when the grid does not fit, or SHERD_TRIAL_ERROR_VALUE when its zones
 * would be too small
 */
gboolean
sherd_trial_set_zone_grid (SherdTrial *trial, SherdPiece *piece, SherdSide *side, const SherdGrid *grid, GError **error)
{
  const double width_mm = sherd_piece_get_width_mm (piece), height_mm = sherd_piece_get_height_mm (piece);
  GListModel *zones = sherd_side_get_zones (side);
  g_autoptr (GPtrArray) laid = NULL;
  g_autofree char *label = NULL;
  SherdRectangle first;

  if (!sherd_piece_check_flat (piece, error) || !sherd_grid_check (grid, width_mm, height_mm, error))
    return FALSE;
  first = sherd_grid_cell (grid, width_mm, height_mm, 0, 0);
  if (!check_rectangle (piece, &first, error))
    return FALSE;
  label = g_strdup_printf (_ ("Lay out %u × %u zones"), grid->n_rows, grid->n_columns);
  sherd_trial_begin_edit (trial, label);
  laid = grid_zones (trial, piece, side, grid);
  if (!same_items (zones, laid))
    sherd_trial_splice (trial, zones, 0, g_list_model_get_n_items (zones), laid->pdata, laid->len);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_add_zone:
 * @trial: a trial
 * @piece: one of its pieces
 * @side: one of its sides
 * @code: what the zone is called
 * @rectangle: where it lies
 * @error: place for an error
 *
 * Returns: (transfer none): the new zone, bare; NULL with SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 */
SherdZone *
sherd_trial_add_zone (SherdTrial *trial,
                      SherdPiece *piece,
                      SherdSide *side,
                      const char *code,
                      const SherdRectangle *rectangle,
                      GError **error)
{
  g_autoptr (SherdZone) zone = NULL;
  g_autofree char *label = NULL;

  if (!check_code (side, NULL, code, error) || !check_rectangle_place (piece, side, NULL, code, rectangle, error))
    return NULL;
  zone = new_zone (trial, code, rectangle);
  label = g_strdup_printf (_ ("Add zone %s"), sherd_zone_get_code (zone));
  sherd_trial_begin_edit (trial, label);
  sherd_trial_append (trial, sherd_side_get_zones (side), zone);
  sherd_trial_end_edit (trial);
  return zone;
}

/**
 * sherd_trial_remove_zone:
 * @trial: a trial
 * @side: one of its sides
 * @zone: one of its zones
 */
void
sherd_trial_remove_zone (SherdTrial *trial, SherdSide *side, SherdZone *zone)
{
  g_autofree char *label = g_strdup_printf (_ ("Remove zone %s"), sherd_zone_get_code (zone));
  guint position;

  g_return_if_fail (g_list_store_find (G_LIST_STORE (sherd_side_get_zones (side)), zone, &position));
  sherd_trial_begin_edit (trial, label);
  sherd_trial_remove (trial, sherd_side_get_zones (side), position);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_zone_code:
 * @trial: a trial
 * @side: the zone's side
 * @zone: a zone
 * @code: another code
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE or SHERD_TRIAL_ERROR_DUPLICATE
 */
gboolean
sherd_trial_set_zone_code (SherdTrial *trial, SherdSide *side, SherdZone *zone, const char *code, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Change code of zone %s"), sherd_zone_get_code (zone));

  if (!check_code (side, zone, code, error))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, zone, "code", code);
  sherd_trial_end_edit (trial);
  return TRUE;
}

static void
begin_shaping (SherdTrial *trial, SherdZone *zone, gboolean continued)
{
  g_autofree char *label = g_strdup_printf (_ ("Move zone %s"), sherd_zone_get_code (zone));
  g_autofree char *key = g_strconcat ("shape ", sherd_part_get_id (SHERD_PART (zone)), NULL);

  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
}

/**
 * sherd_trial_set_zone_rectangle:
 * @trial: a trial
 * @piece: the zone's piece
 * @zone: a zone
 * @rectangle: where it lies now; takes the place of a polygon
 * @continued: joins the step before when that moved the same zone
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it would lie beyond the side or on another zone
 */
gboolean
sherd_trial_set_zone_rectangle (SherdTrial *trial,
                                SherdPiece *piece,
                                SherdZone *zone,
                                const SherdRectangle *rectangle,
                                gboolean continued,
                                GError **error)
{
  if (!check_rectangle_place (piece, sherd_piece_find_zone_side (piece, zone), zone, sherd_zone_get_code (zone),
                              rectangle, error))
    return FALSE;
  begin_shaping (trial, zone, continued);
  set_rectangle (trial, zone, rectangle);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_zone_polygon:
 * @trial: a trial
 * @piece: the zone's piece
 * @zone: a zone
 * @polygon: (nullable): its shape on the side, in mm or on a vessel in degrees and mm; NULL goes back to the box
 * @continued: joins the step before when that moved the same zone
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it cannot be a zone, or would lie beyond the side or on another zone
 */
gboolean
sherd_trial_set_zone_polygon (SherdTrial *trial,
                              SherdPiece *piece,
                              SherdZone *zone,
                              const SherdOutline *polygon,
                              gboolean continued,
                              GError **error)
{
  if (polygon != NULL &&
      !check_place (piece, sherd_piece_find_zone_side (piece, zone), zone, sherd_zone_get_code (zone), polygon, error))
    return FALSE;
  begin_shaping (trial, zone, continued);
  sherd_trial_set (trial, zone, "polygon", polygon);
  sherd_trial_end_edit (trial);
  return TRUE;
}

static char *
paint_label (SherdZone *const *zones, gsize n_zones, const char *code)
{
  if (n_zones == 1 && code == NULL)
    return g_strdup_printf (_ ("Leave zone %s bare"), sherd_zone_get_code (zones[0]));
  if (n_zones == 1)
    return g_strdup_printf (_ ("Paint zone %s with %s"), sherd_zone_get_code (zones[0]), code);
  if (code == NULL)
    return g_strdup_printf (ngettext ("Leave %u zone bare", "Leave %u zones bare", n_zones), (guint)n_zones);
  return g_strdup_printf (ngettext ("Paint %u zone with %s", "Paint %u zones with %s", n_zones), (guint)n_zones, code);
}

/**
 * sherd_trial_set_zones_paint:
 * @trial: a trial
 * @zones: (array length=n_zones): some of its zones
 * @n_zones: how many
 * @code: (nullable): code of a paint, which is made when there is none yet; NULL or "" leaves the zones bare
 * @error: place for an error
 *
 * Says which paint is on which zones, in one edit.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when @code cannot be a code
 */
gboolean
sherd_trial_set_zones_paint (SherdTrial *trial,
                             SherdZone *const *zones,
                             gsize n_zones,
                             const char *code,
                             GError **error)
{
  const char *wanted = code != NULL && *code != '\0' ? code : NULL;
  g_autofree char *label = NULL;
  SherdPaint *paint = NULL;

  if (n_zones == 0)
    return TRUE;
  if (wanted != NULL && !sherd_code_check (wanted, error))
    return FALSE;
  label = paint_label (zones, n_zones, wanted);
  sherd_trial_begin_edit (trial, label);
  if (wanted != NULL)
    paint = sherd_trial_find_paint_by_code (trial, wanted);
  if (wanted != NULL && paint == NULL)
    paint = sherd_trial_add_paint (trial, wanted, NULL, NULL);
  for (gsize i = 0; i < n_zones; i++)
    {
      if (sherd_zone_get_paint (zones[i]) != paint)
        sherd_trial_set (trial, zones[i], "paint-revision", 0);
      sherd_trial_set (trial, zones[i], "paint", paint);
    }
  sherd_trial_end_edit (trial);
  return TRUE;
}

static gboolean
set_count (SherdTrial *trial,
           SherdZone *zone,
           const char *label,
           const char *property,
           guint count,
           gboolean continued,
           GError **error)
{
  g_autofree char *key = g_strconcat (property, " ", sherd_part_get_id (SHERD_PART (zone)), NULL);
  GParamSpecUInt *pspec = G_PARAM_SPEC_UINT (g_object_class_find_property (G_OBJECT_GET_CLASS (zone), property));

  if (count < pspec->minimum || count > pspec->maximum)
    {
      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("%u is out of range: it must be %u to %u."),
                   count, pspec->minimum, pspec->maximum);
      return FALSE;
    }
  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, zone, property, count);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_zone_coats:
 * @trial: a trial
 * @zone: one of its zones
 * @coats: how many coats of paint
 * @continued: joins the step before when that changed the coats of the same zone
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it is not 1…99
 */
gboolean
sherd_trial_set_zone_coats (SherdTrial *trial, SherdZone *zone, guint coats, gboolean continued, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Coats of zone %s"), sherd_zone_get_code (zone));

  return set_count (trial, zone, label, "coats", coats, continued, error);
}

/**
 * sherd_trial_set_zone_replicate:
 * @trial: a trial
 * @zone: one of its zones
 * @replicate: which repetition of the same treatment it is
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it is not 1…9999
 */
gboolean
sherd_trial_set_zone_replicate (SherdTrial *trial, SherdZone *zone, guint replicate, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Replicate of zone %s"), sherd_zone_get_code (zone));

  return set_count (trial, zone, label, "replicate", replicate, FALSE, error);
}

/**
 * sherd_trial_set_zone_ground:
 * @trial: a trial
 * @zone: one of its zones
 * @ground: (nullable): what lies under it; NULL or "" where the side's ground goes on
 */
void
sherd_trial_set_zone_ground (SherdTrial *trial, SherdZone *zone, const char *ground)
{
  g_autofree char *label = g_strdup_printf (_ ("Ground of zone %s"), sherd_zone_get_code (zone));

  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, zone, "ground", ground != NULL && *ground != '\0' ? ground : NULL);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_zone_locked:
 * @trial: a trial
 * @zone: one of its zones
 * @locked: whether layout must leave it where it is
 */
void
sherd_trial_set_zone_locked (SherdTrial *trial, SherdZone *zone, gboolean locked)
{
  g_autofree char *label = locked ? g_strdup_printf (_ ("Lock zone %s"), sherd_zone_get_code (zone))
                                  : g_strdup_printf (_ ("Unlock zone %s"), sherd_zone_get_code (zone));

  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, zone, "locked", locked);
  sherd_trial_end_edit (trial);
}
