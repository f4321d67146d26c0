/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chem/element.h"
#include "chem/refusal.h"

G_BEGIN_DECLS

/* A mineral formula, read. Where a solid solution such as (Mg,Fe) has no shares written, they are equal, and
 * each deviation says by how much the atoms change at one standard uncertainty of an independent input. */
typedef struct
{
  SherdAtoms atoms;   /* in one formula unit */
  GArray *deviations; /* of SherdAtoms; often empty */
} SherdFormula;

SherdFormula *sherd_formula_new (const char *text, gssize length, SherdTextPlace *place, GError **error);
SherdFormula *sherd_formula_read (const SherdTextReading *reading, const char *start, gsize length);
SherdFormula *sherd_formula_copy (const SherdFormula *formula);
void sherd_formula_free (SherdFormula *formula);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdFormula, sherd_formula_free)

SherdValue sherd_formula_molar_mass (const SherdFormula *formula);

G_END_DECLS
