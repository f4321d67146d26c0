/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/repair.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "plan/draw.h"

/* Our choice: more changes than these are tried in a sample drawn at random, so that large layouts answer within a
 * second. What a trial costs grows with the zones. */
#define MOST_TRIED 400u
#define LEAST_TRIED 50u
#define MOST_ZONES_TRIED 50000u

/* Our choice: a change is worth the work from here. */
#define LEAST_GAIN 0.9

/* Two zones, by number. */
typedef struct
{
  guint first;
  guint second;
} Change;

static gboolean
goes_with_paint (const SherdFactor *factor)
{
  return factor->role == SHERD_ROLE_PAINT || factor->role == SHERD_ROLE_COMPOSITION;
}

/* Whether two zones are alike in all that goes with the paint, or in all that stays. */
static gboolean
are_alike (const SherdLayout *layout, guint a, guint b, gboolean in_paint)
{
  for (guint i = 0; i < layout->factors->len; i++)
    {
      const SherdFactor *factor = sherd_layout_get_factor (layout, i);
      const double first = factor->values[a], second = factor->values[b];

      if (goes_with_paint (factor) == in_paint && first != second && !(isnan (first) && isnan (second)))
        return FALSE;
    }
  return TRUE;
}

/* For each zone the first that is like it. */
static guint *
find_first_alike (const SherdLayout *layout, gboolean in_paint)
{
  guint *first = g_new (guint, layout->n_zones + 1);

  for (guint zone = 0; zone < layout->n_zones; zone++)
    {
      first[zone] = zone;
      for (guint other = 0; other < zone && first[zone] == zone; other++)
        if (first[other] == other && are_alike (layout, other, zone, in_paint))
          first[zone] = other;
    }
  return first;
}

static GArray *
list_swaps (const SherdLayout *layout, const guint *paints, const guint *places)
{
  GArray *swaps = g_array_new (FALSE, FALSE, sizeof (Change));

  for (guint a = 0; a < layout->n_zones; a++)
    for (guint b = a + 1; b < layout->n_zones; b++)
      {
        const Change swap = { .first = a, .second = b };
        const gboolean may_move = !layout->locked[a] && !layout->locked[b] && sherd_layout_is_painted (layout, a) &&
                                  sherd_layout_is_painted (layout, b);

        if (may_move && paints[a] != paints[b] && places[a] != places[b])
          g_array_append_val (swaps, swap);
      }
  return swaps;
}

/* Exchanges of the same paints between the same places come to the same: leaves the first of each kind. */
static void
drop_repeated_kinds (GArray *swaps, const guint *paints, const guint *places)
{
  g_autoptr (GHashTable) kinds = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  guint n_kept = 0;

  for (guint i = 0; i < swaps->len; i++)
    {
      const Change swap = g_array_index (swaps, Change, i);
      const guint a = swap.first, b = swap.second;

      g_hash_table_add (kinds, g_strdup_printf ("%u %u %u %u", paints[b], places[b], paints[a], places[a]));
      if (g_hash_table_add (kinds, g_strdup_printf ("%u %u %u %u", paints[a], places[a], paints[b], places[b])))
        g_array_index (swaps, Change, n_kept++) = swap;
    }
  g_array_set_size (swaps, n_kept);
}

static GArray *
list_additions (const SherdLayout *layout, const guint *paints, const guint *places)
{
  GArray *additions = g_array_new (FALSE, FALSE, sizeof (Change));

  for (guint paint = 0; paint < layout->n_zones; paint++)
    for (guint place = 0; place < layout->n_zones; place++)
      {
        const Change addition = { .first = paint, .second = place };

        if (paints[paint] == paint && places[place] == place && sherd_layout_is_painted (layout, paint) &&
            sherd_layout_is_painted (layout, place))
          g_array_append_val (additions, addition);
      }
  return additions;
}

static guint
most_tried (const SherdLayout *layout)
{
  return CLAMP (MOST_ZONES_TRIED / layout->n_zones, LEAST_TRIED, MOST_TRIED);
}

/* Leaves at most @n_most of them, drawn at random and in their order. */
static void
thin_out (GArray *changes, guint n_most, guint64 seed)
{
  g_autoptr (gsl_rng) draw = NULL;
  guint n_left = changes->len, n_kept = 0;

  if (changes->len <= n_most)
    return;
  draw = sherd_draw_new (seed);
  for (guint i = 0; i < changes->len; i++, n_left--)
    if (gsl_rng_uniform_int (draw, n_left) < n_most - n_kept)
      g_array_index (changes, Change, n_kept++) = g_array_index (changes, Change, i);
  g_array_set_size (changes, n_kept);
}

static void
swap_paints (SherdLayout *layout, const Change *swap)
{
  for (guint i = 0; i < layout->factors->len; i++)
    {
      SherdFactor *factor = g_ptr_array_index (layout->factors, i);
      const double value = factor->values[swap->first];

      if (!goes_with_paint (factor))
        continue;
      factor->values[swap->first] = factor->values[swap->second];
      factor->values[swap->second] = value;
    }
}

/* The last zone takes its paint from one and its place from another. */
static void
make_last (SherdLayout *layout, const Change *addition)
{
  for (guint i = 0; i < layout->factors->len; i++)
    {
      SherdFactor *factor = g_ptr_array_index (layout->factors, i);

      factor->values[layout->n_zones - 1] =
        factor->values[goes_with_paint (factor) ? addition->first : addition->second];
    }
}

/* Whether all that could be told still can, @factor aside. */
static gboolean
harms_nothing (const SherdDesign *before, const SherdDesign *after, guint factor)
{
  for (guint i = 0; i < before->n_verdicts; i++)
    if (i != factor && after->verdicts[i].tell < before->verdicts[i].tell)
      return FALSE;
  return TRUE;
}

static void
keep_if_better (SherdRepair *best,
                const SherdDesign *before,
                const SherdLayout *changed,
                guint factor,
                SherdRepairKind kind,
                const Change *change)
{
  g_autoptr (SherdDesign) after = sherd_design_new (changed, FALSE);
  const SherdVerdict *verdict = &after->verdicts[factor];
  const gboolean is_better =
    verdict->tell > best->tell || (verdict->tell == best->tell && verdict->loss < LEAST_GAIN * best->loss);

  if (is_better && isfinite (verdict->loss) && harms_nothing (before, after, factor))
    *best = (SherdRepair){
      .kind = kind, .first = change->first, .second = change->second, .tell = verdict->tell, .loss = verdict->loss
    };
}

/* A copy of the layout with @n_more zones at the end. */
static SherdLayout *
copy_layout (const SherdLayout *layout, guint n_more)
{
  g_autofree guint *zones = g_new0 (guint, layout->n_zones + n_more);
  g_autofree gboolean *factors = g_new (gboolean, layout->factors->len + 1);

  for (guint zone = 0; zone < layout->n_zones; zone++)
    zones[zone] = zone;
  for (guint i = 0; i < layout->factors->len; i++)
    factors[i] = TRUE;
  return sherd_layout_take (layout, zones, layout->n_zones + n_more, factors);
}

static void
try_swaps (SherdRepair *best, const SherdLayout *layout, const SherdDesign *design, guint factor, GArray *swaps)
{
  g_autoptr (SherdLayout) changed = copy_layout (layout, 0);

  for (guint i = 0; i < swaps->len; i++)
    {
      const Change *swap = &g_array_index (swaps, Change, i);

      swap_paints (changed, swap);
      keep_if_better (best, design, changed, factor, SHERD_REPAIR_SWAP, swap);
      swap_paints (changed, swap);
    }
}

static void
try_additions (SherdRepair *best, const SherdLayout *layout, const SherdDesign *design, guint factor, GArray *additions)
{
  g_autoptr (SherdLayout) changed = copy_layout (layout, 1);

  for (guint i = 0; i < additions->len; i++)
    {
      const Change *addition = &g_array_index (additions, Change, i);

      make_last (changed, addition);
      keep_if_better (best, design, changed, factor, SHERD_REPAIR_ADD_ZONE, addition);
    }
}

/**
 * sherd_repair_find:
 * @layout: the layout
 * @design: what sherd_design_new () said of it
 * @factor: one that cannot be told well
 * @seed: for the sample of changes that are tried when there are more than there is time for (400 for up to 125 zones,
 * 50 for 1,000)
 *
 * Tries every exchange of two paints (which costs nothing), and only if none helps every zone more, and takes the one
 * after which @factor can be told best. No other factor may be told less well for it. Locked zones keep their paint.
 *
 * Returns: the change; SHERD_REPAIR_NONE when no single one helps
 */
SherdRepair
sherd_repair_find (const SherdLayout *layout, const SherdDesign *design, guint factor, guint64 seed)
{
  const SherdVerdict *verdict = &design->verdicts[factor];
  SherdRepair best = { .kind = SHERD_REPAIR_NONE, .tell = verdict->tell, .loss = verdict->loss };
  g_autofree guint *paints = NULL;
  g_autofree guint *places = NULL;
  g_autoptr (GArray) changes = NULL;

  if (verdict->from_piece)
    best.kind = SHERD_REPAIR_ADD_PIECE;
  if (verdict->from_piece || verdict->tell <= SHERD_TELL_UNKNOWN || verdict->tell == SHERD_TELL_WELL)
    return best;
  paints = find_first_alike (layout, TRUE);
  places = find_first_alike (layout, FALSE);
  changes = list_swaps (layout, paints, places);
  thin_out (changes, 10 * most_tried (layout), seed);
  drop_repeated_kinds (changes, paints, places);
  thin_out (changes, most_tried (layout), seed);
  try_swaps (&best, layout, design, factor, changes);
  if (best.kind != SHERD_REPAIR_NONE)
    return best;
  g_array_unref (changes);
  changes = list_additions (layout, paints, places);
  thin_out (changes, most_tried (layout), seed);
  try_additions (&best, layout, design, factor, changes);
  return best;
}

static char *
describe_change (const SherdLayout *layout, const SherdRepair *repair)
{
  const char *first = layout->zone_names[repair->first], *second = layout->zone_names[repair->second];

  if (repair->kind == SHERD_REPAIR_SWAP)
    return g_strdup_printf (_ ("Swap the paints of %s and %s"), first, second);
  return g_strdup_printf (_ ("Add a zone with the paint of %s, laid like %s"), first, second);
}

/**
 * sherd_repair_describe:
 * @layout: the layout
 * @repair: what was found for it
 *
 * Returns: (transfer full) (nullable): what to do and what it brings; NULL when there is nothing to offer
 */
char *
sherd_repair_describe (const SherdLayout *layout, const SherdRepair *repair)
{
  g_autofree char *change = NULL;

  if (repair->kind == SHERD_REPAIR_NONE)
    return NULL;
  if (repair->kind == SHERD_REPAIR_ADD_PIECE)
    return g_strdup (_ ("Add a piece that repeats one of them."));
  change = describe_change (layout, repair);
  if (repair->tell == SHERD_TELL_WELL)
    return g_strdup_printf (_ ("%s: then it can be told."), change);
  return g_strdup_printf (_ ("%s: then it can be told weakly (%.1f times worse than it could be)."), change,
                          repair->loss);
}
