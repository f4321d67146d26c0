/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/paint-facts.h"
#include "trial/table.h"

G_BEGIN_DECLS

/* Paints and materials on their way in and out: by the clipboard and as tables. What fails is told in a dialog. */

/* The mixing card, as text. */
void sherd_paints_copy_card (GtkWidget *widget,
                             SherdTrial *trial,
                             SherdPaint *paint,
                             const SherdBatchRequest *request,
                             double readability_g);
/* With the materials and paints it is mixed of, for another trial. */
void sherd_paints_copy (GtkWidget *widget, SherdTrial *trial, SherdPaint *paint);
void sherd_paints_paste (GtkWidget *widget, SherdTrial *trial);
/* Shows what the table would do before it is taken in. */
void sherd_paints_import (GtkWindow *window, SherdTrial *trial, GFile *file);
/* @table: (transfer full) */
void sherd_paints_export (GtkWindow *window, SherdTable *table, GFile *file);

G_END_DECLS
