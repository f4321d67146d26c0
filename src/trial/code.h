/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Codes of paints and zones: short, to be scratched on clay and read back. */
#define SHERD_CODE_MAX_LETTERS 24

/* SHERD_TRIAL_ERROR_VALUE when empty, too long, or with spaces at the ends or control characters. */
gboolean sherd_code_check (const char *code, GError **error);

G_END_DECLS
