/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/edits.h"

#include <glib/gi18n-lib.h>

#include "trial/form-edits.h"
#include "trial/piece-check.h"
#include "trial/piece-surface.h"

/**
 * sherd_trial_add_tile:
 * @trial: a trial
 * @name: what the potter calls it
 * @width_mm: width of its face
 * @height_mm: height of its face
 * @thickness_mm: 0 when not known
 * @state: the state of the clay in which it was measured
 * @error: place for an error
 *
 * Returns: (transfer none): a tile with an empty face and back; NULL with SHERD_TRIAL_ERROR_VALUE
 */
SherdPiece *
sherd_trial_add_tile (SherdTrial *trial,
                      const char *name,
                      double width_mm,
                      double height_mm,
                      double thickness_mm,
                      SherdClayState state,
                      GError **error)
{
  return sherd_trial_add_piece (trial, name, SHERD_PIECE_TILE, width_mm, height_mm, thickness_mm, NULL, state, error);
}

/**
 * sherd_trial_set_piece_name:
 * @trial: a trial
 * @piece: one of its pieces
 * @name: another name
 * @error: place for an error
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE when it is empty
 */
gboolean
sherd_trial_set_piece_name (SherdTrial *trial, SherdPiece *piece, const char *name, GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Rename piece %s"), sherd_piece_get_name (piece));

  if (!sherd_piece_check_name (name, error))
    return FALSE;
  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, piece, "name", name);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/* Marks on the corners of the old size are picked on the corners of the new one; others keep their place. */
static SherdMarks *
marks_on_new_corners (const SherdMarks *marks,
                      double old_width_mm,
                      double old_height_mm,
                      double width_mm,
                      double height_mm)
{
  SherdMarks *moved = sherd_marks_copy (marks);

  for (gsize i = 0; i < moved->n_marks; i++)
    {
      SherdPoint *place_mm = &moved->marks[i].piece_mm;

      if ((place_mm->x != 0.0 && place_mm->x != old_width_mm) || (place_mm->y != 0.0 && place_mm->y != old_height_mm))
        continue;
      place_mm->x = place_mm->x != 0.0 ? width_mm : 0.0;
      place_mm->y = place_mm->y != 0.0 ? height_mm : 0.0;
    }
  return moved;
}

/* Before the piece has its new size. */
static void
move_corner_marks (SherdTrial *trial, SherdPiece *piece, double width_mm, double height_mm)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);

  for (guint i = 0; i < g_list_model_get_n_items (photographs); i++)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i);
      const SherdMarks *marks = sherd_photograph_get_marks (photograph);
      g_autoptr (SherdMarks) moved = NULL;

      if (marks == NULL || sherd_photograph_get_piece (photograph) != piece)
        continue;
      moved = marks_on_new_corners (marks, sherd_piece_get_width_mm (piece), sherd_piece_get_height_mm (piece),
                                    width_mm, height_mm);
      sherd_trial_set (trial, photograph, "marks", moved);
    }
}

/**
 * sherd_trial_set_tile_size:
 * @trial: a trial
 * @piece: one of its tiles or discs
 * @width_mm: width of its face, or its diameter
 * @height_mm: height of its face
 * @thickness_mm: 0 when not known
 * @continued: joins the step before when that resized the same tile
 * @error: place for an error
 *
 * A mark on a corner stays on its corner, in every photograph of the tile.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE, or SHERD_TRIAL_ERROR_IN_USE when a zone would lie outside
 */
gboolean
sherd_trial_set_tile_size (SherdTrial *trial,
                           SherdPiece *piece,
                           double width_mm,
                           double height_mm,
                           double thickness_mm,
                           gboolean continued,
                           GError **error)
{
  g_autofree char *label = g_strdup_printf (_ ("Resize %s"), sherd_piece_get_name (piece));
  g_autofree char *key = g_strconcat ("size ", sherd_part_get_id (SHERD_PART (piece)), NULL);
  const SherdPieceKind kind = sherd_piece_get_kind (piece);
  const SherdForm *form = sherd_piece_get_form (piece);
  g_autoptr (SherdPiece) resized = NULL;

  if (!sherd_piece_check_own_size (piece, error) ||
      !sherd_piece_check_size (width_mm, height_mm, thickness_mm, error) ||
      !sherd_piece_check_form (kind, width_mm, height_mm, thickness_mm, form, error))
    return FALSE;
  resized =
    g_object_new (SHERD_TYPE_PIECE, "kind", kind, "width-mm", width_mm, "height-mm", height_mm, "form", form, NULL);
  if (!sherd_piece_check_zones_fit (piece, resized, error))
    return FALSE;
  if (continued)
    sherd_trial_begin_continued_edit (trial, label, key);
  else
    sherd_trial_begin_edit (trial, label);
  move_corner_marks (trial, piece, width_mm, height_mm);
  sherd_trial_set (trial, piece, "width-mm", width_mm);
  sherd_trial_set (trial, piece, "height-mm", height_mm);
  sherd_trial_set (trial, piece, "thickness-mm", thickness_mm);
  sherd_trial_end_edit (trial);
  return TRUE;
}

/**
 * sherd_trial_set_piece_state:
 * @trial: a trial
 * @piece: one of its pieces
 * @state: the state of the clay to which its measures belong
 */
void
sherd_trial_set_piece_state (SherdTrial *trial, SherdPiece *piece, SherdClayState state)
{
  g_autofree char *label = g_strdup_printf (_ ("State of %s"), sherd_piece_get_name (piece));

  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, piece, "state", state);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_remove_piece:
 * @trial: a trial
 * @piece: one of its pieces
 *
 * Removes the piece with its photographs and their measurements, in one edit. The pictures' files stay.
 */
void
sherd_trial_remove_piece (SherdTrial *trial, SherdPiece *piece)
{
  GListModel *photographs = sherd_trial_get_photographs (trial);
  g_autofree char *label = g_strdup_printf (_ ("Remove piece %s"), sherd_piece_get_name (piece));
  guint position;

  sherd_trial_begin_edit (trial, label);
  for (guint i = g_list_model_get_n_items (photographs); i > 0; i--)
    {
      g_autoptr (SherdPhotograph) photograph = g_list_model_get_item (photographs, i - 1);

      if (sherd_photograph_get_piece (photograph) == piece)
        sherd_trial_remove_photograph (trial, photograph);
    }
  if (g_list_store_find (G_LIST_STORE (sherd_trial_get_pieces (trial)), piece, &position))
    sherd_trial_remove (trial, sherd_trial_get_pieces (trial), position);
  sherd_trial_end_edit (trial);
}

/**
 * sherd_trial_set_side_ground:
 * @trial: a trial
 * @side: one of its sides
 * @ground: what lies under the paint, in the potter's words
 */
void
sherd_trial_set_side_ground (SherdTrial *trial, SherdSide *side, const char *ground)
{
  sherd_trial_begin_edit (trial, _ ("Change ground"));
  sherd_trial_set (trial, side, "ground", ground);
  sherd_trial_end_edit (trial);
}
