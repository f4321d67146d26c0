/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "shape/zone-view.h"

#include "shape/space.h"

/* Our choice: outlines in the photograph are followed to this. */
#define FOLLOWING_PX 0.2

/* Our choice: visibility is sampled in so many places across and down a zone. */
#define N_ACROSS 12u

/* Halvings between a place that is seen and one that is not: 1/4096 of their distance. */
#define HALVINGS 12u

/* The uncertainty is taken at every so manieth point of the outline at least. */
#define N_UNCERTAIN 12u

/* All that tells whether a place is seen. */
typedef struct
{
  const SherdSight *sight;
  const SherdSurface *surface;
  double camera_mm[3];
  double least_cosine;
} Eye;

/* What the samples in a zone tell. */
typedef struct
{
  double area;    /* in units of the side, times radius */
  double visible; /* of that */
  SherdPoint middle;
  SherdPoint best; /* seen most squarely */
  double least_cosine;
  double most_cosine;
} Survey;

static double
cosine_at (const Eye *eye, SherdPoint on_side, double position_mm[3], double normal[3])
{
  double ray[3];

  sherd_surface_position (eye->surface, on_side, position_mm, normal);
  for (guint i = 0; i < 3; i++)
    ray[i] = eye->camera_mm[i] - position_mm[i];
  return sherd_dot (normal, ray) / sherd_norm (ray);
}

static gboolean
sees (const Eye *eye, SherdPoint on_side, double *cosine)
{
  double position_mm[3], normal[3];

  *cosine = cosine_at (eye, on_side, position_mm, normal);
  if (*cosine < eye->least_cosine)
    return FALSE;
  return eye->sight == NULL || !sherd_sight_is_hidden (eye->sight, position_mm, normal, eye->camera_mm);
}

static Eye
open_eye (const SherdPose *pose, const SherdSight *sight, const SherdSurface *surface, double limit_deg)
{
  Eye eye = { .sight = surface->kind == SHERD_SURFACE_FLAT ? NULL : sight,
              .surface = surface,
              .least_cosine = cos (limit_deg * G_PI / 180.0) };

  sherd_pose_centre (pose, eye.camera_mm);
  return eye;
}

/**
 * sherd_view_angle_deg:
 * @pose: where the camera was
 * @surface: a surface of the piece
 * @on_side: a place on it
 *
 * Returns: angle between the line of sight and the normal; over 90 where it is turned away
 */
double
sherd_view_angle_deg (const SherdPose *pose, const SherdSurface *surface, SherdPoint on_side)
{
  const Eye eye = open_eye (pose, NULL, surface, 90.0);
  double position_mm[3], normal[3];

  return acos (CLAMP (cosine_at (&eye, on_side, position_mm, normal), -1.0, 1.0)) * 180.0 / G_PI;
}

/**
 * sherd_view_sees:
 * @pose: where the camera was
 * @sight: (nullable): the vessel, which may hide its own parts
 * @surface: a surface of the piece
 * @on_side: a place on it
 * @limit_deg: more oblique than this counts as not seen
 *
 * Returns: whether the place is turned to the camera and nothing lies between
 */
gboolean
sherd_view_sees (const SherdPose *pose,
                 const SherdSight *sight,
                 const SherdSurface *surface,
                 SherdPoint on_side,
                 double limit_deg)
{
  const Eye eye = open_eye (pose, sight, surface, limit_deg);
  double cosine;

  return sees (&eye, on_side, &cosine);
}

/**
 * sherd_view_find:
 * @pose: where the camera was
 * @sight: the vessel
 * @photo_px: a place in the upright photograph
 * @hit: (out): the place on the vessel that is seen there; its distance in the vessel's measures
 *
 * Returns: whether the vessel is seen there
 */
gboolean
sherd_view_find (const SherdPose *pose, const SherdSight *sight, SherdPoint photo_px, SherdHit *hit)
{
  double centre_mm[3], direction[3];

  sherd_pose_centre (pose, centre_mm);
  sherd_pinhole_ray (&pose->pinhole, photo_px, direction);
  return sherd_sight_first_hit (sight, centre_mm, direction, hit);
}

static void
add_sample (const Eye *eye, SherdPoint place, Survey *survey)
{
  const double weight = sherd_surface_r_mm (eye->surface, place.y);
  double cosine;

  survey->area += weight;
  if (!sees (eye, place, &cosine))
    return;
  survey->visible += weight;
  survey->middle.x += weight * place.x;
  survey->middle.y += weight * place.y;
  survey->least_cosine = MIN (survey->least_cosine, cosine);
  if (cosine > survey->most_cosine)
    {
      survey->most_cosine = cosine;
      survey->best = place;
    }
}

/* Looks at a net of places within the outline. */
static void
survey_zone (const Eye *eye, const SherdOutline *on_side, Survey *survey)
{
  SherdPoint low = on_side->points[0], high = low;
  double cosine;

  for (gsize i = 1; i < on_side->n_points; i++)
    {
      low = (SherdPoint){ MIN (low.x, on_side->points[i].x), MIN (low.y, on_side->points[i].y) };
      high = (SherdPoint){ MAX (high.x, on_side->points[i].x), MAX (high.y, on_side->points[i].y) };
    }
  *survey = (Survey){ .least_cosine = 1.0 };
  for (guint i = 0; i < N_ACROSS; i++)
    for (guint k = 0; k < N_ACROSS; k++)
      {
        const SherdPoint place = { low.x + (high.x - low.x) * (i + 0.5) / N_ACROSS,
                                   low.y + (high.y - low.y) * (k + 0.5) / N_ACROSS };

        if (sherd_outline_contains (on_side, place))
          add_sample (eye, place, survey);
      }
  survey->middle = (SherdPoint){ survey->middle.x / survey->visible, survey->middle.y / survey->visible };
  /* The middle of a crescent is not of the crescent. */
  if (!sees (eye, survey->middle, &cosine))
    survey->middle = survey->best;
}

/* From a place that is seen towards one that is not, as far as is seen. */
static SherdPoint
last_seen (const Eye *eye, SherdPoint seen, SherdPoint hidden)
{
  double cosine;

  for (guint i = 0; i < HALVINGS; i++)
    {
      const SherdPoint middle = { (seen.x + hidden.x) / 2.0, (seen.y + hidden.y) / 2.0 };

      if (sees (eye, middle, &cosine))
        seen = middle;
      else
        hidden = middle;
    }
  return seen;
}

/* (transfer full): the outline without what is not seen: edges are cut where they go out of sight, and between these
 * places the border of what is seen is followed, as seen from the middle of it */
static SherdOutline *
trim (const Eye *eye, const SherdOutline *curve, SherdPoint middle)
{
  g_autoptr (GArray) kept = g_array_sized_new (FALSE, FALSE, sizeof (SherdPoint), 2 * (guint)curve->n_points);
  g_autofree gboolean *seen = g_new (gboolean, curve->n_points);
  double cosine;

  for (gsize i = 0; i < curve->n_points; i++)
    seen[i] = sees (eye, curve->points[i], &cosine);
  for (gsize i = 0; i < curve->n_points; i++)
    {
      const gsize next = (i + 1) % curve->n_points;
      const SherdPoint here = curve->points[i], there = curve->points[next];
      const SherdPoint point = seen[i] ? here : last_seen (eye, middle, here);

      g_array_append_val (kept, point);
      if (seen[i] != seen[next])
        {
          const SherdPoint crossing = seen[i] ? last_seen (eye, here, there) : last_seen (eye, there, here);

          g_array_append_val (kept, crossing);
        }
    }
  return sherd_outline_new ((const SherdPoint *)(gpointer)kept->data, kept->len);
}

static void
set_uncertainty (const SherdPose *pose, const SherdSurface *surface, SherdZoneView *view)
{
  const gsize n = view->on_side->n_points, step = MAX (n / N_UNCERTAIN, 1);
  double sum = 0.0;
  guint n_taken = 0;

  for (gsize i = 0; i < n; i += step)
    {
      double position_mm[3], covariance_px[2][2];

      sherd_surface_position (surface, view->on_side->points[i], position_mm, NULL);
      sherd_pose_point_covariance (pose, position_mm, covariance_px);
      sum += (covariance_px[0][0] + covariance_px[1][1]) / 2.0;
      n_taken++;
    }
  view->sd_px = sqrt (sum / n_taken);
}

static void
set_outline (const SherdPose *pose, const SherdSurface *surface, SherdZoneView *view)
{
  view->photo_px = sherd_outline_copy (view->on_side);
  for (gsize i = 0; i < view->on_side->n_points; i++)
    {
      double position_mm[3];

      sherd_surface_position (surface, view->on_side->points[i], position_mm, NULL);
      view->photo_px->points[i] = sherd_pose_project (pose, position_mm);
    }
}

/**
 * sherd_zone_view_new:
 * @pose: where the camera was
 * @sight: (nullable): the vessel, which may hide its own parts; NULL for a flat piece
 * @surface: the surface on which the zone lies
 * @on_side: the zone's outline, made smaller by the margin to be kept
 * @limit_deg: more oblique than this is left out (70 as a rule)
 *
 * Returns: (transfer full): the zone in the photograph without what is turned away or hidden
 */
SherdZoneView *
sherd_zone_view_new (const SherdPose *pose,
                     const SherdSight *sight,
                     const SherdSurface *surface,
                     const SherdOutline *on_side,
                     double limit_deg)
{
  const Eye eye = open_eye (pose, sight, surface, limit_deg);
  SherdZoneView *view = g_new0 (SherdZoneView, 1);
  g_autoptr (SherdOutline) curve = NULL;
  double position_mm[3];
  Survey survey;

  sherd_surface_position (surface, sherd_surface_centroid (surface, on_side), position_mm, NULL);
  view->px_per_mm = sherd_pose_px_per_mm (pose, position_mm);
  survey_zone (&eye, on_side, &survey);
  if (!(survey.visible > 0.0))
    return view;
  curve = sherd_surface_curve (surface, on_side, FOLLOWING_PX / view->px_per_mm);
  view->on_side = trim (&eye, curve, survey.middle);
  view->visible_frac = survey.visible / survey.area;
  view->view_least_deg = acos (MIN (survey.most_cosine, 1.0)) * 180.0 / G_PI;
  view->view_most_deg = acos (MIN (survey.least_cosine, 1.0)) * 180.0 / G_PI;
  set_outline (pose, surface, view);
  set_uncertainty (pose, surface, view);
  return view;
}

void
sherd_zone_view_free (SherdZoneView *view)
{
  if (view == NULL)
    return;
  sherd_outline_free (view->photo_px);
  sherd_outline_free (view->on_side);
  g_free (view);
}
