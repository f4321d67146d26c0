/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "batch/batch.h"
#include "trial/language.h"

int
main (int argc, char **argv)
{
  sherd_language_start ();
  return (int)sherd_batch_run (argc, argv);
}
