/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "desk/side-list.h"

#include "desk/chooser.h"
#include "trial/format.h"

/**
 * sherd_side_list_get:
 * @trial: a trial
 * @index: from 0, in the order of pieces and of their sides
 * @piece: (out) (transfer none): the piece
 * @side: (out) (transfer none): its side
 *
 * Returns: FALSE when there are not so many
 */
gboolean
sherd_side_list_get (SherdTrial *trial, guint index, SherdPiece **piece, SherdSide **side)
{
  GListModel *pieces = sherd_trial_get_pieces (trial);

  for (guint i = 0; i < g_list_model_get_n_items (pieces); i++)
    {
      g_autoptr (SherdPiece) candidate = g_list_model_get_item (pieces, i);
      GListModel *sides = sherd_piece_get_sides (candidate);
      const guint n_sides = g_list_model_get_n_items (sides);

      if (index < n_sides)
        {
          g_autoptr (SherdSide) found = g_list_model_get_item (sides, index);

          *piece = candidate;
          *side = found;
          return TRUE;
        }
      index -= n_sides;
    }
  return FALSE;
}

/**
 * sherd_side_list_fill:
 * @chooser: a drop-down
 * @trial: a trial
 * @shown: (nullable): the side it shows as chosen
 *
 * Fills the chooser with the words for all sides.
 */
void
sherd_side_list_fill (GtkDropDown *chooser, SherdTrial *trial, SherdSide *shown)
{
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  g_auto (GStrv) words = NULL;
  SherdPiece *piece;
  SherdSide *side;
  guint selected = 0;

  for (guint i = 0; sherd_side_list_get (trial, i, &piece, &side); i++)
    {
      g_autofree char *side_word = sherd_format_side (sherd_side_get_name (side));
      g_autofree char *word = g_strdup_printf ("%s, %s", sherd_piece_get_name (piece), side_word);

      if (side == shown)
        selected = i;
      g_strv_builder_add (builder, word);
    }
  words = g_strv_builder_end (builder);
  sherd_chooser_fill (chooser, (const char *const *)words, selected);
}
