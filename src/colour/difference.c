/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "colour/difference.h"

#include <math.h>

/* 25⁷, the chroma at which the weights of ΔE00 turn over. */
#define POW_25_7 6103515625.0

/* Hues exactly opposite must not be decided by rounding (pair 10 of Sharma, Wu and Dalal 2005). */
#define HALF_TURN_DEG (180.0 + 1e-9)

static double
radians (double deg)
{
  return deg * G_PI / 180.0;
}

static double
seventh_power (double x)
{
  double cube = x * x * x;

  return cube * cube * x;
}

/**
 * sherd_difference_de76:
 * @first: a colour
 * @second: another
 *
 * Returns: ΔE*ab of 1976 (ISO/CIE 11664-4)
 */
double
sherd_difference_de76 (const SherdLab *first, const SherdLab *second)
{
  double delta_l = second->l - first->l;
  double delta_a = second->a - first->a;
  double delta_b = second->b - first->b;

  return sqrt (delta_l * delta_l + delta_a * delta_a + delta_b * delta_b);
}

/* ΔH*ab without its sign, by subtraction; never the root of a negative rounding error. */
static double
hue_difference (const SherdLab *first, const SherdLab *second)
{
  double delta_a = second->a - first->a;
  double delta_b = second->b - first->b;
  double delta_c = sherd_lab_chroma (second) - sherd_lab_chroma (first);

  return sqrt (MAX (0.0, delta_a * delta_a + delta_b * delta_b - delta_c * delta_c));
}

/**
 * sherd_difference_de94:
 * @standard: the colour compared with; the formula is not symmetric
 * @sample: the colour compared
 *
 * Returns: ΔE94 (CIE 116-1995) with the factors for graphic arts, K1 = 0.045, K2 = 0.015
 */
double
sherd_difference_de94 (const SherdLab *standard, const SherdLab *sample)
{
  double chroma = sherd_lab_chroma (standard);
  double delta_l = sample->l - standard->l;
  double delta_c = (sherd_lab_chroma (sample) - chroma) / (1.0 + 0.045 * chroma);
  double delta_h = hue_difference (standard, sample) / (1.0 + 0.015 * chroma);

  return sqrt (delta_l * delta_l + delta_c * delta_c + delta_h * delta_h);
}

/* A colour with the a* of ΔE00, which stretches the neutrals. */
typedef struct
{
  double l;
  double c;
  double h_deg;
} Prime;

static Prime
prime_of (const SherdLab *lab, double g)
{
  double a = (1.0 + g) * lab->a;
  Prime prime = { .l = lab->l, .c = hypot (a, lab->b), .h_deg = 0.0 };

  if (a != 0.0 || lab->b != 0.0)
    prime.h_deg = atan2 (lab->b, a) * 180.0 / G_PI;
  if (prime.h_deg < 0.0)
    prime.h_deg += 360.0;
  return prime;
}

/* Equation 10 of the paper. */
static double
hue_step_deg (const Prime *first, const Prime *second)
{
  double step = second->h_deg - first->h_deg;

  if (first->c * second->c == 0.0)
    return 0.0;
  if (step > HALF_TURN_DEG)
    return step - 360.0;
  if (step < -HALF_TURN_DEG)
    return step + 360.0;
  return step;
}

/* Equation 14 of the paper: the mean of two angles is not the mean of their numbers. */
static double
mean_hue_deg (const Prime *first, const Prime *second)
{
  double sum = first->h_deg + second->h_deg;

  if (first->c * second->c == 0.0)
    return sum;
  if (fabs (first->h_deg - second->h_deg) <= HALF_TURN_DEG)
    return sum / 2.0;
  return sum < 360.0 ? (sum + 360.0) / 2.0 : (sum - 360.0) / 2.0;
}

static double
chroma_ratio (double mean_c)
{
  double power = seventh_power (mean_c);

  return sqrt (power / (power + POW_25_7));
}

static void
set_weights (SherdDifference00 *parts, double mean_l, double mean_c)
{
  double h = parts->mean_hue_deg;
  double from_middle = (mean_l - 50.0) * (mean_l - 50.0);
  double rotation_deg = 30.0 * exp (-((h - 275.0) / 25.0) * ((h - 275.0) / 25.0));

  parts->t = 1.0 - 0.17 * cos (radians (h - 30.0)) + 0.24 * cos (radians (2.0 * h)) +
             0.32 * cos (radians (3.0 * h + 6.0)) - 0.20 * cos (radians (4.0 * h - 63.0));
  parts->sl = 1.0 + 0.015 * from_middle / sqrt (20.0 + from_middle);
  parts->sc = 1.0 + 0.045 * mean_c;
  parts->sh = 1.0 + 0.015 * mean_c * parts->t;
  parts->rt = -2.0 * chroma_ratio (mean_c) * sin (radians (2.0 * rotation_deg));
}

static double
combine (const SherdDifference00 *parts, double delta_l)
{
  double l = delta_l / parts->sl;
  double c = parts->delta_c / parts->sc;
  double h = parts->delta_h / parts->sh;

  return sqrt (MAX (0.0, l * l + c * c + h * h + parts->rt * c * h));
}

/**
 * sherd_difference_de00_parts:
 * @first: a colour
 * @second: another
 * @parts: (out): ΔE00 and its parts, under the names of the paper
 *
 * CIEDE2000 (ISO/CIE 11664-6) with kL = kC = kH = 1, after G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000
 * color-difference formula", Color Res. Appl. 30 (2005) 21–30, equations 2–22. Meant for differences up to about 5.
 */
void
sherd_difference_de00_parts (const SherdLab *first, const SherdLab *second, SherdDifference00 *parts)
{
  double g = 0.5 * (1.0 - chroma_ratio ((sherd_lab_chroma (first) + sherd_lab_chroma (second)) / 2.0));
  Prime one = prime_of (first, g);
  Prime two = prime_of (second, g);
  double step_deg = hue_step_deg (&one, &two);

  parts->g = g;
  parts->delta_l = two.l - one.l;
  parts->delta_c = two.c - one.c;
  parts->delta_h = 2.0 * sqrt (one.c * two.c) * sin (radians (step_deg / 2.0));
  parts->mean_hue_deg = mean_hue_deg (&one, &two);
  set_weights (parts, (one.l + two.l) / 2.0, (one.c + two.c) / 2.0);
  parts->de00 = combine (parts, parts->delta_l);
}

/**
 * sherd_difference_de00:
 * @first: a colour
 * @second: another
 *
 * Returns: ΔE00, see sherd_difference_de00_parts ()
 */
double
sherd_difference_de00 (const SherdLab *first, const SherdLab *second)
{
  SherdDifference00 parts;

  sherd_difference_de00_parts (first, second, &parts);
  return parts.de00;
}

/**
 * sherd_difference:
 * @first: the colour before
 * @second: the colour after
 * @difference: (out): after minus before, in every form the program shows
 *
 * ΔH*ab carries the sign of a1 b2 − a2 b1: positive when the hue angle grows. `de00_no_lightness` is ΔE00 with ΔL' = 0,
 * for photographs whose exposure cannot be trusted.
 */
void
sherd_difference (const SherdLab *first, const SherdLab *second, SherdDifference *difference)
{
  SherdDifference00 parts;
  double unused_hue_deg;
  double turn = first->a * second->b - second->a * first->b;

  sherd_difference_de00_parts (first, second, &parts);
  difference->delta_l = second->l - first->l;
  difference->delta_a = second->a - first->a;
  difference->delta_b = second->b - first->b;
  difference->delta_c = sherd_lab_chroma (second) - sherd_lab_chroma (first);
  difference->delta_h = copysign (hue_difference (first, second), turn);
  difference->hue_defined = sherd_lab_hue_deg (first, &unused_hue_deg) && sherd_lab_hue_deg (second, &unused_hue_deg);
  difference->de76 = sherd_difference_de76 (first, second);
  difference->de94 = sherd_difference_de94 (first, second);
  difference->de00 = parts.de00;
  difference->de00_no_lightness = combine (&parts, 0.0);
}
