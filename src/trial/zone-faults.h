/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/piece-surface.h"
#include "trial/trial.h"

G_BEGIN_DECLS

/* A zone that cannot be as it is drawn. Files may hold such zones; they open, and the faults are shown where they lie.
 * Edits make none. */
typedef struct
{
  SherdZoningFaultKind kind;
  SherdZone *zone;
  SherdZone *other; /* (nullable): the one it lies on */
  double area_mm2;
  SherdPoint where; /* on the side */
} SherdZoneFault;

/* (transfer full) (element-type SherdZoneFault): empty when all is well; also when the piece itself cannot be */
GArray *sherd_zone_faults_new (SherdPiece *piece, SherdSide *side);
/* (transfer full): "Zone A1 reaches beyond the side by 12 mm²." */
char *sherd_zone_fault_dup_words (const SherdZoneFault *fault);

G_END_DECLS
