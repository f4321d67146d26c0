/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/surface.h"

G_BEGIN_DECLS

/* Rings × sectors of zones on a vessel's side, between two azimuths and two parallels. */
typedef struct
{
  guint n_rings;
  guint n_sectors;
  SherdRange whole; /* 360° wide where it runs all round */
  double gap_mm;    /* bare clay between neighbours, in the middle of each ring */
} SherdRingGrid;

gboolean sherd_ring_grid_check (const SherdRingGrid *grid, const SherdSurface *surface, GError **error);
/* @ring: from 0, away from the lip. @sector: from 0, with growing azimuth. */
SherdRange sherd_ring_grid_cell (const SherdRingGrid *grid, const SherdSurface *surface, guint ring, guint sector);

G_END_DECLS
