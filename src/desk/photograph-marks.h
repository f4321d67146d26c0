/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "desk/photo-canvas.h"
#include "trial/photograph.h"

G_BEGIN_DECLS

/* The points to be marked in one photograph, in the order in which they are picked: corners of the tile, other marks it
 * has, corners of the reference. */
typedef struct
{
  GArray *places; /* of SherdMarkPlace */
} SherdMarkPlan;

typedef struct
{
  SherdPhotoMarkKind kind;
  SherdPoint place_mm;
  gboolean placed;
  SherdPoint photo_px;
} SherdMarkPlace;

/* What the marks of a reference are picked on, when it has none yet. */
typedef enum
{
  SHERD_MARKS_ON_FIELD,  /* outer corners of the field of patches */
  SHERD_MARKS_ON_CENTRES /* centres of the four corner patches */
} SherdMarksOn;

SherdMarkPlan *sherd_mark_plan_new (SherdPhotograph *photograph, SherdMarksOn marks_on);
void sherd_mark_plan_free (SherdMarkPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdMarkPlan, sherd_mark_plan_free)

/* Puts the plan's marks on a canvas. */
void sherd_mark_plan_show (const SherdMarkPlan *plan, SherdPhotoCanvas *canvas);
/* (transfer full) (element-type SherdMark): those placed, of one kind */
GArray *sherd_mark_plan_get_placed (const SherdMarkPlan *plan, SherdPhotoMarkKind kind);

G_END_DECLS
