/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/layout.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "plan/codes.h"
#include "trial/format.h"
#include "trial/paint-shares.h"
#include "trial/paint-use.h"
#include "trial/piece-surface.h"

static SherdRectangle
box_of_zone (SherdZone *zone)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (zone);
  double left_mm = INFINITY, top_mm = INFINITY, right_mm = -INFINITY, bottom_mm = -INFINITY;

  for (gsize i = 0; i < outline->n_points; i++)
    {
      left_mm = fmin (left_mm, outline->points[i].x);
      right_mm = fmax (right_mm, outline->points[i].x);
      top_mm = fmin (top_mm, outline->points[i].y);
      bottom_mm = fmax (bottom_mm, outline->points[i].y);
    }
  return (
    SherdRectangle){ .x_mm = left_mm, .y_mm = top_mm, .width_mm = right_mm - left_mm, .height_mm = bottom_mm - top_mm };
}

/* How high the middle of the zone lies, and how large it is; @surface: (nullable) */
static void
measure_zone (SherdLaidZone *place, const SherdPieceSurface *surface)
{
  g_autoptr (SherdOutline) outline = sherd_zone_dup_outline (place->zone);
  double position_mm[3], normal[3];

  place->height_mm = place->area_mm2 = NAN;
  if (surface == NULL)
    return;
  place->area_mm2 = sherd_surface_area_mm2 (sherd_piece_surface_get (surface), outline);
  if (!place->is_round)
    return;
  sherd_surface_position (sherd_piece_surface_get (surface),
                          sherd_surface_centroid (sherd_piece_surface_get (surface), outline), position_mm, normal);
  place->height_mm = position_mm[2];
}

static void
add_side (GArray *places, SherdPiece *piece, SherdSide *side)
{
  const gboolean is_round = sherd_piece_get_kind (piece) == SHERD_PIECE_VESSEL;
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), NULL);
  GListModel *zones = sherd_side_get_zones (side);
  const guint n_zones = g_list_model_get_n_items (zones);
  g_autofree SherdLaidZone *unordered = g_new0 (SherdLaidZone, n_zones + 1);
  g_autofree SherdRectangle *boxes = g_new (SherdRectangle, n_zones + 1);
  g_autofree guint *rows = g_new (guint, n_zones + 1);
  g_autofree guint *order = NULL;

  for (guint i = 0; i < n_zones; i++)
    {
      g_autoptr (SherdZone) zone = g_list_model_get_item (zones, i);

      boxes[i] = box_of_zone (zone);
      unordered[i] =
        (SherdLaidZone){ .piece = piece, .side = side, .zone = zone, .box = boxes[i], .is_round = is_round };
      measure_zone (&unordered[i], surface);
    }
  order = sherd_codes_reading_order (boxes, n_zones, rows);
  for (guint i = 0; i < n_zones; i++)
    {
      unordered[order[i]].row = rows[order[i]];
      g_array_append_val (places, unordered[order[i]]);
    }
}

static void
add_piece (GArray *places, SherdPiece *piece, SherdSide *only)
{
  GListModel *sides = sherd_piece_get_sides (piece);

  for (guint i = 0; i < g_list_model_get_n_items (sides); i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      if (only == NULL || side == only)
        add_side (places, piece, side);
    }
}

/**
 * sherd_trial_list_laid_zones:
 * @trial: a trial
 * @piece: (nullable): one of its pieces, or all
 * @side: (nullable): one of its sides, or all
 *
 * Returns: (transfer full) (element-type SherdLaidZone): the zones in reading order
 */
GArray *
sherd_trial_list_laid_zones (SherdTrial *trial, SherdPiece *piece, SherdSide *side)
{
  GListModel *pieces = sherd_trial_get_pieces (trial);
  GArray *places = g_array_new (FALSE, FALSE, sizeof (SherdLaidZone));

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) each = g_list_model_get_item (pieces, i);

      if (piece == NULL || each == piece)
        add_piece (places, each, side);
    }
  return places;
}

static gboolean
has_several_sides_painted (SherdPiece *piece)
{
  GListModel *sides = sherd_piece_get_sides (piece);
  guint n_sides = 0;

  for (guint i = 0; i < g_list_model_get_n_items (sides); i++)
    {
      g_autoptr (SherdSide) side = g_list_model_get_item (sides, i);

      n_sides += g_list_model_get_n_items (sherd_side_get_zones (side)) > 0;
    }
  return n_sides > 1;
}

/**
 * sherd_trial_name_laid_zone:
 * @trial: a trial
 * @place: one of its zones
 *
 * Returns: (transfer full): what people call it, no longer than it takes to find it
 */
char *
sherd_trial_name_laid_zone (SherdTrial *trial, const SherdLaidZone *place)
{
  const gboolean several = g_list_model_get_n_items (sherd_trial_get_pieces (trial)) > 1;
  g_autofree char *side = sherd_format_side (sherd_side_get_name (place->side));
  g_autoptr (GString) name = g_string_new (NULL);

  if (several)
    g_string_append_printf (name, "%s, ", sherd_piece_get_name (place->piece));
  if (has_several_sides_painted (place->piece))
    g_string_append_printf (name, "%s, ", side);
  g_string_append (name, sherd_zone_get_code (place->zone));
  return g_strdup (name->str);
}

/**
 * sherd_laid_zone_get_ground:
 * @place: a zone
 *
 * Returns: its own ground, or that of its side
 */
const char *
sherd_laid_zone_get_ground (const SherdLaidZone *place)
{
  const char *own = sherd_zone_get_ground (place->zone);

  return own != NULL ? own : sherd_side_get_ground (place->side);
}

static const SherdLaidZone *
get_place (const GArray *places, guint zone)
{
  return &g_array_index (places, SherdLaidZone, zone);
}

/**
 * sherd_trial_check_unfired:
 * @trial: a trial
 * @places: (element-type SherdLaidZone): some of its zones, piece by piece
 * @error: place for an error
 *
 * What has been in the fire is history: paints and codes of its zones stay.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_IN_USE when one of their pieces has been fired
 */
gboolean
sherd_trial_check_unfired (SherdTrial *trial, const GArray *places, GError **error)
{
  for (guint i = 0; i < places->len; i++)
    {
      SherdPiece *piece = get_place (places, i)->piece;

      if ((i == 0 || get_place (places, i - 1)->piece != piece) && sherd_trial_is_piece_fired (trial, piece))
        {
          g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_IN_USE,
                       _ ("“%s” has been fired: its zones keep their paints and codes. Choose another piece."),
                       sherd_piece_get_name (piece));
          return FALSE;
        }
    }
  return TRUE;
}

/* What a zone has of a factor; NULL where it does not apply. */
typedef const char *(*WordOfZone) (const SherdLaidZone *place);
typedef double (*NumberOfZone) (const SherdLaidZone *place);

static const char *
piece_word (const SherdLaidZone *place)
{
  return sherd_part_get_id (SHERD_PART (place->piece));
}

static const char *
side_word (const SherdLaidZone *place)
{
  return sherd_side_get_name (place->side);
}

static const char *
ground_word (const SherdLaidZone *place)
{
  const char *ground = sherd_laid_zone_get_ground (place);

  return *ground != '\0' ? ground : _ ("not stated");
}

/* No paint has no coats. */
static double
coats_number (const SherdLaidZone *place)
{
  return sherd_zone_is_bare (place->zone) ? (double)NAN : sherd_zone_get_coats (place->zone);
}

static const char *
burnish_word (const SherdLaidZone *place)
{
  static const char *const words[] = { "none", "before", "over" };

  return words[sherd_side_get_burnish (place->side)];
}

static double
drying_days (const SherdLaidZone *place)
{
  const double days = sherd_side_get_drying_days (place->side);

  return isnan (days) ? (double)INFINITY : days;
}

static double
laid_mg_cm2 (const SherdLaidZone *place)
{
  const double laid = sherd_zone_get_laid_g (place->zone, NULL) * 1e3 / (place->area_mm2 * 1e-2);

  if (sherd_zone_is_bare (place->zone))
    return NAN;
  return isnan (laid) ? (double)INFINITY : laid;
}

/* Where on a slab, from the left and from the top; around and up a vessel. */
static double
across_mm (const SherdLaidZone *place)
{
  return place->is_round ? (double)NAN : place->box.x_mm + 0.5 * place->box.width_mm;
}

static double
down_mm (const SherdLaidZone *place)
{
  return place->is_round ? (double)NAN : place->box.y_mm + 0.5 * place->box.height_mm;
}

static double
azimuth_deg (const SherdLaidZone *place)
{
  return place->is_round ? place->box.x_mm + 0.5 * place->box.width_mm : (double)NAN;
}

static double
height_mm (const SherdLaidZone *place)
{
  return place->is_round && isnan (place->height_mm) ? (double)INFINITY : place->height_mm;
}

static gboolean
has_zones (const GArray *places, gboolean is_round)
{
  for (guint zone = 0; zone < places->len; zone++)
    if (get_place (places, zone)->is_round == is_round)
      return TRUE;
  return FALSE;
}

static void
add_words (SherdLayout *layout,
           const GArray *places,
           const char *key,
           const char *name,
           SherdRole role,
           WordOfZone word_of_zone)
{
  g_autofree const char **words = g_new0 (const char *, places->len + 1);

  for (guint zone = 0; zone < places->len; zone++)
    words[zone] = word_of_zone (get_place (places, zone));
  sherd_layout_add_levels (layout, key, name, role, words);
}

static double *
collect_numbers (const GArray *places, NumberOfZone number_of_zone)
{
  double *numbers = g_new (double, places->len + 1);

  for (guint zone = 0; zone < places->len; zone++)
    numbers[zone] = number_of_zone (get_place (places, zone));
  return numbers;
}

static void
add_numbers (SherdLayout *layout, const GArray *places, const char *key, const char *name, NumberOfZone number_of_zone)
{
  g_autofree double *numbers = collect_numbers (places, number_of_zone);

  sherd_layout_add_numbers (layout, key, name, SHERD_ROLE_PLACE, numbers);
}

/* What few potters write down is asked only where somebody has. */
static void
add_numbers_if_known (SherdLayout *layout,
                      const GArray *places,
                      const char *key,
                      const char *name,
                      NumberOfZone number_of_zone)
{
  for (guint zone = 0; zone < places->len; zone++)
    if (isfinite (number_of_zone (get_place (places, zone))))
      {
        add_numbers (layout, places, key, name, number_of_zone);
        return;
      }
}

static void
add_whereabouts (SherdLayout *layout, const GArray *places)
{
  g_autofree double *azimuths_deg = collect_numbers (places, azimuth_deg);

  if (has_zones (places, FALSE))
    {
      add_numbers (layout, places, "across", _ ("place across"), across_mm);
      add_numbers (layout, places, "down", _ ("place from top to bottom"), down_mm);
    }
  if (has_zones (places, TRUE))
    {
      add_numbers (layout, places, "height", _ ("height on the wall"), height_mm);
      sherd_layout_add_directions (layout, "around", _ ("place around"), SHERD_ROLE_PLACE, azimuths_deg);
    }
}

/* What a paint was before it was changed is another paint. */
static void
add_paints (SherdLayout *layout, const GArray *places)
{
  g_auto (GStrv) words = g_new0 (char *, places->len + 1);
  g_autofree const char **levels = g_new0 (const char *, places->len + 1);

  for (guint zone = 0; zone < places->len; zone++)
    {
      SherdPaint *paint = sherd_zone_get_paint (get_place (places, zone)->zone);
      const guint revision = sherd_zone_get_paint_revision (get_place (places, zone)->zone);

      if (paint == NULL)
        words[zone] = g_strdup ("");
      else if (revision == 0)
        words[zone] = g_strdup (sherd_paint_get_code (paint));
      else
        words[zone] = g_strdup_printf ("%s (%u)", sherd_paint_get_code (paint), revision);
      levels[zone] = paint != NULL ? words[zone] : NULL;
    }
  sherd_layout_add_levels (layout, "paint", _ ("paint"), SHERD_ROLE_PAINT, levels);
}

static void
unref_shares (gpointer shares)
{
  if (shares != NULL)
    g_hash_table_unref (shares);
}

static int
compare_ids (gconstpointer a, gconstpointer b)
{
  return g_strcmp0 (*(const char *const *)a, *(const char *const *)b);
}

/* Shares of the materials in the paint of each zone; NULL for a bare zone and where they are not known. */
static GPtrArray *
collect_zone_shares (SherdTrial *trial, const GArray *places)
{
  GPtrArray *shares = g_ptr_array_new_with_free_func (unref_shares);

  for (guint zone = 0; zone < places->len; zone++)
    {
      SherdZone *it = get_place (places, zone)->zone;
      SherdPaint *paint = sherd_zone_get_paint (it);

      g_ptr_array_add (
        shares, paint != NULL ? sherd_trial_dup_paint_shares (trial, paint, sherd_zone_get_paint_revision (it)) : NULL);
    }
  return shares;
}

static void
add_share (SherdLayout *layout, SherdTrial *trial, const GArray *places, const GPtrArray *shares, const char *id)
{
  SherdMaterial *material = sherd_trial_find_material (trial, id);
  g_autofree double *values = g_new (double, places->len + 1);
  g_autofree char *key = g_strconcat ("share:", id, NULL);
  g_autofree char *name =
    g_strdup_printf (_ ("share of %s"), material != NULL ? sherd_material_get_name (material) : id);

  for (guint zone = 0; zone < places->len; zone++)
    {
      GHashTable *of_zone = g_ptr_array_index (shares, zone);
      const double *share = of_zone != NULL ? g_hash_table_lookup (of_zone, id) : NULL;

      values[zone] = share != NULL ? *share : of_zone != NULL ? 0.0 : (double)INFINITY;
      if (sherd_zone_is_bare (get_place (places, zone)->zone))
        values[zone] = NAN;
    }
  sherd_layout_add_numbers (layout, key, name, SHERD_ROLE_COMPOSITION, values);
}

static void
add_shares (SherdLayout *layout, SherdTrial *trial, const GArray *places)
{
  g_autoptr (GPtrArray) shares = collect_zone_shares (trial, places);
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GPtrArray) ids = g_ptr_array_new ();

  for (guint zone = 0; zone < places->len; zone++)
    {
      GHashTable *of_zone = g_ptr_array_index (shares, zone);
      g_autoptr (GList) names = of_zone != NULL ? g_hash_table_get_keys (of_zone) : NULL;

      for (GList *name = names; name != NULL; name = name->next)
        if (g_hash_table_add (seen, name->data))
          g_ptr_array_add (ids, name->data);
    }
  g_ptr_array_sort (ids, compare_ids);
  for (guint i = 0; i < ids->len; i++)
    add_share (layout, trial, places, shares, g_ptr_array_index (ids, i));
}

/**
 * sherd_trial_layout_new:
 * @trial: a trial
 *
 * All its zones, with all that is known of them and may matter: which paint, the shares of the
 * materials in it, ground, side, coats, paint laid, burnish, days of drying, where on the side, which piece. Binder and
 * water are left out: they leave in the fire.
 *
 * Returns: (transfer full): the layout
 */
SherdLayout *
sherd_trial_layout_new (SherdTrial *trial)
{
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, NULL, NULL);
  SherdLayout *layout = sherd_layout_new (places->len);

  for (guint zone = 0; zone < places->len; zone++)
    {
      const SherdLaidZone *place = get_place (places, zone);
      g_autofree char *name = sherd_trial_name_laid_zone (trial, place);

      sherd_layout_name_zone (layout, zone, name, sherd_zone_get_locked (place->zone));
    }
  add_paints (layout, places);
  add_shares (layout, trial, places);
  add_words (layout, places, "ground", _ ("ground"), SHERD_ROLE_PLACE, ground_word);
  add_words (layout, places, "side", _ ("side"), SHERD_ROLE_PLACE, side_word);
  add_numbers (layout, places, "coats", _ ("coats"), coats_number);
  add_numbers_if_known (layout, places, "laid_mg_cm2", _ ("paint laid"), laid_mg_cm2);
  add_words (layout, places, "burnish", _ ("burnish"), SHERD_ROLE_PLACE, burnish_word);
  add_numbers_if_known (layout, places, "drying_days", _ ("days of drying"), drying_days);
  add_whereabouts (layout, places);
  add_words (layout, places, "piece", _ ("piece"), SHERD_ROLE_PIECE, piece_word);
  return layout;
}
