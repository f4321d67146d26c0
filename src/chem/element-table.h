/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/element.h"

G_BEGIN_DECLS

/* By atomic number; elements without a standard atomic weight have no symbol. Written by element-table.py from
 * data/atomic-weights.csv. */
extern const SherdElement sherd_element_table[SHERD_N_ATOMIC_NUMBERS];

G_END_DECLS
