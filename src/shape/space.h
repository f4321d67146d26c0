/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <math.h>

G_BEGIN_DECLS

static inline double
sherd_dot (const double a[3], const double b[3])
{
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

static inline void
sherd_cross (const double a[3], const double b[3], double product[3])
{
  product[0] = a[1] * b[2] - a[2] * b[1];
  product[1] = a[2] * b[0] - a[0] * b[2];
  product[2] = a[0] * b[1] - a[1] * b[0];
}

static inline double
sherd_norm (const double v[3])
{
  return sqrt (sherd_dot (v, v));
}

G_END_DECLS
