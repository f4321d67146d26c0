/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/language.h"

#include <langinfo.h>
#include <libintl.h>
#include <locale.h>
#include <string.h>

/* A bare machine or a scheduled script runs in the locale "C", where “Töpfe” could neither be typed nor shown. Its
 * words and numbers stay; only its letters become UTF-8, as the trial file has them.
 */
static void
widen_plain_letters (void)
{
  if (strcmp (nl_langinfo (CODESET), "ANSI_X3.4-1968") == 0)
    setlocale (LC_CTYPE, "C.UTF-8");
}

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
  widen_plain_letters ();
  bindtextdomain (GETTEXT_PACKAGE, folder != NULL ? folder : SHERD_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}
