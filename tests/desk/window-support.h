/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "photo/picture.h"

G_BEGIN_DECLS

gboolean sherd_test_init (int *argc, char ***argv);
void sherd_test_spin (guint ms);
gboolean sherd_test_wait (gboolean (*done) (gpointer), gpointer data);
GtkWidget *sherd_test_window (GtkWidget *child, int width_px, int height_px);
GdkTexture *sherd_test_render (GtkWidget *widget);
void sherd_test_assert_property (gpointer accessible, GtkAccessibleProperty property, const char *expected);
void sherd_test_get_code (GdkTexture *texture, int x_px, int y_px, guint8 rgb[3]);

typedef void (*SherdTestPaintFunc) (guint x_px, guint y_px, guint8 rgb[3]);
SherdPicture *sherd_test_picture (guint width_px, guint height_px, SherdTestPaintFunc paint);

G_END_DECLS
