/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/batch.h"
#include "chem/melt.h"
#include "trial/paint-mix.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_REMARK_MISSING, /* something must be filled in or put right before more can be reckoned */
  SHERD_REMARK_CAUTION, /* something can hurt */
  SHERD_REMARK_NOTE
} SherdRemarkKind;

/* Something to be told in words, at the ingredient that causes it. */
typedef struct
{
  int row; /* an ingredient, SHERD_ROW_PAINT or SHERD_ROW_BINDER */
  SherdRemarkKind kind;
  SherdHazards hazard; /* of a caution; 0 else */
  char *words;
} SherdRemark;

/* An ingredient as it is named. */
typedef struct
{
  char *name;
  double parts;
  char *parts_text;
} SherdPaintRow;

/* A material that goes into the batch, whichever paint within brings it. NAN for what is not known. */
typedef struct
{
  char *material_id;
  char *name;
  double mass_pct; /* of the dry mass with the binder */
  double need_g;   /* for the batch */
  double stock_g;
  double left_g; /* after the batch; below 0 when there is not enough */
  double cost;
  char *currency;
} SherdPaintStock;

/* All that follows from a recipe. Window, command line and pages show the same. */
typedef struct
{
  char *code;
  char *name;
  guint revision;
  SherdBasis basis;
  GArray *rows;             /* of SherdPaintRow */
  GArray *remarks;          /* of SherdRemark */
  SherdPaintMix *recipe;    /* (nullable): NULL when a remark says why nothing can be reckoned */
  SherdMixFacts *mix;       /* (nullable): likewise */
  SherdBatch *batch;        /* (nullable): NULL without a batch that can be weighed */
  GPtrArray *systems;       /* (nullable): of SherdPhaseSystem: what the outlook rests on, for a plot; with @mix */
  SherdMeltOutlook outlook; /* on melting; only with @mix */
  GArray *stocks;           /* of SherdPaintStock; empty without @mix */
  double slip_g_l;          /* mass of a litre of the stirred paint; NAN when water or density is not known */
  double cost;              /* of the batch; NAN when a price is missing or currencies differ */
  char *currency;           /* (nullable) */
} SherdPaintFacts;

/* (transfer full): never NULL. @revision: 0 for the paint as it stands; @request: (nullable): else the planned batch */
SherdPaintFacts *
sherd_paint_facts_new (SherdTrial *trial, SherdPaint *paint, guint revision, const SherdBatchRequest *request);
void sherd_paint_facts_free (SherdPaintFacts *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdPaintFacts, sherd_paint_facts_free)

/* Outlook for a firing; NULL when none is planned. It is reckoned for none before. */
void sherd_paint_facts_set_heat (SherdPaintFacts *facts, const SherdMeltHeat *heat);
/* (transfer full): in plain words, a sentence a line; empty while nothing can be reckoned */
char *sherd_paint_facts_dup_outlook (const SherdPaintFacts *facts);

/* Of the materials, whether the recipe can be reckoned or not. */
SherdHazards sherd_trial_get_paint_hazards (SherdTrial *trial, SherdPaint *paint);
/* (transfer full): "lead, silica dust" */
char *sherd_hazards_dup_names (SherdHazards hazards);

G_END_DECLS
