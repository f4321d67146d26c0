/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/grid.h"

G_BEGIN_DECLS

/* Which zones lie side by side. */
typedef struct _SherdAdjacency SherdAdjacency;

typedef struct
{
  guint first;
  guint second;
} SherdAdjacentPair;

SherdAdjacency *sherd_adjacency_new (guint n_zones, const SherdAdjacentPair *pairs, gsize n_pairs);
/* Zones on one side of a piece; @once_round: after how much x comes round again, 360 for degrees, 0 on a flat side. */
void sherd_adjacency_find (GArray *pairs, const SherdRectangle *places, guint n_places, guint first, double once_round);
void sherd_adjacency_free (SherdAdjacency *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdAdjacency, sherd_adjacency_free)

guint sherd_adjacency_get_n_zones (const SherdAdjacency *self);
/* @n: (out): how many; (array length=n): the zones beside @zone */
const guint *sherd_adjacency_get (const SherdAdjacency *self, guint zone, guint *n);

G_END_DECLS
