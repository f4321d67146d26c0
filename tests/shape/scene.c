/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "scene.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

static SherdPoint
read_point (JsonArray *array)
{
  return (SherdPoint){ json_array_get_double_element (array, 0), json_array_get_double_element (array, 1) };
}

/* Straight between its points: every one is a corner. */
static GArray *
read_profile (JsonArray *array)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (SherdProfilePoint));

  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      const SherdPoint place = read_point (json_array_get_array_element (array, i));
      const SherdProfilePoint point = { fabs (place.x), place.y, TRUE };

      g_array_append_val (points, point);
    }
  return points;
}

static void
read_landmark (JsonObject *object, ScenePhoto *photo)
{
  JsonArray *position = json_object_get_array_member (object, "xyz_mm");
  SceneLandmark landmark = { .name = g_strdup (json_object_get_string_member (object, "name")),
                             .px = read_point (json_object_get_array_member (object, "px")),
                             .visible = json_object_get_boolean_member (object, "visible") };

  for (guint k = 0; k < 3; k++)
    landmark.position_mm[k] = json_array_get_double_element (position, k);
  g_array_append_val (photo->landmarks, landmark);
}

static void
clear_landmark (gpointer data)
{
  g_free (((SceneLandmark *)data)->name);
}

static void
free_photo (gpointer data)
{
  ScenePhoto *photo = data;

  g_free (photo->file);
  g_array_unref (photo->landmarks);
  g_array_unref (photo->seen);
  g_free (photo);
}

static ScenePhoto *
read_photo (JsonObject *object)
{
  ScenePhoto *photo = g_new0 (ScenePhoto, 1);
  JsonArray *matrix = json_object_get_array_member (json_object_get_object_member (object, "camera"), "P");
  JsonArray *landmarks = json_object_get_array_member (object, "landmarks");
  JsonArray *zones = json_object_get_array_member (object, "zones");

  photo->file = g_strdup (json_object_get_string_member (object, "file"));
  photo->width_px = (guint)json_object_get_int_member (object, "width");
  photo->height_px = (guint)json_object_get_int_member (object, "height");
  photo->landmarks = g_array_new (FALSE, FALSE, sizeof (SceneLandmark));
  g_array_set_clear_func (photo->landmarks, clear_landmark);
  photo->seen = g_array_new (FALSE, TRUE, sizeof (SceneSeen));
  for (guint i = 0; i < 3; i++)
    for (guint j = 0; j < 4; j++)
      photo->matrix[i][j] = json_array_get_double_element (json_array_get_array_element (matrix, i), j);
  for (guint i = 0; i < json_array_get_length (landmarks); i++)
    read_landmark (json_array_get_object_element (landmarks, i), photo);
  for (guint i = 0; i < json_array_get_length (zones); i++)
    {
      JsonObject *zone = json_array_get_object_element (zones, i);
      SceneSeen seen = { .visible_px = (guint)json_object_get_int_member (zone, "visible_px") };

      if (seen.visible_px > 0)
        seen.centroid_px = read_point (json_object_get_array_member (zone, "centroid_px"));
      g_array_append_val (photo->seen, seen);
    }
  return photo;
}

static void
read_zones (JsonArray *array, Scene *scene)
{
  for (guint i = 0; i < json_array_get_length (array); i++)
    {
      JsonObject *geometry = json_object_get_object_member (json_array_get_object_element (array, i), "geometry");
      const SceneZone zone = { json_object_get_double_member (geometry, "az0_deg"),
                               json_object_get_double_member (geometry, "az1_deg"),
                               json_object_get_double_member (geometry, "s0_mm"),
                               json_object_get_double_member (geometry, "s1_mm") };

      g_array_append_val (scene->zones, zone);
    }
}

/* The whole section, from the foot over the lip to the middle of the floor, cut at its highest point. */
static SherdVessel *
build_vessel (JsonArray *array, gboolean inside_first)
{
  g_autoptr (GArray) points = read_profile (array);
  SherdProfilePoint *point = (SherdProfilePoint *)(gpointer)points->data;
  g_autoptr (GError) error = NULL;
  SherdVessel *vessel;
  guint lip = 0;

  for (guint i = 0; inside_first && i < points->len / 2; i++)
    {
      const SherdProfilePoint swap = point[i];

      point[i] = point[points->len - 1 - i];
      point[points->len - 1 - i] = swap;
    }
  for (guint i = 1; i < points->len; i++)
    if (point[i].z_mm > point[lip].z_mm)
      lip = i;
  vessel = sherd_vessel_new_with_inside (point, lip + 1, point + lip, points->len - lip, &error);
  g_assert_no_error (error);
  return vessel;
}

Scene *
scene_load (const char *name)
{
  const char *shared = g_getenv ("SHERD_SHARED_DIR");
  g_autofree char *path = g_build_filename (shared != NULL ? shared : "", "scenes", name, "truth.json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (GError) error = NULL;
  JsonObject *root, *piece;
  JsonArray *photos;
  Scene *scene;

  if (!g_file_test (path, G_FILE_TEST_EXISTS))
    {
      g_test_skip ("the rendered scenes are not here");
      return NULL;
    }
  json_parser_load_from_file (parser, path, &error);
  g_assert_no_error (error);
  root = json_node_get_object (json_parser_get_root (parser));
  piece = json_object_get_object_member (root, "piece");
  photos = json_object_get_array_member (root, "photos");
  scene = g_new0 (Scene, 1);
  scene->kind = strcmp (json_object_get_string_member (root, "kind"), "bowl_inside") == 0 ? SHERD_SURFACE_INSIDE
                                                                                          : SHERD_SURFACE_OUTSIDE;
  scene->profile = read_profile (json_object_get_array_member (piece, "profile_rz_mm"));
  scene->zones = g_array_new (FALSE, FALSE, sizeof (SceneZone));
  read_zones (json_object_get_array_member (root, "zones"), scene);
  scene->photos = g_ptr_array_new_with_free_func (free_photo);
  for (guint i = 0; i < json_array_get_length (photos); i++)
    g_ptr_array_add (scene->photos, read_photo (json_array_get_object_element (photos, i)));
  scene->vessel =
    build_vessel (json_object_get_array_member (piece, "whole_profile_rz_mm"), scene->kind == SHERD_SURFACE_INSIDE);
  return scene;
}

void
scene_free (Scene *scene)
{
  if (scene == NULL)
    return;
  g_array_unref (scene->profile);
  g_array_unref (scene->zones);
  g_ptr_array_unref (scene->photos);
  sherd_vessel_free (scene->vessel);
  g_free (scene);
}

/* Along the straight pieces of the profile, without the curve that is tested. */
void
scene_position (const Scene *scene, double azimuth_deg, double s_mm, double position_mm[3])
{
  const SherdProfilePoint *point = (const SherdProfilePoint *)(gpointer)scene->profile->data;
  double left_mm = s_mm;

  for (guint i = 0; i + 1 < scene->profile->len; i++)
    {
      const double dr = point[i + 1].r_mm - point[i].r_mm, dz = point[i + 1].z_mm - point[i].z_mm;
      const double length_mm = hypot (dr, dz);

      if (left_mm <= length_mm || i + 2 == scene->profile->len)
        {
          const double r_mm = point[i].r_mm + left_mm / length_mm * dr;

          position_mm[0] = r_mm * cos (azimuth_deg * G_PI / 180.0);
          position_mm[1] = r_mm * sin (azimuth_deg * G_PI / 180.0);
          position_mm[2] = point[i].z_mm + left_mm / length_mm * dz;
          return;
        }
      left_mm -= length_mm;
    }
}

SherdPoint
scene_project (const ScenePhoto *photo, const double position_mm[3])
{
  double seen[3];

  for (guint i = 0; i < 3; i++)
    seen[i] = photo->matrix[i][0] * position_mm[0] + photo->matrix[i][1] * position_mm[1] +
              photo->matrix[i][2] * position_mm[2] + photo->matrix[i][3];
  return (SherdPoint){ seen[0] / seen[2], seen[1] / seen[2] };
}

SherdSurface
scene_surface (const Scene *scene)
{
  return (SherdSurface){ .kind = scene->kind,
                         .profile =
                           scene->kind == SHERD_SURFACE_INSIDE ? scene->vessel->inside : scene->vessel->outside };
}

/* The scene measures up to the lip, the side down from it. */
SherdRange
scene_range (const Scene *scene, const SceneZone *zone)
{
  const SherdSurface surface = scene_surface (scene);
  double length_mm = 0.0;

  for (guint i = 0; i + 1 < scene->profile->len; i++)
    {
      const SherdProfilePoint *a = &g_array_index (scene->profile, SherdProfilePoint, i);

      length_mm += hypot (a[1].r_mm - a[0].r_mm, a[1].z_mm - a[0].z_mm);
    }
  /* The lip may be rounded over: the profile's last point is where the scene's measure ends. */
  {
    const SherdProfilePoint *last = &g_array_index (scene->profile, SherdProfilePoint, scene->profile->len - 1);
    const double end_mm = sherd_profile_nearest_arc_mm (surface.profile, last->r_mm, last->z_mm);

    return (SherdRange){ zone->azimuth0_deg, zone->azimuth1_deg, end_mm + length_mm - zone->s1_mm,
                         end_mm + length_mm - zone->s0_mm };
  }
}
