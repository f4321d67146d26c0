/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/error.h"
#include "chem/oxide.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PHASE_MELTING,     /* a compound, or an oxide, that melts as it is */
  SHERD_PHASE_EUTECTIC,    /* the lowest point between two of them */
  SHERD_PHASE_INCONGRUENT, /* a compound that breaks up into liquid and another */
  SHERD_PHASE_LIQUIDUS,    /* a point between, where the last crystal melts */
  SHERD_PHASE_LOWEST       /* the lowest temperature at which liquid was met */
} SherdPhasePointKind;

typedef struct
{
  SherdPhasePointKind kind;
  char *phase;        /* what melts there, in formulas */
  gboolean is_placed; /* the composition is known */
  double mol_frac[3]; /* of the system's oxides, in its order */
  double temperature_c;
  double limit_c; /* ± */
  char *source;   /* key of the head of data/low-melting-systems.csv */
  char *known;    /* “seen”, “memory”, “estimate” */
} SherdPhasePoint;

/* One published system of up to three oxides. */
typedef struct
{
  char *name; /* “PbO-SiO2” */
  SherdOxide oxides[3];
  guint n_oxides;
  gboolean has_liquidus; /* its points may be joined by straight lines in mol % */
  gboolean is_bound;     /* says only how low liquid was met */
  GArray *points;        /* of SherdPhasePoint, in falling mol_frac[0] where joined */
} SherdPhaseSystem;

GPtrArray *sherd_phase_systems_new (const char *text, gssize length, GError **error);
GPtrArray *sherd_phase_systems_new_built_in (void);
const SherdPhaseSystem *sherd_phase_systems_find (const GPtrArray *systems, const char *name);

double sherd_phase_liquidus_c (const SherdPhaseSystem *system, double first_frac, double *limit_c);
double sherd_phase_solidus_c (const SherdPhaseSystem *system, double first_frac, double *limit_c);
double
sherd_phase_most_liquid_frac (const SherdPhaseSystem *system, const SherdPhasePoint *point, const SherdOxides *oxides);

G_END_DECLS
