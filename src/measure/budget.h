/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/calibrate.h"

G_BEGIN_DECLS

SherdLab sherd_budget_lab (const SherdCorrection *correction, const double reflectance[3]);
void sherd_budget_reflectance_to_lab (const SherdCorrection *correction,
                                      const double reflectance[3],
                                      double of_reflectance[3][3],
                                      double of_lab[3][3]);
void sherd_budget_ln_to_lab (const SherdCorrection *correction,
                             const double reflectance[3],
                             double of_ln[3][3],
                             double of_lab[3][3]);
void sherd_budget_patches (const SherdPatchError *errors, gsize n_errors, const SherdLab *lab, double of_lab[3][3]);

G_END_DECLS
