/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/paint-facts.h"

G_BEGIN_DECLS

/* (transfer full): what to weigh and what to beware of, as plain text for a phone or a notebook */
char *sherd_mixing_card_new (const SherdPaintFacts *facts, double readability_g);

/* (transfer full): grams as a scale of that readability shows them: "0.6" */
char *sherd_mixing_card_dup_grams (double grams, double readability_g);

G_END_DECLS
