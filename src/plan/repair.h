/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "plan/design.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_REPAIR_NONE,
  SHERD_REPAIR_SWAP,     /* exchange the paints of two zones */
  SHERD_REPAIR_ADD_ZONE, /* one zone more: the paint of @first, laid where @second lies, as to all that matters */
  SHERD_REPAIR_ADD_PIECE /* one piece more */
} SherdRepairKind;

/* The cheapest change after which a factor can be told, or told better. */
typedef struct
{
  SherdRepairKind kind;
  guint first; /* zones */
  guint second;
  SherdTell tell; /* afterwards */
  double loss;
} SherdRepair;

SherdRepair sherd_repair_find (const SherdLayout *layout, const SherdDesign *design, guint factor, guint64 seed);
/* (transfer full) (nullable): a sentence; NULL when there is none */
char *sherd_repair_describe (const SherdLayout *layout, const SherdRepair *repair);

G_END_DECLS
