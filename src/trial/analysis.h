/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include <json-glib/json-glib.h>

G_BEGIN_DECLS

/* One oxide of an analysis. */
typedef struct
{
  char *oxide;      /* formula, "SiO2" */
  double pct;       /* by mass of the material as it is weighed */
  double doubt_pct; /* standard uncertainty of pct, same unit; NAN where none was given */
  JsonObject *unknown;
} SherdOxideShare;

/* What a laboratory found in a material: oxides, in the order given. A value: made, then handed on and never changed.
 */
typedef struct
{
  SherdOxideShare *oxides;
  gsize n_oxides;
} SherdAnalysis;

#define SHERD_TYPE_ANALYSIS (sherd_analysis_get_type ())
GType sherd_analysis_get_type (void);

/* Our choice: more than any laboratory reports. */
#define SHERD_ANALYSIS_MAX_OXIDES 60

/* (transfer full): empty */
SherdAnalysis *sherd_analysis_new (void);
/* @unknown: (nullable) (transfer full) */
void sherd_analysis_add (SherdAnalysis *analysis, const char *oxide, double pct, double doubt_pct, JsonObject *unknown);
SherdAnalysis *sherd_analysis_copy (const SherdAnalysis *analysis);
void sherd_analysis_free (SherdAnalysis *analysis);
gboolean sherd_analysis_equal (const SherdAnalysis *first, const SherdAnalysis *second);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdAnalysis, sherd_analysis_free)

G_END_DECLS
