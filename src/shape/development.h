/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/cone.h"
#include "shape/surface.h"

G_BEGIN_DECLS

/* One strip of paper round a vessel, and how well it lies on the wall. */
typedef struct
{
  SherdCone cone;
  double gap_mm;     /* greatest distance between paper and wall */
  double slack_mm;   /* the paper is longer than the straight line from edge to edge */
  double around_mm;  /* paper wider or narrower than the wall between two anchors */
  double closing_mm; /* the same over the whole turn */
  double fit_mm;     /* the greatest of gap, slack and around */
} SherdStrip;

/* Upright segments, each true along its middle line and along every parallel. */
typedef struct
{
  double arc0_mm;
  double arc1_mm;
  guint n_gores;
  double edge_mm; /* the edges are longer or shorter than the wall */
} SherdGores;

/* (transfer full) (element-type SherdStrip) */
GArray *sherd_development_strips (const SherdSurface *surface,
                                  double arc0_mm,
                                  double arc1_mm,
                                  double middle_deg,
                                  double anchor_deg,
                                  double tolerance_mm);
/* (transfer full) (element-type SherdOutline) */
GPtrArray *sherd_strip_zone (const SherdSurface *surface,
                             const SherdStrip *strip,
                             const SherdOutline *on_side,
                             double tolerance_mm);

gboolean sherd_development_gores (const SherdSurface *surface,
                                  double arc0_mm,
                                  double arc1_mm,
                                  double tolerance_mm,
                                  SherdGores *gores);
double sherd_gore_middle_deg (const SherdGores *gores, guint gore);
SherdPoint sherd_gore_to_paper (const SherdSurface *surface, const SherdGores *gores, guint gore, SherdPoint on_side);
SherdPoint
sherd_gore_from_paper (const SherdSurface *surface, const SherdGores *gores, guint gore, SherdPoint paper_mm);
/* (transfer full) (element-type SherdOutline) */
GPtrArray *sherd_gore_zone (const SherdSurface *surface,
                            const SherdGores *gores,
                            guint gore,
                            const SherdOutline *on_side,
                            double tolerance_mm);

double sherd_tape_mm (const SherdSurface *surface, double arc_mm, double azimuth_deg);

G_END_DECLS
