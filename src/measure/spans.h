/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/outline.h"

G_BEGIN_DECLS

/* Every step-th pixel of one row within one region: x_px, x_px + step, … (n of them). */
typedef struct
{
  guint row_px;
  guint region;
  guint x_px;
  guint step_px;
  guint n;
} SherdSpan;

/* (transfer full): GArray of SherdSpan */
GArray *sherd_spans_new (void);
gsize sherd_spans_add (GArray *spans,
                       guint region,
                       const SherdOutline *outline_px,
                       guint width_px,
                       guint height_px,
                       gsize n_most);
void sherd_spans_sort (GArray *spans);

G_END_DECLS
