/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/mix-facts.h"
#include "chem/phase.h"

G_BEGIN_DECLS

/* A planned or logged firing. */
typedef struct
{
  gboolean is_known;
  SherdValue peak_c;
  double minutes; /* within 30 °C of the peak; 0 when not known */
} SherdMeltHeat;

/* What the outlook rests on, and what it does not know; as flags. */
typedef enum
{
  SHERD_MELT_NOTHING_LEFT = 1 << 0,     /* no oxides are left */
  SHERD_MELT_NO_FLUX = 1 << 1,          /* no low-melting system with enough of its oxides */
  SHERD_MELT_LITTLE_LIQUID = 1 << 2,    /* the oxides that melt can make little liquid */
  SHERD_MELT_NO_SILICA = 1 << 3,        /* lead without a source of silica */
  SHERD_MELT_SULPHUR = 1 << 4,          /* sulphide or sulphate must lose its sulphur first */
  SHERD_MELT_ALUMINA = 1 << 5,          /* alumina widens the range */
  SHERD_MELT_TOO_MUCH_ALUMINA = 1 << 6, /* more alumina than the fluxes can take up */
  SHERD_MELT_BORATE = 1 << 7,           /* few published points with boron */
  SHERD_MELT_OUTSIDE_SYSTEM = 1 << 8,   /* much that is in no published system used here */
  SHERD_MELT_NO_LIQUIDUS = 1 << 9,      /* it is not published here when all is liquid */
  SHERD_MELT_ESTIMATED = 1 << 10,       /* between published points */
  SHERD_MELT_COMPOSITION = 1 << 11,     /* the doubt of the materials widens the range much */
  SHERD_MELT_GLASS = 1 << 12,           /* a frit softens before crystals would melt */
  SHERD_MELT_TIME_ASSUMED = 1 << 13,    /* time at the peak not known */
  SHERD_MELT_SHORT_TIME = 1 << 14       /* far less than an hour: equilibrium is a lower bound */
} SherdMeltReasons;

#define SHERD_N_MELT_REASONS 15

typedef enum
{
  SHERD_MELT_FAIRLY_SURE,
  SHERD_MELT_ROUGH,
  SHERD_MELT_GUESS,
  SHERD_MELT_CANNOT_SAY,
  SHERD_N_MELT_SURENESSES
} SherdMeltSureness;

/* From colder to hotter. */
typedef enum
{
  SHERD_MELT_NOT_ASKED,   /* no firing given */
  SHERD_MELT_UNKNOWN,     /* nothing can be said */
  SHERD_MELT_NONE,        /* too cold for any liquid */
  SHERD_MELT_LIKELY_DULL, /* liquid may begin; likelier to stay unglazed */
  SHERD_MELT_PARTLY,      /* liquid in part at most */
  SHERD_MELT_MAYBE,       /* may be all liquid or may not */
  SHERD_MELT_COMPLETE,    /* all liquid, and long enough */
  SHERD_N_MELT_VERDICTS
} SherdMeltVerdict;

/* How it looks where it has melted; as flags. 0 is clear. */
typedef enum
{
  SHERD_LOOK_TINTED = 1 << 0, /* a colouring oxide dissolves in the glass */
  SHERD_LOOK_BLACK = 1 << 1,  /* more black oxide than dissolves */
  SHERD_LOOK_DULL = 1 << 2,   /* grains that do not dissolve break the gloss */
  SHERD_LOOK_OPAQUE = 1 << 3, /* white grains */
  SHERD_LOOK_UNSURE = 1 << 4  /* one of them is near the amount that dissolves */
} SherdLook;

typedef struct
{
  gboolean has_begin;
  SherdBounds begin_c; /* where liquid can be expected to begin */
  gboolean has_complete;
  SherdBounds complete_c; /* where all but undissolved grains is liquid */
  SherdMeltReasons reasons;
  SherdMeltSureness sureness;
  SherdMeltVerdict verdict;
  SherdBounds heat_c;       /* what the firing is worth: one hour's worth at least, its peak at most */
  SherdBounds over_begin_c; /* by how much the firing is hotter; negative: colder */
  SherdBounds over_complete_c;
  SherdLook look;
  char system[24];   /* whose liquidus was used: “PbO-SiO2”; empty for none */
  double place_frac; /* mole fraction of its first oxide */
  SherdBounds place_range_frac;
} SherdMeltOutlook;

void sherd_melt_outlook (const SherdMixFacts *facts,
                         const SherdMeltHeat *heat,
                         const GPtrArray *systems,
                         SherdMeltOutlook *outlook);
SherdLook sherd_melt_look (const SherdMixFacts *facts); /* in melt-look.c */

/* In melt-words.c. */
const char *sherd_melt_reason_get_words (SherdMeltReasons reason);
const char *sherd_melt_sureness_get_words (SherdMeltSureness sureness);
const char *sherd_melt_verdict_get_words (SherdMeltVerdict verdict);
char *sherd_melt_look_dup_words (SherdLook look);
const char *sherd_melt_get_advice_words (void);

G_END_DECLS
