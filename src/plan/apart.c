/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/apart.h"

/* How many neighbours of @zone carry the paint it carries. */
static guint
count_equal_beside (const SherdAdjacency *neighbours, const int *paints, guint zone)
{
  guint n_beside, n_equal = 0;
  const guint *beside = sherd_adjacency_get (neighbours, zone, &n_beside);

  for (guint i = 0; i < n_beside; i++)
    n_equal += paints[zone] >= 0 && paints[beside[i]] == paints[zone];
  return n_equal;
}

/**
 * sherd_apart_count_touching:
 * @neighbours: which zones lie side by side
 * @paints: (array): the paint of each zone
 *
 * Returns: how many pairs of neighbours carry the same paint
 */
guint
sherd_apart_count_touching (const SherdAdjacency *neighbours, const int *paints)
{
  guint n_ends = 0;

  for (guint zone = 0; zone < sherd_adjacency_get_n_zones (neighbours); zone++)
    n_ends += count_equal_beside (neighbours, paints, zone);
  return n_ends / 2;
}

static void
exchange (int *paints, guint a, guint b)
{
  const int paint = paints[a];

  paints[a] = paints[b];
  paints[b] = paint;
}

/* By how many touching pairs there would be fewer; below 0: more. */
static int
gain_of_exchange (const SherdAdjacency *neighbours, int *paints, guint a, guint b)
{
  int before, after;

  before = (int)(count_equal_beside (neighbours, paints, a) + count_equal_beside (neighbours, paints, b));
  exchange (paints, a, b);
  after = (int)(count_equal_beside (neighbours, paints, a) + count_equal_beside (neighbours, paints, b));
  exchange (paints, a, b);
  return before - after;
}

/* The partner in the same group with the largest gain, one of them by chance; @zone itself when it has none. */
static guint
find_partner (const SherdAdjacency *neighbours, const guint *groups, gsl_rng *draw, int *paints, guint zone)
{
  int best_gain = G_MININT;
  guint partner = zone, n_equal = 0;

  for (guint other = 0; other < sherd_adjacency_get_n_zones (neighbours); other++)
    {
      int gain;

      if (groups[other] != groups[zone] || paints[other] == paints[zone])
        continue;
      gain = gain_of_exchange (neighbours, paints, zone, other);
      n_equal = gain > best_gain ? 1 : n_equal + (gain == best_gain);
      if (gain > best_gain || (gain == best_gain && gsl_rng_uniform_int (draw, n_equal) == 0))
        partner = other;
      best_gain = MAX (best_gain, gain);
    }
  return partner;
}

static GArray *
find_touching (const SherdAdjacency *neighbours, const guint *groups, const int *paints)
{
  GArray *touching = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint zone = 0; zone < sherd_adjacency_get_n_zones (neighbours); zone++)
    if (groups[zone] != SHERD_APART_FIXED && count_equal_beside (neighbours, paints, zone) > 0)
      g_array_append_val (touching, zone);
  return touching;
}

/**
 * sherd_apart_exchange:
 * @neighbours: which zones lie side by side
 * @groups: (array): zones may change what they hold with zones of the same group; SHERD_APART_FIXED: with none
 * @draw: a generator
 * @paints: (inout) (array): the paint of each zone
 *
 * Exchanges paints between zones until no neighbours carry the same one, by min-conflicts: a zone that touches, chosen
 * by chance, changes with the one that helps most (S. Minton et al., Artificial Intelligence 58, 1992, 161–205). Stops
 * with the best found after four steps a zone and 200 more (our choice), for it may be impossible.
 *
 * Returns: how many pairs of neighbours still carry the same paint
 */
guint
sherd_apart_exchange (const SherdAdjacency *neighbours, const guint *groups, gsl_rng *draw, int *paints)
{
  const guint n_zones = sherd_adjacency_get_n_zones (neighbours), n_steps = 4 * n_zones + 200;
  g_autofree int *best = g_memdup2 (paints, sizeof (int) * n_zones);
  guint fewest = sherd_apart_count_touching (neighbours, paints);

  for (guint step = 0; step < n_steps && fewest > 0; step++)
    {
      g_autoptr (GArray) touching = find_touching (neighbours, groups, paints);
      guint zone, n_touching;

      if (touching->len == 0)
        break;
      zone = g_array_index (touching, guint, gsl_rng_uniform_int (draw, touching->len));
      exchange (paints, zone, find_partner (neighbours, groups, draw, paints, zone));
      n_touching = sherd_apart_count_touching (neighbours, paints);
      if (n_touching < fewest)
        for (guint i = 0; i < n_zones; i++)
          best[i] = paints[i];
      fewest = MIN (fewest, n_touching);
    }
  for (guint i = 0; i < n_zones; i++)
    paints[i] = best[i];
  return fewest;
}
