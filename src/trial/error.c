/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/error.h"

/**
 * sherd_trial_error_quark:
 *
 * The domain of the document's errors, see SherdTrialError.
 *
 * Returns: the quark
 */
GQuark
sherd_trial_error_quark (void)
{
  return g_quark_from_static_string ("sherd-trial-error-quark");
}
