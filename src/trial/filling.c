/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "trial/filling.h"

#include <glib/gi18n-lib.h>

#include "trial/format.h"
#include "trial/layout.h"

static const SherdLaidZone *
get_place (const GArray *places, guint zone)
{
  return &g_array_index (places, SherdLaidZone, zone);
}

/* Whether two zones that follow each other belong to one block. */
static gboolean
share_block (const SherdLaidZone *first, const SherdLaidZone *second, SherdBlockKind kind)
{
  if (first->piece != second->piece)
    return FALSE;
  if (kind == SHERD_BLOCK_PIECE)
    return TRUE;
  return first->side == second->side && (kind == SHERD_BLOCK_SIDE || first->row == second->row);
}

static char *
name_block (SherdTrial *trial, const SherdLaidZone *place, SherdBlockKind kind)
{
  g_autofree char *side = sherd_format_side (sherd_side_get_name (place->side));
  g_autofree char *zone = NULL;

  if (kind == SHERD_BLOCK_PIECE)
    return g_strdup (sherd_piece_get_name (place->piece));
  if (kind == SHERD_BLOCK_SIDE)
    return g_strdup_printf ("%s, %s", sherd_piece_get_name (place->piece), side);
  zone = sherd_trial_name_laid_zone (trial, place);
  return g_strdup_printf (place->is_round ? _ ("The ring of %s") : _ ("The row of %s"), zone);
}

static int
number_of_paint (const SherdFilling *filling, SherdPaint *paint)
{
  if (paint == NULL)
    return SHERD_FILL_BARE;
  for (guint i = 0; i < filling->n_paints; i++)
    if (filling->paints[i] == paint)
      return (int)i;
  return SHERD_FILL_OTHER;
}

/* The zones as plan/ wants them, and the names of their blocks. */
static SherdFillZone *
describe_zones (SherdTrial *trial, const SherdFilling *filling, const GArray *places, GPtrArray *block_names)
{
  SherdFillZone *zones = g_new0 (SherdFillZone, places->len + 1);

  for (guint i = 0; i < places->len; i++)
    {
      const SherdLaidZone *place = get_place (places, i);

      if (i == 0 || !share_block (get_place (places, i - 1), place, filling->block))
        g_ptr_array_add (block_names, name_block (trial, place, filling->block));
      zones[i] = (SherdFillZone){ .block = block_names->len - 1,
                                  .locked = sherd_zone_get_locked (place->zone),
                                  .paint = number_of_paint (filling, sherd_zone_get_paint (place->zone)) };
    }
  return zones;
}

/* Which zones lie side by side, side after side. */
static SherdAdjacency *
find_neighbours (const GArray *places)
{
  g_autoptr (GArray) pairs = g_array_new (FALSE, FALSE, sizeof (SherdAdjacentPair));
  g_autofree SherdRectangle *boxes = g_new (SherdRectangle, places->len + 1);

  for (guint i = 0; i < places->len; i++)
    boxes[i] = get_place (places, i)->box;
  for (guint start = 0, end; start < places->len; start = end)
    {
      for (end = start; end < places->len && get_place (places, end)->side == get_place (places, start)->side; end++)
        ;
      sherd_adjacency_find (pairs, &boxes[start], end - start, start,
                            get_place (places, start)->is_round ? 360.0 : 0.0);
    }
  return sherd_adjacency_new (places->len, (const SherdAdjacentPair *)pairs->data, pairs->len);
}

static gboolean
run (SherdTrial *trial, const SherdFilling *filling, const GArray *places, SherdFill *fill, GError **error)
{
  g_autoptr (GPtrArray) block_names = g_ptr_array_new_with_free_func (g_free);
  g_autofree SherdFillZone *zones = describe_zones (trial, filling, places, block_names);
  g_autoptr (SherdAdjacency) neighbours = filling->keep_apart ? find_neighbours (places) : NULL;
  const SherdFillRequest request = {
    .zones = zones,
    .n_zones = places->len,
    .block_names = (const char *const *)block_names->pdata,
    .n_blocks = block_names->len,
    .order = filling->order,
    .n_paints = filling->n_paints,
    .n_replicates = filling->n_replicates,
    .n_controls = filling->n_controls,
    .neighbours = neighbours,
    .seed = filling->seed,
  };

  return sherd_fill_run (&request, fill, error);
}

/* The same paint, ground and coats are the same treatment. */
static char *
name_treatment (const SherdLaidZone *place, SherdPaint *paint)
{
  return g_strdup_printf ("%s\n%s\n%u", paint != NULL ? sherd_part_get_id (SHERD_PART (paint)) : "",
                          sherd_laid_zone_get_ground (place), paint != NULL ? sherd_zone_get_coats (place->zone) : 0);
}

static char *
name_replicate (const char *treatment, guint replicate)
{
  return g_strdup_printf ("%s\n%u", treatment, replicate);
}

/* Treatment and replicate number of all zones that keep what they hold. */
static GHashTable *
collect_replicates (SherdTrial *trial, GHashTable *filled)
{
  GHashTable *replicates = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, NULL, NULL);

  for (guint i = 0; i < places->len; i++)
    {
      const SherdLaidZone *place = get_place (places, i);
      g_autofree char *treatment = name_treatment (place, sherd_zone_get_paint (place->zone));

      if (!g_hash_table_contains (filled, place->zone))
        g_hash_table_add (replicates, name_replicate (treatment, sherd_zone_get_replicate (place->zone)));
    }
  return replicates;
}

/* The lowest number that no other zone of the treatment has. */
static guint
take_replicate (GHashTable *replicates, const SherdLaidZone *place, SherdPaint *paint)
{
  g_autofree char *treatment = name_treatment (place, paint);
  guint replicate = 1;

  while (!g_hash_table_add (replicates, name_replicate (treatment, replicate)))
    replicate++;
  return replicate;
}

static GHashTable *
collect_filled (const GArray *places)
{
  GHashTable *filled = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < places->len; i++)
    if (!sherd_zone_get_locked (get_place (places, i)->zone))
      g_hash_table_add (filled, get_place (places, i)->zone);
  return filled;
}

static void
lay (SherdTrial *trial, const SherdFilling *filling, const GArray *places, const SherdFill *fill)
{
  g_autoptr (GHashTable) filled = collect_filled (places);
  g_autoptr (GHashTable) replicates = collect_replicates (trial, filled);

  for (guint i = 0; i < places->len; i++)
    {
      const SherdLaidZone *place = get_place (places, i);
      SherdPaint *paint = fill->paints[i] >= 0 ? filling->paints[fill->paints[i]] : NULL;

      if (sherd_zone_get_locked (place->zone))
        continue;
      if (sherd_zone_get_paint (place->zone) != paint)
        sherd_trial_set (trial, place->zone, "paint-revision", 0);
      sherd_trial_set (trial, place->zone, "paint", paint);
      sherd_trial_set (trial, place->zone, "replicate", take_replicate (replicates, place, paint));
    }
}

/**
 * sherd_trial_fill_zones:
 * @trial: a trial
 * @filling: which zones, which paints, how
 * @fill: (out caller-allocates): what came of it, see sherd_fill_run ()
 * @error: place for an error
 *
 * Lays paints in zones, in one edit. Locked zones keep what they hold and count. The seed is kept in the trial, so that
 * the layout can be made again.
 *
 * Returns: FALSE with SHERD_PLAN_ERROR_SHORT or SHERD_PLAN_ERROR_VALUE, or with SHERD_TRIAL_ERROR_INCOMPLETE when there
 * are no zones, SHERD_TRIAL_ERROR_IN_USE when a piece has been fired; nothing is changed then
 */
gboolean
sherd_trial_fill_zones (SherdTrial *trial, const SherdFilling *filling, SherdFill *fill, GError **error)
{
  g_autoptr (GArray) places = sherd_trial_list_laid_zones (trial, filling->piece, filling->side);
  g_autofree char *label = NULL;

  *fill = (SherdFill){ 0 };
  if (places->len == 0)
    {
      g_set_error_literal (error, SHERD_TRIAL_ERROR, SHERD_TRIAL_ERROR_INCOMPLETE,
                           _ ("There are no zones to lay paints in. Lay out a grid of zones first."));
      return FALSE;
    }
  if (!sherd_trial_check_unfired (trial, places, error) || !run (trial, filling, places, fill, error))
    return FALSE;
  label = g_strdup_printf (ngettext ("Lay paints in %u zone", "Lay paints in %u zones", places->len), places->len);
  sherd_trial_begin_edit (trial, label);
  sherd_trial_set (trial, trial, "seed", filling->seed);
  lay (trial, filling, places, fill);
  sherd_trial_end_edit (trial);
  return TRUE;
}
