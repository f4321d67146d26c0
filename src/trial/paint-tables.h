/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/paint-facts.h"
#include "trial/table.h"

G_BEGIN_DECLS

/* Facts of paints as tables, so that window, command line and pages say the same. All (transfer full). */

/* A row a paint: code, name, kind, revision, recipe in words, zones, hazards. */
SherdTable *sherd_paint_tables_list (SherdTrial *trial);
/* A row a material: all that is known of it and how many paints name it. */
SherdTable *sherd_paint_tables_materials (SherdTrial *trial);
/* One row: what is true of the whole. */
SherdTable *sherd_paint_tables_summary (const SherdPaintFacts *facts);
/* A row an ingredient, the binder and the water behind them. */
SherdTable *sherd_paint_tables_ingredients (const SherdPaintFacts *facts);
/* A row an oxide that is left after firing. */
SherdTable *sherd_paint_tables_oxides (const SherdPaintFacts *facts);
/* A row a material, paints within resolved. */
SherdTable *sherd_paint_tables_stocks (const SherdPaintFacts *facts);
/* A row a revision, the present one last: what was changed to make it, and which zones were fired with it. */
SherdTable *sherd_paint_tables_history (SherdTrial *trial, SherdPaint *paint);
/* A row a remark: the ingredient, what kind of remark, the words. */
SherdTable *sherd_paint_tables_remarks (const SherdPaintFacts *facts);

G_END_DECLS
