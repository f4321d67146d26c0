/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/correction.h"
#include "measure/glare.h"
#include "measure/measure.h"

G_BEGIN_DECLS

double sherd_interval_reach (double sd,
                             const double *offset,
                             const double *offset_sd,
                             const double *share,
                             guint n,
                             double sign);
void sherd_interval_fill (SherdZoneColour *zone,
                          const double mean[3],
                          const SherdCorrection *correction,
                          const SherdGlare *glare);

G_END_DECLS
