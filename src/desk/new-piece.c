/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/new-piece.h"

#include <glib/gi18n-lib.h>

#include "shape/preset.h"
#include "trial/edits.h"
#include "trial/form-edits.h"

/* Our choice: what a hand holds and a small fire takes. */
#define TILE_WIDTH_MM 150.0
#define TILE_HEIGHT_MM 100.0
#define TILE_THICKNESS_MM 8.0
#define DISC_DIAMETER_MM 120.0
#define WALL_MM 6.0

/* Beginning of a grid, our choice: bare clay between zones keeps them apart and gives the light a ground to stand on.
 */
const SherdGrid sherd_new_piece_grid = {
  .n_rows = 3,
  .n_columns = 4,
  .left_mm = 6.0,
  .top_mm = 6.0,
  .right_mm = 6.0,
  .bottom_mm = 6.0,
  .gap_x_mm = 4.0,
  .gap_y_mm = 4.0,
};

typedef struct
{
  const char *word;
  const char *name;
  SherdPreset preset;
  const char *side_name; /* open shapes are painted inside first */
} Vessel;

static const Vessel vessels[] = {
  { "bowl", N_ ("Bowl"), SHERD_PRESET_BOWL, "inside" },
  { "dish", N_ ("Dish"), SHERD_PRESET_DISH, "inside" },
  { "plate", N_ ("Plate"), SHERD_PRESET_PLATE, "inside" },
  { "cup", N_ ("Cup"), SHERD_PRESET_CUP, "outside" },
  { "cylinder", N_ ("Cylinder"), SHERD_PRESET_CYLINDER, "outside" },
  { "jar", N_ ("Jar"), SHERD_PRESET_JAR, "outside" },
};

static guint
next_number (SherdTrial *trial)
{
  return g_list_model_get_n_items (sherd_trial_get_pieces (trial)) + 1;
}

/* A tile with a grid on it, so that there is something to paint in at once. */
static SherdPiece *
add_tile (SherdTrial *trial, GError **error)
{
  g_autofree char *name = g_strdup_printf (_ ("Tile %u"), next_number (trial));
  SherdPiece *piece;

  sherd_trial_begin_edit (trial, _ ("Add a tile"));
  piece = sherd_trial_add_tile (trial, name, TILE_WIDTH_MM, TILE_HEIGHT_MM, TILE_THICKNESS_MM, SHERD_CLAY_DRY, error);
  if (piece != NULL)
    sherd_trial_set_zone_grid (trial, piece, sherd_piece_find_side_by_name (piece, "face"), &sherd_new_piece_grid,
                               NULL);
  sherd_trial_end_edit (trial);
  return piece;
}

static SherdPiece *
add_disc (SherdTrial *trial, GError **error)
{
  g_autofree char *name = g_strdup_printf (_ ("Round tile %u"), next_number (trial));

  return sherd_trial_add_piece (trial, name, SHERD_PIECE_DISC, DISC_DIAMETER_MM, DISC_DIAMETER_MM, TILE_THICKNESS_MM,
                                NULL, SHERD_CLAY_DRY, error);
}

static SherdPiece *
add_vessel (SherdTrial *trial, const Vessel *vessel, GError **error)
{
  const SherdMeasures measures = sherd_preset_example (vessel->preset);
  g_autofree char *name = g_strdup_printf (_ ("%s %u"), _ (vessel->name), next_number (trial));
  g_autoptr (GArray) points = sherd_preset_points (vessel->preset, &measures, error);
  g_autoptr (SherdForm) form = sherd_form_new ();

  if (points == NULL)
    return NULL;
  sherd_form_set_outside (form, (const SherdProfilePoint *)(gpointer)points->data, points->len);
  return sherd_trial_add_piece (trial, name, SHERD_PIECE_VESSEL, 0.0, 0.0, WALL_MM, form, SHERD_CLAY_DRY, error);
}

/**
 * sherd_new_piece_add:
 * @trial: a trial
 * @word: what it is: "tile", "disc", "bowl", "dish", "plate", "cup", "cylinder" or "jar"
 * @side_name: (out): which of its sides is painted first
 * @error: what could not be
 *
 * Returns: (transfer none) (nullable): the piece, of a size to begin with
 */
SherdPiece *
sherd_new_piece_add (SherdTrial *trial, const char *word, const char **side_name, GError **error)
{
  *side_name = "face";
  if (g_str_equal (word, "disc"))
    return add_disc (trial, error);
  for (gsize i = 0; i < G_N_ELEMENTS (vessels); i++)
    if (g_str_equal (word, vessels[i].word))
      {
        *side_name = vessels[i].side_name;
        return add_vessel (trial, &vessels[i], error);
      }
  return add_tile (trial, error);
}
