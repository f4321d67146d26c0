/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/piece-results.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "trial/piece-surface.h"

/* Common practice, no source: a ruler on a hand-made piece is right to half a percent, a wall to half a millimetre. */
#define LENGTH_SD_FRAC 0.005
#define THICKNESS_SD_MM 0.5

static const SherdMass unknown_mass = { NAN, NAN };

/**
 * sherd_piece_get_mass:
 * @piece: a piece
 *
 * Returns: its mass and standard uncertainty from its volume and the usual density of such clay in that state
 * (shape/body.h); NAN when the thickness is not known
 */
SherdMass
sherd_piece_get_mass (SherdPiece *piece)
{
  const SherdLength thickness = { sherd_piece_get_thickness_mm (piece), THICKNESS_SD_MM };
  const char *side_name = sherd_piece_kind_get_sides (sherd_piece_get_kind (piece))[0];
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (piece, side_name, NULL);
  const SherdDensity density = sherd_body_density (sherd_piece_get_state (piece));
  SherdVolume volume;

  if (surface == NULL || !(thickness.mm > 0.0))
    return unknown_mass;
  if (sherd_piece_is_vessel (piece))
    volume = sherd_body_of_vessel (sherd_piece_surface_get_vessel (surface), LENGTH_SD_FRAC, THICKNESS_SD_MM);
  else
    volume =
      sherd_body_of_slab (sherd_surface_whole_area_mm2 (sherd_piece_surface_get (surface)), LENGTH_SD_FRAC, &thickness);
  return sherd_body_mass (&volume, &density);
}

/**
 * sherd_piece_get_side_area_mm2:
 * @piece: a piece
 * @side: one of its sides
 *
 * Returns: the true area of the side's surface; NAN when the piece has none
 */
double
sherd_piece_get_side_area_mm2 (SherdPiece *piece, SherdSide *side)
{
  g_autoptr (SherdPieceSurface) surface = sherd_piece_surface_new (piece, sherd_side_get_name (side), NULL);

  return surface != NULL ? sherd_surface_whole_area_mm2 (sherd_piece_surface_get (surface)) : (double)NAN;
}

static const char *
nick_of (GType type, int value)
{
  g_autoptr (GEnumClass) klass = g_type_class_ref (type);

  return g_enum_get_value (klass, value)->value_nick;
}

static void
add_side (SherdTable *table, SherdPiece *piece, SherdSide *side)
{
  const SherdMass mass = sherd_piece_get_mass (piece);

  sherd_table_add_row (table);
  sherd_table_set_text (table, "piece", sherd_piece_get_name (piece));
  sherd_table_set_text (table, "kind", nick_of (SHERD_TYPE_PIECE_KIND, sherd_piece_get_kind (piece)));
  sherd_table_set_text (table, "state", nick_of (SHERD_TYPE_CLAY_STATE, sherd_piece_get_state (piece)));
  sherd_table_set_number (table, "width_mm", sherd_piece_get_width_mm (piece));
  sherd_table_set_number (table, "height_mm", sherd_piece_get_height_mm (piece));
  sherd_table_set_number (table, "mass_g", mass.g);
  sherd_table_set_number (table, "mass_g_u", 2.0 * mass.sd_g);
  sherd_table_set_text (table, "side", sherd_side_get_name (side));
  sherd_table_set_text (table, "ground", sherd_side_get_ground (side));
  sherd_table_set_text (table, "burnish", nick_of (SHERD_TYPE_BURNISH, sherd_side_get_burnish (side)));
  sherd_table_set_number (table, "area_cm2", sherd_piece_get_side_area_mm2 (piece, side) / 100.0);
  sherd_table_set_integer (table, "zones", g_list_model_get_n_items (sherd_side_get_zones (side)));
}

/**
 * sherd_results_pieces:
 * @trial: a trial
 *
 * Returns: (transfer full): every side of every piece, with its area, and what the piece weighs
 */
SherdTable *
sherd_results_pieces (SherdTrial *trial)
{
  const SherdColumn columns[] = {
    { "piece", _ ("Piece"), SHERD_COLUMN_TEXT, 0 },
    { "kind", _ ("Kind"), SHERD_COLUMN_TEXT, 0 },
    { "state", NULL, SHERD_COLUMN_TEXT, 0 },
    { "width_mm", _ ("Width, mm"), SHERD_COLUMN_NUMBER, 1 },
    { "height_mm", _ ("Height, mm"), SHERD_COLUMN_NUMBER, 1 },
    { "mass_g", _ ("Mass, g"), SHERD_COLUMN_NUMBER, 0 },
    { "mass_g_u", _ ("±"), SHERD_COLUMN_NUMBER, 0 },
    { "side", _ ("Side"), SHERD_COLUMN_TEXT, 0 },
    { "ground", _ ("Ground"), SHERD_COLUMN_TEXT, 0 },
    { "burnish", NULL, SHERD_COLUMN_TEXT, 0 },
    { "area_cm2", _ ("Area, cm²"), SHERD_COLUMN_NUMBER, 1 },
    { "zones", _ ("Zones"), SHERD_COLUMN_INTEGER, 0 },
  };
  SherdTable *table = sherd_table_new (columns, G_N_ELEMENTS (columns));
  GListModel *pieces = sherd_trial_get_pieces (trial);

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) piece = g_list_model_get_item (pieces, i);
      GListModel *sides = sherd_piece_get_sides (piece);

      for (guint k = 0; k < g_list_model_get_n_items (sides); k++)
        {
          g_autoptr (SherdSide) side = g_list_model_get_item (sides, k);

          add_side (table, piece, side);
        }
    }
  return table;
}
