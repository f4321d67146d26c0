/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/outline.h"

#include <math.h>

/* Corners nearer than this share of the whole are one. */
#define SAME_CORNER_SHARE 1e-9

/* How far beside a piece of the offset curve its left side is looked at, as a share of the piece, and the least, as a
 * share of the whole. */
#define BESIDE_SHARE 1e-6
#define LEAST_BESIDE_SHARE 1e-10

/* Where rounding leaves the border open, a hair more inset moves its corners apart. */
#define HAIR 1e-6
#define MOST_TRIES 4u

/* Part of the offset curve between two of its crossings. */
typedef struct
{
  guint from;
  guint to;
} Piece;

/* Where along an edge of the offset curve a crossing lies, 0…1. */
typedef struct
{
  double share;
  guint vertex;
} Crossing;

typedef struct
{
  double inset;
  double extent;
  GArray *curve;       /* of SherdPoint, closed: the edges moved inward, joined */
  GArray *vertices;    /* of SherdPoint: corners and crossings, each once */
  GPtrArray *on_edges; /* for each edge of the curve, GArray of Crossing */
} Offset;

static SherdPoint
along (SherdPoint start, SherdPoint direction, double length)
{
  return (SherdPoint){ start.x + length * direction.x, start.y + length * direction.y };
}

/* Unit vector to the inner side of an edge of an outline with positive area. */
static SherdPoint
inner_normal (SherdPoint a, SherdPoint b)
{
  const double length = hypot (b.x - a.x, b.y - a.y);

  return (SherdPoint){ -(b.y - a.y) / length, (b.x - a.x) / length };
}

static SherdPoint
turned (SherdPoint direction, double angle_rad)
{
  return (SherdPoint){ direction.x * cos (angle_rad) - direction.y * sin (angle_rad),
                       direction.x * sin (angle_rad) + direction.y * cos (angle_rad) };
}

static double
extent (const SherdOutline *outline)
{
  double farthest = 0.0;

  for (gsize i = 1; i < outline->n_points; i++)
    farthest =
      MAX (farthest, hypot (outline->points[i].x - outline->points[0].x, outline->points[i].y - outline->points[0].y));
  return farthest;
}

/* (transfer full): with positive area and without repeated corners */
static SherdOutline *
tidy (const SherdOutline *outline)
{
  const gsize n = outline->n_points;
  const double same = SAME_CORNER_SHARE * extent (outline);
  const gboolean backwards = sherd_outline_signed_area (outline) < 0.0;
  SherdOutline *tidied = sherd_outline_copy (outline);

  tidied->n_points = 0;
  for (gsize i = 0; i < n; i++)
    {
      const SherdPoint corner = outline->points[backwards ? n - 1 - i : i];
      const SherdPoint next = outline->points[backwards ? (2 * n - 2 - i) % n : (i + 1) % n];

      if (hypot (corner.x - next.x, corner.y - next.y) > same)
        tidied->points[tidied->n_points++] = corner;
    }
  return tidied;
}

static gboolean
is_convex (const SherdOutline *outline)
{
  const gsize n = outline->n_points;
  double turned_rad = 0.0;

  for (gsize i = 0; i < n; i++)
    {
      const SherdPoint before = inner_normal (outline->points[i], outline->points[(i + 1) % n]);
      const SherdPoint after = inner_normal (outline->points[(i + 1) % n], outline->points[(i + 2) % n]);
      const double sine = before.x * after.y - before.y * after.x;

      if (sine < 0.0)
        return FALSE;
      turned_rad += atan2 (sine, before.x * after.x + before.y * after.y);
    }
  /* A star turns one way only, but more than once round. */
  return turned_rad < 3.0 * G_PI;
}

static SherdOutline *
inset_convex (const SherdOutline *outline, double inset)
{
  g_autoptr (SherdOutline) left = sherd_outline_copy (outline);

  for (gsize i = 0; i < outline->n_points && left->n_points > 0; i++)
    {
      const SherdPoint a = outline->points[i], b = outline->points[(i + 1) % outline->n_points];
      const SherdPoint inner = inner_normal (a, b);
      const SherdLine line = { inner.x, inner.y, -inner.x * a.x - inner.y * a.y - inset };
      SherdOutline *clipped = sherd_outline_clip (left, &line);

      sherd_outline_free (left);
      left = clipped;
    }
  return sherd_outline_area (left) > 0.0 ? g_steal_pointer (&left) : NULL;
}

/* The edges that meet at @corner, moved inward, cross at an outer corner. At an inner corner they part; between them
 * goes a polygon about the circle of radius @inset, a mitre for a right angle. */
static void
add_corner (GArray *curve, SherdPoint corner, SherdPoint normal_before, SherdPoint normal_after, double inset)
{
  const double angle_rad = atan2 (normal_before.x * normal_after.y - normal_before.y * normal_after.x,
                                  normal_before.x * normal_after.x + normal_before.y * normal_after.y);
  const guint n_parts = (guint)ceil (fabs (angle_rad) / G_PI_2 - 1e-9);
  const double half_rad = angle_rad / (2.0 * n_parts);

  if (angle_rad >= 0.0)
    {
      const SherdPoint ends[2] = { along (corner, normal_before, inset), along (corner, normal_after, inset) };

      g_array_append_vals (curve, ends, 2);
      return;
    }
  for (guint part = 0; part < n_parts; part++)
    {
      const SherdPoint between =
        along (corner, turned (normal_before, (2.0 * part + 1.0) * half_rad), inset / cos (half_rad));

      g_array_append_val (curve, between);
    }
}

static void
offset_init (Offset *offset, const SherdOutline *outline, double inset)
{
  const gsize n = outline->n_points;

  offset->inset = inset;
  offset->extent = extent (outline);
  offset->curve = g_array_new (FALSE, FALSE, sizeof (SherdPoint));
  offset->vertices = g_array_new (FALSE, FALSE, sizeof (SherdPoint));
  offset->on_edges = g_ptr_array_new_with_free_func ((GDestroyNotify)g_array_unref);
  for (gsize i = 0; i < n; i++)
    {
      const SherdPoint before = outline->points[(i + n - 1) % n], corner = outline->points[i];

      add_corner (offset->curve, corner, inner_normal (before, corner),
                  inner_normal (corner, outline->points[(i + 1) % n]), inset);
    }
  for (guint i = 0; i < offset->curve->len; i++)
    g_ptr_array_add (offset->on_edges, g_array_new (FALSE, FALSE, sizeof (Crossing)));
}

static void
offset_clear (Offset *offset)
{
  g_array_unref (offset->curve);
  g_array_unref (offset->vertices);
  g_ptr_array_unref (offset->on_edges);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Offset, offset_clear)

static SherdPoint
curve_point (const Offset *offset, guint i)
{
  return g_array_index (offset->curve, SherdPoint, i % offset->curve->len);
}

static guint
find_vertex (Offset *offset, SherdPoint point)
{
  const double same = SAME_CORNER_SHARE * offset->extent;

  for (guint i = 0; i < offset->vertices->len; i++)
    {
      const SherdPoint *vertex = &g_array_index (offset->vertices, SherdPoint, i);

      if (fabs (vertex->x - point.x) <= same && fabs (vertex->y - point.y) <= same)
        return i;
    }
  g_array_append_val (offset->vertices, point);
  return offset->vertices->len - 1;
}

static void
add_crossing (Offset *offset, guint edge, double share, guint vertex)
{
  const Crossing crossing = { share, vertex };

  g_array_append_val (g_ptr_array_index (offset->on_edges, edge), crossing);
}

/* A corner of one edge on another, so that edges that lie on one another share their corners. */
static void
add_corner_on_edge (Offset *offset, guint edge, SherdPoint corner)
{
  const SherdPoint a = curve_point (offset, edge), b = curve_point (offset, edge + 1);
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double length = hypot (dx, dy);
  const double share = ((corner.x - a.x) * dx + (corner.y - a.y) * dy) / (length * length);
  const double aside = fabs (dx * (corner.y - a.y) - dy * (corner.x - a.x)) / length;

  if (share > 0.0 && share < 1.0 && aside <= SAME_CORNER_SHARE * offset->extent)
    add_crossing (offset, edge, share, find_vertex (offset, corner));
}

static void
cross_edges (Offset *offset, guint first, guint second)
{
  const SherdPoint a = curve_point (offset, first), b = curve_point (offset, first + 1);
  const SherdPoint c = curve_point (offset, second), d = curve_point (offset, second + 1);
  const double across = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
  const double on_first = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / across;
  const double on_second = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / across;

  if (on_first > 0.0 && on_first < 1.0 && on_second > 0.0 && on_second < 1.0)
    {
      const guint vertex =
        find_vertex (offset, (SherdPoint){ a.x + on_first * (b.x - a.x), a.y + on_first * (b.y - a.y) });

      add_crossing (offset, first, on_first, vertex);
      add_crossing (offset, second, on_second, vertex);
    }
  add_corner_on_edge (offset, first, c);
  add_corner_on_edge (offset, first, d);
  add_corner_on_edge (offset, second, a);
  add_corner_on_edge (offset, second, b);
}

static int
compare_crossings (gconstpointer a, gconstpointer b)
{
  const double difference = ((const Crossing *)a)->share - ((const Crossing *)b)->share;

  return (difference > 0.0) - (difference < 0.0);
}

/* (transfer full): GArray of Piece */
static GArray *
cut_into_pieces (Offset *offset)
{
  const guint n_edges = offset->curve->len;
  GArray *pieces = g_array_new (FALSE, FALSE, sizeof (Piece));

  for (guint i = 0; i < n_edges; i++)
    {
      add_crossing (offset, i, 0.0, find_vertex (offset, curve_point (offset, i)));
      add_crossing (offset, i, 1.0, find_vertex (offset, curve_point (offset, i + 1)));
      for (guint j = i + 1; j < n_edges; j++)
        cross_edges (offset, i, j);
    }
  for (guint i = 0; i < n_edges; i++)
    {
      GArray *crossings = g_ptr_array_index (offset->on_edges, i);

      g_array_sort (crossings, compare_crossings);
      for (guint k = 0; k + 1 < crossings->len; k++)
        {
          const Piece piece = { g_array_index (crossings, Crossing, k).vertex,
                                g_array_index (crossings, Crossing, k + 1).vertex };

          if (piece.from != piece.to)
            g_array_append_val (pieces, piece);
        }
    }
  return pieces;
}

/* How often the curve goes round the point. */
static int
winding (const Offset *offset, SherdPoint point)
{
  int n_round = 0;

  for (guint i = 0; i < offset->curve->len; i++)
    {
      const SherdPoint a = curve_point (offset, i), b = curve_point (offset, i + 1);
      const double side = (b.x - a.x) * (point.y - a.y) - (b.y - a.y) * (point.x - a.x);

      if (a.y <= point.y && b.y > point.y && side > 0.0)
        n_round++;
      else if (a.y > point.y && b.y <= point.y && side < 0.0)
        n_round--;
    }
  return n_round;
}

/* Whether the inside lies to the left of the piece, and not to its right. */
static gboolean
is_border (const Offset *offset, const Piece *piece)
{
  const SherdPoint a = g_array_index (offset->vertices, SherdPoint, piece->from);
  const SherdPoint b = g_array_index (offset->vertices, SherdPoint, piece->to);
  const SherdPoint middle = { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 };
  const SherdPoint left = inner_normal (a, b);
  const double beside = MAX (BESIDE_SHARE * hypot (b.x - a.x, b.y - a.y), LEAST_BESIDE_SHARE * offset->extent);

  return winding (offset, along (middle, left, beside)) == 1 && winding (offset, along (middle, left, -beside)) != 1;
}

static gboolean
is_among (const Piece *pieces, guint n_pieces, Piece piece)
{
  for (guint i = 0; i < n_pieces; i++)
    if (pieces[i].from == piece.from && pieces[i].to == piece.to)
      return TRUE;
  return FALSE;
}

static void
keep_border (const Offset *offset, GArray *pieces)
{
  Piece *piece = (Piece *)(gpointer)pieces->data;
  guint n_kept = 0;

  for (guint i = 0; i < pieces->len; i++)
    if (is_border (offset, &piece[i]) && !is_among (piece, n_kept, piece[i]))
      piece[n_kept++] = piece[i];
  g_array_set_size (pieces, n_kept);
}

/* (transfer full) (nullable): takes the pieces of one ring out; NULL if they do not close */
static SherdOutline *
take_ring (const Offset *offset, GArray *pieces)
{
  g_autoptr (GArray) ring = g_array_new (FALSE, FALSE, sizeof (SherdPoint));
  const guint start = g_array_index (pieces, Piece, 0).from;
  guint at = start;

  do
    {
      guint i = 0;

      while (i < pieces->len && g_array_index (pieces, Piece, i).from != at)
        i++;
      if (i == pieces->len)
        return NULL;
      g_array_append_val (ring, g_array_index (offset->vertices, SherdPoint, at));
      at = g_array_index (pieces, Piece, i).to;
      g_array_remove_index (pieces, i);
    }
  while (at != start);
  return sherd_outline_new ((const SherdPoint *)(gpointer)ring->data, ring->len);
}

static gboolean
keeps_distance (const SherdOutline *inner, const SherdOutline *outline, double inset)
{
  for (gsize i = 0; i < inner->n_points; i++)
    if (!sherd_outline_contains (outline, inner->points[i]) ||
        sherd_outline_distance (outline, inner->points[i]) < inset * (1.0 - HAIR))
      return FALSE;
  return TRUE;
}

/* The largest part of what the offset curve goes round once. FALSE if rounding left the border open. */
static gboolean
inset_any (const SherdOutline *outline, double inset, SherdOutline **largest)
{
  g_auto (Offset) offset = { 0 };
  g_autoptr (GArray) pieces = NULL;

  offset_init (&offset, outline, inset);
  pieces = cut_into_pieces (&offset);
  keep_border (&offset, pieces);
  *largest = NULL;
  while (pieces->len > 0)
    {
      g_autoptr (SherdOutline) ring = take_ring (&offset, pieces);

      if (ring == NULL)
        return FALSE;
      if (sherd_outline_signed_area (ring) > (*largest != NULL ? sherd_outline_area (*largest) : 0.0))
        {
          SherdOutline *former = *largest;

          *largest = g_steal_pointer (&ring);
          ring = former;
        }
    }
  return *largest == NULL || keeps_distance (*largest, outline, inset);
}

/**
 * sherd_outline_inset:
 * @outline: an outline without crossings
 * @inset: how far every edge is moved inward, 0 or more, in the outline's unit
 *
 * A convex outline is cut by each of its edges moved inward, which is exact. Of another the curve of all edges moved
 * inward crosses itself; what it goes round just once is what is left (Chen and McMains, "Polygon offsetting by
 * computing winding numbers", ASME DETC2005-85513). Every point of it lies @inset or more from the outline. At inner
 * corners, which a circle would round, it is cut by mitres. Where it falls into parts the largest is taken.
 *
 * Returns: (transfer full) (nullable): the smaller outline, or %NULL when nothing is left
 */
SherdOutline *
sherd_outline_inset (const SherdOutline *outline, double inset)
{
  g_autoptr (SherdOutline) tidied = tidy (outline);

  if (!(sherd_outline_area (tidied) > 0.0))
    return NULL;
  if (!(inset > 0.0))
    return sherd_outline_copy (outline);
  if (is_convex (tidied))
    return inset_convex (tidied, inset);
  for (guint i = 0; i < MOST_TRIES; i++)
    {
      g_autoptr (SherdOutline) inner = NULL;

      if (inset_any (tidied, inset * (1.0 + HAIR * i), &inner))
        return g_steal_pointer (&inner);
    }
  return NULL;
}
