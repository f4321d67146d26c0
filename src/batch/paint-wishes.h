/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/paint-facts.h"

G_BEGIN_DECLS

#define SHERD_COATS_UNTOLD G_MININT

/* What was asked of the verb “paint”; GOption fills it. */
typedef struct
{
  char *code; /* (nullable): the operand, not an option */
  /* What to show. */
  int revision;
  char *batch;
  char *area;
  char *piece;
  int coats; /* or SHERD_COATS_UNTOLD */
  char *thickness;
  char *reserve;
  char *have;
  char *round;
  char *peak;
  char *minutes;
  gboolean csv;
  gboolean json;
  /* What to change. */
  char *add;
  gboolean slip;
  char **parts;
  char *by;
  char *binder;
  char *water;
  gboolean remove;
  char *import;
  gboolean dry_run;
  gboolean skip;
  char *export;
} SherdPaintWishes;

void sherd_paint_wishes_clear (SherdPaintWishes *wishes);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SherdPaintWishes, sherd_paint_wishes_clear)

/* (nullable): why the options do not belong together */
const char *sherd_paint_wishes_find_contradiction (const SherdPaintWishes *wishes);
gboolean sherd_paint_wishes_change_recipe (const SherdPaintWishes *wishes);
gboolean sherd_paint_wishes_ask_batch (const SherdPaintWishes *wishes);
/* @has_request: (out): FALSE where no batch was asked for */
gboolean sherd_paint_wishes_read_request (const SherdPaintWishes *wishes,
                                          SherdTrial *trial,
                                          SherdPaint *paint,
                                          SherdBatchRequest *request,
                                          gboolean *has_request,
                                          GError **error);
gboolean sherd_paint_wishes_read_heat (const SherdPaintWishes *wishes, SherdMeltHeat *heat, GError **error);
/* Adds the paint or changes the recipe that was asked for: (transfer none) */
SherdPaint *sherd_paint_wishes_edit (const SherdPaintWishes *wishes, SherdTrial *trial, GError **error);

G_END_DECLS
