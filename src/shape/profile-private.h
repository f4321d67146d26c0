/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/profile.h"

G_BEGIN_DECLS

/* The part of the curve on which one quadrature is exact: cubics of u = 0 … 1, and the integrals up to its start. */
typedef struct
{
  double r[4]; /* r (u) = r[0] + r[1] u + r[2] u² + r[3] u³ */
  double z[4];
  double length_mm;
  double arc_mm;                /* of its start */
  SherdProfileIntegrals before; /* up to its start */
  gsize point;                  /* the given point at or before it */
} SherdProfilePiece;

struct _SherdProfile
{
  GArray *pieces; /* of SherdProfilePiece */
  double length_mm;
};

static inline double
sherd_cubic (const double c[4], double u)
{
  return c[0] + u * (c[1] + u * (c[2] + u * c[3]));
}

double sherd_profile_piece_length (const SherdProfilePiece *piece, double u0, double u1);
/* (transfer full): pieces through points that passed sherd_profile_check_points () */
GArray *sherd_profile_pieces_through (const SherdProfilePoint *points, gsize n_points);

/* In profile-check.c. */
gboolean sherd_profile_check_points (const SherdProfilePoint *points, gsize n_points, gsize *fault, GError **error);
gboolean sherd_profile_check_crossing (GArray *pieces, const SherdProfilePoint *points, gsize *fault, GError **error);

G_END_DECLS
