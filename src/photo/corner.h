/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "photo/picture.h"

G_BEGIN_DECLS

/* The corner nearest to a place, to a fraction of a pixel; FALSE when there is none within the radius. */
gboolean sherd_corner_find (const SherdPicture *picture,
                            double x_photo_px,
                            double y_photo_px,
                            double radius_px,
                            double *corner_x_photo_px,
                            double *corner_y_photo_px);

G_END_DECLS
