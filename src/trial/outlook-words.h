/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/melt.h"

G_BEGIN_DECLS

/* (transfer full): all that an outlook says, a sentence a line: whether it melts, at which temperatures, how far the
 * firing is from them, what it rests on and does not know */
char *sherd_outlook_dup_words (const SherdMeltOutlook *outlook);

G_END_DECLS
