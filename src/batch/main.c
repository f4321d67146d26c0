/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <libintl.h>
#include <locale.h>

#include "batch/batch.h"

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, SHERD_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  return (int)sherd_batch_run (argc, argv);
}
