/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/fill.h"

#include <glib/gi18n-lib.h>

#include "plan/apart.h"
#include "plan/draw.h"

/* What one block holds and is to hold. */
typedef struct
{
  guint n_free;
  guint *n_locked; /* of each paint, then of bare zones */
  guint n_sets;
  guint n_controls;
} Block;

typedef struct
{
  const SherdFillRequest *request;
  guint n_blocks;
  Block *blocks;
  guint n_sets; /* over all blocks */
  guint n_missing;
  guint short_block; /* where they are missing; n_blocks for anywhere */
} Plan;

static void
plan_clear (Plan *plan)
{
  for (guint i = 0; i < plan->n_blocks; i++)
    g_free (plan->blocks[i].n_locked);
  g_free (plan->blocks);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Plan, plan_clear)

static guint
block_of (const SherdFillRequest *request, gsize zone)
{
  return request->order == SHERD_FILL_IN_BLOCKS ? request->zones[zone].block : 0;
}

static void
note_locked (Block *block, const SherdFillRequest *request, int paint)
{
  if (paint == SHERD_FILL_BARE)
    block->n_locked[request->n_paints]++;
  else if (paint >= 0 && (guint)paint < request->n_paints)
    block->n_locked[paint]++;
}

static void
plan_init (Plan *plan, const SherdFillRequest *request)
{
  const gboolean in_blocks = request->order == SHERD_FILL_IN_BLOCKS;

  *plan = (Plan){ .request = request, .n_blocks = in_blocks ? request->n_blocks : 1 };
  plan->blocks = g_new0 (Block, plan->n_blocks);
  for (guint i = 0; i < plan->n_blocks; i++)
    plan->blocks[i].n_locked = g_new0 (guint, request->n_paints + 1);
  for (gsize zone = 0; zone < request->n_zones; zone++)
    {
      Block *block = &plan->blocks[block_of (request, zone)];

      if (request->zones[zone].locked)
        note_locked (block, request, request->zones[zone].paint);
      else
        block->n_free++;
    }
}

static guint
still_to_lay (guint wanted, guint there)
{
  return wanted > there ? wanted - there : 0;
}

/* Free zones that a block needs for so many sets and controls. */
static guint
count_needed (const Block *block, guint n_paints, guint n_sets, guint n_controls)
{
  guint n_needed = still_to_lay (n_controls, block->n_locked[n_paints]);

  for (guint paint = 0; paint < n_paints; paint++)
    n_needed += still_to_lay (n_sets, block->n_locked[paint]);
  return n_needed;
}

/* How many zones a block lacks for so many sets and controls. */
static guint
count_missing (const Plan *plan, guint block, guint n_sets, guint n_controls)
{
  const Block *it = &plan->blocks[block];

  return still_to_lay (count_needed (it, plan->request->n_paints, n_sets, n_controls), it->n_free);
}

static gboolean
fall_short (Plan *plan, guint block, guint n_missing)
{
  plan->short_block = block;
  plan->n_missing = n_missing;
  return FALSE;
}

/* Every block gets as many sets as every other; those that are left over go to blocks with room, in the order of
 * @blocks. */
static gboolean
share_out_sets (Plan *plan, const guint *blocks)
{
  const guint n_each = plan->n_sets / plan->n_blocks;
  const guint n_controls = plan->n_blocks == 1 ? plan->request->n_controls : 0;
  guint n_over = plan->n_sets % plan->n_blocks, tightest = 0, least_missing = G_MAXUINT;

  for (guint i = 0; i < plan->n_blocks; i++)
    {
      const guint n_missing = count_missing (plan, i, n_each, n_controls);

      if (n_missing > 0)
        return fall_short (plan, i, n_missing);
      plan->blocks[i].n_sets = n_each;
    }
  for (guint i = 0; i < plan->n_blocks && n_over > 0; i++)
    {
      const guint n_missing = count_missing (plan, blocks[i], n_each + 1, 0);

      if (n_missing > 0 && n_missing < least_missing)
        {
          least_missing = n_missing;
          tightest = blocks[i];
        }
      else if (n_missing == 0)
        {
          plan->blocks[blocks[i]].n_sets++;
          n_over--;
        }
    }
  return n_over == 0 || fall_short (plan, tightest, least_missing);
}

/* One control to each block in turn, as long as there is room. */
static gboolean
share_out_controls (Plan *plan, const guint *blocks)
{
  guint n_left = plan->request->n_controls;
  gboolean found_room = TRUE;

  while (n_left > 0 && found_room)
    {
      found_room = FALSE;
      for (guint i = 0; i < plan->n_blocks && n_left > 0; i++)
        {
          Block *block = &plan->blocks[blocks[i]];

          if (count_missing (plan, blocks[i], block->n_sets, block->n_controls + 1) > 0)
            continue;
          block->n_controls++;
          n_left--;
          found_room = TRUE;
        }
    }
  return n_left == 0 || fall_short (plan, plan->n_blocks, n_left);
}

/* Says how many sets and controls every block gets. */
static gboolean
share_out (Plan *plan, guint n_sets, gsl_rng *draw)
{
  g_autofree guint *blocks = g_new (guint, plan->n_blocks);

  for (guint i = 0; i < plan->n_blocks; i++)
    {
      blocks[i] = i;
      plan->blocks[i].n_sets = plan->blocks[i].n_controls = 0;
    }
  sherd_draw_shuffle (draw, blocks, plan->n_blocks);
  plan->n_sets = n_sets;
  return share_out_sets (plan, blocks) && share_out_controls (plan, blocks);
}

/* The largest number of sets below @limit that fits; 0 when not even one does. */
static guint
find_most_sets (Plan *plan, guint limit)
{
  g_autoptr (gsl_rng) draw = sherd_draw_new (plan->request->seed);
  guint n_sets = limit;

  while (n_sets > 0 && !share_out (plan, n_sets, draw))
    n_sets--;
  return n_sets;
}

static guint
count_free (const Plan *plan)
{
  guint n_free = 0;

  for (guint i = 0; i < plan->n_blocks; i++)
    n_free += plan->blocks[i].n_free;
  return n_free;
}

/* No more sets than this can fit, locked zones or not. */
static guint
most_sets_thinkable (const Plan *plan)
{
  return (guint)plan->request->n_zones / MAX (plan->request->n_paints, 1) + 1;
}

static guint
wanted_sets (Plan *plan)
{
  const SherdFillRequest *request = plan->request;

  if (request->n_replicates > 0)
    return request->n_replicates;
  return request->order == SHERD_FILL_IN_BLOCKS ? plan->n_blocks
                                                : MAX (find_most_sets (plan, most_sets_thinkable (plan)), 1);
}

static char *
describe_shortage (const Plan *plan, guint n_nearest)
{
  const SherdFillRequest *request = plan->request;
  const gboolean in_block = request->order == SHERD_FILL_IN_BLOCKS && plan->short_block < plan->n_blocks;
  g_autofree char *lack =
    in_block
      ? g_strdup_printf (_ ("%s has too few zones (missing: %u)."),
                         request->block_names != NULL ? request->block_names[plan->short_block] : _ ("A block"),
                         plan->n_missing)
      : g_strdup_printf (_ ("There are too few zones (free: %u, missing: %u)."), count_free (plan), plan->n_missing);
  g_autofree char *want = g_strdup_printf (_ ("Asked for: %u paints × %u, and %u bare controls."), request->n_paints,
                                           plan->n_sets, request->n_controls);
  g_autofree char *remedy = n_nearest > 0
                              ? g_strdup_printf (_ ("It fits with every paint %u ×; or add zones."), n_nearest)
                            : in_block ? g_strdup (_ ("Add zones there, take fewer paints, or do without blocks."))
                                       : g_strdup (_ ("Add zones, or take fewer paints or controls."));

  return g_strjoin (" ", lack, want, remedy, NULL);
}

/* Says what is short and what the nearest is. */
static void
report_shortage (Plan *plan, SherdFill *fill, GError **error)
{
  const Plan first = *plan;
  g_autofree char *message = NULL;

  fill->n_missing = plan->n_missing;
  fill->n_replicates = find_most_sets (plan, plan->n_sets - 1);
  fill->n_controls = fill->n_replicates > 0 ? plan->request->n_controls : 0;
  message = describe_shortage (&first, fill->n_replicates);
  g_set_error_literal (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_SHORT, message);
}

/* What is to be laid in the free zones of a block, set after set, then the bare zones. */
static GArray *
collect_bag (const Plan *plan, const Block *block)
{
  GArray *bag = g_array_new (FALSE, FALSE, sizeof (int));
  const int bare = SHERD_FILL_BARE;

  for (guint set = 0; set < block->n_sets; set++)
    for (int paint = 0; paint < (int)plan->request->n_paints; paint++)
      if (still_to_lay (block->n_sets, block->n_locked[paint]) > set)
        g_array_append_val (bag, paint);
  while (bag->len < block->n_free)
    g_array_append_val (bag, bare);
  return bag;
}

static GArray *
collect_free_zones (const SherdFillRequest *request, guint block)
{
  GArray *free_zones = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint zone = 0; zone < request->n_zones; zone++)
    if (!request->zones[zone].locked && block_of (request, zone) == block)
      g_array_append_val (free_zones, zone);
  return free_zones;
}

static void
lay_block (const Plan *plan, guint block, gsl_rng *draw, int *paints)
{
  g_autoptr (GArray) free_zones = collect_free_zones (plan->request, block);
  g_autoptr (GArray) bag = collect_bag (plan, &plan->blocks[block]);

  if (plan->request->order != SHERD_FILL_IN_ORDER)
    sherd_draw_shuffle (draw, (guint *)free_zones->data, free_zones->len);
  for (guint i = 0; i < free_zones->len; i++)
    paints[g_array_index (free_zones, guint, i)] = g_array_index (bag, int, i);
}

static void
lay (const Plan *plan, gsl_rng *draw, int *paints)
{
  for (gsize zone = 0; zone < plan->request->n_zones; zone++)
    if (plan->request->zones[zone].locked)
      paints[zone] = plan->request->zones[zone].paint;
  for (guint block = 0; block < plan->n_blocks; block++)
    lay_block (plan, block, draw, paints);
}

/* Draws anew while that may help, which leaves every arrangement without touching zones as likely as any other; then
 * exchanges zones. */
static guint
lay_apart (const Plan *plan, gsl_rng *draw, int *paints)
{
  /* Our choice: small pieces come out by chance within this many draws. */
  const guint n_draws = plan->request->order == SHERD_FILL_IN_ORDER ? 1 : 200;
  const SherdFillRequest *request = plan->request;
  g_autofree guint *groups = g_new (guint, request->n_zones);

  for (gsize zone = 0; zone < request->n_zones; zone++)
    groups[zone] = request->zones[zone].locked ? SHERD_APART_FIXED : block_of (request, zone);
  for (guint i = 0; i < n_draws; i++)
    {
      lay (plan, draw, paints);
      if (sherd_apart_count_touching (request->neighbours, paints) == 0)
        return 0;
    }
  return sherd_apart_exchange (request->neighbours, groups, draw, paints);
}

static gboolean
check_request (const SherdFillRequest *request, GError **error)
{
  /* Our choice: beyond this it is a slip of the finger. */
  const guint most = 100000;

  if (request->n_paints > 0 && request->n_replicates <= most && request->n_controls <= most)
    return TRUE;
  if (request->n_paints == 0)
    g_set_error_literal (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE, _ ("There is no paint to be laid."));
  else
    g_set_error (error, SHERD_PLAN_ERROR, SHERD_PLAN_ERROR_VALUE,
                 _ ("Replicates and controls are whole numbers up to %u."), most);
  return FALSE;
}

/**
 * sherd_fill_run:
 * @request: the zones, and what is to be laid in them
 * @fill: (out caller-allocates): what lies where; on SHERD_PLAN_ERROR_SHORT the nearest that would fit: n_replicates
 * and n_controls, 0 when nothing does, and how many zones are missing
 * @error: place for an error
 *
 * Puts paints in zones. A set is one zone of every paint. In blocks, each block gets whole sets, as many as every
 * other, or one more: a randomised complete block design (R. A. Fisher, The Design of Experiments, 1935, chapter IV).
 * Locked zones keep what they hold and count. Zones for which nothing was asked stay bare and are shuffled like paints.
 *
 * Each arrangement that the request allows is as likely as any other, as long as neighbours need not be kept apart or
 * chance alone does it; where zones have to be exchanged after that, nearly so.
 *
 * Returns: FALSE with SHERD_PLAN_ERROR_SHORT or SHERD_PLAN_ERROR_VALUE
 */
gboolean
sherd_fill_run (const SherdFillRequest *request, SherdFill *fill, GError **error)
{
  g_autoptr (gsl_rng) draw = sherd_draw_new (request->seed);
  g_auto (Plan) plan = { 0 };

  *fill = (SherdFill){ .n_zones = request->n_zones };
  if (!check_request (request, error))
    return FALSE;
  plan_init (&plan, request);
  if (!share_out (&plan, wanted_sets (&plan), draw))
    {
      report_shortage (&plan, fill, error);
      return FALSE;
    }
  fill->paints = g_new0 (int, request->n_zones);
  fill->n_replicates = plan.n_sets;
  fill->n_controls = request->n_controls;
  if (request->neighbours != NULL)
    fill->n_touching = lay_apart (&plan, draw, fill->paints);
  else
    lay (&plan, draw, fill->paints);
  for (guint i = 0; i < plan.n_blocks; i++)
    fill->n_spare += plan.blocks[i].n_free - count_needed (&plan.blocks[i], request->n_paints, plan.blocks[i].n_sets,
                                                           plan.blocks[i].n_controls);
  return TRUE;
}

void
sherd_fill_clear (SherdFill *fill)
{
  g_clear_pointer (&fill->paints, g_free);
}
