/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "shape/wall.h"

G_BEGIN_DECLS

/* A solid turned about the axis z. Both sides are measured from the lip's highest circle. */
typedef struct
{
  SherdProfile *section; /* from the foot over the lip to the middle of the floor */
  SherdProfile *outside; /* from the lip to the foot */
  SherdProfile *inside;  /* from the lip to the middle of the floor */
} SherdVessel;

SherdVessel *
sherd_vessel_new (const SherdProfilePoint *outside, gsize n_outside, const SherdWall *wall, GError **error);
SherdVessel *sherd_vessel_new_with_inside (const SherdProfilePoint *outside,
                                           gsize n_outside,
                                           const SherdProfilePoint *inside,
                                           gsize n_inside,
                                           GError **error);
void sherd_vessel_free (SherdVessel *vessel);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SherdVessel, sherd_vessel_free)

double sherd_vessel_clay_mm3 (const SherdVessel *vessel);

G_END_DECLS
