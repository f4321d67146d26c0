/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/draw.h"
#include "plan/adjacency.h"

G_BEGIN_DECLS

/* Keeping the same paint out of zones that lie side by side. Paints are numbers from 0; what is below 0 may touch. */

/* The group of a zone that must keep what it holds. */
#define SHERD_APART_FIXED G_MAXUINT

guint sherd_apart_count_touching (const SherdAdjacency *neighbours, const int *paints);
guint sherd_apart_exchange (const SherdAdjacency *neighbours, const guint *groups, gsl_rng *draw, int *paints);

G_END_DECLS
