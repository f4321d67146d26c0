/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* For main (): takes the user's locale and finds the program's translations. */
void sherd_language_start (void);

G_END_DECLS
