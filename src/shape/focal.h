/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What is believed of the focal length before looking at the marks. */
typedef struct
{
  double focal_px;
  double sd_ln; /* standard deviation of its logarithm */
} SherdFocalGuess;

SherdFocalGuess sherd_focal_guess (guint width_px, guint height_px, double focal_35mm);

G_END_DECLS
