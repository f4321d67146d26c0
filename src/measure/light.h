/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A point that is lit and seen. Frame: the face, x right, y down, z into the clay, mm. */
typedef struct
{
  double position_mm[3];
  double normal[3];     /* unit vector out of the surface; (0, 0, −1) on the face */
  double corner_square; /* (distance from the photograph's middle ÷ half its diagonal)² */
} SherdLightPoint;

/* What was seen at a point: light, or light times the unknown reflectance of the ground. */
typedef struct
{
  SherdLightPoint point;
  double ln_value[3];      /* ln (measured linear light ÷ reflectance); on the ground ln (measured linear light) */
  double brightness_sd_ln; /* scatter common to the channels */
  double colour_sd_ln;     /* and of each channel alone */
  double weight;           /* of its squared residual: below 1 for values that are not independent */
  gboolean ground;
} SherdLightSample;

typedef enum
{
  SHERD_LIGHT_AZIMUTH,     /* of the lamp about the middle of the face, rad, from x towards y */
  SHERD_LIGHT_ELEVATION,   /* above the face, rad */
  SHERD_LIGHT_LN_DISTANCE, /* ln mm from the middle of the face */
  SHERD_LIGHT_POWER,       /* p of (D/d)^p: 2 for a small bare lamp, less for a large or diffused one */
  SHERD_LIGHT_VIGNETTING,  /* loss in the corners of the photograph */
  SHERD_LIGHT_LN_LAMP,     /* three channels */
  SHERD_LIGHT_LN_AMBIENT = SHERD_LIGHT_LN_LAMP + 3, /* three channels, ln (ambient ÷ lamp) */
  SHERD_LIGHT_LN_GROUND = SHERD_LIGHT_LN_AMBIENT + 3,
  SHERD_LIGHT_SIZE = SHERD_LIGHT_LN_GROUND + 3
} SherdLightParameter;

/* A near lamp and even ambient light, fitted to one photograph. */
typedef struct
{
  double parameters[SHERD_LIGHT_SIZE];
  double covariance[SHERD_LIGHT_SIZE][SHERD_LIGHT_SIZE];
  double middle_mm[3]; /* about which the lamp's place is told */
  gboolean has_ground;
  gboolean level_free; /* nothing tells the level: light is 1 at @level_point, and uncertain only relative to it */
  SherdLightPoint level_point;
} SherdLight;

void sherd_light_init_even (SherdLight *light, const double middle_mm[3]);
double sherd_light_fit (SherdLight *light, const SherdLightSample *samples, gsize n_samples, const double middle_mm[3]);
double sherd_light_refit (SherdLight *light, const SherdLightSample *samples, gsize n_samples);
void sherd_light_free_level (SherdLight *light, const SherdLightPoint *point);
void sherd_light_at (const SherdLight *light, const SherdLightPoint *point, double value[3]);
double sherd_light_lamp_share (const SherdLight *light, const SherdLightPoint *point);
void sherd_light_lamp_shares (const SherdLight *light, const SherdLightPoint *point, double share[3]);
double sherd_light_ambient_tint_sd (const SherdLight *light);
void sherd_light_lamp_mm (const double *parameters, const double middle_mm[3], double lamp_mm[3]);
void sherd_light_ln_covariance (const SherdLight *light, const SherdLightPoint *point, double covariance[3][3]);

G_END_DECLS
