/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Linear light in the sRGB primaries, 1 = diffuse white of the file; may leave 0…1 for wide-gamut files. */
typedef struct
{
  double r;
  double g;
  double b;
} SherdRgb;

/* CIE 1931 2° tristimulus values, Y = 1 for the perfect diffuser. */
typedef struct
{
  double x;
  double y;
  double z;
} SherdXyz;

/* CIELAB for the ICC profile connection white D50, 2° observer, everywhere in the program. */
typedef struct
{
  double l;
  double a;
  double b;
} SherdLab;

/* ICC.1 (ISO 15076-1) profile connection space illuminant. */
extern const SherdXyz sherd_white_d50;

SherdLab sherd_lab_from_xyz (const SherdXyz *xyz_d50);
SherdXyz sherd_lab_to_xyz (const SherdLab *lab);

double sherd_lab_chroma (const SherdLab *lab);
gboolean sherd_lab_hue_deg (const SherdLab *lab, double *hue_deg);

/* dLab/dXYZ at @xyz_d50, rows L*, a*, b*; columns X, Y, Z. */
void sherd_lab_jacobian (const SherdXyz *xyz_d50, double jacobian[3][3]);

G_END_DECLS
