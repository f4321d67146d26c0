/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/substance.h"

G_BEGIN_DECLS

/* Where a figure comes from. */
typedef struct
{
  char *id;
  char *citation;
  char *how_known; /* “seen”, “abstract seen”, “from memory” … */
} SherdSource;

/* Materials with their sources, in the order of the file. */
typedef struct
{
  GPtrArray *substances; /* of SherdSubstance */
  GPtrArray *sources;    /* of SherdSource */
} SherdSubstanceTable;

SherdSubstanceTable *sherd_substance_table_new (const char *text, gssize length, GError **error);
SherdSubstanceTable *sherd_substance_table_new_built_in (void);
void sherd_substance_table_free (SherdSubstanceTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdSubstanceTable, sherd_substance_table_free)

const SherdSubstance *sherd_substance_table_find (const SherdSubstanceTable *table, const char *id);
const SherdSource *sherd_substance_table_find_source (const SherdSubstanceTable *table, const char *id);
char *
sherd_substance_table_dup_sources (const SherdSubstanceTable *table, const SherdSubstance *substance, SherdFact fact);
GPtrArray *sherd_substance_table_search (const SherdSubstanceTable *table, const char *words);

G_END_DECLS
