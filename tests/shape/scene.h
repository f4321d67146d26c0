/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/pose.h"
#include "shape/vessel.h"

G_BEGIN_DECLS

/* A rendered vessel with its exact cameras, from scenes/NAME/truth.json in the shared folder. Places on the side are in
 * the scene's own measure: arc length from the first point of the profile, which is straight between its points. */
typedef struct
{
  char *name;
  SherdPoint px;
  double position_mm[3];
  gboolean visible;
} SceneLandmark;

typedef struct
{
  guint visible_px;
  SherdPoint centroid_px;
} SceneSeen;

typedef struct
{
  char *file;
  guint width_px;
  guint height_px;
  double matrix[3][4];
  GArray *landmarks; /* of SceneLandmark */
  GArray *seen;      /* of SceneSeen, in the order of the zones */
} ScenePhoto;

typedef struct
{
  double azimuth0_deg;
  double azimuth1_deg;
  double s0_mm;
  double s1_mm;
} SceneZone;

typedef struct
{
  SherdSurfaceKind kind;
  GArray *profile;   /* of SherdProfilePoint: the painted side */
  GArray *zones;     /* of SceneZone */
  GPtrArray *photos; /* of ScenePhoto */
  SherdVessel *vessel;
} Scene;

Scene *scene_load (const char *name); /* NULL, with the test skipped, where there is no shared folder */
void scene_free (Scene *scene);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Scene, scene_free)

void scene_position (const Scene *scene, double azimuth_deg, double s_mm, double position_mm[3]);
SherdPoint scene_project (const ScenePhoto *photo, const double position_mm[3]);
SherdRange scene_range (const Scene *scene, const SceneZone *zone);
SherdSurface scene_surface (const Scene *scene);

G_END_DECLS
