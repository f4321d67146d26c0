/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/part.h"

G_BEGIN_DECLS

/* For the property code of the parts. */
void sherd_part_replace_text (char **field, const GValue *value);

/* Flags of a property that is kept, changed through the trial and notified when it is. */
#define SHERD_PART_PROPERTY (G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS)

G_END_DECLS
