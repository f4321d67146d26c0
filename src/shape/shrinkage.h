/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/mark.h"

G_BEGIN_DECLS

/* The state of the clay in which a piece is measured or painted; clay shrinks between them. */
typedef enum
{
  SHERD_CLAY_LEATHER_HARD,
  SHERD_CLAY_DRY,
  SHERD_CLAY_FIRED
} SherdClayState;

/* A length and its standard uncertainty. */
typedef struct
{
  double mm;
  double sd_mm;
} SherdLength;

/* How much shorter a length becomes, as a share of what it was, and the standard uncertainty of that. */
typedef struct
{
  double frac;
  double sd_frac;
} SherdShrinkage;

/* Of one clay. */
typedef struct
{
  SherdShrinkage drying; /* leather-hard to dry */
  SherdShrinkage firing; /* dry to fired */
} SherdClayShrinkage;

SherdClayShrinkage sherd_shrinkage_unknown (void);
gboolean sherd_shrinkage_check (const SherdShrinkage *shrinkage, GError **error);
gboolean sherd_shrinkage_from_bar (const SherdLength *before,
                                   const SherdLength *after,
                                   SherdShrinkage *shrinkage,
                                   GError **error);
SherdShrinkage sherd_shrinkage_between (const SherdClayShrinkage *clay, SherdClayState from, SherdClayState to);
SherdLength sherd_shrinkage_convert (const SherdClayShrinkage *clay,
                                     SherdClayState from,
                                     SherdClayState to,
                                     const SherdLength *length);

G_END_DECLS
