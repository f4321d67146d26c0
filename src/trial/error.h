/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SHERD_TRIAL_ERROR (sherd_trial_error_quark ())
GQuark sherd_trial_error_quark (void);

typedef enum
{
  SHERD_TRIAL_ERROR_OPEN,      /* the file cannot be read: missing, no permission, too large */
  SHERD_TRIAL_ERROR_SYNTAX,    /* not strict JSON; the message names the line */
  SHERD_TRIAL_ERROR_CONTENT,   /* JSON, but not a trial this program can hold; the message names path and line */
  SHERD_TRIAL_ERROR_VERSION,   /* written by a newer program in a form this one does not read */
  SHERD_TRIAL_ERROR_SAVE,      /* could not be written; the file on disk is still the old one, whole */
  SHERD_TRIAL_ERROR_DURABLE,   /* written, but the disk did not confirm that it will survive a power cut */
  SHERD_TRIAL_ERROR_CHANGED,   /* another program changed the file since it was opened or saved here */
  SHERD_TRIAL_ERROR_VALUE,     /* a value the trial does not take: empty code, impossible size, unknown stage */
  SHERD_TRIAL_ERROR_DUPLICATE, /* a code that is already in use */
  SHERD_TRIAL_ERROR_IN_USE,    /* something that other things of the trial still refer to */
  SHERD_TRIAL_ERROR_PHOTO,     /* a photograph's file is missing or not the one that was added */
  SHERD_TRIAL_ERROR_INCOMPLETE /* not everything needed for this measurement or comparison is there yet */
} SherdTrialError;

G_END_DECLS
