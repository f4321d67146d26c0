/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "trial/recovery.h"

G_BEGIN_DECLS

/* The window: rail, stations, and the trial they work on. */
#define SHERD_TYPE_WINDOW (sherd_window_get_type ())
G_DECLARE_FINAL_TYPE (SherdWindow, sherd_window, SHERD, WINDOW, GtkApplicationWindow)

GtkWidget *sherd_window_new (GtkApplication *application);

/* (nullable): NULL while the start page is shown */
SherdTrial *sherd_window_get_trial (SherdWindow *self);
void sherd_window_open_path (SherdWindow *self, const char *path);
void sherd_window_show_start (SherdWindow *self);
void sherd_window_open_demo (SherdWindow *self);
void sherd_window_offer_recovery (SherdWindow *self);

G_END_DECLS
