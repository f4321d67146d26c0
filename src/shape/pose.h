/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/focal.h"
#include "shape/silhouette.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_POSE_POINT,     /* a known point */
  SHERD_POSE_CIRCLE,    /* somewhere on a known circle about the axis: rim, foot */
  SHERD_POSE_SILHOUETTE /* somewhere on the edge where the outside turns away */
} SherdPoseMarkKind;

/* Something of the piece, or of what it stands on, and where it is seen. */
typedef struct
{
  SherdPoseMarkKind kind;
  double position_mm[3]; /* of a point */
  double r_mm;           /* of a circle */
  double z_mm;
  gboolean apart;      /* not on the piece, as a tag of the sheet: does not shrink with it */
  SherdPoint photo_px; /* upright photograph */
  double sd_px;
} SherdPoseMark;

typedef struct
{
  const SherdPoseMark *marks;
  gsize n_marks;
  guint width_px;
  guint height_px;
  SherdFocalGuess focal;
  double scale; /* how large the piece is now to its measures: 1 less shrinkage */
  double scale_sd;
  const SherdProfile *outside; /* for silhouettes */
} SherdPoseRequest;

enum
{
  SHERD_POSE_TURN = 0,        /* 3: radians about the camera's axes */
  SHERD_POSE_TRANSLATION = 3, /* 3: shares of the distance */
  SHERD_POSE_LN_FOCAL = 6,
  SHERD_POSE_LN_SCALE = 7,
  SHERD_POSE_K1 = 8,
  SHERD_POSE_SIZE = 9
};

typedef struct
{
  SherdPinhole pinhole; /* in the frame of the piece; its positions are to be multiplied by the scale */
  double scale;
  double distance_mm; /* from the lens to the origin */
  double covariance[SHERD_POSE_SIZE][SHERD_POSE_SIZE];
  double residual_rms_px;
  double residual_rms_mm;
  guint worst_mark;     /* the mark that lies farthest off */
  double worst_px;      /* how far from where it is seen or, if it is wrong, from where the others foresee it */
  gboolean worst_wrong; /* so far that it cannot be chance */
} SherdPose;

gboolean sherd_pose_fit (SherdPose *pose, const SherdPoseRequest *request, GError **error);

void sherd_pose_moved (const SherdPose *pose, const double change[SHERD_POSE_SIZE], SherdPose *moved);
SherdPoint sherd_pose_project (const SherdPose *pose, const double position_mm[3]);
void sherd_pose_centre (const SherdPose *pose, double centre_mm[3]);
double sherd_pose_mark_px (const SherdPoseRequest *request, const SherdPose *pose, guint i);
double sherd_pose_px_per_mm (const SherdPose *pose, const double position_mm[3]);
void sherd_pose_point_covariance (const SherdPose *pose, const double position_mm[3], double covariance_px[2][2]);

/* In pose-start.c: poses to begin from. (transfer full) (element-type SherdPose) */
GArray *sherd_pose_starts (const SherdPoseRequest *request);
/* In units of standard deviations; one for each mark. */
void sherd_pose_residuals (const SherdPoseRequest *request, const SherdPose *pose, double *residuals);
gsize sherd_pose_n_residuals (const SherdPoseRequest *request);

G_END_DECLS
