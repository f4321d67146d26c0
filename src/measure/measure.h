/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/correction.h"
#include "photo/picture.h"
#include "shape/outline.h"

G_BEGIN_DECLS

#define SHERD_MEASURE_ERROR (sherd_measure_error_quark ())
GQuark sherd_measure_error_quark (void);

typedef enum
{
  SHERD_MEASURE_ERROR_MARKS,     /* the piece or its reference cannot be placed in the photograph */
  SHERD_MEASURE_ERROR_REFERENCE, /* the chart or card cannot be used */
  SHERD_MEASURE_ERROR_ZONES      /* no zone, or a zone that cannot be */
} SherdMeasureError;

/* A zone to measure. */
typedef struct
{
  const char *id;
  const char *code;
  const SherdOutline *outline_mm; /* on the face; origin top left, y down */
  gboolean bare;                  /* a control without paint: its ground is the colour asked for */
} SherdMeasureZone;

/* A patch of a chart, its place on the chart and its colour. */
typedef struct
{
  const char *name;
  const SherdOutline *outline_mm; /* in the chart's frame, y down */
  SherdLab lab;
} SherdMeasurePatch;

typedef enum
{
  SHERD_REFERENCE_NONE,
  SHERD_REFERENCE_GREY_CARD, /* one patch */
  SHERD_REFERENCE_CHART
} SherdReferenceKind;

/* What is to be measured in one photograph. Nothing is owned. */
typedef struct
{
  const char *photo_path;
  double face_width_mm;
  double face_height_mm;
  const SherdMark *marks; /* piece_mm on the face, four or more */
  gsize n_marks;
  double mark_sd_px;
  gboolean unfired; /* the piece has not been fired yet: no paint is a glass */
  const SherdMeasureZone *zones;
  gsize n_zones;
  SherdReferenceKind reference;
  const SherdMark *reference_marks; /* in the chart's frame, four or more */
  gsize n_reference_marks;
  gboolean
    reference_unsized; /* the chart's frame has proportions but no known size: it lies in the plane of the face */
  const SherdMeasurePatch *patches;
  gsize n_patches;
} SherdMeasureRequest;

/* Why a zone's number is not to be trusted, or is wider than usual. */
typedef enum
{
  SHERD_ZONE_FEW_PIXELS = 1 << 0, /* too small in the photograph: no colour */
  SHERD_ZONE_CLIPPED = 1 << 1,    /* too many pixels over-exposed: no colour */
  SHERD_ZONE_GLARE =
    1 << 2, /* the lamp may be mirrored here and the picture does not exclude it: interval widened toward dark */
  SHERD_ZONE_LITTLE_PAINT = 1 << 3, /* hardly any paint is left: no colour of the paint */
  SHERD_ZONE_OUTSIDE = 1 << 4,      /* not (wholly) within the photograph */
  SHERD_ZONE_TWO_COLOURS = 1 << 5,  /* paint and ground could not be told apart although the zone is uneven */
  SHERD_ZONE_DARK = 1 << 6          /* below what the file resolves */
} SherdZoneFlags;

/* Flags with which the colour of a zone is not measured at all. */
#define SHERD_ZONE_NOT_MEASURED                                                                                        \
  (SHERD_ZONE_FEW_PIXELS | SHERD_ZONE_CLIPPED | SHERD_ZONE_LITTLE_PAINT | SHERD_ZONE_OUTSIDE)

/* (transfer full) (nullable): the flags in words for the user, joined by "; "; NULL when there is none. */
char *sherd_zone_flags_to_text (guint flags);

/* In how many steps of equal probability the light that may be mirrored is told. */
#define SHERD_MIRRORED_STEPS 16

/* One zone in one photograph. Covariances are of L*, a*, b*. */
typedef struct
{
  char *id;
  char *code;
  guint flags;       /* SherdZoneFlags */
  SherdLab lab;      /* the paint, D50/2°, lit evenly */
  SherdLab lower_95; /* per axis, the stated 95 % interval: not symmetric where glare is possible */
  SherdLab upper_95;
  double covariance[3][3]; /* all parts together */
  /* how much of the colour may be light that a sheen adds, as shares of white, rising; each is as likely as the other
   */
  double mirrored[SHERD_MIRRORED_STEPS];
  double scatter[3][3];   /* of the mean, from blocks of the zone */
  double reference[3][3]; /* calibration residual */
  double registration[3][3];
  double light[3][3]; /* what is left of uneven light */
  SherdLab pixel_sd;  /* spread of single pixels */
  SherdLab ground;    /* bare ground beside the zone, same light */
  guint n_pixels;     /* behind the colour */
  guint n_glare;      /* set aside */
  guint n_shadow;
  guint n_clipped;
  guint n_ground;       /* inside the zone, where paint has come off */
  double retained_frac; /* share of the zone still painted, −1 if it cannot be told */
  double px_per_mm;
} SherdZoneColour;

/* What is left of one patch of the chart when the correction is made without it. */
typedef struct
{
  SherdLab lab;    /* its stated colour */
  SherdLab error;  /* measured minus stated, per axis */
  gboolean usable; /* FALSE when clipped, in shadow or outside the photograph: the rest is then 0 */
} SherdPatchError;

/* FALSE for NULL and for a zone whose flags say that it has no colour. */
gboolean sherd_zone_colour_is_measured (const SherdZoneColour *zone);

/* One photograph measured. */
typedef struct
{
  SherdZoneColour *zones; /* in the order of the request */
  gsize n_zones;
  SherdPatchError *patches; /* in the order of the request */
  gsize n_patches;
  SherdCorrection correction;
  double residual_rms_px; /* registration of the face */
  double residual_rms_mm;
  double uneven_frac; /* largest over least light on the face, minus 1, before it was divided out */
  double reference_clipped_frac;
  GStrv warnings; /* translated, for the user */
} SherdPhotoMeasurement;

SherdPhotoMeasurement *sherd_measure_photo (const SherdMeasureRequest *request,
                                            SherdProgressFunc progress,
                                            gpointer user_data,
                                            GCancellable *cancellable,
                                            GError **error);
void sherd_photo_measurement_free (SherdPhotoMeasurement *measurement);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdPhotoMeasurement, sherd_photo_measurement_free)

G_END_DECLS
