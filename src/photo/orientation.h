/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

gboolean sherd_orientation_turns (guint orientation);
void sherd_orientation_to_upright (guint orientation,
                                   guint stored_width_px,
                                   guint stored_height_px,
                                   double x_stored,
                                   double y_stored,
                                   double *x_upright,
                                   double *y_upright);
void sherd_orientation_to_stored (guint orientation,
                                  guint stored_width_px,
                                  guint stored_height_px,
                                  double x_upright,
                                  double y_upright,
                                  double *x_stored,
                                  double *y_stored);

G_END_DECLS
