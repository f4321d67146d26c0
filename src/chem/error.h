/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define SHERD_CHEM_ERROR (sherd_chem_error_quark ())
GQuark sherd_chem_error_quark (void);

typedef enum
{
  SHERD_CHEM_ERROR_FORMULA,  /* a formula cannot be read; the message names the character */
  SHERD_CHEM_ERROR_ANALYSIS, /* an analysis with impossible rows, or that does not sum to 100 within the tolerance */
  SHERD_CHEM_ERROR_FATE,     /* what an element becomes in the fire is not in the table */
  SHERD_CHEM_ERROR_VALUE,    /* a purity, density, doubt or other number out of its range */
  SHERD_CHEM_ERROR_PARTS,    /* a part that is missing, zero or negative */
  SHERD_CHEM_ERROR_EMPTY,    /* a recipe without ingredients */
  SHERD_CHEM_ERROR_DENSITY,  /* parts by volume or a coat need a density that is not there */
  SHERD_CHEM_ERROR_CIRCULAR, /* a recipe that contains itself */
  SHERD_CHEM_ERROR_TABLE     /* a table of materials or of phase points cannot be read; the message names the line */
} SherdChemError;

G_END_DECLS
