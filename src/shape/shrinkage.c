/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/shrinkage.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Common practice, no source: what low-fired clays do, when nobody has measured. */
#define DRYING_FRAC 0.04
#define DRYING_SD_FRAC 0.02
#define FIRING_FRAC 0.01
#define FIRING_SD_FRAC 0.01

/* Our choice: clay neither grows nor shrinks more. */
#define LEAST_FRAC (-0.05)
#define MOST_FRAC 0.25
#define MOST_SD_FRAC 0.25

/**
 * sherd_shrinkage_unknown:
 *
 * Returns: what to assume of a clay that nobody has measured: 4 ± 2 % in drying from leather-hard, 1 ± 1 % in a low
 * firing (common practice, no source)
 */
SherdClayShrinkage
sherd_shrinkage_unknown (void)
{
  return (SherdClayShrinkage){ { DRYING_FRAC, DRYING_SD_FRAC }, { FIRING_FRAC, FIRING_SD_FRAC } };
}

/**
 * sherd_shrinkage_check:
 * @shrinkage: a value typed in
 * @error: SHERD_SHAPE_ERROR_SIZE, in words
 *
 * Returns: whether clay can do that
 */
gboolean
sherd_shrinkage_check (const SherdShrinkage *shrinkage, GError **error)
{
  if (shrinkage->frac >= LEAST_FRAC && shrinkage->frac <= MOST_FRAC && shrinkage->sd_frac >= 0.0 &&
      shrinkage->sd_frac <= MOST_SD_FRAC)
    return TRUE;
  g_set_error (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
               _ ("A shrinkage of %.1f ± %.1f %% cannot be: clay shrinks by %.0f to %.0f %%."), 100.0 * shrinkage->frac,
               100.0 * shrinkage->sd_frac, 100.0 * LEAST_FRAC, 100.0 * MOST_FRAC);
  return FALSE;
}

/**
 * sherd_shrinkage_from_bar:
 * @before: length of a bar scribed into the clay, 100 mm as a rule, with the doubt of scribing
 * @after: its length later, with the doubt of reading
 * @shrinkage: (out): from the one state to the other
 * @error: SHERD_SHAPE_ERROR_SIZE, in words
 *
 * Returns: whether the two lengths can be right
 */
gboolean
sherd_shrinkage_from_bar (const SherdLength *before,
                          const SherdLength *after,
                          SherdShrinkage *shrinkage,
                          GError **error)
{
  const double left = after->mm / before->mm;

  if (!(before->mm > 0.0) || !(after->mm > 0.0))
    {
      g_set_error_literal (error, SHERD_SHAPE_ERROR, SHERD_SHAPE_ERROR_SIZE,
                           _ ("A scribed bar is longer than 0 mm, before and after."));
      return FALSE;
    }
  *shrinkage = (SherdShrinkage){ 1.0 - left, left * hypot (before->sd_mm / before->mm, after->sd_mm / after->mm) };
  return sherd_shrinkage_check (shrinkage, error);
}

/* One after the other: what is left is the product of what each leaves. */
static SherdShrinkage
join (SherdShrinkage first, SherdShrinkage second)
{
  const double first_left = 1.0 - first.frac, second_left = 1.0 - second.frac;

  return (SherdShrinkage){ 1.0 - first_left * second_left,
                           hypot (first.sd_frac * second_left, second.sd_frac * first_left) };
}

static SherdShrinkage
forwards (const SherdClayShrinkage *clay, SherdClayState from, SherdClayState to)
{
  const SherdShrinkage none = { 0.0, 0.0 };

  return join (from == SHERD_CLAY_LEATHER_HARD && to != SHERD_CLAY_LEATHER_HARD ? clay->drying : none,
               from != SHERD_CLAY_FIRED && to == SHERD_CLAY_FIRED ? clay->firing : none);
}

/**
 * sherd_shrinkage_between:
 * @clay: its shrinkage in drying and in firing
 * @from: the state in which a measure was taken
 * @to: another state, later or earlier
 *
 * Returns: how much shorter a length of @from is in @to, with its standard uncertainty; less than 0 back to an earlier
 * state
 */
SherdShrinkage
sherd_shrinkage_between (const SherdClayShrinkage *clay, SherdClayState from, SherdClayState to)
{
  SherdShrinkage there;
  double left;

  if (from <= to)
    return forwards (clay, from, to);
  there = forwards (clay, to, from);
  left = 1.0 - there.frac;
  return (SherdShrinkage){ 1.0 - 1.0 / left, there.sd_frac / (left * left) };
}

/**
 * sherd_shrinkage_convert:
 * @clay: its shrinkage in drying and in firing
 * @from: the state in which the length was measured
 * @to: the state in which it is wanted
 * @length: the length and its standard uncertainty
 *
 * Returns: the length in the other state; the doubts of measure and shrinkage are independent and add in squares (JCGM
 * 100:2008, 5.1.2)
 */
SherdLength
sherd_shrinkage_convert (const SherdClayShrinkage *clay,
                         SherdClayState from,
                         SherdClayState to,
                         const SherdLength *length)
{
  const SherdShrinkage shrinkage = sherd_shrinkage_between (clay, from, to);
  const double left = 1.0 - shrinkage.frac;

  return (SherdLength){ length->mm * left, hypot (length->sd_mm * left, length->mm * shrinkage.sd_frac) };
}
