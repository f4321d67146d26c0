/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* All sides of all pieces as one list, for the choosers of the stations: "Tile 1, Face", "Tile 1, Back", … */

/* FALSE when there are not so many. */
gboolean sherd_side_list_get (SherdTrial *trial, guint index, SherdPiece **piece, SherdSide **side);
/* @shown: (nullable) */
void sherd_side_list_fill (GtkDropDown *chooser, SherdTrial *trial, SherdSide *shown);

G_END_DECLS
