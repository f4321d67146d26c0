/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/substance.h"
#include "trial/analysis.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_MATERIAL_COLOURANT,
  SHERD_MATERIAL_FLUX,
  SHERD_MATERIAL_CLAY,
  SHERD_MATERIAL_FILLER, /* silica, feldspar and what else neither colours nor fluxes */
  SHERD_MATERIAL_BINDER
} SherdMaterialKind;

#define SHERD_TYPE_MATERIAL_KIND (sherd_material_kind_get_type ())
GType sherd_material_kind_get_type (void); /* "colourant", "flux", "clay", "filler", "binder" */

#define SHERD_TYPE_REST (sherd_rest_get_type ())
GType sherd_rest_get_type (void); /* "quartz", "clay", "lime" */

/* All that is known of a material. Texts are never NULL; a number that is not known is NAN, never 0. Densities are
 * g/cm³. */
typedef struct
{
  char *name; /* unique in the trial */
  SherdMaterialKind kind;
  char *formula;                 /* "Cu2CO3(OH)2"; empty where there is an analysis or nothing is known */
  SherdAnalysis *analysis;       /* oxides by mass; (nullable); used instead of a formula */
  double loss_pct;               /* lost in the fire, by mass, as analysed; goes with the analysis */
  double loss_doubt_pct;         /* standard uncertainty of it */
  double particle_density_g_cm3; /* of the solid */
  double bulk_density_g_cm3;     /* of the loose powder */
  double spoon_g;                /* own weighing: one level spoon */
  double spoon_ml;               /* volume of that spoon */
  char *colour;                  /* unfired, in words */
  char *fired_colour;            /* fired in air, in words */
  GStrv hazards;                 /* words, "lead", "silica dust"; never NULL */
  double purity_pct;             /* of a find: share by mass of what formula or analysis says; 100 for what is pure */
  double purity_doubt_pct;       /* standard uncertainty of it */
  SherdRest rest;                /* what the remainder is taken to be */
  double softens_from_c;         /* of a frit: where it begins to soften, and by when it has */
  double softens_to_c;
  double flows_from_c; /* and to flow */
  double flows_to_c;
  char *heating; /* what happens to it in the fire, in words */
  char *place;   /* where it was found or bought */
  char *lot;
  double grinding_min;
  double sieve_um;
  char *washing;
  double price_per_kg;
  char *currency; /* text, as the potter writes it */
  double stock_g;
  char *note;
  char *source; /* where the figures come from */
  char *origin; /* id of the built-in material it was copied from, else empty */
} SherdMaterialRecord;

/* Our choice. */
#define SHERD_MATERIAL_NAME_MAX_LETTERS 120

void sherd_material_record_init (SherdMaterialRecord *record);
/* @record: (out): a copy of @source, to be cleared */
void sherd_material_record_copy (SherdMaterialRecord *record, const SherdMaterialRecord *source);
void sherd_material_record_clear (SherdMaterialRecord *record);
gboolean sherd_material_record_equal (const SherdMaterialRecord *first, const SherdMaterialRecord *second);
/* SHERD_TRIAL_ERROR_VALUE: what no material can have. */
gboolean sherd_material_record_check (const SherdMaterialRecord *record, GError **error);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SherdMaterialRecord, sherd_material_record_clear)

/* Bulk density from the own spoon where it was weighed, else as stated; NAN when neither is known. */
double sherd_material_record_get_bulk_density_g_cm3 (const SherdMaterialRecord *record);

/* The fields one by one, for what treats them all alike: properties, file, CSV. */
typedef enum
{
  SHERD_RECORD_TEXT,
  SHERD_RECORD_NUMBER,
  SHERD_RECORD_CHOICE,
  SHERD_RECORD_ANALYSIS,
  SHERD_RECORD_WORDS
} SherdRecordFieldKind;

typedef struct
{
  const char *name; /* as in the file; NULL ends the list */
  SherdRecordFieldKind kind;
  gsize offset;
  double least; /* of a number */
  double most;
  double usual; /* NAN where it need not be known */
  GType (*get_choices) (void);
} SherdRecordField;

extern const SherdRecordField sherd_material_record_fields[];

gboolean sherd_material_record_same_field (const SherdMaterialRecord *first,
                                           const SherdMaterialRecord *second,
                                           const SherdRecordField *field);

#define SHERD_RECORD_TEXT_AT(record, field) ((char **)G_STRUCT_MEMBER_P (record, (field)->offset))
#define SHERD_RECORD_NUMBER_AT(record, field) ((double *)G_STRUCT_MEMBER_P (record, (field)->offset))
/* All enumerations have the size of an int (GObject relies on it too). */
#define SHERD_RECORD_CHOICE_AT(record, field) ((int *)G_STRUCT_MEMBER_P (record, (field)->offset))

G_END_DECLS
