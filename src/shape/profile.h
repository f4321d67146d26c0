/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/mark.h"

G_BEGIN_DECLS

/* A point that the potter gives; z = 0 at the foot, z up. */
typedef struct
{
  double r_mm;
  double z_mm;
  gboolean corner; /* the curve breaks here: edge of the foot, carination */
} SherdProfilePoint;

/* A place on the curve and its unit direction, along growing arc length. */
typedef struct
{
  double r_mm;
  double z_mm;
  double dr;
  double dz;
} SherdProfilePlace;

/* Over the curve from its start. */
typedef struct
{
  double r_ds_mm2;   /* ∫ r ds: area of the surface for one radian of azimuth */
  double r_s_ds_mm3; /* ∫ r s ds: with it areas of slanting zones are exact */
  double r_r_dz_mm3; /* ∫ r² dz: volume for half a radian */
} SherdProfileIntegrals;

/* A smooth curve in the half plane of radius and height, measured along itself. */
typedef struct _SherdProfile SherdProfile;

gboolean sherd_profile_check (const SherdProfilePoint *points, gsize n_points, gsize *fault, GError **error);
SherdProfile *sherd_profile_new (const SherdProfilePoint *points, gsize n_points, GError **error);
SherdProfile *sherd_profile_cut (const SherdProfile *profile, double from_arc_mm, double to_arc_mm);
void sherd_profile_free (SherdProfile *profile);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdProfile, sherd_profile_free)

double sherd_profile_length_mm (const SherdProfile *profile);
SherdProfilePlace sherd_profile_at (const SherdProfile *profile, double arc_mm);
double sherd_profile_nearest_arc_mm (const SherdProfile *profile, double r_mm, double z_mm);
double sherd_profile_highest_arc_mm (const SherdProfile *profile);
double sherd_profile_widest_arc_mm (const SherdProfile *profile);

SherdProfileIntegrals sherd_profile_integrals (const SherdProfile *profile, double arc_mm);
double sherd_profile_area_mm2 (const SherdProfile *profile, double arc0_mm, double arc1_mm, double azimuth_deg);
double sherd_profile_volume_mm3 (const SherdProfile *profile);

/* (transfer full): chords that keep within the tolerance of the curve, from its start to its end; by arc length */
GArray *sherd_profile_sample_arcs (const SherdProfile *profile, double tolerance_mm);

G_END_DECLS
