/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "trial/recipe.h"

G_BEGIN_DECLS

/* What a paint was before: kept because zones with it have been fired. */
typedef struct
{
  guint number;   /* from 1 */
  char *replaced; /* UTC, ISO 8601: when the next revision was made */
  SherdRecipe *recipe;
  JsonObject *unknown;
} SherdRevision;

/* All earlier revisions of a paint, oldest first. A value. */
typedef struct
{
  SherdRevision *revisions;
  guint n_revisions;
} SherdRevisions;

#define SHERD_TYPE_REVISIONS (sherd_revisions_get_type ())
GType sherd_revisions_get_type (void);

/* Our choice. */
#define SHERD_REVISIONS_MAX 1000

/* (transfer full) */
SherdRevisions *sherd_revisions_new (void);
/* One more at the end. @unknown: (nullable) (transfer full) */
void sherd_revisions_append (SherdRevisions *revisions,
                             guint number,
                             const char *replaced,
                             const SherdRecipe *recipe,
                             JsonObject *unknown);
SherdRevisions *sherd_revisions_copy (const SherdRevisions *revisions);
void sherd_revisions_free (SherdRevisions *revisions);
gboolean sherd_revisions_equal (const SherdRevisions *first, const SherdRevisions *second);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdRevisions, sherd_revisions_free)

G_END_DECLS
