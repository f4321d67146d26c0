/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/measure.h"

G_BEGIN_DECLS

/* How a rendered surface shines. */
typedef enum
{
  SHERD_SCENE_MATTE,
  SHERD_SCENE_SATIN,
  SHERD_SCENE_GLOSSY,
  SHERD_SCENE_N_GLOSS
} SherdSceneGloss;

/* What is true of one zone in one photograph of a rendered scene. */
typedef struct
{
  SherdLab lab; /* mean of the visible paint */
  double retained_frac;
  double half_angle_deg; /* least angle between normal and bisector of lamp and lens */
  double view_deg;       /* steepest view */
  double clipped_frac;
  guint n_visible_px;
  SherdSceneGloss gloss;
  gboolean matte;
} SherdSceneTruth;

typedef struct
{
  char *path;
  char *state;
  SherdMark face_marks[4];
  SherdMark chart_marks[4];
  SherdSceneTruth *truth; /* one a zone */
} SherdScenePhoto;

/* A rendered tile with its chart, read from truth.json. */
typedef struct
{
  char *name;
  double width_mm;
  double height_mm;
  SherdMeasureZone *zones;
  gsize n_zones;
  SherdMeasurePatch *patches;
  gsize n_patches;
  SherdScenePhoto *photos;
  gsize n_photos;
} SherdScene;

SherdScene *sherd_scene_load (const char *folder, GError **error);
void sherd_scene_free (SherdScene *scene);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdScene, sherd_scene_free)

SherdPhotoMeasurement *sherd_scene_measure (const SherdScene *scene,
                                            gsize photo,
                                            SherdReferenceKind kind,
                                            double jitter_px,
                                            gulong seed,
                                            GError **error);

G_END_DECLS
