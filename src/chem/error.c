/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chem/error.h"

G_DEFINE_QUARK (sherd - chem - error - quark, sherd_chem_error)
