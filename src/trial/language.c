/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/language.h"

#include <libintl.h>
#include <locale.h>

/**
 * sherd_language_start:
 *
 * Takes the locale of the environment and binds the translations: those installed, or those of a build folder when
 * SHERD_LOCALE_DIR names it. To be called once, before anything else.
 */
void
sherd_language_start (void)
{
  const char *folder = g_getenv ("SHERD_LOCALE_DIR");

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, folder != NULL ? folder : SHERD_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}
