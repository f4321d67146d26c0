/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/substance.h"

G_BEGIN_DECLS

/* (transfer full): pure, of that formula and density of grains (0: not known) */
SherdSubstance *pantry_new (const char *formula, SherdSubstanceKind kind, double particle_g_ml);
SherdSubstance *pantry_new_from_analysis (const char *text, SherdSubstanceKind kind, double particle_g_ml);

G_END_DECLS
