/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/code.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "trial/error.h"

static gboolean
has_control_character (const char *text)
{
  for (const char *c = text; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_iscntrl (g_utf8_get_char (c)))
      return TRUE;
  return FALSE;
}

/**
 * sherd_code_check:
 * @code: (nullable): what the user wrote
 * @error: place for an error
 *
 * Our choice: 1…24 letters, digits or signs of any script, no space at either end.
 *
 * Returns: FALSE with SHERD_TRIAL_ERROR_VALUE
 */
gboolean
sherd_code_check (const char *code, GError **error)
{
  if (code == NULL || *code == '\0')
    {
      g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE, _ ("A code must not be empty."));
      return FALSE;
    }
  if (!g_utf8_validate (code, -1, NULL) || has_control_character (code) || g_ascii_isspace (code[0]) ||
      g_ascii_isspace (code[strlen (code) - 1]) || g_utf8_strlen (code, -1) > SHERD_CODE_MAX_LETTERS)
    {
      g_autofree char *valid = g_utf8_make_valid (code, -1);

      g_set_error (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_VALUE,
                   _ ("“%.60s” cannot be a code. Use at most %d letters and digits, without spaces at the ends."),
                   valid, SHERD_CODE_MAX_LETTERS);
      return FALSE;
    }
  return TRUE;
}
