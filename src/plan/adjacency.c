/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "plan/adjacency.h"

#include <math.h>

struct _SherdAdjacency
{
  guint n_zones;
  guint *starts; /* n_zones + 1: where the neighbours of each zone begin in @others */
  guint *others;
};

/**
 * sherd_adjacency_new:
 * @n_zones: how many zones there are
 * @pairs: (array length=n_pairs): zones side by side, by number from 0; each pair once
 * @n_pairs: how many
 *
 * Returns: (transfer full): for each zone, those beside it
 */
SherdAdjacency *
sherd_adjacency_new (guint n_zones, const SherdAdjacentPair *pairs, gsize n_pairs)
{
  SherdAdjacency *self = g_new0 (SherdAdjacency, 1);
  g_autofree guint *next = NULL;

  self->n_zones = n_zones;
  self->starts = g_new0 (guint, n_zones + 1);
  self->others = g_new (guint, 2 * n_pairs + 1);
  for (gsize i = 0; i < n_pairs; i++)
    {
      g_return_val_if_fail (pairs[i].first < n_zones && pairs[i].second < n_zones, self);
      self->starts[pairs[i].first + 1]++;
      self->starts[pairs[i].second + 1]++;
    }
  for (guint zone = 0; zone < n_zones; zone++)
    self->starts[zone + 1] += self->starts[zone];
  next = g_memdup2 (self->starts, sizeof (guint) * (n_zones + 1));
  for (gsize i = 0; i < n_pairs; i++)
    {
      self->others[next[pairs[i].first]++] = pairs[i].second;
      self->others[next[pairs[i].second]++] = pairs[i].first;
    }
  return self;
}

void
sherd_adjacency_free (SherdAdjacency *self)
{
  g_free (self->starts);
  g_free (self->others);
  g_free (self);
}

guint
sherd_adjacency_get_n_zones (const SherdAdjacency *self)
{
  return self->n_zones;
}

/**
 * sherd_adjacency_get:
 * @self: neighbours
 * @zone: a zone
 * @n: (out): how many lie beside it
 *
 * Returns: (array length=n) (transfer none): those beside it
 */
const guint *
sherd_adjacency_get (const SherdAdjacency *self, guint zone, guint *n)
{
  *n = self->starts[zone + 1] - self->starts[zone];
  return &self->others[self->starts[zone]];
}

/* How far two stretches lie apart, below 0 by how much they overlap. */
static double
gap (double start, double length, double other_start, double other_length)
{
  return fmax (start, other_start) - fmin (start + length, other_start + other_length);
}

/* Side by side along one axis: they face each other over half of the shorter edge, and what lies between them is no
 * wider than half of the narrower zone, too narrow for a third. */
static gboolean
face_each_other (double gap_along, double gap_across, double least_length, double least_width)
{
  return gap_across <= -0.5 * least_width && gap_along <= 0.5 * least_length;
}

static gboolean
are_neighbours (const SherdRectangle *a, const SherdRectangle *b, double once_round)
{
  const double least_width = fmin (a->width_mm, b->width_mm), least_height = fmin (a->height_mm, b->height_mm);
  const double gap_y = gap (a->y_mm, a->height_mm, b->y_mm, b->height_mm);

  for (int turn = once_round > 0.0 ? -1 : 0; turn <= (once_round > 0.0 ? 1 : 0); turn++)
    {
      const double gap_x = gap (a->x_mm, a->width_mm, b->x_mm + turn * once_round, b->width_mm);

      if (face_each_other (gap_x, gap_y, least_width, least_height) ||
          face_each_other (gap_y, gap_x, least_height, least_width))
        return TRUE;
    }
  return FALSE;
}

/**
 * sherd_adjacency_find:
 * @pairs: (inout) (element-type SherdAdjacentPair): the pairs found are added
 * @places: (array length=n_places): the zones of one side; of a polygon the box around it. The two axes may
 * have different units, such as azimuth in degrees and arc length in mm
 * @n_places: how many
 * @first: the number of the first of them among all zones
 * @once_round: after how much x comes round again: 360 for degrees; 0 on a flat side
 *
 * Finds the zones that lie side by side: left and right, above and below, not across a corner.
 */
void
sherd_adjacency_find (GArray *pairs, const SherdRectangle *places, guint n_places, guint first, double once_round)
{
  for (guint i = 0; i < n_places; i++)
    for (guint j = i + 1; j < n_places; j++)
      if (are_neighbours (&places[i], &places[j], once_round))
        {
          const SherdAdjacentPair pair = { .first = first + i, .second = first + j };

          g_array_append_val (pairs, pair);
        }
}
