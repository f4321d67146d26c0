/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/profile.h"

G_BEGIN_DECLS

/* (transfer full) (element-type SherdProfilePoint) */
GArray *sherd_profile_points_from_text (const char *text, GError **error);
char *sherd_profile_points_to_text (const SherdProfilePoint *points, gsize n_points);

G_END_DECLS
