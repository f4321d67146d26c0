/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/lab.h"

G_BEGIN_DECLS

/* Fills @matrix so that XYZ for the white @from becomes XYZ for the white @to (Bradford). */
void sherd_adaptation_bradford (const SherdXyz *from, const SherdXyz *to, double matrix[3][3]);
SherdXyz sherd_adaptation_apply (double matrix[3][3], const SherdXyz *xyz);

G_END_DECLS
