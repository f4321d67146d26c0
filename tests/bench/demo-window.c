/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program as its main () starts it, ended by the first frame that shows its trial. */
#include "config.h"

#include <gsl/gsl_errno.h>

#include "desk/application.h"
#include "first-frame.h"
#include "trial/language.h"

int
main (int argc, char **argv)
{
  g_autoptr (SherdApplication) application = NULL;

  gsl_set_error_handler_off ();
  sherd_language_start ();
  application = sherd_application_new (G_APPLICATION_NON_UNIQUE);
  first_frame_tell (GTK_APPLICATION (application), "Sherdboard");
  return g_application_run (G_APPLICATION (application), argc, argv);
}
