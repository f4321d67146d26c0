/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <libintl.h>
#include <locale.h>

#include "desk/application.h"

int
main (int argc, char **argv)
{
  g_autoptr (SherdApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, SHERD_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  application = sherd_application_new (G_APPLICATION_NON_UNIQUE);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
