/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/grid.h"

G_BEGIN_DECLS

/* Which zones lie side by side. */
typedef struct _SherdNeighbours SherdNeighbours;

typedef struct
{
  guint first;
  guint second;
} SherdNeighbourPair;

SherdNeighbours *sherd_neighbours_new (guint n_zones, const SherdNeighbourPair *pairs, gsize n_pairs);
/* Zones on one side of a piece; @round_mm: after how much x comes round again (a vessel's girth), 0 on a flat side. */
void sherd_neighbours_find (GArray *pairs, const SherdRectangle *places, guint n_places, guint first, double round_mm);
void sherd_neighbours_free (SherdNeighbours *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdNeighbours, sherd_neighbours_free)

guint sherd_neighbours_get_n_zones (const SherdNeighbours *self);
/* @n: (out): how many; (array length=n): the zones beside @zone */
const guint *sherd_neighbours_get (const SherdNeighbours *self, guint zone, guint *n);

G_END_DECLS
