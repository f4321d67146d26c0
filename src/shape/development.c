/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/development.h"

#include <math.h>

#define RADIANS_PER_DEG (G_PI / 180.0)

/* Our choice: strips begin and end at places this far apart, and are judged there. */
#define STEP_MM 0.2
#define MOST_STEPS 5000u

/* The tolerance with which as many strips still suffice is found to a thousandth. */
#define EVENING_STEPS 10u

/* Our choice: more segments than this nobody cuts out. */
#define FEWEST_GORES 4u
#define MOST_GORES 72u

/* Chords along the edge of a segment. */
#define EDGE_STEPS 400u

/* The wall at even steps. */
typedef struct
{
  const SherdSurface *surface;
  double arc0_mm;
  double step_mm;
  guint n; /* places */
  SherdProfilePlace *places;
  double anchor_rad;
} Wall;

static void
wall_init (Wall *wall, const SherdSurface *surface, double arc0_mm, double arc1_mm, double anchor_deg)
{
  const guint n_steps = (guint)CLAMP (ceil ((arc1_mm - arc0_mm) / STEP_MM), 1.0, MOST_STEPS);

  wall->surface = surface;
  wall->arc0_mm = arc0_mm;
  wall->step_mm = (arc1_mm - arc0_mm) / n_steps;
  wall->n = n_steps + 1;
  wall->places = g_new (SherdProfilePlace, wall->n);
  wall->anchor_rad = anchor_deg * RADIANS_PER_DEG;
  for (guint i = 0; i < wall->n; i++)
    wall->places[i] = sherd_profile_at (surface->profile, arc0_mm + wall->step_mm * i);
}

static void
wall_clear (Wall *wall)
{
  g_free (wall->places);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wall, wall_clear)

/* The strip between two places, the radius growing evenly along the arc, so that painted heights are kept. */
static SherdStrip
judge_strip (const Wall *wall, guint from, guint to)
{
  const SherdProfilePlace a = wall->places[from], b = wall->places[to];
  const double chord_mm = hypot (b.r_mm - a.r_mm, b.z_mm - a.z_mm);
  double off_mm = 0.0;
  SherdStrip strip = { .cone = { .arc0_mm = wall->arc0_mm + wall->step_mm * from,
                                 .arc1_mm = wall->arc0_mm + wall->step_mm * to,
                                 .r0_mm = a.r_mm,
                                 .r1_mm = b.r_mm,
                                 .leftwards = wall->surface->kind == SHERD_SURFACE_INSIDE } };

  for (guint i = from + 1; i < to; i++)
    {
      const SherdProfilePlace p = wall->places[i];
      const double across = (b.r_mm - a.r_mm) * (p.z_mm - a.z_mm) - (b.z_mm - a.z_mm) * (p.r_mm - a.r_mm);
      const double even_r_mm = a.r_mm + (b.r_mm - a.r_mm) * (i - from) / (to - from);

      strip.gap_mm = MAX (strip.gap_mm, fabs (across) / chord_mm);
      off_mm = MAX (off_mm, fabs (p.r_mm - even_r_mm));
    }
  strip.slack_mm = wall->step_mm * (to - from) - chord_mm;
  strip.around_mm = wall->anchor_rad * off_mm;
  strip.closing_mm = 2.0 * G_PI * off_mm;
  strip.fit_mm = MAX (strip.gap_mm, MAX (strip.slack_mm, strip.around_mm));
  return strip;
}

/* The farthest place to which a strip from @from fits; one step always does. */
static guint
longest_strip (const Wall *wall, guint from, double tolerance_mm)
{
  guint good = from + 1, bad = from + 2;

  while (bad < wall->n && judge_strip (wall, from, bad).fit_mm <= tolerance_mm)
    {
      good = bad;
      bad = MIN (from + 2 * (bad - from), bad == wall->n - 1 ? wall->n : wall->n - 1);
    }
  bad = MIN (bad, wall->n);
  while (bad - good > 1)
    {
      const guint middle = (good + bad) / 2;

      if (judge_strip (wall, from, middle).fit_mm <= tolerance_mm)
        good = middle;
      else
        bad = middle;
    }
  return good;
}

/* (transfer full): strips one below the other, each as long as fits */
static GArray *
cut_strips (const Wall *wall, double tolerance_mm)
{
  GArray *strips = g_array_new (FALSE, FALSE, sizeof (SherdStrip));

  for (guint from = 0; from + 1 < wall->n;)
    {
      const guint to = longest_strip (wall, from, tolerance_mm);
      const SherdStrip strip = judge_strip (wall, from, to);

      g_array_append_val (strips, strip);
      from = to;
    }
  return strips;
}

/* As many strips, but the worst of them as good as can be. */
static GArray *
even_out (const Wall *wall, GArray *strips, double tolerance_mm)
{
  double low = 0.0, high = tolerance_mm;

  for (guint i = 0; i < EVENING_STEPS && strips->len > 1; i++)
    {
      const double middle = (low + high) / 2.0;
      GArray *finer = cut_strips (wall, middle);

      if (finer->len <= strips->len)
        {
          g_array_unref (strips);
          strips = finer;
          high = middle;
        }
      else
        {
          g_array_unref (finer);
          low = middle;
        }
    }
  return strips;
}

/**
 * sherd_development_strips:
 * @surface: a vessel's side
 * @arc0_mm: where the template begins, from the lip
 * @arc1_mm: where it ends
 * @middle_deg: azimuth that stands upright on paper, opposite the cut
 * @anchor_deg: azimuth ticks at which the paper is held, 360 if only its ends are
 * @tolerance_mm: how well the paper must lie
 *
 * A wall that bends in two directions cannot be unrolled: it is cut into as few frusta as keep the fit, and these are
 * made even. On paper lengths along the wall and along both edges are true. What is not, the strip says: the gap
 * between wall and paper (the chord's sagitta), the slack of the paper (arc less chord) and the width between anchors.
 *
 * Returns: (transfer full) (element-type SherdStrip): the strips from the lip down
 */
GArray *
sherd_development_strips (const SherdSurface *surface,
                          double arc0_mm,
                          double arc1_mm,
                          double middle_deg,
                          double anchor_deg,
                          double tolerance_mm)
{
  g_auto (Wall) wall = { 0 };
  GArray *strips;

  g_return_val_if_fail (surface->kind != SHERD_SURFACE_FLAT && arc1_mm > arc0_mm, NULL);
  wall_init (&wall, surface, arc0_mm, arc1_mm, anchor_deg);
  strips = even_out (&wall, cut_strips (&wall, tolerance_mm), tolerance_mm);
  for (guint i = 0; i < strips->len; i++)
    g_array_index (strips, SherdStrip, i).cone.middle_deg = middle_deg;
  return strips;
}

/* The part of an outline between two parallels and two azimuths, turned round the vessel by @shift_deg first.
 * (transfer full) (nullable) */
static SherdOutline *
cut_out (const SherdOutline *on_side, const SherdRange *window, double shift_deg)
{
  const SherdLine edges[4] = { { 1.0, 0.0, -window->azimuth0_deg },
                               { -1.0, 0.0, window->azimuth1_deg },
                               { 0.0, 1.0, -window->arc0_mm },
                               { 0.0, -1.0, window->arc1_mm } };
  SherdOutline *part = sherd_outline_copy (on_side);

  for (gsize i = 0; i < part->n_points; i++)
    part->points[i].x += shift_deg;
  for (guint i = 0; i < 4 && part->n_points > 0; i++)
    {
      SherdOutline *clipped = sherd_outline_clip (part, &edges[i]);

      sherd_outline_free (part);
      part = clipped;
    }
  if (part->n_points >= 3 && sherd_outline_area (part) > 0.0)
    return part;
  sherd_outline_free (part);
  return NULL;
}

typedef SherdPoint (*ToPaper) (SherdPoint on_side, gconstpointer data);

/* Every part of the outline that shows in the window, on paper. A zone across the cut shows twice. */
static GPtrArray *
zone_in_window (const SherdSurface *surface,
                const SherdOutline *on_side,
                const SherdRange *window,
                double tolerance_mm,
                ToPaper to_paper,
                gconstpointer data)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func ((GDestroyNotify)sherd_outline_free);
  const double middle_deg = (window->azimuth0_deg + window->azimuth1_deg) / 2.0;
  const double nearest = round ((middle_deg - sherd_outline_centroid (on_side).x) / 360.0);

  for (int turns = -1; turns <= 1; turns++)
    {
      g_autoptr (SherdOutline) part = cut_out (on_side, window, 360.0 * (nearest + turns));
      SherdOutline *curve;

      if (part == NULL)
        continue;
      curve = sherd_surface_curve (surface, part, tolerance_mm);
      for (gsize i = 0; i < curve->n_points; i++)
        curve->points[i] = to_paper (curve->points[i], data);
      g_ptr_array_add (parts, curve);
    }
  return parts;
}

static SherdPoint
strip_to_paper (SherdPoint on_side, gconstpointer data)
{
  const SherdStrip *strip = data;

  return sherd_cone_to_paper (&strip->cone, on_side);
}

/**
 * sherd_strip_zone:
 * @surface: a vessel's side
 * @strip: one of its strips
 * @on_side: the outline of a zone, or of the whole strip
 * @tolerance_mm: how closely curved edges are followed
 *
 * Returns: (transfer full) (element-type SherdOutline): what of the zone lies on the strip, on paper in mm: nothing,
 * one part, or two when it reaches across the cut
 */
GPtrArray *
sherd_strip_zone (const SherdSurface *surface,
                  const SherdStrip *strip,
                  const SherdOutline *on_side,
                  double tolerance_mm)
{
  const SherdRange window = { strip->cone.middle_deg - 180.0, strip->cone.middle_deg + 180.0, strip->cone.arc0_mm,
                              strip->cone.arc1_mm };

  return zone_in_window (surface, on_side, &window, tolerance_mm, strip_to_paper, strip);
}

/* On paper, from the upper edge of the segment's middle line. */
static SherdPoint
fan (const SherdSurface *surface, double arc0_mm, SherdPoint on_side, double middle_deg)
{
  const SherdProfilePlace place = sherd_profile_at (surface->profile, on_side.y);

  return sherd_fan_to_paper (place.r_mm, place.dr, on_side.y - arc0_mm, (on_side.x - middle_deg) * RADIANS_PER_DEG,
                             surface->kind == SHERD_SURFACE_INSIDE);
}

/* How much longer or shorter than the wall the edge of a segment is. */
static double
edge_error_mm (const SherdSurface *surface, double arc0_mm, double arc1_mm, guint n_gores)
{
  const double half_deg = 180.0 / n_gores;
  SherdPoint before = fan (surface, arc0_mm, (SherdPoint){ half_deg, arc0_mm }, 0.0);
  double length_mm = 0.0, worst_mm = 0.0;

  for (guint i = 1; i <= EDGE_STEPS; i++)
    {
      const double arc_mm = arc0_mm + (arc1_mm - arc0_mm) * i / EDGE_STEPS;
      const SherdPoint here = fan (surface, arc0_mm, (SherdPoint){ half_deg, arc_mm }, 0.0);

      length_mm += hypot (here.x - before.x, here.y - before.y);
      worst_mm = MAX (worst_mm, fabs (length_mm - (arc_mm - arc0_mm)));
      before = here;
    }
  return worst_mm;
}

/**
 * sherd_development_gores:
 * @surface: a vessel's side
 * @arc0_mm: where the template begins, from the lip
 * @arc1_mm: where it ends, the middle of a floor perhaps
 * @tolerance_mm: how much the edges may differ from the wall
 * @gores: (out): the fewest segments that keep to it
 *
 * Segments as of a globe, drawn by the polyconic projection (Snyder, Map Projections: A Working Manual, US Geological
 * Survey Professional Paper 1395, 1987, chapter 18): the middle line and every parallel have their true length.
 *
 * Returns: FALSE when even 72 segments do not keep to it; then @gores has those
 */
gboolean
sherd_development_gores (const SherdSurface *surface,
                         double arc0_mm,
                         double arc1_mm,
                         double tolerance_mm,
                         SherdGores *gores)
{
  *gores = (SherdGores){ arc0_mm, arc1_mm, FEWEST_GORES, 0.0 };
  for (;; gores->n_gores++)
    {
      gores->edge_mm = edge_error_mm (surface, arc0_mm, arc1_mm, gores->n_gores);
      if (gores->edge_mm <= tolerance_mm)
        return TRUE;
      if (gores->n_gores == MOST_GORES)
        return FALSE;
    }
}

/**
 * sherd_gore_middle_deg:
 * @gores: segments
 * @gore: from 0
 *
 * Returns: azimuth of its middle line; the zero mark lies in the middle of the first
 */
double
sherd_gore_middle_deg (const SherdGores *gores, guint gore)
{
  return 360.0 * gore / gores->n_gores;
}

/**
 * sherd_gore_to_paper:
 * @surface: the vessel's side
 * @gores: its segments
 * @gore: which one
 * @on_side: a place on the side
 *
 * Returns: where it lies on paper, mm; the segment's middle line is x = 0 and begins at y = 0
 */
SherdPoint
sherd_gore_to_paper (const SherdSurface *surface, const SherdGores *gores, guint gore, SherdPoint on_side)
{
  return fan (surface, gores->arc0_mm, on_side, sherd_gore_middle_deg (gores, gore));
}

/**
 * sherd_gore_from_paper:
 * @surface: the vessel's side
 * @gores: its segments
 * @gore: which one
 * @paper_mm: a place on paper, on the segment
 *
 * Returns: the place on the side, to 1e-9 mm: the place with the same y and x is moved by what is missing until nothing
 * is
 */
SherdPoint
sherd_gore_from_paper (const SherdSurface *surface, const SherdGores *gores, guint gore, SherdPoint paper_mm)
{
  const double sign = surface->kind == SHERD_SURFACE_INSIDE ? -1.0 : 1.0;
  SherdPoint on_side = { sherd_gore_middle_deg (gores, gore), gores->arc0_mm + paper_mm.y };

  for (guint i = 0; i < 60; i++)
    {
      const SherdPoint there = sherd_gore_to_paper (surface, gores, gore, on_side);
      const double r_mm = MAX (sherd_surface_r_mm (surface, on_side.y), 1e-3);

      if (hypot (paper_mm.x - there.x, paper_mm.y - there.y) < 1e-9)
        break;
      on_side.x += sign * (paper_mm.x - there.x) / (r_mm * RADIANS_PER_DEG);
      on_side.y += paper_mm.y - there.y;
    }
  return on_side;
}

typedef struct
{
  const SherdSurface *surface;
  const SherdGores *gores;
  guint gore;
} Gore;

static SherdPoint
gore_to_paper (SherdPoint on_side, gconstpointer data)
{
  const Gore *gore = data;

  return sherd_gore_to_paper (gore->surface, gore->gores, gore->gore, on_side);
}

/**
 * sherd_gore_zone:
 * @surface: a vessel's side
 * @gores: its segments
 * @gore: which one
 * @on_side: the outline of a zone, or of the whole side
 * @tolerance_mm: how closely curved edges are followed
 *
 * Returns: (transfer full) (element-type SherdOutline): what of the zone lies on the segment, on paper in mm
 */
GPtrArray *
sherd_gore_zone (const SherdSurface *surface,
                 const SherdGores *gores,
                 guint gore,
                 const SherdOutline *on_side,
                 double tolerance_mm)
{
  const double middle_deg = sherd_gore_middle_deg (gores, gore), half_deg = 180.0 / gores->n_gores;
  const SherdRange window = { middle_deg - half_deg, middle_deg + half_deg, gores->arc0_mm, gores->arc1_mm };
  const Gore data = { surface, gores, gore };

  return zone_in_window (surface, on_side, &window, tolerance_mm, gore_to_paper, &data);
}

/**
 * sherd_tape_mm:
 * @surface: a vessel's side
 * @arc_mm: the parallel round which a tape is laid
 * @azimuth_deg: azimuth from the zero mark
 *
 * Returns: how far along the tape its tick stands; with 360 the tape's length
 */
double
sherd_tape_mm (const SherdSurface *surface, double arc_mm, double azimuth_deg)
{
  return sherd_surface_r_mm (surface, arc_mm) * azimuth_deg * RADIANS_PER_DEG;
}
