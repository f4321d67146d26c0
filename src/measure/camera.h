/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/focal.h"
#include "shape/homography.h"

G_BEGIN_DECLS

/* A pinhole camera in the frame of a face: x right, y down, z into the clay, mm. */
typedef struct
{
  double focal_px;
  double centre_x_px; /* principal point: the middle of the photograph */
  double centre_y_px;
  double rotation[3][3]; /* face frame → camera frame (x right, y down, z forward) */
  double translation[3]; /* mm */
  double position_mm[3]; /* of the lens in the face frame; z is negative */
} SherdCamera;

/* A flat thing, such as a chart, in the face frame. */
typedef struct
{
  double origin_mm[3];
  double axis_x[3]; /* unit vectors */
  double axis_y[3];
  double normal[3]; /* out of the printed side */
  double residual_rms_px;
  gboolean parallel; /* lies parallel to the face */
} SherdPlane;

void sherd_camera_fit (SherdCamera *camera,
                       const SherdHomography *homography,
                       const SherdMark *marks,
                       gsize n_marks,
                       double mark_sd_px,
                       guint width_px,
                       guint height_px,
                       const SherdFocalGuess *guess);
SherdPoint sherd_camera_project (const SherdCamera *camera, const double position_mm[3]);

void sherd_plane_fit (SherdPlane *plane,
                      const SherdCamera *camera,
                      const SherdHomography *face,
                      const SherdMark *marks,
                      gsize n_marks,
                      double mark_sd_px);
void sherd_plane_point (const SherdPlane *plane, SherdPoint on_plane_mm, double position_mm[3]);

G_END_DECLS
