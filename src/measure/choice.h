/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Which pixel to take of the @group-th @stride pixels: now this, now that, evenly (Weyl's sequence of the golden ratio,
 * see spans.c), so that no pattern of the picture keeps step. */
static inline gsize
sherd_choose_in_group (gsize group, gsize stride)
{
  const double turns = (double)group * 0.61803398874989485;

  return group * stride + (gsize)((turns - (double)(gsize)turns) * (double)stride);
}

G_END_DECLS
