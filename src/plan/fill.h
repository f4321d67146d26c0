/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/error.h"
#include "plan/adjacency.h"

G_BEGIN_DECLS

/* What lies in a zone: the number of a paint, from 0, or one of these. */
#define SHERD_FILL_BARE (-1)
#define SHERD_FILL_OTHER (-2) /* of a locked zone: a paint that is not among those to be laid */

typedef enum
{
  SHERD_FILL_IN_ORDER, /* set after set, in the order of the zones */
  SHERD_FILL_RANDOM,   /* every arrangement is as likely as any other */
  SHERD_FILL_IN_BLOCKS /* random within blocks (rings, rows, sides, pieces), each of which gets whole sets of paints */
} SherdFillOrder;

typedef struct
{
  guint block;     /* from 0; read by SHERD_FILL_IN_BLOCKS alone */
  gboolean locked; /* keeps what lies there, which counts toward what is asked for */
  int paint;       /* of a locked zone: what lies there */
} SherdFillZone;

typedef struct
{
  const SherdFillZone *zones; /* in reading order */
  gsize n_zones;
  const char *const *block_names; /* for messages: "ring A", one a block */
  guint n_blocks;
  SherdFillOrder order;
  guint n_paints;
  guint n_replicates;               /* how often every paint is laid; 0: as often as fits, in blocks once in each */
  guint n_controls;                 /* zones that stay bare on purpose */
  const SherdAdjacency *neighbours; /* (nullable): keeps the same paint out of neighbouring zones */
  guint64 seed;
} SherdFillRequest;

/* What a layout came to, or, when it fell short, the nearest that would fit. */
typedef struct
{
  int *paints; /* by zone; NULL when it fell short */
  gsize n_zones;
  guint n_replicates;
  guint n_controls;
  guint n_spare;    /* zones left bare because nothing more was asked for */
  guint n_touching; /* pairs of neighbours that carry the same paint all the same */
  guint n_missing;  /* zones that are short */
} SherdFill;

gboolean sherd_fill_run (const SherdFillRequest *request, SherdFill *fill, GError **error);
void sherd_fill_clear (SherdFill *fill);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SherdFill, sherd_fill_clear)

G_END_DECLS
