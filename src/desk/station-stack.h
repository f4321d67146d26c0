/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/trial.h"

G_BEGIN_DECLS

/* The stations of the window by their names in a GtkStack. Each is made when it is first wanted: the start waits for
 * one, not for all. */
GtkWidget *sherd_station_stack_ensure (GtkStack *stack, const char *name, SherdTrial *trial);
void sherd_station_stack_set_trial (GtkStack *stack, SherdTrial *trial);

G_END_DECLS
