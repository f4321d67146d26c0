/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/calibrate.h"
#include "measure/field.h"
#include "measure/glare.h"
#include "measure/mixture.h"

G_BEGIN_DECLS

/* The pixels read of one zone. */
typedef struct
{
  float *linear_rgb; /* three floats a pixel; reflectance once the light is divided out */
  float *x_mm;
  float *y_mm;
  guint8 *flags; /* SherdPixelFlags */
  guint8 *core;  /* nonzero well inside the zone, where its edge cannot waver to */
  gsize n;
  double core_frac;  /* share of the zone's area where pixels count as core */
  double n_in_photo; /* how many pixels of the photograph the zone covers; those read are a sample of them */
} SherdZonePixels;

/* What all zones of one photograph share. */
typedef struct
{
  const SherdCalibration *calibration;
  const SherdField *field;
  const SherdCamera *camera;
  const SherdLamps *lamps;
  const SherdSurface *ground; /* NULL when there is no bare ground */
  double noise_sd[3];         /* of the camera, linear light */
  gboolean unfired;
} SherdZoneContext;

/* What is kept of a zone until all have been looked at. */
typedef struct
{
  SherdSlope slope;
  double mean[3]; /* reflectance in the camera's channels */
  double n_read;
  gboolean bare;
} SherdZoneLook;

SherdZonePixels *sherd_zone_pixels_new (gsize n_most);
void sherd_zone_pixels_free (SherdZonePixels *pixels);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdZonePixels, sherd_zone_pixels_free)

void sherd_divide_light (SherdZonePixels *pixels, const SherdField *field);
gsize sherd_trimmed_mean (const float *reflectance, const guint8 *use, gsize n_pixels, double mean[3]);
void sherd_zone_measure (SherdZoneColour *zone,
                         SherdZonePixels *pixels,
                         const SherdZoneContext *context,
                         gboolean bare,
                         double mark_sd_mm,
                         SherdZoneLook *look);
void sherd_zone_judge_glare (SherdZoneColour *zone, const SherdZoneLook *look, const SherdZoneContext *context);

G_END_DECLS
