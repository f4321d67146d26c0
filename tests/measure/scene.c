/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "scene.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <json-glib/json-glib.h>
#include <math.h>

static double
number (JsonObject *object, const char *member)
{
  return json_object_get_double_member_with_default (object, member, 0);
}

static const char *
text (JsonObject *object, const char *member)
{
  return json_object_get_string_member_with_default (object, member, "");
}

static SherdPoint
point_of (JsonArray *pair)
{
  return (SherdPoint){ json_array_get_double_element (pair, 0), json_array_get_double_element (pair, 1) };
}

static SherdLab
lab_of (JsonObject *colour)
{
  JsonArray *lab = json_object_get_array_member (colour, "lab_d50");

  return (SherdLab){ json_array_get_double_element (lab, 0), json_array_get_double_element (lab, 1),
                     json_array_get_double_element (lab, 2) };
}

static SherdSceneGloss
gloss_of (const char *class)
{
  if (g_str_equal (class, "matte"))
    return SHERD_SCENE_MATTE;
  return g_str_equal (class, "satin") ? SHERD_SCENE_SATIN : SHERD_SCENE_GLOSSY;
}

/* The scenes' y runs up from the lower left corner, ours down from the upper left. */
static void
load_zones (SherdScene *scene, JsonArray *zones)
{
  scene->n_zones = json_array_get_length (zones);
  scene->zones = g_new0 (SherdMeasureZone, scene->n_zones);
  for (guint i = 0; i < scene->n_zones; i++)
    {
      JsonObject *zone = json_array_get_object_element (zones, i);
      JsonObject *box = json_object_get_object_member (zone, "geometry");
      const double x0 = number (box, "x0"), x1 = number (box, "x1"), y0 = number (box, "y0"), y1 = number (box, "y1");

      scene->zones[i].id = g_strdup (text (zone, "id"));
      scene->zones[i].code = g_strdup (text (zone, "id"));
      scene->zones[i].bare = json_object_get_boolean_member_with_default (zone, "bare_control", FALSE);
      scene->zones[i].outline_mm = sherd_outline_new_rectangle (x0, scene->height_mm - y1, x1 - x0, y1 - y0);
    }
}

static void
load_patches (SherdScene *scene, JsonObject *chart)
{
  JsonArray *patches = json_object_get_array_member (chart, "patches");
  const double height = json_array_get_double_element (json_object_get_array_member (chart, "frame_mm"), 1);

  scene->n_patches = json_array_get_length (patches);
  scene->patches = g_new0 (SherdMeasurePatch, scene->n_patches);
  for (guint i = 0; i < scene->n_patches; i++)
    {
      JsonObject *patch = json_array_get_object_element (patches, i);
      JsonArray *box = json_object_get_array_member (patch, "rect_mm");
      const double x0 = json_array_get_double_element (box, 0), y0 = json_array_get_double_element (box, 1);
      const double x1 = json_array_get_double_element (box, 2), y1 = json_array_get_double_element (box, 3);

      scene->patches[i].name = g_strdup (text (patch, "id"));
      scene->patches[i].lab = lab_of (patch);
      scene->patches[i].outline_mm = sherd_outline_new_rectangle (x0, height - y1, x1 - x0, y1 - y0);
    }
}

static void
load_marks (const SherdScene *scene, SherdScenePhoto *photo, JsonObject *object, JsonArray *frame_mm)
{
  static const char *const names[] = { "corner_top_left", "corner_top_right", "corner_bottom_right",
                                       "corner_bottom_left" };
  JsonArray *landmarks = json_object_get_array_member (object, "landmarks");
  JsonArray *corners = json_object_get_array_member (object, "chart_frame_corners_px");
  const double width = json_array_get_double_element (frame_mm, 0),
               height = json_array_get_double_element (frame_mm, 1);

  for (guint k = 0; k < 4; k++)
    {
      const gboolean right = k == 1 || k == 2, low = k >= 2;

      photo->face_marks[k].piece_mm = (SherdPoint){ right ? scene->width_mm : 0, low ? scene->height_mm : 0 };
      photo->chart_marks[k].piece_mm = (SherdPoint){ right ? width : 0, low ? height : 0 };
      photo->chart_marks[k].photo_px = point_of (json_array_get_array_element (corners, k));
      for (guint i = 0; i < json_array_get_length (landmarks); i++)
        {
          JsonObject *landmark = json_array_get_object_element (landmarks, i);

          if (g_str_equal (text (landmark, "name"), names[k]))
            photo->face_marks[k].photo_px = point_of (json_object_get_array_member (landmark, "px"));
        }
    }
}

static void
load_truth (const SherdScene *scene, SherdScenePhoto *photo, JsonObject *object, JsonArray *zones)
{
  JsonArray *seen = json_object_get_array_member (object, "zones");

  photo->truth = g_new0 (SherdSceneTruth, scene->n_zones);
  for (guint i = 0; i < scene->n_zones; i++)
    {
      JsonObject *zone = json_array_get_object_element (seen, i);
      JsonObject *states = json_object_get_object_member (json_array_get_object_element (zones, i), "states");
      JsonObject *state = json_object_get_object_member (states, photo->state);
      SherdSceneTruth *truth = &photo->truth[i];

      truth->gloss = gloss_of (text (state, "gloss_class"));
      truth->matte = truth->gloss == SHERD_SCENE_MATTE;
      truth->retained_frac = number (zone, "retained_fraction_visible");
      truth->half_angle_deg = number (zone, "least_half_angle_to_lamp_deg");
      truth->view_deg = number (zone, "view_angle_max_deg");
      truth->clipped_frac = number (zone, "clipped_fraction");
      truth->n_visible_px = (guint)number (zone, "visible_px");
      if (json_object_has_member (zone, "paint_visible_mean") &&
          !json_object_get_null_member (zone, "paint_visible_mean"))
        truth->lab = lab_of (json_object_get_object_member (zone, "paint_visible_mean"));
    }
}

static void
load_photos (SherdScene *scene, JsonObject *root, const char *folder)
{
  JsonArray *photos = json_object_get_array_member (root, "photos");
  JsonArray *frame = json_object_get_array_member (json_object_get_object_member (root, "chart"), "frame_mm");

  scene->n_photos = json_array_get_length (photos);
  scene->photos = g_new0 (SherdScenePhoto, scene->n_photos);
  for (guint i = 0; i < scene->n_photos; i++)
    {
      JsonObject *photo = json_array_get_object_element (photos, i);

      scene->photos[i].path = g_build_filename (folder, text (photo, "file"), NULL);
      scene->photos[i].state = g_strdup (text (photo, "state"));
      load_marks (scene, &scene->photos[i], photo, frame);
      load_truth (scene, &scene->photos[i], photo, json_object_get_array_member (root, "zones"));
    }
}

/* Reads the tile scene in @folder; scenes of vessels give an error. */
SherdScene *
sherd_scene_load (const char *folder, GError **error)
{
  g_autofree char *path = g_build_filename (folder, "truth.json", NULL);
  g_autoptr (JsonParser) parser = json_parser_new ();
  g_autoptr (SherdScene) scene = g_new0 (SherdScene, 1);
  JsonObject *root;
  JsonArray *tile;

  if (!json_parser_load_from_file (parser, path, error))
    return NULL;
  root = json_node_get_object (json_parser_get_root (parser));
  if (!g_str_equal (text (root, "kind"), "tile"))
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, "%s is not a tile", folder);
      return NULL;
    }
  tile = json_object_get_array_member (json_object_get_object_member (root, "piece"), "tile_mm");
  scene->name = g_path_get_basename (folder);
  scene->width_mm = json_array_get_double_element (tile, 0);
  scene->height_mm = json_array_get_double_element (tile, 1);
  load_zones (scene, json_object_get_array_member (root, "zones"));
  load_patches (scene, json_object_get_object_member (root, "chart"));
  load_photos (scene, root, folder);
  return g_steal_pointer (&scene);
}

void
sherd_scene_free (SherdScene *scene)
{
  if (scene == NULL)
    return;
  for (gsize i = 0; i < scene->n_zones; i++)
    {
      g_free ((char *)scene->zones[i].id);
      g_free ((char *)scene->zones[i].code);
      sherd_outline_free ((SherdOutline *)scene->zones[i].outline_mm);
    }
  for (gsize i = 0; i < scene->n_patches; i++)
    {
      g_free ((char *)scene->patches[i].name);
      sherd_outline_free ((SherdOutline *)scene->patches[i].outline_mm);
    }
  for (gsize i = 0; i < scene->n_photos; i++)
    {
      g_free (scene->photos[i].path);
      g_free (scene->photos[i].state);
      g_free (scene->photos[i].truth);
    }
  g_free (scene->zones);
  g_free (scene->patches);
  g_free (scene->photos);
  g_free (scene->name);
  g_free (scene);
}

/* The lightest-but-two of the most neutral patches stands in for a grey card. */
static gsize
grey_patch (const SherdScene *scene)
{
  double best = INFINITY;
  gsize chosen = 0;

  for (gsize i = 0; i < scene->n_patches; i++)
    {
      const SherdLab *lab = &scene->patches[i].lab;
      const double off = hypot (lab->a, lab->b) * 5 + fabs (lab->l - 60);

      if (off < best)
        {
          best = off;
          chosen = i;
        }
    }
  return chosen;
}

static void
jitter (SherdMark *marks, double jitter_px, gsl_rng *rng)
{
  for (guint i = 0; i < 4; i++)
    {
      marks[i].photo_px.x += gsl_ran_gaussian (rng, jitter_px);
      marks[i].photo_px.y += gsl_ran_gaussian (rng, jitter_px);
    }
}

/* Measures one photograph of a scene, its marks moved by @jitter_px as a hand would. */
SherdPhotoMeasurement *
sherd_scene_measure (const SherdScene *scene,
                     gsize photo,
                     SherdReferenceKind kind,
                     double jitter_px,
                     gulong seed,
                     GError **error)
{
  SherdScenePhoto seen = scene->photos[photo];
  SherdMeasureRequest request = { .photo_path = seen.path,
                                  .face_width_mm = scene->width_mm,
                                  .face_height_mm = scene->height_mm,
                                  .marks = seen.face_marks,
                                  .n_marks = 4,
                                  .mark_sd_px = MAX (jitter_px, 0.3),
                                  .unfired = g_str_equal (seen.state, "before"),
                                  .zones = scene->zones,
                                  .n_zones = scene->n_zones,
                                  .reference = kind,
                                  .reference_marks = seen.chart_marks,
                                  .n_reference_marks = 4,
                                  .patches = scene->patches,
                                  .n_patches = scene->n_patches };
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);

  gsl_rng_set (rng, seed + 100 * photo);
  jitter (seen.face_marks, jitter_px, rng);
  jitter (seen.chart_marks, jitter_px, rng);
  gsl_rng_free (rng);
  if (kind == SHERD_REFERENCE_GREY_CARD)
    {
      request.patches = &scene->patches[grey_patch (scene)];
      request.n_patches = 1;
    }
  return sherd_measure_photo (&request, NULL, NULL, NULL, error);
}
