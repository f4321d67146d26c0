/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/lab.h"

G_BEGIN_DECLS

#define SHERD_COLOUR_ERROR (sherd_colour_error_quark ())
GQuark sherd_colour_error_quark (void);

typedef enum
{
  SHERD_COLOUR_ERROR_CGATS,        /* the chart's text file cannot be read or holds impossible values */
  SHERD_COLOUR_ERROR_FEW_PATCHES,  /* too few usable patches for a light correction */
  SHERD_COLOUR_ERROR_ILL_CONDITION /* the patches do not determine a correction */
} SherdColourError;

/* One patch of a chart: its name and its reference colour (D50, 2°). */
typedef struct
{
  char *name;
  char *other_name; /* (nullable): what the file calls it besides */
  SherdLab lab;
} SherdChartPatch;

/* A chart: patches in the order of the file. */
typedef struct
{
  char *description;
  GArray *patches; /* of SherdChartPatch */
} SherdChart;

SherdChart *sherd_chart_new (const char *description);
void sherd_chart_add (SherdChart *chart, const char *name, const SherdLab *lab);
SherdChart *sherd_chart_new_from_cgats (const char *text, gssize length, GError **error);
void sherd_chart_free (SherdChart *chart);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdChart, sherd_chart_free)

G_END_DECLS
