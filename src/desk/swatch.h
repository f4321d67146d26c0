/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "colour/lab.h"

G_BEGIN_DECLS

#define SHERD_TYPE_SWATCH (sherd_swatch_get_type ())
G_DECLARE_FINAL_TYPE (SherdSwatch, sherd_swatch, SHERD, SWATCH, GtkWidget)

GtkWidget *sherd_swatch_new (void);

void sherd_swatch_set_colour (SherdSwatch *self, const SherdLab *lab);
gboolean sherd_swatch_get_colour (SherdSwatch *self, SherdLab *lab);
gboolean sherd_swatch_is_exact (SherdSwatch *self);

G_END_DECLS
