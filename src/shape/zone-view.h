/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/pose.h"
#include "shape/sight.h"

G_BEGIN_DECLS

/* How a zone is seen in a photograph. */
typedef struct
{
  SherdOutline *photo_px; /* its visible part, NULL if none is */
  SherdOutline *on_side;  /* the same on the side, point by point */
  double visible_frac;    /* of its area */
  double view_least_deg;  /* between line of sight and normal, over the visible part */
  double view_most_deg;
  double px_per_mm;
  double sd_px; /* of its outline, from the covariance of the pose; root mean square over both axes */
} SherdZoneView;

SherdZoneView *sherd_zone_view_new (const SherdPose *pose,
                                    const SherdSight *sight,
                                    const SherdSurface *surface,
                                    const SherdOutline *on_side,
                                    double limit_deg);
void sherd_zone_view_free (SherdZoneView *view);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdZoneView, sherd_zone_view_free)

double sherd_view_angle_deg (const SherdPose *pose, const SherdSurface *surface, SherdPoint on_side);
gboolean sherd_view_sees (const SherdPose *pose,
                          const SherdSight *sight,
                          const SherdSurface *surface,
                          SherdPoint on_side,
                          double limit_deg);
gboolean sherd_view_find (const SherdPose *pose, const SherdSight *sight, SherdPoint photo_px, SherdHit *hit);

G_END_DECLS
