/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/outline.h"

G_BEGIN_DECLS

/* Two points of a photograph that lie a known length apart, as the ends of a ruler. */
typedef struct
{
  SherdPoint from_px;
  SherdPoint to_px;
  double length_mm;
} SherdTracingScale;

gboolean sherd_outline_crosses_itself (const SherdOutline *outline, SherdPoint *where);
gboolean sherd_outline_check (const SherdOutline *outline_mm, SherdPoint *where, GError **error);
SherdOutline *sherd_outline_new_disc (SherdPoint centre_mm, double diameter_mm);
SherdOutline *sherd_outline_mirror (const SherdOutline *outline_mm);
SherdOutline *
sherd_tracing_outline (const SherdPoint *points_px, gsize n_points, const SherdTracingScale *scale, GError **error);

G_END_DECLS
