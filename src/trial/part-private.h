/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/part.h"

G_BEGIN_DECLS

/* For the property code of the parts. */
void sherd_part_replace_text (char **field, const GValue *value);
/* A number that is not known (NAN) is the same as another that is not known. */
gboolean sherd_part_same_number (double first, double second);

/* Of a number that may be not known: NAN, which is its default. @name is copied. */
GParamSpec *sherd_part_new_maybe_spec (const char *name, double least, double most);

/* Flags of a property that is kept, changed through the trial and notified when it is. */
#define SHERD_PART_PROPERTY (G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS)

G_END_DECLS
