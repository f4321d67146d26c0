/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* (transfer full) (type filename): path of a fresh copy of the demo trial that may be changed. */
char *sherd_demo_copy (GError **error);

G_END_DECLS
