/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Numbers as people write them: "2", "2.5", "1/3", "1 1/2", "½", with ".", "," or the locale's decimal mark. */

/* FALSE with SHERD_TRIAL_ERROR_VALUE, in words fit to stand at the field */
gboolean sherd_number_parse (const char *text, double *value, GError **error);
/* As above with another decimal mark than the locale's. */
gboolean sherd_number_parse_marked (const char *text, const char *mark, double *value, GError **error);
/* (transfer full): what parses back to the same number, short: "2.5", "1/3"; "" for what is not finite */
char *sherd_number_text (double value);
char *sherd_number_text_marked (double value, const char *mark);

G_END_DECLS
