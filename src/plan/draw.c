/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/draw.h"

#include <gsl/gsl_randist.h>

/* The finaliser of SplitMix64 (G. L. Steele, D. Lea and C. H. Flood, OOPSLA 2014, 453–472). */
static guint64
scatter_bits (guint64 seed)
{
  seed = (seed ^ (seed >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  seed = (seed ^ (seed >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return seed ^ (seed >> 31);
}

/**
 * sherd_draw_new:
 * @seed: any number; the same one gives the same draws on every machine
 *
 * The Mersenne Twister MT19937 in its initialisation of 2002 (M. Matsumoto and T. Nishimura, ACM TOMACS 8(1), 1998,
 * 3–30; GSL's gsl_rng_mt19937) begins with the lower 32 bits of the scattered seed. Scattered, because people count
 * seeds up: over the plain seeds 1 … 10,000 the first draws came out more even than chance makes them.
 *
 * Returns: (transfer full): the generator
 */
gsl_rng *
sherd_draw_new (guint64 seed)
{
  gsl_rng *draw = gsl_rng_alloc (gsl_rng_mt19937);

  gsl_rng_set (draw, (unsigned long)(scatter_bits (seed) & G_MAXUINT32));
  return draw;
}

/**
 * sherd_draw_shuffle:
 * @draw: a generator
 * @items: (inout) (array length=n_items): brought into an order of which each is as likely as any other
 * @n_items: how many
 */
void
sherd_draw_shuffle (gsl_rng *draw, guint *items, gsize n_items)
{
  gsl_ran_shuffle (draw, items, n_items, sizeof *items);
}
