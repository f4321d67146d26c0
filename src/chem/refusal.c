/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/refusal.h"

#include <glib/gi18n-lib.h>

/* Returns: FALSE, with @error set; one that is set already stays */
gboolean
sherd_refuse (GError **error, SherdChemError code, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  if (error != NULL && *error == NULL)
    *error = g_error_new_valist (SHERD_CHEM_ERROR, (int)code, format, arguments);
  va_end (arguments);
  return FALSE;
}

/**
 * sherd_refuse_at:
 * @reading: the text being read
 * @where: what is wrong in it
 * @format: why, as for printf ()
 *
 * Returns: FALSE, with place and error set; the message counts characters from 1
 */
gboolean
sherd_refuse_at (const SherdTextReading *reading, const char *where, const char *format, ...)
{
  const gsize character = (gsize)g_utf8_pointer_to_offset (reading->text, where);
  g_autofree char *reason = NULL;
  va_list arguments;

  va_start (arguments, format);
  reason = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  if (reading->place != NULL)
    *reading->place = (SherdTextPlace){ (gsize)(where - reading->text), character };
  return sherd_refuse (reading->error, reading->code, _ ("%s, character %u: %s"), reading->what, (guint)character + 1,
                       reason);
}
