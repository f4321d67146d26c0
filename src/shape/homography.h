/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/mark.h"

G_BEGIN_DECLS

/* The plane of a tile or chart seen by a pinhole camera. */
typedef struct
{
  double h[3][3];          /* piece mm → photo px */
  double inverse[3][3];    /* photo px → piece mm */
  double covariance[8][8]; /* of h[0][0] … h[2][1] with h[2][2] = 1 held, px² noise included */
  double residual_rms_px;  /* 0 for four marks */
  double residual_rms_mm;
  guint worst_mark; /* index of the mark that fits the others least */
  double worst_residual_px;
} SherdHomography;

/* @mark_sd_px: standard deviation with which a mark was placed, for the covariance (0.5 px if unknown) */
gboolean sherd_homography_fit (SherdHomography *homography,
                               const SherdMark *marks,
                               gsize n_marks,
                               double mark_sd_px,
                               GError **error);

SherdPoint sherd_homography_to_photo (const SherdHomography *homography, SherdPoint piece_mm);
SherdPoint sherd_homography_to_piece (const SherdHomography *homography, SherdPoint photo_px);
gboolean sherd_homography_sees (const SherdHomography *homography, SherdPoint piece_mm);
double sherd_homography_px_per_mm (const SherdHomography *homography, SherdPoint piece_mm);
/* 2 × 2 covariance in px² of the projected point. */
void
sherd_homography_point_covariance (const SherdHomography *homography, SherdPoint piece_mm, double covariance_px[2][2]);

G_END_DECLS
