/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>

#include "desk/application.h"
#include "trial/language.h"

int
main (int argc, char **argv)
{
  g_autoptr (SherdApplication) application = NULL;

  /* Data must never end the program: failures of the library come back as numbers that are checked. */
  gsl_set_error_handler_off ();
  sherd_language_start ();
  application = sherd_application_new (G_APPLICATION_NON_UNIQUE);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
