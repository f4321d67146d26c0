/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/pinhole.h"
#include "shape/surface.h"

G_BEGIN_DECLS

/* The two lines along which the outside turns away from the camera, as places on the side, x = NAN where it does not.
 */
typedef struct
{
  SherdPoint *left_on_side; /* the line at smaller azimuths, as seen from the camera */
  SherdPoint *right_on_side;
  gsize n_points;
} SherdSilhouette;

SherdSilhouette *sherd_silhouette_new (const SherdProfile *outside, const double centre_mm[3], double tolerance_mm);
void sherd_silhouette_free (SherdSilhouette *silhouette);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdSilhouette, sherd_silhouette_free)

double sherd_circle_distance_px (const SherdPinhole *pinhole, double r_mm, double z_mm, SherdPoint photo_px);

G_END_DECLS
