/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "colour/lab.h"

G_BEGIN_DECLS

/* Difference of two colours, second minus first, with the parts of each formula. */
typedef struct
{
  double delta_l;       /* ΔL*: positive is lighter */
  double delta_a;       /* Δa* */
  double delta_b;       /* Δb* */
  double delta_c;       /* ΔC*ab: positive is more vivid */
  double delta_h;       /* ΔH*ab, signed: positive when the hue angle grows */
  gboolean hue_defined; /* FALSE when one of the two is (nearly) neutral */
  double de76;          /* ΔE*ab */
  double de94;          /* ΔE94, graphic arts, the first colour is the standard */
  double de00;          /* ΔE00 */
  double de00_no_lightness;
} SherdDifference;

/* ΔE00 with its parts under the names of the paper. */
typedef struct
{
  double delta_l;
  double delta_c;
  double delta_h;
  double g;
  double t;
  double sl;
  double sc;
  double sh;
  double rt;
  double mean_hue_deg;
  double de00;
} SherdDifference00;

double sherd_difference_de76 (const SherdLab *first, const SherdLab *second);
double sherd_difference_de94 (const SherdLab *standard, const SherdLab *sample);
double sherd_difference_de00 (const SherdLab *first, const SherdLab *second);
void sherd_difference_de00_parts (const SherdLab *first, const SherdLab *second, SherdDifference00 *parts);
void sherd_difference (const SherdLab *first, const SherdLab *second, SherdDifference *difference);

G_END_DECLS
