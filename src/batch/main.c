/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include <gsl/gsl_errno.h>

#include "batch/batch.h"
#include "trial/language.h"

int
main (int argc, char **argv)
{
  /* Data must never end the program: failures of the library come back as numbers that are checked. */
  gsl_set_error_handler_off ();
  sherd_language_start ();
  return (int)sherd_batch_run (argc, argv);
}
