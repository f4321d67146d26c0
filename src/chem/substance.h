/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/hazard.h"
#include "chem/oxide.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_SUBSTANCE_COLOURANT,
  SHERD_SUBSTANCE_FLUX,
  SHERD_SUBSTANCE_CLAY,
  SHERD_SUBSTANCE_FILLER,
  SHERD_SUBSTANCE_BINDER,
  SHERD_N_SUBSTANCE_KINDS
} SherdSubstanceKind;

/* What a find is besides the mineral it is named after. */
typedef enum
{
  SHERD_REST_QUARTZ, /* SiO2 */
  SHERD_REST_CLAY,   /* Al2Si2O5(OH)4 */
  SHERD_REST_LIME,   /* CaCO3 */
  SHERD_N_RESTS
} SherdRest;

/* One thing a substance is made of: a mineral, or an oxide of its analysis. */
typedef struct
{
  char *formula;         /* (nullable): as written; NULL is the loss on ignition */
  SherdFormula *content; /* (nullable): read; NULL with @formula */
  SherdValue pct;        /* of the mass */
} SherdConstituent;

/* What happens on heating. */
typedef struct
{
  double from_c; /* NAN: always */
  double to_c;   /* NAN: and above */
  char *words;
} SherdHeatStep;

typedef struct
{
  double low;
  double high;
} SherdBounds;

/* Kinds of figures, each with a source of its own. */
typedef enum
{
  SHERD_FACT_COMPOSITION,
  SHERD_FACT_DENSITY,
  SHERD_FACT_BULK,
  SHERD_FACT_HEAT,
  SHERD_FACT_COLOUR,
  SHERD_N_FACTS
} SherdFact;

/* The share of its volume that grains fill in a loose dry powder: 0.25 to 0.45 (common practice, no source). */
#define SHERD_LOOSE_PACKING_LEAST 0.25
#define SHERD_LOOSE_PACKING_MOST 0.45

/* By how much an analysis may miss 100 %: our choice; laboratories call 98.5 to 101.5 good (from memory). */
#define SHERD_ANALYSIS_TOLERANCE_PCT 2.0

/* An analysis with doubts of its own may miss 100 % by twice its doubt, but not by more than this (our choice). */
#define SHERD_ANALYSIS_MOST_TOLERANCE_PCT 15.0

/* A material as the potter weighs it. Made by sherd_substance_new (); a density whose value is 0 is not known. */
typedef struct
{
  char *id;
  char *name;
  SherdSubstanceKind kind;
  GArray *constituents;     /* of SherdConstituent; they sum to 100 % */
  SherdValue purity_frac;   /* the share of the constituents; a find has less than 1 */
  SherdRest rest;           /* what the remainder is */
  SherdValue particle_g_ml; /* density of the constituents' grains, without a find's rest */
  SherdValue bulk_g_ml;     /* loose powder; where 0, estimated from @particle_g_ml */
  SherdValue spoon_g;       /* the user's own level spoon, weighed */
  double spoon_ml;          /* and how much it holds; 0 when not known */
  SherdBounds softens_c;    /* of a frit; 0 when it is no glass */
  SherdBounds flows_c;
  SherdHazards hazards;         /* as stated; sherd_substance_get_hazards () adds those of the elements */
  char *colour_raw;             /* (nullable) */
  char *colour_fired;           /* (nullable): in clear air */
  GArray *heat_steps;           /* of SherdHeatStep */
  char *note;                   /* (nullable) */
  char *sources[SHERD_N_FACTS]; /* (nullable): ids of the table's sources, parted by spaces */
  gboolean is_built_in;         /* its texts are translated by sherd_substance_text () */
} SherdSubstance;

SherdSubstance *sherd_substance_new (const char *id, const char *name, SherdSubstanceKind kind);
SherdSubstance *sherd_substance_copy (const SherdSubstance *substance);
void sherd_substance_free (SherdSubstance *substance);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdSubstance, sherd_substance_free)

gboolean
sherd_substance_set_formula (SherdSubstance *substance, const char *formula, SherdTextPlace *place, GError **error);
gboolean sherd_substance_set_analysis (SherdSubstance *substance,
                                       const char *text,
                                       SherdTextPlace *place,
                                       GError **error); /* in analysis.c */
gboolean sherd_substance_set_purity (SherdSubstance *substance, SherdValue purity_frac, SherdRest rest, GError **error);
void sherd_substance_add (SherdSubstance *substance, const char *formula, SherdFormula *content, SherdValue pct);
char *sherd_substance_dup_analysis (const SherdSubstance *substance); /* in analysis.c */

gboolean sherd_substance_get_particle_g_ml (const SherdSubstance *substance, SherdValue *particle_g_ml);
gboolean sherd_substance_get_bulk_g_ml (const SherdSubstance *substance, SherdValue *bulk_g_ml);
SherdHazards sherd_substance_get_hazards (const SherdSubstance *substance);

gboolean sherd_substance_check (const SherdSubstance *substance, GError **error);

const char *sherd_substance_text (const SherdSubstance *substance, const char *text);
const char *sherd_fact_get_name (SherdFact fact);
const char *sherd_substance_kind_get_id (SherdSubstanceKind kind);
const char *sherd_substance_kind_get_name (SherdSubstanceKind kind);
const char *sherd_rest_get_name (SherdRest rest);

G_END_DECLS
