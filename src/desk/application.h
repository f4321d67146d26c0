/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The program `sherdboard`: one window a trial. */
#define SHERD_TYPE_APPLICATION (sherd_application_get_type ())
G_DECLARE_FINAL_TYPE (SherdApplication, sherd_application, SHERD, APPLICATION, GtkApplication)

SherdApplication *sherd_application_new (GApplicationFlags flags);

G_END_DECLS
