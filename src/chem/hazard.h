/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/element.h"

G_BEGIN_DECLS

/* What can hurt, as flags. */
typedef enum
{
  SHERD_HAZARD_LEAD = 1 << 0,
  SHERD_HAZARD_SULPHUR_DIOXIDE = 1 << 1, /* given off in the fire */
  SHERD_HAZARD_MANGANESE = 1 << 2,
  SHERD_HAZARD_COPPER = 1 << 3,
  SHERD_HAZARD_COBALT = 1 << 4,
  SHERD_HAZARD_CHROMIUM = 1 << 5,
  SHERD_HAZARD_BARIUM = 1 << 6,
  SHERD_HAZARD_NICKEL = 1 << 7,
  SHERD_HAZARD_ARSENIC = 1 << 8,
  SHERD_HAZARD_ANTIMONY = 1 << 9,
  SHERD_HAZARD_CADMIUM = 1 << 10,
  SHERD_HAZARD_MERCURY = 1 << 11,
  SHERD_HAZARD_VANADIUM = 1 << 12,
  SHERD_HAZARD_URANIUM = 1 << 13,
  SHERD_HAZARD_FLUORIDE = 1 << 14,
  SHERD_HAZARD_SILICA_DUST = 1 << 15,
  SHERD_HAZARD_CAUSTIC = 1 << 16,
  SHERD_HAZARD_BORATE = 1 << 17,
  SHERD_HAZARD_FIRE = 1 << 18, /* burns as a powder */
  SHERD_HAZARD_DUST = 1 << 19  /* a nuisance like any dust */
} SherdHazards;

#define SHERD_N_HAZARDS 20

const char *sherd_hazard_get_id (SherdHazards hazard);
SherdHazards sherd_hazard_from_id (const char *id);
const char *sherd_hazard_get_name (SherdHazards hazard);
const char *sherd_hazard_get_caution (SherdHazards hazard);
const char *sherd_hazard_get_limits (SherdHazards hazard);

double sherd_sulphur_dioxide_mg_m3 (double ppm);
double sherd_sulphur_dioxide_air_m3 (double sulphur_dioxide_g);

SherdHazards sherd_hazards_of_atoms (const SherdAtoms *atoms);
const char *sherd_hazards_get_food_caution (SherdHazards hazards);
const char *sherd_hazards_get_deference (void);

G_END_DECLS
