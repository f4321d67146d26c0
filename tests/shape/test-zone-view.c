/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Rendered bowls and jars with exact cameras (truth.json of the shared scenes): the pixels that the renderer counted of
 * each zone are the oracle for what is visible, its camera matrix that for where. */

#include "config.h"

#include "shape/zone-view.h"

#include "scene.h"

#include <math.h>
#include <string.h>

static const char *const SCENES[] = { "bowl_a", "bowl_b", "jar_a", "jar_b" };

/* Zones that were painted by hand waver by 0.15 mm (rms) about their outline: their area and their centre may differ by
 * that. Zones that show less than this are slivers. */
#define WHOLE_PX 2000u
#define AREA_SHARE 0.02
#define CENTRE_MM 0.2

/* Marks are set with a standard deviation of one pixel across and down; nine to twelve of them. Seven numbers are
 * fitted to eighteen or more, so that outlines cannot be better than about 1.4 √(7/18) = 0.9 px; single draws spread
 * about it. Their stated uncertainty must be what they show, to four standard deviations of as many draws. */
#define OUTLINE_PX 1.5
#define N_DRAWS 8u
#define STATED_SHARE 0.4

static SherdPose
exact_pose (const ScenePhoto *photo)
{
  SherdPose pose = { .scale = 1.0 };
  double matrix[3][4];

  memcpy (matrix, photo->matrix, sizeof matrix);
  g_assert_true (sherd_pinhole_from_matrix (&pose.pinhole, matrix));
  pose.distance_mm = 700.0;
  return pose;
}

static void
test_matrix_is_read_and_projects (gconstpointer data)
{
  g_autoptr (Scene) scene = scene_load (data);

  for (guint i = 0; scene != NULL && i < scene->photos->len; i++)
    {
      const ScenePhoto *photo = scene->photos->pdata[i];
      const SherdPose pose = exact_pose (photo);

      for (guint k = 0; k < photo->landmarks->len; k++)
        {
          const SceneLandmark *landmark = &g_array_index (photo->landmarks, SceneLandmark, k);
          const SherdPoint seen = sherd_pose_project (&pose, landmark->position_mm);

          /* The truth is rounded to a hundredth of a pixel. */
          g_assert_cmpfloat_with_epsilon (seen.x, landmark->px.x, 0.011);
          g_assert_cmpfloat_with_epsilon (seen.y, landmark->px.y, 0.011);
        }
    }
}

static void
assert_seen_as_rendered (const Scene *scene, const ScenePhoto *photo, const SherdSight *sight, guint i)
{
  const SceneSeen *seen = &g_array_index (photo->seen, SceneSeen, i);
  const SherdRange range = scene_range (scene, &g_array_index (scene->zones, SceneZone, i));
  const SherdSurface surface = scene_surface (scene);
  const SherdPose pose = exact_pose (photo);
  g_autoptr (SherdOutline) zone = sherd_range_outline (&range);
  g_autoptr (SherdZoneView) view = sherd_zone_view_new (&pose, sight, &surface, zone, 90.0);
  const double area_px = view->photo_px != NULL ? sherd_outline_area (view->photo_px) : 0.0;

  if (seen->visible_px == 0)
    g_assert_cmpfloat (area_px, <, 100.0);
  if (seen->visible_px < WHOLE_PX)
    return;
  g_assert_cmpfloat_with_epsilon (area_px, seen->visible_px, AREA_SHARE * seen->visible_px);
  g_assert_cmpfloat_with_epsilon (sherd_outline_centroid (view->photo_px).x, seen->centroid_px.x,
                                  CENTRE_MM * view->px_per_mm);
  g_assert_cmpfloat_with_epsilon (sherd_outline_centroid (view->photo_px).y, seen->centroid_px.y,
                                  CENTRE_MM * view->px_per_mm);
}

static void
test_visible_parts_are_those_rendered (gconstpointer data)
{
  g_autoptr (Scene) scene = scene_load (data);
  g_autoptr (SherdSight) sight = NULL;

  if (scene == NULL)
    return;
  sight = sherd_sight_new (scene->vessel);
  for (guint i = 0; i < scene->photos->len; i++)
    for (guint k = 0; k < scene->zones->len; k++)
      assert_seen_as_rendered (scene, scene->photos->pdata[i], sight, k);
}

/* The sum of twelve even draws less six has the standard deviation 1. */
static double
draw (GRand *random)
{
  double sum = -6.0;

  for (guint i = 0; i < 12; i++)
    sum += g_rand_double (random);
  return sum;
}

static GArray *
jittered_marks (const ScenePhoto *photo, double jitter_px, GRand *random)
{
  GArray *marks = g_array_new (FALSE, TRUE, sizeof (SherdPoseMark));

  for (guint i = 0; i < photo->landmarks->len; i++)
    {
      const SceneLandmark *landmark = &g_array_index (photo->landmarks, SceneLandmark, i);
      SherdPoseMark mark = { .kind = SHERD_POSE_POINT, .sd_px = MAX (jitter_px, 0.5) };

      memcpy (mark.position_mm, landmark->position_mm, sizeof mark.position_mm);
      mark.photo_px.x = landmark->px.x + jitter_px * draw (random);
      mark.photo_px.y = landmark->px.y + jitter_px * draw (random);
      if (landmark->visible)
        g_array_append_val (marks, mark);
    }
  return marks;
}

/* Sums over the outlines of zones: squares of what the fitted camera has wrong, and of what it says it may. */
typedef struct
{
  double wrong_px2;
  double stated_px2;
  double worst_px;
  guint n;
} Outlines;

static void
add_place (const ScenePhoto *photo, const SherdPose *pose, const double position_mm[3], Outlines *outlines)
{
  const SherdPoint truth = scene_project (photo, position_mm), seen = sherd_pose_project (pose, position_mm);
  const double off_px = hypot (seen.x - truth.x, seen.y - truth.y);
  double covariance_px[2][2];

  sherd_pose_point_covariance (pose, position_mm, covariance_px);
  outlines->wrong_px2 += off_px * off_px;
  outlines->stated_px2 += covariance_px[0][0] + covariance_px[1][1];
  outlines->worst_px = MAX (outlines->worst_px, off_px);
  outlines->n++;
}

static void
add_outlines (const Scene *scene, const ScenePhoto *photo, const SherdPose *pose, Outlines *outlines)
{
  for (guint i = 0; i < scene->zones->len; i++)
    {
      const SceneZone *zone = &g_array_index (scene->zones, SceneZone, i);

      for (guint k = 0; k < 20 && g_array_index (photo->seen, SceneSeen, i).visible_px >= WHOLE_PX; k++)
        {
          const double along = k % 5 / 5.0;
          const double across[4][2] = { { along, 0 }, { 1, along }, { 1 - along, 1 }, { 0, 1 - along } };
          double position_mm[3];

          scene_position (scene, zone->azimuth0_deg + across[k / 5][0] * (zone->azimuth1_deg - zone->azimuth0_deg),
                          zone->s0_mm + across[k / 5][1] * (zone->s1_mm - zone->s0_mm), position_mm);
          add_place (photo, pose, position_mm, outlines);
        }
    }
}

static SherdPose
fit (const ScenePhoto *photo, GArray *marks, double focal_35mm)
{
  const SherdPoseRequest request = { .marks = (const SherdPoseMark *)(gpointer)marks->data,
                                     .n_marks = marks->len,
                                     .width_px = photo->width_px,
                                     .height_px = photo->height_px,
                                     .focal = sherd_focal_guess (photo->width_px, photo->height_px, focal_35mm),
                                     .scale = 1.0,
                                     .scale_sd = 0.01 };
  g_autoptr (GError) error = NULL;
  SherdPose pose;

  sherd_pose_fit (&pose, &request, &error);
  g_assert_no_error (error);
  return pose;
}

/* Exact marks give the exact camera. */
static void
test_exact_marks_give_the_camera (gconstpointer data)
{
  g_autoptr (Scene) scene = scene_load (data);
  g_autoptr (GRand) random = g_rand_new_with_seed (1);

  for (guint i = 0; scene != NULL && i < scene->photos->len; i++)
    {
      const ScenePhoto *photo = scene->photos->pdata[i];
      g_autoptr (GArray) marks = jittered_marks (photo, 0.0, random);
      const SherdPose pose = fit (photo, marks, 0.0);
      Outlines outlines = { 0 };

      add_outlines (scene, photo, &pose, &outlines);
      g_assert_cmpfloat (outlines.worst_px, <, 0.6);
      g_assert_false (pose.worst_wrong);
    }
}

static void
test_jittered_marks_give_outlines (gconstpointer data)
{
  g_autoptr (Scene) scene = scene_load (data);
  g_autoptr (GRand) random = g_rand_new_with_seed (20);
  Outlines outlines = { 0 };
  double wrong_px, stated_px;

  for (guint i = 0; scene != NULL && i < scene->photos->len; i++)
    for (guint k = 0; k < N_DRAWS; k++)
      {
        const ScenePhoto *photo = scene->photos->pdata[i];
        g_autoptr (GArray) marks = jittered_marks (photo, 1.0, random);
        const SherdPose pose = fit (photo, marks, 0.0);

        add_outlines (scene, photo, &pose, &outlines);
      }
  if (outlines.n == 0)
    return;
  wrong_px = sqrt (outlines.wrong_px2 / outlines.n);
  stated_px = sqrt (outlines.stated_px2 / outlines.n);
  g_test_message ("%s: outlines off by %.2f px rms, %.2f px at worst; stated %.2f px", (const char *)data, wrong_px,
                  outlines.worst_px, stated_px);
  g_assert_cmpfloat (wrong_px, <, OUTLINE_PX);
  g_assert_cmpfloat_with_epsilon (wrong_px, stated_px, STATED_SHARE * stated_px);
}

static void
add (const char *name, const char *scene, GTestDataFunc function)
{
  g_autofree char *path = g_strdup_printf ("/shape/zone-view/%s/%s", name, scene);

  g_test_add_data_func (path, scene, function);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (SCENES); i++)
    {
      add ("matrix-is-read-and-projects", SCENES[i], test_matrix_is_read_and_projects);
      add ("visible-parts-are-those-rendered", SCENES[i], test_visible_parts_are_those_rendered);
      add ("exact-marks-give-the-camera", SCENES[i], test_exact_marks_give_the_camera);
      add ("jittered-marks-give-outlines", SCENES[i], test_jittered_marks_give_outlines);
    }
  return g_test_run ();
}
