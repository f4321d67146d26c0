/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/paint-facts.h"
#include "trial/table.h"

G_BEGIN_DECLS

typedef enum
{
  SHERD_PRINT_TEXT,
  SHERD_PRINT_CSV,
  SHERD_PRINT_JSON
} SherdPrintForm;

/* What the verb “paint” prints to standard output. */
void sherd_paint_print_list (SherdTrial *trial, SherdPrintForm form);
void sherd_paint_print_import (const SherdTable *table, SherdPrintForm form);
void sherd_paint_print_facts (SherdTrial *trial, SherdPaint *paint, const SherdPaintFacts *facts, SherdPrintForm form);

G_END_DECLS
