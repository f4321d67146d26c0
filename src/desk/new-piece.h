/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/trial.h"

G_BEGIN_DECLS

/* How a new tile is divided. */
extern const SherdGrid sherd_new_piece_grid;

/* (transfer none) (nullable): a piece to begin with, by @word: "tile", "disc", "bowl", "dish", "plate", "cup",
 * "cylinder", "jar". @side_name: (out): which side is painted first */
SherdPiece *sherd_new_piece_add (SherdTrial *trial, const char *word, const char **side_name, GError **error);

G_END_DECLS
