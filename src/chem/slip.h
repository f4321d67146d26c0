/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

double sherd_slip_solids_g_l (double slip_g_l, double particle_g_ml);
double sherd_slip_solids_frac (double slip_g_l, double particle_g_ml);
double sherd_slip_water_pct (double slip_g_l, double particle_g_ml);
double sherd_slip_dry_film_mm (double wet_mm, double solids_frac, double packing_frac);

G_END_DECLS
