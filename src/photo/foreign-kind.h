/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

gboolean sherd_foreign_kind_is_raw (const guint8 *head, gsize n_bytes);
char *sherd_foreign_kind_dup_remedy (const guint8 *head, gsize n_bytes);

G_END_DECLS
