/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/error.h"

G_DEFINE_QUARK (sherd - plan - error - quark, sherd_plan_error)
