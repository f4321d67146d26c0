/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/surface.h"

G_BEGIN_DECLS

/* Our choice: what is less is the end of a decimal or a chord of a curve, and no brush keeps to it. */
#define SHERD_ZONING_LEAST_FAULT_MM2 0.5

/* Two zones that lie near one another. */
typedef struct
{
  guint first; /* indices, first < second */
  guint second;
  double distance_mm; /* 0 when they touch or overlap */
} SherdNeighbours;

typedef enum
{
  SHERD_ZONING_OVERLAP, /* zones first and second lie on one another */
  SHERD_ZONING_OUTSIDE, /* zone first reaches beyond the side, or into a hole */
  SHERD_ZONING_CROSSED, /* the outline of zone first crosses itself */
  SHERD_ZONING_SMALL    /* zone first has no area to speak of */
} SherdZoningFaultKind;

typedef struct
{
  SherdZoningFaultKind kind;
  guint first;
  guint second;
  double area_mm2;  /* how much of it is wrong */
  SherdPoint where; /* on side */
} SherdZoningFault;

double sherd_surface_overlap_mm2 (const SherdSurface *surface,
                                  const SherdOutline *first,
                                  const SherdOutline *second,
                                  SherdPoint *where);
double sherd_surface_outside_mm2 (const SherdSurface *surface, const SherdOutline *on_side, SherdPoint *where);
double sherd_surface_distance_mm (const SherdSurface *surface, const SherdOutline *first, const SherdOutline *second);

/* (transfer full) (element-type SherdNeighbours) */
GArray *sherd_zoning_neighbours (const SherdSurface *surface,
                                 const SherdOutline *const *zones,
                                 gsize n_zones,
                                 double within_mm);
/* (transfer full) (element-type SherdZoningFault) */
GArray *sherd_zoning_faults (const SherdSurface *surface, const SherdOutline *const *zones, gsize n_zones);

G_END_DECLS
