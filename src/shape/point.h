/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A point in a frame that the name of the variable tells: _mm on the piece, _px in a photograph. */
typedef struct
{
  double x;
  double y;
} SherdPoint;

G_END_DECLS
