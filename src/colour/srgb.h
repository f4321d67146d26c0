/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/lab.h"

G_BEGIN_DECLS

double sherd_srgb_decode (double encoded);
double sherd_srgb_encode (double linear);

/* Linear sRGB ↔ XYZ adapted to ICC D50 (Bradford). */
SherdXyz sherd_srgb_to_xyz_d50 (const SherdRgb *linear);
SherdRgb sherd_srgb_from_xyz_d50 (const SherdXyz *xyz_d50);

G_END_DECLS
