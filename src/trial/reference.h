/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include <json-glib/json-glib.h>

#include "colour/chart.h"
#include "measure/measure.h"
#include "trial/chart-layout.h"

G_BEGIN_DECLS

/* A patch of a reference: its place in the frame (origin top left, y down, mm) and its colour (D50, 2°). */
typedef struct
{
  char *name;
  SherdRectangle rectangle_mm;
  SherdLab lab;
  JsonObject *unknown; /* (nullable): members of the file this program does not know */
} SherdReferencePatch;

#define SHERD_TYPE_REFERENCE_KIND (sherd_reference_kind_get_type ())
GType sherd_reference_kind_get_type (void); /* "none", "grey-card", "chart" */

/* What makes the light of a photograph comparable: nothing, a grey card or a chart. Never changed once made, so that
 * photographs can share one. Properties (construct only): "kind", "description", "width-mm", "height-mm" (the frame in
 * which the reference marks are picked). */
#define SHERD_TYPE_REFERENCE (sherd_reference_get_type ())
G_DECLARE_FINAL_TYPE (SherdReference, sherd_reference, SHERD, REFERENCE, GObject)

/* (transfer full): a photograph with nothing to compare its light by */
SherdReference *sherd_reference_new_none (void);
gboolean sherd_reference_check_lab (const SherdLab *lab, GError **error);
/* (transfer full): one patch that fills @width_mm × @height_mm */
SherdReference *sherd_reference_new_grey_card (const char *description,
                                               double width_mm,
                                               double height_mm,
                                               const SherdLab *lab,
                                               GError **error);
/* (transfer full): @chart gives names and colours, @layout the places. Names are matched as "A1", "A01" (row letter,
 * column) or by number in reading order; every place needs its colour, colours without a place are left out. */
SherdReference *sherd_reference_new_chart (const SherdChart *chart, const SherdChartLayout *layout, GError **error);
/* (transfer full): free list of patches; @patches is copied */
SherdReference *sherd_reference_new_patches (SherdReferenceKind kind,
                                             const char *description,
                                             double width_mm,
                                             double height_mm,
                                             const SherdReferencePatch *patches,
                                             gsize n_patches);

SherdReferenceKind sherd_reference_get_kind (SherdReference *self);
const char *sherd_reference_get_description (SherdReference *self);
double sherd_reference_get_width_mm (SherdReference *self);
double sherd_reference_get_height_mm (SherdReference *self);
/* FALSE when only its proportions are known: a grey card, or a chart of which rows and columns were all that was told.
 */
gboolean sherd_reference_is_sized (SherdReference *self);
const SherdReferencePatch *sherd_reference_get_patches (SherdReference *self, gsize *n_patches);
/* Same kind, frame, places and colours: the same reference may be taken to stand in both photographs. */
gboolean sherd_reference_equal (SherdReference *first, SherdReference *second);

/* (nullable) */
JsonObject *sherd_reference_get_unknown (SherdReference *self);
void sherd_reference_set_unknown (SherdReference *self, JsonObject *unknown);

G_END_DECLS
