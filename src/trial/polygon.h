/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/outline.h"

G_BEGIN_DECLS

/* Whether an outline can be a zone. */

/* Our choice: a hand-drawn zone has far fewer corners. */
#define SHERD_POLYGON_MAX_POINTS 1000u

/* SHERD_TRIAL_ERROR_VALUE: fewer than three corners, too many, no area, or edges that cross. */
gboolean sherd_polygon_check (const SherdOutline *outline, GError **error);
/* Whether all corners lie on a face of this size (the edge counts as on it). */
gboolean sherd_polygon_is_within (const SherdOutline *outline, double width_mm, double height_mm);

G_END_DECLS
