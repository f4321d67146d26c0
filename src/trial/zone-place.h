/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/piece-surface.h"

G_BEGIN_DECLS

/* A zone and the shape it is to have on its side. */
typedef struct
{
  SherdZone *zone; /* (nullable): NULL for one that is to be made */
  SherdOutline *outline;
  const char *code; /* to name it in a refusal */
} SherdZonePlace;

/* Whether zones may lie there: SHERD_TRIAL_ERROR_VALUE when one would cross itself, reach beyond the side, or lie on
 * another zone. @gone: (nullable): zones that go and are in nobody's way */
gboolean sherd_zone_place_check (SherdPiece *piece,
                                 SherdSide *side,
                                 const SherdZonePlace *places,
                                 gsize n_places,
                                 GPtrArray *gone,
                                 GError **error);

G_END_DECLS
