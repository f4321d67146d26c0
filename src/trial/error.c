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
G_DEFINE_QUARK (sherd - trial - error - quark, sherd_trial_error)
