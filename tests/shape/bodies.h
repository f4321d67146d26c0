/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/surface.h"

G_BEGIN_DECLS

/* Sides with closed forms, from the lip down. */
SherdProfile *bodies_new_cylinder (double r_mm, double height_mm);
SherdProfile *bodies_new_cone (double r0_mm, double r1_mm, double drop_mm);
SherdProfile *bodies_new_half_sphere (double r_mm);
SherdProfile *bodies_new_jar (void);

G_END_DECLS
